/* A change as options of the command. SPDX-License-Identifier: MIT
 *
 * What is typed asks for what was tried: run/trial.h's change_order makes the same order of a change. */
#include "say/verdict_words.h"

#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The next pair, its value to be filled. */
static char *add(ChangeOptions *to, const char *name) {
    OptionPair *pair = &to->pair[to->pairs++];
    pair->name = name;
    pair->value[0] = 0;
    return pair->value;
}

/* In inches if they are spoken and it is whole thousandths, so that it reads back as the same. */
static void print_side(char *out, size_t size, double mm, Units units) {
    double thousandths = mm / MM_PER_IN * 1000;
    bool inches = units == UNITS_IN && fabs(thousandths - round(thousandths)) < 1e-6;
    (void)snprintf(out, size, "%.9g%s", inches ? mm / MM_PER_IN : mm, inches ? "in" : "mm");
}

/* A change by diameter is one by pieces, where mass was ordered: as many. */
static void add_size(ChangeOptions *to, const Job *job, const Change *change) {
    char across[32], length[32];
    const Order *order = &job->order;
    long pieces = change->pieces > 0                               ? change->pieces
                  : change->diameter_mm > 0 && order->weight_g > 0 ? order->pieces
                                                                   : 0;
    if (pieces > 0) (void)snprintf(add(to, "pieces"), PAIR_VALUE, "%ld", pieces);
    if (change->diameter_mm <= 0) return;
    print_side(across, sizeof across, diameter_typed(change->diameter_mm, order->units), order->units);
    print_side(length, sizeof length, order->piece_length_mm, order->units);
    const char *unit = across + strlen(across) - 2;
    bool both = strcmp(unit, length + strlen(length) - 2) == 0;
    (void)snprintf(add(to, "piece"), PAIR_VALUE, "%.*sx%s", (int)strlen(across) - (both ? 2 : 0), across,
                   length);
}

/* "12:34,56:78": all at once. */
static void add_points(ChangeOptions *to, const Change *change) {
    char spot[SPOT_TEXT];
    if (change->points == 0) return;
    char *value = add(to, "leave-out");
    for (int i = 0; i < change->points; i++) {
        spot_print(change->point[i].x, change->point[i].y, spot);
        text_append(value, PAIR_VALUE, "%s%s", i > 0 ? "," : "", spot);
    }
}

static bool add_join(ChangeOptions *to, const Job *job, const Change *change) {
    char one[RGB8_CODE], other[RGB8_CODE];
    if (!change->joined) return true;
    const Ink *ink = &job->inks->ink[change->joined - 1], *into = &job->inks->ink[change->into];
    if (ink->transparent || into->transparent) return false;
    rgb8_code(ink->srgb, one);
    rgb8_code(into->srgb, other);
    (void)snprintf(add(to, "join"), PAIR_VALUE, "%s=%s", one, other);
    return true;
}

static bool add_dyes(ChangeOptions *to, const Job *job, unsigned dyed) {
    char code[RGB8_CODE];
    for (int i = 0; i < job->inks->count; i++) {
        if (!(dyed >> i & 1)) continue;
        if (job->inks->ink[i].transparent) return false;
        rgb8_code(job->inks->ink[i].srgb, code);
        (void)snprintf(add(to, "map"), PAIR_VALUE, "%s=dye", code);
    }
    return true;
}

static void add_number(ChangeOptions *to, const char *name, double number) {
    if (number > 0) (void)snprintf(add(to, name), PAIR_VALUE, "%.6g", number);
}

bool change_options(const Job *job, const Change *change, ChangeOptions *out) {
    ChangeOptions options = {0};
    if (change->without && change->points == 0) return false;
    add_size(&options, job, change);
    add_points(&options, change);
    if (change->lettering > 0) (void)snprintf(add(&options, "leave-out"), PAIR_VALUE, "lettering");
    if (!add_join(&options, job, change) || !add_dyes(&options, job, change->dyed)) return false;
    add_number(&options, "colours", change->colours);
    if (change->plain) (void)snprintf(add(&options, "detail"), PAIR_VALUE, "plain");
    add_number(&options, "people", change->people);
    add_number(&options, "warm-box", change->joining_c);
    if (options.pairs == 0) return false;
    *out = options;
    return true;
}

/* "-n ": as it is typed, the short letter if the option has one. */
static void name_typed(const char *name, char out[24]) {
    static const char *const letter[][2] = {
        {"pieces", "-n "}, {"piece", "-p "}, {"map", "-m "}, {"colours", "-k "}};
    (void)snprintf(out, 24, "--%s ", name);
    for (size_t i = 0; i < sizeof letter / sizeof *letter; i++)
        if (strcmp(letter[i][0], name) == 0) (void)snprintf(out, 24, "%s", letter[i][1]);
}

bool command_words(const Job *job, const Change *change, char *out, size_t size) {
    char words[OPTIONS_TEXT] = "", one[24 + PAIR_VALUE];
    ChangeOptions options;
    if (!change_options(job, change, &options)) return false;
    for (int i = 0; i < options.pairs; i++) {
        name_typed(options.pair[i].name, one);
        text_append_word(one, sizeof one, options.pair[i].value);
        if (strlen(words) + 1 + strlen(one) >= sizeof words) return false;
        text_append(words, sizeof words, "%s%s", words[0] ? " " : "", one);
    }
    if (strlen(words) >= size) return false;
    (void)snprintf(out, size, "%s", words);
    return true;
}

bool command_whole(const Job *job, const char *options, const char *output, const char *logo,
                   char out[COMMAND_TEXT]) {
    const char *part[] = {"logocane", job->typed, job->advised.options, options, output, logo};
    out[0] = 0;
    if (!job->typed || !logo) return false;
    for (size_t i = 0; i < sizeof part / sizeof *part; i++) {
        if (!part[i] || !part[i][0]) continue;
        if (strlen(out) + strlen(part[i]) + 2 > COMMAND_TEXT) return false;
        text_append(out, COMMAND_TEXT, "%s%s", out[0] ? " " : "", part[i]);
    }
    return text_valid(out);
}
