/* Public. How blocks needed more than once are built. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PLAN_BUILDS_H
#define LOGOCANE_PLAN_BUILDS_H

#include "model/block.h"
#include "model/cane.h"
#include "model/shop.h"

/* Sets way, builds, pieces, scale, length_mm and piece_mm of each block: thicker and drawn out where the
 * shop's widest block and the lump's least length allow, else longer where the bench does, else each by
 * itself. Cannot fail. */
void plan_builds(const Cane *cane, const Shop *shop, Blocks *blocks);

#endif
