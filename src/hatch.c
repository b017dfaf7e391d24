/* Candies told apart in black and white. SPDX-License-Identifier: MIT
 *
 * Hatches are lines drawn over the page's own grid, clipped to the path: areas of one candy that touch go on into each
 * other. Colours are thinned to TINT of their strength, so that black lines and numbers stay readable on any of them. */
#include "hatch.h"

#include "geom.h"

#include <math.h>
#include <string.h>

static const double tint = 0.30;

int hatch_of(const Bill *bill, const Candy *candy) {
    int i = 0;
    while (i + 1 < bill->materials && strcmp(bill->material[i].candy.name, candy->name) != 0) i++;
    return i < HATCHES ? i : 1 + (i - 1) % (HATCHES - 1);
}

/* The page's area that is to be filled, a little larger. */
typedef struct Field {
    double x0, y0, x1, y1, size;
} Field;

/* Lines at a slope of rise : run, `every` pt apart along x (along y if level). */
static void lines(cairo_t *cr, Field f, int rise, int run, double every) {
    if (run == 0) {
        for (double x = floor(f.x0 / every) * every; x < f.x1; x += every) {
            cairo_move_to(cr, x, f.y0);
            cairo_line_to(cr, x, f.y1);
        }
    } else {
        double slope = (double)rise / run, lean = fabs(slope) * (f.x1 - f.x0);
        for (double y = floor((f.y0 - lean) / every) * every; y < f.y1 + lean; y += every) {
            cairo_move_to(cr, f.x0, y + slope * (f.x0 - floor(f.x0 / every) * every));
            cairo_line_to(cr, f.x1, y + slope * (f.x1 - floor(f.x0 / every) * every));
        }
    }
    cairo_stroke(cr);
}

typedef enum Mark { MARK_DOT, MARK_BIG_DOT, MARK_RING, MARK_PLUS, MARK_DASH, MARK_ROOF } Mark;

static void mark(cairo_t *cr, Mark kind, double x, double y, double size) {
    double r = size * 0.28;
    cairo_new_sub_path(cr);
    if (kind == MARK_DOT) cairo_arc(cr, x, y, size * 0.13, 0, 2 * PI);
    if (kind == MARK_BIG_DOT) cairo_arc(cr, x, y, size * 0.3, 0, 2 * PI);
    if (kind == MARK_RING) cairo_arc(cr, x, y, r, 0, 2 * PI);
    if (kind == MARK_PLUS || kind == MARK_DASH) {
        cairo_move_to(cr, x - r, y);
        cairo_line_to(cr, x + r, y);
    }
    if (kind == MARK_PLUS) {
        cairo_move_to(cr, x, y - r);
        cairo_line_to(cr, x, y + r);
    }
    if (kind == MARK_ROOF) {
        cairo_move_to(cr, x - size / 2, y + r);
        cairo_line_to(cr, x, y - r);
        cairo_line_to(cr, x + size / 2, y + r);
    }
    if (kind == MARK_DOT || kind == MARK_BIG_DOT) cairo_fill(cr);
    else cairo_stroke(cr);
}

/* Marks in rows, every other row moved by half (roofs stand in line). */
static void marks(cairo_t *cr, Field f, Mark kind) {
    double s = f.size;
    for (int row = (int)floor(f.y0 / s) - 1; row * s < f.y1 + s; row++) {
        double shift = kind != MARK_ROOF && row % 2 ? s / 2 : 0;
        for (double x = floor(f.x0 / s) * s - s + shift; x < f.x1 + s; x += s) mark(cr, kind, x, row * s, s);
    }
}

static void draw_hatch(cairo_t *cr, int hatch, Field f) {
    double s = f.size;
    switch (hatch) {
    case 1: lines(cr, f, -1, 1, s); break;
    case 2: lines(cr, f, 1, 1, s); break;
    case 3: lines(cr, f, 0, 1, s * 0.7); break;
    case 4: lines(cr, f, 1, 0, s * 0.7); break;
    case 5: marks(cr, f, MARK_DOT); break;
    case 6: lines(cr, f, -1, 1, s); lines(cr, f, 1, 1, s); break;
    case 7: lines(cr, f, 0, 1, s); lines(cr, f, 1, 0, s); break;
    case 8: marks(cr, f, MARK_RING); break;
    case 9: marks(cr, f, MARK_ROOF); break;
    case 10: marks(cr, f, MARK_PLUS); break;
    case 11: marks(cr, f, MARK_DASH); break;
    case 12: marks(cr, f, MARK_BIG_DOT); break;
    default: break; /* 0: plain */
    }
}

void hatch_fill(cairo_t *cr, int hatch, Rgb8 c, double size) {
    cairo_path_t *path = cairo_copy_path(cr);
    cairo_save(cr);
    cairo_clip(cr);
    cairo_set_source_rgb(cr, 1 - tint * (1 - c.r / 255.0), 1 - tint * (1 - c.g / 255.0), 1 - tint * (1 - c.b / 255.0));
    cairo_paint(cr);
    Field f = {.size = size};
    cairo_clip_extents(cr, &f.x0, &f.y0, &f.x1, &f.y1);
    cairo_set_source_rgb(cr, 0, 0, 0);
    cairo_set_line_width(cr, 0.5);
    if (f.x1 > f.x0 && f.y1 > f.y0) draw_hatch(cr, hatch, f);
    cairo_restore(cr);
    cairo_new_path(cr);
    cairo_append_path(cr, path);
    cairo_path_destroy(path);
}
