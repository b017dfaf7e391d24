/* A change in words. SPDX-License-Identifier: MIT */
#include "phrase.h"

#include "text.h"
#include "units.h"

#include <stdio.h>
#include <string.h>

enum { NAMED_MAX = 3 };

/* Appends " and " and the words. */
static void add(char *out, size_t size, const char *words) {
    size_t used = strlen(out);
    (void)snprintf(out + used, size - used, "%s%s", used > 0 ? " and " : "", words);
}

/* "at the upper left"; "in the middle". */
static const char *where(const Job *job, const Part *part) {
    static const char *const place[3][3] = {{"at the upper left", "at the top", "at the upper right"},
                                            {"at the left", "in the middle", "at the right"},
                                            {"at the lower left", "at the bottom", "at the lower right"}};
    int side = job->face.side > 0 ? job->face.side : 1;
    int column = (int)(part->middle.x * 5 / side), row = (int)(part->middle.y * 5 / side);
    return place[row < 2 ? 0 : row < 3 ? 1 : 2][column < 2 ? 0 : column < 3 ? 1 : 2];
}

/* "the thin navy outline", "the white hole in the middle". */
static void part_name(char *out, size_t size, const Job *job, const Part *part) {
    char name[CANDY_NAME];
    text_fit(name, sizeof name, job->palette.candy[part->candy].name, 20);
    if (part->outline)
        (void)snprintf(out, size, "the thin %s %s", name, part->hole ? "line" : "outline");
    else
        (void)snprintf(out, size, "the %s %s %s", name, part->hole ? "hole" : "part", where(job, part));
}

/* Up to three by name, more by their number and colours. */
static void add_parts(char *out, size_t size, const Job *job, uint64_t set) {
    const Judgement *j = &job->judgement;
    char words[240] = "without ", name[CANDY_NAME + 48];
    bool seen[INKS_MAX] = {false};
    int count = 0, colours = 0, told = 0;
    for (int i = 0; i < j->parts && i < 64; i++) count += (int)(set >> i & 1);
    if (count > NAMED_MAX) (void)snprintf(words, sizeof words, "without the %d finest details (", count);
    for (int i = 0; i < j->parts && i < 64; i++) {
        if (!(set >> i & 1)) continue;
        const Part *part = &j->part[i];
        size_t used = strlen(words);
        if (count > NAMED_MAX) {
            if (seen[part->candy]) continue;
            seen[part->candy] = true;
            text_fit(name, sizeof name, job->palette.candy[part->candy].name, 20);
            (void)snprintf(words + used, sizeof words - used, "%s%s", colours++ > 0 ? ", " : "", name);
        } else {
            part_name(name, sizeof name, job, part);
            (void)snprintf(words + used, sizeof words - used, "%s%s",
                           told == 0           ? ""
                           : told == count - 1 ? " and "
                                               : ", ",
                           name);
            told++;
        }
    }
    add(out, size, words);
    if (count > NAMED_MAX) {
        size_t used = strlen(out);
        (void)snprintf(out + used, size - used, ")");
    }
}

static void ink_name(char out[16], const Job *job, int ink) {
    Rgb8 c = job->inks->ink[ink].srgb;
    (void)snprintf(out, 16, job->inks->ink[ink].transparent ? "the background" : "#%02X%02X%02X", c.r, c.g,
                   c.b);
}

static void add_dyes(char *out, size_t size, const Job *job, const Change *change, bool client) {
    char words[128] = "", name[16];
    for (int i = 0; i < job->inks->count; i++) {
        if (!(change->dyed >> i & 1)) continue;
        ink_name(name, job, i);
        size_t used = strlen(words);
        (void)snprintf(words + used, sizeof words - used, "%s%s",
                       used > 0 ? ", "
                       : client ? "with candy coloured to match "
                                : "with candy dyed to ",
                       name);
    }
    add(out, size, words);
}

static void add_order(char *out, size_t size, const Job *job, const Change *change, const char *orders) {
    char words[160], number[40];
    if (change->diameter_mm > 0) {
        length_print(number, sizeof number, change->diameter_mm, job->order.units);
        bool by_mass =
            job->order.weight_g > 0 && change->pieces == 0; /* at the same mass it would not help */
        (void)snprintf(words, sizeof words, "in %spieces of %s across", by_mass ? "as many " : "", number);
        add(out, size, words);
    }
    if (change->pieces > 0) {
        text_number(number, sizeof number, (double)change->pieces, 0);
        (void)snprintf(words, sizeof words, "in an order of %s pieces", orders[0] ? orders : number);
        add(out, size, words);
    }
}

void phrase_change(char *out, size_t size, const Job *job, const Change *change, const char *orders,
                   bool client) {
    char words[96], one[16], other[16];
    out[0] = 0;
    add_order(out, size, job, change, orders);
    if (change->without) add_parts(out, size, job, change->without);
    if (change->joined) {
        ink_name(one, job, (int)change->joined - 1);
        ink_name(other, job, (int)change->into);
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
        (void)snprintf(words, sizeof words, "with the warm box at %.0f °C", change->joining_c);
        if (!client) add(out, size, words);
    }
}
