/* The flat colours of a logo. SPDX-License-Identifier: MIT
 *
 * 1. Swatches and labels: the main colours, each pixel's nearest; mixes of two that meet go to the one they
 * have more of (find_swatches.c, labelling.c).
 * 2. Shadings are joined area by area (shading.c); a swatch that is mostly shade is so everywhere; of over
 * INKS_MAX inks the smallest are given to their nearest.
 * 3. The field (find_field.c), how much is shaded (shaded_share.c), the circle of the foreground, the roundel
 * test; shares, and which inks meet (count_inks.c).
 * 4. Where the foreground fills at most half of the picture, all again in that part alone (crop_to_logo.c).
 * 5. What of it comes into the disc (fit_picture.c); a full rectangle in a transparent margin as if there
 * were none.
 * 6. What of the drawing is lost to the eye already, since its colours are one ink (find_faint.c).
 *
 * Invariant: nothing depends on the order of pixels, so turning, mirroring or tiling the picture changes no
 * ink (tiling but for 4: an ink that is small beside a wide margin may be lost where tiles lessen it).
 * Mixes are looked for along encoded values as well as in linear light, since that is how most programs draw
 * and how JPEG blurs (tint.c). */
#include "inks/inks.h"

#include "base/mem.h"
#include "inks/steps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define RIM 0.965        /* of the radius: the roundel's rim begins */
#define RIM_LEAST 0.9    /* of the rim's circle is not field, in a roundel */
#define MARGIN 0.03      /* of the longer side: the widest of a full square, each side */
#define LONG 1.15        /* longer side / shorter side, of a flag in any margin */
#define FILLED 0.99      /* of its box that a rectangle fills */
#define INNER_LEAST 0.01 /* of a roundel is of another ink than most of it: else it is but a disc */

enum { FOLLOW = 4 }; /* a swatch is all shade if every so many-th of its pixels is */

/* --- step 2: inks --- */

static void count_labels(const uint8_t *label, size_t size, int pixels[SWATCHES_MAX]) {
    memset(pixels, 0, SWATCHES_MAX * sizeof *pixels);
    for (size_t i = 0, end; i < size; i = end) {
        end = run_end(label, i, size);
        pixels[label[i]] += (int)(end - i);
    }
}

/* A swatch that is a shade of a larger ink in a quarter of its pixels or more is so everywhere: what shows of
 * a shadow through a hole, say. */
static void follow_shades(const Labelling *l, const uint8_t *ink, int pixels[SWATCHES_MAX],
                          int root[SWATCHES_MAX]) {
    int of[SWATCHES_MAX][SWATCHES_MAX] = {{0}}, all[SWATCHES_MAX] = {0};
    for (size_t i = 0, end = 0, even = 0; i < l->pixels; i = end) {
        if (i >= even) even = run_end(l->label, i, l->pixels);
        end = run_end(ink, i, even);
        of[l->label[i]][ink[i]] += (int)(end - i);
    }
    for (int k = 0; k < l->swatches.count; k++)
        for (int m = 0; m < l->swatches.count; m++) all[k] += of[k][m];
    for (int k = 0; k < l->swatches.count; k++) {
        int most = -1;
        for (int m = 0; m < l->swatches.count; m++)
            if (m != k && all[m] > all[k] && (most < 0 || of[k][m] > of[k][most])) most = m;
        if (most >= 0 && FOLLOW * of[k][most] >= all[k]) root[k] = most;
    }
    for (int k = 0; k < l->swatches.count; k++) {
        int top = k;
        while (root[top] != top) top = root[top]; /* ever larger ones: this ends */
        root[k] = top;
        if (top == k) continue;
        pixels[top] += pixels[k];
        pixels[k] = 0;
    }
}

/* However much shines through it, there is one transparent ink: the largest. */
static void join_transparent(const Labelling *l, int pixels[SWATCHES_MAX], int root[SWATCHES_MAX]) {
    int largest = -1;
    for (int k = 0; k < l->swatches.count; k++)
        if (tint_transparent(&l->swatches.tint[k]) && (largest < 0 || pixels[k] > pixels[largest]))
            largest = k;
    for (int k = 0; k < l->swatches.count; k++) {
        if (k == largest || !tint_transparent(&l->swatches.tint[k])) continue;
        for (int j = 0; j < l->swatches.count; j++)
            if (root[j] == k) root[j] = largest;
        pixels[largest] += pixels[k];
        pixels[k] = 0;
    }
}

/* The INKS_MAX largest, if they hold enough, are inks; the rest is given to the nearest of them. */
static void hold_to_most(const Labelling *l, const int pixels[SWATCHES_MAX], int root[SWATCHES_MAX]) {
    bool kept[SWATCHES_MAX] = {false};
    Swatches few = {0};
    int of[INKS_MAX];
    double least = swatches_least(l);
    while (few.count < INKS_MAX) {
        int largest = -1;
        for (int k = 0; k < l->swatches.count; k++)
            if (!kept[k] && pixels[k] > 0 && (largest < 0 || pixels[k] > pixels[largest])) largest = k;
        if (largest < 0 || (few.count > 0 && pixels[largest] < least)) break;
        kept[largest] = true;
        of[few.count] = largest;
        few.tint[few.count++] = l->swatches.tint[largest];
    }
    for (int k = 0; k < l->swatches.count; k++)
        if (!kept[root[k]]) root[k] = of[tint_nearest(&l->swatches.tint[root[k]], &few)];
}

/* The swatch that is the ink of each pixel. */
static bool choose_inks(const Labelling *l, uint8_t *ink, Err *err) {
    int root[SWATCHES_MAX], pixels[SWATCHES_MAX];
    if (!shading_inks(l, ink, err)) return false;
    count_labels(ink, l->pixels, pixels);
    for (int k = 0; k < SWATCHES_MAX; k++) root[k] = k;
    follow_shades(l, ink, pixels, root);
    join_transparent(l, pixels, root);
    hold_to_most(l, pixels, root);
    for (size_t i = 0; i < l->pixels; i++) ink[i] = (uint8_t)root[ink[i]];
    return true;
}

/* --- step 3: field, circle, roundel --- */

static Circle whole_circle(int w, int h) {
    return (Circle){w / 2.0, h / 2.0, hypot(w, h) / 2};
}

/* Of each row only the ends can touch it. */
bool foreground_circle(const uint8_t *ink, int w, int h, int field, Circle *out, Err *err) {
    Point *corner = mem_alloc(4 * (size_t)h, sizeof *corner, err);
    if (!corner) return false;
    size_t count = 0;
    for (int y = 0; y < h; y++) {
        const uint8_t *row = ink + (size_t)y * (size_t)w;
        int left = 0, right = w - 1;
        while (left < w && row[left] == field) left++;
        if (left == w) continue;
        while (row[right] == field) right--;
        for (int k = 0; k < 4; k++) corner[count++] = (Point){k & 1 ? right + 1 : left, y + (k >> 1)};
    }
    *out = count > 0 ? enclosing_circle(corner, count) : whole_circle(w, h);
    free(corner);
    return true;
}

static double from_centre(Circle c, int x, int y) {
    return hypot(x + 0.5 - c.x, y + 0.5 - c.y);
}

/* Is there more than one ink inside the rim? */
static bool shows_something(const uint8_t *ink, int w, int h, Circle c) {
    double count[SWATCHES_MAX] = {0}, all = 0, most = 0;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            if (from_centre(c, x, y) >= RIM * c.r) continue;
            count[ink[(size_t)y * (size_t)w + (size_t)x]]++;
            all++;
        }
    for (int k = 0; k < SWATCHES_MAX; k++) most = fmax(most, count[k]);
    return all - most >= INNER_LEAST * all;
}

/* Not field on RIM_LEAST of the circle at RIM of the radius. Places outside the picture are field. */
static bool has_rim(const uint8_t *ink, int w, int h, int field, Circle c) {
    int steps = 4 * (int)ceil(2 * c.r); /* a multiple of four, so that quarter turns see the same places */
    int hits = 0;
    for (int i = 0; i < steps; i++) {
        double angle = (i + 0.5) * 2 * PI / steps;
        int x = (int)floor(c.x + RIM * c.r * cos(angle)), y = (int)floor(c.y + RIM * c.r * sin(angle));
        hits += x >= 0 && y >= 0 && x < w && y < h && ink[(size_t)y * (size_t)w + (size_t)x] != field;
    }
    return hits >= RIM_LEAST * steps;
}

/* A roundel's field is the ink with most of its rim; what lies round it is given to that, so that it is no
 * ink of the picture any more. */
static int take_rim(uint8_t *ink, int w, int h, int outside, Circle c) {
    int count[SWATCHES_MAX] = {0}, field = 0;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            double r = from_centre(c, x, y);
            if (r >= RIM * c.r && r <= c.r) count[ink[(size_t)y * (size_t)w + (size_t)x]]++;
        }
    count[outside] = 0;
    for (int k = 1; k < SWATCHES_MAX; k++)
        if (count[k] > count[field]) field = k;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            uint8_t *at = &ink[(size_t)y * (size_t)w + (size_t)x];
            if (*at == outside && from_centre(c, x, y) >= RIM * c.r) *at = (uint8_t)field;
        }
    return field;
}

/* The swatches in use are the inks, in the order of the swatches. */
static void fill_map(const Labelling *l, int field, uint8_t *ink, InkMap *map) {
    int pixels[SWATCHES_MAX], number[SWATCHES_MAX] = {0};
    count_labels(ink, l->pixels, pixels);
    for (int k = 0; k < SWATCHES_MAX; k++) {
        if (pixels[k] == 0) continue;
        const Tint *tint = &l->swatches.tint[k];
        Ink *added = &map->ink[number[k] = map->count++];
        added->transparent = tint_transparent(tint);
        if (!added->transparent) added->srgb = tint_rgb8(tint);
    }
    map->field = number[field];
    for (size_t i = 0; i < l->pixels; i++) ink[i] = (uint8_t)number[ink[i]];
    map->label = ink;
}

static bool survey(const Labelling *l, uint8_t *ink, InkMap *map, Err *err) {
    int w = l->picture->width, h = l->picture->height;
    int field;
    if (!find_field(l, ink, &field, &map->full_bleed, err)) return false;
    map->circle = whole_circle(w, h);
    if (!shaded_share(l, ink, map->full_bleed ? -1 : field, map, err)) return false;
    if (!map->full_bleed) {
        if (!foreground_circle(ink, w, h, field, &map->circle, err)) return false;
        map->roundel = has_rim(ink, w, h, field, map->circle) && shows_something(ink, w, h, map->circle);
        if (map->roundel) field = take_rim(ink, w, h, field, map->circle);
    }
    fill_map(l, field, ink, map);
    if (!count_inks(map, err)) return false;
    order_inks(map);
    return true;
}

static bool find_everywhere(const Picture *picture, InkMap *out, Err *err) {
    InkMap map = {.width = picture->width, .height = picture->height};
    Labelling labelling;
    uint8_t *ink = NULL;
    bool good = labelling_measure(picture, &labelling, err) && find_swatches(&labelling, err);
    if (good) good = (ink = mem_alloc(labelling.pixels, 1, err)) != NULL;
    good = good && choose_inks(&labelling, ink, err) && survey(&labelling, ink, &map, err);
    labelling_free(&labelling);
    if (good)
        *out = map;
    else
        free(ink);
    return good;
}

/* --- step 4: a small logo in a wide margin --- */

/* The inks of the part, if it shows a field of its own; else *map stays. */
static bool find_in_part(const Picture *picture, Box part, InkMap *map, Err *err) {
    Picture cut;
    InkMap found;
    if (!crop_take(picture, part, &cut, err)) return false;
    bool good = find_everywhere(&cut, &found, err);
    picture_free(&cut);
    if (!good) return false;
    if (found.full_bleed) {
        inkmap_free(&found);
        return true;
    }
    good = crop_undo(picture, part, &found, err);
    inkmap_free(good ? map : &found);
    if (good) *map = found;
    return good;
}

/* --- step 5: what comes into the disc --- */

/* The box of what is not field if that fills it and there is a margin, else w = 0. In a margin wider than
 * drawing programs leave by rounding a square is a sign with an outline of its own: only what is longer
 * counts.
 */
static Box filled_box(const InkMap *m) {
    double most = fmax(2, MARGIN * fmax(m->width, m->height));
    double pixels;
    Box box = foreground_box(m, &pixels);
    int across = m->width - box.w, down = m->height - box.h;
    bool thin = fmax(across, down) <= 2 * most, is_long = fmax(box.w, box.h) >= LONG * fmin(box.w, box.h);
    return box.w > 0 && fmax(across, down) > 0 && (thin || is_long) && pixels >= FILLED * box.w * box.h
               ? box
               : (Box){0};
}

/* A flag with a transparent margin is cropped as one without; all else by its own map. */
static bool fit_in_margin(const Picture *picture, Fit fit, InkMap *map, Err *err) {
    Picture cut;
    InkMap found;
    Box box = {0};
    if (map->ink[map->field].transparent && fit != FIT_WHOLE) box = filled_box(map);
    if (box.w == 0) return fit_picture(map, fit, err);
    if (!crop_take(picture, box, &cut, err)) return false;
    bool good = find_everywhere(&cut, &found, err);
    picture_free(&cut);
    if (!good) return false;
    good = fit_picture(&found, fit, err);
    bool flag = good && found.full_bleed && found.cropped;
    good = good && (!flag || crop_undo(picture, box, &found, err));
    if (good && flag) {
        inkmap_free(map);
        *map = found;
        return true;
    }
    inkmap_free(&found);
    return good && fit_picture(map, fit, err);
}

bool find_inks_fit(const Picture *picture, Fit fit, InkMap *out, Err *err) {
    InkMap map;
    Box part;
    if (!find_everywhere(picture, &map, err)) return false;
    if (crop_find(picture, &map, &part) && !find_in_part(picture, part, &map, err)) {
        inkmap_free(&map);
        return false;
    }
    if (map.count == 1 && crop_box(picture, &map).w > 0) map.shaded = map.deep = 1; /* no ink took it */
    if (!fit_in_margin(picture, fit, &map, err) || !find_edges(&map, err)) {
        inkmap_free(&map);
        return false;
    }
    find_faint(picture, &map);
    *out = map;
    return true;
}

bool find_inks(const Picture *picture, InkMap *out, Err *err) {
    return find_inks_fit(picture, FIT_AUTO, out, err);
}
