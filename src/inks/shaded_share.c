/* How much of a picture is shaded. SPDX-License-Identifier: MIT
 *
 * 1. How far each pixel strays from its ink; at an edge, mixes of two inks stray by nature and count as near.
 * 2. Where pixels stray far, edges between inks and plain field are marked, and what lies near them: along
 * rows, then along columns.
 * 3. The pixels are counted.
 * Cost: O(pixels). */
#include "inks/steps.h"

#include "base/mem.h"

#include <stdlib.h>

#define PLAIN 3.0       /* CIEDE2000: such field is field itself, not a shadow on it */
#define SHADED 8.0      /* CIEDE2000 */
#define DEEP 16.0       /* CIEDE2000; chosen, twice that: by eye over the quality set */
#define SHADOW_REACH 16 /* a shadow or glow ends within long side / 16; slower changes are the light's */

#define GRAIN 12 /* of red, green and blue together: so far is a pixel of a photograph off its neighbours */

enum { EDGE_REACH = 3 /* px: so far a soft edge reaches */ };

/* How far a pixel is from its ink, by the limits above. */
typedef enum Stray { STRAY_PLAIN, STRAY_NEAR, STRAY_SHADED, STRAY_DEEP } Stray;

typedef struct Shares {
    const Labelling *l;  /* not owned */
    const uint8_t *ink;  /* [height][width] the swatch that is each pixel's ink; not owned */
    int field;           /* the background's ink, -1 = none */
    uint8_t *stray;      /* [height][width] Stray; owned */
    uint8_t *near_edge;  /* [height][width] 1 up to EDGE_REACH from an edge between inks; owned */
    uint8_t *near_plain; /* [height][width] 1 as near to plain field as shadows are; owned */
} Shares;

/* --- 1 --- */

/* How far colours of a bin stray from an ink, as was found out for one of them. */
typedef struct Told {
    uint8_t ink; /* swatch + 1; 0 = nothing yet */
    uint8_t stray;
} Told;

/* Told by the mean of the pixel's bin, which is nearly the pixel; so each bin is compared about once. */
static uint8_t stray_of(const Labelling *l, const uint8_t *rgba, int ink, Told *told) {
    size_t bin = histogram_bin(&l->histogram, rgba);
    if (told[bin].ink != ink + 1) {
        const Tint *mean = &l->histogram.bin[bin].mean, *of = &l->swatches.tint[ink];
        Stray stray = tint_within(mean, of, PLAIN)     ? STRAY_PLAIN
                      : tint_within(mean, of, SHADED)  ? STRAY_NEAR
                      : tint_distance(mean, of) > DEEP ? STRAY_DEEP
                                                       : STRAY_SHADED;
        told[bin] = (Told){(uint8_t)(ink + 1), (uint8_t)stray};
    }
    return told[bin].stray;
}

/* *any: does any pixel stray by SHADED or more? */
static bool measure_strays(Shares *s, bool *any, Err *err) {
    const Labelling *l = s->l;
    const uint8_t *rgba = l->picture->rgba, *ink = s->ink;
    Told *told = mem_alloc(l->histogram.count, sizeof *told, err);
    if (!told) return false;
    uint8_t stray = 0;
    *any = false;
    for (size_t i = 0; i < l->pixels; i++, rgba += 4) {
        bool again = i > 0 && ink[i] == ink[i - 1] && same_pixel(rgba, rgba - 4); /* as most */
        if (!again) stray = stray_of(l, rgba, ink[i], told);
        bool mixed = l->kind[i] == PIXEL_MIX && l->label[i] == ink[i];
        s->stray[i] = mixed && stray >= STRAY_SHADED ? STRAY_NEAR : stray;
        *any = *any || s->stray[i] >= STRAY_SHADED;
    }
    free(told);
    return true;
}

/* --- 2 --- */

/* near[x]: does a mark lie at most `reach` away in the row? */
static void widen_row(const uint8_t *mark, int w, int reach, uint8_t *near) {
    int away = reach + 1; /* px from the last mark */
    for (int x = 0; x < w; x++) {
        away = mark[x] ? 0 : away + 1;
        near[x] = away <= reach;
    }
    away = reach + 1;
    for (int x = w - 1; x >= 0; x--) {
        away = mark[x] ? 0 : away + 1;
        near[x] |= away <= reach;
    }
}

/* The same along all columns at once, row by row. away: [w] scratch. */
static void widen_columns(const uint8_t *mark, int w, int h, int reach, int *away, uint8_t *near) {
    for (int way = 0; way < 2; way++) { /* down, then up */
        for (int x = 0; x < w; x++) away[x] = reach + 1;
        for (int k = 0; k < h; k++) {
            size_t row = (size_t)(way == 0 ? k : h - 1 - k) * (size_t)w;
            for (int x = 0; x < w; x++) {
                away[x] = mark[row + (size_t)x] ? 0 : away[x] + 1;
                near[row + (size_t)x] = (uint8_t)((way == 1 && near[row + (size_t)x]) || away[x] <= reach);
            }
        }
    }
}

/* Marks all within a square of `reach` round each mark as well. */
static bool widen(uint8_t *mark, int w, int h, int reach, Err *err) {
    uint8_t *along = mem_alloc((size_t)w * (size_t)h, 1, err);
    int *away = along ? mem_alloc((size_t)w, sizeof *away, err) : NULL;
    if (away) {
        for (size_t row = 0; row < (size_t)w * (size_t)h; row += (size_t)w)
            widen_row(mark + row, w, reach, along + row);
        widen_columns(along, w, h, reach, away, mark);
    }
    free(along);
    free(away);
    return away != NULL;
}

static void mark_edges(const uint8_t *ink, int w, int h, uint8_t *mark) {
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            size_t i = (size_t)y * (size_t)w + (size_t)x;
            if (x + 1 < w && ink[i] != ink[i + 1]) mark[i] = mark[i + 1] = 1;
            if (y + 1 < h && ink[i] != ink[i + (size_t)w]) mark[i] = mark[i + (size_t)w] = 1;
        }
}

static bool mark_near(Shares *s, Err *err) {
    int w = s->l->picture->width, h = s->l->picture->height, side = w > h ? w : h;
    int reach = side / SHADOW_REACH > EDGE_REACH ? side / SHADOW_REACH : EDGE_REACH + 1;
    mark_edges(s->ink, w, h, s->near_edge);
    for (size_t i = 0; i < s->l->pixels; i++)
        s->near_plain[i] = s->ink[i] == s->field && s->stray[i] == STRAY_PLAIN;
    return widen(s->near_edge, w, h, EDGE_REACH, err) && widen(s->near_plain, w, h, reach, err);
}

/* --- 3 --- */

/* Differs the pixel from the mean of those beside it? A gradient does not, and neither does soft shading. */
static bool is_grained(const Shares *s, size_t i) {
    size_t w = (size_t)s->l->picture->width, x = i % w, y = i / w;
    if (x == 0 || y == 0 || x + 1 == w || i + w >= s->l->pixels) return false;
    const uint8_t *p = s->l->picture->rgba + 4 * i;
    int bend = 0;
    for (int c = 0; c < 3; c++) {
        int across = abs(2 * p[c] - p[c - 4] - p[c + 4]),
            down = abs(2 * p[c] - (p - 4 * w)[c] - (p + 4 * w)[c]);
        bend += across > down ? across : down;
    }
    return bend >= GRAIN;
}

static void count_shares(const Shares *s, InkMap *out) {
    double shaded = 0, deeply = 0, all = 0, grained = 0;
    for (size_t i = 0; i < s->l->pixels; i++) {
        bool is_deep = s->stray[i] == STRAY_DEEP;
        bool far = s->stray[i] >= STRAY_SHADED && !s->near_edge[i];
        if (s->ink[i] == s->field) {
            bool shadow = far && (s->near_plain[i] || is_deep);
            grained += shadow && is_grained(s, i);
            shaded += shadow;
            deeply += shadow && is_deep;
            all += shadow;
        } else {
            bool shade = s->l->kind[i] != PIXEL_MIX && s->l->label[i] != s->ink[i];
            shaded += shade || far;
            grained += (shade || far) && is_grained(s, i);
            deeply += far && is_deep;
            all++;
        }
    }
    out->shaded = all > 0 ? shaded / all : 0;
    out->deep = all > 0 ? deeply / all : 0;
    out->grain = shaded > 0 ? grained / shaded : 0;
}

bool shaded_share(const Labelling *l, const uint8_t *ink, int field, InkMap *out, Err *err) {
    Shares s = {.l = l, .ink = ink, .field = field};
    s.stray = mem_alloc(l->pixels, 1, err);
    s.near_edge = mem_alloc(l->pixels, 1, err);
    s.near_plain = mem_alloc(l->pixels, 1, err);
    bool any, good = s.stray && s.near_edge && s.near_plain && measure_strays(&s, &any, err); /* 1 */
    if (good && any) good = mark_near(&s, err);                                               /* 2 */
    if (good) count_shares(&s, out);                                                          /* 3 */
    free(s.stray);
    free(s.near_edge);
    free(s.near_plain);
    return good;
}
