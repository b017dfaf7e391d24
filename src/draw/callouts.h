/* Numbers beside a drawing, led to what they name. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CALLOUTS_H
#define LOGOCANE_CALLOUTS_H

#include "base/geom.h"

/* Gives each of `anchors` points a place of its own among `places`, at least as many: the index in place_of.
 * Leads are straight; they are short together, so no two of them cross. Nearest first, then exchanges as long
 * as they shorten. Cost: O(anchors * places) a pass, a few passes. */
void callouts_assign(const Point *anchor, int anchors, const Point *place, int places, int *place_of);

#endif
