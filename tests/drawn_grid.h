/* Grids drawn by code, for the tests of sheets and round ropes. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_DRAWN_GRID_H
#define LOGOCANE_TESTS_DRAWN_GRID_H

#include "plain_costs.h"
#include "wanted.h"

/* Which candy is wanted at a place of the core, in steps from its middle. */
typedef int Drawing(double x, double y);

/* Every sample weighs 1, any wrong candy costs all. To be freed with grid_free. */
static inline Grid drawn_grid(int n, int least, int candies, Drawing *drawing) {
    Err err = {0};
    Grid grid = {.steps = n, .least_steps = least, .candies = candies, .core = {n / 2.0, n / 2.0, n / 2.0}};
    const int side = n * SAMPLES;
    grid.cost = mem_alloc((size_t)candies * n * n, sizeof *grid.cost, &err);
    grid.wanted = (Face){side, mem_alloc((size_t)side * side, 1, &err)};
    grid.weight = mem_alloc((size_t)side * side, sizeof *grid.weight, &err);
    assert(grid.cost && grid.wanted.candy && grid.weight);
    for (int i = 0; i < side * side; i++) {
        bool holds = disc_holds(grid.core, SAMPLES, i % side, i / side);
        double x = (i % side + 0.5) / SAMPLES - n / 2.0, y = (i / side + 0.5) / SAMPLES - n / 2.0;
        grid.wanted.candy[i] = holds ? (uint8_t)drawing(x, y) : OUTSIDE;
        grid.weight[i] = holds ? 1 : 0;
    }
    for (int i = 0; i < candies; i++)
        for (int k = 0; k < candies; k++) grid.apart[i][k] = i != k;
    sum_samples(&grid);
    return grid;
}

static inline LayKey sheet_key(int sheet_steps) {
    LayKey key = lay_key(DETAIL_NORMAL, 0);
    key.sheet_steps = sheet_steps;
    return key;
}

/* How far inside a regular polygon round (x0, y0) a place lies: its sides are `in` from there, the first
 * one's middle at that angle. */
static inline double inside_regular(int sides, double in, double angle, double x, double y) {
    double least = HUGE_VAL;
    for (int i = 0; i < sides; i++) {
        double turn = angle + 2 * PI * i / sides, off = in - (x * cos(turn) + y * sin(turn));
        if (off < least) least = off;
    }
    return least;
}

#endif
