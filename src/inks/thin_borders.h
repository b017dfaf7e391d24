/* Public. Inks that meet across thin lines. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_THIN_BORDERS_H
#define LOGOCANE_THIN_BORDERS_H

#include "base/err.h"
#include "model/ink.h"

/* Fills in map->across from its labels, circle and field, in shares of so many borders: the rows and columns
 * on which two inks, both wide enough to be built, have no more between them than lines that together are
 * not: under 3 % of the circle, half a least strip in a small order. The field goes on beyond the picture.
 * Fails with ERR_MEMORY only. */
bool thin_borders_count(InkMap *map, double borders, Err *err) MUST_CHECK;

#endif
