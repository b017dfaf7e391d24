/* Gradients, shadows, glows: colours that run into each other. SPDX-License-Identifier: MIT
 *
 * Two labels meet between two pixels. The two by three pixels on this side and on that are averaged, which
 * takes off grain: their middles are 2 px apart, so the design's CIEDE2000 3 across 3 px is 2 here. The two
 * pixels themselves must be alike too, else a fine hatching would look like one tint. */
#include "inks/shading.h"

#include "base/components.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SOFT 2.0    /* CIEDE2000 across 2 px */
#define HATCHED 8.0 /* CIEDE2000 between neighbours: no shading whatever the averages say */
/* A ramp's step across 2 px, of its change across 8: a straight one has 0.25, one of 6 px 0.29; an edge that
 * averaging made soft over 4 px 0.4. JPEG blurs hue over more, but not lightness: that must ramp too, to
 * LIGHT of OKLab. */
#define RAMP 0.35
#define LIGHT 0.015f
#define NEXT 30.0       /* CIEDE2000; chosen: colours farther apart do not follow each other in a shading */
#define NARROW 5.0      /* px; chosen: a soft edge and its echo in JPEG */
#define MEET_LEAST 0.05 /* of the smaller colour's border; less is a chance meeting */
#define SHADED 8.0      /* CIEDE2000, design 5 */
#define DEEP 16.0       /* CIEDE2000; chosen, twice that: by eye over the quality set */
#define PLAIN 3.0       /* CIEDE2000: such field is field itself, not a shadow on it */
#define SHADOW_REACH 16 /* a shadow or glow ends within long side / 16; slower changes are the light's */

enum {
    EDGE_REACH = 3 /* px, design 5 */,
    FARTHER = 3,
    LOOKED_AT = 30000 /* borders looked at; of more, every n-th */
};

/* A border between two regions, a < b; or, once summed up, all borders between them. */
typedef struct Meeting {
    int32_t a, b;
    int32_t total, soft;
} Meeting;

/* The mean of the pixels `behind` and behind + 1 steps back from the border at (x, y), and of those beside
 * both; false if all lie outside the picture. */
static bool mean_of_side(const Labelling *l, int x, int y, int back_x, int back_y, int behind, Tint *out) {
    int w = l->picture->width, h = l->picture->height, count = 0;
    float sum[4] = {0};
    for (int back = behind; back < behind + 2; back++)
        for (int side = -1; side <= 1; side++) {
            int u = x + back * back_x + side * (back_y != 0), v = y + back * back_y + side * (back_x != 0);
            if (u < 0 || v < 0 || u >= w || v >= h) continue;
            Tint tint = labelling_tint(l, (size_t)v * (size_t)w + (size_t)u);
            for (int i = 0; i < 4; i++) sum[i] += tint.linear[i];
            count++;
        }
    if (count == 0) return false;
    for (int i = 0; i < 4; i++) sum[i] /= (float)count;
    *out = tint_of_linear(sum);
    return true;
}

/* Of the lightness over black, and over white. */
static bool lightness_ramps(const Tint *p, const Tint *q, const Tint *far_p, const Tint *far_q) {
    for (int ground = 0; ground < 2; ground++) {
        float near = p->ok[0] - q->ok[0], far = far_p->ok[0] - far_q->ok[0];
        if (ground) {
            near -= p->ok[3] - q->ok[3];
            far -= far_p->ok[3] - far_q->ok[3];
        }
        if (fabsf(near) > (float)RAMP * fabsf(far) + LIGHT) return false;
    }
    return true;
}

static bool meets_softly(const Labelling *l, int x, int y, int dx, int dy) {
    size_t w = (size_t)l->picture->width;
    Tint p = labelling_tint(l, (size_t)y * w + (size_t)x);
    Tint q = labelling_tint(l, (size_t)(y + dy) * w + (size_t)(x + dx));
    if (!tint_within(&p, &q, HATCHED)) return false;
    (void)mean_of_side(l, x, y, -dx, -dy, 0, &p);
    (void)mean_of_side(l, x + dx, y + dy, dx, dy, 0, &q);
    double step = tint_distance(&p, &q);
    if (step < SOFT) return true;
    Tint far_p, far_q;
    return mean_of_side(l, x, y, -dx, -dy, FARTHER, &far_p) &&
           mean_of_side(l, x + dx, y + dy, dx, dy, FARTHER, &far_q) &&
           step < RAMP * tint_distance(&far_p, &far_q) && lightness_ramps(&p, &q, &far_p, &far_q);
}

static int count_borders(const Labelling *l) {
    int w = l->picture->width, h = l->picture->height, count = 0;
    for (int y = 0; y < h; y++) {
        const uint8_t *row = l->label + (size_t)y * (size_t)w;
        for (int x = 0; x < w; x++)
            count += (x + 1 < w && row[x] != row[x + 1]) + (y + 1 < h && row[x] != row[x + w]);
    }
    return count;
}

static Meeting look(const Labelling *l, const Regions *r, int x, int y, int dx, int dy) {
    size_t w = (size_t)l->picture->width;
    int32_t a = r->of[(size_t)y * w + (size_t)x], b = r->of[(size_t)(y + dy) * w + (size_t)(x + dx)];
    return (Meeting){a < b ? a : b, a < b ? b : a, 1, meets_softly(l, x, y, dx, dy)};
}

/* Looks at every stride-th border; returns how many. */
static size_t look_everywhere(const Labelling *l, const Regions *r, int stride, Meeting *out) {
    int w = l->picture->width, h = l->picture->height, turn = 0;
    size_t count = 0;
    for (int y = 0; y < h; y++) {
        const uint8_t *row = l->label + (size_t)y * (size_t)w;
        for (int x = 0; x < w; x++) {
            if (x + 1 < w && row[x] != row[x + 1] && turn++ % stride == 0)
                out[count++] = look(l, r, x, y, 1, 0);
            if (y + 1 < h && row[x] != row[x + w] && turn++ % stride == 0)
                out[count++] = look(l, r, x, y, 0, 1);
        }
    }
    return count;
}

static int compare_meetings(const void *p, const void *q) {
    const Meeting *m = p, *n = q;
    if (m->a != n->a) return m->a < n->a ? -1 : 1;
    if (m->b != n->b) return m->b < n->b ? -1 : 1;
    return m->soft - n->soft; /* equal ones only add up */
}

/* One meeting for each pair of regions, in order; returns how many. */
static size_t sum_meetings(Meeting *m, size_t count) {
    size_t kept = 0;
    qsort(m, count, sizeof *m, compare_meetings);
    for (size_t i = 0; i < count; i++) {
        if (kept == 0 || m[kept - 1].a != m[i].a || m[kept - 1].b != m[i].b) {
            m[kept++] = m[i];
            continue;
        }
        m[kept - 1].total += m[i].total;
        m[kept - 1].soft += m[i].soft;
    }
    return kept;
}

static int32_t top_of(int32_t *up, int32_t k) {
    while (up[k] != k) k = up[k] = up[up[k]];
    return k;
}

/* A region about as narrow as a soft edge, between colours far apart, is what JPEG left of the edge's hue; a
 * shading has colours in between. */
static bool is_edge(const Labelling *l, const Regions *r, const Meeting *m, const int32_t *border,
                    int stride) {
    const Tint *tint = l->swatches.tint;
    double width = HUGE_VAL; /* twice the area by the outline, which is the border on both sides */
    for (int k = 0; k < 2; k++) {
        int32_t region = k ? m->b : m->a;
        width = fmin(width, 2.0 * r->pixels[region] / ((double)border[region] * stride));
    }
    return width < NARROW && tint_distance(&tint[r->value[m->a]], &tint[r->value[m->b]]) > NEXT;
}

/* Joins the regions that meet softly on most of what they share, and share more than a chance meeting. */
static void join_soft(const Labelling *l, const Regions *r, int stride, const Meeting *m, size_t count,
                      int32_t *border, int32_t *up) {
    for (size_t i = 0; i < count; i++) {
        border[m[i].a] += m[i].total;
        border[m[i].b] += m[i].total;
    }
    for (size_t i = 0; i < count; i++) {
        int32_t smaller = border[m[i].a] < border[m[i].b] ? border[m[i].a] : border[m[i].b];
        if (2 * m[i].soft <= m[i].total || m[i].total < MEET_LEAST * smaller) continue;
        if (is_edge(l, r, &m[i], border, stride)) continue;
        int32_t a = top_of(up, m[i].a), b = top_of(up, m[i].b);
        if (a < b)
            up[b] = a;
        else
            up[a] = b;
    }
}

/* What a joined region holds of each swatch: (top region, swatch) in order, summed up; the largest is its
 * ink. */
typedef struct Holding {
    int32_t top, pixels;
    uint8_t swatch;
} Holding;

static int compare_holdings(const void *p, const void *q) {
    const Holding *a = p, *b = q;
    if (a->top != b->top) return a->top < b->top ? -1 : 1;
    return a->swatch - b->swatch;
}

/* swatch_of[top] = the swatch with most pixels of all regions under that top. */
static void elect_inks(const Regions *r, int32_t *up, Holding *h, uint8_t *swatch_of) {
    for (int32_t i = 0; i < r->count; i++) h[i] = (Holding){top_of(up, i), r->pixels[i], r->value[i]};
    qsort(h, (size_t)r->count, sizeof *h, compare_holdings);
    int32_t most = 0, sum = 0;
    for (int32_t i = 0; i < r->count; i++) {
        bool same_top = i > 0 && h[i].top == h[i - 1].top;
        sum = same_top && h[i].swatch == h[i - 1].swatch ? sum + h[i].pixels : h[i].pixels;
        if (same_top && sum <= most) continue;
        most = sum;
        swatch_of[h[i].top] = h[i].swatch;
    }
}

static bool join_regions(const Labelling *l, const Regions *r, uint8_t *ink, Err *err) {
    int borders = count_borders(l), stride = 1 + borders / LOOKED_AT;
    size_t looks = (size_t)borders / (size_t)stride + 1;
    size_t regions = (size_t)r->count, size = (size_t)l->picture->width * (size_t)l->picture->height;
    Meeting *meeting = mem_alloc(looks, sizeof *meeting, err);
    Holding *holding = mem_alloc(regions, sizeof *holding, err);
    int32_t *up = mem_alloc(2 * regions, sizeof *up, err);
    uint8_t *swatch_of = mem_alloc(regions, 1, err);
    bool good = meeting && holding && up && swatch_of;
    if (good) {
        for (int32_t i = 0; i < r->count; i++) up[i] = i;
        size_t count = sum_meetings(meeting, look_everywhere(l, r, stride, meeting));
        join_soft(l, r, stride, meeting, count, up + regions, up);
        elect_inks(r, up, holding, swatch_of);
        for (size_t i = 0; i < size; i++) ink[i] = swatch_of[top_of(up, r->of[i])];
    }
    free(meeting);
    free(holding);
    free(up);
    free(swatch_of);
    return good;
}

bool shading_inks(const Labelling *l, uint8_t *ink, Err *err) {
    Regions regions;
    if (!regions_find(l->label, l->picture->width, l->picture->height, &regions, err)) return false;
    bool good = join_regions(l, &regions, ink, err);
    regions_free(&regions);
    return good;
}

/* --- the share --- */

static void widen_row(uint8_t *row, int from, int to, int step, int reach) {
    int last = reach + 1; /* how far back the last mark is */
    for (int x = from; x != to; x += step) {
        last = row[x] == 1 ? 0 : last + 1;
        if (row[x] == 0 && last <= reach) row[x] = 2;
    }
}

/* Marks (2) all within a square of `reach` round each mark (1): along rows, then along columns, each there
 * and back. last[x]: how far back the last mark of the column is. */
static bool widen(uint8_t *mark, int w, int h, int reach, Err *err) {
    int *last = mem_alloc((size_t)w, sizeof *last, err);
    if (!last) return false;
    for (int y = 0; y < h; y++) {
        uint8_t *row = mark + (size_t)y * (size_t)w;
        widen_row(row, 0, w, 1, reach);
        widen_row(row, w - 1, -1, -1, reach);
    }
    for (size_t i = 0; i < (size_t)w * (size_t)h; i++) mark[i] = mark[i] != 0;
    for (int back = 0; back < 2; back++) {
        for (int x = 0; x < w; x++) last[x] = reach + 1;
        for (int k = 0; k < h; k++) {
            uint8_t *row = mark + (size_t)(back ? h - 1 - k : k) * (size_t)w;
            for (int x = 0; x < w; x++) {
                last[x] = row[x] == 1 ? 0 : last[x] + 1;
                if (row[x] == 0 && last[x] <= reach) row[x] = 2;
            }
        }
    }
    free(last);
    return true;
}

static void mark_edges(const uint8_t *ink, int w, int h, uint8_t *mark) {
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            size_t i = (size_t)y * (size_t)w + (size_t)x;
            if (x + 1 < w && ink[i] != ink[i + 1]) mark[i] = mark[i + 1] = 1;
            if (y + 1 < h && ink[i] != ink[i + (size_t)w]) mark[i] = mark[i + (size_t)w] = 1;
        }
}

enum { BY_PLAIN = 1, BY_SHADED, BY_DEEP };

/* What a pixel of that ink is, told by the mean of its bin, as good as always asked once a bin. */
static uint8_t compare_pixel(const Labelling *l, const uint8_t *rgba, int ink) {
    Bin *bin = histogram_bin(&l->histogram, rgba);
    if ((int)(bin->note & 0xFF) != ink + 1) {
        const Tint *of = &l->swatches.tint[ink];
        int what = tint_within(&bin->mean, of, PLAIN)     ? BY_PLAIN
                   : tint_within(&bin->mean, of, SHADED)  ? 0
                   : tint_distance(&bin->mean, of) > DEEP ? BY_DEEP
                                                          : BY_SHADED;
        bin->note = (uint64_t)(what << 8 | (ink + 1));
    }
    return (uint8_t)(bin->note >> 8);
}

/* What each pixel is: within PLAIN of its ink, over SHADED from it, or over DEEP. Returns how many are over.
 */
static int compare_with_ink(const Labelling *l, const uint8_t *ink, uint8_t *is) {
    size_t size = (size_t)l->picture->width * (size_t)l->picture->height;
    const uint8_t *rgba = l->picture->rgba;
    int over = 0;
    uint8_t what = 0;
    for (size_t i = 0; i < l->histogram.count; i++) l->histogram.bin[i].note = 0;
    for (size_t i = 0; i < size; i++, rgba += 4) {
        bool again = i > 0 && ink[i] == ink[i - 1] && memcmp(rgba, rgba - 4, 4) == 0; /* as most */
        if (!again) what = compare_pixel(l, rgba, ink[i]);
        is[i] = what;
        if (l->kind[i] == PIXEL_MIX && l->label[i] == ink[i] && is[i] >= BY_SHADED)
            is[i] = 0; /* at an edge by its nature */
        over += is[i] >= BY_SHADED;
    }
    return over;
}

static void count_share(const Labelling *l, const uint8_t *ink, int field, const uint8_t *is,
                        const uint8_t *near_edge, const uint8_t *near_plain, double *share, double *deeply) {
    size_t size = (size_t)l->picture->width * (size_t)l->picture->height;
    double shaded = 0, deep = 0, all = 0;
    for (size_t i = 0; i < size; i++) {
        bool shade = l->kind[i] != PIXEL_MIX && l->label[i] != ink[i];
        bool far = is[i] >= BY_SHADED && !near_edge[i];
        if (ink[i] == field) {
            bool shadow = far && (near_plain[i] || is[i] == BY_DEEP);
            shaded += shadow;
            deep += shadow && is[i] == BY_DEEP;
            all += shadow;
        } else {
            shaded += shade || far;
            deep += far && is[i] == BY_DEEP;
            all++;
        }
    }
    *share = all > 0 ? shaded / all : 0;
    *deeply = all > 0 ? deep / all : 0;
}

bool shading_share(const Labelling *l, const uint8_t *ink, int field, double *share, double *deeply,
                   Err *err) {
    int w = l->picture->width, h = l->picture->height, side = w > h ? w : h;
    size_t size = (size_t)w * (size_t)h;
    uint8_t *mark = mem_alloc(3 * size, 1, err);
    if (!mark) return false;
    uint8_t *near_edge = mark, *is = mark + size, *near_plain = mark + 2 * size;
    bool any = compare_with_ink(l, ink, is) > 0;
    if (any) mark_edges(ink, w, h, near_edge);
    for (size_t i = 0; i < size; i++) near_plain[i] = ink[i] == field && is[i] == BY_PLAIN;
    int reach = side / SHADOW_REACH > EDGE_REACH ? side / SHADOW_REACH : EDGE_REACH + 1;
    bool good = !any || (widen(near_edge, w, h, EDGE_REACH, err) && widen(near_plain, w, h, reach, err));
    if (good) count_share(l, ink, field, is, near_edge, near_plain, share, deeply);
    free(mark);
    return good;
}
