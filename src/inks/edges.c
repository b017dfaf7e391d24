/* What the picture's edge cuts through, and what of each ink lies open on the field.
 * SPDX-License-Identifier: MIT
 *
 * 1. Along each side of the picture the inks are runs. Where two inks meet there, neither of them the field,
 * the edge cuts through the drawing: once at the tip of a halved shield, many times through a line of
 * letters. Runs too short to be seen are none. A picture without a background is cut everywhere by nature.
 * 2. Each connected area of an ink that meets the field along much of its border is open: on a field of the
 * same candy its shape is gone.
 * Cost: O(pixels). */
#include "inks/inks.h"

#include "base/components.h"
#include "base/mem.h"
#include "inks/steps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define RUN_LEAST 0.01  /* of the side: a shorter run is a soft edge */
#define BLOCK 0.97      /* of its box: a drawing that fills so much is a rectangle */
#define OPEN_BORDER 0.3 /* of an area's border: so much meets the field */

/* --- 1 --- */

/* The changes between inks other than the field along one side. */
static int count_side(const InkMap *map, size_t first, size_t step, int length) {
    int least = (int)fmax(2, ceil(RUN_LEAST * length)), changes = 0, before = map->field;
    for (int start = 0, end; start < length; start = end) {
        int ink = map->label[first + (size_t)start * step];
        for (end = start + 1; end < length && map->label[first + (size_t)end * step] == ink;) end++;
        if (end - start < least) continue;
        changes += before != map->field && ink != map->field && ink != before;
        before = ink;
    }
    return changes;
}

static int count_cuts(const InkMap *map) {
    size_t w = (size_t)map->width, h = (size_t)map->height;
    double pixels = 0;
    const Box box = foreground_box(map, &pixels);
    bool block = pixels > BLOCK * box.w * box.h; /* a flag, whose stripes end there */
    if (map->full_bleed || map->beyond || map->cropped || map->roundel || block) return 0;
    int top = count_side(map, 0, 1, map->width), low = count_side(map, (h - 1) * w, 1, map->width);
    int left = count_side(map, 0, w, map->height), right = count_side(map, w - 1, w, map->height);
    int across = top > low ? top : low, down = left > right ? left : right;
    return across > down ? across : down;
}

/* --- 2 --- */

typedef struct Opening {
    int pixels, border, field; /* of an area: sides of its pixels that meet others, and the field */
} Opening;

static void count_sides(const InkMap *map, const int32_t *label, Opening *area) {
    int w = map->width, h = map->height;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            size_t i = (size_t)y * (size_t)w + (size_t)x;
            Opening *a = &area[label[i]];
            const size_t beside[4] = {i - 1, i + 1, i - (size_t)w, i + (size_t)w};
            const bool inside[4] = {x > 0, x + 1 < w, y > 0, y + 1 < h};
            a->pixels++;
            for (int d = 0; d < 4; d++) {
                if (!inside[d] || label[beside[d]] == label[i]) continue;
                a->border++;
                a->field += map->label[beside[d]] == map->field;
            }
        }
}

bool find_edges(InkMap *map, Err *err) {
    size_t total = (size_t)map->width * (size_t)map->height;
    uint8_t ways[256];
    memset(ways, 8, sizeof ways);
    ways[map->field] = 4;
    int32_t *label = mem_alloc(total, sizeof *label, err);
    if (!label) return false;
    int count = components(map->label, map->width, map->height, ways, label);
    Opening *area = mem_alloc((size_t)count, sizeof *area, err);
    if (!area) {
        free(label);
        return false;
    }
    count_sides(map, label, area);
    double open[INKS_MAX] = {0}, inside = PI * map->circle.r * map->circle.r;
    for (size_t i = 0; i < total; i++) {
        const Opening *a = &area[label[i]];
        if (map->label[i] != map->field && a->field > OPEN_BORDER * a->border) open[map->label[i]]++;
    }
    for (int k = 0; k < map->count; k++) map->open[k] = fmin(open[k] / fmax(inside, 1), map->ink[k].share);
    map->cuts = count_cuts(map);
    free(area);
    free(label);
    return true;
}
