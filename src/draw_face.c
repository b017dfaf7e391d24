/* Face -> image: the softened cut in its jacket. SPDX-License-Identifier: MIT
 *
 * Method.
 * 1. The raster is carried on beyond the core by reflection in its edge, so that the rim needs no special
 * case.
 * 2. Each candy's indicator is blurred a little, and the candy with the largest value wins: that takes the
 * stairs out of the raster. A Gaussian alone would pull curved borders inwards by s^2 / 2r; the kernel 2 G(s)
 * - G(s sqrt 2) has no second moment, so that borders stay (Wand & Jones, "Kernel Smoothing", 1995, 2.8:
 * kernels of order four).
 * 3. Between samples the blurred values are bilinear. A pixel whose corners' cells have one winner throughout
 * is flat, since what wins at a cell's four corners wins inside; the others take SUPER x SUPER points.
 * 4. The edges of core and log are cut exactly (area of the pixel inside the disc), the stripes' edges by
 * points. All mixing is of linear light. Cost: candies * side^2 * taps, and a few points on border pixels. */
#include "draw_face.h"

#include "mem.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Samples. Stairs of 11 samples keep half their height (a Gaussian of 2 does as much, and moves a border of
 * radius 14 by 0.14 samples); the narrowest rope is 16 samples wide. */
#define SIGMA 2.5

enum { REACH = 11, TAPS = 2 * REACH + 1, SUPER = 4 };

/* The blurred indicators. */
typedef struct Fields {
    int side, candies;
    float *value; /* [candies][side][side]; owned */
    uint8_t *top; /* [side][side] the candy with the largest value; owned */
} Fields;

/* What one call draws. */
typedef struct Drawing {
    const Job *job;
    Fields fields;
    Circle log, core; /* px */
    double samples_per_px;
    Linear picture[INKS_MAX]; /* the candies in linear light */
    Linear jacket[JACKETS_MAX];
} Drawing;

static void fields_free(Fields *f) {
    free(f->value);
    free(f->top);
    *f = (Fields){0};
}

/* --- 1. beyond the core ------------------------------------------------------------------------------ */

/* The candy at an outside sample: that at the same distance on the core's other side of the edge, or the
 * first one inwards of it. */
static uint8_t reflected(const Face *face, int x, int y) {
    double middle = face->side / 2.0, dx = x + 0.5 - middle, dy = y + 0.5 - middle, d = hypot(dx, dy);
    for (double r = fmin(2 * middle - d, middle); r > 0; r -= 0.5) {
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

/* --- 2. the blurred indicators ----------------------------------------------------------------------- */

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

static void blur_row(const uint8_t *row, int side, int candy, const float k[TAPS], float *wide, float *out) {
    for (int x = -REACH; x < side + REACH; x++) wide[x + REACH] = row[clamped(x, side)] == candy ? 1 : 0;
    memset(out, 0, (size_t)side * sizeof *out);
    for (int i = 0; i < TAPS; i++)
        for (int x = 0; x < side; x++) out[x] += k[i] * wide[x + i];
}

static void blur_columns(const float *rows, int side, const float k[TAPS], float *out) {
    memset(out, 0, (size_t)side * side * sizeof *out);
    for (int y = 0; y < side; y++)
        for (int i = 0; i < TAPS; i++) {
            const float *from = rows + (size_t)clamped(y + i - REACH, side) * side;
            float *to = out + (size_t)y * side;
            for (int x = 0; x < side; x++) to[x] += k[i] * from[x];
        }
}

static void find_tops(Fields *f) {
    size_t plane = (size_t)f->side * f->side;
    for (int c = 1; c < f->candies; c++)
        for (size_t i = 0; i < plane; i++)
            if (f->value[c * plane + i] > f->value[f->top[i] * plane + i]) f->top[i] = (uint8_t)c;
}

static bool fields_make(const Face *face, int candies, Fields *out, Err *err) {
    int side = face->side;
    size_t plane = (size_t)side * side;
    Fields f = {side, candies, mem_alloc(candies * plane, sizeof *f.value, err), mem_alloc(plane, 1, err)};
    uint8_t *candy = mem_alloc(plane, 1, err);
    float *rows = mem_alloc(plane, sizeof *rows, err),
          *wide = mem_alloc((size_t)side + TAPS, sizeof *wide, err);
    bool good = f.value && f.top && candy && rows && wide;
    if (good) {
        float k[TAPS];
        kernel(k);
        carry_on(face, candy);
        for (int c = 0; c < candies; c++) {
            for (int y = 0; y < side; y++)
                blur_row(candy + (size_t)y * side, side, c, k, wide, rows + (size_t)y * side);
            blur_columns(rows, side, k, f.value + c * plane);
        }
        find_tops(&f);
        *out = f;
    } else
        fields_free(&f);
    free(candy);
    free(rows);
    free(wide);
    return good;
}

/* --- 3. the picture ---------------------------------------------------------------------------------- */

/* The candy that wins at a point in samples: value (x, y) belongs to the middle of sample (x, y). */
static int candy_at(const Fields *f, double x, double y) {
    double px = fmin(fmax(x - 0.5, 0), f->side - 1.001), py = fmin(fmax(y - 0.5, 0), f->side - 1.001);
    int ix = (int)px, iy = (int)py;
    double u = px - ix, v = py - iy, best = -1e9;
    size_t plane = (size_t)f->side * f->side, at = (size_t)iy * f->side + ix;
    int winner = 0;
    for (int c = 0; c < f->candies; c++) {
        const float *p = f->value + c * plane + at;
        double value = (1 - v) * ((1 - u) * (double)p[0] + u * (double)p[1]) +
                       v * ((1 - u) * (double)p[f->side] + u * (double)p[f->side + 1]);
        if (value > best) {
            best = value;
            winner = c;
        }
    }
    return winner;
}

/* The one candy of all samples that a pixel's points can see, -1 if there are several. */
static int flat_candy(const Fields *f, double x, double y, double size) {
    int x0 = clamped((int)floor(x - 0.5), f->side), x1 = clamped((int)floor(x + size - 0.5) + 1, f->side);
    int y0 = clamped((int)floor(y - 0.5), f->side), y1 = clamped((int)floor(y + size - 0.5) + 1, f->side);
    int candy = f->top[(size_t)y0 * f->side + x0];
    for (int j = y0; j <= y1; j++)
        for (int i = x0; i <= x1; i++)
            if (f->top[(size_t)j * f->side + i] != candy) return -1;
    return candy;
}

static void add(Linear *sum, Linear c, double weight) {
    sum->r += weight * c.r;
    sum->g += weight * c.g;
    sum->b += weight * c.b;
}

/* Adds the picture's colour in pixel (x, y), times weight. */
static void add_picture(const Drawing *d, int x, int y, double weight, Linear *sum) {
    double size = d->samples_per_px, left = d->core.x - d->core.r, top = d->core.y - d->core.r;
    double sx = (x - left) * size, sy = (y - top) * size;
    int flat = flat_candy(&d->fields, sx, sy, size);
    if (flat >= 0) {
        add(sum, d->picture[flat], weight);
        return;
    }
    for (int i = 0; i < SUPER * SUPER; i++) {
        double px = sx + (i % SUPER + 0.5) * size / SUPER;
        double py = sy + ((int)(i / SUPER) + 0.5) * size / SUPER;
        add(sum, d->picture[candy_at(&d->fields, px, py)], weight / (SUPER * SUPER));
    }
}

/* --- 4. the jacket and the edges --------------------------------------------------------------------- */

/* Where a point lies among the stripes, 0..stripes; from 12 o'clock clockwise. */
static double stripe_at(const Drawing *d, double x, double y) {
    double turn = atan2(x - d->log.x, d->log.y - y) / (2 * PI);
    return (turn < 0 ? turn + 1 : turn) * d->job->palette.stripes;
}

static Linear stripe_colour(const Drawing *d, double stripe) {
    const Palette *p = &d->job->palette;
    return d->jacket[(int)stripe % p->stripes % p->jackets];
}

static void add_jacket(const Drawing *d, int x, int y, double weight, Linear *sum) {
    const Palette *p = &d->job->palette;
    if (p->stripes <= 1 || p->jackets <= 1) {
        add(sum, d->jacket[0], weight);
        return;
    }
    double stripe = stripe_at(d, x + 0.5, y + 0.5), off = fabs(stripe - nearbyint(stripe));
    double px_per_stripe = 2 * PI * hypot(x + 0.5 - d->log.x, y + 0.5 - d->log.y) / p->stripes;
    if (off * px_per_stripe > 1) { /* no edge within the pixel: its half diagonal is 0.71 */
        add(sum, stripe_colour(d, stripe), weight);
        return;
    }
    for (int i = 0; i < SUPER * SUPER; i++) {
        double at = stripe_at(d, x + (i % SUPER + 0.5) / SUPER, y + ((int)(i / SUPER) + 0.5) / SUPER);
        add(sum, stripe_colour(d, at), weight / (SUPER * SUPER));
    }
}

/* How much of pixel (x, y) lies inside the disc, 0..1. */
static double inside(Circle disc, int x, int y) {
    double dx = x + 0.5 - disc.x, dy = y + 0.5 - disc.y, far = sqrt(dx * dx + dy * dy) - disc.r;
    if (far <= -0.75) return 1; /* the half diagonal is 0.71 */
    if (far >= 0.75) return 0;
    const Point p[4] = {{x, y}, {x + 1, y}, {x + 1, y + 1}, {x, y + 1}};
    return fmin(polygon_disc_area(p, 4, disc), 1);
}

/* The mixture of the pixel before and its sRGB: most pixels repeat it, and the transfer function is slow. */
typedef struct Mixture {
    Linear linear;
    Rgb8 srgb;
} Mixture;

static void draw_pixel(const Drawing *d, int x, int y, Mixture *last, uint8_t rgba[4]) {
    double in_log = inside(d->log, x, y), in_core = inside(d->core, x, y);
    if (in_log < 1e-9) return;
    Linear sum = {0};
    if (in_core > 0) add_picture(d, x, y, in_core / in_log, &sum);
    if (in_core < in_log) add_jacket(d, x, y, (in_log - in_core) / in_log, &sum);
    if (sum.r != last->linear.r || sum.g != last->linear.g || sum.b != last->linear.b)
        *last = (Mixture){sum, linear_rgb8(sum)};
    rgba[0] = last->srgb.r;
    rgba[1] = last->srgb.g;
    rgba[2] = last->srgb.b;
    rgba[3] = (uint8_t)lround(255 * in_log);
}

bool draw_face(const Job *job, int side, Image *out, Err *err) {
    const Palette *p = &job->palette;
    assert(side > 0 && p->count > 0 && p->jackets > 0 && p->stripes > 0 && job->face.side > 1);
    double r = side / 2.0, core = r * job->cane.core_diameter_mm / job->cane.log_diameter_mm;
    Drawing d = {
        .job = job, .log = {r, r, r}, .core = {r, r, core}, .samples_per_px = job->face.side / (2 * core)};
    for (int i = 0; i < p->count; i++) d.picture[i] = rgb8_linear(p->candy[i].srgb);
    for (int i = 0; i < p->jackets; i++) d.jacket[i] = rgb8_linear(p->jacket[i].srgb);
    Image image = {0};
    if (!fields_make(&job->face, p->count, &d.fields, err)) return false;
    bool good = image_new(side, side, side / job->order.piece_diameter_mm, &image, err);
    Mixture last = {{0, 0, 0}, {0, 0, 0}};
    for (int y = 0; good && y < side; y++)
        for (int x = 0; x < side; x++) draw_pixel(&d, x, y, &last, image.rgba + 4 * ((size_t)y * side + x));
    fields_free(&d.fields);
    if (good) *out = image;
    return good;
}
