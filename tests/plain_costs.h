/* What lay-ups cost, by a plain count of points; grids to try the search on. SPDX-License-Identifier: MIT
 *
 * A point belongs to an outline if its middle lies in it. A middle on an edge (to 1e-6) may belong to either
 * side, so that costs are told as the least and the most they can be. */
#ifndef LOGOCANE_TESTS_PLAIN_COSTS_H
#define LOGOCANE_TESTS_PLAIN_COSTS_H

#include "model/grid.h"
#include "model/layup.h"
#include "base/mem.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

enum { POINTS_A_STEP = 4 };

/* What each candy costs at each point. */
typedef struct PointCosts {
    int side, candies;
    double *cost; /* [candies][side][side] cells, in whole 1 / COST_ONE; owned */
} PointCosts;

static inline double point_cost(const Grid *grid, int candy, int x, int y) {
    enum { EVERY = SAMPLES / POINTS_A_STEP };
    int n = grid->steps;
    if (!grid->weight)
        return grid->cost[(candy * n + y / POINTS_A_STEP) * n + x / POINTS_A_STEP] /
               (POINTS_A_STEP * POINTS_A_STEP);
    double sum = 0;
    for (int i = 0; i < EVERY * EVERY; i++) {
        int at = (y * EVERY + i / EVERY) * grid->wanted.side + x * EVERY + i % EVERY;
        int wanted = grid->wanted.candy[at];
        if (wanted != OUTSIDE) sum += (double)grid->weight[at] * grid->apart[wanted][candy];
    }
    return rint(sum / (SAMPLES * SAMPLES) * COST_ONE);
}

static inline PointCosts point_costs(const Grid *grid) {
    const int side = grid->steps * POINTS_A_STEP;
    PointCosts p = {side, grid->candies, malloc(sizeof(double) * (size_t)(grid->candies * side * side))};
    assert(p.cost);
    for (int i = 0; i < grid->candies * side * side; i++)
        p.cost[i] = point_cost(grid, i / (side * side), i % side, i / side % side) / COST_ONE;
    return p;
}

/* Of each side how far a place lies inside it: a x + b y + c, in steps. */
typedef struct Edges {
    int count;
    double a[OUTLINE_MAX], b[OUTLINE_MAX], c[OUTLINE_MAX];
} Edges;

static inline Edges edges_of(const Outline *o) {
    Edges e = {.count = o->corners};
    for (int i = 0; i < o->corners; i++) {
        Point p = o->corner[i], q = o->corner[(i + 1) % o->corners];
        double dx = q.x - p.x, dy = q.y - p.y, length = sqrt(dx * dx + dy * dy);
        e.a[i] = -dy / length, e.b[i] = dx / length;
        e.c[i] = -(e.a[i] * p.x + e.b[i] * p.y);
    }
    return e;
}

/* 1 inside, 0 on an edge, -1 outside. */
static inline int point_within(const Edges *e, int x, int y) {
    double u = (x + 0.5) / POINTS_A_STEP, v = (y + 0.5) / POINTS_A_STEP, least = 1;
    for (int i = 0; i < e->count; i++) {
        double off = e->a[i] * u + e->b[i] * v + e->c[i];
        if (off < least) least = off;
    }
    return least > 1e-6 ? 1 : least < -1e-6 ? -1 : 0;
}

/* A value. */
typedef struct CostRange {
    double low, high; /* cells */
} CostRange;

/* Of the outline laid in that candy. */
static inline CostRange outline_cost(const PointCosts *p, const Outline *o, int candy) {
    CostRange range = {0, 0};
    const Edges edges = edges_of(o);
    const double *cost = p->cost + (size_t)candy * p->side * p->side;
    for (int i = 0; i < p->side * p->side; i++) {
        int within = point_within(&edges, i % p->side, i / p->side);
        if (within > 0) range.low += cost[i];
        if (within >= 0) range.high += cost[i];
    }
    return range;
}

/* Of the disc that touches the sides of a square, laid in that candy. */
static inline CostRange disc_cost(const PointCosts *p, const Outline *square, int candy) {
    const double x = (square->corner[0].x + square->corner[2].x) / 2,
                 y = (square->corner[0].y + square->corner[2].y) / 2, r = fabs(square->corner[0].x - x);
    const double *cost = p->cost + (size_t)candy * p->side * p->side;
    CostRange range = {0, 0};
    for (int i = 0; i < p->side * p->side; i++) {
        double u = (i % p->side + 0.5) / POINTS_A_STEP - x, v = (i / p->side + 0.5) / POINTS_A_STEP - y;
        double off = sqrt(u * u + v * v) - r;
        if (off < -1e-6) range.low += cost[i];
        if (off <= 1e-6) range.high += cost[i];
    }
    return range;
}

static inline CostRange costs_between(CostRange outer, CostRange inner) {
    return (CostRange){outer.low - inner.high, outer.high - inner.low};
}

/* What a node itself costs: not what its parts do. */
static inline CostRange node_cost(const PointCosts *p, const LayUp *layup, const Node *node) {
    const Outline *inside = node->kind == NODE_EMPTY ? NULL : &layup->node[node->first].outline;
    if (node->kind == NODE_ROPE) {
        const Rope *rope = &layup->rope[node->first];
        return (rope->round ? disc_cost : outline_cost)(p, &rope->outline, rope->candy);
    }
    if (node->kind == NODE_WRAP) {
        const Wrap *wrap = &layup->wrap[node->second];
        CostRange (*cost)(const PointCosts *, const Outline *, int) = wrap->round ? disc_cost : outline_cost;
        return costs_between(cost(p, &wrap->outline, wrap->candy), cost(p, &wrap->inner, wrap->candy));
    }
    if (node->kind != NODE_ROUND) return (CostRange){0, 0};
    int candy = layup->rope[node->second].candy;
    return costs_between(outline_cost(p, &node->outline, candy), disc_cost(p, inside, candy));
}

/* Of all ropes and sheets. */
static inline CostRange layup_cost(const PointCosts *p, const LayUp *layup) {
    CostRange sum = {0, 0};
    for (int i = 0; i < layup->nodes; i++) {
        CostRange one = node_cost(p, layup, &layup->node[i]);
        sum = (CostRange){sum.low + one.low, sum.high + one.high};
    }
    return sum;
}

/* What all of it is worth in ropes: a sheet is one and a half, something round two. */
static inline double ropes_told(const LayUp *layup) {
    return layup->ropes + 1.5 * layup->wraps;
}

/* --- grids --- */

typedef enum GridKind {
    GRID_CELLS,    /* each cell has costs of its own, or one candy that costs nothing; no weights */
    GRID_LINES,    /* straight edges at any slope, samples with weights */
    GRID_MIRRORED, /* likewise, its own mirror image about the upright axis */
    GRID_KINDS
} GridKind;

static inline int thrown(uint64_t *seed, int below) {
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (int)((*seed >> 33) % (uint64_t)below);
}

/* The last of some half planes that holds the place says which candy is wanted. */
typedef struct Lines {
    int count;
    double a[8], b[8], c[8];
    int candy[8];
} Lines;

static inline int candy_wanted(const Lines *lines, double x, double y) {
    int candy = 0;
    for (int i = 0; i < lines->count; i++)
        if (lines->a[i] * x + lines->b[i] * y > lines->c[i]) candy = lines->candy[i];
    return candy;
}

static inline Lines thrown_lines(int candies, uint64_t *seed) {
    Lines lines = {.count = 1 + thrown(seed, 7)};
    for (int i = 0; i < lines.count; i++) {
        lines.a[i] = thrown(seed, 21) - 10;
        lines.b[i] = thrown(seed, 21) - 10;
        lines.c[i] = thrown(seed, 201) / 20.0 - 5; /* the square is -1..1 each way */
        lines.candy[i] = thrown(seed, candies);
    }
    return lines;
}

static inline void fill_cells(Grid *grid, uint64_t *seed) {
    int n = grid->steps;
    for (int i = 0; i < n * n; i++) {
        if (box_outside_disc((Box){i % n, i / n, 1, 1}, grid->core)) continue;
        bool flat = thrown(seed, 4) > 0;
        int right = thrown(seed, grid->candies);
        for (int k = 0; k < grid->candies; k++)
            grid->cost[k * n * n + i] =
                flat ? (k == right ? 0 : COST_ONE) : 16 * thrown(seed, 2 * COST_ONE / 16);
    }
}

/* Costs as frame sums them up. */
static inline void sum_samples(Grid *grid) {
    int n = grid->steps, side = grid->wanted.side;
    for (int k = 0; k < grid->candies; k++)
        for (int i = 0; i < n * n; i++) {
            double sum = 0;
            for (int s = 0; s < SAMPLES * SAMPLES; s++) {
                int at = (i / n * SAMPLES + s / SAMPLES) * side + i % n * SAMPLES + s % SAMPLES;
                int wanted = grid->wanted.candy[at];
                if (wanted != OUTSIDE) sum += (double)grid->weight[at] * grid->apart[wanted][k];
            }
            grid->cost[k * n * n + i] = (int32_t)lround(sum / (SAMPLES * SAMPLES) * COST_ONE);
        }
}

static inline void fill_samples(Grid *grid, bool mirrored, uint64_t *seed) {
    Err err = {0};
    const int side = grid->wanted.side;
    Lines lines = thrown_lines(grid->candies, seed);
    grid->weight = mem_alloc((size_t)side * side, sizeof *grid->weight, &err);
    assert(grid->weight);
    for (int i = 0; i < side * side; i++) {
        double x = (2 * (i % side) + 1.0) / side - 1, y = (2 * (i / side) + 1.0) / side - 1;
        bool holds = disc_holds(grid->core, SAMPLES, i % side, i / side);
        grid->wanted.candy[i] = holds ? (uint8_t)candy_wanted(&lines, mirrored ? -fabs(x) : x, y) : OUTSIDE;
        grid->weight[i] = holds ? 1 + (float)(fabs(x) < 0.3 && fabs(y) < 0.3) / 2 : 0;
    }
    for (int i = 0; i < grid->candies; i++)
        for (int k = 0; k < i; k++) grid->apart[i][k] = grid->apart[k][i] = 0.25 + thrown(seed, 4) / 4.0;
    sum_samples(grid);
}

/* To be freed with grid_free. */
static inline Grid thrown_grid(GridKind kind, int n, int least, int candies, uint64_t seed) {
    Err err = {0};
    Grid grid = {.steps = n, .least_steps = least, .candies = candies, .core = {n / 2.0, n / 2.0, n / 2.0}};
    grid.cost = mem_alloc((size_t)candies * n * n, sizeof *grid.cost, &err);
    grid.wanted = (Face){n * SAMPLES, mem_alloc((size_t)n * n * SAMPLES * SAMPLES, 1, &err)};
    assert(grid.cost && grid.wanted.candy);
    if (kind != GRID_CELLS) fill_samples(&grid, kind == GRID_MIRRORED, &seed);
    for (int i = 0; i < n * n * SAMPLES * SAMPLES && kind == GRID_CELLS; i++) /* no mirror image of itself */
        grid.wanted.candy[i] = i % grid.wanted.side < 3 * n && i / grid.wanted.side < 3 * n && candies > 1;
    if (kind == GRID_CELLS) fill_cells(&grid, &seed);
    return grid;
}

#endif
