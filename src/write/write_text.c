/* The job as text for people: what to tell the client first, then what the bench needs.
 * SPDX-License-Identifier: MIT
 *
 * A heading stands at column 0, what belongs to it from column TEXT_INDENT on; tables have one row a line. */
#include "write/write_text.h"

#include "say/check_words.h"
#include "base/text.h"
#include "write/write_cook.h"

#include <string.h>

enum { NAME_COLUMNS = 20, CHECK_COLUMNS = 25, VALUE_COLUMNS = 10, LINE = 640 };

static void print_verdict(const Job *job, FILE *file) {
    static const char *const word[] = {[VERDICT_GO] = "GO", [VERDICT_CHANGE] = "CHANGE", [VERDICT_NO] = "NO"};
    static const char *const meaning[] = {[VERDICT_GO] = "can be built as drawn",
                                          [VERDICT_CHANGE] = "can be built with the changes below",
                                          [VERDICT_NO] = "cannot be built like this"};
    char name[TEXT_COLUMNS * 4], pieces[32], piece[80], line[LINE];
    Verdict verdict = job->judgement.verdict;
    int used = text_width(word[verdict]) + 3 + text_width(meaning[verdict]);
    const char *logo = strcmp(job->file, "-") == 0 ? job->order.name : job->file; /* piped: no file name */
    text_fit(name, sizeof name, logo, TEXT_COLUMNS - used);
    fprintf(file, "%s: %s %s\n", word[verdict], name, meaning[verdict]);
    text_number(pieces, sizeof pieces, (double)job->order.pieces, 0);
    size_print(piece, sizeof piece, job->order.piece_diameter_mm, job->order.piece_length_mm,
               job->order.units);
    (void)snprintf(line, sizeof line, "%s piece%s of %s", pieces, job->order.pieces == 1 ? "" : "s", piece);
    text_under(file, "Order", line);
    if (strncmp(logo, job->order.name, strlen(job->order.name)) == 0) return;
    text_fit(name, sizeof name, job->order.name, TEXT_COLUMNS - TEXT_INDENT);
    text_under(file, "Job", name);
}

/* "likeness   0.74  at least 0.8", the advice below; what was said already is not said again. */
static void print_check(const Check *measured, char said[ADVICE_SAID], Units units, FILE *file) {
    const Check spoken = check_spoken(measured, units), *check = &spoken;
    char value[64], limit[64], measure[96], told[CHECK_TEXT], advice[CHECK_TEXT];
    const char *space = check->unit[0] ? " " : "";
    check_print(check, value, limit);
    fprintf(file, "%-*s", TEXT_INDENT, check->verdict == VERDICT_NO ? "  no" : "  change");
    text_pad(file, check->name, CHECK_COLUMNS);
    (void)snprintf(measure, sizeof measure, "%s%s%s", value, space, check->unit);
    text_pad(file, measure, -VALUE_COLUMNS);
    fprintf(file, "  %s %s%s%s", check->least ? "at least" : "at most", limit, space, check->unit);
    if (check->source != SOURCE_OURS) fprintf(file, " (%s)", source_name(check->source));
    advice_print(measured, said, told);
    text_clean(advice, sizeof advice, told);
    fputc('\n', file);
    if (advice[0]) text_wrap(file, advice, 0, TEXT_INDENT + 2);
}

/* Those that are go, names only, a line broken between names. */
static void print_fine(const Judgement *judgement, Units units, FILE *file) {
    int at = 0;
    for (int i = 0; i < judgement->checks; i++) {
        if (judgement->check[i].verdict != VERDICT_GO) continue;
        const char *name = check_spoken(&judgement->check[i], units).name;
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
    char said[ADVICE_SAID] = "";
    fputs("\nChecks", file);
    if (judgement->verdict == VERDICT_GO)
        fputc('\n', file);
    else
        fprintf(file, "%*s  wanted\n", TEXT_INDENT + CHECK_COLUMNS + VALUE_COLUMNS - 6, "is");
    for (int v = 0; v < 2; v++)
        for (int i = 0; i < judgement->checks; i++) {
            const Check *check = &judgement->check[i];
            if (check->verdict != order[v]) continue;
            print_check(check, said, job->order.units, file);
        }
    print_fine(judgement, job->order.units, file);
}

/* What to tell the client, ready to send. */
static void print_sentence(const Job *job, FILE *file) {
    char sentence[SENTENCE_TEXT];
    text_clean(sentence, sizeof sentence, job->judgement.sentence);
    if (!sentence[0]) return;
    fputc('\n', file);
    text_under(file, "To send", sentence);
}

static bool told_before(const Flaws *places, int place) {
    for (int i = 0; i < place; i++)
        if (strcmp(places->place[i].words, places->place[place].words) == 0) return true;
    return false;
}

/* What does not come out, with the numbers of check.png; those that read the same on one line. */
static void print_places(const Flaws *places, FILE *file) {
    char line[LINE];
    for (int i = 0; i < places->count; i++) {
        if (told_before(places, i)) continue;
        size_t used = (size_t)snprintf(line, sizeof line, "%d", i + 1);
        for (int k = i + 1; k < places->count; k++)
            if (strcmp(places->place[k].words, places->place[i].words) == 0)
                used += (size_t)snprintf(line + used, sizeof line - used, ", %d", k + 1);
        (void)snprintf(line + used, sizeof line - used, " %s", places->place[i].words);
        text_under(file, i == 0 ? "Places" : "", line);
    }
    (void)snprintf(line, sizeof line, "and %d more", places->more);
    if (places->more > 0) text_under(file, "", line);
}

static void print_log(const Job *job, FILE *file) {
    const Cane *cane = &job->cane;
    Units units = job->order.units;
    char across[64], along[64], core[64], mass[32], line[LINE], drawn[32], log[48] = "one log";
    length_print_both(across, sizeof across, cane->log_diameter_mm, units);
    length_print_both(along, sizeof along, cane->log_length_mm, units);
    length_print(core, sizeof core, cane->core_diameter_mm, units);
    mass_print(mass, sizeof mass, job->bill.log_mass_g, units);
    distance_print(drawn, sizeof drawn, cane->cane_length_m, units);
    if (cane->logs > 1) (void)snprintf(log, sizeof log, "%d logs, each", cane->logs);
    (void)snprintf(line, sizeof line, "%s %s across with its jacket (core %s), %s long, %s", log, across,
                   core, along, mass);
    fputc('\n', file);
    text_under(file, "Log", line);
    (void)snprintf(line, sizeof line, "drawn out %.1f times thinner, to %s of cane%s", cane->reduction, drawn,
                   cane->logs > 1 ? " a log" : "");
    text_under(file, "", line);
}

static void print_pieces(const Job *job, FILE *file) {
    const Quote *quote = &job->bill.quote;
    Units units = job->order.units;
    char piece[32], all[32], number[32], line[LINE];
    mass_print(piece, sizeof piece, job->bill.piece_mass_g, units);
    mass_print(all, sizeof all, quote->pieces_mass_g, units);
    double a_mass = units == UNITS_IN ? quote->pieces_per_kg * G_PER_LB / 1000 : quote->pieces_per_kg;
    text_number(number, sizeof number, a_mass, a_mass < 100 ? 1 : 0);
    (void)snprintf(line, sizeof line, "a piece weighs %s, %s to the %s; those ordered %s", piece, number,
                   units == UNITS_IN ? "pound" : "kilogram", all);
    text_under(file, "Pieces", line);
    if (quote->spare_pieces <= 0) return;
    text_number(number, sizeof number, (double)job->cane.pieces, 0);
    text_number(all, sizeof all, (double)quote->spare_pieces, 0);
    (void)snprintf(line, sizeof line,
                   "the order is under the smallest log: this one gives %s pieces, %s to spare", number, all);
    text_under(file, "", line);
}

/* "120.50 EUR". */
static void money_print(char *out, size_t size, double money, const Shop *shop) {
    (void)snprintf(out, size, "%.2f%s%s", money, shop->currency[0] ? " " : "", shop->currency);
}

/* Nothing where the shop gives no price. */
static void print_cost(const Job *job, FILE *file) {
    const Quote *quote = &job->bill.quote;
    const Shop *shop = job->shop;
    char sum[64], candy[64], work[64], line[LINE];
    bool both = shop->price_candy_kg > 0 && shop->price_hour > 0;
    if (shop->price_candy_kg <= 0 && shop->price_hour <= 0) return;
    money_print(sum, sizeof sum, quote->candy_cost + quote->work_cost, shop);
    money_print(candy, sizeof candy, quote->candy_cost, shop);
    money_print(work, sizeof work, quote->work_cost, shop);
    if (both)
        (void)snprintf(line, sizeof line, "%s: candy %s, laying up %s, by the shop's prices", sum, candy,
                       work);
    else
        (void)snprintf(line, sizeof line, "%s for %s alone, by the shop's price", sum,
                       shop->price_hour > 0 ? "laying up" : "candy");
    text_under(file, "Cost", line);
}

static int count_trims(const LayUp *layup) {
    int trims = 0;
    for (int i = 0; i < layup->ropes; i++) trims += layup->rope[i].trim;
    return trims;
}

/* ", 3 rings"; nothing of none. */
static void append_count(char *line, size_t size, int count, const char *what) {
    size_t used = strlen(line);
    if (count > 0) (void)snprintf(line + used, size - used, ", %d %s%s", count, what, count == 1 ? "" : "s");
}

/* Which way round: how many blocks can be laid in so that every piece is spoilt. */
static void print_risks(const Blocks *blocks, FILE *file) {
    char line[LINE];
    int mirrored = 0, turned = 0;
    for (int i = 0; i < blocks->blocks; i++) {
        mirrored += blocks->block[i].mirrored_risk;
        turned += blocks->block[i].turned_risk;
    }
    if (mirrored + turned == 0) return;
    (void)snprintf(line, sizeof line,
                   "blocks that spoil every piece if laid wrong: %d end for end, %d turned; mark an end",
                   mirrored, turned);
    text_under(file, "", line);
}

/* What is not built once for one place, a line a block. */
static void print_copies(const Job *job, FILE *file) {
    static const char *const how[] = {[BUILD_THICKER] = ": built thicker, drawn out and cut",
                                      [BUILD_LONGER] = ": built longer and cut",
                                      [BUILD_FINE] = ": a fine block, built at twice its size and drawn down",
                                      [BUILD_EACH] = ": each built"};
    char line[LINE], uses[320];
    for (int i = 0; i < job->blocks.blocks; i++) {
        const Block *block = &job->blocks.block[i];
        if (block->way == BUILD_ONCE) continue;
        block_uses_print(&job->blocks, i, uses, sizeof uses);
        (void)snprintf(line, sizeof line, "block %d%s%s%s", i + 1, uses[0] ? " " : "", uses, how[block->way]);
        text_under(file, "", line);
    }
}

static void print_ropes(const Job *job, FILE *file) {
    char line[LINE];
    int people = job->shop->people;
    (void)snprintf(line, sizeof line, "%d laid%s, of %d type%s, %d made", job->layup.laid,
                   job->cane.logs > 1 ? " a log" : "", job->bill.rope_types,
                   job->bill.rope_types == 1 ? "" : "s", job->bill.ropes_made);
    append_count(line, sizeof line, count_trims(&job->layup), "trim");
    append_count(line, sizeof line, job->grid.rings, "ring");
    append_count(line, sizeof line, job->blocks.blocks, "block");
    text_under(file, "Ropes", line);
    (void)snprintf(line, sizeof line, "about %.0f minutes to lay up%s for %d %s (habit)", job->bill.minutes,
                   job->cane.logs > 1 ? " a log" : "", people, people == 1 ? "person" : "people");
    text_under(file, "", line);
    if (job->judgement.verdict == VERDICT_NO) return;
    print_copies(job, file);
    print_risks(&job->blocks, file);
}

/* What is cooked beyond the log and the spare. */
static void print_block_ends(const Job *job, FILE *file) {
    char mass[32], line[LINE];
    double ends_g = 0;
    for (int i = 0; i < job->bill.materials; i++) ends_g += job->bill.material[i].block_ends_g;
    if (ends_g <= 0) return;
    mass_print(mass, sizeof mass, ends_g, job->order.units);
    (void)snprintf(line, sizeof line, "of it %s for the ends of drawn-out blocks, %.3g %% of each (habit)",
                   mass, job->shop->lost_share * 100);
    text_under(file, "", line);
}

static void print_candy(const Job *job, FILE *file) {
    char name[CANDY_NAME], mass[32];
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
        fputs(row->candy.dyed ? "  dyed for this job\n" : "\n", file);
    }
    print_block_ends(job, file);
    int batches = job->bill.quote.batches;
    fprintf(file, "%*s%d coloured batch%s to cook%s\n", TEXT_INDENT, "", batches, batches == 1 ? "" : "es",
            job->cane.logs > 1 ? ", each candy anew for each log" : "");
}

static void ink_print(char out[16], const Ink *ink) {
    if (ink->transparent)
        (void)snprintf(out, 16, "transparent");
    else
        rgb8_code(ink->srgb, out);
}

/* The first ink that became the same candy, if another did before. */
static void print_joined(const Job *job, int ink, FILE *file) {
    char name[16];
    for (int i = 0; i < ink; i++)
        if (job->palette.of_ink[i] == job->palette.of_ink[ink]) {
            ink_print(name, &job->inks->ink[i]);
            fprintf(file, "  joined with %s", name);
            return;
        }
}

static void print_inks(const Job *job, FILE *file) {
    char name[CANDY_NAME], text[32];
    fprintf(file, "\n%-*sink            share  becomes             difference (dE00)\n", TEXT_INDENT, "Inks");
    for (int i = 0; i < job->inks->count; i++) {
        const Ink *ink = &job->inks->ink[i];
        ink_print(name, ink);
        fprintf(file, "%*s%-11s %4.1f %%  ", TEXT_INDENT, "", name, ink->share * 100);
        text_fit(name, sizeof name, job->palette.candy[job->palette.of_ink[i]].name, NAME_COLUMNS - 1);
        text_pad(file, name, NAME_COLUMNS);
        (void)snprintf(text, sizeof text, ink->transparent ? "-" : "%.1f", job->palette.delta_e[i]);
        text_pad(file, text, -5);
        if (i == job->inks->field)
            fputs(job->inks->full_bleed ? "  background, also round it" : "  background", file);
        print_joined(job, i, file);
        fputc('\n', file);
    }
}

static void print_jacket(const Job *job, FILE *file) {
    char line[LINE] = "", name[CANDY_NAME * 2];
    for (int i = 0; i < job->palette.jackets; i++) {
        size_t used = strlen(line);
        text_fit(name, sizeof name, job->palette.jacket[i].name, NAME_COLUMNS);
        (void)snprintf(line + used, sizeof line - used, "%s%s", used ? ", " : "", name);
    }
    size_t used = strlen(line);
    if (job->palette.stripes > 1)
        (void)snprintf(line + used, sizeof line - used, "; %d stripes", job->palette.stripes);
    text_under(file, "Jacket", line);
}

static void print_cautions(FILE *file) {
    static const char caution[] =
        "Hot sugar sticks and burns: gloves, sleeves, closed shoes, cold water at hand, no children near. "
        "Small hard candy can choke young children. Colours, allergens, labels: your local law holds. "
        "Have the logo owner's written permission.";
    static const char words[] =
        "Habit: the shop's own figure, not a measured one. "
        "dE00: how far two colours are apart; 2 is hardly seen, 10 is another shade (rule of thumb).";
    fputc('\n', file);
    text_wrap(file, caution, 0, 0);
    text_wrap(file, words, 0, 0);
}

bool write_text(const Job *job, FILE *file, Err *err) {
    (void)err;
    print_verdict(job, file);
    print_checks(job, file);
    print_places(&job->places, file);
    print_sentence(job, file);
    print_log(job, file);
    print_pieces(job, file);
    print_cost(job, file);
    print_jacket(job, file);
    print_ropes(job, file);
    if (job->judgement.verdict != VERDICT_NO) { /* else nobody cooks */
        print_candy(job, file);
        write_cook(job, file);
    }
    print_inks(job, file);
    print_cautions(file);
    return true;
}
