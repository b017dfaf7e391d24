/* A sweep as a picture. SPDX-License-Identifier: MIT
 *
 * The faces stand as large as each other, whatever the piece: what differs is how much of the logo is left. A
 * verdict is told by its word and by a colour. */
#include "draw/draw.h"

#include "base/mem.h"
#include "base/text.h"
#include "draw/canvas.h"
#include "say/verdict_words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CELL_W = 164, CELL_H = 232, PRICE_H = 16, LEFT = 108, TOP = 92, EDGE = 16 }; /* px */

typedef struct Ground {
    double r, g, b; /* sRGB, 0..1 */
} Ground;

/* Dark enough to be read on white. */
static const Ground verdict_colour[] = {[VERDICT_GO] = {0.10, 0.45, 0.20},
                                        [VERDICT_CHANGE] = {0.62, 0.38, 0.00},
                                        [VERDICT_NO] = {0.72, 0.10, 0.12}};

/* A face on the page, its top left corner at (x, y). Laid on white first: its pixels then come as they are.
 */
static bool lay_face(Canvas *page, const Image *face, int x, int y, Err *err) {
    size_t count = (size_t)face->width * (size_t)face->height;
    uint8_t *rgba = mem_alloc(count, 4, err);
    if (!rgba) return false;
    for (size_t i = 0; i < count; i++) {
        const uint8_t *from = face->rgba + 4 * i;
        for (int c = 0; c < 3; c++)
            rgba[4 * i + c] = (uint8_t)((from[c] * from[3] + 255 * (255 - from[3]) + 127) / 255);
        rgba[4 * i + 3] = 255;
    }
    bool good = canvas_lay(page, rgba, face->width, face->height, x, y, face->width, face->height, err);
    free(rgba);
    return good;
}

/* From one row of faces to the next. */
static int cell_height(const SweepTable *table) {
    return CELL_H + (table->prices ? PRICE_H : 0);
}

static void draw_heads(cairo_t *cr, const SweepTable *table) {
    char text[TEXT_COLUMNS * 4], number[32];
    cairo_set_source_rgb(cr, 0.1, 0.1, 0.1);
    double width = LEFT + CELL_W * table->plan.sizes;
    (void)type_fit(cr, EDGE, 34, 20, true, width - 2 * EDGE, table->logo);
    for (int i = 0; i < table->plan.sizes; i++) {
        length_print(number, sizeof number, table->plan.diameter_mm[i], table->units);
        (void)type_show(cr, LEFT + CELL_W * (i + 0.5), TOP - 16, 17, true, ALIGN_CENTRE, number);
    }
    for (int i = 0; i < table->plan.orders; i++) {
        double y = TOP + cell_height(table) * i + SWEEP_FACE / 2.0;
        text_number(number, sizeof number, (double)table->plan.pieces[i], 0);
        (void)type_fit(cr, EDGE, y, 17, true, LEFT - EDGE, number);
        (void)snprintf(text, sizeof text, "piece%s", table->plan.pieces[i] == 1 ? "" : "s");
        (void)type_show(cr, EDGE, y + 18, 14, false, ALIGN_LEFT, text);
    }
}

/* A line of small grey words, below what stands at *y. */
static void draw_line(cairo_t *cr, double middle, double *y, const char *words) {
    *y += 16;
    (void)type_show(cr, middle, *y, 13, false, ALIGN_CENTRE, words);
}

/* Verdict, what it is for, likeness, ropes and logs, price. */
static void draw_words(cairo_t *cr, const SweepTable *table, const SweepRow *row, double middle, double y) {
    char text[96];
    const Ground *c = &verdict_colour[row->verdict];
    cairo_set_source_rgb(cr, c->r, c->g, c->b);
    (void)type_show(cr, middle, y, 16, true, ALIGN_CENTRE, verdict_headline(row->verdict));
    y += 2;
    if (row->verdict != VERDICT_GO) draw_line(cr, middle, &y, check_short_name(row->cause));
    cairo_set_source_rgb(cr, 0.3, 0.3, 0.3);
    (void)snprintf(text, sizeof text, "likeness %.2f", row->likeness);
    draw_line(cr, middle, &y, text);
    (void)snprintf(text, sizeof text, "%d rope%s", row->ropes_made, row->ropes_made == 1 ? "" : "s");
    if (row->logs > 1) text_append(text, sizeof text, ", %d logs", row->logs);
    draw_line(cr, middle, &y, text);
    if (!table->prices || row->price <= 0) return;
    text_money(text, sizeof text, row->price);
    text_append(text, sizeof text, "%s%s", table->currency[0] ? " " : "", table->currency);
    draw_line(cr, middle, &y, text);
}

/* Type is small, and the picture is looked at on a screen, pixel for pixel: letters are hinted. */
static void hint_letters(cairo_t *cr) {
    cairo_font_options_t *usual = cairo_font_options_create();
    cairo_set_font_options(cr, usual);
    cairo_font_options_destroy(usual);
}

bool draw_sweep(const SweepTable *table, Image *out, Err *err) {
    int width = LEFT + CELL_W * table->plan.sizes + EDGE,
        height = TOP + cell_height(table) * table->plan.orders + EDGE;
    Canvas page;
    canvas_open(&page, width, height, 0, (Rgb8){255, 255, 255});
    hint_letters(page.cr);
    draw_heads(page.cr, table);
    bool good = true;
    for (int i = 0; good && i < table->rows; i++) {
        const SweepRow *row = &table->row[i];
        int x = LEFT + CELL_W * (i / table->plan.orders),
            y = TOP + cell_height(table) * (i % table->plan.orders);
        draw_words(page.cr, table, row, x + CELL_W / 2.0, y + SWEEP_FACE + 20);
        good = lay_face(&page, &row->face, x + (CELL_W - SWEEP_FACE) / 2, y, err);
    }
    return canvas_close(&page, good, out, err);
}
