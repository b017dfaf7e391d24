/* The largest difference between logo and face. SPDX-License-Identifier: MIT
 *
 * 1. Wrong is a sample whose candies in logo and face are over 20 apart.
 * 2. The sample farthest from all that is not wrong is the middle of the largest disc; of several the first
 * in reading order.
 * 3. How thick the area of the wanted candy is there: the largest disc in it that covers that sample.
 * Cost: O(samples), one distance transform; three in a window for step 3. */
#include "parts/parts.h"

#include "base/distance.h"
#include "base/mem.h"
#include "base/thickness.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* docs/numbers.md tells of these. */
static const double wrong_apart = 20; /* CIEDE2000 */
static const double seen_mm = 0.10;   /* one arc minute at 350 mm (20/20) */
static const double thick_reach = 2;  /* least strips; chosen: thicker troubles nobody */

/* Which candy is wrong in the other's place. */
typedef struct Apart {
    bool far[INKS_MAX][INKS_MAX];
} Apart;

static Apart find_apart(const Palette *palette) {
    Apart apart = {{{false}}};
    for (int i = 0; i < palette->count; i++)
        for (int j = 0; j < palette->count; j++) {
            Lab a = rgb8_lab(palette->candy[i].srgb), b = rgb8_lab(palette->candy[j].srgb);
            apart.far[i][j] = delta_e00(a, b) > wrong_apart;
        }
    return apart;
}

/* 1. right[side + 2][side + 2]: 1 where it is not wrong; what lies round the raster is not. */
static void mark_right(const Face *wanted, const Face *face, const Apart *apart, uint8_t *right) {
    int side = wanted->side, wide = side + 2;
    memset(right, 1, (size_t)wide * wide);
    for (int y = 0; y < side; y++)
        for (int x = 0; x < side; x++) {
            uint8_t w = wanted->candy[(size_t)y * side + x], f = face->candy[(size_t)y * side + x];
            if (w != f && w != OUTSIDE && f != OUTSIDE && apart->far[w][f])
                right[(size_t)(y + 1) * wide + x + 1] = 0;
        }
}

/* Steps 1 and 2: the worst sample, and its squared distance from what is not wrong; 0: nothing is. */
static bool find_worst(const Face *wanted, const Face *face, const Apart *apart, int *worst, int32_t *reach2,
                       Err *err) {
    int side = wanted->side, wide = side + 2;
    uint8_t *right = mem_alloc((size_t)wide * wide, 1, err);
    int32_t *squared = right ? mem_alloc((size_t)wide * wide, sizeof *squared, err) : NULL;
    if (squared) mark_right(wanted, face, apart, right);
    bool done = squared && distance_transform(right, wide, wide, squared, NULL, err);
    *worst = 0;
    *reach2 = 0;
    for (int y = 0; done && y < side; y++)
        for (int x = 0; x < side; x++) {
            int32_t d = squared[(size_t)(y + 1) * wide + x + 1];
            if (d <= *reach2) continue;
            *reach2 = d;
            *worst = y * side + x;
        }
    free(right);
    free(squared);
    return done;
}

/* 3, up to `most` samples. */
static bool measure_thickness(const Face *wanted, int sample, double most, double *out, Err *err) {
    int room = (int)ceil(most) + 2, across = 2 * room + 1, side = wanted->side;
    int left = sample % side - room, top = sample / side - room;
    uint8_t candy = wanted->candy[sample];
    uint8_t *site = mem_alloc((size_t)across * across, 1, err);
    float *thick = site ? mem_alloc((size_t)across * across, sizeof *thick, err) : NULL;
    for (int v = top; thick && v < top + across; v++)
        for (int u = left; u < left + across; u++) {
            bool beyond = u < 0 || v < 0 || u >= side || v >= side;
            site[(size_t)(v - top) * across + u - left] =
                beyond || wanted->candy[(size_t)v * side + u] != candy;
        }
    bool done = thick && local_thickness(site, across, across, most, thick, err);
    if (done) *out = (double)thick[(size_t)room * across + room];
    free(site);
    free(thick);
    return done;
}

bool difference_find(const Grid *grid, const Palette *palette, const Face *face, double sample_mm,
                     Difference *out, Err *err) {
    assert(grid->wanted.side == face->side && sample_mm > 0);
    const Face *wanted = &grid->wanted;
    Apart apart = find_apart(palette);
    int worst;
    int32_t reach2;
    double thick = 0, most = thick_reach * grid->least_steps * SAMPLES, half = wanted->side / 2.0;
    if (!find_worst(wanted, face, &apart, &worst, &reach2, err)) return false;
    if (reach2 > 0 && !measure_thickness(wanted, worst, most, &thick, err)) return false;
    Difference d = {0};
    if (reach2 > 0) {
        d.across_mm = (2 * sqrt(reach2) - 0.5) * sample_mm; /* as base/thickness.c has it */
        d.times_seen = d.across_mm / seen_mm;
        d.thick_mm = thick * sample_mm;
        d.of_thickness = d.across_mm / d.thick_mm;
        int x = worst % wanted->side, y = worst / wanted->side;
        d.middle_mm.x = (x + 0.5 - half) * sample_mm;
        d.middle_mm.y = (y + 0.5 - half) * sample_mm;
        d.wanted = wanted->candy[worst];
        d.got = face->candy[worst];
    }
    *out = d;
    return true;
}
