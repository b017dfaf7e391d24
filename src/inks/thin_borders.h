/* Public. Inks that meet across thin lines. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_THIN_BORDERS_H
#define LOGOCANE_THIN_BORDERS_H

#include "base/err.h"
#include "model/ink.h"

/* Fills in map->across from the map's labels, circle and field: on how many rows and columns two inks, both
 * wide enough to be built, have no more between them than lines that together are too thin to be built (up to
 * 3 % of the circle's diameter, about half a least strip in a small order); as a share of `borders`, the
 * count of all borders between inks. The field goes on beyond the picture. Fails with ERR_MEMORY only. */
bool thin_borders_count(InkMap *map, double borders, Err *err) MUST_CHECK;

#endif
