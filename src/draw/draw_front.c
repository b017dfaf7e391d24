/* The first sheet. SPDX-License-Identifier: MIT */
#include "draw/draw_front.h"

#include "say/advice_words.h"
#include "say/check_words.h"
#include "say/cook_words.h"
#include "draw/draw_lists.h"
#include "base/text.h"

#include <string.h>

enum { LINE = 500 };

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

static double room_of(const Sheet *s) {
    return s->width - 2 * SHEET_MARGIN;
}

static void heading(const Front *f, const char *text) {
    Sheet *s = f->sheet;
    sheet_room(s, 44);
    s->y += f->set.gap;
    type_show(s->cr, SHEET_MARGIN, s->y, 15, true, ALIGN_LEFT, text);
    s->y += 3;
}

static void paragraph(const Front *f, double size, bool bold, const char *text) {
    Sheet *s = f->sheet;
    double below = f->set.between;
    sheet_room(s, type_height(s->cr, size, bold, room_of(s), text) + below);
    s->y = type_wrap(s->cr, SHEET_MARGIN, s->y + size + below, size, bold, room_of(s), text) - size;
}

static void draw_verdict(const Front *f) {
    Sheet *s = f->sheet;
    const Job *job = f->job;
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
    type_fit(s->cr, x + width + 14, y + 40, f->set.size, false, room_of(s) - width - 14,
             meaning[job->judgement.verdict]);
    s->y += 48;
}

/* On the line of the order: what a piece weighs. */
static void draw_piece(const Front *f, double used) {
    Sheet *s = f->sheet;
    const Job *job = f->job;
    char line[LINE], one[32], many[32];
    bool inches = job->order.units == UNITS_IN;
    double a_mass = job->bill.quote.pieces_per_kg * (inches ? G_PER_LB / 1000 : 1);
    mass_print(one, sizeof one, job->bill.piece_mass_g, job->order.units);
    text_number(many, sizeof many, a_mass, a_mass < 100 ? 1 : 0);
    (void)snprintf(line, sizeof line, "%s each, %s to the %s", one, many, inches ? "pound" : "kilogram");
    type_fit(s->cr, SHEET_MARGIN + used + 16, s->y, f->set.size, false, room_of(s) - used - 16, line);
}

static void draw_spare(const Front *f) {
    const Job *job = f->job;
    char line[LINE], many[32], spare[32];
    if (job->bill.quote.spare_pieces <= 0) return;
    text_number(many, sizeof many, (double)job->cane.pieces, 0);
    text_number(spare, sizeof spare, (double)job->bill.quote.spare_pieces, 0);
    (void)snprintf(line, sizeof line,
                   "The order is under the smallest log, which gives %s pieces: %s to spare.", many, spare);
    paragraph(f, f->set.size, false, line);
}

static void draw_order(const Front *f) {
    Sheet *s = f->sheet;
    const Job *job = f->job;
    const Cane *cane = &job->cane;
    Units units = job->order.units;
    char line[LINE], number[32], piece[96], across[64], along[64], mass[32], core[32], drawn[32],
        logs[32] = "One log";
    text_number(number, sizeof number, (double)job->order.pieces, 0);
    size_print(piece, sizeof piece, job->order.piece_diameter_mm, job->order.piece_length_mm, units);
    (void)snprintf(line, sizeof line, "%s pieces of %s", number, piece);
    s->y += 22;
    draw_piece(f, type_fit(s->cr, SHEET_MARGIN, s->y, 20, true, room_of(s) - 190, line));
    s->y += 6;
    length_print_both(across, sizeof across, cane->log_diameter_mm, units);
    length_print_both(along, sizeof along, cane->log_length_mm, units);
    length_print(core, sizeof core, cane->core_diameter_mm, units);
    mass_print(mass, sizeof mass, job->bill.log_mass_g, job->order.units);
    if (cane->logs > 1) (void)snprintf(logs, sizeof logs, "%d logs, each", cane->logs);
    (void)snprintf(line, sizeof line, "%s %s across (core %s), %s long, %s", logs, across, core, along, mass);
    paragraph(f, f->set.size, true, line);
    s->y += 2;
    distance_print(drawn, sizeof drawn, cane->cane_length_m, units);
    (void)snprintf(line, sizeof line, "Draw it out %.1f times thinner: %s of cane%s", cane->reduction, drawn,
                   cane->logs > 1 ? " a log" : "");
    paragraph(f, f->set.size, true, line);
    draw_spare(f);
    (void)snprintf(line, sizeof line,
                   "%d ropes to make, %d joins; about %.0f minutes to lay up%s for %d %s (habit)",
                   job->bill.ropes_made, job->bill.joins, job->bill.minutes, cane->logs > 1 ? " a log" : "",
                   job->shop->people, job->shop->people == 1 ? "person" : "people");
    paragraph(f, f->set.size, false, line);
}

/* What stands between this job and *go*. */
static void draw_changes(const Front *f) {
    const Job *job = f->job;
    const Judgement *judgement = &job->judgement;
    char line[LINE], advice[ADVICE_TEXT];
    if (judgement->verdict == VERDICT_GO) return;
    heading(f, "To be settled first");
    for (int i = 0; i < judgement->checks; i++) {
        const Check *check = &judgement->check[i];
        if (check->verdict == VERDICT_GO) continue;
        const SpokenCheck spoken = check_spoken(check, job->order.units);
        advice_print(job, check, advice);
        (void)snprintf(line, sizeof line, "%s: %s is %s%s%s, wanted at %s %s%s%s",
                       verdict_name(check->verdict), spoken.name, spoken.value, spoken.unit[0] ? " " : "",
                       spoken.unit, check->least ? "least" : "most", spoken.limit, advice[0] ? "; " : "",
                       advice);
        paragraph(f, f->set.small, false, line);
    }
}

/* --- the cook --- */

enum { CELLS = 7 };

typedef struct Cell {
    const char *name;
    double g;
    bool dose; /* weighed on a small scale, in grams */
} Cell;

/* What the table says of a candy; doses only where the shop gives them. Returns how many cells. */
static int list_cells(const Job *job, const Weights *w, Cell cell[CELLS]) {
    const Weights *whole = &job->recipe.whole;
    int cells = 0;
    cell[cells++] = (Cell){"candy", w->candy_g, false};
    cell[cells++] = (Cell){"sugar", w->sugar_g, false};
    cell[cells++] = (Cell){"syrup", w->syrup_g, false};
    cell[cells++] = (Cell){"water", w->water_g, false};
    if (whole->acid_g > 0) cell[cells++] = (Cell){"acid", w->acid_g, true};
    if (whole->flavour_g > 0) cell[cells++] = (Cell){"flavour", w->flavour_g, true};
    if (whole->colour_g > 0) cell[cells++] = (Cell){"colour", w->colour_g, true};
    return cells;
}

/* The right end of a column. */
static double cell_right(const Sheet *s, int cells, int i) {
    double first = SHEET_MARGIN + (cells > 5 ? 118 : 170), room = s->width - SHEET_MARGIN - first;
    return first + room * (i + 1) / cells;
}

static void draw_cells(const Front *f, const Weights *w) {
    Sheet *s = f->sheet;
    const Job *job = f->job;
    Cell cell[CELLS];
    char text[32] = "-";
    int cells = list_cells(job, w, cell);
    for (int i = 0; i < cells; i++) {
        if (cell[i].dose && cell[i].g < 1000)
            (void)snprintf(text, sizeof text, cell[i].g < 10 ? "%.2f g" : "%.1f g", cell[i].g);
        else
            mass_print(text, sizeof text, cell[i].g, job->order.units);
        double size = type_width(s->cr, f->set.size, i == 0, text) > 74 && cells > 5 ? 11 : f->set.size;
        type_show(s->cr, cell_right(s, cells, i), s->y, size, i == 0, ALIGN_RIGHT, text);
    }
}

static void draw_cook_heads(const Front *f) {
    Sheet *s = f->sheet;
    const Job *job = f->job;
    Cell cell[CELLS];
    int cells = list_cells(job, &job->recipe.whole, cell);
    sheet_room(s, 60);
    s->y += 14;
    for (int i = 0; i < cells; i++)
        type_show(s->cr, cell_right(s, cells, i), s->y, 12, false, ALIGN_RIGHT, cell[i].name);
}

static void draw_cook_row(const Front *f, const char *name, const Candy *candy, const Weights *w) {
    Sheet *s = f->sheet;
    const Job *job = f->job;
    double x = SHEET_MARGIN, at = candy ? x + 32 : x;
    Cell cell[CELLS];
    int cells = list_cells(job, w, cell);
    sheet_room(s, f->set.row + 1);
    s->y += f->set.row;
    if (candy) swatch_draw(s, job, candy, x, s->y + 2, 26, f->set.row - 4);
    double first = type_width(s->cr, f->set.size, true, "88.88 kg");
    type_fit(s->cr, at, s->y, f->set.size, false, cell_right(s, cells, 0) - first - at, name);
    draw_cells(f, w);
}

/* What the bench reads, then, small, where the figures come from. */
static void draw_cook_words(const Front *f) {
    const Job *job = f->job;
    char line[LINE], mass[32];
    double ends_g = 0;
    CookWords words;
    int batches = job->bill.quote.batches;
    for (int i = 0; i < job->bill.materials; i++) ends_g += job->bill.material[i].block_ends_g;
    cook_words(job, &words);
    (void)snprintf(line, sizeof line, "%d coloured batch%s%s; %s", batches, batches == 1 ? "" : "es",
                   job->cane.logs > 1 ? ", each candy anew for each log" : "", words.line[1]);
    paragraph(f, f->set.size, false, line);
    paragraph(f, f->set.size, false, words.line[2]);
    for (int i = 3; i < words.lines; i++) paragraph(f, f->set.small, false, words.line[i]);
    if (ends_g > 0) {
        mass_print(mass, sizeof mass, ends_g, job->order.units);
        (void)snprintf(line, sizeof line,
                       "%s of it for the ends of blocks that are drawn out (%.3g %%, habit)", mass,
                       job->shop->lost_share * 100);
        paragraph(f, f->set.small, false, line);
    }
    paragraph(f, f->set.small, false, words.line[0]);
}

/* All that goes into the kettle, and how hot. */
static void draw_cook(const Front *f) {
    Sheet *s = f->sheet;
    const Job *job = f->job;
    const Recipe *recipe = &job->recipe;
    char line[LINE];
    (void)snprintf(line, sizeof line, "Cook, with %.3g %% spare (habit)%s", job->shop->spare_share * 100,
                   job->cane.logs > 1 ? ", all logs" : "");
    heading(f, line);
    draw_cook_heads(f);
    for (int i = 0; i < job->bill.materials; i++) {
        if (job->bill.material[i].mass_g < MATERIAL_LEAST_G) continue;
        candy_words(&job->bill.material[i].candy, line, sizeof line);
        Weights w = recipe->row[i];
        if (i >= recipe->rows) w = (Weights){.candy_g = job->bill.material[i].with_spare_g};
        draw_cook_row(f, line, &job->bill.material[i].candy, &w);
    }
    if (job->bill.materials > 1) draw_cook_row(f, "all", NULL, &recipe->whole);
    if (recipe->boilings > 1) draw_cook_row(f, "a boiling", NULL, &recipe->boiling);
    s->y += 4;
    draw_cook_words(f);
}

/* --- the work --- */

/* The steps, most with a number of this job. */
static void draw_work(const Front *f) {
    Sheet *s = f->sheet;
    const Job *job = f->job;
    enum { STEPS = 11, TEXT = 200 };
    const Cane *cane = &job->cane;
    char step[STEPS][TEXT], across[64], bench[32], piece[64], along[64], one[64] = "";
    length_print_both(across, sizeof across, job->order.piece_diameter_mm, job->order.units);
    length_print_both(piece, sizeof piece, job->order.piece_length_mm, job->order.units);
    hand_print(bench, sizeof bench, job->shop->bench_length_mm, job->order.units);
    hand_print(along, sizeof along, cane->log_length_mm, job->order.units);
    if (cane->logs > 1) (void)snprintf(one, sizeof one, " Steps 2 to 10 for each log.");
    (void)snprintf(step[0], TEXT, "Cook, colour and cool the batches until they can be handled.%s", one);
    (void)snprintf(step[1], TEXT, "Pull those named pulled until opaque and satin; leave the clear.");
    (void)snprintf(step[2], TEXT, "Batches and ropes wait in the warm box, at one temperature.");
    (void)snprintf(step[3], TEXT, "Pull the ropes (page \"Ropes to pull\").");
    (void)snprintf(step[4], TEXT, "Lay up blocks 1 to %d in order; nick the top of each face end.",
                   job->blocks.blocks);
    (void)snprintf(step[5], TEXT, "Wrap %sthe jacket round it (page \"Sheets to roll\").",
                   job->grid.rings > 0 ? "the rings, then " : "");
    (void)snprintf(step[6], TEXT, "Roll the log round and even: %s long.", along);
    (void)snprintf(step[7], TEXT, "CUT A TEST SLICE AND READ IT before drawing on.");
    (void)snprintf(step[8], TEXT, "Draw out to %s, rolling all the time.", across);
    (void)snprintf(step[9], TEXT, "Cut the cane to bench lengths of %s; roll until firm.", bench);
    (void)snprintf(step[10], TEXT, "Chop into pieces of %s.", piece);
    if (job->blocks.blocks == 0) (void)snprintf(step[4], TEXT, "The core is one rope: nothing to lay up.");
    heading(f, "Order of work");
    for (int i = 0; i < STEPS; i++) {
        char number[16];
        double room = room_of(s) - 28, size = f->set.size, above = f->set.between / 2;
        sheet_room(s, type_height(s->cr, size, i == 7, room, step[i]) + above);
        (void)snprintf(number, sizeof number, "%d", i + 1);
        double y = s->y + size + above;
        type_show(s->cr, SHEET_MARGIN + 20, y, size, true, ALIGN_RIGHT, number);
        s->y = type_wrap(s->cr, SHEET_MARGIN + 28, y, size, i == 7, room, step[i]) - size;
    }
}

static void draw_cautions(const Front *f) {
    static const char *const caution[] = {
        "Cooked sugar at 150 \302\260C (300 \302\260F) sticks and burns deep at once: gloves, sleeves, "
        "closed "
        "shoes, cold water at hand, no children at the bench. Cool a burn under running water for 20 "
        "minutes, "
        "do not peel sugar off, get medical help.",
        "Colours, allergens, labels: local rules hold; small hard candy is a choking hazard for young "
        "children. Have the logo owner's written permission. Habit: the shop's own figure, not a measured "
        "one."};
    sheet_room(f->sheet, 70); /* the heading and at least the burns */
    heading(f, "Cautions");
    paragraph(f, f->set.small, true, caution[0]);
    paragraph(f, f->set.small, false, caution[1]);
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

void draw_front(Sheet *sheet, const Job *job) {
    enum { SETTINGS = sizeof settings / sizeof *settings };
    char title[64];
    Front front = {sheet, job, settings[0]};
    (void)snprintf(title, sizeof title, "Bench sheets%s%s", job->order.date[0] ? ", " : "", job->order.date);
    sheet_page(sheet, title);
    for (int i = 1; i < SETTINGS && !page_holds(&front); i++) front.set = settings[i];
    draw_parts(&front);
    sheet->title = NULL; /* it was local */
}
