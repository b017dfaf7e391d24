/* The table of best slicings is filled. SPDX-License-Identifier: MIT
 *
 * Input: the cost of each candy in each cell. Output: f(R) for every rectangle R with sides of at least
 * `least` steps:
 *
 *     f(R) = 0 where R lies outside the core, else
 *     f(R) = min { min_k cost_k(R) + lambda,  wedges(R) + 2 lambda,  min over straight cuts of f(A) + f(B),
 *                  f2(R) + 3 lambda }
 *
 * with f2 the same with half the least side and without the last term: a fine block.
 *
 * Order: heights rising, then tops, then widths rising, so that every part of R is done before R. The table
 * is packed as triangles in a triangle, [(h, y)][(w, x)]: all rectangles of one height and top (a level) lie
 * side by side, so
 * 1. strips are differences of one summed row;
 * 2. level cuts are a min-plus over whole triangles, runs of some 2000 numbers, four cuts a pass;
 * 3. upright cuts are a min-plus over places x inside one triangle (9 kB: it stays in the nearest cache),
 * with the minima of up to 32 places in registers over all cuts;
 * 4. wedge pairs are worked out where one could still win (slicing_wedges.c);
 * 5. fine blocks are read off their own table.
 * Levels of one height are shared out among threads. Memory: (n^2 / 2)^2 numbers of 4 bytes: 20 MB for n =
 * 69, 45 MB for n = 84, and a third to a half of that for fine blocks. Cost: n^5 / 6 additions for the cuts.
 *
 * Measured at n = 69 with fine blocks, four candies, against the plain order with bounds by pairs of candies:
 * 2.05 to 1.0 thousand million instructions, a third of the time. Registers over all cuts, the staircase of
 * the wedges and large pages (touching the table first took a quarter of the time) brought a tenth or more.
 *
 * The recurrence is the guillotine-cutting one (Gilmore & Gomory, "Multistage cutting stock problems of two
 * and more dimensions", Operations Research 13 (1965) 94-120; from memory), with costs of areas in place of
 * values of pieces.
 */
#include "plan/slicing.h"

#include "base/parallel.h"
#include "plan/slicing_level.h"

/* span[k][x] = what candy k costs in columns 0..x of rows y .. y + h; the last layer: the cheapest of each
 * cell. */
static void fill_spans(const Slicing *s, int y, int h, Spans span) {
    for (int k = 0; k <= s->candies; k++) {
        const int32_t *top = sums(s, k, y), *bottom = sums(s, k, y + h);
        for (int x = 0; x < ROW; x += LANES) *(Loose *)(span[k] + x) = AT(bottom + x) - AT(top + x);
    }
}

/* 1. The cheapest strip of width w at x, plus lambda. */
INLINE void strips(const Level *l, int w, int x, int32_t *row) {
    Lanes least = AT(l->span[0] + x + w) - AT(l->span[0] + x);
    for (int k = 1; k < l->s->candies; k++) {
        Lanes cost = AT(l->span[k] + x + w) - AT(l->span[k] + x);
        take_less(&least, &cost);
    }
    least += l->s->lambda;
    keep(row + x, &least, l->s->n - w + 1 - x);
}

/* 2. Four cuts a pass: best is loaded and stored once for all. What lies between a triangle's end and the
 * next one's start is 0 and stays so. */
INLINE void level_cuts(const Level *l) {
    const Table *t = l->t;
    const int last = l->h - t->least;
    for (int above = t->least; above <= last; above += CUTS) {
        const int32_t *a[CUTS], *b[CUTS];
        for (int c = 0; c < CUTS; c++) {
            int cut = above + c < last ? above + c : last;
            a[c] = triangle_at(t, cut, l->y);
            b[c] = triangle_at(t, l->h - cut, l->y + cut);
        }
        for (int i = 0; i < t->triangle; i += LANES) {
            Lanes best = AT(l->here + i);
            for (int c = 0; c < CUTS; c++) {
                Lanes sum = AT(a[c] + i) + AT(b[c] + i);
                take_less(&best, &sum);
            }
            *(Loose *)(l->here + i) = best;
        }
    }
}

INLINE void cut_places(const Level *l, int w, int x, int group, int32_t *row) {
    const Table *t = l->t;
    const int count = l->s->n - w + 1;
    Lanes best[GROUP];
    for (int g = 0; g < group; g++) best[g] = AT(row + x + g * LANES);
    for (int first = t->least; first <= w - t->least; first++) {
        const int32_t *a = l->here + t->side[first] + x, *b = l->here + t->side[w - first] + first + x;
        for (int g = 0; g < group; g++) {
            Lanes sum = AT(a + g * LANES) + AT(b + g * LANES);
            take_less(&best[g], &sum);
        }
    }
    for (int g = 0; g < group && x + g * LANES < count; g++)
        keep(row + x + g * LANES, &best[g], count - x - g * LANES);
}

/* 3. */
INLINE void upright_cuts(const Level *l, int w, int32_t *row) {
    const int count = l->s->n - w + 1;
    for (int x = 0; x < count; x += GROUP * LANES)
        if (count - x > GROUP / 2 * LANES)
            cut_places(l, w, x, GROUP, row);
        else
            cut_places(l, w, x, GROUP / 2, row);
}

/* Columns [0, left) and [right, n) of rows y .. y + h lie outside the core. */
static void outside_columns(const Slicing *s, int h, int y, int *left, int *right) {
    *left = 0;
    while (*left < s->n && box_outside_disc((Box){0, y, *left + 1, h}, s->core)) ++*left;
    *right = s->n;
    while (*right > 0 && box_outside_disc((Box){*right - 1, y, s->n - *right + 1, h}, s->core)) --*right;
}

/* 5. A fine block in place of what is best so far. */
INLINE void try_fine(const Level *l, int w, int32_t *row) {
    const Table *fine = &l->s->fine;
    const int count = l->s->n - w + 1;
    if (l->t == fine || l->h > fine->most || w > fine->most) return;
    const int32_t *from = triangle_at(fine, l->h, l->y) + fine->side[w];
    for (int x = 0; x < count; x += LANES) {
        Lanes best = AT(row + x), cost = AT(from + x) + FINE_ROPES * l->s->lambda;
        take_less(&best, &cost);
        keep(row + x, &best, count - x);
    }
}

WIDE static void solve_level(const Level *l) {
    const Table *t = l->t;
    const int n = l->s->n;
    for (int w = t->least; w <= t->most; w++)
        for (int x = 0; x <= n - w; x += LANES) strips(l, w, x, l->here + t->side[w]);
    level_cuts(l);
    for (int w = t->least; w <= t->most; w++) {
        int32_t *row = l->here + t->side[w];
        upright_cuts(l, w, row);
        slicing_try_wedges(l, w, row); /* 4 */
        try_fine(l, w, row);
        for (int x = 0; x + w <= l->outside_left; x++) row[x] = 0;
        for (int x = l->outside_right; x <= n - w; x++) row[x] = 0;
    }
}

static void solve_rows(const Slicing *s, const Table *t, const Plan *plan, int h, int y) {
    Level l;
    l.s = s, l.t = t, l.plan = plan, l.h = h, l.y = y, l.here = triangle_at(t, h, y);
    fill_spans(s, y, h, l.span);
    for (int j = 0; j < BANDS; j++) {
        int top = h * j / BANDS, bottom = h * (j + 1) / BANDS;
        fill_spans(s, y + top, bottom - top, l.band[j]);
    }
    outside_columns(s, h, y, &l.outside_left, &l.outside_right);
    solve_level(&l);
}

/* All rectangles of one height, by their tops. */
typedef struct Heights {
    const Slicing *s;
    const Table *t;
    const Plan *plan;
    int h;
} Heights;

static void solve_top(void *context, int y) {
    const Heights *heights = context;
    solve_rows(heights->s, heights->t, heights->plan, heights->h, y);
}

/* Rectangles of one height do not ask about each other: their tops are shared out among threads. */
static void solve_table(const Slicing *s, const Table *t) {
    Plan plan = {0};
    for (int h = t->least; h <= t->most; h++) {
        slicing_plan(t, h, &plan);
        parallel_rows(s->n - h + 1, s->n < THREADS_FROM ? 1 : 0, solve_top, &(Heights){s, t, &plan, h});
    }
}

void slicing_solve(Slicing *s, int32_t lambda) {
    s->lambda = lambda;
    if (s->fine.most > 0) solve_table(s, &s->fine);
    solve_table(s, &s->coarse);
}
