/* The sections of ropes, drawn. SPDX-License-Identifier: MIT
 *
 * A small picture of its shape; or, of what is no plain strip, to scale, with its measures, beside how to
 * form it. */
#include "draw/bench_pages.h"

#include "model/section.h"
#include "say/bench_words.h"

#include <math.h>
#include <stdio.h>

void shape_draw(Sheet *s, const Job *job, const RopeRow *row, double x, double y, double w, double h) {
    const Outline *o = &row->section;
    double scale = fmin(w / row->width_mm, h / row->height_mm), flat = fmax(scale, 3 / row->height_mm);
    x += (w - row->width_mm * scale) / 2;
    y += (h - row->height_mm * flat) / 2;
    w = row->width_mm * scale;
    h = row->height_mm * flat;
    bool round = row->shape == SHAPE_ROUND;
    cairo_new_path(s->cr);
    for (int i = 0; i < o->corners && !row->rim && !round; i++)
        cairo_line_to(s->cr, x + o->corner[i].x * scale, y + o->corner[i].y * flat);
    if (round) cairo_arc(s->cr, x + w / 2, y + h / 2, w / 2, 0, 2 * PI);
    if (row->rim) {
        cairo_move_to(s->cr, x, y + h * 0.4);
        cairo_curve_to(s->cr, x + w * 0.3, y - h * 0.1, x + w * 0.7, y - h * 0.1, x + w, y + h * 0.4);
        cairo_line_to(s->cr, x + w, y + h);
        cairo_line_to(s->cr, x, y + h);
    }
    cairo_close_path(s->cr);
    candy_fill(s->cr, job, &job->palette.candy[row->candy], 1);
}

/* --- to scale --- */

/* A section drawn to scale: in pt from the top left of its box. */
typedef struct Drawing {
    double shown; /* times its true size */
    Outline outline;
    double w, h;
    Figures figures; /* its sides, and its height where no side is as high */
} Drawing;

enum {
    PLAIN = 13,                           /* scales of drawings */
    FORM_AT = 205,                        /* pt from the margin: where the words stand */
    DRAWING_ROOM = FORM_AT - SHAPE_AT - 8 /* for it and its figures */
};

static const double plain[PLAIN] = {5, 4, 3, 2.5, 2, 1.5, 1.25, 1, 0.75, 0.5, 0.4, 0.3, 0.2};

/* The place of the largest plain scale at which the section of w x h mm fits, without its figures. */
static int largest_shown(double w, double h) {
    static const double widest = 110, highest = 56; /* pt */
    int i = 0;
    while (i + 1 < PLAIN && (w * plain[i] * PT_PER_MM > widest || h * plain[i] * PT_PER_MM > highest)) i++;
    return i;
}

static void draw_up(const RopeRow *row, double scale, double shown, Units units, Drawing *out) {
    static const double far = 1e6, off = 22; /* pt */
    Outline made = section_scaled(&row->section, scale);
    double wide = section_wide(&made), high = section_high(&made);
    *out = (Drawing){.shown = shown};
    double pt = shown * PT_PER_MM;
    bool upright = false;
    Ground ground;
    out->outline = section_scaled(&made, pt);
    out->figures.high = (Point){out->w = wide * pt, out->h = high * pt};
    ground_start(&ground, &out->outline, (Circle){0, 0, far});
    for (int i = 0; i < made.corners; i++) {
        Point a = out->outline.corner[i], b = out->outline.corner[(i + 1) % made.corners];
        double length = point_distance(a, b);
        (void)figure_add(&out->figures, &ground, i, a, b, length / pt, units);
        upright |= fabs(a.x - b.x) < 1e-6 && length > out->h - 1e-6;
    }
    Point top = {out->w, 0}, bottom = {out->w, out->h};
    Figure *f = upright ? NULL : figure_add(&out->figures, &ground, -1, top, bottom, high, units);
    if (f) figure_line(f, off);
    figures_settle(&ground, &out->figures);
}

/* As large as it fits with its figures, which may stand out on both sides. */
static void draw_up_to_fit(const RopeRow *row, double scale, Units units, Drawing *out) {
    int i = largest_shown(row->width_mm * scale, row->height_mm * scale);
    draw_up(row, scale, plain[i], units, out);
    while (out->figures.high.x - out->figures.low.x > DRAWING_ROOM && ++i < PLAIN)
        draw_up(row, scale, plain[i], units, out);
}

static void draw_drawing(Sheet *s, const Job *job, const RopeRow *row, const Drawing *d, double x, double y) {
    const double dash[] = {3, 3};
    x -= d->figures.low.x;
    y -= d->figures.low.y;
    cairo_set_dash(s->cr, dash, 2, 0);
    cairo_rectangle(s->cr, x, y, d->w, d->h);
    canvas_stroke(s->cr, 0.7);
    cairo_set_dash(s->cr, NULL, 0, 0);
    for (int i = 0; i < d->outline.corners; i++)
        cairo_line_to(s->cr, x + d->outline.corner[i].x, y + d->outline.corner[i].y);
    cairo_close_path(s->cr);
    candy_fill(s->cr, job, &job->palette.candy[row->candy], 1.4);
    figures_draw(s->cr, &d->figures, x, y);
}

double form_draw(Sheet *s, const Job *job, const RopeRow *row, double scale, bool show) {
    Drawing d;
    char form[ROPE_LINE], shown[32];
    Units units = job->order.units;
    double x = SHEET_MARGIN + FORM_AT, room = s->width - SHEET_MARGIN - x, y = s->y + 2;
    draw_up_to_fit(row, scale, units, &d);
    rope_form_words(row, scale, units, form);
    (void)snprintf(shown, sizeof shown, d.shown == 1 ? "true size" : "drawn %g : 1", d.shown);
    double drawing = d.figures.high.y - d.figures.low.y + 14;
    double height = fmax(drawing, type_height(s->cr, TYPE_BENCH, false, room, form)) + 6;
    if (!show) return height;
    draw_drawing(s, job, row, &d, SHEET_MARGIN + SHAPE_AT, y);
    type_show(s->cr, SHEET_MARGIN + SHAPE_AT, y + drawing - 3, TYPE_SMALL, false, ALIGN_LEFT, shown);
    type_wrap(s->cr, x, y + TYPE_BENCH - 2, TYPE_BENCH, false, room, form);
    return height;
}
