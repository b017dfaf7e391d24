/* Which piece sizes and orders a sweep looks at. SPDX-License-Identifier: MIT */
#include "model/sweep_table.h"

#include "base/units.h"

#include <stdlib.h>
#include <string.h>

SweepPlan sweep_plan_default(void) {
    return (SweepPlan){7, {12, 14, 16, 18, 20, 22, 25}, 5, {250, 500, 1000, 2000, 5000}, true};
}

void sweep_plan_speak(SweepPlan *plan, Units units) {
    static const double inches[] = {12.7, 14.2875, 15.875, 17.4625, 19.05, 22.225, 25.4}; /* mm */
    if (!plan->usual_sizes || units != UNITS_IN) return;
    plan->sizes = sizeof inches / sizeof *inches;
    memcpy(plan->diameter_mm, inches, sizeof inches);
}

/* Copies the word that ends before the next of "," and ":" and moves *at behind it. */
static bool next_word(const char **at, char out[32]) {
    size_t length = strcspn(*at, ",:");
    if (length == 0 || length >= 32) return false;
    memcpy(out, *at, length);
    out[length] = 0;
    *at += length;
    return true;
}

/* Puts value into the rising list; false if it is there or the list is full. */
static bool insert(double value, int *count, double list[SWEEP_MAX]) {
    int at = *count;
    if (at == SWEEP_MAX) return false;
    for (; at > 0 && list[at - 1] > value; at--) list[at] = list[at - 1];
    list[at] = value;
    ++*count;
    return at == 0 || list[at - 1] != value;
}

/* A list up to ":" or the end. */
static bool read_list(const char **at, bool sizes, int *count, double list[SWEEP_MAX]) {
    char word[32];
    *count = 0;
    for (;; (*at)++) {
        double size;
        long pieces;
        if (!next_word(at, word)) return false;
        if (!(sizes ? length_parse(word, UNITS_MM, PIECE_LEAST_MM, PIECE_MOST_MM, &size)
                    : whole_parse(word, 1, PIECES_MAX, &pieces)))
            return false;
        if (!insert(sizes ? size : (double)pieces, count, list)) return false;
        if (**at != ',') return true;
    }
}

bool sweep_plan_parse(const char *text, SweepPlan *out) {
    SweepPlan plan = sweep_plan_default();
    double list[SWEEP_MAX];
    plan.usual_sizes = *text == ':';
    if (!plan.usual_sizes && !read_list(&text, true, &plan.sizes, plan.diameter_mm)) return false;
    if (*text == ':') {
        text++;
        if (!read_list(&text, false, &plan.orders, list)) return false;
        for (int i = 0; i < plan.orders; i++) plan.pieces[i] = (long)list[i];
    }
    if (*text) return false;
    *out = plan;
    return true;
}
