/* The tables of slicing.h: their sums, and what is read out of them. SPDX-License-Identifier: MIT */
#include "plan/slicing.h"

#include "base/mem.h"
#include "plan/slicing_tier.h"

#include <stdlib.h>

static int32_t area_sum(const Slicing *s, int candy, Box b) {
    const int32_t *top = sum_row(s, candy, b.y), *bottom = sum_row(s, candy, b.y + b.h);
    return bottom[b.x + b.w] - bottom[b.x] - top[b.x + b.w] + top[b.x];
}

/* Sums up a layer of the areas: of a candy, or, the last, of the cheapest in each cell. */
static void sum_layer(Slicing *s, int layer) {
    int n = s->n, first = layer < s->candies ? layer : 0, end = layer < s->candies ? layer + 1 : s->candies;
    for (int y = 0; y < n; y++) {
        int32_t along = 0, *above = s->sum + ((size_t)layer * (n + 1) + y) * (n + 1), *here = above + n + 1;
        for (int x = 0; x < n; x++) {
            int32_t least = cost_row(s, first, y)[x];
            for (int k = first + 1; k < end; k++)
                if (cost_row(s, k, y)[x] < least) least = cost_row(s, k, y)[x];
            along += least;
            here[x + 1] = above[x + 1] + along;
            if (layer < s->candies) s->prefix[((size_t)layer * n + y) * (n + 1) + x + 1] = along;
        }
    }
}

static void fill_sums(Slicing *s) {
    for (int layer = 0; layer <= s->candies; layer++) sum_layer(s, layer);
}

static bool new_table(int n, int least, int most, SlicingTable *t, Err *err) {
    t->least = least;
    t->most = most;
    for (int w = least; w <= most; w++) {
        t->side[w] = t->triangle;
        t->triangle += n - w + 1;
    }
    t->stride = t->triangle + SPARE;
    t->best = mem_alloc_wide((size_t)t->triangle * t->stride, sizeof *t->best, err);
    return t->best != NULL;
}

bool slicing_new(const Grid *grid, Slicing *out, Err *err) {
    Slicing s = {.n = grid->steps, .candies = grid->candies, .core = grid->core};
    int least = grid->least_steps < s.n ? grid->least_steps : s.n, half = (least + 1) / 2;
    int most = grid->fine_most < s.n ? grid->fine_most : s.n;
    size_t row = (size_t)s.n + 1, k = (size_t)s.candies;
    bool done = (s.cost = mem_alloc(k * s.n * s.n + SPARE, sizeof *s.cost, err)) &&
                (s.prefix = mem_alloc(k * s.n * row + SPARE, sizeof *s.prefix, err)) &&
                (s.sum = mem_alloc((k + 1) * row * row + SUMS_ROOM, sizeof *s.sum, err)) &&
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

int32_t slicing_best(const SlicingTable *t, Box box) {
    return tier_at(t, box.h, box.y)[t->side[box.w] + box.x];
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

/* What candy k costs left of the split. */
static int32_t left_of_split(const Slicing *s, int k, Box b, bool rising) {
    int32_t sum = 0;
    for (int row = 0; row < b.h; row++) {
        SplitCell c = split_cell(b.w, b.h, rising ? b.h - 1 - row : row);
        const int32_t *along = prefix_row(s, k, b.y + row) + b.x;
        sum += along[c.whole] - along[0] +
               ((cost_row(s, k, b.y + row)[b.x + c.whole] * c.part) >> FRACTION_BITS);
    }
    return sum;
}

WedgePair slicing_wedges(const Slicing *s, Box box) {
    WedgePair best = {.cost = INT32_MAX};
    if (box.w > WEDGE_ASPECT * box.h || box.h > WEDGE_ASPECT * box.w) return best;
    for (int rising = 0; rising < 2; rising++) {
        WedgePair pair = {.rising = rising};
        int32_t least_left = INT32_MAX, least_right = INT32_MAX;
        for (int k = 0; k < s->candies; k++) {
            int32_t left = left_of_split(s, k, box, rising), right = area_sum(s, k, box) - left;
            if (left < least_left) {
                least_left = left;
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
