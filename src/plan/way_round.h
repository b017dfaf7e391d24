/* Which blocks could be laid in the wrong way round. SPDX-License-Identifier: MIT
 *
 * A part of the stage find_blocks. */
#ifndef LOGOCANE_WAY_ROUND_H
#define LOGOCANE_WAY_ROUND_H

#include "model/block.h"
#include "base/err.h"
#include "model/grid.h"

/* Sets mirrored_risk, turned_risk and looks_the_same of each block: a placement other than the right one that
 * fits the block's slot, rim included, and gives a face that is neither the intended one nor the whole of it
 * turned or mirrored. The log itself has no wrong way: each piece shows the picture on one end and its mirror
 * image on the other. Fails with ERR_MEMORY only. */
bool find_wrong_ways(const Grid *grid, const LayUp *layup, Blocks *blocks, Err *err) MUST_CHECK;

#endif
