/* Which pixel is of which colour, and which are only the mix of two that meet. SPDX-License-Identifier: MIT
 *
 * 1. A pixel is flat if it steps less than EDGE from each side neighbour; flat pixels take the nearest
 * swatch.
 * 2. An edge pixel looks at the flat pixels in the window round it. It is pure if it is within PURE of a
 * colour there; a mix if it lies between two colours there; else pure if it is within REACH of any swatch;
 * else loose.
 * 3. Once more for those that took a colour not flat there, or none, now with the pure pixels seen as well,
 * their own colour left out: what is explained by its neighbours is a mix (also of three). So of a thin
 * slanting line the dark middle stays and its soft sides go to the colours on either side.
 * 4. What is still loose takes the nearest colour of the window.
 * A mix takes the colour it has more of. Each step reads only what the step before wrote, so that turning or
 * mirroring the picture turns or mirrors the labels. Cost: a window of WINDOW pixels an edge pixel; answers
 * are kept by colour and set of colours, as most edge pixels ask the same. */
#include "inks/labelling.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define EDGE                                                                                                 \
    45 /* 0.045 in OKLab: about half of CIEDE2000 6 to 8. Less, and grain makes edges; more, and the middle  \
          of a soft edge is no edge pixel though it is over CIEDE2000 6 from both sides */
#define SMOOTH 0.02 /* OKLab: a step that halves a pixel's weight */
#define PURE 3.0    /* CIEDE2000 */
#define REACH 6.0   /* CIEDE2000, design 5 */
#define AROUND                                                                                               \
    3 /* the window reaches this far: a soft edge is two pixels wide, and its first flat ones next */
#define NEAREST_MOST 5 /* so many of the window's colours are tried in pairs, nearest first */

enum { ASKED = 1 << 14 };

/* --- step 1 --- */

static void tint_row(const Labelling *l, int y, Tint *row) {
    const uint8_t *rgba = l->picture->rgba + (size_t)y * (size_t)l->picture->width * 4;
    for (int x = 0; x < l->picture->width; x++)
        row[x] = x > 0 && memcmp(rgba + 4 * x, rgba + 4 * x - 4, 4) == 0
                     ? row[x - 1]
                     : tint_of_pixel(&l->tables, rgba + 4 * x);
}

static void roughen(uint8_t *p, uint8_t *q, const Tint *a, const Tint *b) {
    float step = 1000 * sqrtf(tint_near(a, b));
    uint8_t v = step < 255 ? (uint8_t)step : 255;
    if (v > *p) *p = v;
    if (v > *q) *q = v;
}

static bool same_pixel(const uint8_t *p, const uint8_t *q) {
    return memcmp(p, q, 4) == 0;
}

static void measure_roughness(Labelling *l, Tint *row, Tint *above) {
    size_t w = (size_t)l->picture->width;
    for (size_t y = 0; y < (size_t)l->picture->height; y++) {
        uint8_t *rough = l->rough + y * w;
        const uint8_t *rgba = l->picture->rgba + 4 * y * w;
        tint_row(l, (int)y, row);
        for (size_t x = 0; x < w; x++, rgba += 4) {
            if (x > 0 && !same_pixel(rgba, rgba - 4)) roughen(&rough[x], &rough[x - 1], &row[x], &row[x - 1]);
            if (y > 0 && !same_pixel(rgba, rgba - 4 * w))
                roughen(&rough[x], &rough[x] - w, &row[x], &above[x]);
        }
        Tint *keep = above;
        above = row;
        row = keep;
    }
}

static bool list_edges(Labelling *l, size_t pixels, Err *err) {
    size_t count = 0;
    for (size_t i = 0; i < pixels; i++) count += l->rough[i] >= EDGE;
    l->edge = mem_alloc(count, sizeof *l->edge, err);
    if (!l->edge) return false;
    for (size_t i = 0; i < pixels; i++)
        if (l->rough[i] >= EDGE) l->edge[l->edges++] = (int32_t)i;
    return true;
}

/* A run of one colour is counted at once. */
static bool fill_histogram(Labelling *l, size_t pixels, Err *err) {
    double weight[256], run = 0;
    for (int v = 0; v < 256; v++) weight[v] = 1 / (1 + (v / 1000.0) * (v / 1000.0) / (SMOOTH * SMOOTH));
    const uint8_t *rgba = l->picture->rgba;
    for (size_t i = 0; i < pixels; i++, rgba += 4) {
        run += weight[l->rough[i]];
        if (i + 1 < pixels && same_pixel(rgba, rgba + 4)) continue;
        Tint tint = tint_of_pixel(&l->tables, rgba);
        if (!histogram_add(&l->histogram, rgba, &tint, run, err)) return false;
        run = 0;
    }
    return true;
}

bool labelling_measure(const Picture *picture, Labelling *out, Err *err) {
    size_t w = (size_t)picture->width, pixels = w * (size_t)picture->height;
    *out = (Labelling){.picture = picture};
    tint_tables(&out->tables);
    Tint *rows = mem_alloc(2 * w, sizeof *rows, err);
    bool good = rows && (out->rough = mem_alloc(pixels, 1, err)) &&
                (out->label = mem_alloc(pixels, 1, err)) && (out->kind = mem_alloc(pixels, 1, err)) &&
                histogram_new(&out->histogram, err);
    if (good) {
        measure_roughness(out, rows, rows + w);
        good = fill_histogram(out, pixels, err) && list_edges(out, pixels, err);
    }
    free(rows);
    return good;
}

Tint labelling_tint(const Labelling *l, size_t pixel) {
    return tint_of_pixel(&l->tables, l->picture->rgba + 4 * pixel);
}

void labelling_free(Labelling *l) {
    histogram_free(&l->histogram);
    free(l->rough);
    free(l->label);
    free(l->kind);
    free(l->edge);
    *l = (Labelling){0};
}

static void label_flat(Labelling *l) {
    size_t pixels = (size_t)l->picture->width * (size_t)l->picture->height;
    histogram_nearest(&l->histogram, &l->swatches);
    const uint8_t *rgba = l->picture->rgba;
    for (size_t i = 0; i < pixels; i++, rgba += 4) {
        l->label[i] = i > 0 && same_pixel(rgba, rgba - 4) ? l->label[i - 1]
                                                          : (uint8_t)histogram_swatch(&l->histogram, rgba);
        l->kind[i] = l->rough[i] < EDGE ? PIXEL_FLAT : PIXEL_LOOSE;
    }
}

/* --- step 2 to 4 --- */

/* An edge pixel's question, its answer, and the questions asked before. */
typedef struct Answer {
    uint64_t set; /* colours around */
    uint8_t rgba[4];
    uint8_t step; /* 2, 3; 0 = nothing asked yet */
    uint8_t own;  /* of step 3: the colour left out */
    uint8_t label, kind;
} Answer;

/* The colours of the pixels around that are of at most this kind, as a set. */
static uint64_t colours_around(const Labelling *l, int32_t pixel, PixelKind most) {
    int w = l->picture->width, h = l->picture->height, x = pixel % w, y = pixel / w;
    int left = x > AROUND ? x - AROUND : 0, right = x + AROUND < w ? x + AROUND : w - 1;
    int top = y > AROUND ? y - AROUND : 0, bottom = y + AROUND < h ? y + AROUND : h - 1;
    uint64_t set = 0;
    for (int v = top; v <= bottom; v++) {
        size_t row = (size_t)v * (size_t)w;
        for (int u = left; u <= right; u++)
            if (l->kind[row + u] <= most) set |= (uint64_t)1 << l->label[row + u];
    }
    return set;
}

uint64_t labelling_around(const Labelling *l, size_t pixel) {
    return colours_around(l, (int32_t)pixel, PIXEL_PURE);
}

typedef struct Around {
    int count;
    const Tint *tint[NEAREST_MOST]; /* nearest first */
    int swatch[NEAREST_MOST];
    float near[NEAREST_MOST];
} Around;

static Around nearest_of(const Labelling *l, uint64_t set, const Tint *tint) {
    Around a = {0};
    for (int k = 0; k < l->swatches.count; k++) {
        if (!(set >> k & 1)) continue;
        float near = tint_near(tint, &l->swatches.tint[k]);
        int at = a.count < NEAREST_MOST ? a.count++ : NEAREST_MOST;
        for (; at > 0 && a.near[at - 1] > near; at--) {
            if (at == NEAREST_MOST) continue;
            a.near[at] = a.near[at - 1];
            a.swatch[at] = a.swatch[at - 1];
            a.tint[at] = a.tint[at - 1];
        }
        if (at == NEAREST_MOST) continue;
        a.near[at] = near;
        a.swatch[at] = k;
        a.tint[at] = &l->swatches.tint[k];
    }
    return a;
}

/* The colour a mix of two of those around has more of; -1 if it is none. Nearer pairs first. */
static int mix_of_two(const Labelling *l, const Around *a, const Tint *tint) {
    bool linear =
        l->picture->shrink > 1; /* averaged by decode; else drawn by some program, in encoded values */
    double part;
    for (int j = 1; j < a->count; j++)
        for (int i = 0; i < j; i++)
            if (tint_mix(tint, a->tint[i], a->tint[j], REACH, linear, &part))
                return a->swatch[part > 0.5 ? j : i];
    return -1;
}

static int mix_of_three(const Around *a, const Tint *tint) {
    for (int k = 2; k < a->count; k++)
        for (int j = 1; j < k; j++)
            for (int i = 0; i < j; i++) {
                const Tint *const of[3] = {a->tint[i], a->tint[j], a->tint[k]};
                const int swatch[3] = {a->swatch[i], a->swatch[j], a->swatch[k]};
                int most;
                if (tint_mix3(tint, of, REACH, &most)) return swatch[most];
            }
    return -1;
}

static void answer_first(const Labelling *l, Answer *q) {
    Tint tint = tint_of_pixel(&l->tables, q->rgba);
    Around around = nearest_of(l, q->set, &tint);
    q->kind = PIXEL_PURE;
    if (around.count > 0 && tint_within(&tint, around.tint[0], PURE)) {
        q->label = (uint8_t)around.swatch[0];
        return;
    }
    int mix = mix_of_two(l, &around, &tint);
    if (mix >= 0) {
        q->kind = PIXEL_MIX;
        q->label = (uint8_t)mix;
        return;
    }
    q->label = (uint8_t)tint_nearest(&tint, &l->swatches);
    q->kind = tint_within(&tint, &l->swatches.tint[q->label], REACH) ? PIXEL_CLAIMED : PIXEL_LOOSE;
}

static void answer_again(const Labelling *l, Answer *q) {
    Tint tint = tint_of_pixel(&l->tables, q->rgba);
    Around around = nearest_of(l, q->set, &tint);
    int mix = mix_of_two(l, &around, &tint);
    if (mix < 0) mix = mix_of_three(&around, &tint);
    if (mix >= 0) {
        q->kind = PIXEL_MIX;
        q->label = (uint8_t)mix;
    } else if (q->own < SWATCHES_MAX) {
        q->kind = PIXEL_PURE;
        q->label = q->own;
    } else {
        q->kind = PIXEL_LOOSE;
        q->label = (uint8_t)(around.count > 0 ? around.swatch[0] : tint_nearest(&tint, &l->swatches));
    }
}

/* Answers from what was asked before, where it can. */
static void ask(const Labelling *l, Answer *asked, Answer *q) {
    uint64_t hash = q->set * 0x9E3779B97F4A7C15u ^ (uint64_t)(q->own + 67 * q->step) * 0xD1B54A32D192ED03u;
    uint32_t rgba;
    memcpy(&rgba, q->rgba, 4);
    hash = (hash ^ hash >> 29 ^ rgba) * 0xBF58476D1CE4E5B9u;
    Answer *place = &asked[hash >> 50];
    if (place->step == q->step && place->set == q->set && place->own == q->own &&
        memcmp(place->rgba, q->rgba, 4) == 0) {
        *q = *place;
        return;
    }
    if (q->step == 2)
        answer_first(l, q);
    else
        answer_again(l, q);
    *place = *q;
}

/* Step 2: one question an edge pixel, about the flat pixels around it. */
static void label_first(Labelling *l, Answer *asked) {
    for (size_t e = 0; e < l->edges; e++) {
        int32_t at = l->edge[e];
        Answer q = {.set = colours_around(l, at, PIXEL_FLAT), .own = SWATCHES_MAX, .step = 2};
        memcpy(q.rgba, l->picture->rgba + 4 * (size_t)at, 4);
        ask(l, asked, &q);
        l->label[at] = q.label;
        l->kind[at] = q.kind;
    }
}

/* Steps 3 and 4; the answers wait in `next` until all are there. */
static void label_again(Labelling *l, Answer *asked, uint8_t *next) {
    for (size_t e = 0; e < l->edges; e++) {
        int32_t at = l->edge[e];
        next[2 * e] = l->label[at];
        next[2 * e + 1] = l->kind[at];
        if (l->kind[at] != PIXEL_CLAIMED && l->kind[at] != PIXEL_LOOSE) continue;
        Answer q = {.set = colours_around(l, at, PIXEL_CLAIMED), .own = SWATCHES_MAX, .step = 3};
        if (l->kind[at] == PIXEL_CLAIMED) {
            q.own = l->label[at];
            q.set &= ~((uint64_t)1 << q.own);
        }
        memcpy(q.rgba, l->picture->rgba + 4 * (size_t)at, 4);
        ask(l, asked, &q);
        next[2 * e] = q.label;
        next[2 * e + 1] = q.kind;
    }
    for (size_t e = 0; e < l->edges; e++) {
        l->label[l->edge[e]] = next[2 * e];
        l->kind[l->edge[e]] = next[2 * e + 1];
    }
}

bool labelling_label(Labelling *l, Err *err) {
    Answer *asked = mem_alloc(ASKED, sizeof *asked, err);
    uint8_t *next = asked ? mem_alloc(l->edges, 2, err) : NULL;
    if (next) {
        label_flat(l);
        label_first(l, asked);
        label_again(l, asked, next);
    }
    free(asked);
    free(next);
    return next != NULL;
}
