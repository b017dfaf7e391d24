/* Sheets of paper. SPDX-License-Identifier: MIT */
#include "sheet.h"

#include "geom.h"
#include "text.h"

#include <cairo-pdf.h>
#include <string.h>

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

/* The title and a line below it; the page goes on HEAD below `y`. */
static void draw_title(Sheet *sheet, const char *title, double y) {
    sheet->title = title;
    type_fit(sheet->cr, SHEET_MARGIN, y + 32, 18, true, sheet->width - 2 * SHEET_MARGIN, title);
    cairo_set_line_width(sheet->cr, 1);
    cairo_move_to(sheet->cr, SHEET_MARGIN, y + 38);
    cairo_line_to(sheet->cr, sheet->width - SHEET_MARGIN, y + 38);
    cairo_stroke(sheet->cr);
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

double sheet_bottom(const Sheet *sheet) {
    return sheet->height - FOOT - 12;
}

void sheet_room(Sheet *sheet, double height) {
    if (sheet->y + height > sheet_bottom(sheet)) sheet_page(sheet, sheet->title);
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

/* The face, kept with the drawing: cairo forgets one as soon as another is chosen, and looking one up among
 * the system's fonts takes longer than a page. */
static void choose(cairo_t *cr, double size, bool bold) {
    static const cairo_user_data_key_t keys[2];
    cairo_font_face_t *face = cairo_get_user_data(cr, &keys[bold]);
    if (!face) {
        face = cairo_toy_font_face_create("DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                                          bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
        cairo_destroy_func_t free_face = (cairo_destroy_func_t)cairo_font_face_destroy;
        if (cairo_set_user_data(cr, &keys[bold], face, free_face) != CAIRO_STATUS_SUCCESS)
            cairo_font_face_destroy(face);
    }
    cairo_set_font_face(cr, face);
    cairo_set_font_size(cr, size);
}

double type_width(cairo_t *cr, double size, bool bold, const char *text) {
    cairo_text_extents_t extents;
    choose(cr, size, bold);
    cairo_text_extents(cr, text, &extents);
    return extents.x_advance;
}

double type_show(cairo_t *cr, double x, double y, double size, bool bold, Align align, const char *text) {
    char clean[600];
    text_clean(clean, sizeof clean, text);
    double width = type_width(cr, size, bold, clean);
    cairo_move_to(cr, align == ALIGN_LEFT ? x : align == ALIGN_RIGHT ? x - width : x - width / 2, y);
    cairo_show_text(cr, clean);
    cairo_new_path(cr);
    return width;
}

double type_fit(cairo_t *cr, double x, double y, double size, bool bold, double room, const char *text) {
    char fitted[600];
    text_clean(fitted, sizeof fitted, text);
    double width = type_width(cr, size, bold, fitted);
    if (width > room) size *= width > room * 1.5 ? 2 / 3.0 : room / width;
    for (int columns = text_width(fitted); columns >= 8 && type_width(cr, size, bold, fitted) > room * 1.001;
         columns--)
        text_fit(fitted, sizeof fitted, text, columns);
    return type_show(cr, x, y, size, bold, ALIGN_LEFT, fitted);
}

/* Adds a word, which may be cut, behind a space if there is something before it. */
static void add_word(char *line, size_t size, const char *word, size_t length) {
    size_t used = strlen(line);
    if (used > 0 && used + 1 < size) line[used++] = ' ';
    if (length > size - 1 - used) length = size - 1 - used;
    memcpy(line + used, word, length);
    line[used + length] = 0;
    text_clean(line, size, line); /* not half a character */
}

static double wrap(cairo_t *cr, double x, double y, double size, bool bold, double room, const char *text,
                   bool draw) {
    char line[600] = "", longer[600];
    for (;;) {
        text += strspn(text, " ");
        size_t length = strcspn(text, " ");
        if (length == 0) break;
        memcpy(longer, line, sizeof longer);
        add_word(longer, sizeof longer, text, length);
        if (line[0] && type_width(cr, size, bold, longer) > room) {
            if (draw) type_show(cr, x, y, size, bold, ALIGN_LEFT, line);
            y += size * 1.25;
            longer[0] = 0;
            add_word(longer, sizeof longer, text, length);
        }
        memcpy(line, longer, sizeof line);
        text += length;
    }
    if (line[0] && draw) type_fit(cr, x, y, size, bold, room, line);
    return line[0] ? y + size * 1.25 : y;
}

double type_wrap(cairo_t *cr, double x, double y, double size, bool bold, double room, const char *text) {
    return wrap(cr, x, y, size, bold, room, text, true);
}

double type_height(cairo_t *cr, double size, bool bold, double room, const char *text) {
    return wrap(cr, 0, 0, size, bold, room, text, false);
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
    cairo_set_line_width(cr, 1.2);
    cairo_stroke(cr);
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
