/* Public. Sections become minutes. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_COOL_H
#define LOGOCANE_COOL_H

#include "model/bill.h"
#include "model/block.h"
#include "model/candy.h"
#include "model/cane.h"
#include "base/err.h"
#include "model/heat.h"
#include "model/shop.h"

/* How long each rope, block and the log stay workable out of the warm box. Needs the bill's ropes and pulls,
 * and the blocks as they are built. Fails with ERR_MEMORY only; *out is then untouched; free with heat_free.
 */
bool cool(const Palette *palette, const Cane *cane, const Shop *shop, const Blocks *blocks, const Bill *bill,
          Heat *out, Err *err) MUST_CHECK;

#endif
