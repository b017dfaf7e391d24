/* Public. What the order comes to. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_QUOTE_H
#define LOGOCANE_QUOTE_H

#include "model/bill.h"
#include "model/cane.h"
#include "model/order.h"
#include "model/shop.h"

/* Fills bill->quote from the weighed lists: pieces, batches and, where the shop gives prices, the cost. */
void quote(const Order *order, const Cane *cane, const Shop *shop, Bill *bill);

#endif
