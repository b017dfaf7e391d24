/* A job laid up from a picture given as a function, through the stages from lay_up to plan_pulls: what the
 * tests of the blocks, the pulls and the bench sheets work on. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_BENCH_JOB_H
#define LOGOCANE_BENCH_JOB_H

#include "bench/bench.h"
#include "plan/plan.h"
#include "model/job.h"
#include "base/mem.h"
#include "random_tree.h"
#include "wanted.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct BenchJob {
    Picture picture;
    InkMap inks;
    Shop shop;
    Job job;
} BenchJob;

/* The candy at a step of an n x n square. */
typedef int Motif(int x, int y, int n);

static inline void bench_grid(Grid *grid, int n, int candies, Motif *motif) {
    Err err = {0};
    *grid = (Grid){.steps = n, .least_steps = 4, .candies = candies, .core = {n / 2.0, n / 2.0, n / 2.0}};
    grid->cost = mem_alloc((size_t)candies * n * n, sizeof *grid->cost, &err);
    for (int i = 0; i < candies * n * n; i++) {
        int k = i / (n * n), x = i % n, y = i / n % n;
        bool outside = box_outside_disc((Box){x, y, 1, 1}, grid->core);
        grid->cost[i] = outside || k == motif(x, y, n) ? 0 : COST_ONE;
    }
    want_the_cheapest(grid);
}

/* All but the lay-up. */
static inline void bench_start(BenchJob *b, int n, int candies, Motif *motif, const Shop *shop) {
    memset(b, 0, sizeof *b);
    b->shop = shop ? *shop : shop_default();
    b->job = (Job){.picture = &b->picture, .inks = &b->inks, .shop = &b->shop, .file = "ferry.png"};
    Job *j = &b->job;
    j->order = order_default();
    strcpy(j->order.name, "ferry");
    j->palette = (Palette){.count = candies, .jackets = 1, .stripes = 1};
    for (int k = 0; k < candies; k++) j->palette.candy[k] = b->shop.stock.candy[k];
    j->palette.jacket[0] = b->shop.stock.candy[0];
    j->cane = (Cane){
        .logs = 1,
        .pieces = 1000,
        .core_diameter_mm = n * 1.5,
        .log_diameter_mm = n * 1.5 / 0.9,
        .log_length_mm = 308,
        .reduction = 7,
        .cane_length_m = 15,
        .step_mm = 1.5,
        .key = {.steps = n, .least_steps = 4, .corners_most = 5, .sharpest = 0.25, .taper_least = 0.7}};
    j->cane.volume_ml = PI / 4 * pow(j->cane.log_diameter_mm, 2) * 308 / 1000;
    bench_grid(&j->grid, n, candies, motif);
}

/* The stages that come after the blocks. */
static inline bool bench_reckon(BenchJob *b) {
    Err err = {0};
    Job *j = &b->job;
    plan_builds(&j->cane, j->shop, &j->blocks);
    if (!weigh(&j->order, &j->palette, &j->cane, &j->grid, j->shop, &j->blocks, &j->layup, &j->bill, &err) ||
        !plan_pulls(&j->palette, j->shop, &j->layup, &j->blocks, &j->bill, &err) ||
        !cool(&j->palette, &j->cane, j->shop, &j->blocks, &j->bill, &j->heat, &err))
        return false;
    cook(&j->cane, &j->bill, j->shop, &j->recipe);
    return plan_work(&j->palette, &j->cane, j->shop, &j->layup, &j->blocks, &j->bill, &j->heat, &j->recipe,
                     &j->work, &err);
}

/* The stages that come after the lay-up. */
static inline bool bench_finish(BenchJob *b) {
    Err err = {0};
    Job *j = &b->job;
    return find_blocks(&j->grid, &j->layup, &j->blocks, &err) &&
           find_wrong_ways(&j->grid, &j->layup, b->shop.fits_within_mm / j->cane.step_mm, &j->blocks, &err) &&
           soften(&j->grid, &j->layup, &j->cane.key, &j->face, &err) && bench_reckon(b);
}

/* b must stay where it is: the job points into it. `shop` may be NULL. False if a stage failed. */
static inline bool bench_build(BenchJob *b, int n, int candies, Motif *motif, Detail detail,
                               const Shop *shop) {
    Err err = {0};
    bench_start(b, n, candies, motif, shop);
    b->job.order.detail = b->job.cane.key.detail = detail;
    return lay_up(&b->job.grid, &b->job.cane.key, &b->job.layup, &err) && bench_finish(b);
}

/* A rope of so little area is a trim. */
static inline void bench_trim(LayUp *layup, Rope *rope, int least) {
    rope->trim = rope->area < least * least / 4.0;
    layup->laid -= rope->trim;
}

/* Rows of squares of `least` steps, each of the candy at its corner, without asking whether that is best:
 * large lay-ups at no cost. */
static inline bool bench_build_squares(BenchJob *b, int squares, int candies, Motif *motif) {
    enum { LEAST = 4 };
    int n = squares * LEAST, stack = -1;
    bench_start(b, n, candies, motif, NULL);
    LayUp *layup = &b->job.layup;
    *layup = tree_new(squares * squares);
    for (int y = 0; y < n; y += LEAST) {
        Outline rows = outline_of_box(0, 0, n, y + LEAST);
        int row = -1;
        for (int x = 0; x < n; x += LEAST) {
            Outline cell = outline_of_box(x, y, LEAST, LEAST),
                    before = outline_of_box(0, y, x + LEAST, LEAST);
            int ropes = layup->ropes, leaf = tree_leaf(layup, &cell, motif(x, y, n), b->job.grid.core);
            if (layup->ropes > ropes) bench_trim(layup, &layup->rope[ropes], LEAST);
            Point top = {x, y}, bottom = {x, y + LEAST};
            row = x == 0 ? leaf : tree_join(layup, &before, top, bottom, row, leaf);
        }
        stack = y == 0 ? row : tree_join(layup, &rows, (Point){0, y}, (Point){n, y}, stack, row);
    }
    return bench_finish(b);
}

static inline void bench_free(BenchJob *b) {
    job_free(&b->job);
}

static inline int motif_plain(int x, int y, int n) {
    (void)x;
    (void)y;
    (void)n;
    return 0;
}

/* A blob and a bar, no symmetry. */
static inline int motif_blob(int x, int y, int n) {
    if (hypot(x - 0.4 * n, y - 0.45 * n) < n / 5.0) return 1;
    return x > 0.65 * n && x < 0.8 * n && y > 0.1 * n ? 2 : 0;
}

/* Four feet that are one block, a roof that is its own mirror image. */
static inline int motif_table(int x, int y, int n) {
    int u = x < n - 1 - x ? x : n - 1 - x;
    if (y > n / 4 && y < n / 4 + 8 && u > n / 5) return 1;
    if (y >= n / 4 + 8 && y < n / 4 + 32 && u > n / 5 && u < n / 5 + 8) return (y / 8) % 2 ? 1 : 2;
    return 0;
}

/* Squares of the least strip, of a candy each, as if thrown. */
static inline int motif_squares(int x, int y, int n) {
    (void)n;
    unsigned u = (unsigned)(x / 4) * 73856093u ^ (unsigned)(y / 4) * 19349663u;
    u = (u ^ (u >> 13)) * 1274126177u;
    return (int)((u >> 16) % 8);
}

#endif
