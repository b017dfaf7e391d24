/* What is told of the order, the log and the pieces. SPDX-License-Identifier: MIT */
#include "say/bench_words.h"

#include "base/text.h"

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

/* "120.50 EUR". */
static void money_print(char out[64], double money, const Shop *shop) {
    (void)snprintf(out, 64, "%.2f%s%s", money, shop->currency[0] ? " " : "", shop->currency);
}

void cost_words(const Job *job, char out[LOG_LINE]) {
    const Quote *quote = &job->bill.quote;
    const Shop *shop = job->shop;
    char sum[64], candy[64], work[64];
    out[0] = 0;
    if (shop->price_candy_kg <= 0 && shop->price_hour <= 0) return;
    money_print(sum, quote->candy_cost + quote->work_cost, shop);
    money_print(candy, quote->candy_cost, shop);
    money_print(work, quote->work_cost, shop);
    if (shop->price_candy_kg > 0 && shop->price_hour > 0)
        (void)snprintf(out, LOG_LINE, "%s: candy %s, laying up %s, by the shop's prices", sum, candy, work);
    else
        (void)snprintf(out, LOG_LINE, "%s for %s alone, by the shop's price", sum,
                       shop->price_hour > 0 ? "laying up" : "candy");
}

void minutes_words(const Job *job, Form form, char out[LOG_LINE]) {
    int people = job->shop->people;
    char made[64] = "";
    if (form == FORM_SHEET)
        (void)snprintf(made, sizeof made, "%d ropes to make, %d joins; ", job->bill.ropes_made,
                       job->bill.joins);
    (void)snprintf(out, LOG_LINE, "%sabout %.0f minutes to lay up%s for %d %s (habit)", made,
                   job->bill.minutes, a_log(job), people, people == 1 ? "person" : "people");
}
