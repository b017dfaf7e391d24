/* Public. Each ink becomes a candy. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_MATCH_CANDY_H
#define LOGOCANE_MATCH_CANDY_H

#include "model/candy.h"
#include "base/err.h"
#include "model/ink.h"
#include "model/order.h"

/* The exact minimum of sum area_i dE(ink_i, candy_i) + sum border_ij max(0, min(dE(ink_i, ink_j), 25) -
 * dE(candy_i, candy_j)) over all ways to give each ink a candy of the stock, at most order->colours
 * different; ties to the earlier candy of the stock, inks by falling area. Wishes (-m) and the field (-f) are
 * kept. Resolves the jacket. Fails with ERR_USAGE on a candy name that is not in the stock or fits several
 * (the message lists the stock), on a wished ink that no ink of the logo is near (lists the inks), on two
 * different wishes for one ink, on wishes that need more than order->colours candies, and on stripes that are
 * no multiple of the jacket's candies, or more than one in a jacket of one candy. *out is then untouched. */
bool match_candy(const InkMap *inks, const Order *order, const Stock *stock, Palette *out,
                 Err *err) MUST_CHECK;

#endif
