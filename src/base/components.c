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

#include <stdbool.h>

static int32_t root_of(int32_t *parent, int32_t i) {
    while (parent[i] != i) {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    return i;
}

static void join(int32_t *parent, int32_t i, int32_t j) {
    int32_t a = root_of(parent, i), b = root_of(parent, j);
    if (a < b)
        parent[b] = a;
    else
        parent[a] = b;
}

static void join_row(const uint8_t *value, int width, int y, const uint8_t ways[256], int32_t *label) {
    for (int x = 0; x < width; x++) {
        int32_t i = y * width + x;
        uint8_t v = value[i];
        bool left = x > 0 && value[i - 1] == v, above = y > 0 && value[i - width] == v;
        label[i] = left && ways[v] != 0 ? label[i - 1] : i;
        if (ways[v] == 0) continue;
        if (above && left && label[i - 1] == label[i - width]) continue; /* the common case, within an area */
        if (above) join(label, i, i - width);
        if (above || ways[v] != 8 || y == 0) continue; /* the pixel above has joined the corners already */
        if (!left && x > 0 && value[i - width - 1] == v)
            join(label, i, i - width - 1); /* or on the left one */
        if (x + 1 < width && value[i - width + 1] == v) join(label, i, i - width + 1);
    }
}

int components(const uint8_t *value, int width, int height, const uint8_t ways[256], int32_t *label) {
    for (int y = 0; y < height; y++) join_row(value, width, y, ways, label); /* 1 */
    int count = 0;
    for (int32_t i = 0; i < width * height; i++) /* 2 */
        if (ways[value[i]] == 0)
            label[i] = -1;
        else
            label[i] = label[i] == i ? count++ : label[label[i]];
    return count;
}
