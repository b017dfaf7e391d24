/* The cook and the heat as text for people. SPDX-License-Identifier: MIT
 *
 * Every figure says where it comes from: (habit) is a number of the shop, (computed) follows from such
 * numbers. */
#include "write_cook.h"

#include "text.h"

#include <string.h>

enum { INDENT = 10, NAME_COLUMNS = 18, CELL = -12, LINE = 320 };

static void heading(FILE *file, const char *label, const char *line) {
    text_pad(file, label, INDENT);
    text_wrap(file, line, INDENT, INDENT);
}

/* --- Cook --- */

/* Large masses without decimals, so that the columns hold a thousand tons. */
static void print_cell(double g, const Job *job, FILE *file) {
    char mass[32], number[24];
    bool inches = job->order.units == UNITS_IN;
    double large = g / (inches ? G_PER_LB : 1000);
    text_number(number, sizeof number, large, 0);
    if (large < 100)
        mass_print(mass, sizeof mass, g, job->order.units);
    else
        (void)snprintf(mass, sizeof mass, "%s %s", number, inches ? "lb" : "kg");
    text_pad(file, mass, CELL);
}

/* Doses are weighed on a small scale: in grams, in all units. */
static void print_dose(double g, const Job *job, FILE *file) {
    char mass[32] = "-";
    if (g > 0) (void)snprintf(mass, sizeof mass, g < 10 ? "%.2f g" : "%.1f g", g);
    if (g < 1000)
        text_pad(file, mass, CELL);
    else
        print_cell(g, job, file);
}

static void print_weights(const char *label, const Weights *w, const Job *job, FILE *file) {
    const Weights *whole = &job->recipe.whole;
    char name[CANDY_NAME];
    fprintf(file, "%*s", INDENT, "");
    text_fit(name, sizeof name, label, NAME_COLUMNS - 1);
    text_pad(file, name, NAME_COLUMNS);
    print_cell(w->sugar_g, job, file);
    print_cell(w->syrup_g, job, file);
    print_cell(w->water_g, job, file);
    if (whole->acid_g > 0) print_dose(w->acid_g, job, file);
    if (whole->flavour_g > 0) print_dose(w->flavour_g, job, file);
    if (whole->colour_g > 0) print_dose(w->colour_g, job, file);
    fputc('\n', file);
}

static void print_table(const Job *job, FILE *file) {
    const Recipe *recipe = &job->recipe;
    fprintf(file, "\n%-*s", INDENT, "Cook");
    text_pad(file, "spare included", NAME_COLUMNS);
    text_pad(file, "sugar", CELL);
    text_pad(file, "syrup", CELL);
    text_pad(file, "water", CELL);
    if (recipe->whole.acid_g > 0) text_pad(file, "acid", CELL);
    if (recipe->whole.flavour_g > 0) text_pad(file, "flavour", CELL);
    if (recipe->whole.colour_g > 0) text_pad(file, "colour", CELL);
    fputc('\n', file);
    for (int i = 0; i < recipe->rows; i++)
        print_weights(job->bill.material[i].candy.name, &recipe->row[i], job, file);
    if (recipe->rows > 1) print_weights("all", &recipe->whole, job, file);
    if (recipe->boilings > 1) print_weights("a boiling", &recipe->boiling, job, file);
}

static void print_base(const Job *job, FILE *file) {
    const Shop *shop = job->shop;
    char line[LINE], each[32], kettle[32];
    mass_print(each, sizeof each, job->recipe.boiling.candy_g, job->order.units);
    mass_print(kettle, sizeof kettle, shop->kettle_g, job->order.units);
    (void)snprintf(line, sizeof line,
                   "computed from sugar to syrup solids %.3g : %.3g, syrup of %.3g %% solids, water %.3g %% "
                   "of the sugar, "
                   "%.3g %% moisture left (habits; moisture give or take 1 %%)",
                   shop->sugar_share * 100, 100 - shop->sugar_share * 100, shop->syrup_solids * 100,
                   shop->water_share * 100, shop->moisture * 100);
    heading(file, "", line);
    if (job->recipe.boilings == 1)
        (void)snprintf(line, sizeof line, "one boiling of %s; the kettle takes %s (habit)", each, kettle);
    else
        (void)snprintf(line, sizeof line, "%d boilings of %s each; the kettle takes %s (habit)",
                       job->recipe.boilings, each, kettle);
    heading(file, "", line);
}

static void print_cooking(const Job *job, FILE *file) {
    char line[LINE], to[48], boils[48], least[48], height[32];
    temperature_print(to, sizeof to, job->recipe.cook_c, job->order.units);
    if (job->shop->altitude_m == 0) {
        (void)snprintf(line, sizeof line, "cook to %s, for a kitchen at sea level (habit)", to);
        heading(file, "", line);
        return;
    }
    temperature_print(boils, sizeof boils, job->recipe.water_boils_c, job->order.units);
    temperature_print(least, sizeof least, job->recipe.cook_least_c, job->order.units);
    bool feet = job->order.units == UNITS_IN;
    (void)snprintf(height, sizeof height, "%.0f %s", job->shop->altitude_m / (feet ? M_PER_FT : 1),
                   feet ? "ft" : "m");
    (void)snprintf(line, sizeof line, "cook to %s, for at %s water boils at %s (computed)", to, height,
                   boils);
    heading(file, "", line);
    (void)snprintf(line, sizeof line,
                   "thick syrup may end as low as %s; check the thermometer in boiling water (habit)", least);
    heading(file, "", line);
}

/* --- Heat --- */

/* "48 s", "83 min". */
static void time_print(char *out, size_t size, double seconds) {
    if (seconds < 119.5)
        (void)snprintf(out, size, "%.0f s", seconds);
    else
        (void)snprintf(out, size, "%.0f min", seconds / 60);
}

/* One scale only: "80 °C". */
static void degrees_print(char *out, size_t size, double c, Units units) {
    (void)snprintf(out, size, "%.0f °%c", units == UNITS_IN ? c * 1.8 + 32 : c,
                   units == UNITS_IN ? 'F' : 'C');
}

static void print_terms(const Job *job, FILE *file) {
    const Shop *shop = job->shop;
    char line[LINE], joining[16], working[16], room[16];
    degrees_print(joining, sizeof joining, shop->joining_c, job->order.units);
    degrees_print(working, sizeof working, shop->working_c, job->order.units);
    degrees_print(room, sizeof room, shop->room_c, job->order.units);
    (void)snprintf(line, sizeof line,
                   "time for the middle to fall from %s to %s in a room of %s (habits); computed", joining,
                   working, room);
    fputc('\n', file);
    heading(file, "Heat", line);
}

/* Of whole ropes the strips and the wedges that go cold first. */
static void print_whole(const Job *job, FILE *file) {
    static const char *const kind[] = {"strips", "wedges"};
    char line[LINE] = "", size[64], time[32];
    for (int k = KIND_STRIP; k <= KIND_WEDGE; k++) {
        if (job->heat.first[k] < 0) continue;
        const Warmth *warmth = &job->heat.rope[job->heat.first[k]];
        size_t used = strlen(line);
        size_print(size, sizeof size, warmth->width_mm, warmth->height_mm, job->order.units);
        time_print(time, sizeof time, warmth->seconds);
        (void)snprintf(line + used, sizeof line - used, "%s%s %s %s",
                       used > 0 ? ", " : "out of the warm box: ", size, kind[k], time);
    }
    if (line[0]) heading(file, "", line);
}

static void print_rest(const Job *job, FILE *file) {
    const Heat *heat = &job->heat;
    char line[LINE], log[32], rim[32];
    time_print(log, sizeof log, heat->log.seconds);
    (void)snprintf(line, sizeof line, "the log %s", log);
    if (heat->first[KIND_RIM] >= 0) {
        time_print(rim, sizeof rim, heat->rope[heat->first[KIND_RIM]].seconds);
        (void)snprintf(line, sizeof line, "rim ropes from %s on; the log %s", rim, log);
    }
    heading(file, "", line);
    bool inches = job->order.units == UNITS_IN;
    (void)snprintf(
        line, sizeof line,
        "a rope %.0f °%c warmer than the next is %.1f times as soft (ratio only): it is drawn thinner",
        heat->uneven_c * (inches ? 1.8 : 1), inches ? 'F' : 'C', heat->uneven_ratio);
    heading(file, "", line);
}

void write_cook(const Job *job, FILE *file) {
    print_table(job, file);
    print_base(job, file);
    print_cooking(job, file);
    print_terms(job, file);
    if (job->heat.ropes > 0) print_whole(job, file);
    print_rest(job, file);
}
