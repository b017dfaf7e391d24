/* Candy becomes sugar, syrup and water. SPDX-License-Identifier: MIT
 *
 * Input: the masses of candy, the shop. Output: what goes into the kettle, and how hot it is cooked.
 * 1. Cooked candy is sugar, syrup solids, the water left, and the shop's own doses. Sugar and syrup solids
 * share what the others leave by the shop's ratio; the syrup brings its own water, which boils off with that
 * for dissolving.
 * 2. A log's candy is cooked in as few equal boilings as the kettle allows, all colours together.
 * 3. Water boils cooler at a height, and the cook ends so much cooler at the same moisture.
 * Invariant: sugar, syrup solids, doses and moisture add up to the candy. Sources: the shop's numbers, see
 * docs/numbers.md; 1.3, the most that the shift of a thick syrup is of that of water: computed beforehand, no
 * source.
 */
#include "bench/bench.h"

#include <math.h>

static const double syrup_shift = 1.3;

/* 1. */
static Weights weights_of(double candy_g, double colour_share, const Shop *shop) {
    double doses = shop->acid_share + shop->flavour_share + colour_share;
    double dry_g = candy_g * (1 - shop->moisture - doses);
    Weights w = {.candy_g = candy_g, .sugar_g = dry_g * shop->sugar_share};
    w.syrup_g = dry_g * (1 - shop->sugar_share) / shop->syrup_solids;
    w.water_g = w.sugar_g * shop->water_share;
    w.acid_g = candy_g * shop->acid_share;
    w.flavour_g = candy_g * shop->flavour_share;
    w.colour_g = candy_g * colour_share;
    return w;
}

static void add_weights(Weights *sum, const Weights *w) {
    sum->candy_g += w->candy_g;
    sum->sugar_g += w->sugar_g;
    sum->syrup_g += w->syrup_g;
    sum->water_g += w->water_g;
    sum->acid_g += w->acid_g;
    sum->flavour_g += w->flavour_g;
    sum->colour_g += w->colour_g;
}

/* 2. A kettle that a log fills exactly is enough. */
static void count_boilings(const Cane *cane, const Shop *shop, Recipe *recipe) {
    double log_g = recipe->whole.candy_g / cane->logs;
    int each = (int)fmax(1, ceil(log_g / shop->kettle_g * (1 - 1e-9)));
    recipe->boilings = each * cane->logs;
    recipe->boiling = weights_of(log_g / each, 0, shop);
}

/* --- 3. water that boils --- */

double air_pressure_kpa(double altitude_m) {
    return 101.325 * pow(1 - 2.25577e-5 * altitude_m, 5.25588);
}

double steam_pressure_kpa(double celsius) {
    const double critical_k = 647.096, critical_kpa = 22064;
    double kelvin = celsius + 273.15, t = 1 - kelvin / critical_k;
    double sum = -7.85951783 * t + 1.84408259 * pow(t, 1.5) - 11.7866497 * pow(t, 3) +
                 22.6807411 * pow(t, 3.5) - 15.9618719 * pow(t, 4) + 1.80122502 * pow(t, 7.5);
    return critical_kpa * exp(critical_k / kelvin * sum);
}

/* The curve rises everywhere: halving, as often as doubles can be told apart. */
double water_boils_c(double pressure_kpa) {
    double low = 0, high = 373;
    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2;
        if (steam_pressure_kpa(middle) < pressure_kpa)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}

static void correct_temperature(const Shop *shop, Recipe *recipe) {
    recipe->water_boils_c = water_boils_c(air_pressure_kpa(shop->altitude_m));
    recipe->shift_c = water_boils_c(air_pressure_kpa(0)) - recipe->water_boils_c;
    recipe->cook_c = shop->cook_c - recipe->shift_c;
    recipe->cook_least_c = shop->cook_c - syrup_shift * recipe->shift_c;
}

void cook(const Cane *cane, const Bill *bill, const Shop *shop, Recipe *out) {
    Recipe recipe = {.rows = bill->materials};
    for (int i = 0; i < bill->materials; i++) {
        const MaterialRow *material = &bill->material[i];
        recipe.row[i] = weights_of(material->with_spare_g, material->candy.dye_share, shop);
        add_weights(&recipe.whole, &recipe.row[i]);
    }
    count_boilings(cane, shop, &recipe);
    correct_temperature(shop, &recipe);
    *out = recipe;
}
