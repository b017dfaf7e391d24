/* The tables of slicing.h are filled, tier by tier. SPDX-License-Identifier: MIT
 *
 * Heights rising, then tops, then widths rising, so that every part of a rectangle is done before it. In a
 * tier:
 * 1. strips are differences of one summed row;
 * 2. level cuts: sums of two tiers, runs of some 2000 numbers, CUTS of them a pass;
 * 3. upright cuts: sums of two rows of the tier (9 kB: it stays in the nearest cache), with the minima of up
 * to GROUP registers of places held over all cuts;
 * 4. wedge pairs are worked out where one could still win (slicing_wedges.c);
 * 5. fine blocks are read off their own table.
 * Threads take tiers in that order, each as soon as those within it are done. Memory: (n^2 / 2)^2 numbers of
 * 4 bytes: 20 MB for n = 69, 45 MB for n = 84, and a third to a half of that for fine blocks. Cost: n^5 / 6
 * additions for the cuts. */
#include "plan/slicing.h"

#include "base/parallel.h"
#include "plan/slicing_tier.h"

#include <sched.h>
#include <stdatomic.h>

enum {
    TIERS_MAX = STEPS_MAX * (STEPS_MAX + 1) / 2,
    CUTS = 4,         /* level cuts a pass: the best so far is loaded and stored once for all of them */
    THREADS_FROM = 40 /* steps: a smaller table is done before threads are up */
};

/* Of rows y .. y + h - 1. */
static void sum_columns(const Slicing *s, int y, int h, ColumnSums out) {
    for (int k = 0; k <= s->candies; k++) {
        const int32_t *top = sum_row(s, k, y), *bottom = sum_row(s, k, y + h);
        for (int x = 0; x < SUMS_ROOM; x += LANES) {
            Lanes sum = LANES_AT(bottom + x) - LANES_AT(top + x);
            put_lanes(out[k] + x, &sum, LANES);
        }
    }
}

/* 1. The cheapest strip of width w at x, plus lambda. */
INLINE void strips(const Tier *tier, int w, int x, int32_t *row) {
    Lanes least = LANES_AT(tier->all[0] + x + w) - LANES_AT(tier->all[0] + x);
    for (int k = 1; k < tier->s->candies; k++) {
        Lanes cost = LANES_AT(tier->all[k] + x + w) - LANES_AT(tier->all[k] + x);
        take_less(&least, &cost);
    }
    least += tier->s->lambda;
    put_lanes(row + x, &least, tier->s->n - w + 1 - x);
}

/* 2. A pass of fewer cuts does its last one again. What lies between a triangle's end and the next one's
 * start (solve_tier sets it to 0) stays 0. */
INLINE void level_cuts(const Tier *tier) {
    const SlicingTable *t = tier->t;
    const int last = tier->h - t->least;
    for (int above = t->least; above <= last; above += CUTS) {
        const int32_t *a[CUTS], *b[CUTS];
        for (int c = 0; c < CUTS; c++) {
            int cut = above + c < last ? above + c : last;
            a[c] = tier_at(t, cut, tier->y);
            b[c] = tier_at(t, tier->h - cut, tier->y + cut);
        }
        for (int i = 0; i < t->triangle; i += LANES) {
            Lanes best = LANES_AT(tier->best + i);
            for (int c = 0; c < CUTS; c++) {
                Lanes sum = LANES_AT(a[c] + i) + LANES_AT(b[c] + i);
                take_less(&best, &sum);
            }
            put_lanes(tier->best + i, &best, LANES);
        }
    }
}

/* The places from x on, `group` registers of them. */
INLINE void cut_places(const Tier *tier, int w, int x, int group, int32_t *row) {
    const SlicingTable *t = tier->t;
    const int count = tier->s->n - w + 1;
    Lanes best[GROUP];
    for (int g = 0; g < group; g++) best[g] = LANES_AT(row + x + g * LANES);
    for (int first = t->least; first <= w - t->least; first++) {
        const int32_t *a = tier->best + t->side[first] + x, *b = tier->best + t->side[w - first] + first + x;
        for (int g = 0; g < group; g++) {
            Lanes sum = LANES_AT(a + g * LANES) + LANES_AT(b + g * LANES);
            take_less(&best[g], &sum);
        }
    }
    for (int g = 0; g < group && x + g * LANES < count; g++)
        put_lanes(row + x + g * LANES, &best[g], count - x - g * LANES);
}

/* 3. */
INLINE void upright_cuts(const Tier *tier, int w, int32_t *row) {
    const int count = tier->s->n - w + 1;
    for (int x = 0; x < count; x += GROUP * LANES)
        if (count - x > GROUP / 2 * LANES)
            cut_places(tier, w, x, GROUP, row);
        else
            cut_places(tier, w, x, GROUP / 2, row);
}

/* Columns [0, left) and [right, n) of rows y .. y + h lie outside the core. */
static void outside_columns(const Slicing *s, int h, int y, int *left, int *right) {
    *left = 0;
    while (*left < s->n && box_outside_disc((Box){0, y, *left + 1, h}, s->core)) ++*left;
    *right = s->n;
    while (*right > 0 && box_outside_disc((Box){*right - 1, y, s->n - *right + 1, h}, s->core)) --*right;
}

/* 5. A fine block in place of what is best so far. */
INLINE void try_fine(const Tier *tier, int w, int32_t *row) {
    const SlicingTable *fine = &tier->s->fine;
    const int count = tier->s->n - w + 1;
    if (tier->t == fine || tier->h > fine->most || w > fine->most) return;
    const int32_t *from = tier_at(fine, tier->h, tier->y) + fine->side[w];
    for (int x = 0; x < count; x += LANES) {
        Lanes best = LANES_AT(row + x), cost = LANES_AT(from + x) + FINE_ROPES * tier->s->lambda;
        take_less(&best, &cost);
        put_lanes(row + x, &best, count - x);
    }
}

WIDE static void solve_tier(const Tier *tier) {
    const SlicingTable *t = tier->t;
    const int n = tier->s->n;
    memset(tier->best + t->triangle, 0, (size_t)(t->stride - t->triangle) * sizeof *tier->best);
    for (int w = t->least; w <= t->most; w++)
        for (int x = 0; x <= n - w; x += LANES) strips(tier, w, x, tier->best + t->side[w]);
    level_cuts(tier);
    for (int w = t->least; w <= t->most; w++) {
        int32_t *row = tier->best + t->side[w];
        upright_cuts(tier, w, row);
        slicing_try_wedges(tier, w, row); /* 4 */
        try_fine(tier, w, row);
        for (int x = 0; x + w <= tier->outside_left; x++) row[x] = 0;
        for (int x = tier->outside_right; x <= n - w; x++) row[x] = 0;
    }
}

static void solve_one(const Slicing *s, const SlicingTable *t, const Splits *splits, int h, int y) {
    Tier tier; /* 30 kB: what is read of it is filled, so nothing is cleared first */
    tier.s = s;
    tier.t = t;
    tier.splits = splits;
    tier.h = h;
    tier.y = y;
    tier.best = tier_at(t, h, y);
    sum_columns(s, y, h, tier.all);
    for (int j = 0; j < BANDS; j++) {
        int top = band_start(h, j), bottom = band_start(h, j + 1);
        sum_columns(s, y + top, bottom - top, tier.band[j]);
    }
    outside_columns(s, h, y, &tier.outside_left, &tier.outside_right);
    solve_tier(&tier);
}

/* A table that is being filled. Tier i is that of height h and top y with i = side[h] + y. */
typedef struct Filling {
    const Slicing *s;
    const SlicingTable *t;
    atomic_int next; /* the tier that is begun next */
    atomic_bool done[TIERS_MAX];
} Filling;

/* Until another thread is through with the tier; it was begun before all that waits for it. */
static void await_tier(Filling *filling, int tier) {
    while (!atomic_load_explicit(&filling->done[tier], memory_order_acquire)) (void)sched_yield();
}

/* A tier asks about those within it, all done when the two of the height below are. */
static void fill_tier(Filling *filling, const Splits *splits, int h, int y) {
    const SlicingTable *t = filling->t;
    if (h > t->least) {
        await_tier(filling, t->side[h - 1] + y);
        await_tier(filling, t->side[h - 1] + y + 1);
    }
    solve_one(filling->s, t, splits, h, y);
    atomic_store_explicit(&filling->done[t->side[h] + y], true, memory_order_release);
}

/* Takes tiers in their order, so heights rise. */
static void fill_tiers(void *context, int thread) {
    Filling *filling = context;
    const SlicingTable *t = filling->t;
    Splits splits = {0};
    int h = t->least, splits_of = 0;
    (void)thread;
    for (int i; (i = atomic_fetch_add(&filling->next, 1)) < t->triangle;) {
        while (h < t->most && i >= t->side[h + 1]) h++;
        if (splits_of != h) slicing_run_splits(t, splits_of = h, &splits);
        fill_tier(filling, &splits, h, i - t->side[h]);
    }
}

static void solve_table(const Slicing *s, const SlicingTable *t) {
    Filling filling = {.s = s, .t = t};
    const int threads = s->n < THREADS_FROM ? 1 : parallel_threads();
    parallel_rows(threads, threads, fill_tiers, &filling);
}

void slicing_solve(Slicing *s, int32_t lambda) {
    s->lambda = lambda;
    if (s->fine.most > 0) solve_table(s, &s->fine);
    solve_table(s, &s->coarse);
}
