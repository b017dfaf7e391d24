/* Wedge pairs, where they could still be the best. SPDX-License-Identifier: MIT
 *
 * 1. A pair costs at least the cheapest candy of each cell and two ropes.
 * 2. Each candy costs at least what it does left (right) of a staircase of BANDS steps beside the split; what
 * lies between, the cheapest candy of each cell. Of a logo's places a fifth pass this, and half of the
 * candies; two thirds of those places do win.
 * 3. The candies that pass are worked out row by row from prefix sums; the cell that the split meets is
 * shared. A register of places at a time. Tried and no use: addresses worked out once for all candies (7 %
 * slower: too few registers). */
#include "plan/slicing_level.h"

/* The least that candy k can cost left and right of the split: what it does in the columns that lie left
 * (right) of it in all of a band of rows. */
INLINE void bound_sides(const Level *l, const Steps *steps, int w, int x, int k, Lanes *left, Lanes *right) {
    Lanes p = -AT(l->span[k] + x), q = AT(l->span[k] + x + w);
    for (int j = 0; j < BANDS; j++) {
        p += AT(l->band[j][k] + x + steps->left[j]);
        q -= AT(l->band[j][k] + x + steps->right[j]);
    }
    *left = p;
    *right = q;
}

/* Which candies could be on either side of a pair that costs less than best? What lies between the bounds
 * costs no less than the cheapest candy of each cell. Returns how many. */
INLINE int possible_candies(const Level *l, const Steps *steps, int w, int x, const Lanes *best,
                            int possible[INKS_MAX]) {
    const int candies = l->s->candies;
    Lanes left[INKS_MAX], right[INKS_MAX], least_left, least_right;
    bound_sides(l, steps, w, x, candies, &least_left, &least_right);
    Lanes room = *best - 2 * l->s->lambda + least_left + least_right -
                 (AT(l->span[candies] + x + w) - AT(l->span[candies] + x));
    bound_sides(l, steps, w, x, 0, &left[0], &right[0]);
    least_left = left[0];
    least_right = right[0];
    for (int k = 1; k < candies; k++) {
        bound_sides(l, steps, w, x, k, &left[k], &right[k]);
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

/* What candies k and m cost left of the split: two at once share where it runs. */
INLINE void cost_left(const Level *l, const Crossing *crossing, int step, int k, int m, int x,
                      Lanes left[2]) {
    const Slicing *s = l->s;
    Lanes sum = -AT(l->span[k] + x), other = -AT(l->span[m] + x);
    const int32_t *before = prefixes(s, k, l->y) + x, *cost = costs(s, k, l->y) + x;
    const ptrdiff_t before_m = prefixes(s, m, 0) - prefixes(s, k, 0),
                    cost_m = costs(s, m, 0) - costs(s, k, 0);
    for (int row = 0; row < l->h; row++, crossing += step, before += s->n + 1, cost += s->n) {
        const int32_t *p = before + crossing->whole, *c = cost + crossing->whole;
        sum += AT(p) + ((AT(c) * crossing->part) >> FRACTION_BITS);
        other += AT(p + before_m) + ((AT(c + cost_m) * crossing->part) >> FRACTION_BITS);
    }
    left[0] = sum;
    left[1] = other;
}

INLINE void try_split(const Level *l, bool rising, int w, int x, Lanes *best) {
    int possible[INKS_MAX], count = possible_candies(l, &l->plan->steps[w][rising], w, x, best, possible);
    const Crossing *crossing = l->plan->crossing[w] + (rising ? l->h - 1 : 0);
    Lanes least_left = {0}, least_right = {0};
    for (int i = 0; i < count; i += 2) {
        Lanes left[2];
        int pair[2] = {possible[i], possible[i + 1 < count ? i + 1 : i]};
        cost_left(l, crossing, rising ? -1 : 1, pair[0], pair[1], x, left);
        for (int j = 0; j < 2; j++) {
            Lanes right = AT(l->span[pair[j]] + x + w) - AT(l->span[pair[j]] + x) - left[j];
            if (i + j == 0) {
                least_left = left[0];
                least_right = right;
            }
            take_less(&least_left, &left[j]);
            take_less(&least_right, &right);
        }
    }
    if (count == 0) return;
    least_left += least_right + 2 * l->s->lambda;
    take_less(best, &least_left);
}

WIDE void slicing_try_wedges(const Level *l, int w, int32_t *row) {
    const int count = l->s->n - w + 1;
    if (w > WEDGE_ASPECT * l->h || l->h > WEDGE_ASPECT * w) return;
    for (int x = 0; x < count; x += LANES) {
        const int32_t *cheapest = l->span[l->s->candies] + x;
        Lanes least = AT(cheapest + w) - AT(cheapest) + 2 * l->s->lambda, best = AT(row + x);
        if (!any_below(&least, &best)) continue; /* 1 */
        try_split(l, false, w, x, &best);
        try_split(l, true, w, x, &best);
        keep(row + x, &best, count - x);
    }
}

/* Where the splits of all rectangles of height h run. */
void slicing_plan(const Table *t, int h, Plan *plan) {
    for (int w = t->least; w <= t->most; w++) {
        if (w > WEDGE_ASPECT * h || h > WEDGE_ASPECT * w) continue;
        Crossing *c = plan->crossing[w];
        for (int i = 0; i < h; i++) c[i] = crossing(w, h, i);
        for (int j = 0; j < BANDS; j++) {
            int top = h * j / BANDS, bottom = h * (j + 1) / BANDS;
            Steps *falling = &plan->steps[w][0], *rising = &plan->steps[w][1];
            bool none = top == bottom;
            falling->left[j] = none ? 0 : c[top].whole;
            falling->right[j] = none ? 0 : c[bottom - 1].whole + 1;
            rising->left[j] = none ? 0 : c[h - bottom].whole;
            rising->right[j] = none ? 0 : c[h - 1 - top].whole + 1;
        }
    }
}
