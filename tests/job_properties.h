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

/* How far to the right of the way from a to b, as seen, times the length of that way. */
static inline double right_of(Point a, Point b, Point p) {
    return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

static inline void check_convex(const Outline *o) {
    assert(o->corners >= 3 && o->corners <= OUTLINE_MAX);
    for (int i = 0; i < o->corners; i++)
        for (int j = 2; j < o->corners; j++)
            assert(right_of(o->corner[i], o->corner[(i + 1) % o->corners], o->corner[(i + j) % o->corners]) >
                   1e-9);
}

/* Does the point lie on a side, a whole or half number of steps from one of its corners? */
static inline bool at_half_step(const Outline *o, Point p) {
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = o->corner[(i + 1) % o->corners];
        double length = sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
        double along = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
        if (fabs(right_of(a, b, p)) > 1e-8 * length || along < -1e-8 || along > length + 1e-8) continue;
        double from_a = fabs(2 * along - rint(2 * along)), from_b = 2 * (length - along);
        if (from_a < 1e-6 || fabs(from_b - rint(from_b)) < 1e-6) return true;
    }
    return false;
}

/* The parts of a cut lie in their block, on their own sides of the cut, and fill it. */
static inline void check_cut(const LayUp *layup, int index) {
    const Node *node = &layup->node[index];
    double area = 0;
    bool steep = fabs(node->cut[1].y - node->cut[0].y) >= fabs(node->cut[1].x - node->cut[0].x);
    for (int i = 0; i < 2; i++) {
        int child = i == 0 ? node->first : node->second;
        assert(child >= 0 && child < index);
        assert(at_half_step(&node->outline, node->cut[i]));
        const Outline *o = &layup->node[child].outline;
        area += outline_area(o);
        for (int k = 0; k < o->corners; k++) {
            double right = right_of(node->cut[0], node->cut[1], o->corner[k]);
            assert(((i == 0) == steep ? -right : right) < 1e-6);
            assert(outline_side(&node->outline, o->corner[k]) >= 0);
        }
    }
    near_to(area, outline_area(&node->outline));
}

/* The disc that touches the sides of an upright square. */
static inline Circle disc_about(const Outline *square) {
    double left = HUGE_VAL, top = HUGE_VAL, right = -HUGE_VAL, bottom = -HUGE_VAL;
    for (int i = 0; i < square->corners; i++) {
        left = fmin(left, square->corner[i].x), right = fmax(right, square->corner[i].x);
        top = fmin(top, square->corner[i].y), bottom = fmax(bottom, square->corner[i].y);
    }
    assert(square->corners == 4);
    near_to(right - left, bottom - top);
    return (Circle){(left + right) / 2, (top + bottom) / 2, (right - left) / 2};
}

static inline bool core_holds(Circle core, double x, double y, double r) {
    return sqrt((x - core.x) * (x - core.x) + (y - core.y) * (y - core.y)) + r <= core.r + 1e-9;
}

/* A sheet: convex, no corner under 60 degrees, inside the core, as thick everywhere, not under the least. */
static inline void check_wrap(const Job *job, int index) {
    const LayUp *layup = &job->layup;
    const Node *node = &layup->node[index];
    Outline inner;
    assert(node->first >= 0 && node->first < index && node->second >= 0 && node->second < layup->wraps);
    const Node *inside = &layup->node[node->first];
    const Wrap *wrap = &layup->wrap[node->second];
    const double sheet = job->cane.key.sheet_steps / (wrap->fine ? 2.0 : 1);
    assert(outline_same(&node->outline, &wrap->outline, 0) &&
           outline_same(&inside->outline, &wrap->inner, 0));
    assert(outline_inset(&wrap->outline, wrap->thickness, -1, &inner));
    assert(outline_same(&inner, &wrap->inner, 1e-9) && wrap->fine == node->fine &&
           inside->fine == node->fine);
    assert(wrap->thickness >= fmax(sheet, 0.5) - 1e-9 && 2 * wrap->thickness == rint(2 * wrap->thickness));
    if (wrap->round) {
        Circle disc = disc_about(&wrap->outline);
        assert(inside->kind == NODE_WRAP || layup->rope[inside->first].round);
        assert(core_holds(job->grid.core, disc.x, disc.y, disc.r));
    } else {
        assert(outline_can_be_wrapped(&wrap->outline));
        for (int i = 0; i < wrap->outline.corners; i++)
            assert(core_holds(job->grid.core, wrap->outline.corner[i].x, wrap->outline.corner[i].y, 0));
    }
    if (inside->kind != NODE_WRAP) return;
    assert(inside->second == node->second - 1 && layup->node[inside->first].kind != NODE_WRAP);
}

/* Something round, in a rope that is pressed in about it: it lies inside. */
static inline void check_round(const Job *job, int index) {
    const LayUp *layup = &job->layup;
    const Node *node = &layup->node[index];
    assert(node->first >= 0 && node->first < index && node->second >= 0 && node->second < layup->ropes);
    const Rope *rest = &layup->rope[node->second];
    assert(outline_same(&node->outline, &rest->outline, 0) && rest->rest && rest->trim && !rest->round);
    Circle disc = disc_about(&layup->node[node->first].outline);
    for (int i = 0; i < node->outline.corners; i++) {
        Point a = node->outline.corner[i], b = node->outline.corner[(i + 1) % node->outline.corners];
        double length = sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
        assert(right_of(a, b, (Point){disc.x, disc.y}) >= disc.r * length);
    }
    near_to(rest->area, outline_disc_area(&rest->outline, job->grid.core) - PI * disc.r * disc.r);
}

/* The leaves of the tree cover the square once and only once: convex outlines, each cut parts one. */
static inline void check_cover(const Job *job) {
    const LayUp *layup = &job->layup;
    int n = job->grid.steps, ropes = 0, wraps = 0;
    const Outline square = outline_of_box(0, 0, n, n);
    assert(layup->nodes > 0 && outline_same(&layup->node[layup->nodes - 1].outline, &square, 0));
    for (int i = 0; i < layup->nodes; i++) {
        const Node *node = &layup->node[i];
        check_convex(&node->outline);
        if (node->kind == NODE_CUT) check_cut(layup, i);
        if (node->kind == NODE_WRAP) check_wrap(job, i);
        if (node->kind == NODE_ROUND) check_round(job, i);
        wraps += node->kind == NODE_WRAP;
        ropes += node->kind == NODE_ROUND;
        if (node->kind == NODE_EMPTY) assert(outline_disc_area(&node->outline, job->grid.core) < 1e-9);
        if (node->kind != NODE_ROPE) continue;
        assert(node->first >= 0 && node->first < layup->ropes);
        assert(outline_same(&node->outline, &layup->rope[node->first].outline, 0));
        assert(!layup->rope[node->first].rest);
        ropes++;
    }
    assert(ropes == layup->ropes && wraps == layup->wraps);
}

static inline void check_rope(const Job *job, const Rope *rope) {
    const Grid *grid = &job->grid;
    int least = rope->fine ? (grid->least_steps + 1) / 2 : grid->least_steps;
    if (least > grid->steps) least = grid->steps;
    assert(rope->candy >= 0 && rope->candy < job->palette.count);
    assert(!rope->fine || grid->fine_most > 0);
    if (rope->round) {
        Circle disc = disc_about(&rope->outline);
        assert(2 * disc.r >= least - 1e-9 && core_holds(grid->core, disc.x, disc.y, disc.r) && !rope->rim);
        near_to(rope->area, PI * disc.r * disc.r);
        return;
    }
    assert(outline_can_be_formed(&rope->outline, &job->cane.key, least));
    if (!rope->rest) near_to(rope->area, outline_disc_area(&rope->outline, grid->core));
}

/* Hands can form each rope, one in a fine block at half the size; areas add up to the core. */
static inline void check_ropes(const Job *job) {
    const Grid *grid = &job->grid;
    double area = 0, r = grid->steps / 2.0;
    int laid = 0;
    for (int i = 0; i < job->layup.ropes; i++) {
        check_rope(job, &job->layup.rope[i]);
        area += job->layup.rope[i].area;
        laid += !job->layup.rope[i].trim;
    }
    for (int i = 0; i < job->layup.wraps; i++) {
        const Wrap *wrap = &job->layup.wrap[i];
        assert(wrap->candy >= 0 && wrap->candy < job->palette.count && (!wrap->fine || grid->fine_most > 0));
        area += (wrap->round ? PI / 4 : 1) * (outline_area(&wrap->outline) - outline_area(&wrap->inner));
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
        bool single = block->kind == BLOCK_WRAPPED || block->kind == BLOCK_ROUND;
        assert(single ? block->items == 1 : block->items >= 2);
        assert(block->kind == BLOCK_WRAPPED ? block->wraps == 1 || block->wraps == 2 : block->wraps == 0);
        assert(block->kind != BLOCK_ROUND || job->layup.rope[block->rest].rest);
        assert(block->made >= 1 && block->builds >= 1 && block->scale >= 1);
        for (int i = block->first_item; i < block->first_item + block->items; i++)
            assert(blocks->item[i].is_block ? blocks->item[i].index < b
                                            : blocks->item[i].index < job->layup.ropes);
    }
}

static inline double end_of_task(const WorkTask *task) {
    return task->start + task->minutes;
}

/* Nobody, and no kettle, does two things at once; nothing begins before what it needs; all ropes are made. */
static inline void check_work(const Job *job) {
    const WorkPlan *work = &job->work;
    int ropes = 0;
    assert(work->tasks > 0 && work->people >= 1 && work->people <= PEOPLE_MAX);
    for (int i = 0; i < work->edges; i++)
        assert(end_of_task(&work->task[work->edge[i].before]) <= work->task[work->edge[i].after].start);
    for (int person = PEOPLE_NOBODY; person < work->people; person++) {
        double until = -HUGE_VAL;
        for (int i = 0; i < work->tasks && person != PEOPLE_EVERYBODY; i++) { /* by start */
            const WorkTask *task = &work->task[i];
            bool takes = task->person == person || (task->person == PEOPLE_EVERYBODY && person >= 0);
            if (!takes || task->minutes <= 0) continue;
            assert(task->start >= until);
            until = end_of_task(task);
        }
    }
    for (int i = 0; i < work->tasks; i++) {
        const WorkTask *task = &work->task[i];
        assert(task->minutes >= 0 && task->waits >= 0 && task->keeps >= 0 && end_of_task(task) <= work->ends);
        assert(task->person >= PEOPLE_NOBODY && task->person < work->people);
        assert(i == 0 || work->task[i - 1].start <= task->start);
        if (task->kind == TASK_ROPES) ropes += task->count;
    }
    assert(ropes == job->bill.ropes_made && work->laying >= 0 && work->laying <= work->ends);
    assert(work->ends >= work->chain - 1e-9 && work->ends >= work->hands / work->people - 1e-9);
}

static inline void check_judgement(const Job *job) {
    const Judgement *j = &job->judgement;
    Verdict worst = VERDICT_GO;
    assert(j->likeness >= 0 && j->likeness <= 1 && j->weakest >= 0 && j->weakest <= 1 && j->checks > 0);
    for (int i = 0; i < j->checks; i++) {
        assert(isfinite(j->check[i].value) && isfinite(j->check[i].limit));
        if (!j->check[i].own && j->check[i].verdict > worst) worst = j->check[i].verdict;
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
    check_work(job);
    check_judgement(job);
    check_lists(job);
}

#endif
