/* Connected areas of one label. SPDX-License-Identifier: MIT
 *
 * Union by the smaller index with path halving, over pixels in reading order; then numbered in that order.
 * O(pixels). */
#include "regions.h"

#include "mem.h"

#include <stdlib.h>

static int32_t top_of(int32_t *up, int32_t i) {
    while (up[i] != i) {
        up[i] = up[up[i]];
        i = up[i];
    }
    return i;
}

static void link_pixels(const uint8_t *label, int w, int h, int32_t *up) {
    for (int32_t i = 0, x = 0; i < w * h; i++, x = x + 1 < w ? x + 1 : 0) {
        bool left = x > 0 && label[i] == label[i - 1], above = i >= w && label[i] == label[i - w];
        up[i] = left ? up[i - 1] : i;
        if (!above) continue;
        if (left && up[i - 1] == up[i - w]) continue; /* the common case, in the middle of an area */
        int32_t a = top_of(up, i), b = top_of(up, i - w);
        if (a < b)
            up[b] = up[i] = a;
        else
            up[a] = up[i] = b;
    }
}

/* Turns tops into numbers, in place: a top comes before all that point to it. Returns how many. */
static int number_regions(int32_t *up, int32_t size) {
    int count = 0;
    for (int32_t i = 0; i < size; i++) up[i] = up[i] == i ? count++ : up[up[i]];
    return count;
}

bool regions_find(const uint8_t *label, int width, int height, Regions *out, Err *err) {
    int32_t size = width * height;
    Regions r = {.of = mem_alloc((size_t)size, sizeof *r.of, err)};
    if (!r.of) return false;
    link_pixels(label, width, height, r.of);
    for (int32_t i = 0; i < size; i++) r.of[i] = top_of(r.of, i);
    r.count = number_regions(r.of, size);
    r.pixels = mem_alloc((size_t)r.count, sizeof *r.pixels, err);
    r.label = r.pixels ? mem_alloc((size_t)r.count, 1, err) : NULL;
    if (!r.label) {
        regions_free(&r);
        return false;
    }
    for (int32_t i = 0; i < size; i++) {
        r.pixels[r.of[i]]++;
        r.label[r.of[i]] = label[i];
    }
    *out = r;
    return true;
}

void regions_free(Regions *regions) {
    free(regions->of);
    free(regions->pixels);
    free(regions->label);
    *regions = (Regions){0};
}
