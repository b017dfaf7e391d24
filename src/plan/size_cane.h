/* Public. Order and shop become a log. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SIZE_CANE_H
#define LOGOCANE_SIZE_CANE_H

#include "model/candy.h"
#include "model/cane.h"
#include "base/err.h"
#include "model/order.h"
#include "model/shop.h"

/* Sizes log and cane for the order: as many logs as the mass limit asks for, each as thick as the
 * least length allows, the core a whole number of steps. The densest finish in use, jacket included, counts.
 * Fails with ERR_USAGE if the piece is not thinner than the thinnest log. *out is then untouched. */
bool size_cane(const Order *order, const Palette *palette, const Shop *shop, Cane *out, Err *err) MUST_CHECK;

#endif
