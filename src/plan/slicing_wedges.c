/* Wedge pairs, where they could still be the best. SPDX-License-Identifier: MIT
 *
 * 1. A pair costs at least the cheapest candy of each cell, and two ropes: elsewhere nothing is tried.
 * 2. Each candy costs at least what it does left (right) of the staircase beside the split, and what lies
 * between the two staircases at least the cheapest candy of each cell. Candies that cannot win by that are
 * left out: of a logo's places a fifth pass, with half of the candies; two thirds of those places do win.
 * 3. The candies that pass are summed up along the split, row by row, from prefix sums and the cell that is
 * shared, a register of places at a time. */
#include "plan/slicing_tier.h"

/* 2. What candy k costs left of the left staircase, and right of the right one. */
INLINE void bound_sides(const Tier *tier, const Staircase *stairs, int w, int x, int k, Lanes *left,
                        Lanes *right) {
    Lanes p = -LANES_AT(tier->all[k] + x), q = LANES_AT(tier->all[k] + x + w);
    for (int j = 0; j < BANDS; j++) {
        p += LANES_AT(tier->band[j][k] + x + stairs->left[j]);
        q -= LANES_AT(tier->band[j][k] + x + stairs->right[j]);
    }
    *left = p;
    *right = q;
}

/* Which candies could be on either side of a pair that costs less than best? Returns how many. `room` is what
 * the two sides may cost, the least of what lies between taken off. */
INLINE int possible_candies(const Tier *tier, const Staircase *stairs, int w, int x, const Lanes *best,
                            int possible[INKS_MAX]) {
    const int candies = tier->s->candies;
    Lanes left[INKS_MAX], right[INKS_MAX], least_left, least_right;
    bound_sides(tier, stairs, w, x, candies, &least_left, &least_right);
    Lanes room = *best - 2 * tier->s->lambda + least_left + least_right -
                 (LANES_AT(tier->all[candies] + x + w) - LANES_AT(tier->all[candies] + x));
    bound_sides(tier, stairs, w, x, 0, &left[0], &right[0]);
    least_left = left[0];
    least_right = right[0];
    for (int k = 1; k < candies; k++) {
        bound_sides(tier, stairs, w, x, k, &left[k], &right[k]);
        take_less(&least_left, &left[k]);
        take_less(&least_right, &right[k]);
    }
    Lanes least = least_left + least_right;
    if (!any_below(&least, &room)) return 0;
    int count = 0;
    for (int k = 0; k < candies; k++) {
        Lanes with = left[k] + least_right, other = least_left + right[k];
        take_less(&with, &other);
        if (any_below(&with, &room)) possible[count++] = k;
    }
    return count;
}

/* 3. What candies k and m cost left of the split: two at once share where it runs. `step` is 1 from the
 * falling split's first cell on, -1 from its last one back for the rising split. */
INLINE void cost_left(const Tier *tier, const SplitCell *cell, int step, int k, int m, int x, Lanes left[2]) {
    const Slicing *s = tier->s;
    Lanes sum = -LANES_AT(tier->all[k] + x), other = -LANES_AT(tier->all[m] + x);
    const int32_t *before = prefix_row(s, k, tier->y) + x, *cost = cost_row(s, k, tier->y) + x;
    const ptrdiff_t before_m = prefix_row(s, m, 0) - prefix_row(s, k, 0),
                    cost_m = cost_row(s, m, 0) - cost_row(s, k, 0);
    for (int row = 0; row < tier->h; row++, cell += step, before += s->n + 1, cost += s->n) {
        const int32_t *p = before + cell->whole, *c = cost + cell->whole;
        sum += LANES_AT(p) + ((LANES_AT(c) * cell->part) >> FRACTION_BITS);
        other += LANES_AT(p + before_m) + ((LANES_AT(c + cost_m) * cell->part) >> FRACTION_BITS);
    }
    left[0] = sum;
    left[1] = other;
}

INLINE void try_split(const Tier *tier, bool rising, int w, int x, Lanes *best) {
    int possible[INKS_MAX],
        count = possible_candies(tier, &tier->splits->stairs[w][rising], w, x, best, possible);
    const SplitCell *cell = tier->splits->cell[w] + (rising ? tier->h - 1 : 0);
    Lanes least_left = {0}, least_right = {0};
    for (int i = 0; i < count; i += 2) {
        Lanes left[2];
        int pair[2] = {possible[i], possible[i + 1 < count ? i + 1 : i]};
        cost_left(tier, cell, rising ? -1 : 1, pair[0], pair[1], x, left);
        for (int j = 0; j < 2; j++) {
            Lanes right = LANES_AT(tier->all[pair[j]] + x + w) - LANES_AT(tier->all[pair[j]] + x) - left[j];
            if (i + j == 0) {
                least_left = left[0];
                least_right = right;
            }
            take_less(&least_left, &left[j]);
            take_less(&least_right, &right);
        }
    }
    if (count == 0) return;
    least_left += least_right + 2 * tier->s->lambda;
    take_less(best, &least_left);
}

WIDE void slicing_try_wedges(const Tier *tier, int w, int32_t *row) {
    const int count = tier->s->n - w + 1;
    if (w > WEDGE_ASPECT * tier->h || tier->h > WEDGE_ASPECT * w) return;
    for (int x = 0; x < count; x += LANES) {
        const int32_t *cheapest = tier->all[tier->s->candies] + x;
        Lanes least = LANES_AT(cheapest + w) - LANES_AT(cheapest) + 2 * tier->s->lambda,
              best = LANES_AT(row + x);
        if (!any_below(&least, &best)) continue; /* 1 */
        try_split(tier, false, w, x, &best);
        try_split(tier, true, w, x, &best);
        put_lanes(row + x, &best, count - x);
    }
}

/* split_cell of each row, without dividing: from row to row the split goes w / h on. */
static void split_cells(int w, int h, SplitCell *cell) {
    const int ones = w * FRACTION, by = ones / h, rest = ones % h;
    int at = ones / (2 * h), over = ones % (2 * h); /* of w (2 i + 1) FRACTION / (2 h) */
    for (int i = 0; i < h; i++) {
        cell[i] = (SplitCell){at >> FRACTION_BITS, at & (FRACTION - 1)};
        at += by;
        over += 2 * rest;
        if (over >= 2 * h) {
            over -= 2 * h;
            at++;
        }
    }
}

void slicing_run_splits(const SlicingTable *t, int h, Splits *splits) {
    for (int w = t->least; w <= t->most; w++) {
        if (w > WEDGE_ASPECT * h || h > WEDGE_ASPECT * w) continue;
        SplitCell *c = splits->cell[w];
        split_cells(w, h, c);
        for (int j = 0; j < BANDS; j++) {
            int top = band_start(h, j), bottom = band_start(h, j + 1);
            Staircase *falling = &splits->stairs[w][0], *rising = &splits->stairs[w][1];
            bool none = top == bottom;
            falling->left[j] = none ? 0 : c[top].whole;
            falling->right[j] = none ? 0 : c[bottom - 1].whole + 1;
            rising->left[j] = none ? 0 : c[h - bottom].whole;
            rising->right[j] = none ? 0 : c[h - 1 - top].whole + 1;
        }
    }
}
