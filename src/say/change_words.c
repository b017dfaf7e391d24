/* A change in words. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

#include "base/text.h"
#include "model/colour_name.h"

#include <stdio.h>
#include <string.h>

enum { NAMED_MAX = 3 };

/* Appends " and " and the words. */
static void add(char *out, size_t size, const char *words) {
    text_append(out, size, "%s%s", out[0] ? " and " : "", words);
}

/* "the white hole in the middle". */
static void part_name(char *out, size_t size, const Job *job, const Part *part) {
    char name[CANDY_NAME], place[32];
    const char *where = face_where(part->middle, job->grid.wanted.side);
    (void)snprintf(place, sizeof place, "%s the %s", strcmp(where, "middle") == 0 ? "in" : "at", where);
    text_fit(name, sizeof name, job->palette.candy[part->candy].name, 20);
    (void)snprintf(out, size, "the %s %s %s", name, part->hole ? "hole" : "part", place);
}

static bool in_set(uint64_t set, const Judgement *j, int part) {
    return part < j->parts && part < CHANGE_PARTS && set >> part & 1;
}

/* "the red part at the left, the white hole at the top and ...". */
static void name_parts(char *out, size_t size, const Job *job, uint64_t set, int count) {
    char name[CANDY_NAME + 48];
    int told = 0;
    for (int i = 0; i < CHANGE_PARTS; i++) {
        if (!in_set(set, &job->judgement, i)) continue;
        part_name(name, sizeof name, job, &job->judgement.part[i]);
        text_append(out, size, "%s%s", told == 0 ? "" : told == count - 1 ? " and " : ", ", name);
        told++;
    }
}

/* ", at the bottom", ", most at the bottom"; "" if they lie all over. */
static void add_side(char *out, size_t size, const Job *job, uint64_t set, int count) {
    static const char *const name[] = {"bottom", "top", "right", "left"};
    double side = job->grid.wanted.side;
    int there[4] = {0};
    for (int i = 0; i < CHANGE_PARTS; i++) {
        if (!in_set(set, &job->judgement, i)) continue;
        Point p = job->judgement.part[i].middle;
        there[0] += p.y > 0.6 * side;
        there[1] += p.y < 0.4 * side;
        there[2] += p.x > 0.6 * side;
        there[3] += p.x < 0.4 * side;
    }
    for (int s = 0; s < 4; s++) {
        if (4 * there[s] < 3 * count) continue;
        text_append(out, size, ", %sat the %s", there[s] < count ? "most " : "", name[s]);
        return;
    }
}

/* "the 12 finest details (brown, white, at the bottom)". */
static void count_parts(char *out, size_t size, const Job *job, uint64_t set, int count) {
    bool seen[INKS_MAX] = {false};
    char name[CANDY_NAME];
    const char *between = "";
    text_append(out, size, "the %d finest details (", count);
    for (int i = 0; i < CHANGE_PARTS; i++) {
        if (!in_set(set, &job->judgement, i)) continue;
        int candy = job->judgement.part[i].candy;
        if (seen[candy]) continue;
        seen[candy] = true;
        text_fit(name, sizeof name, job->palette.candy[candy].name, 20);
        text_append(out, size, "%s%s", between, name);
        between = ", ";
    }
    add_side(out, size, job, set, count);
    text_append(out, size, ")");
}

/* Up to three by name, more by their number, colours and where they are. */
static void add_parts(char *out, size_t size, const Job *job, uint64_t set) {
    char words[320] = "without ";
    int count = 0;
    for (int i = 0; i < CHANGE_PARTS; i++) count += in_set(set, &job->judgement, i);
    if (count > NAMED_MAX)
        count_parts(words, sizeof words, job, set, count);
    else
        name_parts(words, sizeof words, job, set, count);
    add(out, size, words);
}

enum { INK_NAME = 32 };

/* The client is told of "your dark teal". */
static void ink_name(char out[INK_NAME], const Job *job, int ink, bool client) {
    const char *name[COLOUR_NAMES];
    if (job->inks->ink[ink].transparent) {
        (void)snprintf(out, INK_NAME, "the background");
    } else if (client) {
        colour_names(job->inks->ink[ink].srgb, name);
        (void)snprintf(out, INK_NAME, "your %s", name[0]);
    } else {
        rgb8_code(job->inks->ink[ink].srgb, out);
    }
}

static void add_dyes(char *out, size_t size, const Job *job, const Change *change, bool client) {
    char words[320] = "", name[INK_NAME];
    const char *before = client ? "with candy coloured to match " : "with candy dyed to ";
    for (int i = 0; i < job->inks->count; i++) {
        if (!(change->dyed >> i & 1)) continue;
        ink_name(name, job, i, client);
        text_append(words, sizeof words, "%s%s", before, name);
        before = ", ";
    }
    add(out, size, words);
}

/* "2 400 to 2 500, or 4 800". */
static void print_orders(char *out, size_t size, const Way *way) {
    const PieceRange one = {way->change.pieces, way->change.pieces};
    char from[32], to[32];
    out[0] = 0;
    for (int i = 0; i < way->ranges || i == 0; i++) {
        const PieceRange *range = way->ranges > 0 ? &way->range[i] : &one;
        text_number(from, sizeof from, (double)range->from, 0);
        text_number(to, sizeof to, (double)range->to, 0);
        text_append(out, size, "%s%s", out[0] ? ", or " : "", from);
        if (range->to > range->from) text_append(out, size, " to %s", to);
    }
}

static void add_order(char *out, size_t size, const Job *job, const Way *way) {
    const Change *change = &way->change;
    char words[160], number[96];
    if (change->diameter_mm > 0) {
        length_print(number, sizeof number, change->diameter_mm, job->order.units);
        bool by_mass =
            job->order.weight_g > 0 && change->pieces == 0; /* at the same mass it would not help */
        (void)snprintf(words, sizeof words, "in %spieces of %s across", by_mass ? "as many " : "", number);
        add(out, size, words);
    }
    if (change->pieces > 0) {
        print_orders(number, sizeof number, way);
        (void)snprintf(words, sizeof words, "in an order of %s pieces", number);
        add(out, size, words);
    }
}

void percent_words(double share, char out[32]) {
    if (share < 0.01)
        (void)snprintf(out, 32, "under 1 %%");
    else
        (void)snprintf(out, 32, "%.0f %%", 100 * share);
}

void change_print(char *out, size_t size, const Job *job, const Way *way, bool client) {
    const Change *change = &way->change;
    char words[96], one[INK_NAME], other[INK_NAME];
    out[0] = 0;
    add_order(out, size, job, way);
    if (change->without) add_parts(out, size, job, change->without);
    if (change->lettering > 0) {
        char share[32];
        percent_words(change->lettering, share);
        (void)snprintf(words, sizeof words, "without its lettering (%s of what is drawn)", share);
        add(out, size, words);
    }
    if (change->joined) {
        ink_name(one, job, (int)change->joined - 1, client);
        ink_name(other, job, (int)change->into, client);
        if (strcmp(one, other) == 0)
            (void)snprintf(words, sizeof words, "with both shades of %s as one", one);
        else
            (void)snprintf(words, sizeof words, "with %s joined to %s", one, other);
        add(out, size, words);
    }
    if (change->dyed) add_dyes(out, size, job, change, client);
    if (change->colours > 0) {
        (void)snprintf(words, sizeof words, client ? "with %d colours" : "with %d candies (-k %d)",
                       change->colours, change->colours);
        add(out, size, words);
    }
    if (change->plain)
        add(out, size, client ? "with plainer detail" : "with plainer detail (--detail plain)");
    if (change->people > 0) {
        (void)snprintf(words, sizeof words, "with %d people laying up", change->people);
        if (!client) add(out, size, words);
    }
    if (change->joining_c > 0) {
        char degrees[32];
        (void)snprintf(degrees, sizeof degrees, "%.0f °C", change->joining_c);
        if (job->order.units == UNITS_IN) /* both: the option wants °C */
            temperature_print(degrees, sizeof degrees, change->joining_c, UNITS_IN);
        (void)snprintf(words, sizeof words, "with the warm box at %s", degrees);
        if (!client) add(out, size, words);
    }
}
