/* Public. From which lump each rope is pulled, and how far. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PLAN_PULLS_H
#define LOGOCANE_PLAN_PULLS_H

#include "model/bill.h"
#include "model/block.h"
#include "base/err.h"
#include "model/shop.h"

/* Fills the bill's pulls from its rope types, for the ropes that hands make. Fails with ERR_MEMORY only;
 * *bill is then untouched. */
bool plan_pulls(const Palette *palette, const Shop *shop, const LayUp *layup, const Blocks *blocks,
                Bill *bill, Err *err) MUST_CHECK;

#endif
