/* Times the lay-up alone. SPDX-License-Identifier: MIT
 *
 *     bench_lay_up LOGO STEPS ROUNDS      prints the medians: milliseconds by the clock, and of processors */
#include "read/read.h"
#include "inks/inks.h"
#include "plan/plan.h"
#include "model/shop.h"
#include "wanted.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { ROUNDS_MAX = 99 };

static double milliseconds(clockid_t clock) {
    struct timespec t;
    (void)clock_gettime(clock, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec * 1e-6;
}

static int compare(const void *a, const void *b) {
    double p = *(const double *)a, q = *(const double *)b;
    return (p > q) - (p < q);
}

/* A core of `steps` steps, a quarter of the least strip each, with fine blocks up to half the widest block.
 */
static bool lay_grid(const char *logo, int steps, Grid *grid, Err *err) {
    Shop shop = shop_default();
    Order order = order_default();
    Picture picture = {0};
    InkMap inks = {0};
    Palette palette = {0};
    LayKey key = {.steps = steps, .least_steps = 4, .sheet_steps = 2, .detail = order.detail};
    key.fine_most = (int)(shop.block_width_max_mm / 2 / (shop.least_strip_mm / 4));
    bool good = decode(logo, logo, &picture, err) && find_inks(&picture, &inks, err) &&
                match_candy(&inks, &order, &shop, &palette, err) && frame(&inks, &palette, &key, grid, err) &&
                cost_cells(grid, err);
    picture_free(&picture);
    inkmap_free(&inks);
    return good;
}

int main(int argc, char *argv[]) {
    Err err = {0};
    Grid grid = {0};
    double wall[ROUNDS_MAX], cpu[ROUNDS_MAX];
    int rounds = argc == 4 ? atoi(argv[3]) : 0;
    if (rounds < 1 || rounds > ROUNDS_MAX || !lay_grid(argv[1], atoi(argv[2]), &grid, &err)) {
        fprintf(stderr, "bench_lay_up: %s\n", err.code ? err.msg : "LOGO STEPS ROUNDS");
        return 1;
    }
    for (int i = 0; i < rounds; i++) {
        const LayKey key = lay_key(DETAIL_NORMAL, 0);
        LayUp layup = {0};
        wall[i] = milliseconds(CLOCK_MONOTONIC);
        cpu[i] = milliseconds(CLOCK_PROCESS_CPUTIME_ID);
        if (!lay_up(&grid, &key, &layup, &err)) return 1;
        wall[i] = milliseconds(CLOCK_MONOTONIC) - wall[i];
        cpu[i] = milliseconds(CLOCK_PROCESS_CPUTIME_ID) - cpu[i];
        layup_free(&layup);
    }
    qsort(wall, (size_t)rounds, sizeof *wall, compare);
    qsort(cpu, (size_t)rounds, sizeof *cpu, compare);
    printf("%.2f %.2f\n", wall[rounds / 2], cpu[rounds / 2]);
    grid_free(&grid);
    return 0;
}
