/* Candies dyed to order, for match_candy. SPDX-License-Identifier: MIT */
#include "plan/plan_parts.h"

#include "model/colour_name.h"
#include "model/far_colour.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#define DYED_DENSITY 1.30 /* g/ml, pulled candy; common practice */
#define DYED_LEAST 0.005  /* of the area; no batch is dyed to a smaller ink, which is not judged either */
#define SHADE_APART 8.0   /* CIEDE2000; a second shade of a candy is told from it; chosen */

/* The choice of that name, -1 if there is none. */
static int find_name(const Choices *choices, const char *name) {
    for (int c = 0; c < choices->count; c++)
        if (strcasecmp(choices->candy[c].name, name) == 0) return c;
    return -1;
}

/* How a colour differs most from one of the same name, NULL if hardly; a step of chroma is seen as half a one
 * of lightness. */
static const char *how_else(Rgb8 colour, Rgb8 from) {
    Lab is = rgb8_lab(colour), was = rgb8_lab(from);
    if (delta_e00(is, was) < NEAR_COLOUR / 2) return NULL;
    double stronger = hypot(is.a, is.b) - hypot(was.a, was.b);
    if (stronger / 2 > fabs(is.l - was.l)) return "bright";
    return is.l > was.l ? "light" : "dark";
}

/* The plain name that fits best and that no other choice has; of a red beside the stock's red rather "light
 * red" than the next best name, which is of another family. There are more names than choices. */
_Static_assert((int)COLOUR_NAMES > (int)CHOICES_MAX, "a dyed candy might be left without a name");

static void give_name(const Choices *choices, Candy *candy) {
    const char *name[COLOUR_NAMES];
    colour_names(candy->srgb, name);
    for (int i = 0; i < COLOUR_NAMES; i++) {
        int has = find_name(choices, name[i]);
        (void)snprintf(candy->name, sizeof candy->name, "%s", name[i]);
        if (has < 0) return;
        const char *how = how_else(candy->srgb, choices->candy[has].srgb);
        if (!how) continue;
        (void)snprintf(candy->name, sizeof candy->name, "%s %s", how, name[i]);
        if (colour_name_known(candy->name) && find_name(choices, candy->name) < 0) return;
    }
}

static bool same_colour(Rgb8 a, Rgb8 b) {
    return a.r == b.r && a.g == b.g && a.b == b.b;
}

int dye_choice(Choices *choices, const Shop *shop, Rgb8 colour) {
    Candy dyed = {.finish = FINISH_PULLED,
                  .srgb = colour_bounded(colour, &shop->dyed),
                  .density_g_ml = DYED_DENSITY,
                  .dyed = true};
    for (int c = choices->stock; c < choices->count; c++)
        if (choices->candy[c].dyed && same_colour(choices->candy[c].srgb, dyed.srgb)) return c;
    give_name(choices, &dyed);
    choices->candy[choices->count] = dyed;
    return choices->count++;
}

/* The candy of the stock that is nearest to an ink, of those that the program may take by itself. */
typedef struct Near {
    int choice;   /* -1: none, or the ink is transparent */
    double apart; /* CIEDE2000 */
} Near;

static Near near_of_stock(const Choices *choices, const Ink *ink) {
    Near near = {-1, HUGE_VAL};
    for (int c = 0; c < choices->stock && !ink->transparent; c++) {
        double apart = delta_e00(rgb8_lab(ink->srgb), rgb8_lab(choices->candy[c].srgb));
        if (choices->candy[c].finish == FINISH_PULLED && apart < near.apart) near = (Near){c, apart};
    }
    return near;
}

/* Is it another shade of a candy that a larger ink, which it touches, is to have? */
static bool is_second_shade(const InkMap *inks, const Near near[INKS_MAX], int ink) {
    for (int j = 0; j < ink; j++)
        if (near[ink].apart > SHADE_APART && near[j].choice == near[ink].choice && inks->border[ink][j] > 0)
            return true;
    return false;
}

void choices_list(const InkMap *inks, const Shop *shop, Choices *out) {
    *out = (Choices){.count = shop->stock.count, .stock = shop->stock.count};
    memcpy(out->candy, shop->stock.candy, sizeof shop->stock.candy);
    Near near[INKS_MAX];
    for (int i = 0; i < inks->count && shop->dye_to_order; i++) {
        near[i] = near_of_stock(out, &inks->ink[i]);
        if (inks->ink[i].transparent || inks->ink[i].share < DYED_LEAST) continue;
        if (near[i].apart > NEAR_COLOUR || is_second_shade(inks, near, i))
            (void)dye_choice(out, shop, inks->ink[i].srgb);
    }
}
