/* The sheets to build from. SPDX-License-Identifier: MIT
 *
 * All pages are drawn twice, first into nothing, to know how many they are. Nothing is worked out here:
 * lists, blocks and pulls are the job's. */
#include "draw/draw.h"

#include "draw/bench_pages.h"

#include <math.h>
#include <stdio.h>

enum { LINE = 500 };

static void draw_legend(Sheet *s, const Job *job) {
    double x = SHEET_MARGIN, column = sheet_width(s) / 3;
    int shown = 0;
    for (int i = 0; i < job->bill.materials; i++) {
        if (job->bill.material[i].mass_g < MATERIAL_LEAST_G) continue;
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
    double size = fmin(sheet_bottom(s) - s->y - 34, sheet_width(s) / 2 - 40);
    if (size < 60) return;
    double scale = size / job->cane.log_diameter_mm;
    for (int i = 0; i < 2; i++) {
        double x = SHEET_MARGIN + sheet_width(s) * (0.25 + 0.5 * i);
        slice_draw(s->cr, job, x, s->y + size / 2, scale, i == 1);
        type_show(s->cr, x, s->y + size + 20, 12, true, ALIGN_CENTRE, name[i]);
    }
}

/* The log at true size if the page holds it, else at the largest of a few plain scales. */
static bool draw_log(Sheet *s, const Job *job, Err *err) {
    static const double plain[] = {1, 0.9, 0.8, 0.75, 0.6, 0.5, 0.4, 0.3, 0.25, 0.2};
    char line[LINE], across[64];
    size_t i = 0;
    double size = job->cane.log_diameter_mm * PT_PER_MM, room = sheet_width(s);
    while (i + 1 < sizeof plain / sizeof *plain && size * plain[i] > room) i++;
    sheet_page(s, "The log: face end, as the builder sees it");
    length_print_both(across, sizeof across, job->cane.log_diameter_mm, job->order.units);
    if (plain[i] == 1)
        (void)snprintf(line, sizeof line, "True size: %s across. Numbers are type.serial; t: a trim.",
                       across);
    else
        (void)snprintf(line, sizeof line,
                       "Drawn at %g of true size (%s across). Numbers are type.serial; t: a trim.", plain[i],
                       across);
    sheet_paragraph(s, 12, true, 2, 0, line);
    double radius = size * plain[i] / 2;
    s->y += 26;
    if (!section_draw(s->cr, job, s->width / 2, s->y + radius, plain[i] * PT_PER_MM, err)) return false;
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
    return true;
}

static bool draw_pages(const Job *job, int pages, FILE *file, int *count, Err *err) {
    Sheet sheet;
    sheet_open(&sheet, job->order.name, job->order.units, pages, file);
    draw_front(&sheet, job);
    bool good = draw_log(&sheet, job, err);
    draw_blocks(&sheet, job);
    draw_lists(&sheet, job);
    *count = sheet.page;
    return sheet_close(&sheet, err) && good;
}

bool draw_bench(const Job *job, FILE *file, Err *err) {
    int pages = 0, again = 0;
    return draw_pages(job, 0, NULL, &pages, err) && draw_pages(job, pages, file, &again, err);
}
