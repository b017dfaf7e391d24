/* What the kitchen is told. SPDX-License-Identifier: MIT */
#include "say/bench_words.h"

#include "model/shop.h"
#include "base/text.h"

#include <math.h>
#include <string.h>

enum { SIZES = 4 }; /* kinds of rope whose time is told */

/* --- the cook --- */

int cook_cells(const Job *job, const Weights *w, CookCell out[COOK_CELLS]) {
    const Weights *whole = &job->recipe.whole;
    int cells = 0;
    out[cells++] = (CookCell){"candy", w->candy_g, false};
    out[cells++] = (CookCell){"sugar", w->sugar_g, false};
    out[cells++] = (CookCell){"syrup", w->syrup_g, false};
    out[cells++] = (CookCell){"water", w->water_g, false};
    if (whole->acid_g > 0) out[cells++] = (CookCell){"acid", w->acid_g, true};
    if (whole->flavour_g > 0) out[cells++] = (CookCell){"flavour", w->flavour_g, true};
    if (whole->colour_g > 0) out[cells++] = (CookCell){"colour", w->colour_g, true};
    return cells;
}

void dose_print(double g, char out[32]) {
    (void)snprintf(out, 32, g < 10 ? "%.2f g" : "%.1f g", g);
}

int cook_rows(const Job *job, CookRow out[COOK_ROWS]) {
    const Recipe *recipe = &job->recipe;
    int rows = 0;
    for (int i = 0; i < recipe->rows; i++) {
        const MaterialRow *material = &job->bill.material[i];
        if (material->mass_g < MATERIAL_LEAST_G) continue;
        out[rows++] = (CookRow){material->candy.name, &material->candy, &recipe->row[i]};
    }
    if (recipe->rows > 1) out[rows++] = (CookRow){"all", NULL, &recipe->whole};
    if (recipe->boilings > 1) out[rows++] = (CookRow){"a boiling", NULL, &recipe->boiling};
    return rows;
}

/* Where the value of a key of the section "cook" comes from. */
static const char *standing(const Job *job, const char *name) {
    char ours[32], theirs[32];
    const Shop built_in = shop_default();
    const ShopKey *key = shop_key_find("cook", name);
    shop_key_print(key, &built_in, ours, sizeof ours);
    shop_key_print(key, job->shop, theirs, sizeof theirs);
    if (strcmp(ours, theirs) != 0) return "the shop's own";
    return strncmp(key->standing, "published", 9) == 0 ? "published" : key->standing;
}

static void say_source(const Job *job, CookWords *words) {
    const Shop *shop = job->shop;
    (void)snprintf(
        words->source, COOK_LINE,
        "computed from sugar to syrup solids %.3g : %.3g (%s), syrup of %.3g %% solids (%s), water "
        "%.3g %% of the sugar (%s), %.3g %% moisture left (%s; give or take 1 %%)",
        shop->sugar_share * 100, 100 - shop->sugar_share * 100, standing(job, "sugar"),
        shop->syrup_solids * 100, standing(job, "syrup_solids"), shop->water_share * 100,
        standing(job, "water"), shop->moisture * 100, standing(job, "moisture"));
}

static void say_boilings(const Job *job, CookWords *words) {
    char each[32], kettle[32];
    mass_print(each, sizeof each, job->recipe.boiling.candy_g, job->order.units);
    mass_print(kettle, sizeof kettle, job->shop->kettle_g, job->order.units);
    if (job->recipe.boilings == 1)
        (void)snprintf(words->boilings, COOK_LINE, "one boiling of %s; the kettle takes %s (habit)", each,
                       kettle);
    else
        (void)snprintf(words->boilings, COOK_LINE, "%d boilings of %s each; the kettle takes %s (habit)",
                       job->recipe.boilings, each, kettle);
}

static void say_temperature(const Job *job, CookWords *words) {
    char to[48], boils[48], least[48], sea[48], height[32];
    Units units = job->order.units;
    temperature_print(to, sizeof to, job->recipe.cook_c, units);
    if (job->shop->altitude_m == 0) {
        (void)snprintf(words->temperature, COOK_LINE, "cook to %s, for a kitchen at sea level (%s)", to,
                       standing(job, "temperature"));
        return;
    }
    temperature_print(boils, sizeof boils, job->recipe.water_boils_c, units);
    temperature_print(least, sizeof least, job->recipe.cook_least_c, units);
    temperature_print(sea, sizeof sea, job->shop->cook_c, units);
    bool feet = units == UNITS_IN;
    text_number(height, sizeof height - 3, job->shop->altitude_m / (feet ? M_PER_FT : 1), 0);
    strcat(height, feet ? " ft" : " m");
    (void)snprintf(words->temperature, COOK_LINE,
                   "cook to %s: at %s water boils at %s (computed; at sea level it would be %s, %s)", to,
                   height, boils, sea, standing(job, "temperature"));
    (void)snprintf(words->thick, COOK_LINE,
                   "thick syrup may end as low as %s; check the thermometer in boiling water (habit)", least);
}

void cook_words(const Job *job, CookWords *out) {
    CookWords words = {0};
    say_source(job, &words);
    say_boilings(job, &words);
    say_temperature(job, &words);
    *out = words;
}

void batches_words(const Job *job, Form form, char out[COOK_LINE]) {
    int batches = job->bill.quote.batches, dyed = job->bill.quote.dyed;
    char some[48] = "";
    if (dyed > 0) (void)snprintf(some, sizeof some, ", %d of them dyed to order", dyed);
    (void)snprintf(out, COOK_LINE, "%d coloured batch%s%s%s%s", batches, batches == 1 ? "" : "es",
                   form == FORM_TEXT ? " to cook" : "", some,
                   job->cane.logs > 1 ? ", each candy anew for each log" : "");
}

void block_ends_words(const Job *job, Form form, char out[COOK_LINE]) {
    char mass[32];
    double ends_g = 0;
    for (int i = 0; i < job->bill.materials; i++) ends_g += job->bill.material[i].block_ends_g;
    out[0] = 0;
    if (ends_g <= 0) return;
    mass_print(mass, sizeof mass, ends_g, job->order.units);
    (void)snprintf(out, COOK_LINE,
                   form == FORM_TEXT ? "of it %s for the ends of drawn-out blocks, %.3g %% of each (habit)"
                                     : "%s of it for the ends of blocks that are drawn out (%.3g %%, habit)",
                   mass, job->shop->lost_share * 100);
}

/* --- the heat --- */

/* One scale only: "80 °C". */
static void degrees_print(char *out, size_t size, double c, Units units) {
    (void)snprintf(out, size, "%.0f °%c", units == UNITS_IN ? c * 1.8 + 32 : c,
                   units == UNITS_IN ? 'F' : 'C');
}

static void say_terms(const Job *job, HeatWords *words) {
    const Shop *shop = job->shop;
    char joining[16], working[16], room[16];
    degrees_print(joining, sizeof joining, shop->joining_c, job->order.units);
    degrees_print(working, sizeof working, shop->working_c, job->order.units);
    degrees_print(room, sizeof room, shop->room_c, job->order.units);
    (void)snprintf(words->terms, COOK_LINE,
                   "time for the middle to fall from %s to %s in a room of %s (habits), computed; of each "
                   "thickness the rope that cools first",
                   joining, working, room);
}

static double thickness(const Warmth *warmth) {
    return fmin(warmth->width_mm, warmth->height_mm);
}

/* The whole rope types of a kind that are next thicker than `over`: the one that goes cold first, or -1. */
static int next_thicker(const Job *job, int kind, double over) {
    int best = -1;
    for (int i = 0; i < job->heat.ropes && i < job->bill.rope_types; i++) {
        const RopeRow *row = &job->bill.rope[i];
        const Warmth *warmth = &job->heat.rope[i], *known = best < 0 ? NULL : &job->heat.rope[best];
        if ((int)rope_kind(row) != kind) continue;
        if (thickness(warmth) <= over + 0.05) continue;
        bool thinner = known && thickness(warmth) < thickness(known) - 0.05;
        bool colder =
            known && fabs(thickness(warmth) - thickness(known)) <= 0.05 && warmth->seconds < known->seconds;
        if (!known || thinner || colder) best = i;
    }
    return best;
}

/* "6 mm strips: 40 s out of the warm box; 7.5 mm 55 s", the thinnest first; `out` is "". */
static void say_kind(const Job *job, int kind, const char *name, char out[COOK_LINE]) {
    char size[32], time[32];
    double over = 0;
    for (int k = 0; k < SIZES; k++) {
        int type = next_thicker(job, kind, over);
        if (type < 0) break;
        const Warmth *warmth = &job->heat.rope[type];
        over = thickness(warmth);
        length_print(size, sizeof size, job->order.units == UNITS_IN ? length_by_hand(over, UNITS_IN) : over,
                     job->order.units);
        minutes_print(time, sizeof time, warmth->seconds);
        if (out[0])
            text_append(out, COOK_LINE, "; %s %s", size, time);
        else
            (void)snprintf(out, COOK_LINE, "%s %s: %s out of the warm box", size, name, time);
    }
}

static void say_rest(const Job *job, HeatWords *words) {
    const Heat *heat = &job->heat;
    char log[32], rim[32];
    minutes_print(log, sizeof log, heat->log.seconds);
    if (heat->first[KIND_RIM] >= 0 && heat->ropes > 0) {
        minutes_print(rim, sizeof rim, heat->rope[heat->first[KIND_RIM]].seconds);
        (void)snprintf(words->rest, COOK_LINE, "rim ropes from %s on; the log %s", rim, log);
    } else {
        (void)snprintf(words->rest, COOK_LINE, "the log %s", log);
    }
    bool inches = job->order.units == UNITS_IN;
    (void)snprintf(
        words->uneven, COOK_LINE,
        "a rope %.0f °%c warmer than the next is %.1f times as soft (ratio only): it is drawn thinner",
        heat->uneven_c * (inches ? 1.8 : 1), inches ? 'F' : 'C', heat->uneven_ratio);
}

void heat_words(const Job *job, HeatWords *out) {
    HeatWords words = {0};
    say_terms(job, &words);
    say_kind(job, KIND_STRIP, "strips", words.strips);
    say_kind(job, KIND_SLANTED, "slanted ropes", words.slanted);
    say_kind(job, KIND_ROUND, "round ropes", words.rounds);
    say_rest(job, &words);
    *out = words;
}
