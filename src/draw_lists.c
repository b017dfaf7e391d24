/* The tables of the bench sheets. SPDX-License-Identifier: MIT */
#include "draw_lists.h"

#include "hatch.h"
#include "text.h"

#include <math.h>
#include <string.h>

enum { LINE = 400, PICTURE = 46 };

void swatch_draw(Sheet *s, const Job *job, const Candy *candy, double x, double y, double w, double h) {
    cairo_rectangle(s->cr, x, y - h, w, h);
    hatch_fill(s->cr, hatch_of(&job->bill, candy), candy->srgb, 6);
    cairo_set_line_width(s->cr, 0.9);
    cairo_stroke(s->cr);
}

void candy_words(const Candy *candy, char *out, size_t size) {
    (void)snprintf(out, size, "%s, %s%s", candy->name, finish_name(candy->finish),
                   candy->dyed ? ", dyed for this job" : "");
}

static void rule_off(Sheet *s, double y) {
    cairo_set_line_width(s->cr, 0.6);
    cairo_move_to(s->cr, SHEET_MARGIN, y);
    cairo_line_to(s->cr, s->width - SHEET_MARGIN, y);
    cairo_stroke(s->cr);
}

/* --- rope types --- */

/* The section, to fit a square of PICTURE pt: its shape, not its size. */
static void draw_shape(Sheet *s, const Job *job, const RopeRow *row, double x, double y) {
    const Candy *candy = &job->palette.candy[row->candy];
    double longest = fmax(row->width_mm, row->height_mm), w = PICTURE * row->width_mm / longest;
    double h = fmax(PICTURE * row->height_mm / longest, 2);
    x += (PICTURE - w) / 2;
    y += (PICTURE - h) / 2;
    cairo_move_to(s->cr, x, y);
    if (row->shape == SHAPE_STRIP) cairo_line_to(s->cr, x + w, y);
    cairo_line_to(s->cr, x + w, y + h);
    cairo_line_to(s->cr, x, y + h);
    cairo_close_path(s->cr);
    hatch_fill(s->cr, hatch_of(&job->bill, candy), candy->srgb, 6);
    cairo_set_line_width(s->cr, 1);
    cairo_stroke(s->cr);
}

static void pull_words(const Job *job, const Pull *p, char out[LINE]) {
    Units units = job->order.units;
    char mass[32], side[64], along[32], total[32], each[32], size[96], times[32] = "", thick[160] = "";
    mass_print(mass, sizeof mass, p->mass_g, job->order.units);
    double lump = length_by_hand(p->lump_side_mm, units);
    size_print(side, sizeof side, lump, lump, units);
    char *unit = strrchr(side, ' ');
    if (unit) *unit = 0;
    length_print(along, sizeof along, length_by_hand(p->lump_length_mm, units), units);
    length_print(total, sizeof total, length_by_hand(p->total_length_mm, units), units);
    length_print(each, sizeof each, length_by_hand(p->length_each_mm, units), units);
    size_print(size, sizeof size, p->width_mm, p->height_mm, units);
    if (p->times > 1) (void)snprintf(times, sizeof times, "%d times: ", p->times);
    if (p->scale > 1)
        (void)snprintf(thick, sizeof thick, "; section %s, thicker, to be drawn with its block", size);
    (void)snprintf(out, LINE, "%slump %s, %s x %s: draw %.1f times to %s%s", times, mass, side, along,
                   p->draw, total, thick);
    size_t used = strlen(out);
    if (p->count > 1) (void)snprintf(out + used, LINE - used, ", cut %d of %s", p->count, each);
}

static int pulls_of(const Bill *bill, int type, int *first) {
    int count = 0;
    for (int i = 0; i < bill->pulls; i++) {
        if (bill->pull[i].type != type) continue;
        if (count++ == 0) *first = i;
    }
    return count;
}

static void draw_type(Sheet *s, const Job *job, int type) {
    const RopeRow *row = &job->bill.rope[type];
    const Candy *candy = &job->palette.candy[row->candy];
    char text[LINE], size[96];
    int first = 0, pulls = pulls_of(&job->bill, type, &first);
    double x = SHEET_MARGIN, at = x + 62 + PICTURE + 12, room = s->width - SHEET_MARGIN - at, height = 26;
    for (int i = 0; i < pulls; i++) {
        pull_words(job, &job->bill.pull[first + i], text);
        height += type_height(s->cr, TYPE_BENCH, false, room, text) + 2;
    }
    height = fmax(PICTURE + 10, height + 6);
    sheet_room(s, height);
    double y = s->y, right = s->width - SHEET_MARGIN;
    (void)snprintf(text, sizeof text, "%d", type + 1);
    type_fit(s->cr, x, y + 30, 28, true, 58, text);
    draw_shape(s, job, row, x + 62, y + 4);
    size_print(size, sizeof size, row->width_mm, row->height_mm, job->order.units);
    (void)snprintf(text, sizeof text, "%s%s, %s", row->rim ? "rim " : "",
                   row->shape == SHAPE_WEDGE ? "wedge" : "strip", size);
    double used = type_fit(s->cr, at, y + 20, 17, true, 150, candy->name);
    (void)snprintf(size, sizeof size, "%d laid, %d made", row->count, row->made);
    double made = type_show(s->cr, right, y + 20, TYPE_BENCH, true, ALIGN_RIGHT, size);
    type_fit(s->cr, at + used + 12, y + 20, 17, false, right - made - at - used - 24, text);
    double line = y + 26 + TYPE_BENCH;
    for (int i = 0; i < pulls; i++) {
        pull_words(job, &job->bill.pull[first + i], text);
        line = type_wrap(s->cr, at, line, TYPE_BENCH, false, room, text) + 2;
    }
    s->y = y + height;
    rule_off(s, s->y - 1);
}

/* The trims of a candy: their numbers, and what they weigh together. */
static void draw_trims(Sheet *s, const Job *job, const WrapRow *row) {
    char text[LINE] = "", number[32], mass[32];
    mass_print(mass, sizeof mass, row->mass_g, job->order.units);
    for (int i = 0; i < job->layup.ropes; i++) {
        const Rope *rope = &job->layup.rope[i];
        if (!rope->trim || strcmp(job->palette.candy[rope->candy].name, row->candy.name) != 0) continue;
        rope_number(rope, number);
        size_t used = strlen(text);
        if (used < sizeof text - 60)
            (void)snprintf(text + used, sizeof text - used, "%s%s", used ? ", " : "", number);
    }
    size_t used = strlen(text);
    (void)snprintf(text + used, sizeof text - used, ": %s together, pressed into the rim by hand", mass);
    double x = SHEET_MARGIN, room = s->width - 2 * SHEET_MARGIN - 150;
    sheet_room(s, type_height(s->cr, TYPE_BENCH, false, room, text) + 12);
    type_fit(s->cr, x, s->y + 20, 17, true, 110, row->candy.name);
    swatch_draw(s, job, &row->candy, x + 116, s->y + 21, 22, 14);
    s->y = type_wrap(s->cr, x + 150, s->y + 20, TYPE_BENCH, false, room, text) - 4;
    rule_off(s, s->y);
}

static void draw_types(Sheet *s, const Job *job) {
    sheet_page(s, "Ropes to pull");
    char text[LINE], length[32];
    length_print(length, sizeof length, job->shop->lump_length_min_mm, job->order.units);
    (void)snprintf(text, sizeof text,
                   "Form the lump, draw it to the length named, flatten it to the section, cut. Rope 7.2 is "
                   "the second of type 7. Masses are without what ends lose; no lump is shorter than %s "
                   "(habit). Flatten a rim "
                   "rope to the curve its drawing shows.",
                   length);
    s->y = type_wrap(s->cr, SHEET_MARGIN, s->y + 12, 11, false, s->width - 2 * SHEET_MARGIN, text) - 4;
    rule_off(s, s->y);
    for (int i = 0; i < job->bill.rope_types; i++) draw_type(s, job, i);
    for (int i = 0; i < job->bill.wraps; i++)
        if (job->bill.wrap[i].kind == WRAP_TRIM) draw_trims(s, job, &job->bill.wrap[i]);
}

/* --- rings and jacket --- */

static void draw_sheet_row(Sheet *s, const Job *job, const WrapRow *row, double scale) {
    char text[LINE], size[96], thick[32], mass[32];
    Units units = job->order.units;
    double w = row->width_mm * scale, h = row->length_mm * scale, x = SHEET_MARGIN;
    double at = x + 190, room = s->width - SHEET_MARGIN - at, height = fmax(h + 26, 120);
    sheet_room(s, height);
    double y = s->y + 10;
    swatch_draw(s, job, &row->candy, x, y + h, fmax(w, 2), h);
    (void)snprintf(text, sizeof text, "%s%s",
                   row->kind == WRAP_RING ? "ring"
                   : row->count > 1       ? "jacket stripe"
                                          : "jacket",
                   "");
    type_fit(s->cr, at, y + 18, 22, true, room, text);
    type_fit(s->cr, at, y + 40, 17, true, room, row->candy.name);
    size_print(size, sizeof size, length_by_hand(row->width_mm, units), length_by_hand(row->length_mm, units),
               units);
    length_print(thick, sizeof thick, row->thickness_mm, units);
    mass_print(mass, sizeof mass, row->mass_g, job->order.units);
    (void)snprintf(text, sizeof text, "%s, %s thick", size, thick);
    type_fit(s->cr, at, y + 62, 17, true, room, text);
    (void)snprintf(text, sizeof text, row->count > 1 ? "%d of them, %s together" : "%d sheet, %s", row->count,
                   mass);
    type_fit(s->cr, at, y + 82, TYPE_BENCH, false, room, text);
    s->y += height;
    rule_off(s, s->y - 2);
}

static void draw_sheets(Sheet *s, const Job *job) {
    double widest = 1;
    for (int i = 0; i < job->bill.wraps; i++)
        if (job->bill.wrap[i].kind != WRAP_TRIM) widest = fmax(widest, job->bill.wrap[i].width_mm);
    sheet_page(s, "Sheets to roll, in the order they go on");
    double scale = fmin(170 / widest, 220 / job->cane.log_length_mm);
    char text[LINE];
    (void)snprintf(text, sizeof text,
                   "Width: pi x the diameter at mid thickness. Roll the sheet out, wrap it round, close the "
                   "seam by pinching. Stripes lie along the log, side by side%s.",
                   job->palette.stripes > 1 ? ", their candies by turns" : "");
    s->y = type_wrap(s->cr, SHEET_MARGIN, s->y + 12, 11, false, s->width - 2 * SHEET_MARGIN, text) - 4;
    rule_off(s, s->y);
    for (int i = 0; i < job->bill.wraps; i++)
        if (job->bill.wrap[i].kind != WRAP_TRIM) draw_sheet_row(s, job, &job->bill.wrap[i], scale);
}

void draw_lists(Sheet *sheet, const Job *job) {
    draw_types(sheet, job);
    draw_sheets(sheet, job);
}
