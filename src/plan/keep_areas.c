/* Samples are given to candies by price, such that each candy keeps its area. SPDX-License-Identifier: MIT
 *
 * Jacobs, Merkurjev & Esedoglu, "Auction dynamics: a volume constrained MBO scheme", J. Comput. Phys. 354
 * (2018): the prices. We depart from the auction: a price step sets one price, that of the candy whose area
 * is worst, to the order statistic that makes its area exact; there are at most 60.
 *
 * The values of a candy lie side by side, so that BLOCK samples are worked on at once. Cost: O(opens *
 * candies) a price step. */
#include "plan/plan_parts.h"

#include "base/vectors.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { PRICE_STEPS = 60, BINS = 2048 };

static const double area_error = 0.001; /* farther off asks for one price step more; promised is 0.005 */
static const float price_limit = 0.5F;  /* two prices never differ by more than 1, the range of values */

/* The candies of BLOCK samples from the i-th on. */
WIDE static void choose_block(const AreaPrices *s, int i, int32_t best[BLOCK]) {
    float most[BLOCK];
    for (int j = 0; j < BLOCK; j++) {
        most[j] = s->value[i + j] + s->price[0];
        best[j] = 0;
    }
    for (int k = 1; k < s->candies; k++) {
        const float *value = s->value + (size_t)k * s->room + i, price = s->price[k];
        for (int j = 0; j < BLOCK; j++) {
            float worth = value[j] + price;
            best[j] = worth > most[j] ? k : best[j];
            most[j] = worth > most[j] ? worth : most[j];
        }
    }
}

static int rest_of(const AreaPrices *s, int i) {
    return s->opens - i < BLOCK ? s->opens - i : BLOCK;
}

static void count_areas(const AreaPrices *s, int *area) {
    int32_t best[BLOCK];
    memcpy(area, s->closed, sizeof s->closed);
    for (int i = 0; i < s->opens; i += BLOCK) {
        choose_block(s, i, best);
        for (int j = 0; j < rest_of(s, i); j++) area[best[j]]++;
    }
}

/* The candy whose area is farthest off, as a share of its target; -1 if all are near enough. */
static int worst_candy(const AreaPrices *s, const int *area, double *error) {
    int worst = -1;
    *error = 0;
    for (int k = 0; k < s->candies; k++) {
        if (s->target[k] == 0) continue;
        double off = fabs((double)area[k] - s->target[k]) / s->target[k];
        if (off <= *error) continue;
        *error = off;
        worst = k;
    }
    return *error > area_error ? worst : -1;
}

static int compare_floats(const void *a, const void *b) {
    float p = *(const float *)a, q = *(const float *)b;
    return (p > q) - (p < q);
}

static int bin_of(float margin) {
    int bin = (int)((margin + 2) * (BINS / 4.0F));
    return bin < 0 ? 0 : bin >= BINS ? BINS - 1 : bin;
}

WIDE static void find_margin_block(const AreaPrices *s, int k, int i, int32_t bin[BLOCK]) {
    float other[BLOCK];
    for (int j = 0; j < BLOCK; j++) other[j] = -2;
    for (int m = 0; m < s->candies; m++) {
        const float *value = s->value + (size_t)m * s->room + i, price = s->price[m];
        for (int j = 0; j < BLOCK && m != k; j++)
            other[j] = value[j] + price > other[j] ? value[j] + price : other[j];
    }
    const float *value = s->value + (size_t)k * s->room + i;
    for (int j = 0; j < BLOCK; j++) {
        s->margin[i + j] = other[j] - value[j];
        bin[j] = bin_of(s->margin[i + j]);
    }
}

/* margin[i]: the price at which open sample i would become candy k's, all other prices as they are. */
static void find_margins(const AreaPrices *s, int k, int *bins) {
    int32_t bin[BLOCK];
    memset(bins, 0, BINS * sizeof *bins);
    for (int i = 0; i < s->opens; i += BLOCK) {
        find_margin_block(s, k, i, bin);
        for (int j = 0; j < rest_of(s, i); j++) bins[bin[j]]++;
    }
}

/* The price between two neighbouring margins that gives candy k `want` of the open samples, or as near as
 * equal margins allow: margins are binned, and only the bin that holds the place is sorted, into the front of
 * margin[]. */
static float price_for(const AreaPrices *s, int want, const int *bins) {
    int bin = 0, before = 0, count = 0;
    while (bin < BINS - 1 && before + bins[bin] < want) before += bins[bin++];
    float below = -2, above = 2;
    for (int i = 0; i < s->opens; i++) {
        float m = s->margin[i];
        int b = bin_of(m);
        if (b < bin && m > below) below = m;
        if (b > bin && m < above) above = m;
        if (b == bin) s->margin[count++] = m;
    }
    qsort(s->margin, (size_t)count, sizeof *s->margin, compare_floats);
    int place = want - before, low = place, high = place;
    if (place > 0 && place < count && s->margin[place - 1] == s->margin[place]) {
        while (low > 0 && s->margin[low - 1] == s->margin[place]) low--;
        while (high < count && s->margin[high] == s->margin[place]) high++;
        place = place - low <= high - place ? low : high;
    }
    if (place > count) place = count;
    if (place > 0) below = s->margin[place - 1];
    if (place < count) above = s->margin[place];
    return (below + above) / 2;
}

void keep_areas(AreaPrices *s, uint8_t *given) {
    int bins[BINS], area[INKS_MAX];
    float best[INKS_MAX];
    double least = HUGE_VAL, error;
    /* Steps without gain: samples that change hands together, such as mirror images, keep areas from being
     * exact. */
    int since = 0;
    for (int step = 0; step <= PRICE_STEPS && since <= 2 * s->candies; step++, since++) {
        count_areas(s, area);
        int k = worst_candy(s, area, &error);
        if (error < least) {
            least = error;
            since = 0;
            memcpy(best, s->price, sizeof best);
        }
        if (k < 0) break;
        find_margins(s, k, bins);
        int want = s->target[k] - s->closed[k];
        float price = price_for(s, want < 0 ? 0 : want > s->opens ? s->opens : want, bins);
        s->price[k] = fminf(fmaxf(price, -price_limit), price_limit);
    }
    memcpy(s->price, best, sizeof best);
    for (int i = 0; i < s->opens; i += BLOCK) {
        int32_t candy[BLOCK];
        choose_block(s, i, candy);
        for (int j = 0; j < rest_of(s, i); j++) given[i + j] = (uint8_t)candy[j];
    }
}
