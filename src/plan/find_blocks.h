/* Public. The tree becomes blocks to build. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FIND_BLOCKS_H
#define LOGOCANE_FIND_BLOCKS_H

#include "model/block.h"
#include "base/err.h"
#include "model/grid.h"

/* Flattens the slicing tree into rows and stacks, finds equal blocks up to the eight placements, puts them in
 * build order and tells which could be laid in the wrong way round. A log of one rope
 * has no blocks. Fails with ERR_MEMORY only; *out is then untouched. */
bool find_blocks(const Grid *grid, const LayUp *layup, Blocks *out, Err *err) MUST_CHECK;

#endif
