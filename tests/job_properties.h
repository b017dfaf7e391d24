/* What holds for every job that was run, whatever the picture, the order and the shop.
 * SPDX-License-Identifier: MIT
 */
#ifndef LOGOCANE_TESTS_JOB_PROPERTIES_H
#define LOGOCANE_TESTS_JOB_PROPERTIES_H

#undef NDEBUG
#include "model/job.h"
#include "write/files.h"
#include "write/write.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static inline void near_to(double got, double want) {
    assert(fabs(got - want) <= 1e-9 * fmax(1, fabs(want)));
}

/* Volumes balance, and the step is one of the three. */
static inline void check_cane(const Job *job) {
    const Cane *c = &job->cane;
    const Order *o = &job->order;
    double d2 = o->piece_diameter_mm * o->piece_diameter_mm, big2 = c->log_diameter_mm * c->log_diameter_mm;
    assert(c->key.steps >= 1 && c->key.steps <= STEPS_MAX && c->logs >= 1 && c->pieces >= o->pieces &&
           c->reduction > 1);
    assert(c->key.least_steps >= 2 && c->key.least_steps <= 4);
    near_to(c->step_mm * c->key.least_steps, job->shop->least_strip_mm);
    near_to(c->logs * big2 * c->log_length_mm * (1 - job->shop->lost_share) /
                ((double)c->pieces * d2 * o->piece_length_mm),
            1);
    near_to(c->reduction * o->piece_diameter_mm, c->log_diameter_mm);
    near_to(c->core_diameter_mm, c->key.steps * c->step_mm);
}

/* The leaves of the tree cover each cell once and only once. */
static inline void check_cover(const Job *job) {
    int n = job->grid.steps;
    int *covered = calloc((size_t)n * (size_t)n, sizeof *covered);
    assert(covered);
    for (int i = 0; i < job->layup.nodes; i++) {
        Box b = job->layup.node[i].box;
        assert(b.x >= 0 && b.y >= 0 && b.w > 0 && b.h > 0 && b.x + b.w <= n && b.y + b.h <= n);
        if (job->layup.node[i].kind > NODE_WEDGES) continue;
        for (int y = b.y; y < b.y + b.h; y++)
            for (int x = b.x; x < b.x + b.w; x++) covered[y * n + x]++;
    }
    for (int i = 0; i < n * n; i++) assert(covered[i] == 1);
    free(covered);
}

/* No side under the least strip, inside a fine block half of it; areas add up to the core. */
static inline void check_ropes(const Job *job) {
    const Grid *grid = &job->grid;
    double area = 0, r = grid->steps / 2.0;
    int laid = 0;
    for (int i = 0; i < job->layup.ropes; i++) {
        const Rope *rope = &job->layup.rope[i];
        int least = rope->fine ? (grid->least_steps + 1) / 2 : grid->least_steps;
        if (least > grid->steps) least = grid->steps;
        int shorter = rope->box.w < rope->box.h ? rope->box.w : rope->box.h;
        assert(shorter >= least && rope->candy >= 0 && rope->candy < job->palette.count);
        if (rope->shape == SHAPE_WEDGE)
            assert(rope->box.w <= 4 * rope->box.h && rope->box.h <= 4 * rope->box.w);
        assert(!rope->fine || grid->fine_most > 0);
        area += rope->area;
        laid += !rope->trim;
    }
    near_to(area, PI * grid->core.r * grid->core.r);
    for (int i = 0; i < grid->rings; i++) {
        near_to(grid->ring[i].outer, r);
        r = grid->ring[i].inner;
    }
    near_to(grid->core.r, r);
    assert(laid == job->layup.laid &&
           (job->order.ropes_cap == 0 || laid <= job->order.ropes_cap || laid == 1));
}

/* Lists: ropes and wraps add up to the log, candies to all logs. */
static inline void check_bill(const Job *job) {
    const Bill *bill = &job->bill;
    double log_g = 0, all_g = 0, share = 0, volume = 0;
    int laid = 0, made = 0;
    for (int i = 0; i < bill->rope_types; i++) {
        laid += bill->rope[i].count, made += bill->rope[i].made, log_g += bill->rope[i].mass_g;
        assert(bill->rope[i].made >= 1 && bill->rope[i].made <= bill->rope[i].count);
    }
    for (int i = 0; i < bill->wraps; i++) log_g += bill->wrap[i].mass_g;
    for (int i = 0; i < bill->materials; i++) {
        const MaterialRow *row = &bill->material[i];
        share += row->share_of_log, volume += row->volume_ml, all_g += row->mass_g;
        near_to(row->with_spare_g, (row->mass_g + row->block_ends_g) * (1 + job->shop->spare_share));
    }
    assert(laid == job->layup.laid && made == bill->ropes_made && bill->ropes_made <= laid);
    near_to(log_g / bill->log_mass_g, 1);
    near_to(all_g / (bill->log_mass_g * job->cane.logs), 1);
    near_to(share, 1);
    near_to(volume / (job->cane.volume_ml * job->cane.logs), 1);
}

/* Blocks come before those that hold them; every rope that is no trim is joined once in the finished log. */
static inline void check_blocks(const Job *job) {
    const Blocks *blocks = &job->blocks;
    for (int b = 0; b < blocks->blocks; b++) {
        const Block *block = &blocks->block[b];
        assert(block->items >= 2 && block->made >= 1 && block->builds >= 1 && block->scale >= 1);
        for (int i = block->first_item; i < block->first_item + block->items; i++)
            assert(blocks->item[i].is_block ? blocks->item[i].index < b
                                            : blocks->item[i].index < job->layup.ropes);
    }
}

static inline void check_judgement(const Job *job) {
    const Judgement *j = &job->judgement;
    Verdict worst = VERDICT_GO;
    assert(j->likeness >= 0 && j->likeness <= 1 && j->weakest >= 0 && j->weakest <= 1 && j->checks > 0);
    for (int i = 0; i < j->checks; i++) {
        assert(isfinite(j->check[i].value) && isfinite(j->check[i].limit));
        if (j->check[i].verdict > worst) worst = j->check[i].verdict;
    }
    assert(worst == j->verdict);
    for (int i = 0; i < job->face.side * job->face.side; i++)
        assert(job->face.candy[i] == OUTSIDE || job->face.candy[i] < job->palette.count);
}

/* Every list can be printed, and holds no number that is none. */
static inline void check_lists(const Job *job) {
    static bool (*const write[])(const Job *, FILE *, Err *) = {write_json, write_text, write_ropes,
                                                                write_wraps, write_materials};
    for (size_t i = 0; i < sizeof write / sizeof *write; i++) {
        char *text = NULL;
        size_t size;
        Err err = {0};
        FILE *file = open_memstream(&text, &size);
        assert(file && write[i](job, file, &err));
        fclose(file);
        assert(size > 0 && strlen(text) == size && !strstr(text, "nan") && !strstr(text, "inf,"));
        free(text);
    }
}

static inline void check_job(const Job *job) {
    check_cane(job);
    check_cover(job);
    check_ropes(job);
    check_bill(job);
    check_blocks(job);
    check_judgement(job);
    check_lists(job);
}

#endif
