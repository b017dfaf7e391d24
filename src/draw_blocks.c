/* The blocks in build order. SPDX-License-Identifier: MIT
 *
 * An entry: a head with the block's number, kind and size; below it the drawing, the list of what goes in,
 * and where in the log it goes; then lines on copies, on where the block goes, and on which way round. A
 * block is drawn as it lies in the log at its first use, which is as it is built; sizes are those to build,
 * thicker if it is to be drawn out. */
#include "draw_blocks.h"

#include "block_words.h"
#include "draw_section.h"
#include "hatch.h"

#include <math.h>
#include <string.h>

enum {
    DRAWING = 200,
    TALL = 250,
    WIDE = 165,
    LIST = 255,
    KEY = 74,
    HEAD = 46,
    ROW = 20,
    LINES_MAX = 8,
    LINE = 400
};

typedef struct Entry {
    const Job *job;
    int index;
    const Block *block;
    bool above;          /* the drawing stands above the list, not beside it */
    double shown, scale; /* drawn so many times the true size; pt a step */
    BlockWords words;
} Entry;

static void drop_unit(char *size) {
    char *unit = strrchr(size, ' ');
    if (unit) *unit = 0;
}

/* --- the list --- */

static bool is_changed(const Item *item) {
    return item->is_block && (item->way.mirrored || item->way.turn);
}

/* A block that is not laid as built has a line more, to say how. */
static int list_lines(const Entry *e) {
    int lines = 0;
    for (int i = 0; i < e->block->items; i++)
        lines += 1 + is_changed(&e->job->blocks.item[e->block->first_item + i]);
    return lines;
}

static double list_row(const Entry *e) {
    double most = (e->above ? 300.0 : 560.0) / list_lines(e);
    return most < ROW ? most : ROW;
}

/* A rope's number, swatch, candy and size. */
static void draw_rope_row(Sheet *s, const Entry *e, const Rope *rope, double x, double y, double type) {
    char number[32], size[96] = "a trim", line[200];
    const Candy *candy = &e->job->palette.candy[rope->candy];
    rope_number(rope, number);
    type_fit(s->cr, x, y, type + 2, true, 52, number);
    cairo_rectangle(s->cr, x + 56, y - type, type * 1.5, type * 1.15);
    hatch_fill(s->cr, hatch_of(&e->job->bill, candy), candy->srgb, 6);
    cairo_set_line_width(s->cr, 0.8);
    cairo_stroke(s->cr);
    if (!rope->trim) {
        const RopeRow *row = &e->job->bill.rope[rope->type];
        size_print(size, sizeof size, row->width_mm * e->block->scale, row->height_mm * e->block->scale,
                   e->job->order.units);
        drop_unit(size);
    }
    double used = type_fit(s->cr, x + 62 + type * 1.5, y, type, false, 80, candy->name);
    (void)snprintf(line, sizeof line, "%s%s", size, rope->rim && !rope->trim ? " rim" : "");
    type_fit(s->cr, x + 68 + type * 1.5 + used, y, type, true,
             LIST + (e->above ? 100 : 0) - 68 - type * 1.5 - used, line);
}

static void draw_block_row(Sheet *s, const Entry *e, const Item *item, double x, double y, double type) {
    char number[32], size[96], line[128];
    (void)snprintf(number, sizeof number, "%d", item->index + 1);
    double width = type_width(s->cr, type, true, number) + 8;
    cairo_rectangle(s->cr, x, y - type, width, type * 1.25);
    cairo_fill(s->cr);
    cairo_set_source_rgb(s->cr, 1, 1, 1);
    type_show(s->cr, x + 4, y, type, true, ALIGN_LEFT, number);
    cairo_set_source_rgb(s->cr, 0, 0, 0);
    block_size_print(e->job, &e->job->blocks.block[item->index], item->way.turn % 2, e->block->scale, size);
    drop_unit(size);
    (void)snprintf(line, sizeof line, "block, %s", size);
    type_fit(s->cr, x + 56, y, type, false, LIST - 56, line);
}

static void draw_list(Sheet *s, const Entry *e, double x, double y) {
    static const char *const from[] = {[BLOCK_ROW] = "from left to right",
                                       [BLOCK_STACK] = "from top to bottom",
                                       [BLOCK_PAIR] = "corner to corner"};
    char text[64];
    double row = list_row(e), type = fmin(TYPE_BENCH, row * 0.75);
    (void)snprintf(text, sizeof text, "%s, in %s:", from[e->block->kind],
                   e->job->order.units == UNITS_MM ? "mm" : "inches");
    type_show(s->cr, x, y + 12, 12, false, ALIGN_LEFT, text);
    y += 16;
    for (int i = 0; i < e->block->items; i++) {
        const Item *item = &e->job->blocks.item[e->block->first_item + i];
        y += row;
        if (item->is_block)
            draw_block_row(s, e, item, x, y, type);
        else
            draw_rope_row(s, e, &e->job->layup.rope[item->index], x, y, type);
        if (!is_changed(item)) continue;
        y += row;
        type_fit(s->cr, x + 8, y - 2, type, true, LIST + (e->above ? 200 : -8), placement_words(item->way));
    }
}

/* --- the drawing --- */

static double inner_width(const Entry *e) {
    return e->block->high.x - e->block->low.x;
}

static double inner_height(const Entry *e) {
    return e->block->high.y - e->block->low.y;
}

/* The largest plain scale, against the block as built, at which it fits w x h pt. */
static double plain_scale(const Entry *e, double w, double h) {
    static const double plain[] = {5, 4, 3, 2.5, 2, 1.5, 1.25, 1, 0.75, 0.5, 0.4, 0.3, 0.2};
    double pt = e->job->cane.step_mm * e->block->scale * PT_PER_MM;
    size_t i = 0;
    while (i + 1 < sizeof plain / sizeof *plain &&
           (inner_width(e) * pt * plain[i] > w || inner_height(e) * pt * plain[i] > h))
        i++;
    return plain[i];
}

/* Beside the list, or above it if that shows the block clearly larger. The log has a page's width. */
static void choose_layout(const Sheet *s, Entry *e) {
    double room = s->width - 2 * SHEET_MARGIN - KEY - 10;
    bool log = e->index + 1 == e->job->blocks.blocks;
    double beside = plain_scale(e, DRAWING - 16, TALL), above = plain_scale(e, room, log ? 400 : WIDE);
    e->above = above >= beside * 1.45;
    e->shown = e->above ? above : beside;
    e->scale = e->shown * e->job->cane.step_mm * e->block->scale * PT_PER_MM;
}

/* Where the edge is above x: the block's own, or the core's where that lies lower. */
static double top_edge(const Entry *e, double x, double y) {
    Circle core = e->job->grid.core;
    double across = core.r * core.r - (x - core.x) * (x - core.x);
    return across > 0 ? fmax(y, core.y - sqrt(across)) : y;
}

/* A block in its slot: a thick outline, its number, and its nick where it comes to lie. */
static void draw_inner_block(const Entry *e, const View *v, const Item *item) {
    static const double side_x[] = {0.5, 1, 0.5, 0}, side_y[] = {0, 0.5, 1, 0.5};
    char text[32];
    Box b = item->slot;
    core_clip(v);
    box_path(v, b);
    cairo_set_line_width(v->cr, 3);
    cairo_stroke(v->cr);
    cairo_restore(v->cr);
    (void)snprintf(text, sizeof text, "block %d", item->index + 1);
    box_label(v, b, text, 22);
    double size = fmin(11, 0.3 * v->scale * (b.w < b.h ? b.w : b.h));
    double x = b.x + b.w * side_x[item->way.turn], y = b.y + b.h * side_y[item->way.turn];
    if (item->way.turn == 0) y = top_edge(e, x, y);
    double a = item->way.turn * PI / 2; /* the nick lies inside the slot */
    nick_draw(v->cr, v->x + x * v->scale - sin(a) * size, v->y + y * v->scale + cos(a) * size, size,
              item->way.turn, !item->way.mirrored);
}

static void draw_outline(const Entry *e, const View *v) {
    const double dash[] = {3, 3};
    Point low = e->block->low;
    cairo_set_line_width(v->cr, 1);
    cairo_set_dash(v->cr, dash, 2, 0);
    cairo_rectangle(v->cr, v->x + low.x * v->scale, v->y + low.y * v->scale, inner_width(e) * v->scale,
                    inner_height(e) * v->scale);
    cairo_stroke(v->cr);
    cairo_set_dash(v->cr, NULL, 0, 0);
}

static void draw_drawing(Sheet *s, const Entry *e, double x, double y) {
    char text[96];
    double scale = e->scale, middle = (e->block->low.x + e->block->high.x) / 2;
    Point low = e->block->low;
    View v = {s->cr, e->job, x - low.x * scale, y + 14 - low.y * scale, scale, false};
    ropes_draw(&v, e->block->box);
    draw_outline(e, &v);
    for (int i = e->block->first_item; i < e->block->first_item + e->block->items; i++) {
        const Item *item = &e->job->blocks.item[i];
        if (item->is_block)
            draw_inner_block(e, &v, item);
        else
            rope_label(&v, &e->job->layup.rope[item->index], 26);
    }
    nick_draw(s->cr, v.x + middle * scale, v.y + top_edge(e, middle, low.y) * scale, 12, 0, true);
    (void)snprintf(text, sizeof text, "drawn %g : 1", e->shown);
    type_show(s->cr, x, y + 14 + inner_height(e) * scale + 13, TYPE_SMALL, false, ALIGN_LEFT,
              e->shown == 1 ? "true size" : text);
}

/* --- entries --- */

static void draw_head(Sheet *s, const Entry *e, double y) {
    static const char *const kind[] = {
        [BLOCK_ROW] = "row", [BLOCK_STACK] = "stack", [BLOCK_PAIR] = "pair of wedges"};
    char number[32], size[96], length[32], text[200], first[64];
    (void)snprintf(number, sizeof number, "%d", e->index + 1);
    double width = fmax(46, type_width(s->cr, TYPE_LARGE, true, number) + 14), x = SHEET_MARGIN;
    cairo_rectangle(s->cr, x, y, width, HEAD - 8);
    cairo_fill(s->cr);
    cairo_set_source_rgb(s->cr, 1, 1, 1);
    type_show(s->cr, x + width / 2, y + 32, TYPE_LARGE, true, ALIGN_CENTRE, number);
    cairo_set_source_rgb(s->cr, 0, 0, 0);
    block_size_print(e->job, e->block, false, e->block->scale, size);
    Units units = e->job->order.units;
    length_print(length, sizeof length, length_by_hand(e->block->length_mm, units), units);
    (void)snprintf(first, sizeof first, e->block->kind == BLOCK_PAIR ? "%s" : "%s of %d",
                   kind[e->block->kind], e->block->items);
    (void)snprintf(text, sizeof text, "%s: %s, %s long", first, size, length);
    type_fit(s->cr, x + width + 12, y + 27, 22, true, s->width - 2 * SHEET_MARGIN - width - 12, text);
}

static double drawing_height(const Entry *e) {
    return 14 + inner_height(e) * e->scale + 20;
}

static double line_size(const Entry *e, int line) {
    return e->words.bold[line] ? TYPE_BENCH : 12;
}

static double lines_height(Sheet *s, const Entry *e) {
    double height = 0, room = s->width - 2 * SHEET_MARGIN;
    for (int i = 0; i < e->words.lines; i++)
        height += type_height(s->cr, line_size(e, i), e->words.bold[i], room, e->words.line[i]) + 2;
    return height;
}

static double draw_lines(Sheet *s, const Entry *e, double y) {
    double room = s->width - 2 * SHEET_MARGIN;
    for (int i = 0; i < e->words.lines; i++) {
        double size = line_size(e, i);
        y = type_wrap(s->cr, SHEET_MARGIN, y + size, size, e->words.bold[i], room, e->words.line[i]) - size +
            2;
    }
    return y;
}

static void draw_key(Sheet *s, const Entry *e, double y) {
    double x = s->width - SHEET_MARGIN - KEY / 2.0;
    key_draw(s->cr, e->job, x, y + KEY / 2.0 + 6, KEY, e->index);
    type_show(s->cr, x, y + KEY + 18, 9, false, ALIGN_CENTRE, "place in the log");
}

static void draw_entry(Sheet *s, const Job *job, int index) {
    Entry e = {.job = job, .index = index, .block = &job->blocks.block[index]};
    block_words(job, index, &e.words);
    choose_layout(s, &e);
    double drawing = drawing_height(&e), list = 24 + list_lines(&e) * list_row(&e);
    double body = fmax(e.above ? drawing + list : fmax(drawing, list), KEY + 30);
    sheet_room(s, HEAD + body + lines_height(s, &e) + 16);
    double x = SHEET_MARGIN, y = s->y;
    draw_head(s, &e, y);
    draw_drawing(s, &e, x, y + HEAD);
    draw_list(s, &e, e.above ? x : x + DRAWING, y + HEAD + (e.above ? drawing : 0));
    if (index + 1 < job->blocks.blocks) draw_key(s, &e, y + HEAD);
    y = draw_lines(s, &e, y + HEAD + body) + 6;
    cairo_set_line_width(s->cr, 1);
    cairo_move_to(s->cr, x, y);
    cairo_line_to(s->cr, s->width - SHEET_MARGIN, y);
    cairo_stroke(s->cr);
    s->y = y + 10;
}

void draw_blocks(Sheet *sheet, const Job *job) {
    if (job->blocks.blocks == 0) return;
    sheet_page(sheet, "Blocks in build order: face end to you, nick up");
    for (int i = 0; i < job->blocks.blocks; i++) draw_entry(sheet, job, i);
}
