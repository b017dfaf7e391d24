/* Order and shop become a log. SPDX-License-Identifier: MIT
 *
 * Input: pieces of d x l, the shop's limits, the densest finish in use. Output: how many logs, how thick, how
 * long.
 * 1. V = N (pi/4) d^2 l / (1 - lost): what is cooked, ends and starting included.
 * 2. logs = V rho / mass limit, rounded up; V1 = V / logs.
 * 3. D0 = min(D_max, sqrt(4 V1 / (pi L_min))): as thick as the least length allows. Below the least log the
 * order is raised to the least one that fills it.
 * 4. n = (1 - j) D0 / step rounded down, j the jacket's share of the radius, with the finest step that keeps
 * n within STEPS_MAX; D = n step / (1 - j); L = 4 V1 / (pi D^2). Drawing out keeps the volume: reduction D /
 * d, cane L (D/d)^2. Volumes balance to 1e-9: logs D^2 L (1 - lost) = pieces d^2 l. */
#include "plan/plan.h"

#include "base/geom.h"

#include <math.h>
#include <string.h>

static const double margin_apart = 1, margin_alike = 0.25; /* least strips; ours */

static double densest(const Palette *palette) {
    double density = 0;
    for (int i = 0; i < palette->count; i++) density = fmax(density, palette->candy[i].density_g_ml);
    for (int i = 0; i < palette->jackets; i++) density = fmax(density, palette->jacket[i].density_g_ml);
    return density;
}

static double section_mm2(double diameter_mm) {
    return PI / 4 * diameter_mm * diameter_mm;
}

/* 4. The finest of least strip / 4, / 3, / 2 that keeps the core within STEPS_MAX; if none does: / 2, n held.
 */
static void choose_step(double core_mm, const Shop *shop, Cane *cane) {
    LayKey *key = &cane->key;
    for (int parts = 4; parts >= 2; parts--) {
        key->least_steps = parts;
        cane->step_mm = shop->least_strip_mm / parts;
        key->steps = (int)fmin(floor(core_mm / cane->step_mm * (1 + 1e-12)), STEPS_MAX + 1);
        if (key->steps <= STEPS_MAX) break;
    }
    key->steps = key->steps > STEPS_MAX ? STEPS_MAX : key->steps < 1 ? 1 : key->steps;
}

/* A fine block is built twice as wide and a quarter as long, from lumps that hands can draw: its largest side
 * in steps. */
static int fine_most(const Cane *cane, const Shop *shop) {
    double lump_mm = cane->log_length_mm / 4 / (1 - shop->lost_share);
    if (lump_mm < shop->lump_length_min_mm) return 0;
    return (int)fmin(floor(shop->block_width_max_mm / 2 / cane->step_mm * (1 + 1e-12)), STEPS_MAX);
}

/* How many least strips of field part the picture and the jacket. A jacket of other candies must not run into
 * the picture; one in the field's candy is but more field. */
static double margin_strips(const Palette *palette) {
    for (int i = 0; i < palette->jackets; i++)
        if (strcmp(palette->jacket[i].name, palette->candy[palette->field].name) != 0) return margin_apart;
    return margin_alike;
}

/* The rest of the key, once step and length are known. */
static void fill_key(const Order *order, const Palette *palette, const Shop *shop, Cane *cane) {
    cane->key.margin = margin_strips(palette);
    cane->key.sheet_steps = (int)ceil(shop->least_sheet_mm / cane->step_mm - 1e-9);
    cane->key.fine_most = order->no_fine ? 0 : fine_most(cane, shop);
    cane->key.rounding = shop->rounding;
    cane->key.detail = order->detail;
    cane->key.ropes_cap = order->ropes_cap;
    cane->key.corners_most = shop->corners_max;
    cane->key.sharpest = tan(shop->sharpest_deg * PI / 180);
    cane->key.taper_least = shop->taper_share;
}

bool size_cane(const Order *order, const Palette *palette, const Shop *shop, Cane *out, Err *err) {
    Cane cane = {.pieces = order->pieces};
    double piece_mm3 = section_mm2(order->piece_diameter_mm) * order->piece_length_mm;
    double density_g_mm3 = densest(palette) / 1000, kept = 1 - shop->lost_share;
    double volume = (double)order->pieces * piece_mm3 / kept;                                 /* 1 */
    double logs = fmax(1, ceil(volume * density_g_mm3 / shop->log_mass_max_g * (1 - 1e-12))); /* 2 */
    if (logs > 100000)
        return err_set(err, ERR_USAGE,
                       "--pieces: that order takes %.0f logs; ask for fewer or smaller pieces", logs);
    double each = volume / logs;
    double least = section_mm2(shop->log_diameter_min_mm) * shop->log_length_min_mm;
    if (each < least) { /* 3: only ever with one log */
        cane.least_order = true;
        cane.pieces = (long)ceil(least * logs * kept / piece_mm3 * (1 - 1e-12));
        each = (double)cane.pieces * piece_mm3 / kept / logs;
    }
    double diameter = fmin(shop->log_diameter_max_mm, sqrt(4 * each / (PI * shop->log_length_min_mm)));
    choose_step((1 - shop->jacket_share) * diameter, shop, &cane); /* 4 */
    cane.logs = (int)logs;
    cane.core_diameter_mm = cane.key.steps * cane.step_mm;
    cane.log_diameter_mm = cane.core_diameter_mm / (1 - shop->jacket_share);
    cane.log_length_mm = each / section_mm2(cane.log_diameter_mm);
    fill_key(order, palette, shop, &cane);
    cane.volume_ml = each / 1000;
    cane.reduction = cane.log_diameter_mm / order->piece_diameter_mm;
    cane.cane_length_m = cane.log_length_mm * cane.reduction * cane.reduction / 1000;
    if (cane.reduction <= 1)
        return err_set(
            err, ERR_USAGE,
            "--piece: %.4g mm across is no thinner than the log (%.4g mm); ask for a smaller piece",
            order->piece_diameter_mm, cane.log_diameter_mm);
    *out = cane;
    return true;
}
