/* Public. Connected areas of a raster. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_COMPONENTS_H
#define LOGOCANE_COMPONENTS_H

#include "base/err.h"

#include <stdint.h>

/* Numbers the connected areas of equal value in value[height][width] and returns how many there are: label[i]
 * is the number of pixel i's area, 0, 1, ... in the order in which a reader meets them. ways[v] says how
 * pixels of value v are connected: 4 (by their sides) or 8 (by corners too); 0: they are no area and get -1.
 * Cannot fail: it works in label[] alone. width * height must fit an int. */
int components(const uint8_t *value, int width, int height, const uint8_t ways[256], int32_t *label);

typedef struct Regions {
    int count;
    int32_t *of; /* [height][width] region of each pixel, 0..count - 1, numbered in reading order; owned */
    int32_t *pixels; /* [count] area of each, px; owned */
    uint8_t *value;  /* [count] the value of its pixels; owned */
} Regions;

/* The areas of equal value, connected by their sides: every pixel lies in one. Fails with ERR_MEMORY; *out is
 * then untouched. Free with regions_free. */
bool regions_find(const uint8_t *value, int width, int height, Regions *out, Err *err) MUST_CHECK;
void regions_free(Regions *regions);

/* Union-find: sets of numbers 0, 1, ... that are joined. parent[i] is i itself at first, never more than i;
 * each set is known by its least member, which set_root finds, shortening the way there. */
int32_t set_root(int32_t *parent, int32_t i);
void set_join(int32_t *parent, int32_t i, int32_t j);

#endif
