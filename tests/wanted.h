/* Fills a grid's wanted face from its costs: each cell's cheapest candy. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_WANTED_H
#define LOGOCANE_TESTS_WANTED_H

#include "model/grid.h"
#include "base/mem.h"

#include <stdlib.h>

static inline void want_the_cheapest(Grid *grid) {
    Err err = {0};
    int n = grid->steps, side = n * SAMPLES;
    free(grid->wanted.candy);
    grid->wanted = (Face){side, mem_alloc((size_t)side * side, 1, &err)};
    for (int y = 0; y < side; y++)
        for (int x = 0; x < side; x++) {
            const int32_t *cell = grid->cost + y / SAMPLES * n + x / SAMPLES;
            int best = 0;
            for (int k = 1; k < grid->candies; k++)
                if (cell[k * n * n] < cell[best * n * n]) best = k;
            double u = (x + 0.5) / SAMPLES - n / 2.0, v = (y + 0.5) / SAMPLES - n / 2.0;
            grid->wanted.candy[(size_t)y * side + x] = u * u + v * v <= n * n / 4.0 ? (uint8_t)best : OUTSIDE;
        }
}

#endif
