/* Word marks and monograms as PNG files, to see what becomes of lettering: draw_letters FOLDER.
 * SPDX-License-Identifier: MIT
 *
 * All words are invented. Typefaces are asked for by name; where one is missing, the text library takes
 * another one. */
#include "base/geom.h"

#include <math.h>
#include <pango/pangocairo.h>
#include <stdio.h>
#include <string.h>

enum { SIDE = 600 /* px */ };

typedef struct Mark {
    const char *name, *text;
    const char *font;     /* family, style, size: as Pango reads it */
    unsigned ink, ground; /* 0xRRGGBB */
    double ring;          /* width of a ring round it, px; 0 = none */
    bool solid;           /* a disc of `ground` is behind it, to the rim; else white is */
    bool arc;             /* the letters stand on an arc, their feet inwards */
    double wide;          /* of the word, px; on an arc: the arc's radius at the feet */
} Mark;

static const Mark marks[] = {
    {"brew", "BREW", "DejaVu Sans Bold", 0x14283C, 0, 28, false, false, 420},
    {"brew-arc", "BREW", "DejaVu Sans Bold 96", 0x14283C, 0, 24, false, true, 140},
    {"mill-arc", "OLD MILL", "Nimbus Sans Bold 72", 0x7A3A14, 0, 20, false, true, 190},
    {"kite", "KITE", "DejaVu Serif Bold", 0xA01C28, 0, 0, false, false, 540},
    {"nord", "NORD", "URW Gothic", 0x1C3C78, 0, 0, false, false, 540},
    {"olmo", "OLMO", "Nimbus Sans Bold", 0xFFFFFF, 0x1E7A46, 0, true, false, 470},
    {"luma", "luma", "Nimbus Sans Bold", 0x7A2050, 0, 0, false, false, 540},
    {"fern", "FERN", "Nimbus Roman", 0x145028, 0, 16, false, false, 460},
    {"h-and-b", "H&B", "Nimbus Roman Bold", 0x28221E, 0, 20, false, false, 440},
    {"m-k", "M K", "Nimbus Sans", 0x20407A, 0, 0, false, false, 460},
    {"bread", "BREAD", "Nimbus Sans Bold", 0x6E3A14, 0, 0, false, false, 560},
};
enum { MARKS = sizeof marks / sizeof *marks };

static void set_ink(cairo_t *c, unsigned rgb) {
    cairo_set_source_rgb(c, (rgb >> 16) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0);
}

static PangoLayout *new_layout(cairo_t *c, const Mark *mark, const char *text) {
    PangoLayout *layout = pango_cairo_create_layout(c);
    PangoFontDescription *font = pango_font_description_from_string(mark->font);
    if (pango_font_description_get_size(font) == 0) pango_font_description_set_size(font, 100 * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    pango_layout_set_text(layout, text, -1);
    pango_font_description_free(font);
    return layout;
}

/* In the middle, `wide` px from the first letter's left edge to the last one's right one. */
static void draw_line(cairo_t *c, const Mark *mark) {
    PangoLayout *layout = new_layout(c, mark, mark->text);
    PangoRectangle ink;
    pango_layout_get_extents(layout, &ink, NULL);
    double unit = 1.0 / PANGO_SCALE, scale = mark->wide / (ink.width * unit);
    cairo_save(c);
    cairo_translate(c, SIDE / 2.0, SIDE / 2.0);
    cairo_scale(c, scale, scale);
    cairo_move_to(c, -(ink.x + ink.width / 2.0) * unit, -(ink.y + ink.height / 2.0) * unit);
    pango_cairo_show_layout(c, layout);
    cairo_restore(c);
    g_object_unref(layout);
}

/* Evenly spread over two thirds of a turn. */
static void draw_arc(cairo_t *c, const Mark *mark) {
    int letters = (int)strlen(mark->text);
    for (int i = 0; i < letters; i++) {
        PangoRectangle ink, logical;
        PangoLayout *layout = new_layout(c, mark, (char[]){mark->text[i], 0});
        pango_layout_get_extents(layout, &ink, &logical);
        double turn = PI / 3 * fmin(letters, 4) * ((i + 0.5) / letters - 0.5), unit = 1.0 / PANGO_SCALE;
        cairo_save(c);
        cairo_translate(c, SIDE / 2.0, SIDE / 2.0);
        cairo_rotate(c, turn);
        cairo_move_to(c, -(ink.x + ink.width / 2.0) * unit, -mark->wide - (ink.y + ink.height) * unit);
        pango_cairo_show_layout(c, layout);
        cairo_restore(c);
        g_object_unref(layout);
    }
    cairo_arc(c, SIDE / 2.0, SIDE / 2.0, 0.55 * mark->wide, 0, 2 * PI);
    cairo_fill(c);
}

static bool draw_mark(const Mark *mark, const char *folder) {
    char path[1024];
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, SIDE, SIDE);
    cairo_t *c = cairo_create(surface);
    double middle = SIDE / 2.0;
    set_ink(c, 0xFFFFFF);
    cairo_paint(c);
    set_ink(c, mark->ground);
    cairo_arc(c, middle, middle, middle - 4, 0, 2 * PI);
    mark->solid ? cairo_fill(c) : cairo_new_path(c);
    set_ink(c, mark->ink);
    cairo_set_line_width(c, mark->ring);
    cairo_arc(c, middle, middle, middle - 4 - mark->ring / 2, 0, 2 * PI);
    mark->ring > 0 ? cairo_stroke(c) : cairo_new_path(c);
    mark->arc ? draw_arc(c, mark) : draw_line(c, mark);
    cairo_destroy(c);
    (void)snprintf(path, sizeof path, "%s/%s.png", folder, mark->name);
    bool good = cairo_surface_write_to_png(surface, path) == CAIRO_STATUS_SUCCESS;
    cairo_surface_destroy(surface);
    return good;
}

int main(int argc, char *argv[]) {
    for (int i = 0; i < MARKS; i++)
        if (argc != 2 || !draw_mark(&marks[i], argv[1])) {
            fprintf(stderr, "draw_letters FOLDER: cannot write there\n");
            return 1;
        }
    return 0;
}
