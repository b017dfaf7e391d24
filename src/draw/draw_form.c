/* The sections of ropes, drawn. SPDX-License-Identifier: MIT
 *
 * A small picture of its shape; or, of what is no plain strip, to scale, with its measures, beside how to
 * form it. */
#include "draw/bench_pages.h"

#include "model/section.h"
#include "say/bench_words.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>

/* --- outlines --- */

enum { SECTION_POINTS = 2 * OUTLINE_MAX + 90 };

/* A section as it is drawn, in mm, in a box from (0, 0). */
typedef struct Shown {
    int points;
    Point point[SECTION_POINTS];
    double w, h;
} Shown;

/* A rope that the core's edge cuts, its outline turned with the core. Steps. */
typedef struct Turned {
    Outline outline;
    Circle core;
    Point low, high; /* the box of what lies inside the core */
} Turned;

static Point turned_point(Point p, double turn) {
    return (Point){p.x * cos(turn) + p.y * sin(turn), p.y * cos(turn) - p.x * sin(turn)};
}

static Turned turned_rope(const Rope *rope, Circle core, double turn) {
    Point middle = turned_point((Point){core.x, core.y}, turn);
    Turned t = {.outline = rope->outline, .core = {middle.x, middle.y, core.r}};
    for (int i = 0; i < t.outline.corners; i++) t.outline.corner[i] = turned_point(t.outline.corner[i], turn);
    bool seen = outline_disc_box(&t.outline, t.core, &t.low, &t.high);
    assert(seen);
    (void)seen;
    return t;
}

static double above_middle(const Turned *t) {
    return t->core.y - (t->low.y + t->high.y) / 2;
}

/* In the least box over the directions of its sides, as its width is told (weigh.c), the core's edge up. */
static Turned rim_lying(const Rope *rope, Circle core) {
    const double slack = 1e-9;
    double least = HUGE_VAL, best = 0;
    for (int i = 0; i < rope->outline.corners; i++) {
        Point a = rope->outline.corner[i], b = rope->outline.corner[(i + 1) % rope->outline.corners];
        double turn = atan2(b.y - a.y, b.x - a.x);
        Turned t = turned_rope(rope, core, turn);
        double area = (t.high.x - t.low.x) * (t.high.y - t.low.y);
        if (area >= least * (1 - slack)) continue;
        least = area;
        best = turn;
    }
    Turned lying = turned_rope(rope, core, best);
    for (int quarter = 1; quarter < 4; quarter++) {
        Turned t = turned_rope(rope, core, best + quarter * PI / 2);
        if (above_middle(&t) > above_middle(&lying) + slack) lying = t;
    }
    return lying;
}

static void add_point(Shown *out, Point p) {
    if (out->points < SECTION_POINTS) out->point[out->points++] = p;
}

/* Along the core's edge, clockwise as seen, without its ends. */
static void add_arc(Shown *out, Circle core, Point from, Point to) {
    static const double step = 5 * PI / 180;
    double first = atan2(from.y - core.y, from.x - core.x),
           turn = atan2(to.y - core.y, to.x - core.x) - first;
    if (point_distance(from, to) < 1e-6) return;
    if (turn <= 0) turn += 2 * PI;
    int parts = (int)ceil(turn / step);
    for (int i = 1; i < parts; i++) {
        double angle = first + turn * i / parts;
        add_point(out, (Point){core.x + core.r * cos(angle), core.y + core.r * sin(angle)});
    }
}

/* What of it lies inside the core, in steps: sides, and the core's edge from each to the next. */
static void add_inside(const Turned *t, Shown *out) {
    Point end[OUTLINE_MAX][2];
    int sides = 0;
    for (int i = 0; i < t->outline.corners; i++) {
        end[sides][0] = t->outline.corner[i];
        end[sides][1] = t->outline.corner[(i + 1) % t->outline.corners];
        if (line_clip(t->core, &end[sides][0], &end[sides][1])) sides++;
    }
    for (int i = 0; i < sides; i++) {
        add_point(out, end[i][0]);
        add_point(out, end[i][1]);
        add_arc(out, t->core, end[i][1], end[(i + 1) % sides][0]);
    }
    Point left = {t->core.x - t->core.r, t->core.y}, right = {t->core.x + t->core.r, t->core.y};
    if (sides > 0) return; /* else it is the whole core */
    add_point(out, left);
    add_arc(out, t->core, left, right);
    add_point(out, right);
    add_arc(out, t->core, right, left);
}

static Shown rim_shown(const Job *job, const RopeRow *row) {
    const double mm = job->cane.step_mm;
    const int type = (int)(row - job->bill.rope);
    int first = 0;
    Shown out = {0};
    while (job->layup.rope[first].type != type) first++;
    Turned t = rim_lying(&job->layup.rope[first], job->grid.core);
    add_inside(&t, &out);
    for (int i = 0; i < out.points; i++)
        out.point[i] = (Point){(out.point[i].x - t.low.x) * mm, (out.point[i].y - t.low.y) * mm};
    out.w = (t.high.x - t.low.x) * mm;
    out.h = (t.high.y - t.low.y) * mm;
    return out;
}

/* Of any type but round ones, as in the log. */
static Shown section_shown(const Job *job, const RopeRow *row) {
    if (row->rim) return rim_shown(job, row);
    Shown out = {.w = row->width_mm, .h = row->height_mm};
    for (int i = 0; i < row->section.corners; i++) add_point(&out, row->section.corner[i]);
    return out;
}

static void shown_path(Sheet *s, const Shown *shown, double x, double y, double across, double down) {
    cairo_new_path(s->cr);
    for (int i = 0; i < shown->points; i++)
        cairo_line_to(s->cr, x + shown->point[i].x * across, y + shown->point[i].y * down);
    cairo_close_path(s->cr);
}

void shape_draw(Sheet *s, const Job *job, const RopeRow *row, double x, double y, double w, double h) {
    const bool round = row->shape == SHAPE_ROUND && !row->rim;
    const Shown shown = round ? (Shown){.w = row->width_mm, .h = row->height_mm} : section_shown(job, row);
    double scale = fmin(w / shown.w, h / shown.h), flat = fmax(scale, 3 / shown.h);
    x += (w - shown.w * scale) / 2;
    y += (h - shown.h * flat) / 2;
    shown_path(s, &shown, x, y, scale, flat);
    if (round)
        cairo_arc(s->cr, x + shown.w * scale / 2, y + shown.h * flat / 2, shown.w * scale / 2, 0, 2 * PI);
    candy_fill(s->cr, job, &job->palette.candy[row->candy], 1);
}

/* --- to scale --- */

/* A section drawn to scale: in pt from the top left of its box. */
typedef struct Drawing {
    double shown; /* times its true size */
    double pt;    /* a mm of the section in the log */
    Shown section;
    double w, h;
    Figures figures; /* its sides, and its height where no side is as high; of a rim rope width and height */
} Drawing;

enum {
    PLAIN = 13,                           /* scales of drawings */
    FORM_AT = 205,                        /* pt from the margin: where the words stand */
    DRAWING_ROOM = FORM_AT - SHAPE_AT - 8 /* for it and its figures */
};

static const double plain[PLAIN] = {5, 4, 3, 2.5, 2, 1.5, 1.25, 1, 0.75, 0.5, 0.4, 0.3, 0.2};

/* The place of the largest plain scale at which the section of w x h mm fits, without its figures. */
static int largest_shown(double w, double h, double highest) {
    static const double widest = 110; /* pt */
    int i = 0;
    while (i + 1 < PLAIN && (w * plain[i] * PT_PER_MM > widest || h * plain[i] * PT_PER_MM > highest)) i++;
    return i;
}

/* Width below, height at the right. */
static void add_box(Drawing *d, double mm, Units units) {
    static const double far = 1e6, off = 9; /* pt */
    const Outline box = {4, {{0, 0}, {d->w, 0}, {d->w, d->h}, {0, d->h}}};
    Ground ground;
    ground_start(&ground, &box, (Circle){0, 0, far});
    for (int i = 1; i < 3; i++) {
        Figure *f = figure_add(&d->figures, &ground, i, box.corner[i], box.corner[i + 1],
                               (i == 1 ? d->h : d->w) * mm, units);
        if (f) figure_line(f, off);
    }
    figures_settle(&ground, &d->figures);
}

static void add_sides(const RopeRow *row, Drawing *d, double mm, Units units) {
    static const double far = 1e6, off = 22; /* pt */
    const Outline outline = section_scaled(&row->section, d->pt);
    bool upright = false;
    Ground ground;
    ground_start(&ground, &outline, (Circle){0, 0, far});
    for (int i = 0; i < outline.corners; i++) {
        Point a = outline.corner[i], b = outline.corner[(i + 1) % outline.corners];
        double length = point_distance(a, b);
        (void)figure_add(&d->figures, &ground, i, a, b, length * mm, units);
        upright |= fabs(a.x - b.x) < 1e-6 && length > d->h - 1e-6;
    }
    Point top = {d->w, 0}, bottom = {d->w, d->h};
    Figure *f = upright ? NULL : figure_add(&d->figures, &ground, -1, top, bottom, d->h * mm, units);
    if (f) figure_line(f, off);
    figures_settle(&ground, &d->figures);
}

static void draw_up(const Job *job, const RopeRow *row, double scale, double shown, Drawing *out) {
    const Units units = job->order.units;
    *out = (Drawing){.shown = shown, .pt = shown * PT_PER_MM * scale, .section = section_shown(job, row)};
    out->w = out->section.w * out->pt;
    out->h = out->section.h * out->pt;
    out->figures.high = (Point){out->w, out->h};
    if (row->rim)
        add_box(out, scale / out->pt, units);
    else
        add_sides(row, out, scale / out->pt, units);
}

/* As large as it fits with its figures, which may stand out on both sides. */
static void draw_up_to_fit(const Job *job, const RopeRow *row, double scale, Drawing *out) {
    const Shown section = section_shown(job, row);
    int i = largest_shown(section.w * scale, section.h * scale, row->rim ? 34 : 56);
    draw_up(job, row, scale, plain[i], out);
    while (out->figures.high.x - out->figures.low.x > DRAWING_ROOM && ++i < PLAIN)
        draw_up(job, row, scale, plain[i], out);
}

static void draw_drawing(Sheet *s, const Job *job, const RopeRow *row, const Drawing *d, double x, double y) {
    const double dash[] = {3, 3};
    x -= d->figures.low.x;
    y -= d->figures.low.y;
    cairo_set_dash(s->cr, dash, 2, 0);
    cairo_rectangle(s->cr, x, y, d->w, d->h);
    canvas_stroke(s->cr, 0.7);
    cairo_set_dash(s->cr, NULL, 0, 0);
    shown_path(s, &d->section, x, y, d->pt, d->pt);
    candy_fill(s->cr, job, &job->palette.candy[row->candy], 1.4);
    figures_draw(s->cr, &d->figures, x, y);
}

double form_draw(Sheet *s, const Job *job, const RopeRow *row, double scale, bool show) {
    Drawing d;
    char form[ROPE_LINE], shown[32];
    Units units = job->order.units;
    double x = SHEET_MARGIN + FORM_AT, room = s->width - SHEET_MARGIN - x, y = s->y + (row->rim ? 6 : 2);
    draw_up_to_fit(job, row, scale, &d);
    if (row->rim)
        rim_form_words(row, scale, units, form);
    else
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
