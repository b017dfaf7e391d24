/* Public. How thick an area is at each of its pixels. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_THICKNESS_H
#define LOGOCANE_THICKNESS_H

#include "base/err.h"

#include <stdint.h>

/* For each pixel with site == 0: the diameter in pixels of the largest disc that holds no site and covers the
 * pixel, at most `cap`; 0 on a site. Discs may reach beyond the picture's edge. site[height][width], thick
 * likewise. Discs are centred on pixels, so a stroke of even width reads up to half a pixel thin. O(pixels)
 * plus cap^2 for each pixel of a skeleton thinner than cap. Fails with ERR_MEMORY only. Source: local
 * thickness, Hildebrand & Ruegsegger, J. Microscopy 185 (1997) 67-75 (from memory), on the exact distance
 * transform. */
bool local_thickness(const uint8_t *site, int width, int height, double cap, float *thick,
                     Err *err) MUST_CHECK;

#endif
