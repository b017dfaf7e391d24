/* The tables of the bench sheets. SPDX-License-Identifier: MIT */
#include "draw/bench_pages.h"

#include "say/bench_words.h"

#include <math.h>
#include <string.h>

enum {
    ROW = 21,       /* pt: a row of the table of ropes */
    PICTURE = 19,   /* pt: the square that shows a rope's section */
    CANDY_HEAD = 42 /* pt: head of a candy's rows */
};

void swatch_draw(Sheet *s, const Job *job, const Candy *candy, double x, double y, double w, double h) {
    cairo_rectangle(s->cr, x, y - h, w, h);
    candy_fill(s->cr, job, candy, 0.9);
}

static void rule_off(Sheet *s, double y) {
    cairo_move_to(s->cr, SHEET_MARGIN, y);
    cairo_line_to(s->cr, s->width - SHEET_MARGIN, y);
    canvas_stroke(s->cr, 0.6);
}

/* --- rope types --- */

/* Where a row's columns lie: pt from the margin; of numbers the right end. */
typedef struct Row {
    double section, made, mass, lump, draw, cut, warm;
} Row;

static const Row row_at[] = {
    [UNITS_MM] = {60, 194, 254, 262, 364, 484, 535}, [UNITS_IN] = {60, 216, 276, 282, 388, 500, 552}};

/* A lump's mass, what to form it to, how far to draw it, how many ropes to cut it into, how long it keeps
 * warm. */
static void draw_pull(Sheet *s, const Job *job, int pull, const Row *at, double y) {
    const Pull *p = &job->bill.pull[pull];
    Units units = job->order.units;
    double x = SHEET_MARGIN;
    char text[200], mass[32], length[32];
    (void)snprintf(text, sizeof text, "%d", p->times * p->count);
    type_show(s->cr, x + at->made, y, TYPE_BENCH, true, ALIGN_RIGHT, text);
    mass_print(mass, sizeof mass, p->mass_g, units);
    if (p->times > 1)
        (void)snprintf(text, sizeof text, "%d x %s", p->times, mass);
    else
        (void)snprintf(text, sizeof text, "%s", mass);
    double fits = (at->mass - at->made - 4) / type_width(s->cr, TYPE_BENCH, false, text);
    type_show(s->cr, x + at->mass, y, TYPE_BENCH * fmin(fits, 1), false, ALIGN_RIGHT, text);
    lump_print(p, units, text);
    type_fit(s->cr, x + at->lump, y, TYPE_BENCH, false, at->draw - at->lump - 4, text);
    hand_print(length, sizeof length, p->total_length_mm, units);
    unit_drop(length);
    (void)snprintf(text, sizeof text, p->draw < 9.95 ? "%s (%.1fx)" : "%s (%.0fx)", length, p->draw);
    type_fit(s->cr, x + at->draw, y, TYPE_BENCH, false, at->cut - 14 - at->draw, text);
    (void)snprintf(text, sizeof text, "%d", p->count);
    if (p->count > 1) type_show(s->cr, x + at->cut, y, TYPE_BENCH, true, ALIGN_RIGHT, text);
    if (pull >= job->heat.pulls) return;
    minutes_print(text, sizeof text, job->heat.pull[pull].seconds);
    type_show(s->cr, x + at->warm, y, TYPE_BENCH, false, ALIGN_RIGHT, text);
}

/* --- rows --- */

/* The type's next pull from number `pull` on; -1: there is none. */
static int next_pull(const Bill *bill, int type, int pull) {
    for (; pull < bill->pulls; pull++)
        if (bill->pull[pull].type == type) return pull;
    return -1;
}

/* What is no plain strip, and no round one, is drawn below. */
static bool is_formed(const RopeRow *row) {
    return rope_kind(row) == KIND_SLANTED || row->rim;
}

static double row_height(Sheet *s, const Job *job, int type, int pull) {
    const RopeRow *row = &job->bill.rope[type];
    if (!is_formed(row)) return ROW;
    return ROW + form_draw(s, job, row, pull < 0 ? 1 : job->bill.pull[pull].scale, false);
}

static void draw_row(Sheet *s, const Job *job, int type, int pull) {
    const RopeRow *row = &job->bill.rope[type];
    const Row *at = &row_at[job->order.units];
    char text[ROPE_SIZE], number[16];
    double scale = pull < 0 ? 1 : job->bill.pull[pull].scale; /* thicker if drawn out with its block */
    bool formed = is_formed(row);
    double section = formed ? SHAPE_AT : at->section;
    sheet_room(s, row_height(s, job, type, pull));
    s->y += ROW;
    double y = s->y - 5;
    (void)snprintf(number, sizeof number, "%d", type + 1);
    type_fit(s->cr, SHEET_MARGIN, y, 16, true, 34, number);
    if (!formed) shape_draw(s, job, row, SHEET_MARGIN + SHAPE_AT, y - 14, PICTURE, PICTURE);
    if (formed && !row->rim)
        (void)snprintf(text, sizeof text, "%s", shape_name(row->shape));
    else
        rope_section_print(row, scale, false, job->order.units, text);
    type_fit(s->cr, SHEET_MARGIN + section, y, TYPE_BENCH, true, at->made - 14 - section, text);
    if (pull >= 0) draw_pull(s, job, pull, at, y);
    if (formed) s->y += form_draw(s, job, row, scale, true);
    rule_off(s, s->y);
}

/* A row for each pull of the type; of a type that is not pulled by itself, its size. */
static void draw_type(Sheet *s, const Job *job, int type) {
    int pull = next_pull(&job->bill, type, 0);
    do {
        draw_row(s, job, type, pull);
        pull = next_pull(&job->bill, type, pull + 1);
    } while (pull > 0);
}

/* Trims or a rest. */
static void draw_pressed(Sheet *s, const Job *job, const WrapRow *row) {
    char text[ROPE_LINE];
    if (row->kind == WRAP_REST)
        rest_words(job, row, text);
    else
        trims_words(job, row, text);
    sheet_paragraph(s, TYPE_BENCH, false, 2, 4, text);
    rule_off(s, s->y);
}

/* The row of a blend, NULL of any other candy. */
static const BlendRow *blend_of(const Job *job, const Candy *candy) {
    for (int i = 0; i < job->bill.blends; i++)
        if (blend_same(&job->bill.blend[i].whole.candy, candy)) return &job->bill.blend[i];
    return NULL;
}

static double candy_to_pull(const Job *job, const Candy *candy) {
    const BlendRow *blend = blend_of(job, candy);
    if (blend) return blend->whole.with_spare_g;
    for (int i = 0; i < job->bill.materials; i++)
        if (strcmp(job->bill.material[i].candy.name, candy->name) == 0)
            return job->bill.material[i].with_spare_g;
    return 0;
}

/* What to fold, in a line of its own; with `show` false only how high it is. */
static double draw_fold(Sheet *s, const Job *job, const Candy *candy, bool show) {
    const BlendRow *row = blend_of(job, candy);
    char words[ROPE_LINE];
    double x = SHEET_MARGIN, room = s->width - 2 * x;
    if (!row) return 0;
    blend_words(job, row, FORM_SHEET, words);
    if (show) type_wrap(s->cr, x, s->y + TYPE_BENCH, TYPE_BENCH, true, room, words);
    return type_height(s->cr, TYPE_BENCH, true, room, words) + 6;
}

/* What is pulled from one batch; with room for its first row, `first` pt high. */
static void draw_candy_head(Sheet *s, const Job *job, int candy, double first) {
    static const char *const names[] = {"made", "lump", "form it to", "draw it to", "cut in", "warm for"};
    bool inches = job->order.units == UNITS_IN;
    const Row *at = &row_at[job->order.units];
    const double place[] = {at->made, at->mass, at->lump, at->draw, at->cut, at->warm};
    const Candy *of = &job->palette.candy[candy];
    char text[ROPE_LINE], mass[32];
    mass_print(mass, sizeof mass, candy_to_pull(job, of), job->order.units);
    sheet_room(s, CANDY_HEAD + draw_fold(s, job, of, false) + fmax(first, 3 * ROW));
    double x = SHEET_MARGIN, y = s->y + 22;
    swatch_draw(s, job, of, x, y + 2, 34, 17);
    candy_words(of, text);
    double right = type_show(s->cr, s->width - x, y, TYPE_BENCH, true, ALIGN_RIGHT, mass);
    type_fit(s->cr, x + 44, y, 18, true, s->width - 2 * x - 54 - right, text);
    s->y = y + 8;
    y += 16 + draw_fold(s, job, of, true);
    type_show(s->cr, x, y, TYPE_SMALL, false, ALIGN_LEFT, "type");
    type_show(s->cr, x + at->section, y, TYPE_SMALL, false, ALIGN_LEFT,
              inches ? "section, inches" : "section, mm");
    for (int i = 0; i < 6; i++)
        type_show(s->cr, x + place[i], y, TYPE_SMALL, false, i == 2 || i == 3 ? ALIGN_LEFT : ALIGN_RIGHT,
                  i == 2 && inches ? "form: square x long" : names[i]);
    s->y = y + 4;
    rule_off(s, s->y);
}

/* Of candy number `candy`: the row of what is pressed in from row `wrap` on; -1: there is none. */
static int next_pressed(const Job *job, int candy, int wrap) {
    for (; wrap < job->bill.wraps; wrap++)
        if (!row_is_rolled(&job->bill.wrap[wrap]) &&
            strcmp(job->bill.wrap[wrap].candy.name, job->palette.candy[candy].name) == 0)
            return wrap;
    return -1;
}

/* The first type of that candy; -1: there is none. */
static int first_type(const Bill *bill, int candy) {
    for (int i = 0; i < bill->rope_types; i++)
        if (bill->rope[i].candy == candy) return i;
    return -1;
}

static void draw_candy(Sheet *s, const Job *job, int candy) {
    int first = first_type(&job->bill, candy), pressed = next_pressed(job, candy, 0);
    if (first < 0 && pressed < 0) return;
    draw_candy_head(s, job, candy,
                    first < 0 ? ROW : row_height(s, job, first, next_pull(&job->bill, first, 0)));
    for (int i = first; i >= 0 && i < job->bill.rope_types && job->bill.rope[i].candy == candy; i++)
        draw_type(s, job, i);
    for (; pressed >= 0; pressed = next_pressed(job, candy, pressed + 1))
        draw_pressed(s, job, &job->bill.wrap[pressed]);
}

static void draw_types(Sheet *s, const Job *job) {
    sheet_page(s, "Ropes to pull");
    char text[ROPE_LINE];
    pulling_words(job, text);
    sheet_paragraph(s, 12, false, 0, 0, text);
    for (int k = 0; k < job->palette.count; k++) draw_candy(s, job, k);
}

/* How long they can wait; last, and smaller, what these times are. */
static void draw_heat(Sheet *s, const Job *job) {
    HeatWords words;
    if (job->heat.ropes == 0) return;
    heat_words(job, &words);
    sheet_section(s, "Out of the warm box", 120);
    sheet_paragraph(s, TYPE_BENCH, false, 0, 2, words.strips);
    sheet_paragraph(s, TYPE_BENCH, false, 0, 2, words.slanted);
    sheet_paragraph(s, TYPE_BENCH, false, 0, 2, words.rounds);
    sheet_paragraph(s, TYPE_BENCH, false, 0, 2, words.rest);
    sheet_paragraph(s, TYPE_BENCH, false, 0, 2, words.uneven);
    sheet_paragraph(s, 12, false, 0, 2, words.terms);
}

void draw_lists(Sheet *sheet, const Job *job) {
    draw_types(sheet, job);
    draw_heat(sheet, job);
    draw_sheets(sheet, job);
}
