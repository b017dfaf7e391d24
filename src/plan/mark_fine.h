/* Public. Wanted face and lay-up -> what of it is finer than hands lay. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_MARK_FINE_H
#define LOGOCANE_MARK_FINE_H

#include "base/err.h"
#include "model/grid.h"
#include "model/layup.h"
#include "model/flaw.h"

/* Strokes of any candy but the field, and gaps (field), thinner than a least strip, or than half of it in a
 * fine block; inside the rings. Fails with ERR_MEMORY only; *out is then untouched. */
bool mark_fine(const Grid *grid, const LayUp *layup, FineMap *out, Err *err) MUST_CHECK;

#endif
