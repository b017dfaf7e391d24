/* A picture cropped to its logo, where that is small in a wide margin. SPDX-License-Identifier: MIT */
#include "inks/steps.h"

#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

enum {
    PLAIN = 48,     /* of 255, chosen: grain, JPEG's noise and uneven light on paper stay under it */
    MARGIN = 8,     /* px at least: the part's border is field */
    MARGIN_PART = 8 /* and at least the longer side / 8 */
};

/* How far two pixels are apart in their furthest channel, of 255; transparent ones are alike. */
static int apart(const uint8_t *p, const uint8_t *q) {
    int most = abs(p[3] - q[3]);
    for (int i = 0; i < 3; i++) {
        int d = abs(p[i] * p[3] - q[i] * q[3]) / 255;
        if (d > most) most = d;
    }
    return most;
}

/* The first pixel of row y from `from` on, towards `to`, that is anything but plain field; `to` if none is.
 */
static int first_drawn(const Picture *picture, const InkMap *map, int y, int from, int to) {
    const Ink *ink = &map->ink[map->field];
    const uint8_t field[4] = {ink->srgb.r, ink->srgb.g, ink->srgb.b, ink->transparent ? 0 : 255};
    size_t row = (size_t)y * (size_t)picture->width;
    const uint8_t *plain = field;
    int x = from;
    for (; x != to; x += from < to ? 1 : -1) {
        const uint8_t *rgba = picture->rgba + 4 * (row + (size_t)x);
        if (map->label[row + (size_t)x] != map->field) break;
        if (memcmp(rgba, plain, 4) == 0) continue; /* as most: half the time */
        if (apart(rgba, field) > PLAIN) break;
        plain = rgba;
    }
    return x;
}

/* Looks from the sides inwards, in each row no farther than the box is known to reach: at hardly a pixel,
 * where a logo fills the picture. */
Box crop_box(const Picture *picture, const InkMap *map) {
    int w = picture->width, top = 0, bottom = picture->height - 1, left = w, right = -1;
    while (top <= bottom && first_drawn(picture, map, top, 0, w) == w) top++;
    while (bottom > top && first_drawn(picture, map, bottom, 0, w) == w) bottom--;
    for (int y = top; y <= bottom; y++) {
        left = first_drawn(picture, map, y, 0, left);
        right = first_drawn(picture, map, y, w - 1, right);
    }
    return right < 0 ? (Box){0} : (Box){left, top, right + 1 - left, bottom + 1 - top};
}

bool crop_find(const Picture *picture, const InkMap *map, Box *part) {
    if (map->full_bleed) return false;
    Box box = crop_box(picture, map);
    if (box.w == 0) return false;
    int margin = (box.w > box.h ? box.w : box.h) / MARGIN_PART;
    if (margin < MARGIN) margin = MARGIN;
    int left = box.x > margin ? box.x - margin : 0, top = box.y > margin ? box.y - margin : 0;
    int right = box.x + box.w + margin, bottom = box.y + box.h + margin;
    if (right > picture->width) right = picture->width;
    if (bottom > picture->height) bottom = picture->height;
    *part = (Box){left, top, right - left, bottom - top};
    return 2 * part->w * part->h <= picture->width * picture->height;
}

bool crop_take(const Picture *picture, Box part, Picture *out, Err *err) {
    size_t row = 4 * (size_t)part.w;
    uint8_t *rgba = mem_alloc((size_t)part.h, row, err);
    if (!rgba) return false;
    for (int y = 0; y < part.h; y++)
        memcpy(rgba + (size_t)y * row,
               picture->rgba + 4 * ((size_t)(part.y + y) * (size_t)picture->width + (size_t)part.x), row);
    *out = *picture;
    out->width = part.w;
    out->height = part.h;
    out->rgba = rgba;
    return true;
}

bool crop_undo(const Picture *picture, Box part, InkMap *map, Err *err) {
    size_t w = (size_t)picture->width, size = w * (size_t)picture->height;
    uint8_t *label = mem_alloc(size, 1, err);
    if (!label) return false;
    memset(label, map->field, size);
    for (int y = 0; y < part.h; y++)
        memcpy(label + (size_t)(part.y + y) * w + (size_t)part.x, map->label + (size_t)y * (size_t)part.w,
               (size_t)part.w);
    free(map->label);
    map->label = label;
    map->width = picture->width;
    map->height = picture->height;
    map->circle.x += part.x;
    map->circle.y += part.y;
    return true;
}
