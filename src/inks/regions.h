/* Connected areas of one label, and where they meet. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_REGIONS_H
#define LOGOCANE_REGIONS_H

#include "base/err.h"

#include <stdint.h>

typedef struct Regions {
    int count;
    int32_t *of; /* [height][width] region of each pixel, 0..count - 1, numbered in reading order; owned */
    int32_t *pixels; /* [count]; owned */
    uint8_t *label;  /* [count]; owned */
} Regions;

/* The 4-connected areas of equal label. Fails with ERR_MEMORY; *out is then untouched. */
bool regions_find(const uint8_t *label, int width, int height, Regions *out, Err *err) MUST_CHECK;
void regions_free(Regions *regions);

#endif
