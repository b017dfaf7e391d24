/* Public. What rolling does to the lay-up. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SOFTEN_H
#define LOGOCANE_SOFTEN_H

#include "base/err.h"
#include "model/cane.h"
#include "model/grid.h"
#include "model/layup.h"

/* The face as it comes out: the laid-up section, rings included, with corners rounded as by threshold
 * dynamics, the area of each candy kept to 0.5 %. `out` covers the whole core, OUTSIDE beyond it.
 * Fails with ERR_MEMORY only; *out is then untouched. */
bool soften(const Grid *grid, const LayUp *layup, const LayKey *key, Face *out, Err *err) MUST_CHECK;

#endif
