/* The sheets to build from. SPDX-License-Identifier: MIT
 *
 * The first sheet: verdict, order, what is to be settled, the cook, the order of work, cautions, all on one
 * page if it can be done, so the page is set closer and closer until it holds them. Each part begins at the
 * sheet's y and moves it on. The second: the log.
 *
 * All pages are drawn twice, first into nothing, to know how many they are. Nothing is worked out here:
 * lists, blocks and pulls are the job's. */
#include "draw/draw.h"

#include "draw/bench_pages.h"
#include "base/text.h"
#include "say/bench_words.h"
#include "say/verdict_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { LINE = 500 };

/* --- the first sheet --- */

/* How closely the page is set, in pt. */
typedef struct Setting {
    double size;    /* of what the bench reads */
    double gap;     /* from a part to the line of the next one's heading */
    double row;     /* of the cook's table */
    double between; /* paragraphs and steps */
    double small;   /* size of what is read at the desk */
} Setting;

/* Tried in turn until the sheet holds all. Of 12 pt a figure fills 5.3 arc minutes at two metres: the least
 * that good eyes read (see sheet.h). */
static const Setting settings[] = {{TYPE_BENCH, 20, 19, 2, TYPE_SMALL},
                                   {TYPE_BENCH, 17, 17, 0, TYPE_SMALL},
                                   {12, 15, 15, 0, TYPE_SMALL},
                                   {12, 13, 14, 0, 9}};

typedef struct Front {
    Sheet *sheet;
    const Job *job;
    Setting set;
} Front;

static void heading(const Front *f, const char *text) {
    Sheet *s = f->sheet;
    sheet_room(s, 44);
    s->y += f->set.gap;
    type_show(s->cr, SHEET_MARGIN, s->y, 15, true, ALIGN_LEFT, text);
    s->y += 3;
}

static void paragraph(const Front *f, double size, bool bold, const char *text) {
    sheet_paragraph(f->sheet, size, bold, f->set.between, 0, text);
}

static void draw_verdict(const Front *f) {
    Sheet *s = f->sheet;
    const Job *job = f->job;
    const char *text = verdict_headline(job->judgement.verdict);
    double width = type_width(s->cr, TYPE_LARGE, true, text) + 20, x = SHEET_MARGIN, y = s->y;
    cairo_rectangle(s->cr, x, y, width, 44);
    cairo_fill(s->cr);
    cairo_set_source_rgb(s->cr, 1, 1, 1);
    type_show(s->cr, x + 10, y + 35, TYPE_LARGE, true, ALIGN_LEFT, text);
    cairo_set_source_rgb(s->cr, 0, 0, 0);
    type_fit(s->cr, x + width + 14, y + 18, 20, true, sheet_width(s) - width - 14, job->order.name);
    type_fit(s->cr, x + width + 14, y + 40, f->set.size, false, sheet_width(s) - width - 14,
             verdict_meaning(job, FORM_SHEET));
    s->y += 48;
}

/* How much of what, and what it comes to in logs, candy and work. */
static void draw_order(const Front *f) {
    Sheet *s = f->sheet;
    const Job *job = f->job;
    char line[LOG_LINE];
    order_words(job, FORM_SHEET, line);
    s->y += 22;
    double used = type_fit(s->cr, SHEET_MARGIN, s->y, 20, true, sheet_width(s) - 190, line) + 16;
    piece_words(job, FORM_SHEET, line);
    type_fit(s->cr, SHEET_MARGIN + used, s->y, f->set.size, false, sheet_width(s) - used, line);
    s->y += 6;
    edits_words(job, line);
    paragraph(f, f->set.small, false, line);
    advised_words(job, FORM_SHEET, line);
    paragraph(f, f->set.small, true, line);
    log_words(job, FORM_SHEET, line);
    paragraph(f, f->set.size, true, line);
    s->y += 2;
    drawn_words(job, FORM_SHEET, line);
    paragraph(f, f->set.size, true, line);
    spare_words(job, FORM_SHEET, line);
    paragraph(f, f->set.size, false, line);
    minutes_words(job, FORM_SHEET, line);
    paragraph(f, f->set.size, false, line);
}

/* What stands between this job and *go*. */
static void draw_changes(const Front *f) {
    const Job *job = f->job;
    const Judgement *judgement = &job->judgement;
    char line[LOG_LINE], advice[ADVICE_TEXT];
    if (judgement->verdict == VERDICT_GO) return;
    heading(f, "To be settled first: these sheets build it as ordered");
    for (int i = 0; i < judgement->checks; i++) {
        const Check *check = &judgement->check[i];
        if (check->verdict == VERDICT_GO) continue;
        char cause[CHECK_TEXT];
        cause_words(check, job->order.units, cause);
        advice_print(job, check, advice);
        (void)snprintf(line, sizeof line, "%s: %s", verdict_name(check->verdict), cause);
        text_append(line, sizeof line, "%s%s", advice[0] ? "; " : "", advice);
        paragraph(f, f->set.small, false, line);
    }
}

/* --- the cook --- */

/* The right end of column i. */
static double cell_right(const Sheet *s, int cells, int i) {
    double first = SHEET_MARGIN + (cells > 5 ? 118 : 170), room = s->width - SHEET_MARGIN - first;
    return first + room * (i + 1) / cells;
}

static void draw_cook_heads(const Front *f) {
    Sheet *s = f->sheet;
    CookCell cell[COOK_CELLS];
    int cells = cook_cells(f->job, &f->job->recipe.whole, cell);
    sheet_room(s, 60);
    s->y += 14;
    for (int i = 0; i < cells; i++)
        type_show(s->cr, cell_right(s, cells, i), s->y, 12, false, ALIGN_RIGHT, cell[i].name);
}

/* The first cell is what the bench looks for. */
static void draw_cells(const Front *f, const CookCell *cell, int cells) {
    Sheet *s = f->sheet;
    char text[32];
    for (int i = 0; i < cells; i++) {
        if (cell[i].dose && cell[i].g < 1000)
            dose_print(cell[i].g, text);
        else
            mass_print(text, sizeof text, cell[i].g, f->job->order.units);
        bool tight = cells > 5 && type_width(s->cr, f->set.size, i == 0, text) > 74;
        type_show(s->cr, cell_right(s, cells, i), s->y, tight ? 11 : f->set.size, i == 0, ALIGN_RIGHT, text);
    }
}

static void draw_cook_row(const Front *f, const CookRow *row) {
    Sheet *s = f->sheet;
    CookCell cell[COOK_CELLS];
    char name[ROPE_LINE];
    int cells = cook_cells(f->job, row->weights, cell);
    double x = SHEET_MARGIN;
    sheet_room(s, f->set.row + 1);
    s->y += f->set.row;
    (void)snprintf(name, sizeof name, "%s", row->name);
    if (row->candy) {
        candy_words(row->candy, name);
        swatch_draw(s, f->job, row->candy, x, s->y + 2, 26, f->set.row - 4);
        x += 32;
    }
    double first = cell_right(s, cells, 0) - type_width(s->cr, f->set.size, true, "88.88 kg");
    type_fit(s->cr, x, s->y, f->set.size, false, first - x, name);
    draw_cells(f, cell, cells);
}

/* In its own colour, without a pattern, to hold a sample beside. */
static void draw_patch(const Front *f, const Candy *candy, const char *words) {
    Sheet *s = f->sheet;
    sheet_room(s, f->set.row + 1);
    s->y += f->set.row;
    cairo_rectangle(s->cr, SHEET_MARGIN, s->y - f->set.row + 5, 60, f->set.row - 3);
    canvas_ink(s->cr, candy->srgb, 1);
    cairo_fill(s->cr);
    cairo_set_source_rgb(s->cr, 0, 0, 0);
    type_fit(s->cr, SHEET_MARGIN + 66, s->y, f->set.size, false, sheet_width(s) - 66, words);
}

static void draw_dyed(const Front *f) {
    const Job *job = f->job;
    char line[ROPE_LINE];
    dyed_words(job, FORM_SHEET, line);
    paragraph(f, f->set.size, false, line);
    for (int i = 0; i < job->bill.materials; i++)
        if (dyed_candy_words(job, &job->bill.material[i], FORM_SHEET, line))
            draw_patch(f, &job->bill.material[i].candy, line);
    f->sheet->y += job->bill.quote.dyed > 0 ? 4 : 0;
}

/* What the bench reads, then, small, where the figures come from. */
static void draw_cook_words(const Front *f) {
    const Job *job = f->job;
    char batches[COOK_LINE], ends[COOK_LINE], line[2 * COOK_LINE + 2];
    CookWords words;
    cook_words(job, &words);
    batches_words(job, FORM_SHEET, batches);
    block_ends_words(job, FORM_SHEET, ends);
    (void)snprintf(line, sizeof line, "%s; %s", batches, words.boilings);
    paragraph(f, f->set.size, false, line);
    draw_dyed(f);
    paragraph(f, f->set.size, false, words.temperature);
    paragraph(f, f->set.small, false, words.thick);
    paragraph(f, f->set.small, false, ends);
    paragraph(f, f->set.small, false, words.source);
}

/* All that goes into the kettle, and how hot. */
static void draw_cook(const Front *f) {
    const Job *job = f->job;
    char line[LOG_LINE];
    CookRow row[COOK_ROWS];
    int rows = cook_rows(job, row);
    (void)snprintf(line, sizeof line, "Cook, with %.3g %% spare (habit)%s", job->shop->spare_share * 100,
                   job->cane.logs > 1 ? ", all logs" : "");
    heading(f, line);
    draw_cook_heads(f);
    for (int i = 0; i < rows; i++) draw_cook_row(f, &row[i]);
    f->sheet->y += 4;
    draw_cook_words(f);
}

/* --- the work --- */

static void draw_work(const Front *f) {
    Sheet *s = f->sheet;
    WorkStep step[WORK_STEPS];
    double indent = SHEET_MARGIN + 28, room = s->width - SHEET_MARGIN - indent;
    double size = f->set.size, above = f->set.between / 2;
    const int steps = work_words(f->job, step);
    heading(f, "Order of work");
    for (int i = 0; i < steps; i++) {
        char number[16];
        (void)snprintf(number, sizeof number, "%d", i + 1);
        sheet_room(s, type_height(s->cr, size, step[i].stop, room, step[i].text) + above);
        double y = s->y + size + above;
        type_show(s->cr, SHEET_MARGIN + 20, y, size, true, ALIGN_RIGHT, number);
        s->y = type_wrap(s->cr, indent, y, size, step[i].stop, room, step[i].text) - size;
    }
}

static void draw_cautions(const Front *f) {
    sheet_room(f->sheet, 70); /* the heading and at least the burns */
    heading(f, "Cautions");
    for (int i = 0; i < CAUTION_PARAGRAPHS; i++)
        paragraph(f, f->set.small, i == 0, caution_paragraph(FORM_SHEET, i));
}

static void draw_parts(const Front *f) {
    draw_verdict(f);
    draw_order(f);
    draw_changes(f);
    draw_cook(f);
    draw_work(f);
    draw_cautions(f);
}

/* Does the page hold all, set like this? Drawn on an endless page that is thrown away. */
static bool page_holds(const Front *f) {
    Sheet endless = *f->sheet;
    Front trial = *f;
    endless.height = 1e5;
    trial.sheet = &endless;
    cairo_push_group(endless.cr);
    draw_parts(&trial);
    cairo_pattern_destroy(cairo_pop_group(endless.cr));
    return endless.y <= sheet_bottom(f->sheet);
}

static void draw_front(Sheet *sheet, const Job *job) {
    enum { SETTINGS = sizeof settings / sizeof *settings };
    char title[64];
    Front front = {sheet, job, settings[0]};
    (void)snprintf(title, sizeof title, "Bench sheets%s%s", job->order.date[0] ? ", " : "", job->order.date);
    sheet_page(sheet, title);
    for (int i = 1; i < SETTINGS && !page_holds(&front); i++) front.set = settings[i];
    draw_parts(&front);
}

/* --- the log --- */

static bool is_drawn(const Palette *palette, const Candy *candy) {
    for (int i = 0; i < palette->count; i++)
        if (strcmp(palette->candy[i].name, candy->name) == 0) return true;
    for (int i = 0; i < palette->jackets; i++)
        if (strcmp(palette->jacket[i].name, candy->name) == 0) return true;
    return false;
}

/* The candies of the log, blends last; what only blends have is in none of its ropes. */
static void draw_legend(Sheet *s, const Job *job) {
    const Bill *bill = &job->bill;
    double x = SHEET_MARGIN, column = sheet_width(s) / 3;
    int shown = 0;
    for (int i = 0; i < bill->materials + bill->blends; i++) {
        const MaterialRow *row =
            i < bill->materials ? &bill->material[i] : &bill->blend[i - bill->materials].whole;
        if (row->mass_g < MATERIAL_LEAST_G || !is_drawn(&job->palette, &row->candy)) continue;
        double left = x + shown % 3 * column, y = s->y + 16 + (int)(shown / 3) * 22;
        shown++;
        swatch_draw(s, job, &row->candy, left, y + 2, 30, 15);
        type_fit(s->cr, left + 38, y, TYPE_BENCH, true, column - 46, row->candy.name);
    }
    s->y += 22 * (int)((shown + 2) / 3) + 6;
}

/* What else is numbered like a trim. */
static const char *or_rest(const Job *job) {
    for (int i = 0; i < job->layup.ropes; i++)
        if (job->layup.rope[i].rest) return " or a rest";
    return "";
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
        (void)snprintf(line, sizeof line, "True size: %s across. Numbers are type.serial; t: a trim%s.",
                       across, or_rest(job));
    else
        (void)snprintf(line, sizeof line,
                       "Drawn at %g of true size (%s across). Numbers are type.serial; t: a trim%s.",
                       plain[i], across, or_rest(job));
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
    return draw_slices(s, job, err);
}

/* --- all sheets --- */

static bool draw_pages(const Job *job, int pages, FILE *file, int *count, Err *err) {
    Sheet sheet;
    sheet_open(&sheet, job->order.name, job->order.units, pages, file);
    draw_front(&sheet, job);
    bool good = draw_log(&sheet, job, err);
    draw_day(&sheet, job);
    draw_needed(&sheet, job);
    good = good && draw_blocks(&sheet, job, err);
    draw_lists(&sheet, job);
    draw_notes(&sheet, job);
    *count = sheet.page;
    return sheet_close(&sheet, err) && good;
}

bool draw_bench(const Job *job, FILE *file, Err *err) {
    int pages = 0, again = 0;
    return draw_pages(job, 0, NULL, &pages, err) && draw_pages(job, pages, file, &again, err);
}
