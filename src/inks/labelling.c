/* Which pixel is of which colour, and which only mixes two that meet. SPDX-License-Identifier: MIT
 *
 * 1. A pixel is flat if it steps less than EDGE from each side neighbour; flat pixels take the nearest
 * swatch. All others are edge pixels.
 * 2. An edge pixel looks at the flat pixels in the window round it. Near to one of their colours (PURE) it is
 * pure; between two of them it is a mix; else, near to any swatch at all (SWATCH_REACH), that claims it; else
 * it is loose.
 * 3. Those claimed and those loose look again, now at pure and claimed pixels as well. What lies between two
 * or three of these colours (the claim on the pixel itself left out) is a mix: so of a thin slanting line the
 * dark middle stays and its soft sides go to the colours on either side. Else a claimed pixel is pure; a
 * loose one stays loose and takes the nearest colour of the window.
 * A mix takes the colour it has more of. Each step reads only what the step before wrote, so that turning or
 * mirroring the picture turns or mirrors the labels. Cost: a window of (2 * AROUND + 1)^2 pixels for each
 * edge pixel; as most edge pixels ask the same, answers are kept by colour and set of colours around. In
 * noise no two ask the same: where answers come to MOST_ANSWERS no edge is told from an area any more, from
 * then on every pixel is pure and of its nearest swatch. */
#include "inks/steps.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* Of Labelling.rough, 0.045 in OKLab: about half of CIEDE2000 6 to 8. Less, and grain makes edges; more, and
 * the middle of a soft edge is no edge pixel though it is over CIEDE2000 6 from both sides. */
#define EDGE 45
#define SMOOTH 0.02 /* OKLab: a step that halves a pixel's weight */
#define PURE 3.0    /* CIEDE2000 */

enum {
    ALIKE = 16,       /* px that are looked at together: most of a drawing is even */
    AROUND = 3,       /* px the window reaches: a soft edge is 2 px wide, and its first flat ones are next */
    NEAREST_MOST = 5, /* so many of the window's colours are tried as parts of a mix, nearest first */
    KEPT_BITS = 14,
    KEPT = 1 << KEPT_BITS, /* answers */
    /* Of one labelling of a picture, some 10 microseconds each. Drawn pictures, JPEGs among them, had up to
       60 000; noise has millions. */
    MOST_ANSWERS = 200000
};

/* --- step 1 --- */

/* A row's tints, each worked out when it is asked for. */
typedef struct TintRow {
    const uint8_t *rgba; /* of its first pixel; not owned */
    Tint *tint;          /* [width]; not owned */
    bool *told;          /* [width]; not owned */
} TintRow;

static const Tint *tint_at(const Labelling *l, const TintRow *row, int x) {
    if (!row->told[x]) row->tint[x] = tint_of_pixel(&l->tables, row->rgba + 4 * x);
    row->told[x] = true;
    return &row->tint[x];
}

/* Raises the roughness of two neighbours to the step between them. */
static void roughen(uint8_t *p, uint8_t *q, const Tint *a, const Tint *b) {
    float step = 1000 * sqrtf(tint_near(a, b));
    uint8_t v = step < 255 ? (uint8_t)step : 255;
    if (v > *p) *p = v;
    if (v > *q) *q = v;
}

/* Are the ALIKE pixels from x on the same as those before and above them? */
static bool all_alike(const TintRow *row, const TintRow *above, int x) {
    const uint8_t *rgba = row->rgba + 4 * x;
    return memcmp(rgba, rgba - 4, 4 * ALIKE) == 0 && memcmp(rgba, above->rgba + 4 * x, 4 * ALIKE) == 0;
}

static void roughen_row(Labelling *l, int y, const TintRow *row, const TintRow *above) {
    const int w = l->picture->width;
    uint8_t *rough = l->rough + (size_t)y * (size_t)w;
    for (int x = 0; x < w; x++) {
        const uint8_t *rgba = row->rgba + 4 * x;
        if (x > 0 && y > 0 && x + ALIKE <= w && all_alike(row, above, x)) {
            x += ALIKE - 1;
            continue;
        }
        if (x > 0 && !same_pixel(rgba, rgba - 4))
            roughen(&rough[x], &rough[x - 1], tint_at(l, row, x), tint_at(l, row, x - 1));
        if (y > 0 && !same_pixel(rgba, above->rgba + 4 * x))
            roughen(&rough[x], &rough[x - w], tint_at(l, row, x), tint_at(l, above, x));
    }
}

/* tint, told: [2 width] scratch. */
static void measure_roughness(Labelling *l, Tint *tint, bool *told) {
    const size_t w = (size_t)l->picture->width;
    TintRow row = {NULL, tint, told}, above = {NULL, tint + w, told + w};
    for (int y = 0; y < l->picture->height; y++) {
        row.rgba = l->picture->rgba + 4 * w * (size_t)y;
        memset(row.told, 0, w * sizeof *row.told);
        roughen_row(l, y, &row, &above);
        const TintRow keep = above;
        above = row;
        row = keep;
    }
}

static bool list_edges(Labelling *l, Err *err) {
    size_t count = 0;
    for (size_t i = 0; i < l->pixels; i++) count += l->rough[i] >= EDGE;
    l->edge = mem_alloc(count, sizeof *l->edge, err);
    if (!l->edge) return false;
    for (size_t i = 0; i < l->pixels; i++)
        if (l->rough[i] >= EDGE) l->edge[l->edges++] = (int32_t)i;
    return true;
}

/* A pixel weighs less the rougher it lies. A run of one colour is counted at once. */
static bool fill_histogram(Labelling *l, Err *err) {
    double weight[256], run = 0;
    for (int v = 0; v < 256; v++) weight[v] = 1 / (1 + (v / 1000.0) * (v / 1000.0) / (SMOOTH * SMOOTH));
    const uint8_t *rgba = l->picture->rgba;
    for (size_t i = 0; i < l->pixels; i++, rgba += 4) {
        run += weight[l->rough[i]];
        if (i + 1 < l->pixels && same_pixel(rgba, rgba + 4)) continue;
        Tint tint = tint_of_pixel(&l->tables, rgba);
        if (!histogram_add(&l->histogram, rgba, &tint, run, err)) return false;
        run = 0;
    }
    return true;
}

bool labelling_measure(const Picture *picture, Labelling *out, Err *err) {
    size_t w = (size_t)picture->width, pixels = w * (size_t)picture->height;
    *out = (Labelling){.picture = picture, .pixels = pixels};
    tint_tables(&out->tables);
    Tint *rows = mem_alloc(2 * w, sizeof *rows, err);
    bool *told = rows ? mem_alloc(2 * w, sizeof *told, err) : NULL;
    bool good = told && (out->rough = mem_alloc(pixels, 1, err)) &&
                (out->label = mem_alloc(pixels, 1, err)) && (out->kind = mem_alloc(pixels, 1, err)) &&
                histogram_new(&out->histogram, err);
    if (good) {
        measure_roughness(out, rows, told);
        good = fill_histogram(out, err) && list_edges(out, err);
    }
    free(rows);
    free(told);
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
    histogram_nearest(&l->histogram, &l->swatches);
    const uint8_t *rgba = l->picture->rgba;
    const uint8_t rough_kind = (uint8_t)(l->noisy ? PIXEL_PURE : PIXEL_LOOSE);
    uint8_t label = 0;
    for (size_t i = 0; i < l->pixels; i++, rgba += 4) {
        if (i == 0 || !same_pixel(rgba, rgba - 4)) label = (uint8_t)histogram_swatch(&l->histogram, rgba);
        l->label[i] = label;
    }
    for (size_t i = 0; i < l->pixels; i++) l->kind[i] = l->rough[i] < EDGE ? PIXEL_FLAT : rough_kind;
}

/* --- steps 2 and 3 --- */

/* What an edge pixel asks. */
typedef struct Question {
    uint64_t set;     /* the colours around it */
    uint8_t rgba[4];  /* its own */
    uint8_t step;     /* 2 or 3 */
    uint8_t claim_by; /* in step 3: the swatch that claims it, SWATCHES_MAX = none */
} Question;

typedef struct Answer {
    uint8_t label, kind; /* swatch, PixelKind */
} Answer;

/* An answer that is kept in case the same is asked again. */
typedef struct Kept {
    Question question; /* step 0: nothing kept yet */
    Answer answer;
} Kept;

/* The colours of the pixels around that are of at most this kind, as a set. */
static uint64_t colours_around(const Labelling *l, size_t pixel, PixelKind most) {
    int w = l->picture->width, h = l->picture->height;
    int x = (int32_t)pixel % w, y = (int32_t)pixel / w; /* 32 bits divide faster than 64 */
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
    return colours_around(l, pixel, PIXEL_PURE);
}

/* The colours of a set that are nearest to some tint, nearest first. */
typedef struct Around {
    int count; /* 0..NEAREST_MOST */
    const Tint *tint[NEAREST_MOST];
    int swatch[NEAREST_MOST];
    float near[NEAREST_MOST]; /* tint_near */
} Around;

static Around nearest_of(const Labelling *l, uint64_t set, const Tint *tint) {
    Around a = {0};
    for (int k = 0; k < l->swatches.count; k++) {
        if (!(set >> k & 1)) continue;
        float near = tint_near(tint, &l->swatches.tint[k]);
        if (a.count == NEAREST_MOST && a.near[NEAREST_MOST - 1] <= near) continue;
        if (a.count < NEAREST_MOST) a.count++;
        int at = a.count - 1; /* the place of the new one, or of the farthest, which falls out */
        for (; at > 0 && a.near[at - 1] > near; at--) {
            a.near[at] = a.near[at - 1];
            a.swatch[at] = a.swatch[at - 1];
            a.tint[at] = a.tint[at - 1];
        }
        a.near[at] = near;
        a.swatch[at] = k;
        a.tint[at] = &l->swatches.tint[k];
    }
    return a;
}

/* The colour a mix of two of those around has more of; -1 if it is none. Nearer pairs first. */
static int mix_of_two(const Labelling *l, const Around *a, const Tint *tint) {
    bool linear = l->picture->shrink > 1; /* averaged when read; else drawn, in encoded values */
    double part;
    for (int j = 1; j < a->count; j++)
        for (int i = 0; i < j; i++)
            if (tint_mix(tint, a->tint[i], a->tint[j], SWATCH_REACH, linear, &part))
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
                if (tint_mix3(tint, of, SWATCH_REACH, &most)) return swatch[most];
            }
    return -1;
}

static Answer answer_of(int label, PixelKind kind) {
    return (Answer){(uint8_t)label, (uint8_t)kind};
}

static Answer answer(const Labelling *l, const Question *q) {
    Tint tint = tint_of_pixel(&l->tables, q->rgba);
    Around around = nearest_of(l, q->set, &tint);
    bool first = q->step == 2;
    if (first && around.count > 0 && tint_within(&tint, around.tint[0], PURE))
        return answer_of(around.swatch[0], PIXEL_PURE);
    int mix = mix_of_two(l, &around, &tint);
    if (mix < 0 && !first) mix = mix_of_three(&around, &tint);
    if (mix >= 0) return answer_of(mix, PIXEL_MIX);
    if (q->claim_by < SWATCHES_MAX) return answer_of(q->claim_by, PIXEL_PURE);
    if (!first && around.count > 0) return answer_of(around.swatch[0], PIXEL_LOOSE);
    int nearest = tint_nearest(&tint, &l->swatches);
    bool claimed = first && tint_within(&tint, &l->swatches.tint[nearest], SWATCH_REACH);
    return answer_of(nearest, claimed ? PIXEL_CLAIMED : PIXEL_LOOSE);
}

static Kept *place_of(Kept *kept, const Question *q) {
    uint64_t hash =
        q->set * 0x9E3779B97F4A7C15u ^ (uint64_t)(q->claim_by + 67 * q->step) * 0xD1B54A32D192ED03u;
    uint32_t rgba;
    memcpy(&rgba, q->rgba, 4);
    hash = (hash ^ hash >> 29 ^ rgba) * 0xBF58476D1CE4E5B9u;
    return &kept[hash >> (64 - KEPT_BITS)];
}

static bool same_question(const Question *p, const Question *q) {
    return p->step == q->step && p->set == q->set && p->claim_by == q->claim_by &&
           same_pixel(p->rgba, q->rgba);
}

static Answer ask(Labelling *l, Kept *kept, const Question *q) {
    Kept *place = place_of(kept, q);
    if (!same_question(&place->question, q)) {
        *place = (Kept){*q, answer(l, q)};
        l->answers++;
    }
    return place->answer;
}

/* One edge pixel asks: in step 2 (all are loose still) about the flat pixels around it, in step 3 about those
 * that are pure or claimed as well. */
static Answer label_pixel(Labelling *l, Kept *kept, int step, size_t at) {
    PixelKind kind = l->kind[at];
    if (kind != PIXEL_CLAIMED && kind != PIXEL_LOOSE) return answer_of(l->label[at], kind);
    Question q = {.set = colours_around(l, at, step == 2 ? PIXEL_FLAT : PIXEL_CLAIMED),
                  .step = (uint8_t)step,
                  .claim_by = SWATCHES_MAX};
    if (kind == PIXEL_CLAIMED) {
        q.claim_by = l->label[at];
        q.set &= ~((uint64_t)1 << q.claim_by);
    }
    memcpy(q.rgba, l->picture->rgba + 4 * at, 4);
    return ask(l, kept, &q);
}

/* The answers wait in next[edges] until all are there. */
static void label_edges(Labelling *l, Kept *kept, int step, Answer *next) {
    for (size_t e = 0; e < l->edges && l->answers < MOST_ANSWERS; e++)
        next[e] = label_pixel(l, kept, step, (size_t)l->edge[e]);
    if (l->answers >= MOST_ANSWERS) {
        l->noisy = true;
        label_flat(l);
        return;
    }
    for (size_t e = 0; e < l->edges; e++) {
        l->label[l->edge[e]] = next[e].label;
        l->kind[l->edge[e]] = next[e].kind;
    }
}

bool labelling_label(Labelling *l, Err *err) {
    Kept *kept = mem_alloc(KEPT, sizeof *kept, err);
    Answer *next = kept ? mem_alloc(l->edges, sizeof *next, err) : NULL;
    if (next) {
        label_flat(l); /* 1 */
        for (int step = 2; step <= 3 && !l->noisy; step++) label_edges(l, kept, step, next);
    }
    free(kept);
    free(next);
    return next != NULL;
}
