/* Public. The stages that say what hands do, in the order in which they run. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_BENCH_BENCH_H
#define LOGOCANE_BENCH_BENCH_H

#include "base/err.h"
#include "model/bill.h"
#include "model/block.h"
#include "model/candy.h"
#include "model/cane.h"
#include "model/grid.h"
#include "model/layup.h"
#include "model/order.h"
#include "model/shop.h"
#include "model/work.h"

/* --- plan_builds: how blocks needed more than once are built --- */

/* Sets way, builds, pieces, scale, length_mm and piece_mm of each block: thicker and drawn out where the
 * shop's widest block and the lump's least length allow, else longer where the bench does, else each by
 * itself. Cannot fail. */
void plan_builds(const Cane *cane, const Shop *shop, Blocks *blocks);

/* --- weigh: areas become lengths and masses --- */

/* The rope list, the wraps, the materials and what the order comes to (all of the bill but its pulls); ropes
 * made and minutes count what copies of blocks save. Gives each rope its type and serial
 * (layup->rope[i].type). Ropes, trims and rings add up to the core; the materials to the
 * logs' mass. Fails with ERR_MEMORY only; *out is then untouched. */
bool weigh(const Order *order, const Palette *palette, const Cane *cane, const Grid *grid, const Shop *shop,
           const Blocks *blocks, LayUp *layup, Bill *out, Err *err) MUST_CHECK;

/* --- plan_pulls: from which lump each rope is pulled, and how far --- */

/* Fills the bill's pulls from its rope types, for the ropes that hands make. Fails with ERR_MEMORY only;
 * *bill is then untouched. */
bool plan_pulls(const Palette *palette, const Shop *shop, const LayUp *layup, const Blocks *blocks,
                Bill *bill, Err *err) MUST_CHECK;

/* --- cool: sections become minutes --- */

/* How long each rope, block and the log stay workable out of the warm box. Needs the bill's ropes and pulls,
 * and the blocks as they are built. Fails with ERR_MEMORY only; *out is then untouched; free with heat_free.
 */
bool cool(const Palette *palette, const Cane *cane, const Shop *shop, const Blocks *blocks, const Bill *bill,
          Heat *out, Err *err) MUST_CHECK;

typedef struct Cylinder {
    double radius_m;          /* over 0 */
    double conductivity_w_mk; /* over 0 */
    double capacity_j_m3k;    /* density * specific heat, over 0 */
    double start_c;           /* as warm all through */
    double room_c;            /* under start_c */
    double transfer_w_m2k;    /* at the surface, over 0; 0 = by free convection and radiation */
} Cylinder;

/* Seconds until the middle of a long cylinder, as warm all through at first, has fallen to `middle_c`,
 * between room_c and start_c (both excluded): one-dimensional conduction, heat lost at the surface only.
 * Within 1 % of the exact solution as long as the middle has 2 % of its way to the room behind it and 2 %
 * before it. */
double cylinder_seconds(const Cylinder *cylinder, double middle_c);

/* Watts per square metre and degree between the surface and the room, by free convection (Churchill & Chu,
 * Int. J. Heat Mass Transfer 18 (1975) 1049: a horizontal cylinder, laminar and turbulent) and radiation to
 * walls as warm as the air (emissivity 0.9, of most non-metals). Surface and room 0..120 C, the surface at
 * least as warm as the room; a diameter over 0. Formula and the properties of air from memory of the usual
 * textbooks. */
double heat_loss_w_m2k(double diameter_m, double surface_c, double room_c);

/* --- cook: candy becomes sugar, syrup and water --- */

/* The recipe for the bill's materials with their spare. Cannot fail. */
void cook(const Cane *cane, const Bill *bill, const Shop *shop, Recipe *out);

/* --- plan_work: who does what, and when --- */

/* The tasks for a log, from weighing out to packing, each as late as what comes after it allows. Needs the
 * bill with its wraps, the blocks as they are built, heat and recipe. Fails with ERR_MEMORY only; *out is
 * then untouched; free with work_free. */
bool plan_work(const Palette *palette, const Cane *cane, const Shop *shop, const LayUp *layup,
               const Blocks *blocks, const Bill *bill, const Heat *heat, const Recipe *recipe, WorkPlan *out,
               Err *err) MUST_CHECK;

/* --- price --- */

/* Fills the bill's quote: hours, what each part costs, the price. Cannot fail. */
void price(const Cane *cane, const Shop *shop, const Recipe *recipe, const WorkPlan *work, Bill *bill);

/* --- cook: the physics --- */

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
