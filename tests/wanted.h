/* What lay-ups of grids made in tests need: a wanted face, a key. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_WANTED_H
#define LOGOCANE_TESTS_WANTED_H

#include "model/cane.h"
#include "model/grid.h"
#include "model/shop.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* Fills the wanted face from the costs: each cell's cheapest candy. */
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

/* The limits of what hands form as the default shop has them. */
static inline LayKey lay_key(Detail detail, int ropes_cap) {
    const Shop shop = shop_default();
    return (LayKey){.detail = detail,
                    .ropes_cap = ropes_cap,
                    .corners_most = shop.corners_max,
                    .sharpest = tan(shop.sharpest_deg * PI / 180),
                    .taper_least = shop.taper_share};
}

#endif
