/* What rolling does to the lay-up. SPDX-License-Identifier: MIT
 *
 * 1. Paint: the ropes and sheets inside the core and the rings round it become a raster of candies, by sample
 * centres.
 * 2. Six times:
 *    a. blur each candy's indicator by a Gaussian, sigma = rounding * least strip / sqrt(6) (six blurs in a
 *       row make one of `rounding` least strips), and divide by the blur of the core: the rim does not pull;
 *    b. give each sample to the candy with the largest blurred value + price, the prices such that every
 *       candy keeps the area it was painted with.
 *
 * Merriman, Bence & Osher, "Motion of multiple junctions: a level set approach", J. Comput. Phys. 112 (1994):
 * threshold dynamics. The prices: keep_areas.c.
 *
 * Weights are whole multiples of 2^-12, so a blurred value is one of 2^-24 and every sum of them exact in a
 * float: the order of summation does not matter, and a turned or mirrored lay-up gives exactly the turned or
 * mirrored face. The price of that: samples that are each other's mirror image change hands together, so the
 * area of a small symmetric candy is only as exact as half such a group.
 *
 * Cost: O(samples * candies * radius); a blur along a row is the running sum of its runs' ends. */
#include "plan/plan_parts.h"

#include "base/mem.h"
#include "base/vectors.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ROUNDS = 6, WEIGHT_ONE = 1 << 12 };

typedef struct Section {
    int side, stride; /* samples; stride: a multiple of BLOCK, >= side */
    int candies;
    int radius;        /* of the blur, samples */
    int *weight;       /* [radius + 1], in 1 / WEIGHT_ONE, w(0) + 2 w(1) + ... = 1; owned */
    uint8_t *candy;    /* [side][side]; owned */
    float *plane;      /* [candies][side + 2 radius][stride]: blurred along rows; owned */
    int32_t *step;     /* [candies][stride + 2 radius + 1] scratch; owned */
    int tiles;         /* along a side: BLOCK samples each, the last perhaps less */
    uint16_t *holds;   /* [tiles][tiles] the candies of a tile, as a set; owned */
    int32_t *open;     /* the indexes of the samples whose neighbourhood holds several candies; owned */
    uint8_t *given;    /* scratch: what candy each of them gets; owned */
    AreaPrices prices; /* of those; owned */
} Section;

static void section_free(Section *s) {
    free(s->weight);
    free(s->candy);
    free(s->plane);
    free(s->step);
    free(s->holds);
    free(s->open);
    free(s->given);
    free(s->prices.value);
    free(s->prices.margin);
    *s = (Section){0};
}

/* The Gaussian in whole weights that sum to WEIGHT_ONE; what rounding leaves over goes to the middle. */
static void fill_weights(int *weight, int radius, double sigma) {
    double sum = 1;
    for (int i = 1; i <= radius; i++) sum += 2 * exp(-i * i / (2 * sigma * sigma));
    weight[0] = WEIGHT_ONE;
    for (int i = 1; i <= radius; i++) {
        weight[i] = (int)lround(WEIGHT_ONE * exp(-i * i / (2 * sigma * sigma)) / sum);
        weight[0] -= 2 * weight[i];
    }
}

static bool section_new(const Grid *grid, double sigma, Section *out, Err *err) {
    Section s = {.side = grid->steps * SAMPLES, .candies = grid->candies};
    s.stride = (s.side + BLOCK - 1) / BLOCK * BLOCK;
    s.radius = (int)fmin(ceil(3 * sigma), s.side);
    size_t samples = (size_t)s.side * (size_t)s.side, candies = (size_t)s.candies;
    size_t border = 2 * (size_t)s.radius, plane = ((size_t)s.side + border) * (size_t)s.stride;
    s.weight = mem_alloc((size_t)s.radius + 1, sizeof *s.weight, err);
    s.candy = mem_alloc(samples, 1, err);
    s.plane = mem_alloc(candies * plane, sizeof *s.plane, err);
    s.step = mem_alloc(candies * ((size_t)s.stride + border + 1), sizeof *s.step, err);
    s.tiles = s.stride / BLOCK;
    s.holds = mem_alloc((size_t)s.tiles * (size_t)s.tiles, sizeof *s.holds, err);
    s.open = mem_alloc_wide(samples, sizeof *s.open, err);
    s.given = mem_alloc_wide(samples, 1, err);
    s.prices.candies = s.candies;
    s.prices.room = (size_t)s.side * (size_t)s.stride + BLOCK;
    s.prices.value = mem_alloc_wide(candies * s.prices.room, sizeof *s.prices.value, err);
    s.prices.margin = mem_alloc_wide(s.prices.room, sizeof *s.prices.margin, err);
    if (!s.weight || !s.candy || !s.plane || !s.step || !s.holds || !s.open || !s.given || !s.prices.value ||
        !s.prices.margin) {
        section_free(&s);
        return false;
    }
    fill_weights(s.weight, s.radius, sigma);
    *out = s;
    return true;
}

/* --- 1. paint --- */

static void paint(const Grid *grid, const LayUp *layup, uint8_t *candy) {
    int side = grid->steps * SAMPLES;
    layup_paint(layup, SAMPLES, side, candy);
    for (int y = 0; y < side; y++)
        for (int x = 0; x < side; x++) {
            uint8_t *at = candy + (size_t)y * side + x;
            if (disc_holds(grid->core, SAMPLES, x, y)) {
                assert(*at != OUTSIDE);
                continue;
            }
            *at = OUTSIDE;
            for (int k = 0; k < grid->rings; k++) {
                Circle outer = {grid->core.x, grid->core.y, grid->ring[k].outer}, inner = outer;
                inner.r = grid->ring[k].inner;
                if (disc_holds(outer, SAMPLES, x, y) && !disc_holds(inner, SAMPLES, x, y))
                    *at = (uint8_t)grid->ring[k].candy;
            }
        }
}

/* --- 2a. blur --- */

/* The candies of samples side by side, as a set. */
static uint16_t candies_of(const uint8_t *candy, int count) {
    unsigned set = 0;
    for (int j = 0; j < count; j++)
        if (candy[j] != OUTSIDE) set |= 1u << candy[j];
    return (uint16_t)set;
}

static void fill_tiles(const Section *s) {
    memset(s->holds, 0, (size_t)s->tiles * (size_t)s->tiles * sizeof *s->holds);
    for (int y = 0; y < s->side; y++)
        for (int x = 0; x < s->side; x += BLOCK)
            s->holds[y / BLOCK * s->tiles + x / BLOCK] |=
                candies_of(s->candy + (size_t)y * s->side + x, x + BLOCK < s->side ? BLOCK : s->side - x);
}

/* Which candies lie within reach of the tile: where it is one only, nothing changes; the others have no
 * share.
 */
static unsigned candies_near(const Section *s, int x, int y) {
    const int reach = (s->radius + BLOCK - 1) / BLOCK;
    unsigned near = 0;
    for (int v = y > reach ? y - reach : 0; v <= y + reach && v < s->tiles; v++)
        for (int u = x > reach ? x - reach : 0; u <= x + reach && u < s->tiles; u++)
            near |= s->holds[v * s->tiles + u];
    return near;
}

/* Puts into step[] that a candy's blur rises by the weights where a run starts, and falls where it ends. */
static void add_edge(const Section *s, int candy, int x, int sign) {
    int32_t *middle = s->step + (size_t)candy * (s->stride + 2 * s->radius + 1) + s->radius + x;
    for (int i = -s->radius; i <= s->radius; i++) middle[i] += sign * s->weight[abs(i)];
}

/* Sums up the steps of a candy in a row, and clears them. */
static void sum_steps(const Section *s, int candy, float *out) {
    int32_t *step = s->step + (size_t)candy * (s->stride + 2 * s->radius + 1), sum = 0;
    for (int x = 0; x < s->radius; x++) sum += step[x];
    for (int x = 0; x < s->side; x++) {
        sum += step[x + s->radius];
        out[x] = (float)sum / WEIGHT_ONE;
    }
    memset(step, 0, (size_t)(s->stride + 2 * s->radius + 1) * sizeof *step);
}

static void blur_rows(const Section *s) {
    for (int y = 0; y < s->side; y++) {
        const uint8_t *is = s->candy + (size_t)y * s->side;
        uint8_t last = OUTSIDE;
        unsigned any = 0;
        for (int x = 0; x <= s->side; x++) {
            uint8_t here = x < s->side ? is[x] : OUTSIDE;
            if (here == last) continue;
            if (last != OUTSIDE) add_edge(s, last, x, -1);
            if (here != OUTSIDE) add_edge(s, here, x, 1);
            if (here != OUTSIDE) any |= 1u << here;
            last = here;
        }
        for (int k = 0; k < s->candies; k++) {
            float *out = s->plane + ((size_t)k * (s->side + 2 * s->radius) + y + s->radius) * s->stride;
            if (any >> k & 1)
                sum_steps(s, k, out);
            else
                memset(out, 0, (size_t)s->stride * sizeof *out);
        }
    }
}

/* BLOCK neighbours at once; added to `core` as well. */
WIDE static void blur_block(const Section *s, const float *middle, float *out, float *core) {
    float sum[BLOCK], weight = (float)s->weight[0] / WEIGHT_ONE;
    for (int j = 0; j < BLOCK; j++) sum[j] = weight * middle[j];
    for (int i = 1; i <= s->radius; i++) {
        const float *up = middle - (ptrdiff_t)i * s->stride, *down = middle + (ptrdiff_t)i * s->stride;
        weight = (float)s->weight[i] / WEIGHT_ONE;
        for (int j = 0; j < BLOCK; j++) sum[j] += weight * (up[j] + down[j]);
    }
    memcpy(out, sum, sizeof sum);
    for (int j = 0; j < BLOCK; j++) core[j] += sum[j];
}

static void close_samples(Section *s, const uint8_t *candy, int count) {
    for (int j = 0; j < count; j++)
        if (candy[j] != OUTSIDE) s->prices.closed[candy[j]]++;
}

/* Sorts the samples of one row of a tile into the open and the closed ones. Candies that are not near have no
 * share. */
static void blur_tile_row(Section *s, int y, int x, unsigned near) {
    const int count = x + BLOCK < s->side ? BLOCK : s->side - x, first = y * s->side + x;
    const uint8_t *candy = s->candy + first;
    AreaPrices *prices = &s->prices;
    float row[INKS_MAX][BLOCK], core[BLOCK] = {0};
    if ((near & (near - 1)) == 0) {
        close_samples(s, candy, count);
        return;
    }
    for (int k = 0; k < s->candies; k++)
        if (near >> k & 1)
            blur_block(s, s->plane + ((size_t)k * (s->side + 2 * s->radius) + y + s->radius) * s->stride + x,
                       row[k], core);
    for (int j = 0; j < count; j++) {
        if (candy[j] == OUTSIDE) continue;
        if (row[candy[j]][j] == core[j]) {
            prices->closed[candy[j]]++;
            continue;
        }
        float *value = prices->value + prices->opens;
        for (int k = 0; k < s->candies; k++, value += prices->room)
            *value = near >> k & 1 ? row[k][j] / core[j] : 0;
        s->open[prices->opens++] = first + j;
    }
}

static void blur(Section *s) {
    fill_tiles(s);
    blur_rows(s);
    s->prices.opens = 0;
    memset(s->prices.closed, 0, sizeof s->prices.closed);
    for (int tile = 0; tile < s->tiles * s->tiles; tile++) {
        int x = tile % s->tiles, y = tile / s->tiles;
        unsigned near = candies_near(s, x, y);
        for (int row = y * BLOCK; row < (y + 1) * BLOCK && row < s->side; row++)
            blur_tile_row(s, row, x * BLOCK, near);
    }
    /* Samples are looked at by the block: what is beyond the last one. */
    const size_t opens = (size_t)s->prices.opens, beyond = (BLOCK - opens % BLOCK) % BLOCK;
    for (int k = 0; k < s->candies; k++)
        memset(s->prices.value + (size_t)k * s->prices.room + opens, 0, beyond * sizeof *s->prices.value);
}

/* --- the stage --- */

/* 2. Rolls what is painted. */
static void roll(Section *s, double sigma) {
    for (int i = 0; i < s->side * s->side; i++)
        if (s->candy[i] != OUTSIDE) s->prices.target[s->candy[i]]++;
    for (int round = 0; round < ROUNDS && sigma > 0; round++) {
        blur(s); /* 2a */
        keep_areas(&s->prices, s->given);
        for (int i = 0; i < s->prices.opens; i++) s->candy[s->open[i]] = s->given[i]; /* 2b */
    }
}

/* Of the ropes, or, without a lay-up, of the wanted face itself. */
static bool soften_either(const Grid *grid, const LayUp *layup, const LayKey *key, Face *out, Err *err) {
    assert(grid->candies <= INKS_MAX);
    double sigma = key->rounding * grid->least_steps * SAMPLES / sqrt(ROUNDS);
    Section s;
    if (!section_new(grid, sigma, &s, err)) return false;
    if (layup)
        paint(grid, layup, s.candy); /* 1 */
    else
        memcpy(s.candy, grid->wanted.candy, (size_t)s.side * (size_t)s.side);
    roll(&s, sigma);
    *out = (Face){s.side, s.candy};
    s.candy = NULL;
    section_free(&s);
    return true;
}

bool soften(const Grid *grid, const LayUp *layup, const LayKey *key, Face *out, Err *err) {
    return soften_either(grid, layup, key, out, err);
}

bool soften_free_hand(const Grid *grid, const LayKey *key, Face *out, Err *err) {
    return soften_either(grid, NULL, key, out, err);
}
