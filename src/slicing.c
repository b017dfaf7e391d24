/* The table of best slicings. SPDX-License-Identifier: MIT
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
 * is packed as triangles in a triangle, [(h, y)][(w, x)]: all rectangles of one height and top lie side by
 * side, so
 * 1. strips         are differences of one summed row,
 * 2. level cuts     are one min-plus over two whole triangles, a run of some 2000 numbers,
 * 3. upright cuts   are min-plus over all x at once, inside one triangle (9 kB, it stays in the nearest
 * cache),
 * 4. wedge pairs    go row by row from prefix sums, for all x at once, and only where the lower bound (each
 * cell's cheapest candy, plus two ropes) does not already lose. Cost: n^5 / 6 additions for the cuts. Memory:
 * (n^2 / 2)^2 numbers of 4 bytes: 20 MB for n = 69, 45 MB for n = 84. The recurrence is the
 * guillotine-cutting one (Gilmore & Gomory, "Multistage cutting stock problems of two and more dimensions",
 * Operations Research 13 (1965) 94-120; from memory), with costs of areas in place of values of pieces. */
#include "slicing.h"

#include "mem.h"
#include "wide.h"

#include <stdlib.h>
#include <string.h>

enum {
    FRACTION = 1 << 14,
    WEDGE_ASPECT = 4,
    LANES = 16 /* places that one pass over the rows serves: two wide registers of sums */
};

#define INLINE static inline __attribute__((always_inline))

static const int32_t *sums(const Slicing *s, int candy, int y) {
    return s->sum + ((size_t)candy * (s->n + 1) + y) * (s->n + 1);
}

static const int32_t *prefixes(const Slicing *s, int candy, int y) {
    return s->prefix + ((size_t)candy * s->n + y) * (s->n + 1);
}

static const int32_t *costs(const Slicing *s, int candy, int y) {
    return s->cost + ((size_t)candy * s->n + y) * s->n;
}

static int32_t area_sum(const Slicing *s, int candy, Box b) {
    const int32_t *top = sums(s, candy, b.y), *bottom = sums(s, candy, b.y + b.h);
    return bottom[b.x + b.w] - bottom[b.x] - top[b.x + b.w] + top[b.x];
}

static int32_t *triangle_at(const Table *t, int h, int y) {
    return t->best + (size_t)(t->side[h] + y) * t->triangle;
}

/* Sums up layer `layer` of the areas: of candy a, or of the cheaper of a and b in each cell. */
static void sum_layer(Slicing *s, int layer, int a, int b) {
    int n = s->n;
    for (int y = 0; y < n; y++) {
        int32_t along = 0, *above = s->sum + ((size_t)layer * (n + 1) + y) * (n + 1), *here = above + n + 1;
        for (int x = 0; x < n; x++) {
            int32_t p = costs(s, a, y)[x], q = costs(s, b, y)[x];
            along += p < q ? p : q;
            here[x + 1] = above[x + 1] + along;
            if (layer < s->candies) s->prefix[((size_t)a * n + y) * (n + 1) + x + 1] = along;
        }
    }
}

static void fill_sums(Slicing *s) {
    int layer = s->candies;
    for (int k = 0; k < s->candies; k++) sum_layer(s, k, k, k);
    for (int b = 1; b < s->candies; b++)
        for (int a = 0; a < b; a++) sum_layer(s, layer++, a, b);
}

static bool new_table(int n, int least, int most, Table *t, Err *err) {
    t->least = least;
    t->most = most;
    for (int w = least; w <= most; w++) {
        t->side[w] = t->triangle;
        t->triangle += n - w + 1;
    }
    t->best = mem_alloc((size_t)t->triangle * t->triangle, sizeof *t->best, err);
    return t->best != NULL;
}

bool slicing_new(const Grid *grid, Slicing *out, Err *err) {
    Slicing s = {.n = grid->steps, .candies = grid->candies, .core = grid->core};
    int least = grid->least_steps < s.n ? grid->least_steps : s.n, half = (least + 1) / 2;
    int most = grid->fine_most < s.n ? grid->fine_most : s.n;
    size_t row = (size_t)s.n + 1, k = (size_t)s.candies;
    s.pairs = s.candies * (s.candies - 1) / 2;
    bool done = (s.cost = mem_alloc(k * s.n * s.n + LANES, sizeof *s.cost, err)) &&
                (s.prefix = mem_alloc(k * s.n * row + LANES, sizeof *s.prefix, err)) &&
                (s.sum = mem_alloc((k + s.pairs) * row * row + LANES, sizeof *s.sum, err)) &&
                new_table(s.n, least, s.n, &s.coarse, err) &&
                (half == least || most < least || new_table(s.n, half, most, &s.fine, err));
    if (!done) {
        slicing_free(&s);
        return false;
    }
    memcpy(s.cost, grid->cost, k * s.n * s.n * sizeof *s.cost);
    fill_sums(&s);
    *out = s;
    return true;
}

WIDE static void min_plus(int32_t *restrict best, const int32_t *restrict a, const int32_t *restrict b,
                          int count) {
    for (int i = 0; i < count; i++) {
        int32_t sum = a[i] + b[i];
        best[i] = sum < best[i] ? sum : best[i];
    }
}

/* 1. best[x] = the cheapest strip of width w at x, rows y .. y + h, plus lambda. */
WIDE static void strips(const Slicing *s, int h, int y, int w, int32_t *restrict best) {
    for (int k = 0; k < s->candies; k++) {
        const int32_t *restrict top = sums(s, k, y), *restrict bottom = sums(s, k, y + h);
        for (int x = 0; x <= s->n - w; x++) {
            int32_t cost = bottom[x + w] - bottom[x] - top[x + w] + top[x] + s->lambda;
            best[x] = k == 0 || cost < best[x] ? cost : best[x];
        }
    }
}

/* Where the split of a w x h rectangle crosses row i (from the end where it starts at the left), at
 * mid-height: w (2 i + 1) / (2 h) = whole + part / FRACTION. */
typedef struct Crossing {
    int whole;
    int32_t part;
} Crossing;

static Crossing crossing(int w, int h, int i) {
    int twice = w * (2 * i + 1);
    return (Crossing){twice / (2 * h), (int32_t)((int64_t)(twice % (2 * h)) * FRACTION / (2 * h))};
}

/* left[i] = cost of candy k left of the split, for the LANES places from b.x on; the cell that the split
 * meets is shared by the part. */
INLINE void left_of_split(const Slicing *s, int k, Box b, bool rising, int32_t left[LANES]) {
    const int32_t *top = sums(s, k, b.y) + b.x, *bottom = sums(s, k, b.y + b.h) + b.x;
    int32_t sum[LANES];
    for (int i = 0; i < LANES; i++) sum[i] = top[i] - bottom[i];
    for (int row = 0; row < b.h; row++) {
        Crossing c = crossing(b.w, b.h, rising ? b.h - 1 - row : row);
        const int32_t *before = prefixes(s, k, b.y + row) + b.x + c.whole;
        const int32_t *cell = costs(s, k, b.y + row) + b.x + c.whole;
        for (int i = 0; i < LANES; i++) sum[i] += before[i] + ((cell[i] * c.part) >> 14);
    }
    for (int i = 0; i < LANES; i++) left[i] = sum[i];
}

/* 4. The cheapest wedge pair at each of `count` places from b.x on, with 2 lambda, into best. LANES places at
 * a time, the sums in registers; what is read beyond the last place is not used. */
WIDE static void wedge_pairs(const Slicing *s, Box b, int count, int32_t *best) {
    int32_t left[LANES], least_left[LANES], least_right[LANES];
    for (int rising = 0; rising < 2; rising++) {
        for (int k = 0; k < s->candies; k++) {
            const int32_t *top = sums(s, k, b.y) + b.x, *bottom = sums(s, k, b.y + b.h) + b.x;
            left_of_split(s, k, b, rising, left);
            for (int i = 0; i < LANES; i++) {
                int32_t right = bottom[b.w + i] - bottom[i] - top[b.w + i] + top[i] - left[i];
                least_left[i] = k == 0 || left[i] < least_left[i] ? left[i] : least_left[i];
                least_right[i] = k == 0 || right < least_right[i] ? right : least_right[i];
            }
        }
        for (int i = 0; i < count; i++) {
            int32_t cost = least_left[i] + least_right[i] + 2 * s->lambda;
            if (cost < best[i]) best[i] = cost;
        }
    }
}

/* bound[x] = the least that a wedge pair at x can cost, lambda included: in each cell the cheaper of its two
 * candies. */
WIDE static void bound_wedges(const Slicing *s, int h, int y, int w, int32_t *restrict bound) {
    for (int p = 0; p < s->pairs; p++) {
        const int32_t *restrict top = sums(s, s->candies + p, y), *restrict bottom =
                                                                      sums(s, s->candies + p, y + h);
        for (int x = 0; x <= s->n - w; x++) {
            int32_t cost = bottom[x + w] - bottom[x] - top[x + w] + top[x] + 2 * s->lambda;
            bound[x] = p == 0 || cost < bound[x] ? cost : bound[x];
        }
    }
}

/* Tries wedge pairs where one could still win. */
static void try_wedges(const Slicing *s, int h, int y, int w, int32_t *best) {
    int32_t bound[STEPS_MAX];
    int places = s->n - w + 1;
    if (s->pairs == 0 || w > WEDGE_ASPECT * h || h > WEDGE_ASPECT * w) return;
    bound_wedges(s, h, y, w, bound);
    for (int x = 0; x < places; x++) {
        if (bound[x] >= best[x]) continue;
        int count = places - x < LANES ? places - x : LANES;
        wedge_pairs(s, (Box){x, y, w, h}, count, best + x);
        x += count - 1;
    }
}

/* Columns [0, left) and [right, n) of rows y .. y + h lie outside the core. */
static void outside_columns(const Slicing *s, int h, int y, int *left, int *right) {
    *left = 0;
    while (*left < s->n && box_outside_disc((Box){0, y, *left + 1, h}, s->core)) ++*left;
    *right = s->n;
    while (*right > 0 && box_outside_disc((Box){*right - 1, y, s->n - *right + 1, h}, s->core)) --*right;
}

/* 5. A fine block in place of what is best so far. */
static void try_fine(const Slicing *s, int h, int y, int w, int32_t *best) {
    if (h > s->fine.most || w > s->fine.most) return;
    const int32_t *fine = triangle_at(&s->fine, h, y) + s->fine.side[w];
    for (int x = 0; x <= s->n - w; x++) {
        int32_t cost = fine[x] + FINE_ROPES * s->lambda;
        if (cost < best[x]) best[x] = cost;
    }
}

static void solve_rows(const Slicing *s, const Table *t, int h, int y) {
    int32_t *here = triangle_at(t, h, y);
    int outside_left, outside_right;
    outside_columns(s, h, y, &outside_left, &outside_right);
    for (int w = t->least; w <= t->most; w++) strips(s, h, y, w, here + t->side[w]);
    for (int above = t->least; above <= h - t->least; above++) /* 2 */
        min_plus(here, triangle_at(t, above, y), triangle_at(t, h - above, y + above), t->triangle);
    for (int w = t->least; w <= t->most; w++) {
        int32_t *best = here + t->side[w];
        int count = s->n - w + 1;
        for (int first = t->least; first <= w - t->least; first++) /* 3 */
            min_plus(best, here + t->side[first], here + t->side[w - first] + first, count);
        try_wedges(s, h, y, w, best);
        if (t == &s->coarse) try_fine(s, h, y, w, best);
        for (int x = 0; x < count; x++)
            if (x + w <= outside_left || x >= outside_right) best[x] = 0;
    }
}

static void solve_table(const Slicing *s, const Table *t) {
    for (int h = t->least; h <= t->most; h++)
        for (int y = 0; y <= s->n - h; y++) solve_rows(s, t, h, y);
}

void slicing_solve(Slicing *s, int32_t lambda) {
    s->lambda = lambda;
    if (s->fine.most > 0) solve_table(s, &s->fine);
    solve_table(s, &s->coarse);
}

int32_t slicing_best(const Table *t, Box box) {
    return triangle_at(t, box.h, box.y)[t->side[box.w] + box.x];
}

bool slicing_can_be_fine(const Slicing *s, Box box) {
    return box.w <= s->fine.most && box.h <= s->fine.most;
}

int32_t slicing_strip(const Slicing *s, Box box, int *candy) {
    int32_t best = INT32_MAX;
    for (int k = 0; k < s->candies; k++) {
        int32_t cost = area_sum(s, k, box);
        if (cost >= best) continue;
        best = cost;
        *candy = k;
    }
    return best;
}

WedgePair slicing_wedges(const Slicing *s, Box box) {
    WedgePair best = {.cost = INT32_MAX};
    if (box.w > WEDGE_ASPECT * box.h || box.h > WEDGE_ASPECT * box.w) return best;
    int32_t left[LANES];
    for (int rising = 0; rising < 2; rising++) {
        WedgePair pair = {.rising = rising};
        int32_t least_left = INT32_MAX, least_right = INT32_MAX;
        for (int k = 0; k < s->candies; k++) {
            left_of_split(s, k, box, rising, left);
            int32_t right = area_sum(s, k, box) - left[0];
            if (left[0] < least_left) {
                least_left = left[0];
                pair.left = k;
            }
            if (right < least_right) {
                least_right = right;
                pair.right = k;
            }
        }
        pair.cost = least_left + least_right;
        if (pair.cost < best.cost) best = pair;
    }
    return best;
}

void slicing_free(Slicing *s) {
    free(s->cost);
    free(s->prefix);
    free(s->sum);
    free(s->coarse.best);
    free(s->fine.best);
    *s = (Slicing){0};
}
