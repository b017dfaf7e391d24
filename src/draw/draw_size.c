/* Both ends at true size. SPDX-License-Identifier: MIT
 *
 * Laid out in mm from the left and from the top; the faces lie on whole pixels, so that none is drawn anew.
 */
#include "draw/draw.h"

#include "draw/canvas.h"
#include "draw/sheet.h"
#include "say/bench_words.h"

#include <math.h>

static const double dots_a_mm = 600 / MM_PER_IN;                              /* px a mm: 600 an inch */
static const double margin = 5, between = 6, least_width = 52, legend = 19.5; /* mm */
static const double small = 1.9, bold = 2.6;                                  /* mm, size of type */

static int px(double mm) {
    return (int)lround(mm * dots_a_mm);
}

/* A rule with ticks: `parts` of them, every `long_part` longer, its name behind it. */
static void draw_rule(cairo_t *cr, double x, double y, double length, int parts, int long_part,
                      const char *name) {
    double unit = dots_a_mm;
    cairo_set_line_width(cr, 0.13 * unit);
    cairo_move_to(cr, px(x), px(y));
    cairo_line_to(cr, px(x + length), px(y));
    for (int i = 0; i <= parts; i++) {
        bool end = i == 0 || i == parts;
        cairo_move_to(cr, px(x + length * i / parts), px(y) + 0.065 * unit);
        cairo_rel_line_to(cr, 0, -(end ? 2.2 : i % long_part == 0 ? 1.7 : 1.0) * unit);
    }
    cairo_stroke(cr);
    type_show(cr, (x + length + 1.2) * unit, y * unit, small * unit, true, ALIGN_LEFT, name);
}

static void draw_legend(cairo_t *cr, const Job *job, double y, double width) {
    double unit = dots_a_mm, room = width - 2 * margin;
    char piece[96], line[200];
    draw_rule(cr, margin, y, 20, 20, 5, "20 mm");
    draw_rule(cr, margin + 34, y, MM_PER_IN / 2, 8, 2, "1/2 in");
    piece_size_print(job, piece);
    (void)snprintf(line, sizeof line,
                   "True size of a piece of %s, if printed at 100 %% (600 dots an inch): measure the rulers.",
                   piece);
    double at = type_wrap(cr, margin * unit, (y + 4.4) * unit, small * unit, true, room * unit, line);
    type_wrap(cr, margin * unit, at, small * unit, false, room * unit,
              "Every piece shows the logo the right way round on one end only; its other end shows the "
              "mirror image.");
}

bool draw_size(const Job *job, Image *out, Err *err) {
    double d = job->order.piece_diameter_mm,
           width = fmax(2 * d + between + 2 * margin, least_width + 2 * margin);
    double left = (width - 2 * d - between) / 2, top = margin + 4.5, y = top + d + 8.5;
    double foot = (top + d + 2.9) * dots_a_mm, tag = small * dots_a_mm;
    int side = px(d);
    Image face = {0};
    Canvas canvas;
    if (!draw_face(job, side, &face, err)) return false;
    canvas_open(&canvas, px(width), px(y + legend), dots_a_mm, (Rgb8){255, 255, 255});
    cairo_t *cr = canvas.cr;
    type_fit(cr, px(margin), px(margin + 1.6), bold * dots_a_mm, true, px(width - 2 * margin),
             job->order.name);
    type_show(cr, px(left + d / 2), foot, tag, false, ALIGN_CENTRE, "one end");
    type_show(cr, px(left + d * 1.5 + between), foot, tag, false, ALIGN_CENTRE, "the other end");
    draw_legend(cr, job, y, width);
    bool good = canvas_lay(&canvas, face.rgba, side, side, px(left), px(top), side, side, err);
    cairo_translate(cr, px(left + d + between) + side, px(top)); /* the other end is a mirror image */
    cairo_scale(cr, -1, 1);
    good = good && canvas_lay(&canvas, face.rgba, side, side, 0, 0, side, side, err);
    image_free(&face);
    return canvas_close(&canvas, good, out, err);
}
