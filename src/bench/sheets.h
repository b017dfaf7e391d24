/* Sheets and what is pressed in: a part of weigh. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SHEETS_H
#define LOGOCANE_SHEETS_H

#include "base/err.h"
#include "model/bill.h"
#include "model/block.h"
#include "model/candy.h"
#include "model/cane.h"
#include "model/grid.h"

/* Mass of a rope of one step^2 and the log's length, g, by candy. */
typedef double RopeGrams[INKS_MAX];

/* How much of what a block is built from is cut for the log: its scale^2 * length, against the log's, times
 * its builds. */
double block_times(const Block *block, const Cane *cane);

/* Fills Bill.wrap, and of every sheet in the lay-up its block and row. The ropes are numbered. Fails with
 * ERR_MEMORY only. */
bool list_sheets(const Palette *palette, const Cane *cane, const Grid *grid, const RopeGrams g_per_step2,
                 const Blocks *blocks, LayUp *layup, Bill *bill, Err *err) MUST_CHECK;

#endif
