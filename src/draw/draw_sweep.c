/* A sweep as a picture. SPDX-License-Identifier: MIT
 *
 * The faces stand as large as each other, whatever the piece: what differs is how much of the logo is left. A
 * verdict is told by its word and by a colour. Text is cairo's, without hinting; the page is opaque white. */
#include "draw/draw_sweep.h"

#include "draw/sheet.h"
#include "base/text.h"

#include <cairo.h>
#include <stdio.h>
#include <string.h>

enum { CELL_W = 164, CELL_H = 212, LEFT = 108, TOP = 92, EDGE = 16 };

typedef struct Ground {
    double r, g, b;
} Ground;

/* Dark enough to be read on white. */
static const Ground verdict_colour[] = {[VERDICT_GO] = {0.10, 0.45, 0.20},
                                        [VERDICT_CHANGE] = {0.62, 0.38, 0.00},
                                        [VERDICT_NO] = {0.72, 0.10, 0.12}};

static void set_ink(cairo_t *cr, Ground c) {
    cairo_set_source_rgb(cr, c.r, c.g, c.b);
}

/* What of an image's pixel, straight alpha, is left on white: opaque BGRx as cairo has it. */
static void lay_on_white(const uint8_t rgba[4], unsigned char out[4]) {
    for (int i = 0; i < 3; i++)
        out[2 - i] = (unsigned char)((rgba[i] * rgba[3] + 255 * (255 - rgba[3]) + 127) / 255);
    out[3] = 255;
}

/* Copies a face on the page, its top left corner at (x, y). */
static void put_face(cairo_surface_t *page, const Image *face, int x, int y) {
    unsigned char *data = cairo_image_surface_get_data(page);
    int stride = cairo_image_surface_get_stride(page);
    for (int j = 0; j < face->height; j++)
        for (int i = 0; i < face->width; i++)
            lay_on_white(face->rgba + 4 * ((size_t)j * face->width + i),
                         data + (size_t)(y + j) * stride + 4 * ((size_t)x + i));
}

static void draw_heads(cairo_t *cr, const SweepTable *table) {
    char text[TEXT_COLUMNS * 4], number[32];
    const Ground black = {0.1, 0.1, 0.1};
    set_ink(cr, black);
    double width = LEFT + CELL_W * table->plan.sizes;
    (void)type_fit(cr, EDGE, 34, 20, true, width - 2 * EDGE, table->logo);
    for (int i = 0; i < table->plan.sizes; i++) {
        length_print(number, sizeof number, table->plan.diameter_mm[i], table->units);
        (void)type_show(cr, LEFT + CELL_W * (i + 0.5), TOP - 16, 17, true, ALIGN_CENTRE, number);
    }
    for (int i = 0; i < table->plan.orders; i++) {
        double y = TOP + CELL_H * i + SWEEP_FACE / 2.0;
        text_number(number, sizeof number, (double)table->plan.pieces[i], 0);
        (void)type_fit(cr, EDGE, y, 17, true, LEFT - EDGE, number);
        (void)snprintf(text, sizeof text, "piece%s", table->plan.pieces[i] == 1 ? "" : "s");
        (void)type_show(cr, EDGE, y + 18, 14, false, ALIGN_LEFT, text);
    }
}

static void draw_words(cairo_t *cr, const SweepRow *row, double middle, double y) {
    static const char *const word[] = {[VERDICT_GO] = "GO", [VERDICT_CHANGE] = "CHANGE", [VERDICT_NO] = "NO"};
    char text[96];
    set_ink(cr, verdict_colour[row->verdict]);
    (void)type_show(cr, middle, y, 16, true, ALIGN_CENTRE, word[row->verdict]);
    const Ground grey = {0.3, 0.3, 0.3};
    set_ink(cr, grey);
    (void)snprintf(text, sizeof text, "likeness %.2f", row->likeness);
    (void)type_show(cr, middle, y + 18, 13, false, ALIGN_CENTRE, text);
    (void)snprintf(text, sizeof text, "%d rope%s", row->ropes_made, row->ropes_made == 1 ? "" : "s");
    if (row->logs > 1)
        (void)snprintf(text + strlen(text), sizeof text - strlen(text), ", %d logs", row->logs);
    (void)type_show(cr, middle, y + 34, 13, false, ALIGN_CENTRE, text);
}

static void draw_page(cairo_surface_t *page, cairo_t *cr, const SweepTable *table) {
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_paint(cr);
    draw_heads(cr, table);
    for (int i = 0; i < table->rows; i++) {
        int column = i / table->plan.orders, row = i % table->plan.orders;
        draw_words(cr, &table->row[i], LEFT + CELL_W * (column + 0.5), TOP + CELL_H * row + SWEEP_FACE + 20);
    }
    cairo_surface_flush(page);
    for (int i = 0; i < table->rows; i++) {
        int column = i / table->plan.orders, row = i % table->plan.orders;
        put_face(page, &table->row[i].face, LEFT + CELL_W * column + (CELL_W - SWEEP_FACE) / 2,
                 TOP + CELL_H * row);
    }
    cairo_surface_mark_dirty(page);
}

/* The page as an image: opaque. */
static void copy_page(cairo_surface_t *page, Image *out) {
    const unsigned char *data = cairo_image_surface_get_data(page);
    int stride = cairo_image_surface_get_stride(page);
    for (int y = 0; y < out->height; y++)
        for (int x = 0; x < out->width; x++) {
            const unsigned char *from = data + (size_t)y * stride + 4 * (size_t)x;
            uint8_t *to = out->rgba + 4 * ((size_t)y * out->width + x);
            for (int i = 0; i < 3; i++) to[i] = from[2 - i];
            to[3] = 255;
        }
}

bool draw_sweep(const SweepTable *table, Image *out, Err *err) {
    int width = LEFT + CELL_W * table->plan.sizes + EDGE, height = TOP + CELL_H * table->plan.orders + EDGE;
    Image image = {0};
    if (!image_new(width, height, 0, &image, err)) return false;
    cairo_surface_t *page = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height);
    cairo_t *cr = cairo_create(page);
    bool good = cairo_status(cr) == CAIRO_STATUS_SUCCESS; /* else the page has no pixels */
    if (good) draw_page(page, cr, table);
    good = good && cairo_status(cr) == CAIRO_STATUS_SUCCESS;
    if (good) copy_page(page, &image);
    cairo_destroy(cr);
    cairo_surface_destroy(page);
    if (!good) {
        image_free(&image);
        return err_set(err, ERR_MEMORY, "out of memory for sweep.png; close other programs");
    }
    *out = image;
    return true;
}
