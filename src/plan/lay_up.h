/* Public. The cells become ropes: the best slicing tree. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_LAY_UP_H
#define LOGOCANE_LAY_UP_H

#include "base/err.h"
#include "model/cane.h"
#include "model/grid.h"
#include "model/layup.h"

/* The slicing tree over the grid's square that minimises the sum of the leaves' costs + lambda * ropes,
 * exactly, lambda by key->detail, or the least that keeps ropes laid within key->ropes_cap. Every side is
 * at least the least side (a grid narrower than that is one strip). Fails with ERR_MEMORY only; *out is then
 * untouched. */
bool lay_up(const Grid *grid, const LayKey *key, LayUp *out, Err *err) MUST_CHECK;

#endif
