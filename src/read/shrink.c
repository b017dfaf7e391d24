/* Rows of pixels averaged into a Picture; a part of the stage decode. SPDX-License-Identifier: MIT
 *
 * A pixel of the picture is the mean of factor x factor pixels of the file (fewer at the right and lower
 * edge), in linear light, each weighed by its alpha: what is transparent has no colour. Its alpha is their
 * mean alpha. All in whole numbers: light of 16 bits times alpha of 16 bits, over 100 megapixels, is under
 * 2^59. Light of 16 bits keeps the 256 sRGB values apart (the closest two are 19.9 apart), so with factor 1
 * opaque colours stay as they are. Cost: three table look-ups and products a pixel; memory a row of sums, or
 * all of them where rows come in parts. */
#include "read/decoders.h"

#include "model/colour.h"
#include "base/mem.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SIDE = 768, WHITE = 65535 };

static void fill_linear(uint16_t *linear, int count, double gamma) {
    for (int i = 0; i < count; i++) {
        double v = (double)i / (count - 1);
        linear[i] = (uint16_t)lround(WHITE * (gamma > 0 ? pow(v, 1 / gamma) : srgb_to_linear(v)));
    }
}

/* Each level takes the light up to that of the level half a step on. */
static void fill_srgb(uint8_t *srgb) {
    int light = 0;
    for (int level = 0; level < 256; level++) {
        int end = level == 255 ? WHITE : (int)floor(WHITE * srgb_to_linear((level + 0.5) / 255));
        while (light <= end) srgb[light++] = (uint8_t)level;
    }
}

bool shrink_begin(Shrink *shrink, int width, int height, int depth, double gamma, bool ordered, Err *err) {
    assert(width > 0 && height > 0 && (depth == 8 || depth == 16));
    int longer = width > height ? width : height, factor = longer < SIDE ? 1 : longer / SIDE;
    int levels = 1 << depth;
    Shrink s = {.samples = 4, .sample_bytes = depth / 8, .ordered = ordered};
    s.plain = factor == 1 && depth == 8 && !(gamma > 0);
    s.picture = (Picture){.width = (width + factor - 1) / factor,
                          .height = (height + factor - 1) / factor,
                          .shrink = factor,
                          .file_width = width,
                          .file_height = height};
    size_t row = (size_t)s.picture.width, rows = (size_t)s.picture.height;
    bool ready = (s.linear = mem_alloc((size_t)levels, sizeof *s.linear, err)) &&
                 (s.srgb = mem_alloc(WHITE + 1, 1, err)) &&
                 (s.picture.rgba = mem_alloc(row * rows, 4, err)) &&
                 (s.sums = mem_alloc(row * (ordered || factor == 1 ? 1 : rows), 4 * sizeof *s.sums, err));
    if (!ready) {
        shrink_free(&s);
        return false;
    }
    fill_linear(s.linear, levels, gamma);
    fill_srgb(s.srgb);
    *shrink = s;
    return true;
}

/* Are the pixels, `size` bytes each, all the same? Told by comparing them with themselves, one pixel on. */
static bool all_same(const uint8_t *p, int size, int count) {
    const uint8_t *q = p + size;
    int left = size * (count - 1);
    for (uint64_t a, b; left >= 8; left -= 8, p += 8, q += 8) {
        memcpy(&a, p, 8);
        memcpy(&b, q, 8);
        if (a != b) return false;
    }
    for (; left > 0; left--, p++, q++)
        if (*p != *q) return false;
    return true;
}

/* Of a flat picture most cells are of one colour, and are worked out at once. */
static void add_8(const uint16_t *linear, const uint8_t *p, int samples, int count, uint64_t sum[4]) {
    uint64_t r = 0, g = 0, b = 0, a = 0;
    if (count > 1 && all_same(p, samples, count)) {
        uint64_t alpha = (uint64_t)count * (samples == 4 ? p[3] : 255);
        sum[0] += linear[p[0]] * alpha, sum[1] += linear[p[1]] * alpha, sum[2] += linear[p[2]] * alpha;
        sum[3] += alpha;
        return;
    }
    for (const uint8_t *end = p + (ptrdiff_t)count * samples; p < end; p += samples) {
        uint32_t alpha = samples == 4 ? p[3] : 255;
        r += linear[p[0]] * alpha, g += linear[p[1]] * alpha, b += linear[p[2]] * alpha, a += alpha;
    }
    sum[0] += r, sum[1] += g, sum[2] += b, sum[3] += a;
}

static unsigned sample_16(const uint8_t *p) {
    return (unsigned)p[0] << 8 | p[1];
}

static void add_16(const uint16_t *linear, const uint8_t *p, int samples, int count, uint64_t sum[4]) {
    for (const uint8_t *end = p + 2 * (ptrdiff_t)count * samples; p < end; p += 2 * samples) {
        uint64_t alpha = samples == 4 ? sample_16(p + 6) : 65535;
        for (int c = 0; c < 3; c++) sum[c] += linear[sample_16(p + 2 * c)] * alpha;
        sum[3] += alpha;
    }
}

static void add(const Shrink *s, const uint8_t *p, int count, uint64_t sum[4]) {
    (s->sample_bytes == 1 ? add_8 : add_16)(s->linear, p, s->samples, count, sum);
}

/* The pixels of the file along one side that fall into cell i: factor, or what is left at the edge. */
static int cell_side(int i, int factor, int side) {
    int left = side - i * factor;
    return left < factor ? left : factor;
}

/* The pixel (x, y) of the picture, from its sums. */
static void emit_pixel(Shrink *s, int x, int y, const uint64_t sum[4]) {
    Picture *picture = &s->picture;
    uint8_t *pixel = picture->rgba + ((size_t)y * (size_t)picture->width + (size_t)x) * 4;
    uint64_t full = s->sample_bytes == 1 ? 255 : 65535, alpha = sum[3];
    uint64_t wide = (uint64_t)cell_side(x, picture->shrink, picture->file_width);
    uint64_t all = full * wide * (uint64_t)cell_side(y, picture->shrink, picture->file_height);
    pixel[3] = (uint8_t)((alpha * 255 + all / 2) / all);
    if (pixel[3] == 0) return; /* no colour: 0, 0, 0 */
    for (int c = 0; c < 3; c++) pixel[c] = s->srgb[(sum[c] + alpha / 2) / alpha];
}

static void emit_row(Shrink *s, int y, const uint64_t *sums) {
    const int last = s->picture.width - 1;
    uint8_t *row = s->picture.rgba + (size_t)y * (size_t)s->picture.width * 4;
    for (int x = 0; x <= last; x++) {
        const uint64_t *sum = sums + (size_t)x * 4;
        if (x > 0 && x < last && memcmp(sum, sum - 4, 4 * sizeof *sum) == 0)
            memcpy(row + 4 * x, row + 4 * x - 4, 4); /* flat: no division */
        else
            emit_pixel(s, x, y, sum);
    }
}

/* With factor 1 each pixel is done as it comes; an opaque one stays as it is. */
static void put_row(Shrink *s, int y, int x, int step, int count, const uint8_t *rgba) {
    uint8_t *row = s->picture.rgba + (size_t)y * (size_t)s->picture.width * 4;
    for (int i = 0; i < count; i++, x += step, rgba += s->samples * s->sample_bytes) {
        uint64_t sum[4] = {0};
        if (s->plain && (s->samples == 3 || rgba[3] == 255)) {
            memcpy(row + 4 * x, rgba, 3);
            row[4 * x + 3] = 255;
            continue;
        }
        add(s, rgba, 1, sum);
        emit_pixel(s, x, y, sum);
    }
}

void shrink_row(Shrink *s, int y, int x, int step, int count, const uint8_t *rgba) {
    const int factor = s->picture.shrink, width = s->picture.width;
    if (factor == 1) {
        put_row(s, y, x, step, count, rgba);
        return;
    }
    const size_t pixel_bytes = (size_t)s->samples * (size_t)s->sample_bytes;
    uint64_t *sums = s->sums + (s->ordered ? 0 : (size_t)(y / factor) * (size_t)width * 4);
    int cell = x / factor;
    for (int end = (cell + 1) * factor; count > 0; cell++, end += factor) {
        int run = step == 1 ? end - x : (end - x + step - 1) / step;
        if (run > count) run = count;
        if (run <= 0) continue; /* steps wider than cells */
        add(s, rgba, run, sums + (size_t)cell * 4);
        rgba += (size_t)run * pixel_bytes, x += run * step, count -= run;
    }
    if (s->ordered && ((y + 1) % factor == 0 || y + 1 == s->picture.file_height)) {
        emit_row(s, s->filled++, s->sums);
        memset(s->sums, 0, (size_t)width * 4 * sizeof *s->sums);
    }
}

void shrink_finish(Shrink *s, Picture *out) {
    for (; s->picture.shrink > 1 && s->filled < s->picture.height; s->filled++)
        emit_row(s, s->filled, s->sums + (size_t)s->filled * (size_t)s->picture.width * 4);
    *out = s->picture;
    s->picture = (Picture){0};
}

void shrink_free(Shrink *shrink) {
    picture_free(&shrink->picture);
    free(shrink->linear);
    free(shrink->srgb);
    free(shrink->sums);
    *shrink = (Shrink){0};
}
