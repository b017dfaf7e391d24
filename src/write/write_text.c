/* The job as text for people: what to tell the client first, then what the bench needs.
 * SPDX-License-Identifier: MIT
 *
 * A heading stands at column 0, what belongs to it from column TEXT_INDENT on; tables have one row a line. */
#include "write/files.h"
#include "write/write.h"

#include "say/answer.h"
#include "base/text.h"

#include <string.h>

enum {
    NAME_COLUMNS = 20,
    COOK_NAME_COLUMNS = 18,
    COOK_COLUMNS = 12,
    CHECK_COLUMNS = 25,
    VALUE_COLUMNS = 10,
    LINE = 640
};

/* A line without a label; nothing of "". */
static void print_more(const char *line, FILE *file) {
    if (line[0]) text_under(file, "", line);
}

void write_headline(const Job *job, FILE *file) {
    char line[LOG_LINE];
    headline_words(job, TEXT_COLUMNS, line);
    fprintf(file, "%s\n", line);
}

static void print_verdict(const Job *job, FILE *file) {
    char name[TEXT_COLUMNS * 4], line[LOG_LINE];
    const char *logo = logo_name(job);
    write_headline(job, file);
    order_words(job, FORM_TEXT, line);
    text_under(file, "Order", line);
    edits_words(job, line);
    print_more(line, file);
    advised_words(job, FORM_TEXT, line);
    print_more(line, file);
    if (strncmp(logo, job->order.name, strlen(job->order.name)) == 0) return;
    text_fit(name, sizeof name, job->order.name, TEXT_COLUMNS - TEXT_INDENT);
    text_under(file, "Job", name);
}

/* "likeness   0.74  at least 0.8", the advice below; what was said already is not said again. */
static void print_check(const Job *job, const Check *check, Said *said, FILE *file) {
    const SpokenCheck spoken = check_spoken(check, job->order.units);
    char measure[96], advice[ADVICE_TEXT];
    const char *space = spoken.unit[0] ? " " : "";
    fprintf(file, "%-*s", TEXT_INDENT,
            check->verdict == VERDICT_NO ? "  no"
            : check->own                 ? "  shop"
                                         : "  change");
    text_pad(file, spoken.name, CHECK_COLUMNS);
    (void)snprintf(measure, sizeof measure, "%s%s%s", spoken.value, space, spoken.unit);
    text_pad(file, measure, -VALUE_COLUMNS);
    fprintf(file, "  %s %s%s%s", check->least ? "at least" : "at most", spoken.limit, space, spoken.unit);
    if (check->standing != STANDING_OURS) fprintf(file, " (%s)", standing_name(check->standing));
    advice_print_short(job, check, said, advice);
    text_clean(advice, sizeof advice, advice);
    fputc('\n', file);
    if (advice[0]) text_wrap(file, advice, 0, TEXT_INDENT + 2);
}

/* Those that are go, names only, a line broken between names. */
static void print_fine(const Judgement *judgement, Units units, FILE *file) {
    int at = 0;
    for (int i = 0; i < judgement->checks; i++) {
        if (judgement->check[i].verdict != VERDICT_GO) continue;
        const char *name = check_name(judgement->check[i].kind, units);
        int width = text_width(name);
        bool next = at > 0, broken = next && at + 3 + width > TEXT_COLUMNS; /* ", " before, "," behind */
        if (!next) fprintf(file, "%-*s", TEXT_INDENT, "  go");
        if (next) fputs(broken ? ",\n" : ", ", file);
        if (broken) fprintf(file, "%*s", TEXT_INDENT, "");
        fputs(name, file);
        at = width + (next && !broken ? at + 2 : TEXT_INDENT);
    }
    if (at > 0) fputc('\n', file);
}

/* The worst first. */
static void print_checks(const Job *job, FILE *file) {
    static const Verdict order[] = {VERDICT_NO, VERDICT_CHANGE};
    const Judgement *judgement = &job->judgement;
    Said said = {.lines = 0};
    fputs("\nChecks", file);
    if (judgement->verdict == VERDICT_GO)
        fputc('\n', file);
    else
        fprintf(file, "%*s  wanted\n", TEXT_INDENT + CHECK_COLUMNS + VALUE_COLUMNS - 6, "is");
    for (int v = 0; v < 2; v++)
        for (int i = 0; i < judgement->checks; i++) {
            const Check *check = &judgement->check[i];
            if (check->verdict != order[v]) continue;
            print_check(job, check, &said, file);
        }
    print_fine(judgement, job->order.units, file);
}

/* What to tell the client, ready to send. */
static void print_sentence(const Job *job, FILE *file) {
    char sentence[SENTENCE_TEXT];
    client_print(job, sentence);
    text_clean(sentence, sizeof sentence, sentence);
    if (!sentence[0]) return;
    fputc('\n', file);
    text_under(file, "To send", sentence);
}

/* What does not come out, with the numbers of check.png; those that read the same on one line. */
static void print_flaws(const Job *job, FILE *file) {
    const Flaws *flaws = &job->flaws;
    char words[FLAWS_MAX][FLAW_TEXT], line[LINE];
    bool told[FLAWS_MAX] = {false};
    for (int i = 0; i < flaws->count; i++) flaw_print(job, &flaws->flaw[i], words[i]);
    for (int i = 0; i < flaws->count; i++) {
        if (told[i]) continue;
        (void)snprintf(line, sizeof line, "%d", i + 1);
        for (int k = i + 1; k < flaws->count; k++) {
            if (strcmp(words[k], words[i]) != 0) continue;
            text_append(line, sizeof line, ", %d", k + 1);
            told[k] = true;
        }
        text_append(line, sizeof line, " %s", words[i]);
        text_under(file, i == 0 ? "Places" : "", line);
    }
    (void)snprintf(line, sizeof line, "and %d more", flaws->more);
    if (flaws->more > 0) text_under(file, "", line);
    for (int i = 0; i < job->grid.redrawn.even.rows; i++) {
        char letters[LETTERS_TEXT];
        letters_print(job, i, letters);
        text_under(file, i == 0 ? "Letters" : "", letters);
    }
}

/* One buffer takes the lines of all words. */
_Static_assert((int)ROPE_LINE <= (int)LOG_LINE && (int)WORDS_SIZE <= (int)LOG_LINE, "a line would be cut");

static void print_log(const Job *job, FILE *file) {
    char line[LOG_LINE];
    fputc('\n', file);
    log_words(job, FORM_TEXT, line);
    text_under(file, "Log", line);
    drawn_words(job, FORM_TEXT, line);
    print_more(line, file);
    piece_words(job, FORM_TEXT, line);
    text_under(file, "Pieces", line);
    spare_words(job, FORM_TEXT, line);
    print_more(line, file);
    cost_words(job, line);
    if (line[0]) text_under(file, "Cost", line);
    fit_words(job, line);
    if (line[0]) text_under(file, "Picture", line);
    jacket_words(job, line);
    text_under(file, "Jacket", line);
}

/* What blocks are wrapped in, or hold round something round. */
static void print_wraps(const Job *job, WrapKind kind,
                        void (*words)(const Job *job, const WrapRow *row, char out[ROPE_LINE]), FILE *file) {
    char line[ROPE_LINE];
    for (int i = 0; i < job->bill.wraps; i++) {
        if (job->bill.wrap[i].kind != kind) continue;
        words(job, &job->bill.wrap[i], line);
        print_more(line, file);
    }
}

/* The ropes, how long they take, and, unless nobody builds them, which blocks are copied, wrapped or can
 * spoil all. */
static void print_ropes(const Job *job, FILE *file) {
    char line[LOG_LINE];
    ropes_words(job, line);
    text_under(file, "Ropes", line);
    minutes_words(job, FORM_TEXT, line);
    print_more(line, file);
    if (job->judgement.verdict == VERDICT_NO) return;
    for (int i = 0; i < job->blocks.blocks; i++) {
        copy_words(job, i, line);
        print_more(line, file);
    }
    print_wraps(job, WRAP_BLOCK, wrap_words, file);
    print_wraps(job, WRAP_REST, rest_words, file);
    risks_words(&job->blocks, line);
    print_more(line, file);
}

static void print_candy(const Job *job, FILE *file) {
    char name[CANDY_NAME], mass[32], line[ROPE_LINE];
    fprintf(file, "\n%-*s", TEXT_INDENT, "Candy");
    text_pad(file, job->cane.logs > 1 ? "to cook, all logs" : "to cook", NAME_COLUMNS);
    fprintf(file, "finish        mass  with %.3g %% spare (habit)\n", job->shop->spare_share * 100);
    for (int i = 0; i < job->bill.materials; i++) {
        const MaterialRow *row = &job->bill.material[i];
        if (row->mass_g < MATERIAL_LEAST_G) continue;
        fprintf(file, "%*s", TEXT_INDENT, "");
        text_fit(name, sizeof name, row->candy.name, NAME_COLUMNS - 1);
        text_pad(file, name, NAME_COLUMNS);
        text_pad(file, finish_name(row->candy.finish), 8);
        mass_print(mass, sizeof mass, row->mass_g, job->order.units);
        text_pad(file, mass, -10);
        mass_print(mass, sizeof mass, row->with_spare_g, job->order.units);
        text_pad(file, mass, -12);
        fputs(row->candy.dyed ? "  dyed to order\n" : "\n", file);
    }
    for (int i = 0; i < job->bill.blends; i++) {
        if (!blend_told(&job->bill.blend[i])) continue;
        blend_words(job, &job->bill.blend[i], FORM_TEXT, line);
        print_more(line, file);
    }
    block_ends_words(job, FORM_TEXT, line);
    print_more(line, file);
    batches_words(job, FORM_TEXT, line);
    print_more(line, file);
    dyed_words(job, FORM_TEXT, line);
    print_more(line, file);
    runner_up_words(job, line);
    print_more(line, file);
}

/* --- the cook and the heat --- */

/* Large masses without decimals, so that the columns hold a thousand tons. */
static void print_mass_cell(double g, Units units, FILE *file) {
    char mass[32], number[24];
    double large = g / (units == UNITS_IN ? G_PER_LB : 1000);
    text_number(number, sizeof number, large, 0);
    if (large < 100)
        mass_print(mass, sizeof mass, g, units);
    else
        (void)snprintf(mass, sizeof mass, "%s %s", number, units == UNITS_IN ? "lb" : "kg");
    text_pad(file, mass, -COOK_COLUMNS);
}

static void print_cell(const CookCell *cell, Units units, FILE *file) {
    char dose[32] = "-";
    if (!cell->dose || cell->g >= 1000) {
        print_mass_cell(cell->g, units, file);
        return;
    }
    if (cell->g > 0) dose_print(cell->g, dose);
    text_pad(file, dose, -COOK_COLUMNS);
}

/* The columns first..end - 1 of the table: their names, and behind `label` what they are of; then the rows.
 */
static void print_columns(const Job *job, const char *heading, const char *label, int first, int end,
                          FILE *file) {
    CookCell cell[COOK_CELLS];
    CookRow row[COOK_ROWS];
    int rows = cook_rows(job, row);
    (void)cook_cells(job, &job->recipe.whole, cell);
    fprintf(file, "%-*s", TEXT_INDENT, heading);
    text_pad(file, label, COOK_NAME_COLUMNS);
    for (int i = first; i < end; i++) text_pad(file, cell[i].name, -COOK_COLUMNS);
    fputc('\n', file);
    for (int k = 0; k < rows; k++) {
        char name[CANDY_NAME];
        (void)cook_cells(job, row[k].weights, cell);
        text_fit(name, sizeof name, row[k].name, COOK_NAME_COLUMNS - 1);
        fprintf(file, "%*s", TEXT_INDENT, "");
        text_pad(file, name, COOK_NAME_COLUMNS);
        for (int i = first; i < end; i++) print_cell(&cell[i], job->order.units, file);
        fputc('\n', file);
    }
}

/* The candy's own mass stands above, so its column is left out; doses are a table of their own. */
static void print_cook(const Job *job, FILE *file) {
    enum { SUGAR = 1, DOSES = 4 };
    CookCell cell[COOK_CELLS];
    CookWords words;
    int cells = cook_cells(job, &job->recipe.whole, cell);
    fputc('\n', file);
    print_columns(job, "Cook", "spare included", SUGAR, DOSES, file);
    if (cells > DOSES) print_columns(job, "", "", DOSES, cells, file);
    cook_words(job, &words);
    print_more(words.source, file);
    print_more(words.boilings, file);
    print_more(words.temperature, file);
    print_more(words.thick, file);
}

static void print_day(const Job *job, FILE *file) {
    char line[LOG_LINE];
    fputc('\n', file);
    day_words(job, FORM_TEXT, line);
    text_under(file, "Day", line);
    day_least_words(job, FORM_TEXT, line);
    print_more(line, file);
    waits_words(job, FORM_TEXT, line);
    print_more(line, file);
}

static void print_heat(const Job *job, FILE *file) {
    HeatWords words;
    heat_words(job, &words);
    fputc('\n', file);
    text_under(file, "Heat", words.terms);
    print_more(words.strips, file);
    print_more(words.slanted, file);
    print_more(words.rounds, file);
    print_more(words.rest, file);
    print_more(words.uneven, file);
}

/* --- the inks --- */

static void ink_print(char out[16], const InkMap *inks, int ink) {
    if (inks->ink[ink].transparent)
        (void)snprintf(out, 16, inks->beyond && ink == inks->field ? "round it" : "transparent");
    else
        rgb8_code(inks->ink[ink].srgb, out);
}

/* What else is to be said of an ink, each in two spaces: "  dyed  background  joined with #00a0e9", the last
 * naming the first ink that became the same candy. */
static void ink_notes(char out[80], const Job *job, int ink) {
    char name[16];
    out[0] = 0;
    if (job->palette.candy[job->palette.of_ink[ink]].dyed) text_append(out, 80, "  dyed");
    if (ink == job->inks->field) text_append(out, 80, "  background");
    for (int i = 0; i < ink; i++)
        if (job->palette.of_ink[i] == job->palette.of_ink[ink]) {
            ink_print(name, job->inks, i);
            text_append(out, 80, "  joined with %s", name);
            return;
        }
}

/* Notes that have no room behind the columns stand below the candy. */
static void print_ink(const Job *job, int i, FILE *file) {
    enum { CANDY_AT = 30, NOTES_AT = 56 };
    const Ink *ink = &job->inks->ink[i];
    char name[CANDY_NAME], text[32], notes[80];
    ink_print(name, job->inks, i);
    fprintf(file, "%*s%-11s %4.1f %%  ", TEXT_INDENT, "", name, ink->share * 100);
    text_fit(name, sizeof name, job->palette.candy[job->palette.of_ink[i]].name, NAME_COLUMNS - 1);
    text_pad(file, name, NAME_COLUMNS);
    (void)snprintf(text, sizeof text, ink->transparent ? "-" : "%.1f", job->palette.delta_e[i]);
    text_pad(file, text, -5);
    ink_notes(notes, job, i);
    if (NOTES_AT + text_width(notes) > TEXT_COLUMNS)
        fprintf(file, "\n%*s%s\n", CANDY_AT, "", notes + 2);
    else
        fprintf(file, "%s\n", notes);
}

static void print_inks(const Job *job, FILE *file) {
    fprintf(file, "\n%-*sink            share  becomes             difference (dE00)\n", TEXT_INDENT, "Inks");
    for (int i = 0; i < job->inks->count; i++) print_ink(job, i, file);
}

static void print_cautions(FILE *file) {
    fputc('\n', file);
    for (int i = 0; i < CAUTION_PARAGRAPHS; i++) text_wrap(file, caution_paragraph(FORM_TEXT, i), 0, 0);
}

bool write_text(const Job *job, FILE *file, Err *err) {
    (void)err;
    print_verdict(job, file);
    print_checks(job, file);
    print_flaws(job, file);
    print_sentence(job, file);
    print_log(job, file);
    print_ropes(job, file);
    if (job->judgement.verdict != VERDICT_NO) { /* else nobody cooks */
        print_candy(job, file);
        print_cook(job, file);
        print_day(job, file);
        print_heat(job, file);
    }
    print_inks(job, file);
    print_cautions(file);
    return true;
}
