/* Public. Areas become lengths and masses. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WEIGH_H
#define LOGOCANE_WEIGH_H

#include "model/bill.h"
#include "model/block.h"
#include "model/candy.h"
#include "model/cane.h"
#include "base/err.h"
#include "model/grid.h"
#include "model/layup.h"
#include "model/order.h"
#include "model/shop.h"

/* The rope list, the wraps, the materials and what the order comes to (all of the bill but its pulls); ropes
 * made and minutes count what copies of blocks save. Gives each rope its type and serial
 * (layup->rope[i].type). Ropes, trims and rings add up to the core; the materials to the
 * logs' mass. Fails with ERR_MEMORY only; *out is then untouched. */
bool weigh(const Order *order, const Palette *palette, const Cane *cane, const Grid *grid, const Shop *shop,
           const Blocks *blocks, LayUp *layup, Bill *out, Err *err) MUST_CHECK;

#endif
