/* The finished cut on the sheets. SPDX-License-Identifier: MIT */
#include "draw/bench_pages.h"
#include "draw/draw.h"

#include <math.h>

enum { CUT_SIDE = 560 }; /* px of the finished cut on the sheets */

/* The finished cut in the square of w pt round (x, y), from either end. */
static bool lay_cut(Sheet *s, const Image *cut, double x, double y, double w, bool mirrored, Err *err) {
    Canvas canvas = {.cr = s->cr};
    cairo_save(s->cr);
    cairo_translate(s->cr, x, y);
    if (mirrored) cairo_scale(s->cr, -1, 1);
    bool good = canvas_lay(&canvas, cut->rgba, cut->width, cut->height, -w / 2, -w / 2, w, w, err);
    cairo_restore(s->cr);
    return good;
}

/* What a test slice is to show, in colour, from both ends, as large as the page, or else the next, leaves
 * room; between them a piece at true size. Drawn only where it is written: the pages are counted first. */
bool draw_slices(Sheet *s, const Job *job, Err *err) {
    static const char *const name[] = {"A test slice from the face end", "From the other end: just as right"};
    const double piece = job->order.piece_diameter_mm * PT_PER_MM;
    const double widest = sheet_width(s) / 2 - piece / 2 - 20;
    double size = fmin(sheet_bottom(s) - s->y - 34, widest);
    if (size < 120) { /* a large log leaves no room */
        sheet_page(s, "The finished cut");
        size = fmin(sheet_bottom(s) - s->y - 34, widest);
    }
    Image cut = {0};
    if (s->pages > 0 && !draw_face(job, CUT_SIDE, &cut, err)) return false;
    bool good = true;
    for (int i = 0; i < 2; i++) {
        double x = i == 0 ? SHEET_MARGIN + size / 2 : SHEET_MARGIN + sheet_width(s) - size / 2;
        good = good && (!cut.rgba || lay_cut(s, &cut, x, s->y + size / 2, size, i == 1, err));
        double edge = SHEET_MARGIN + (i == 0 ? 0 : sheet_width(s));
        type_show(s->cr, edge, s->y + size + 20, 12, true, i == 0 ? ALIGN_LEFT : ALIGN_RIGHT, name[i]);
    }
    double middle = SHEET_MARGIN + sheet_width(s) / 2, y = s->y + size / 2;
    good = good && (!cut.rgba || lay_cut(s, &cut, middle, y, piece, false, err));
    type_show(s->cr, middle, y + piece / 2 + 14, 11, false, ALIGN_CENTRE, "true size");
    image_free(&cut);
    return good;
}
