/* Public. Candy becomes sugar, syrup and water. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_COOK_H
#define LOGOCANE_COOK_H

#include "model/bill.h"
#include "model/cane.h"
#include "model/recipe.h"
#include "model/shop.h"

/* The recipe for the bill's materials with their spare. Cannot fail. */
void cook(const Cane *cane, const Bill *bill, const Shop *shop, Recipe *out);

/* The pressure of the standard atmosphere, kPa, at so many metres above the sea, -1000..11 000: ISO 2533 = US
 * Standard Atmosphere 1976; the constants from memory. The weather moves it by 3 %, boiling by 1 degree. */
double air_pressure_kpa(double altitude_m);

/* The pressure at which water boils at so many degrees Celsius, kPa, 0..373: IAPWS SR1-86 (Wagner & Pruss, J.
 * Phys. Chem. Ref. Data 22 (1993) 783; the coefficients were not checked against the print). */
double steam_pressure_kpa(double celsius);

/* The temperature at which water boils under a pressure of 1..10 000 kPa, Celsius: the inverse of
 * steam_pressure_kpa. */
double water_boils_c(double pressure_kpa);

#endif
