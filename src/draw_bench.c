/* The sheets to build from. SPDX-License-Identifier: MIT
 *
 * All pages are drawn twice, first into nothing, to know how many they are. Nothing is worked out here:
 * lists, blocks and pulls are the job's. */
#include "draw_bench.h"

#include "draw_blocks.h"
#include "draw_lists.h"
#include "draw_section.h"
#include "text.h"

#include <math.h>
#include <string.h>

enum { LINE = 500 };

static const double least_mass_g = 0.05; /* under it a candy of the picture found no place in the lay-up */

static double room_of(const Sheet *s) {
    return s->width - 2 * SHEET_MARGIN;
}

static void heading(Sheet *s, const char *text) {
    sheet_room(s, 44);
    s->y += 22;
    type_show(s->cr, SHEET_MARGIN, s->y, 15, true, ALIGN_LEFT, text);
    s->y += 4;
}

static void paragraph(Sheet *s, double size, bool bold, const char *text) {
    sheet_room(s, type_height(s->cr, size, bold, room_of(s), text) + 4);
    s->y = type_wrap(s->cr, SHEET_MARGIN, s->y + size + 2, size, bold, room_of(s), text) - size;
}

/* --- page 1 --- */

static void draw_verdict(Sheet *s, const Job *job) {
    static const char *const word[] = {[VERDICT_GO] = "GO", [VERDICT_CHANGE] = "CHANGE", [VERDICT_NO] = "NO"};
    static const char *const meaning[] = {[VERDICT_GO] = "can be built as drawn",
                                          [VERDICT_CHANGE] = "can be built with the changes named below",
                                          [VERDICT_NO] = "cannot be built like this"};
    const char *text = word[job->judgement.verdict];
    double width = type_width(s->cr, TYPE_LARGE, true, text) + 20, x = SHEET_MARGIN, y = s->y;
    cairo_rectangle(s->cr, x, y, width, 44);
    cairo_fill(s->cr);
    cairo_set_source_rgb(s->cr, 1, 1, 1);
    type_show(s->cr, x + 10, y + 35, TYPE_LARGE, true, ALIGN_LEFT, text);
    cairo_set_source_rgb(s->cr, 0, 0, 0);
    type_fit(s->cr, x + width + 14, y + 18, 20, true, room_of(s) - width - 14, job->order.name);
    type_fit(s->cr, x + width + 14, y + 40, TYPE_BENCH, false, room_of(s) - width - 14,
             meaning[job->judgement.verdict]);
    s->y += 48;
}

static void draw_order(Sheet *s, const Job *job) {
    const Cane *cane = &job->cane;
    Units units = job->order.units;
    char line[LINE], number[32], piece[96], across[32], along[32], mass[32], core[32], drawn[32],
        logs[32] = "One log";
    text_number(number, sizeof number, (double)job->order.pieces, 0);
    size_print(piece, sizeof piece, job->order.piece_diameter_mm, job->order.piece_length_mm, units);
    (void)snprintf(line, sizeof line, "%s pieces of %s", number, piece);
    paragraph(s, 20, true, line);
    s->y += 4;
    length_print(across, sizeof across, cane->log_diameter_mm, units);
    length_print(along, sizeof along, cane->log_length_mm, units);
    length_print(core, sizeof core, cane->core_diameter_mm, units);
    mass_print(mass, sizeof mass, job->bill.log_mass_g, job->order.units);
    if (cane->logs > 1) (void)snprintf(logs, sizeof logs, "%d logs, each", cane->logs);
    (void)snprintf(line, sizeof line, "%s %s across (core %s), %s long, %s", logs, across, core, along, mass);
    paragraph(s, 16, true, line);
    s->y += 2;
    distance_print(drawn, sizeof drawn, cane->cane_length_m, units);
    (void)snprintf(line, sizeof line, "Draw it out %.1f times thinner: %s of cane%s", cane->reduction, drawn,
                   cane->logs > 1 ? " a log" : "");
    paragraph(s, 16, true, line);
    if (cane->least_order) {
        text_number(number, sizeof number, (double)cane->pieces, 0);
        (void)snprintf(line, sizeof line, "The order is under the smallest log: this one gives %s pieces.",
                       number);
        paragraph(s, 12, false, line);
    }
    (void)snprintf(line, sizeof line,
                   "%d ropes to make, %d joins; about %.0f minutes to lay up%s for %d %s (habit)",
                   job->bill.ropes_made, job->bill.joins, job->bill.minutes, cane->logs > 1 ? " a log" : "",
                   job->shop->people, job->shop->people == 1 ? "person" : "people");
    paragraph(s, TYPE_BENCH, false, line);
}

/* What stands between this job and *go*. */
static void draw_changes(Sheet *s, const Job *job) {
    const Judgement *judgement = &job->judgement;
    char line[LINE], value[32], limit[32];
    if (judgement->verdict == VERDICT_GO) return;
    heading(s, "To be settled first");
    for (int i = 0; i < judgement->checks; i++) {
        const Check *check = &judgement->check[i];
        if (check->verdict == VERDICT_GO) continue;
        text_number(value, sizeof value, check->value, check->value < 10 ? 2 : 1);
        text_number(limit, sizeof limit, check->limit, check->limit < 10 ? 2 : 1);
        (void)snprintf(line, sizeof line, "%s: %s is %s%s%s, wanted at %s %s%s%s",
                       verdict_name(check->verdict), check->name, value, check->unit[0] ? " " : "",
                       check->unit, check->least ? "least" : "most", limit, check->advice[0] ? "; " : "",
                       check->advice);
        paragraph(s, TYPE_SMALL, false, line);
    }
}

static void draw_materials(Sheet *s, const Job *job) {
    char line[LINE], mass[32];
    (void)snprintf(line, sizeof line, "Candy to weigh out, with %.3g %% spare (habit)%s",
                   job->shop->spare_share * 100, job->cane.logs > 1 ? ", all logs" : "");
    heading(s, line);
    int columns = job->bill.materials > 3 ? 2 : 1, shown = 0;
    double room = room_of(s) / columns;
    for (int i = 0; i < job->bill.materials; i++) {
        const MaterialRow *row = &job->bill.material[i];
        if (row->mass_g < least_mass_g) continue;
        double x = SHEET_MARGIN + shown % columns * room;
        if (shown++ % columns == 0) {
            sheet_room(s, 22);
            s->y += 21;
        }
        swatch_draw(s, job, &row->candy, x, s->y + 2, 30, 16);
        mass_print(mass, sizeof mass, row->with_spare_g, job->order.units);
        type_show(s->cr, x + 118, s->y, 17, true, ALIGN_RIGHT, mass);
        candy_words(&row->candy, line, sizeof line);
        type_fit(s->cr, x + 128, s->y, 17, false, room - 134, line);
    }
    s->y += 4;
}

/* The steps, most with a number of this job. */
static void draw_work(Sheet *s, const Job *job) {
    enum { STEPS = 11, TEXT = 200 };
    const Cane *cane = &job->cane;
    char step[STEPS][TEXT], across[32], bench[32], piece[32], along[32], one[64] = "";
    length_print(across, sizeof across, job->order.piece_diameter_mm, job->order.units);
    length_print(piece, sizeof piece, job->order.piece_length_mm, job->order.units);
    length_print(bench, sizeof bench, job->shop->bench_length_mm, job->order.units);
    length_print(along, sizeof along, length_by_hand(cane->log_length_mm, job->order.units),
                 job->order.units);
    if (cane->logs > 1)
        (void)snprintf(one, sizeof one, " Steps 2 to 10 once for each of the %d logs.", cane->logs);
    (void)snprintf(step[0], TEXT, "Cook and colour the candies above.%s", one);
    (void)snprintf(step[1], TEXT,
                   "Pull the candies named pulled until opaque and satin; leave the clear ones be.");
    (void)snprintf(
        step[2], TEXT,
        "Keep every batch and every finished rope in the warm box: thin ropes go cold in minutes.");
    (void)snprintf(step[3], TEXT, "Pull the ropes (page \"Ropes to pull\"), all at one temperature.");
    (void)snprintf(step[4], TEXT, "Lay up blocks 1 to %d in order; nick the top of each marked end.",
                   job->blocks.blocks);
    (void)snprintf(step[5], TEXT, "Wrap %sthe jacket round it (page \"Sheets to roll\").",
                   job->grid.rings > 0 ? "the rings, then " : "");
    (void)snprintf(step[6], TEXT, "Roll the log round and even: %s long.", along);
    (void)snprintf(
        step[7], TEXT,
        "CUT A TEST SLICE AND READ IT before drawing on. It shows this sheet's section, or its mirror "
        "image from the other end.");
    (void)snprintf(step[8], TEXT, "Draw out to %s, rolling all the time.", across);
    (void)snprintf(step[9], TEXT, "Cut the cane to bench lengths of %s; roll them until they are firm.",
                   bench);
    (void)snprintf(step[10], TEXT, "Chop into pieces of %s.", piece);
    if (job->blocks.blocks == 0) (void)snprintf(step[4], TEXT, "The core is one rope: nothing to lay up.");
    heading(s, "Order of work");
    for (int i = 0; i < STEPS; i++) {
        char number[16];
        double room = room_of(s) - 28, size = 12.5;
        sheet_room(s, type_height(s->cr, size, i == 7, room, step[i]) + 4);
        (void)snprintf(number, sizeof number, "%d", i + 1);
        type_show(s->cr, SHEET_MARGIN + 20, s->y + size + 2, size, true, ALIGN_RIGHT, number);
        s->y = type_wrap(s->cr, SHEET_MARGIN + 28, s->y + size + 2, size, i == 7, room, step[i]) - size + 1;
    }
}

static void draw_cautions(Sheet *s) {
    static const char *const caution[] = {
        "Cooked sugar at 150 \302\260C sticks and burns deep at once: gloves, sleeves, closed shoes, cold "
        "water at hand, no "
        "children at the bench. Cool a burn under running water for 20 minutes, do not peel sugar off, get "
        "medical help.",
        "Colours, allergens, labels: local rules hold; small hard candy is a choking hazard for young "
        "children. Have the "
        "logo owner's written permission. Habit: the shop's own figure, not a measured one."};
    sheet_room(s, 110);
    heading(s, "Cautions");
    paragraph(s, TYPE_SMALL, true, caution[0]);
    paragraph(s, TYPE_SMALL, false, caution[1]);
}

/* --- page 2 --- */

static void draw_legend(Sheet *s, const Job *job) {
    double x = SHEET_MARGIN, column = room_of(s) / 3;
    int shown = 0;
    for (int i = 0; i < job->bill.materials; i++) {
        if (job->bill.material[i].mass_g < least_mass_g) continue;
        double left = x + shown % 3 * column, y = s->y + 16 + (int)(shown / 3) * 22;
        shown++;
        swatch_draw(s, job, &job->bill.material[i].candy, left, y + 2, 30, 15);
        type_fit(s->cr, left + 38, y, TYPE_BENCH, true, column - 46, job->bill.material[i].candy.name);
    }
    s->y += 22 * (int)((shown + 2) / 3) + 6;
}

/* What a test slice may show; as large as the page leaves room. */
static void draw_slices(Sheet *s, const Job *job) {
    static const char *const name[] = {"A test slice from the face end", "From the other end: just as right"};
    double size = fmin(sheet_bottom(s) - s->y - 34, room_of(s) / 2 - 40);
    if (size < 60) return;
    double scale = size / job->cane.log_diameter_mm;
    for (int i = 0; i < 2; i++) {
        double x = SHEET_MARGIN + room_of(s) * (0.25 + 0.5 * i);
        slice_draw(s->cr, job, x, s->y + size / 2, scale, i == 1);
        type_show(s->cr, x, s->y + size + 20, 12, true, ALIGN_CENTRE, name[i]);
    }
}

/* The log at true size if the page holds it, else at the largest of a few plain scales. */
static void draw_log(Sheet *s, const Job *job) {
    static const double plain[] = {1, 0.9, 0.8, 0.75, 0.6, 0.5, 0.4, 0.3, 0.25, 0.2};
    char line[LINE], across[32];
    size_t i = 0;
    double size = job->cane.log_diameter_mm * PT_PER_MM, room = room_of(s);
    while (i + 1 < sizeof plain / sizeof *plain && size * plain[i] > room) i++;
    sheet_page(s, "The log: face end, as the builder sees it");
    length_print(across, sizeof across, job->cane.log_diameter_mm, job->order.units);
    if (plain[i] == 1)
        (void)snprintf(line, sizeof line, "True size: %s across. Numbers are type.serial; t: a trim.",
                       across);
    else
        (void)snprintf(line, sizeof line,
                       "Drawn at %g of true size (%s across). Numbers are type.serial; t: a trim.", plain[i],
                       across);
    paragraph(s, 12, true, line);
    double radius = size * plain[i] / 2;
    s->y += 26;
    section_draw(s->cr, job, s->width / 2, s->y + radius, plain[i] * PT_PER_MM);
    s->y += 2 * radius + 36;
    rule_draw(s->cr, SHEET_MARGIN, s->y);
    type_fit(s->cr, SHEET_MARGIN + 100 * PT_PER_MM + 24, s->y, 11, false, room - 100 * PT_PER_MM - 24,
             "Measure it: if it is not 100 mm, the print is not to size.");
    s->y += 12;
    draw_legend(s, job);
    nick_draw(s->cr, SHEET_MARGIN + 8, s->y + 17, 12, 0, true);
    type_fit(
        s->cr, SHEET_MARGIN + 24, s->y + 16, 12, false, room - 24,
        "The nick: a notch cut into the top of the face end of every block, so that end and top stay known.");
    nick_draw(s->cr, SHEET_MARGIN + 8, s->y + 35, 12, 0, false);
    type_fit(s->cr, SHEET_MARGIN + 24, s->y + 34, 12, false, room - 24,
             "Hollow in a drawing: that block lies end for end, its nicked end away from you.");
    s->y += 50;
    draw_slices(s, job);
}

static bool draw_pages(const Job *job, int pages, FILE *file, int *count, Err *err) {
    Sheet sheet;
    sheet_open(&sheet, job->order.name, job->order.units, pages, file);
    sheet_page(&sheet, "Bench sheets");
    draw_verdict(&sheet, job);
    draw_order(&sheet, job);
    draw_changes(&sheet, job);
    draw_materials(&sheet, job);
    draw_work(&sheet, job);
    draw_cautions(&sheet);
    draw_log(&sheet, job);
    draw_blocks(&sheet, job);
    draw_lists(&sheet, job);
    *count = sheet.page;
    return sheet_close(&sheet, err);
}

bool draw_bench(const Job *job, FILE *file, Err *err) {
    int pages = 0, again = 0;
    return draw_pages(job, 0, NULL, &pages, err) && draw_pages(job, pages, file, &again, err);
}
