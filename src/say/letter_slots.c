/* What goes into the sentences of a letter: sizes, numbers, lists of colours. SPDX-License-Identifier: MIT */
#include "say/letter_facts.h"

#include "base/date.h"
#include "base/text.h"
#include "model/colour_name.h"
#include "say/bench_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double more_seen = 1.15; /* times: what is worth telling of letters; ours */

/* Appends to a list whose last is set off by "and": `left` more follow. */
static void list(char out[SLOT_TEXT], int left, const char *words) {
    text_append(out, SLOT_TEXT, "%s%s", out[0] == 0 ? "" : left == 0 ? " and " : ", ", words);
}

/* The candy's own name if it is of plain words, else its colour's: a shop may call its candies anything, and
 * a blend's name is a recipe. */
static const char *candy_colour(const Job *job, int candy) {
    const Candy *c = &job->palette.candy[candy];
    const char *name[COLOUR_NAMES];
    if (strspn(c->name, "abcdefghijklmnopqrstuvwxyz ") == strlen(c->name)) return c->name;
    colour_names(c->srgb, name);
    return name[0];
}

/* --- sizes and numbers --- */

static void put_size(const Job *job, char out[SLOT_TEXT]) {
    length_print(out, SLOT_TEXT, job->order.piece_diameter_mm, job->order.units);
}

static void put_piece(const Job *job, char out[SLOT_TEXT]) {
    piece_size_print(job, out);
}

static void put_pieces(const Job *job, char out[SLOT_TEXT]) {
    text_number(out, SLOT_TEXT, (double)job->order.pieces, 0);
}

static void put_mass(const Job *job, char out[SLOT_TEXT]) {
    mass_print(out, SLOT_TEXT, job->bill.quote.pieces_mass_g, job->order.units);
}

static void put_given(const Job *job, char out[SLOT_TEXT]) {
    text_number(out, SLOT_TEXT, (double)job->cane.pieces, 0);
}

static void put_percent(const Job *job, char out[SLOT_TEXT]) {
    (void)snprintf(out, SLOT_TEXT, "%.0f %%", job->judgement.least_percent);
}

static void print_money(const Shop *shop, double money, char out[SLOT_TEXT]) {
    text_money(out, SLOT_TEXT, money);
    text_append(out, SLOT_TEXT, "%s%s", shop->currency[0] ? " " : "", shop->currency);
}

static void put_price(const Job *job, char out[SLOT_TEXT]) {
    print_money(job->shop, job->bill.quote.price, out);
}

static void put_smallest(const Job *job, char out[SLOT_TEXT]) {
    print_money(job->shop, job->shop->price_least, out);
}

static void put_date(const Job *job, char out[SLOT_TEXT]) {
    date_words(job->order.valid_until, out);
}

static void put_name(const Job *job, char out[SLOT_TEXT]) {
    text_fit(out, SLOT_TEXT, job->order.name, 50);
}

static void put_shop(const Job *job, char out[SLOT_TEXT]) {
    (void)snprintf(out, SLOT_TEXT, "%s", job->shop->name);
}

static void put_address(const Job *job, char out[SLOT_TEXT]) {
    (void)snprintf(out, SLOT_TEXT, "%s", job->shop->address);
}

/* --- colours --- */

/* "white, red and navy": the picture's. */
static void put_candies(const Job *job, char out[SLOT_TEXT]) {
    for (int i = 0; i < job->palette.count; i++) list(out, job->palette.count - 1 - i, candy_colour(job, i));
}

/* "your red and your dark green": the inks that differ so. */
static void put_inks(const Job *job, Fact how, char out[SLOT_TEXT]) {
    char words[64];
    int left = 0;
    for (int i = 0; i < job->inks->count; i++) left += ink_differs(job, i, how);
    for (int i = 0; i < job->inks->count; i++) {
        if (!ink_differs(job, i, how)) continue;
        (void)snprintf(words, sizeof words, "your %s", ink_plain_name(job, i));
        list(out, --left, words);
    }
}

static void put_lighter(const Job *job, char out[SLOT_TEXT]) {
    put_inks(job, FACT_LIGHTER, out);
}

static void put_darker(const Job *job, char out[SLOT_TEXT]) {
    put_inks(job, FACT_DARKER, out);
}

static void put_paler(const Job *job, char out[SLOT_TEXT]) {
    put_inks(job, FACT_PALER, out);
}

static void put_stronger(const Job *job, char out[SLOT_TEXT]) {
    put_inks(job, FACT_STRONGER, out);
}

static void put_shifted(const Job *job, char out[SLOT_TEXT]) {
    put_inks(job, FACT_SHIFTED, out);
}

/* "both shades of yellow", "your cream and your white". */
static void pair_words(const Job *job, int one, int other, char out[SLOT_TEXT]) {
    const char *a = ink_plain_name(job, one), *b = ink_plain_name(job, other);
    if (strcmp(a, b) == 0)
        (void)snprintf(out, SLOT_TEXT, "both shades of %s", a);
    else
        (void)snprintf(out, SLOT_TEXT, "your %s and your %s", a, b);
}

static void put_joined(const Job *job, char out[SLOT_TEXT]) {
    for (int i = 0; i < job->inks->count && out[0] == 0; i++)
        if (ink_joined_with(job, i) >= 0) pair_words(job, ink_joined_with(job, i), i, out);
}

static void put_near(const Job *job, char out[SLOT_TEXT]) {
    pair_words(job, job->judgement.near.one, job->judgement.near.other, out);
}

/* --- thin lines and letters --- */

static const char *line_kind(const Job *job, const RedrawnLine *line) {
    if (line->text) return "small text or marks"; /* what looks like text */
    if (line_is_gap(job, line)) return "thin gap";
    return line->outline ? "thin outline" : "thin line";
}

/* Nobody sees it: a gap beside an outline. */
static bool is_unseen(const Job *job, const RedrawnLine *line) {
    return line_is_gap(job, line) && !line->text && line->missed <= 0;
}

/* How many lines of that kind fare so. */
static int count_kind(const Job *job, RedrawnHow how, const char *kind) {
    const Redrawn *redrawn = &job->grid.redrawn;
    int count = 0;
    for (int i = 0; i < redrawn->count; i++)
        count += redrawn->line[i].how == how && !is_unseen(job, &redrawn->line[i]) &&
                 strcmp(line_kind(job, &redrawn->line[i]), kind) == 0;
    return count;
}

/* "the thin black outline", "thin lines"; "some thin outlines" where others fare otherwise. */
static void kind_words(const Job *job, const RedrawnLine *line, char out[64]) {
    const bool leaves = line->how == REDRAWN_LEFT_OUT;
    const char *kind = line_kind(job, line), *some = leaves ? "some " : "other ";
    if (count_kind(job, leaves ? REDRAWN_THICKENED : REDRAWN_LEFT_OUT, kind) == 0) some = "";
    if (line->text)
        (void)snprintf(out, 64, "%s%s", some[0] ? some : "the ", kind);
    else if (some[0] || line_is_gap(job, line) || count_kind(job, line->how, kind) > 1)
        (void)snprintf(out, 64, "%s%ss", some, kind);
    else
        (void)snprintf(out, 64, "the thin %s %s", candy_colour(job, line->candy), kind + strlen("thin "));
}

/* Each kind once, at its first line. */
static void put_lines(const Job *job, RedrawnHow how, char out[SLOT_TEXT]) {
    const Redrawn *redrawn = &job->grid.redrawn;
    char words[REDRAWN_MAX][64];
    int found = 0;
    for (int i = 0; i < redrawn->count; i++) {
        const RedrawnLine *line = &redrawn->line[i];
        if (line->how != how || is_unseen(job, line)) continue;
        kind_words(job, line, words[found]);
        bool told = false;
        for (int k = 0; k < found; k++) told |= strcmp(words[k], words[found]) == 0;
        found += !told;
    }
    for (int k = 0; k < found; k++) list(out, found - 1 - k, words[k]);
}

static void put_lines_out(const Job *job, char out[SLOT_TEXT]) {
    put_lines(job, REDRAWN_LEFT_OUT, out);
}

static void put_lines_thick(const Job *job, char out[SLOT_TEXT]) {
    put_lines(job, REDRAWN_THICKENED, out);
}

static double grown(double was, double is) {
    return was > 0 ? is / was : 1;
}

/* ", bolder, larger", as far as it is so. */
static void put_letters(const Job *job, char out[SLOT_TEXT]) {
    const EvenLetters *even = &job->grid.redrawn.even;
    bool bolder = false, larger = false;
    for (int i = 0; i < even->rows; i++) {
        bolder |= grown(even->row[i].stem_was, even->row[i].stem) > more_seen;
        larger |= fmax(even->row[i].times_wide, even->row[i].times_high) > more_seen;
    }
    (void)snprintf(out, SLOT_TEXT, "%s%s", bolder ? ", bolder" : "", larger ? ", larger" : "");
}

/* --- the proposal --- */

static void put_better_size(const Job *job, char out[SLOT_TEXT]) {
    length_print(out, SLOT_TEXT, letter_proposal(job)->change.diameter_mm, job->order.units);
}

/* "2 400 to 2 500, or 4 800". */
static void put_better_pieces(const Job *job, char out[SLOT_TEXT]) {
    const Way *way = letter_proposal(job);
    char number[32];
    for (int i = 0; i < way->ranges || i == 0; i++) {
        const PieceRange one = {way->change.pieces, way->change.pieces};
        const PieceRange *range = way->ranges > 0 ? &way->range[i] : &one;
        text_number(number, sizeof number, (double)range->from, 0);
        text_append(out, SLOT_TEXT, "%s%s", out[0] ? ", or " : "", number);
        text_number(number, sizeof number, (double)range->to, 0);
        if (range->to > range->from) text_append(out, SLOT_TEXT, " to %s", number);
    }
}

/* "the small red detail at the left", "the 5 smallest details". */
static void put_without(const Job *job, char out[SLOT_TEXT]) {
    const Judgement *j = &job->judgement;
    const uint64_t set = letter_proposal(job)->change.without;
    int count = 0, last = 0;
    for (int i = 0; i < j->parts && i < CHANGE_PARTS; i++) {
        if (!(set >> i & 1)) continue;
        count++;
        last = i;
    }
    const char *where = face_where(j->part[last].middle, job->grid.wanted.side);
    if (count > 1)
        (void)snprintf(out, SLOT_TEXT, "the %d smallest details", count);
    else
        (void)snprintf(out, SLOT_TEXT, "the small %s %s %s the %s", candy_colour(job, j->part[last].candy),
                       j->part[last].hole ? "opening" : "detail", strcmp(where, "middle") == 0 ? "in" : "at",
                       where);
}

static void put_into_one(const Job *job, char out[SLOT_TEXT]) {
    const Change *change = &letter_proposal(job)->change;
    pair_words(job, (int)change->into, (int)change->joined - 1, out);
}

static void put_dyes(const Job *job, char out[SLOT_TEXT]) {
    const unsigned set = letter_proposal(job)->change.dyed;
    char words[64];
    int left = 0;
    for (int i = 0; i < job->inks->count; i++) left += (int)(set >> i & 1);
    for (int i = 0; i < job->inks->count; i++) {
        if (!(set >> i & 1)) continue;
        (void)snprintf(words, sizeof words, "your %s", ink_plain_name(job, i));
        list(out, --left, words);
    }
}

static void put_colours(const Job *job, char out[SLOT_TEXT]) {
    (void)snprintf(out, SLOT_TEXT, "%d colours", letter_proposal(job)->change.colours);
}

static const struct {
    const char *name;
    void (*put)(const Job *job, char out[SLOT_TEXT]);
} slots[] = {{"size", put_size},
             {"piece", put_piece},
             {"pieces", put_pieces},
             {"mass", put_mass},
             {"given", put_given},
             {"percent", put_percent},
             {"price", put_price},
             {"smallest", put_smallest},
             {"date", put_date},
             {"name", put_name},
             {"shop", put_shop},
             {"address", put_address},
             {"candies", put_candies},
             {"lighter", put_lighter},
             {"darker", put_darker},
             {"paler", put_paler},
             {"stronger", put_stronger},
             {"shifted", put_shifted},
             {"joined", put_joined},
             {"near", put_near},
             {"lines_out", put_lines_out},
             {"lines_thick", put_lines_thick},
             {"letters", put_letters},
             {"better_size", put_better_size},
             {"better_pieces", put_better_pieces},
             {"without", put_without},
             {"into_one", put_into_one},
             {"dyes", put_dyes},
             {"colours", put_colours}};

bool letter_slot(const Job *job, const char *name, char out[SLOT_TEXT]) {
    for (size_t i = 0; i < sizeof slots / sizeof *slots; i++) {
        if (strcmp(slots[i].name, name) != 0) continue;
        out[0] = 0;
        slots[i].put(job, out);
        return true;
    }
    return false;
}
