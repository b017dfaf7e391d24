/* Public. The picture is laid on the core. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FRAME_H
#define LOGOCANE_FRAME_H

#include "model/candy.h"
#include "model/cane.h"
#include "base/err.h"
#include "model/grid.h"
#include "model/ink.h"

/* Places the matched logo on the core (the enclosing circle on the core less a quarter of a least strip; a
 * roundel without margin; full-bleed cropped or fitted), finds the rings, and sums up what each candy would
 * cost in each cell, thin strokes and gaps weighing up to twice (docs/numbers.md). Fails with ERR_MEMORY
 * only; *out is then untouched. */
bool frame(const InkMap *inks, const Palette *palette, const LayKey *key, Grid *out, Err *err) MUST_CHECK;

#endif
