/* Sheets of paper. SPDX-License-Identifier: MIT */
#include "draw/sheet.h"

#include "base/geom.h"
#include "base/text.h"

#include <cairo-pdf.h>
#include <math.h>

enum { HEAD = 44, FOOT = 24 };

static const double a4_width = 595.276, a4_height = 841.890; /* 210 x 297 mm, ISO 216 */

/* What goes wrong shows when the file is closed. */
static cairo_status_t write_bytes(void *file, const unsigned char *data, unsigned length) {
    if (file) (void)fwrite(data, 1, length, file);
    return CAIRO_STATUS_SUCCESS;
}

void sheet_open(Sheet *sheet, const char *name, Units units, int pages, FILE *file) {
    bool letter = units == UNITS_IN;
    *sheet = (Sheet){.name = name, .pages = pages};
    sheet->width = letter ? 612 : a4_width;
    sheet->height = letter ? 792 : a4_height;
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(write_bytes, file, sheet->width, sheet->height);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    char title[300];
    text_clean(title, sizeof title, name);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
    sheet->cr = cairo_create(surface);
    cairo_surface_destroy(surface);
    cairo_font_options_t *plain = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(plain, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(plain, CAIRO_HINT_STYLE_NONE);
    cairo_set_font_options(sheet->cr, plain);
    cairo_font_options_destroy(plain);
    cairo_set_line_join(sheet->cr, CAIRO_LINE_JOIN_ROUND);
}

static void draw_foot(const Sheet *sheet) {
    char page[64];
    double y = sheet->height - FOOT + 2, right = sheet->width - SHEET_MARGIN;
    (void)snprintf(page, sizeof page, "page %d of %d", sheet->page, sheet->pages);
    double used = type_show(sheet->cr, right, y, TYPE_SMALL, true, ALIGN_RIGHT, page);
    type_fit(sheet->cr, SHEET_MARGIN, y, TYPE_SMALL, false, right - used - 20 - SHEET_MARGIN, sheet->name);
}

double sheet_width(const Sheet *sheet) {
    return sheet->width - 2 * SHEET_MARGIN;
}

/* The title and a line below it; the page goes on HEAD below `y`. */
static void draw_title(Sheet *sheet, const char *title, double y) {
    if (title != sheet->title) (void)snprintf(sheet->title, sizeof sheet->title, "%s", title);
    type_fit(sheet->cr, SHEET_MARGIN, y + 32, 18, true, sheet_width(sheet), title);
    cairo_move_to(sheet->cr, SHEET_MARGIN, y + 38);
    cairo_line_to(sheet->cr, sheet->width - SHEET_MARGIN, y + 38);
    canvas_stroke(sheet->cr, 1);
    sheet->y = y + HEAD;
}

void sheet_page(Sheet *sheet, const char *title) {
    if (sheet->page > 0) cairo_show_page(sheet->cr);
    sheet->page++;
    draw_title(sheet, title, 0);
    draw_foot(sheet);
}

void sheet_section(Sheet *sheet, const char *title, double height) {
    if (sheet->y + HEAD + height > sheet_bottom(sheet))
        sheet_page(sheet, title);
    else
        draw_title(sheet, title, sheet->y);
}

double sheet_top(void) {
    return HEAD;
}

double sheet_bottom(const Sheet *sheet) {
    return sheet->height - FOOT - 12;
}

void sheet_room(Sheet *sheet, double height) {
    if (sheet->y + height > sheet_bottom(sheet)) sheet_page(sheet, sheet->title);
}

void sheet_paragraph(Sheet *s, double size, bool bold, double above, double below, const char *text) {
    double room = sheet_width(s);
    if (!text[0]) return;
    sheet_room(s, type_height(s->cr, size, bold, room, text) + fmax(above, below));
    s->y = type_wrap(s->cr, SHEET_MARGIN, s->y + size + above, size, bold, room, text) - size + below;
}

bool sheet_close(Sheet *sheet, Err *err) {
    cairo_surface_t *surface = cairo_surface_reference(cairo_get_target(sheet->cr));
    cairo_status_t status = cairo_status(sheet->cr);
    cairo_destroy(sheet->cr);
    sheet->cr = NULL;
    cairo_surface_finish(surface);
    if (status == CAIRO_STATUS_SUCCESS) status = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    if (status == CAIRO_STATUS_SUCCESS) return true;
    return err_set(err, ERR_MEMORY, "the sheets cannot be drawn (%s); close other programs",
                   cairo_status_to_string(status));
}

void nick_draw(cairo_t *cr, double x, double y, double size, int turn, bool filled) {
    cairo_save(cr);
    cairo_translate(cr, x, y);
    cairo_rotate(cr, turn * PI / 2);
    cairo_move_to(cr, 0, 0);
    cairo_line_to(cr, -size * 0.6, -size);
    cairo_line_to(cr, size * 0.6, -size);
    cairo_close_path(cr);
    cairo_set_source_rgb(cr, filled ? 0 : 1, filled ? 0 : 1, filled ? 0 : 1);
    cairo_fill_preserve(cr);
    cairo_set_source_rgb(cr, 0, 0, 0);
    canvas_stroke(cr, 1.2);
    cairo_restore(cr);
}

void rule_draw(cairo_t *cr, double x, double y) {
    cairo_set_line_width(cr, 1);
    cairo_move_to(cr, x, y);
    cairo_line_to(cr, x + 100 * PT_PER_MM, y);
    for (int mm = 0; mm <= 100; mm += 5) {
        cairo_move_to(cr, x + mm * PT_PER_MM, y);
        cairo_rel_line_to(cr, 0, mm % 50 == 0 ? -12 : mm % 10 == 0 ? -8 : -4);
    }
    cairo_stroke(cr);
    for (int mm = 0; mm <= 100; mm += 50) {
        char text[16];
        (void)snprintf(text, sizeof text, mm == 100 ? "%d mm" : "%d", mm);
        type_show(cr, x + mm * PT_PER_MM, y - 14, TYPE_SMALL, true, ALIGN_CENTRE, text);
    }
}

/* --- two columns --- */

Columns columns_begin(Sheet *sheet) {
    return (Columns){sheet, {sheet->y, sheet->y}};
}

double column_width(const Sheet *sheet, bool wide) {
    double all = sheet->width - 2 * SHEET_MARGIN;
    return wide ? all : (all - COLUMN_GAP) / 2;
}

void columns_next(Columns *c) {
    sheet_page(c->sheet, c->sheet->title);
    c->y[0] = c->y[1] = c->sheet->y;
}

static double top_of(const Columns *c, bool wide) {
    return wide ? fmax(c->y[0], c->y[1]) : fmin(c->y[0], c->y[1]);
}

double columns_left(const Columns *c, bool wide) {
    return sheet_bottom(c->sheet) - top_of(c, wide);
}

Slot columns_place(Columns *c, double height, bool wide) {
    if (columns_left(c, wide) < height) columns_next(c);
    double y = top_of(c, wide);
    int column = !wide && c->y[1] < c->y[0];
    double width = column_width(c->sheet, wide);
    Slot slot = {SHEET_MARGIN + column * (width + COLUMN_GAP), y, width};
    c->y[column] = y + height + COLUMN_GAP;
    if (wide) c->y[1] = c->y[0];
    return slot;
}

void columns_end(Columns *c) {
    c->sheet->y = fmax(c->y[0], c->y[1]);
}
