/* Public. Candy becomes sugar, syrup and water. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_COOK_H
#define LOGOCANE_COOK_H

#include "model/bill.h"
#include "model/cane.h"
#include "model/recipe.h"
#include "model/shop.h"

/* The recipe for the bill's materials with their spare. Cannot fail. */
void cook(const Cane *cane, const Bill *bill, const Shop *shop, Recipe *out);

#endif
