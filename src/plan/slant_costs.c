/* What outlines cost. SPDX-License-Identifier: MIT
 *
 * Points lie POINTS a step each way. Sums along each row of points, all candies side by side, give what lies
 * left of a place in the row; the cost of an outline is the sum of these over its right-hand edges less that
 * over its left-hand ones, row by row. A point belongs to the outline if its middle does, so the parts of a
 * cut outline cost what the whole does. Cost: one addition of four candies for each row of an edge.
 * TALL rows stand together, place by place: a steep line then meets one or two lines of the cache in TALL
 * rows. */
#include "plan/slant.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* The sums of the row's points before the x-th, all groups of candies. */
static Four *sums_before(const CostTable *t, int x, int y) {
    return t->before + (((size_t)(y / TALL) * (t->wide + 1) + x) * TALL + y % TALL) * t->groups;
}

/* What the samples of one point hold of each candy, in samples with their weight. */
static void hold_samples(const Grid *grid, int x, int y, double held[INKS_MAX]) {
    enum { EVERY = SAMPLES / POINTS };
    for (int v = y * EVERY; v < (y + 1) * EVERY; v++)
        for (int u = x * EVERY; u < (x + 1) * EVERY; u++) {
            size_t at = (size_t)v * grid->wanted.side + u;
            if (grid->wanted.candy[at] != OUTSIDE) held[grid->wanted.candy[at]] += (double)grid->weight[at];
        }
}

static int32_t cost_at(const Grid *grid, const double held[INKS_MAX], int x, int y, int candy) {
    double cost = 0;
    if (!grid->weight) {
        size_t cell = ((size_t)candy * grid->steps + y / POINTS) * grid->steps + x / POINTS;
        return grid->cost[cell] / (POINTS * POINTS);
    }
    for (int i = 0; i < grid->candies; i++) cost += held[i] * grid->apart[i][candy];
    return (int32_t)lround(cost / (SAMPLES * SAMPLES) * COST_ONE);
}

/* Adds what each candy costs at a point of the grid. */
static void add_point(const Grid *grid, int x, int y, Four *sum) {
    double held[INKS_MAX] = {0};
    if (grid->weight) hold_samples(grid, x, y, held);
    for (int k = 0; k < grid->candies; k++)
        sum[k / SIDE_BY_SIDE][k % SIDE_BY_SIDE] += cost_at(grid, held, x, y, k);
}

bool cost_table_new(const Grid *grid, Axis axis, CostTable *out, Err *err) {
    const int side = grid->steps * POINTS;
    CostTable t = {.candies = grid->candies, .wide = side, .high = side};
    if (axis == AXIS_UPRIGHT) t.wide = side / 2;
    if (axis == AXIS_LEVEL) t.high = side / 2;
    t.groups = (t.candies + SIDE_BY_SIDE - 1) / SIDE_BY_SIDE;
    const size_t bands = (size_t)(t.high + TALL - 1) / TALL;
    t.before = mem_alloc(bands * TALL * (t.wide + 1) * t.groups, sizeof *t.before, err);
    if (!t.before) return false;
    for (int y = 0; y < t.high; y++)
        for (int x = 0; x < t.wide; x++) {
            const Four *before = sums_before(&t, x, y);
            Four *next = sums_before(&t, x + 1, y);
            for (int g = 0; g < t.groups; g++) next[g] = before[g];
            add_point(grid, x, y, next);
            if (axis == AXIS_UPRIGHT) add_point(grid, side - 1 - x, y, next);
            if (axis == AXIS_LEVEL) add_point(grid, x, side - 1 - y, next);
        }
    *out = t;
    return true;
}

void cost_table_free(CostTable *table) {
    free(table->before);
    *table = (CostTable){0};
}

enum { BITS = 32 }; /* of a fraction of a point */

/* The first row whose middle is not above the place. */
static int row_of(double place, int high) {
    int row = (int)ceil(place * POINTS - 0.5);
    return row < 0 ? 0 : row > high ? high : row;
}

/* Where a line crosses rows of points: in 1 / 2^BITS of a point. */
typedef struct Walk {
    int64_t x, step, most;
} Walk;

static inline int point_of(const Walk *w) {
    int64_t x = w->x < 0 ? 0 : w->x > w->most ? w->most : w->x;
    return (int)(x >> BITS);
}

/* Does the line stay on the table? It is straight, so its ends tell. */
static bool stays_within(const Walk *w, int rows) {
    int64_t last = w->x + w->step * (rows - 1);
    return w->x >= 0 && w->x <= w->most && last >= 0 && last <= w->most;
}

/* Up to four candies, most logos, and a line that stays on the table. TALL rows at a time, so that none waits
 * for another. */
static Four walk_within(const CostTable *t, Walk w, int row, int rows) {
    Four left = {0}, more = {0};
    for (; rows > 0 && row % TALL > 0; row++, rows--, w.x += w.step)
        left += *sums_before(t, (int)(w.x >> BITS), row);
    const Four *band = t->before + (size_t)(row / TALL) * (t->wide + 1) * TALL;
    for (; rows >= TALL; rows -= TALL, band += (size_t)(t->wide + 1) * TALL, w.x += TALL * w.step)
        for (int i = 0; i < TALL; i += 2) {
            left += band[(size_t)((w.x + i * w.step) >> BITS) * TALL + i];
            more += band[(size_t)((w.x + (i + 1) * w.step) >> BITS) * TALL + i + 1];
        }
    for (int i = 0; i < rows; i++, w.x += w.step) left += band[(size_t)(w.x >> BITS) * TALL + i];
    return left + more;
}

WalkEnd walk_end(const CostTable *t, Point at) {
    const int row = row_of(at.y, t->high);
    return (WalkEnd){at, row, (row + 0.5) / POINTS - at.y};
}

/* The line is followed in whole numbers, from its upper end whichever way it is gone: both sides of a cut see
 * the same points. */
void add_walk_costs(const CostTable *t, const WalkEnd *a, const WalkEnd *b, Costs *sum) {
    const bool down = a->at.y < b->at.y;
    const WalkEnd *top = down ? a : b, *bottom = down ? b : a;
    const int rows = bottom->row - top->row, groups = t->groups;
    if (rows <= 0) return;
    const double slope = (bottom->at.x - top->at.x) / (bottom->at.y - top->at.y), one = (double)(1LL << BITS);
    double at = (top->at.x + top->into * slope) * POINTS + 0.5; /* rounded by cutting off */
    Walk w = {(int64_t)(at * one), (int64_t)(slope * one), ((int64_t)t->wide << BITS) + (1LL << (BITS - 1))};
    if (groups == 1 && stays_within(&w, rows)) {
        Four left = walk_within(t, w, top->row, rows);
        sum->group[0] += down ? left : -left;
        return;
    }
    Four left[GROUPS_MAX] = {{0}};
    for (int y = top->row; y < bottom->row; y++, w.x += w.step) {
        const Four *before = sums_before(t, point_of(&w), y);
        for (int g = 0; g < groups; g++) left[g] += before[g];
    }
    for (int g = 0; g < groups; g++) sum->group[g] += down ? left[g] : -left[g];
}

void add_edge_costs(const CostTable *t, Point a, Point b, Costs *sum) {
    const WalkEnd from = walk_end(t, a), to = walk_end(t, b);
    add_walk_costs(t, &from, &to, sum);
}

void add_outline_costs(const CostTable *t, const Outline *o, Costs *sum) {
    for (int i = 0; i < o->corners; i++) add_edge_costs(t, o->corner[i], outline_next(o, i), sum);
}

/* The first point whose middle is at x or behind it. */
static int point_from(double x, int most) {
    return (int)ceil(within(x * POINTS - 0.5, 0, most));
}

void add_disc_costs(const CostTable *t, Circle disc, Costs *sum) {
    int from = row_of(disc.y - disc.r, t->high), to = row_of(disc.y + disc.r, t->high);
    for (int y = from; y < to; y++) {
        double down = (y + 0.5) / POINTS - disc.y, half = sqrt(fmax(disc.r * disc.r - down * down, 0));
        const Four *left = sums_before(t, point_from(disc.x - half, t->wide), y);
        const Four *right = sums_before(t, point_from(disc.x + half, t->wide), y);
        for (int g = 0; g < t->groups; g++) sum->group[g] += right[g] - left[g];
    }
}

int cheapest_candy(const CostTable *t, const Costs *costs, int32_t *cost) {
    int best = 0;
    int32_t least = costs->group[0][0];
    for (int k = 1; k < t->candies; k++) {
        int32_t c = costs->group[k / SIDE_BY_SIDE][k % SIDE_BY_SIDE];
        if (c >= least) continue;
        least = c;
        best = k;
    }
    *cost = least;
    return best;
}
