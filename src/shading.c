/* Gradients, shadows, glows: colours that run into each other. SPDX-License-Identifier: MIT
 *
 * Two labels meet between two pixels. The two by three pixels on this side and on that are averaged, which
 * takes off grain: their middles are 2 px apart, so the design's CIEDE2000 3 across 3 px is 2 here. The two
 * pixels themselves must be alike too, else a fine hatching would look like one tint. */
#include "shading.h"

#include "mem.h"

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
#define MEET_LEAST 0.05 /* of the smaller colour's border; less is a chance meeting */
#define SHADED 8.0      /* CIEDE2000, design 5 */
#define PLAIN 3.0       /* CIEDE2000: such field is field itself, not a shadow on it */
#define SHADOW_REACH 16 /* a shadow or glow ends within long side / 16; slower changes are the light's */

enum {
    EDGE_REACH = 3 /* px, design 5 */,
    FARTHER = 3,
    LOOKED_AT = 30000 /* borders looked at; of more, every n-th */
};

typedef struct Meetings {
    int stride, turn;
    int total[SWATCHES_MAX][SWATCHES_MAX], soft[SWATCHES_MAX][SWATCHES_MAX];
} Meetings;

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

static void look(const Labelling *l, Meetings *m, int x, int y, int dx, int dy) {
    size_t w = (size_t)l->picture->width;
    int a = l->label[(size_t)y * w + (size_t)x], b = l->label[(size_t)(y + dy) * w + (size_t)(x + dx)];
    if (m->turn++ % m->stride != 0) return;
    int soft = meets_softly(l, x, y, dx, dy);
    m->total[a][b]++, m->total[b][a]++;
    m->soft[a][b] += soft, m->soft[b][a] += soft;
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

static void look_everywhere(const Labelling *l, Meetings *m) {
    int w = l->picture->width, h = l->picture->height;
    m->stride = 1 + count_borders(l) / LOOKED_AT;
    for (int y = 0; y < h; y++) {
        const uint8_t *row = l->label + (size_t)y * (size_t)w;
        for (int x = 0; x < w; x++) {
            if (x + 1 < w && row[x] != row[x + 1]) look(l, m, x, y, 1, 0);
            if (y + 1 < h && row[x] != row[x + w]) look(l, m, x, y, 0, 1);
        }
    }
}

static int top_of(const int *up, int k) {
    while (up[k] != k) k = up[k];
    return k;
}

/* The larger of the two tops becomes the top of both. */
static void join(int *up, const int *pixels, int a, int b) {
    a = top_of(up, a);
    b = top_of(up, b);
    if (a == b) return;
    if (pixels[a] > pixels[b] || (pixels[a] == pixels[b] && a < b))
        up[b] = a;
    else
        up[a] = b;
}

static void join_soft(const Meetings *m, int count, const int *pixels, int *up) {
    int border[SWATCHES_MAX] = {0};
    for (int a = 0; a < count; a++)
        for (int b = 0; b < count; b++) border[a] += m->total[a][b];
    for (int a = 0; a < count; a++)
        for (int b = 0; b < a; b++) {
            int smaller = border[a] < border[b] ? border[a] : border[b];
            if (m->total[a][b] == 0 || 2 * m->soft[a][b] <= m->total[a][b]) continue;
            if (m->total[a][b] >= MEET_LEAST * smaller) join(up, pixels, a, b);
        }
}

void shading_roots(const Labelling *l, int root[SWATCHES_MAX]) {
    size_t size = (size_t)l->picture->width * (size_t)l->picture->height;
    int pixels[SWATCHES_MAX] = {0}, up[SWATCHES_MAX];
    Meetings m = {0};
    for (size_t i = 0; i < size; i++) pixels[l->label[i]]++;
    for (int k = 0; k < SWATCHES_MAX; k++) up[k] = k;
    look_everywhere(l, &m);
    join_soft(&m, l->swatches.count, pixels, up);
    for (int k = 0; k < SWATCHES_MAX; k++) root[k] = top_of(up, k);
}

/* --- the share
 * ---------------------------------------------------------------------------------------------------- */

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

enum { BY_SHADED = 1, BY_PLAIN = 2 };

/* What each pixel is: over SHADED from its ink, or within PLAIN of it; told by the mean of its bin, as good
 * as always asked once a bin. Returns how many are over. */
static int compare_with_ink(const Labelling *l, const uint8_t *ink, uint8_t *is) {
    size_t size = (size_t)l->picture->width * (size_t)l->picture->height;
    const uint8_t *rgba = l->picture->rgba;
    int over = 0;
    for (size_t i = 0; i < l->histogram.count; i++) l->histogram.bin[i].note = 0;
    for (size_t i = 0; i < size; i++, rgba += 4) {
        Bin *bin = histogram_bin(&l->histogram, rgba);
        if ((int)(bin->note & 0xFF) != ink[i] + 1) {
            const Tint *of = &l->swatches.tint[ink[i]];
            int what = tint_within(&bin->mean, of, PLAIN)    ? BY_PLAIN
                       : tint_within(&bin->mean, of, SHADED) ? 0
                                                             : BY_SHADED;
            bin->note = (uint64_t)(what << 8 | (ink[i] + 1));
        }
        is[i] = (uint8_t)(bin->note >> 8);
        if (l->kind[i] == PIXEL_MIX && l->label[i] == ink[i] && is[i] == BY_SHADED)
            is[i] = 0; /* at an edge by its nature */
        over += is[i] == BY_SHADED;
    }
    return over;
}

static double count_share(const Labelling *l, const uint8_t *ink, int field, const uint8_t *is,
                          const uint8_t *near_edge, const uint8_t *near_plain) {
    size_t size = (size_t)l->picture->width * (size_t)l->picture->height;
    double shaded = 0, all = 0;
    for (size_t i = 0; i < size; i++) {
        bool shade = l->kind[i] != PIXEL_MIX && l->label[i] != ink[i];
        bool far = is[i] == BY_SHADED && !near_edge[i];
        if (ink[i] == field) {
            bool shadow = far && near_plain[i];
            shaded += shadow;
            all += shadow;
        } else {
            shaded += shade || far;
            all++;
        }
    }
    return all > 0 ? shaded / all : 0;
}

bool shading_share(const Labelling *l, const uint8_t *ink, int field, double *out, Err *err) {
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
    if (good) *out = count_share(l, ink, field, is, near_edge, near_plain);
    free(mark);
    return good;
}
