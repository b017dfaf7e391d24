/* Connected areas of a raster. SPDX-License-Identifier: MIT
 *
 * 1. Union-find over the pixels in reading order, in label[] itself: each pixel joins the equal ones to its
 * left and above. A root is always the first pixel of its tree, so every pixel points backwards.
 * 2. In reading order again: a root takes the next number, any other pixel that of the pixel it points to,
 * which has its number already.
 *
 * Union-find with path halving: Tarjan & van Leeuwen, "Worst-case analysis of set union algorithms", J. ACM
 * 31 (1984) 245-281; as a labelling: Rosenfeld & Pfaltz, J. ACM 13 (1966) 471-494. */
#include "base/components.h"

#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

int32_t set_root(int32_t *parent, int32_t i) {
    while (parent[i] != i) {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    return i;
}

void set_join(int32_t *parent, int32_t i, int32_t j) {
    int32_t a = set_root(parent, i), b = set_root(parent, j);
    if (a < b)
        parent[b] = a;
    else
        parent[a] = b;
}

enum { ALIKE = 16 }; /* pixels that are looked at together: most lie within an area */

/* Do the ALIKE pixels from i on, those above them and the one before, which is joined to the one above it,
 * lie in one area? */
static bool goes_on(const uint8_t *value, const int32_t *label, int32_t i, int width) {
    const int32_t above = i - width;
    return label[i - 1] == label[above] && memcmp(value + i, value + i - 1, ALIKE) == 0 &&
           memcmp(value + above, value + i, ALIKE) == 0 &&
           memcmp(label + above, label + above + 1, (ALIKE - 1) * sizeof *label) == 0;
}

static void join_row(const uint8_t *value, int width, int y, const uint8_t ways[256], int32_t *label) {
    for (int x = 0; x < width; x++) {
        int32_t i = y * width + x;
        uint8_t v = value[i];
        if (x > 0 && y > 0 && x + ALIKE <= width && ways[v] != 0 && goes_on(value, label, i, width)) {
            for (int k = 0; k < ALIKE; k++) label[i + k] = label[i - 1];
            x += ALIKE - 1;
            continue;
        }
        bool left = x > 0 && value[i - 1] == v, above = y > 0 && value[i - width] == v;
        label[i] = left && ways[v] != 0 ? label[i - 1] : i;
        if (ways[v] == 0) continue;
        if (above && left && label[i - 1] == label[i - width]) continue; /* the common case, within an area */
        if (above) set_join(label, i, i - width);
        if (above || ways[v] != 8 || y == 0) continue;   /* the pixel above has the corners joined already */
        if (!left && x > 0 && value[i - width - 1] == v) /* as the left one has the left corner */
            set_join(label, i, i - width - 1);
        if (x + 1 < width && value[i - width + 1] == v) set_join(label, i, i - width + 1);
    }
}

int components(const uint8_t *value, int width, int height, const uint8_t ways[256], int32_t *label) {
    for (int y = 0; y < height; y++) join_row(value, width, y, ways, label); /* 1 */
    int count = 0;
    int32_t before = -1, number = -1;              /* what the last pixel pointed to, and its number */
    for (int32_t i = 0; i < width * height; i++) { /* 2 */
        if (ways[value[i]] == 0) {
            label[i] = -1;
            continue;
        }
        if (label[i] == i) {
            before = i;
            number = count++;
        } else if (label[i] != before) {
            before = label[i];
            number = label[before];
        }
        label[i] = number;
    }
    return count;
}

bool regions_find(const uint8_t *value, int width, int height, Regions *out, Err *err) {
    int32_t size = width * height;
    uint8_t ways[256];
    Regions r = {.of = mem_alloc((size_t)size, sizeof *r.of, err)};
    if (!r.of) return false;
    memset(ways, 4, sizeof ways);
    r.count = components(value, width, height, ways, r.of);
    r.pixels = mem_alloc((size_t)r.count, sizeof *r.pixels, err);
    r.value = r.pixels ? mem_alloc((size_t)r.count, 1, err) : NULL;
    if (!r.value) {
        regions_free(&r);
        return false;
    }
    for (int32_t i = 0, end; i < size; i = end) {
        for (end = i + 1; end < size && r.of[end] == r.of[i];) end++;
        r.pixels[r.of[i]] += end - i;
        r.value[r.of[i]] = value[i];
    }
    *out = r;
    return true;
}

void regions_free(Regions *regions) {
    free(regions->of);
    free(regions->pixels);
    free(regions->value);
    *regions = (Regions){0};
}
