/* Public. The cook: what goes into the kettle, and how hot it gets. SPDX-License-Identifier: MIT
 *
 * Computed from the shop's own numbers; moisture, and so every mass here, is good to 1 % of the candy. */
#ifndef LOGOCANE_RECIPE_H
#define LOGOCANE_RECIPE_H

#include "model/bill.h"

/* What so much candy takes. Filled by cook. */
typedef struct Weights {
    double candy_g; /* cooked */
    double sugar_g; /* dry */
    double syrup_g; /* glucose syrup, its water included */
    double water_g; /* to dissolve the sugar; it boils off */
    double acid_g;  /* 0: the shop gives no dose; likewise the next two */
    double flavour_g;
    double colour_g;
} Weights;

/* Filled by cook. */
typedef struct Recipe {
    int rows;                   /* as Bill.materials, in the same order */
    Weights row[MATERIALS_MAX]; /* of each candy, all logs, spare included */
    Weights whole;              /* of all candies */
    int boilings;         /* equal, each log's by themselves: cooked candy does not wait for the next log */
    Weights boiling;      /* one of them, before it is coloured: colour_g 0 */
    double water_boils_c; /* in the shop, at its altitude */
    double shift_c;       /* how much cooler than at sea level */
    double cook_c;        /* the shop's temperature at sea level less the shift */
    double cook_least_c;  /* the same with 1.3 times the shift: that of a thick syrup can be so much */
} Recipe;

#endif
