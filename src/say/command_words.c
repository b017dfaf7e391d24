/* A change as options of the command. SPDX-License-Identifier: MIT
 *
 * What is typed asks for what was tried: run/trial.h's change_order makes the same order of a change. */
#include "say/verdict_words.h"

#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Appends a space, but at the start, and the words; false if there is no room. */
static bool add(char *out, size_t size, const char *words) {
    if (strlen(out) + 1 + strlen(words) >= size) return false;
    text_append(out, size, "%s%s", out[0] ? " " : "", words);
    return true;
}

/* In inches if they are spoken and it is whole thousandths, so that it reads back as the same. */
static void print_side(char *out, size_t size, double mm, Units units) {
    double thousandths = mm / MM_PER_IN * 1000;
    bool inches = units == UNITS_IN && fabs(thousandths - round(thousandths)) < 1e-6;
    (void)snprintf(out, size, "%.9g%s", inches ? mm / MM_PER_IN : mm, inches ? "in" : "mm");
}

/* A change by diameter is one by pieces, where mass was ordered: as many. */
static bool add_size(char *out, size_t size, const Job *job, const Change *change) {
    char words[96], across[32], length[32];
    const Order *order = &job->order;
    long pieces = change->pieces > 0                               ? change->pieces
                  : change->diameter_mm > 0 && order->weight_g > 0 ? order->pieces
                                                                   : 0;
    (void)snprintf(words, sizeof words, "-n %ld", pieces);
    if (pieces > 0 && !add(out, size, words)) return false;
    if (change->diameter_mm <= 0) return true;
    print_side(across, sizeof across, diameter_typed(change->diameter_mm, order->units), order->units);
    print_side(length, sizeof length, order->piece_length_mm, order->units);
    const char *unit = across + strlen(across) - 2;
    bool both = strcmp(unit, length + strlen(length) - 2) == 0;
    (void)snprintf(words, sizeof words, "-p %.*sx%s", (int)strlen(across) - (both ? 2 : 0), across, length);
    return add(out, size, words);
}

/* "--leave-out 12:34,56:78": all at once. */
static bool add_points(char *out, size_t size, const Change *change) {
    char words[24 + CHANGE_POINTS * (SPOT_TEXT + 1)] = "--leave-out ", spot[SPOT_TEXT];
    for (int i = 0; i < change->points; i++) {
        spot_print(change->point[i].x, change->point[i].y, spot);
        text_append(words, sizeof words, "%s%s", i > 0 ? "," : "", spot);
    }
    return add(out, size, words);
}

static bool add_join(char *out, size_t size, const Job *job, const Change *change) {
    char words[48], one[RGB8_CODE], other[RGB8_CODE];
    const Ink *ink = &job->inks->ink[change->joined - 1], *into = &job->inks->ink[change->into];
    if (ink->transparent || into->transparent) return false;
    rgb8_code(ink->srgb, one);
    rgb8_code(into->srgb, other);
    (void)snprintf(words, sizeof words, "--join '%s=%s'", one, other);
    return add(out, size, words);
}

static bool add_dyes(char *out, size_t size, const Job *job, unsigned dyed) {
    char words[32], code[RGB8_CODE];
    for (int i = 0; i < job->inks->count; i++) {
        if (!(dyed >> i & 1)) continue;
        if (job->inks->ink[i].transparent) return false;
        rgb8_code(job->inks->ink[i].srgb, code);
        (void)snprintf(words, sizeof words, "-m '%s=dye'", code);
        if (!add(out, size, words)) return false;
    }
    return true;
}

static bool add_number(char *out, size_t size, const char *option, double number) {
    char words[48];
    (void)snprintf(words, sizeof words, "%s %.6g", option, number);
    return number <= 0 || add(out, size, words);
}

bool command_words(const Job *job, const Change *change, char *out, size_t size) {
    char words[OPTIONS_TEXT] = "";
    const size_t room = sizeof words;
    bool can = (!change->without || change->points > 0) && add_size(words, room, job, change) &&
               (change->points == 0 || add_points(words, room, change)) &&
               (!change->joined || add_join(words, room, job, change)) &&
               add_dyes(words, room, job, change->dyed) && add_number(words, room, "-k", change->colours) &&
               (!change->plain || add(words, room, "--detail plain")) &&
               add_number(words, room, "--people", change->people) &&
               add_number(words, room, "--warm-box", change->joining_c);
    if (!can || !words[0] || strlen(words) >= size) return false;
    (void)snprintf(out, size, "%s", words);
    return true;
}
