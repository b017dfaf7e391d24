/* Public. Connected areas of a raster. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_COMPONENTS_H
#define LOGOCANE_COMPONENTS_H

#include <stdint.h>

/* Numbers the connected areas of equal value in value[height][width] and returns how many there are: label[i]
 * is the number of pixel i's area, 0, 1, ... in the order in which a reader meets them. ways[v] says how
 * pixels of value v are joined: 4 (by their sides) or 8 (by corners too); 0: they are no area and get -1.
 * Cannot fail: it works in label[] alone. width * height must fit an int. */
int components(const uint8_t *value, int width, int height, const uint8_t ways[256], int32_t *label);

#endif
