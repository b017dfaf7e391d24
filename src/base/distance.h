/* Public. The exact Euclidean distance transform. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DISTANCE_H
#define LOGOCANE_DISTANCE_H

#include "base/err.h"

#include <stdint.h>

enum { DISTANCE_SIDE_MAX = 16384 }; /* squares of both sides add up to 2^29 at most */

/* For each pixel of site[height][width]: squared[i], the squared distance in pixels between its centre and
 * that of the nearest pixel with site != 0 (0 on a site), and nearest[i], that pixel's index. INT32_MAX and
 * -1 if there is no site at all. Of several as near, the one in the leftmost column, and there the upper one.
 * Either output may be NULL. Sides 1..DISTANCE_SIDE_MAX. Exact, in whole numbers; O(pixels). Fails with
 * ERR_MEMORY only. Felzenszwalb & Huttenlocher, "Distance Transforms of Sampled Functions", Theory of
 * Computing 8 (2012) 415-428. */
bool distance_transform(const uint8_t *site, int width, int height, int32_t *squared, int32_t *nearest,
                        Err *err) MUST_CHECK;

/* The same, cheaper: squared[i] is exact where it is under limit^2, else some number of at least limit^2;
 * limit > 0. */
bool distance_under(const uint8_t *site, int width, int height, int limit, int32_t *squared,
                    Err *err) MUST_CHECK;

/* The same, cheaper: nearest[i] is only right where asked[i] != 0. */
bool distance_nearest(const uint8_t *site, const uint8_t *asked, int width, int height, int32_t *nearest,
                      Err *err) MUST_CHECK;

#endif
