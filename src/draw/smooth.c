/* The softened face without its raster's stairs. SPDX-License-Identifier: MIT
 *
 * 1. The raster is carried on beyond the core by reflection in its edge, so that the rim needs no special
 * case.
 * 2. Each candy's indicator is blurred a little, and the candy with the largest value wins: that takes the
 * stairs out of the raster. A Gaussian alone would pull curved borders inwards by s^2 / 2r; the kernel 2 G(s)
 * - G(s sqrt 2) has no second moment, so that borders stay (Wand & Jones, "Kernel Smoothing", 1995, 2.8:
 * kernels of order four).
 * 3. Between samples the blurred values are bilinear. A square whose corners' cells have one winner
 * throughout is flat, since what wins at a cell's four corners wins inside. Cost: candies * side^2 * taps. */
#include "draw/cut_end.h"

#include "base/mem.h"
#include "base/vectors.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Samples. Stairs of 11 samples keep half their height (a Gaussian of 2 does as much, and moves a border of
 * radius 14 by 0.14 samples); the narrowest rope is 16 samples wide. */
#define SIGMA 2.5

enum { REACH = 11, TAPS = 2 * REACH + 1 };

void smooth_free(Smooth *s) {
    free(s->value);
    free(s->top);
    free(s->margin);
    *s = (Smooth){0};
}

/* --- 1. beyond the core --- */

/* The candy at an outside sample: that at the same distance on the core's other side of the edge, or the
 * first one inwards of it. */
static uint8_t reflected(const Face *face, int x, int y) {
    double middle = face->side / 2.0, dx = x + 0.5 - middle, dy = y + 0.5 - middle,
           d = sqrt(dx * dx + dy * dy);
    for (double r = within(2 * middle - d, 0, middle); r > 0; r -= 0.5) {
        int sx = (int)(middle + dx * r / d), sy = (int)(middle + dy * r / d);
        uint8_t candy = face->candy[(size_t)sy * face->side + sx];
        if (candy != OUTSIDE) return candy;
    }
    return 0;
}

static void carry_on(const Face *face, uint8_t *out) {
    for (int y = 0; y < face->side; y++)
        for (int x = 0; x < face->side; x++) {
            size_t at = (size_t)y * face->side + x;
            out[at] = face->candy[at] == OUTSIDE ? reflected(face, x, y) : face->candy[at];
        }
}

/* --- 2. the blurred indicators --- */

static void kernel(float out[TAPS]) {
    double one[TAPS], two[TAPS], sum_one = 0, sum_two = 0;
    for (int i = 0; i < TAPS; i++) {
        double t = (i - REACH) / SIGMA;
        sum_one += one[i] = exp(-t * t / 2);
        sum_two += two[i] = exp(-t * t / 4);
    }
    for (int i = 0; i < TAPS; i++) out[i] = (float)(2 * one[i] / sum_one - two[i] / sum_two);
}

static int clamped(int i, int count) {
    return i < 0 ? 0 : i >= count ? count - 1 : i;
}

WIDE static void blur_row(const uint8_t *row, int side, int candy, const float k[TAPS], float *wide,
                          float *out) {
    for (int x = -REACH; x < side + REACH; x++) wide[x + REACH] = row[clamped(x, side)] == candy ? 1 : 0;
    for (int x = 0; x < side; x++) out[x] = k[0] * wide[x];
    for (int i = 1; i < TAPS; i++)
        for (int x = 0; x < side; x++) out[x] += k[i] * wide[x + i];
}

WIDE static void blur_columns(const float *rows, int side, const float k[TAPS], float *out) {
    for (int y = 0; y < side; y++)
        for (int i = 0; i < TAPS; i++) {
            const float *from = rows + (size_t)clamped(y + i - REACH, side) * side;
            float *to = out + (size_t)y * side;
            for (int x = 0; x < side; x++) to[x] = (i > 0 ? to[x] : 0) + k[i] * from[x];
        }
}

WIDE static void find_tops(Smooth *s) {
    int plane = s->side * s->side;
    for (int i = 0; i < plane; i++) {
        float best = s->value[i], second = 0;
        uint8_t top = 0;
        for (int c = 1; c < s->candies; c++) {
            float value = s->value[(size_t)c * plane + i];
            bool more = value > best;
            second = more ? best : value > second ? value : second;
            top = more ? (uint8_t)c : top;
            best = more ? value : best;
        }
        s->top[i] = top;
        s->margin[i] = best - second;
    }
}

bool smooth_make(const Face *face, int candies, Smooth *out, Err *err) {
    int side = face->side;
    size_t plane = (size_t)side * side;
    Smooth s = {side, candies, mem_alloc(candies * plane, sizeof *s.value, err), mem_alloc(plane, 1, err),
                mem_alloc(plane, sizeof *s.margin, err)};
    uint8_t *candy = mem_alloc(plane, 1, err);
    float *rows = mem_alloc(plane, sizeof *rows, err),
          *wide = mem_alloc((size_t)side + TAPS, sizeof *wide, err);
    bool good = s.value && s.top && s.margin && candy && rows && wide;
    if (good) {
        float k[TAPS];
        kernel(k);
        carry_on(face, candy);
        for (int c = 0; c < candies; c++) {
            for (int y = 0; y < side; y++)
                blur_row(candy + (size_t)y * side, side, c, k, wide, rows + (size_t)y * side);
            blur_columns(rows, side, k, s.value + c * plane);
        }
        find_tops(&s);
        *out = s;
    } else
        smooth_free(&s);
    free(candy);
    free(rows);
    free(wide);
    return good;
}

/* --- 3. between the samples --- */

/* The square of four sample middles round a point, and where in it the point lies. */
typedef struct SampleSquare {
    size_t at;   /* of the upper left one */
    double u, v; /* 0..1: right of it, below it */
} SampleSquare;

static SampleSquare square_at(int side, double x, double y) {
    double px = within(x - 0.5, 0, side - 1.001), py = within(y - 0.5, 0, side - 1.001);
    int ix = (int)px, iy = (int)py;
    return (SampleSquare){(size_t)iy * side + ix, px - ix, py - iy};
}

static double read_square(const float *plane, int side, SampleSquare c) {
    const float *p = plane + c.at;
    return (1 - c.v) * ((1 - c.u) * (double)p[0] + c.u * (double)p[1]) +
           c.v * ((1 - c.u) * (double)p[side] + c.u * (double)p[side + 1]);
}

double smooth_read(const float *plane, int side, double x, double y) {
    return read_square(plane, side, square_at(side, x, y));
}

int smooth_candy(const Smooth *s, double x, double y) {
    SampleSquare square = square_at(s->side, x, y);
    size_t plane = (size_t)s->side * s->side;
    double best = -1e9;
    int winner = 0;
    for (int c = 0; c < s->candies; c++) {
        double value = read_square(s->value + c * plane, s->side, square);
        if (value > best) {
            best = value;
            winner = c;
        }
    }
    return winner;
}

int smooth_flat(const Smooth *s, double x, double y, double size) {
    int x0 = clamped((int)floor(x - 0.5), s->side), x1 = clamped((int)floor(x + size - 0.5) + 1, s->side);
    int y0 = clamped((int)floor(y - 0.5), s->side), y1 = clamped((int)floor(y + size - 0.5) + 1, s->side);
    int candy = s->top[(size_t)y0 * s->side + x0];
    for (int j = y0; j <= y1; j++)
        for (int i = x0; i <= x1; i++)
            if (s->top[(size_t)j * s->side + i] != candy) return -1;
    return candy;
}

/* --- a wide blur --- */

/* A box of 2 reach + 1 along `count` values `stride` apart, the ends repeated. */
static void box_blur(float *line, int count, size_t stride, int reach, float *scratch) {
    double sum = 0;
    for (int i = 0; i < count; i++) scratch[i] = line[(size_t)i * stride];
    for (int i = -reach; i <= reach; i++) sum += (double)scratch[clamped(i, count)];
    for (int i = 0; i < count; i++) {
        line[(size_t)i * stride] = (float)(sum / (2 * reach + 1));
        sum += (double)scratch[clamped(i + reach + 1, count)] - (double)scratch[clamped(i - reach, count)];
    }
}

void smooth_blur(float *plane, int side, double sigma, float *scratch) {
    int reach =
        (int)lround((sqrt(4 * sigma * sigma + 1) - 1) / 2); /* three boxes' variance: w^2 - 1 over 4 */
    for (int pass = 0; pass < 3; pass++) {
        for (int i = 0; i < side; i++) box_blur(plane + (size_t)i * side, side, 1, reach, scratch);
        for (int i = 0; i < side; i++) box_blur(plane + i, side, (size_t)side, reach, scratch);
    }
}
