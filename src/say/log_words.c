/* What is told of the order, the log and the pieces, and of the work. SPDX-License-Identifier: MIT */
#include "say/bench_words.h"

#include "base/text.h"

#include <stdarg.h>
#include <stdio.h>

/* What a number that holds for one log of several is told with. */
static const char *a_log(const Job *job) {
    return job->cane.logs > 1 ? " a log" : "";
}

void piece_size_print(const Job *job, char out[96]) {
    const Order *order = &job->order;
    size_print(out, 96, order->piece_diameter_mm, order->piece_length_mm, order->units);
}

void order_words(const Job *job, Form form, char out[LOG_LINE]) {
    char pieces[32], size[96];
    text_number(pieces, sizeof pieces, (double)job->order.pieces, 0);
    piece_size_print(job, size);
    (void)snprintf(out, LOG_LINE, "%s piece%s of %s", pieces,
                   form == FORM_TEXT && job->order.pieces == 1 ? "" : "s", size);
}

void log_words(const Job *job, Form form, char out[LOG_LINE]) {
    const Cane *cane = &job->cane;
    Units units = job->order.units;
    char across[64], along[64], core[64], mass[32], logs[48];
    length_print_both(across, sizeof across, cane->log_diameter_mm, units);
    length_print_both(along, sizeof along, cane->log_length_mm, units);
    length_print(core, sizeof core, cane->core_diameter_mm, units);
    mass_print(mass, sizeof mass, job->bill.log_mass_g, units);
    if (cane->logs > 1)
        (void)snprintf(logs, sizeof logs, "%d logs, each", cane->logs);
    else
        (void)snprintf(logs, sizeof logs, form == FORM_TEXT ? "one log" : "One log");
    (void)snprintf(out, LOG_LINE, "%s %s across%s (core %s), %s long, %s", logs, across,
                   form == FORM_TEXT ? " with its jacket" : "", core, along, mass);
}

void drawn_words(const Job *job, Form form, char out[LOG_LINE]) {
    char drawn[32];
    distance_print(drawn, sizeof drawn, job->cane.cane_length_m, job->order.units);
    (void)snprintf(out, LOG_LINE,
                   form == FORM_TEXT ? "drawn out %.1f times thinner, to %s of cane%s"
                                     : "Draw it out %.1f times thinner: %s of cane%s",
                   job->cane.reduction, drawn, a_log(job));
}

void piece_words(const Job *job, Form form, char out[LOG_LINE]) {
    const Quote *quote = &job->bill.quote;
    Units units = job->order.units;
    bool pounds = units == UNITS_IN;
    char piece[32], all[32], many[32];
    double a_mass = pounds ? quote->pieces_per_kg * G_PER_LB / 1000 : quote->pieces_per_kg;
    const char *mass = pounds ? "pound" : "kilogram";
    mass_print(piece, sizeof piece, job->bill.piece_mass_g, units);
    mass_print(all, sizeof all, quote->pieces_mass_g, units);
    text_number(many, sizeof many, a_mass, a_mass < 100 ? 1 : 0);
    if (form == FORM_TEXT)
        (void)snprintf(out, LOG_LINE, "a piece weighs %s, %s to the %s; those ordered %s", piece, many, mass,
                       all);
    else
        (void)snprintf(out, LOG_LINE, "%s each, %s to the %s", piece, many, mass);
}

void spare_words(const Job *job, Form form, char out[LOG_LINE]) {
    char many[32], spare[32];
    out[0] = 0;
    if (job->bill.quote.spare_pieces <= 0) return;
    text_number(many, sizeof many, (double)job->cane.pieces, 0);
    text_number(spare, sizeof spare, (double)job->bill.quote.spare_pieces, 0);
    (void)snprintf(out, LOG_LINE,
                   form == FORM_TEXT
                       ? "the order is under the smallest log: this one gives %s pieces, %s to spare"
                       : "The order is under the smallest log, which gives %s pieces: %s to spare.",
                   many, spare);
}

/* "1 120.50 EUR". */
static void money_print(char out[64], double money, const Shop *shop) {
    text_money(out, 64, money);
    text_append(out, 64, "%s%s", shop->currency[0] ? " " : "", shop->currency);
}

void fit_words(const Job *job, char out[LOG_LINE]) {
    const InkMap *inks = job->inks;
    double disc = PI * inks->circle.r * inks->circle.r,
           lost = 1 - disc / ((double)inks->width * inks->height);
    out[0] = 0;
    if (!inks->cropped) return;
    (void)snprintf(out, LOG_LINE,
                   "cropped to a disc: %.0f %% of it is left out; --fit whole lays all of it on a background",
                   lost * 100);
}

static const char *const price_name[PRICE_PARTS] = {
    [PRICE_CANDY] = "candy", [PRICE_DYE] = "dyeing to order", [PRICE_FLAVOUR] = "flavour",
    [PRICE_HOURS] = "hours", [PRICE_FUEL] = "fuel",           [PRICE_PACKING] = "packing"};

/* Is there something to pay for? Nobody dyes or flavours every order. */
static bool part_counts(const Job *job, int part) {
    return part == PRICE_DYE       ? job->bill.quote.dyed > 0
           : part == PRICE_FLAVOUR ? job->recipe.whole.flavour_g > 0
                                   : true;
}

static void add_part(char out[LOG_LINE], const char *name, double money) {
    char sum[64];
    text_money(sum, sizeof sum, money);
    text_append(out, LOG_LINE, "%s%s %s", out[0] ? ", " : "", name, sum);
}

void price_words(const Job *job, char out[LOG_LINE]) {
    const Quote *quote = &job->bill.quote;
    const Shop *shop = job->shop;
    char name[48];
    out[0] = 0;
    for (int part = 0; part < PRICE_PARTS; part++) {
        if (shop_price(shop, (PricePart)part) <= 0 || !part_counts(job, part)) continue;
        if (part == PRICE_HOURS)
            (void)snprintf(name, sizeof name, "%.1f %s", quote->hours, price_name[part]);
        else
            (void)snprintf(name, sizeof name, "%s", price_name[part]);
        add_part(out, name, quote->cost[part]);
    }
    char percent[24];
    text_number(percent, sizeof percent, shop->price_margin * 100, 2);
    (void)snprintf(name, sizeof name, "margin %s %%:", percent);
    if (shop->price_margin > 0) add_part(out, name, quote->margin_cost);
}

void price_left_out_words(const Job *job, char out[LOG_LINE]) {
    out[0] = 0;
    for (int part = 0; part < PRICE_PARTS; part++)
        if (shop_price(job->shop, (PricePart)part) <= 0 && part_counts(job, part))
            text_append(out, LOG_LINE, "%s%s", out[0] ? ", " : "", price_name[part]);
}

/* Why the price is more than its parts. */
static const char *raised_words(const Job *job) {
    const Quote *quote = &job->bill.quote;
    double sum = quote->margin_cost;
    for (int part = 0; part < PRICE_PARTS; part++) sum += quote->cost[part];
    if (quote->price < sum + 0.005) return "";
    return job->shop->price_least > sum ? "; our least order" : "; rounded up";
}

void price_total_words(const Job *job, char out[64]) {
    out[0] = 0;
    if (shop_has_prices(job->shop)) money_print(out, job->bill.quote.price, job->shop);
}

void cost_short_words(const Job *job, char out[LOG_LINE]) {
    char sum[64];
    out[0] = 0;
    price_total_words(job, sum);
    if (sum[0])
        (void)snprintf(out, LOG_LINE, "%s%s; --details tells what it is made of", sum, raised_words(job));
}

void cost_words(const Job *job, char out[LOG_LINE]) {
    char sum[64], parts[LOG_LINE];
    out[0] = 0;
    price_total_words(job, sum);
    if (!sum[0]) return;
    price_words(job, parts);
    (void)snprintf(out, LOG_LINE, "%s: ", sum);
    text_append(out, LOG_LINE, "%s%s", parts, raised_words(job));
    price_left_out_words(job, parts);
    if (parts[0]) text_append(out, LOG_LINE, "; not in it: %s", parts);
}

void minutes_words(const Job *job, Form form, char out[LOG_LINE]) {
    static const char *const about[] = {
        [FORM_TEXT] = "about", [FORM_SHEET] = "about", [FORM_PICTURE] = "usually about"};
    int people = job->shop->people;
    char made[64] = "";
    if (form == FORM_SHEET)
        (void)snprintf(made, sizeof made, "%d rope%s to make, %d join%s; ", job->bill.ropes_made,
                       job->bill.ropes_made == 1 ? "" : "s", job->bill.joins,
                       job->bill.joins == 1 ? "" : "s");
    (void)snprintf(out, LOG_LINE, "%s%s %.0f min%s to lay up and wrap, %d %s%s", made, about[form],
                   job->work.laying, a_log(job), people, people == 1 ? "person" : "people",
                   form == FORM_PICTURE ? "" : " (habit)");
}

/* --- the work --- */

static WorkStep *step(WorkStep *at, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Fills the step and returns the next one. */
static WorkStep *step(WorkStep *at, const char *format, ...) {
    va_list values;
    va_start(values, format);
    (void)vsnprintf(at->text, sizeof at->text, format, values);
    va_end(values);
    at->stop = false;
    return at + 1;
}

enum { FOLDS_TOLD = 3 }; /* blends in the order of work; of more only how many */

static int count_blends(const Job *job) {
    int count = 0;
    for (int i = 0; i < job->bill.blends; i++) count += blend_told(&job->bill.blend[i]);
    return count;
}

/* "210 g violet and 210 g white to violet+white; ..." */
static void list_blends(const Job *job, char out[WORK_STEP]) {
    char mass[32];
    int told = 0;
    for (int i = 0; i < job->bill.blends; i++) {
        const BlendRow *row = &job->bill.blend[i];
        if (!blend_told(row)) continue;
        text_append(out, WORK_STEP, "%s", told++ > 0 ? "; " : "");
        for (int k = 0; k < BLEND; k++) {
            mass_print(mass, sizeof mass, row->part_g[k], job->order.units);
            text_append(out, WORK_STEP, "%s%s %s", k > 0 ? " and " : "", mass,
                        row->whole.candy.blend[k].name);
        }
        text_append(out, WORK_STEP, " to %s", row->whole.candy.name);
    }
}

static WorkStep *fold_step(const Job *job, WorkStep *at) {
    char blends[WORK_STEP] = "";
    int count = count_blends(job);
    if (count == 0) return at;
    if (count > FOLDS_TOLD)
        return step(at, "Fold the %d blends (page \"Ropes to pull\"), %d times each (habit).", count,
                    job->shop->blend_folds);
    list_blends(job, blends);
    return step(at, "Fold %s, %d times%s (habit).", blends, job->shop->blend_folds, count > 1 ? " each" : "");
}

static WorkStep *blocks_step(const Job *job, WorkStep *at) {
    char risk[64] = "";
    int risks = blocks_at_risk(&job->blocks);
    if (job->blocks.blocks == 0) return step(at, "The core is one rope: nothing to lay up.");
    if (risks > 0) (void)snprintf(risk, sizeof risk, ": %d ha%s a wrong way", risks, risks == 1 ? "s" : "ve");
    return step(at, "Lay up blocks 1 to %d, as page \"The day\" says; nick the top of each face end%s.%s",
                job->blocks.blocks, risk, job->layup.wraps > 0 ? " Wraps: page \"Sheets to roll\"." : "");
}

int work_words(const Job *job, WorkStep out[WORK_STEPS]) {
    char across[64], bench[32], piece[64], along[64];
    WorkStep *at = out;
    length_print_both(across, sizeof across, job->order.piece_diameter_mm, job->order.units);
    length_print_both(piece, sizeof piece, job->order.piece_length_mm, job->order.units);
    hand_print(bench, sizeof bench, job->shop->bench_length_mm, job->order.units);
    hand_print(along, sizeof along, job->cane.log_length_mm, job->order.units);
    at = step(at, "Cook, colour and cool the batches until they can be handled.%s",
              job->cane.logs > 1 ? " All of it for each log." : "");
    at = step(at, "Pull those named pulled until opaque and satin; leave the clear.");
    at = fold_step(job, at);
    at = step(at, "Batches and ropes wait in the warm box, at one temperature.");
    at = step(at, "Pull the ropes (page \"Ropes to pull\").");
    at = blocks_step(job, at);
    at = step(at, "Wrap %sthe jacket round it (page \"Sheets to roll\").",
              job->grid.rings > 0 ? "the rings, then " : "");
    at = step(at, "Roll the log round and even: %s long.", along);
    at = step(at, "CUT A TEST SLICE AND READ IT before drawing on.");
    at[-1].stop = true;
    at = step(at, "Draw out to %s, rolling all the time.", across);
    at = step(at, "Cut the cane to bench lengths of %s; roll until firm.", bench);
    at = step(at, "Chop into pieces of %s.", piece);
    return (int)(at - out);
}

#define HABIT "Habit: the shop's own figure, not a measured one."
#define PERMISSION "Have the logo owner's written permission."

const char *caution_paragraph(Form form, int paragraph) {
    static const char *const words[][CAUTION_PARAGRAPHS] = {
        [FORM_TEXT] = {"Hot sugar sticks and burns: gloves, sleeves, closed shoes, cold water at hand, no "
                       "children near. Small hard candy can choke young children. Colours, allergens, "
                       "labels: your local law holds. " PERMISSION,
                       HABIT " dE00: how far two colours are apart; 2 is hardly seen, 10 is another shade "
                             "(rule of thumb)."},
        [FORM_SHEET] = {
            "Cooked sugar at 150 \302\260C (300 \302\260F) sticks and burns deep at once: gloves, sleeves, "
            "closed shoes, cold water at hand, no children at the bench. Cool a burn under running water for "
            "20 minutes, do not peel sugar off, get medical help.",
            "Colours, allergens, labels: local rules hold; small hard candy is a choking hazard for young "
            "children. " PERMISSION " " HABIT}};
    return words[form][paragraph];
}
