/* The tasks of a log, and what each needs first. SPDX-License-Identifier: MIT
 *
 * A log's boilings are equal; its candies fill them in the order of the list. Each boiling's share of a candy
 * is coloured by itself, then all of it is pulled. Ropes are formed for the block that they go into. */
#include "bench/planning.h"

#include "base/mem.h"
#include "model/blend.h"

#include <math.h>
#include <string.h>

static const double minute_parts = 64; /* a minute's, to which all times are rounded */

double minutes_rounded(double minutes) {
    return round(minutes * minute_parts) / minute_parts;
}

static int add_task(Planning *p, TaskKind kind, int index, double minutes, int person) {
    WorkTask *task = &p->work.task[p->work.tasks];
    *task = (WorkTask){.kind = kind, .index = index, .minutes = minutes_rounded(minutes), .person = person};
    return p->work.tasks++;
}

/* Edges of one task are added one after the other; the same twice is one. */
static void add_edge(Planning *p, int before, int after) {
    if (before < 0) return;
    for (int i = p->work.edges - 1; i >= 0 && p->work.edge[i].after == after; i--)
        if (p->work.edge[i].before == before) return;
    p->work.edge[p->work.edges++] = (WorkEdge){before, after};
}

/* Weigh and boil: tasks 2 * i and 2 * i + 1. */
static void add_boilings(Planning *p) {
    for (int i = 0; i < p->boilings; i++) {
        int weigh = add_task(p, TASK_WEIGH, i, p->shop->minutes_weigh, 0);
        int boil = add_task(p, TASK_BOIL, i, p->shop->minutes_boil, PEOPLE_NOBODY);
        if (i > 0) add_edge(p, 2 * i - 1, boil); /* one kettle */
        add_edge(p, weigh, boil);
    }
}

/* What of a boiling becomes the candy is coloured by itself; then it is pulled as one. */
static void add_candy(Planning *p, int m, int first, int last, double g) {
    const MaterialRow *row = &p->bill->material[m];
    const int from = p->work.tasks;
    for (int i = first; i < last; i++) {
        int cool = add_task(p, TASK_COOL, m, p->shop->minutes_cool, 0);
        p->work.task[cool].boiling = i;
        add_edge(p, 2 * i + 1, cool);
    }
    int last_task = p->work.tasks - 1;
    if (row->candy.finish == FINISH_PULLED) {
        const int to = p->work.tasks;
        last_task = add_task(p, TASK_PULL, m, p->shop->minutes_pull * g / 1000, 0);
        for (int t = from; t < to; t++) add_edge(p, t, last_task);
    } else
        for (int t = from; t < last_task; t++) add_edge(p, t, last_task);
    p->material[m] = last_task;
}

static void add_candies(Planning *p) {
    double log_g = p->recipe->whole.candy_g / p->cane->logs, from = 0;
    for (int m = 0; m < p->bill->materials; m++) {
        const MaterialRow *row = &p->bill->material[m];
        double g = row->with_spare_g / p->cane->logs, to = from + g;
        int first = (int)(from / log_g * p->boilings + 1e-9),
            last = (int)ceil(to / log_g * p->boilings - 1e-9);
        if (last > p->boilings) last = p->boilings;
        if (first >= last) first = last - 1;
        p->material[m] = -1;
        if (row->mass_g >= MATERIAL_LEAST_G) add_candy(p, m, first, last, g);
        from = to;
    }
}

/* The task after which the candy is to hand; -1 if nobody cooks it. */
static int source_of(const Planning *p, const Candy *candy) {
    if (candy_is_blend(candy)) {
        for (int i = 0; i < p->bill->blends; i++)
            if (blend_same(&p->bill->blend[i].whole.candy, candy)) return p->blend[i];
        return -1;
    }
    for (int m = 0; m < p->bill->materials; m++)
        if (strcmp(p->bill->material[m].candy.name, candy->name) == 0) return p->material[m];
    return -1;
}

static void add_blends(Planning *p) {
    for (int i = 0; i < p->bill->blends; i++) {
        const BlendRow *row = &p->bill->blend[i];
        p->blend[i] = -1;
        if (row->whole.mass_g < MATERIAL_LEAST_G) continue;
        int fold = add_task(p, TASK_FOLD, i, p->shop->minutes_draw, 0);
        for (int k = 0; k < BLEND; k++) {
            Candy part = blend_candy(&row->whole.candy, k);
            add_edge(p, source_of(p, &part), fold);
        }
        p->blend[i] = fold;
    }
}

/* Ropes are formed as often as their block is built. */
static void add_ropes(Planning *p, int b) {
    const Block *block = &p->blocks->block[b];
    int task = -1;
    double coldest = HUGE_VAL;
    for (int i = block->first_item; i < block->first_item + block->items; i++) {
        const Item *item = &p->blocks->item[i];
        if (item->is_block || p->layup->rope[item->index].type < 0) continue;
        const Rope *rope = &p->layup->rope[item->index];
        if (task < 0) task = add_task(p, TASK_ROPES, b, 0, 0);
        p->work.task[task].count += block->builds;
        coldest = fmin(coldest, p->heat->rope[rope->type].seconds / 60);
        add_edge(p, source_of(p, &p->palette->candy[rope->candy]), task);
    }
    if (task < 0) return;
    p->work.task[task].minutes = minutes_rounded(p->work.task[task].count * p->shop->minutes_rope);
    p->work.task[task].keeps = coldest;
}

static void add_block(Planning *p, int b) {
    const Block *block = &p->blocks->block[b];
    int ropes = p->work.tasks;
    add_ropes(p, b);
    bool formed = p->work.tasks > ropes;
    const Shop *shop = p->shop;
    double each = block_joins(block) * shop->minutes_join + block->wraps * shop->minutes_sheet;
    double minutes = each * block->builds + block_is_drawn(block) * shop->minutes_draw;
    int task = p->block[b] = add_task(p, TASK_BLOCK, b, minutes, 0);
    p->work.task[task].keeps = p->heat->block[b].seconds / 60;
    if (formed) add_edge(p, ropes, task);
    for (int i = block->first_item; i < block->first_item + block->items; i++)
        if (p->blocks->item[i].is_block) add_edge(p, p->block[p->blocks->item[i].index], task);
    for (int k = 0; k < block->wraps; k++)
        add_edge(p, source_of(p, &p->palette->candy[p->layup->wrap[block->wrap[k]].candy]), task);
    if (block->kind == BLOCK_ROUND)
        add_edge(p, source_of(p, &p->palette->candy[p->layup->rope[block->rest].candy]), task);
}

/* A core of one rope: nothing is joined. Returns its task. */
static int add_plain_core(Planning *p) {
    int task = add_task(p, TASK_ROPES, -1, p->shop->minutes_rope, 0);
    p->work.task[task].count = 1;
    p->work.task[task].keeps = p->heat->ropes > 0 ? p->heat->rope[0].seconds / 60 : 0;
    for (int i = 0; i < p->layup->ropes; i++)
        add_edge(p, source_of(p, &p->palette->candy[p->layup->rope[i].candy]), task);
    return task;
}

/* A sheet for each ring and each candy of the jacket; stripes are cut from theirs, and joined side by side.
 */
static int add_sheets(Planning *p) {
    int sheets = add_task(p, TASK_SHEETS, 0, 0, 0), rolled = 0, joins = 0;
    for (int i = 0; i < p->bill->wraps; i++) {
        const WrapRow *row = &p->bill->wrap[i];
        if (row->kind != WRAP_RING && row->kind != WRAP_STRIPE) continue;
        rolled++;
        joins += row->count > 1 ? row->count : 0;
        add_edge(p, source_of(p, &row->candy), sheets);
    }
    WorkTask *task = &p->work.task[sheets];
    task->count = rolled;
    task->minutes = minutes_rounded(rolled * p->shop->minutes_sheet + joins * p->shop->minutes_join);
    return sheets;
}

/* Rings and jacket, the log, the cane. */
static void add_log(Planning *p, int core) {
    const Shop *shop = p->shop;
    int sheets = add_sheets(p);
    double people = shop->people;
    int wrap =
        add_task(p, TASK_WRAP, 0, shop->minutes_roll * p->bill->log_mass_g / 1000 / people, PEOPLE_EVERYBODY);
    p->work.task[wrap].keeps = p->heat->log.seconds / 60;
    add_edge(p, core, wrap);
    add_edge(p, sheets, wrap);
    int draw =
        add_task(p, TASK_DRAW, 0, shop->minutes_cane * p->cane->cane_length_m / people, PEOPLE_EVERYBODY);
    add_edge(p, wrap, draw);
    double pieces = (double)p->cane->pieces / p->cane->logs;
    int pack = add_task(p, TASK_PACK, 0, shop->minutes_pack * pieces / 1000 / people, PEOPLE_EVERYBODY);
    add_edge(p, draw, pack);
}

/* What a task needs stands before it in the list. */
void list_tasks(Planning *p) {
    add_boilings(p);
    add_candies(p);
    add_blends(p);
    for (int b = 0; b < p->blocks->blocks; b++) add_block(p, b);
    int core = p->blocks->blocks > 0 ? p->block[p->blocks->blocks - 1] : add_plain_core(p);
    add_log(p, core);
}

bool tasks_room(Planning *p, size_t *tasks, Err *err) {
    const Blocks *blocks = p->blocks;
    size_t most = 3 * (size_t)p->boilings + 3 * MATERIALS_MAX + BLENDS_MAX + 2 * (size_t)blocks->blocks + 8;
    size_t edges = 5 * (size_t)p->boilings + 6 * MATERIALS_MAX + BLEND * BLENDS_MAX +
                   6 * (size_t)blocks->blocks + 2 * (size_t)blocks->items + (size_t)p->layup->ropes +
                   (size_t)p->bill->wraps + 8;
    *tasks = most;
    return (p->work.task = mem_alloc(most, sizeof *p->work.task, err)) &&
           (p->work.edge = mem_alloc(edges, sizeof *p->work.edge, err)) &&
           (p->block = mem_alloc((size_t)blocks->blocks, sizeof *p->block, err));
}
