/* The cook and the heat as text for people. SPDX-License-Identifier: MIT */
#include "write/write_cook.h"

#include "say/cook_words.h"
#include "base/text.h"

#include <string.h>

enum { NAME_COLUMNS = 18, CELL = -12 };

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

static void print_label(const char *label, FILE *file) {
    char name[CANDY_NAME];
    fprintf(file, "%*s", TEXT_INDENT, "");
    text_fit(name, sizeof name, label, NAME_COLUMNS - 1);
    text_pad(file, name, NAME_COLUMNS);
}

static void print_weights(const char *label, const Weights *w, const Job *job, FILE *file) {
    print_label(label, file);
    print_cell(w->sugar_g, job, file);
    print_cell(w->syrup_g, job, file);
    print_cell(w->water_g, job, file);
    fputc('\n', file);
}

/* Those that the shop's file gives. */
static void print_doses(const char *label, const Weights *w, const Job *job, FILE *file) {
    const Weights *whole = &job->recipe.whole;
    print_label(label, file);
    if (whole->acid_g > 0) print_dose(w->acid_g, job, file);
    if (whole->flavour_g > 0) print_dose(w->flavour_g, job, file);
    if (whole->colour_g > 0) print_dose(w->colour_g, job, file);
    fputc('\n', file);
}

typedef void PrintRow(const char *label, const Weights *w, const Job *job, FILE *file);

static void print_rows(PrintRow *print, const Job *job, FILE *file) {
    const Recipe *recipe = &job->recipe;
    fputc('\n', file); /* ends the heads */
    for (int i = 0; i < recipe->rows; i++) {
        if (job->bill.material[i].mass_g < MATERIAL_LEAST_G) continue;
        print(job->bill.material[i].candy.name, &recipe->row[i], job, file);
    }
    if (recipe->rows > 1) print("all", &recipe->whole, job, file);
    if (recipe->boilings > 1) print("a boiling", &recipe->boiling, job, file);
}

static void print_table(const Job *job, FILE *file) {
    const Weights *whole = &job->recipe.whole;
    fprintf(file, "\n%-*s", TEXT_INDENT, "Cook");
    text_pad(file, "spare included", NAME_COLUMNS);
    text_pad(file, "sugar", CELL);
    text_pad(file, "syrup", CELL);
    text_pad(file, "water", CELL);
    print_rows(print_weights, job, file);
    if (whole->acid_g <= 0 && whole->flavour_g <= 0 && whole->colour_g <= 0) return;
    print_label("", file);
    if (whole->acid_g > 0) text_pad(file, "acid", CELL);
    if (whole->flavour_g > 0) text_pad(file, "flavour", CELL);
    if (whole->colour_g > 0) text_pad(file, "colour", CELL);
    print_rows(print_doses, job, file);
}

static void print_lines(const char *label, const CookWords *words, FILE *file) {
    for (int i = 0; i < words->lines; i++) text_under(file, i == 0 ? label : "", words->line[i]);
}

void write_cook(const Job *job, FILE *file) {
    CookWords words;
    print_table(job, file);
    cook_words(job, &words);
    print_lines("", &words, file);
    heat_words(job, &words);
    fputc('\n', file);
    print_lines("Heat", &words, file);
}
