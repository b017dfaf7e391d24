/* What each candy would cost in each cell. SPDX-License-Identifier: MIT
 *
 * A part of the stage frame. */
#ifndef LOGOCANE_COSTING_H
#define LOGOCANE_COSTING_H

#include "model/candy.h"
#include "base/err.h"
#include "model/grid.h"

/* Fills grid->cost from grid->wanted, grid->core and the palette. Fails with ERR_MEMORY only; grid->cost may
 * then be set, and is the grid's to free. */
bool cost_cells(Grid *grid, const Palette *palette, Err *err) MUST_CHECK;

#endif
