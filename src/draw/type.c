/* Lines of text in drawings. SPDX-License-Identifier: MIT
 *
 * One layout is kept with each drawing: to look a font up anew for every line takes longer than a page. */
#include "draw/canvas.h"

#include "base/text.h"

#include <pango/pangocairo.h>
#include <string.h>

enum { TYPE_LINE = 600 }; /* bytes of a line, the closing 0 included */

/* A layout that breaks no lines and, as the drawing asks, neither hints nor rounds. */
static PangoLayout *layout_new(cairo_t *cr) {
    PangoLayout *layout = pango_cairo_create_layout(cr);
    PangoContext *context = pango_layout_get_context(layout);
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_get_font_options(cr, options);
    pango_cairo_context_set_font_options(context, options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(context, false);
    pango_layout_set_single_paragraph_mode(layout, true);
    return layout;
}

/* The text (clean) as one line; the layout is the drawing's. */
static PangoLayoutLine *set(cairo_t *cr, double size, bool bold, const char *text) {
    static const cairo_user_data_key_t key;
    PangoLayout *layout = cairo_get_user_data(cr, &key);
    if (!layout) {
        layout = layout_new(cr);
        if (cairo_set_user_data(cr, &key, layout, g_object_unref) != CAIRO_STATUS_SUCCESS) {
            g_object_unref(layout);
            return NULL;
        }
    }
    PangoFontDescription *font = pango_font_description_new();
    pango_font_description_set_family_static(font, "DejaVu Sans");
    pango_font_description_set_weight(font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font, size * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    pango_layout_set_text(layout, text, -1);
    pango_cairo_update_layout(cr, layout);
    return pango_layout_get_line_readonly(layout, 0);
}

static double line_width(PangoLayoutLine *line) {
    PangoRectangle logical = {0};
    if (line) pango_layout_line_get_extents(line, NULL, &logical);
    return logical.width / (double)PANGO_SCALE;
}

double type_width(cairo_t *cr, double size, bool bold, const char *text) {
    return line_width(set(cr, size, bold, text));
}

double type_show(cairo_t *cr, double x, double y, double size, bool bold, Align align, const char *text) {
    char clean[TYPE_LINE];
    text_clean(clean, sizeof clean, text);
    PangoLayoutLine *line = set(cr, size, bold, clean);
    double width = line_width(line);
    cairo_move_to(cr, align == ALIGN_LEFT ? x : align == ALIGN_RIGHT ? x - width : x - width / 2, y);
    if (line) pango_cairo_show_layout_line(cr, line);
    cairo_new_path(cr);
    return width;
}

double type_fit(cairo_t *cr, double x, double y, double size, bool bold, double room, const char *text) {
    char fitted[TYPE_LINE];
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
    char line[TYPE_LINE] = "", longer[TYPE_LINE];
    for (;;) {
        text += strspn(text, " ");
        size_t length = text_word(text);
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
