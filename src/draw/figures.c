/* Lengths in figures beside a drawing. SPDX-License-Identifier: MIT
 *
 * 1. A figure that is shorter than its line stands on it, as near to the line's middle as it is free.
 * 2. All others are tried beside what they measure, then round that place, ring by ring, straight outwards
 * first; what is not free within a few rings has strayed, and is hard to find.
 * A place is free if the figure covers no dot of a line or of another figure there, and nothing of the
 * drawing's inside. Cost: a few dozen places a figure, each against some hundred dots. */
#include "draw/figures.h"

#include "draw/canvas.h"
#include "say/bench_words.h"

#include <math.h>

static const double type = 12, high = 10; /* pt: of a figure, and the room it takes */
static const double least_part = 0.01;    /* pt: of a line that counts; one that touches a disc has less */
static const double unseen = 0.3; /* mm: hands form no side so short (weigh.c: nor see such a taper) */
static const double air = 3, tick = 2.5, dot_gap = 3.5, zero = 2.2; /* pt */

double point_distance(Point a, Point b) {
    return sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
}

Point point_between(Point a, Point b, double share) {
    return (Point){a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

bool line_clip(Circle disc, Point *a, Point *b) {
    Point p = *a, q = *b;
    double dx = q.x - p.x, dy = q.y - p.y, fx = p.x - disc.x, fy = p.y - disc.y;
    double aa = dx * dx + dy * dy, bb = fx * dx + fy * dy;
    double root = bb * bb - aa * (fx * fx + fy * fy - disc.r * disc.r);
    if (root <= 0) return false;
    double from = fmax((-bb - sqrt(root)) / aa, 0), to = fmin((-bb + sqrt(root)) / aa, 1);
    if ((to - from) * sqrt(aa) < least_part) return false;
    *a = point_between(p, q, from);
    *b = point_between(p, q, to);
    return true;
}

/* --- the ground --- */

void ground_line(Ground *g, Point a, Point b) {
    int parts = (int)(point_distance(a, b) / dot_gap) + 1;
    for (int i = 0; i <= parts && g->dots < GROUND_DOTS; i++)
        g->dot[g->dots++] = point_between(a, b, (double)i / parts);
}

void ground_start(Ground *g, const Outline *outline, Circle core) {
    enum { PARTS = 360 };
    g->outline = *outline;
    g->core = core;
    g->dots = 0;
    bool cut = false;
    for (int i = 0; i < outline->corners; i++) {
        Point a = outline->corner[i], b = outline->corner[(i + 1) % outline->corners];
        cut |= point_distance(a, (Point){core.x, core.y}) > core.r;
        if (line_clip(core, &a, &b)) ground_line(g, a, b);
    }
    for (int i = 0; cut && i < PARTS && g->dots < GROUND_DOTS; i++) {
        double angle = 2 * PI * i / PARTS;
        Point a = {core.x + core.r * cos(angle), core.y + core.r * sin(angle)};
        if (outline_side(outline, a) >= 0) g->dot[g->dots++] = a;
    }
    g->middle = (Point){0, 0};
    for (int i = 0; i < g->dots; i++)
        g->middle = (Point){g->middle.x + g->dot[i].x / g->dots, g->middle.y + g->dot[i].y / g->dots};
}

/* --- figures --- */

/* As hands form it: tenths of a millimetre or 32nds of an inch, one at least. */
static void print_length(double mm, Units units, char out[FIGURE_TEXT]) {
    static const double hair = 1e-6; /* mm: so that equal halves of a tenth are rounded alike */
    if (units == UNITS_IN) mm = fmax(length_by_hand(mm, units), MM_PER_IN / 32);
    length_print(out, FIGURE_TEXT, mm + hair, units);
    unit_drop(out);
}

/* The direction out of the drawing, across the line from a to b. */
static Point outwards(const Ground *g, Point a, Point b) {
    double length = point_distance(a, b), x = (b.y - a.y) / length, y = -(b.x - a.x) / length;
    bool inwards = (g->middle.x - a.x) * x + (g->middle.y - a.y) * y > 0;
    return inwards ? (Point){-x, -y} : (Point){x, y};
}

Figure *figure_add(Figures *figures, const Ground *ground, int side, Point from, Point to, double mm,
                   Units units) {
    if (figures->count == FIGURES_MAX || point_distance(from, to) < least_part || mm < unseen) return NULL;
    Figure *f = &figures->figure[figures->count++];
    *f = (Figure){.side = side, .foot = {from, to}, .out = outwards(ground, from, to)};
    print_length(mm, units, f->text);
    return f;
}

static Point moved(Point p, Point way, double far) {
    return (Point){p.x + far * way.x, p.y + far * way.y};
}

void figure_line(Figure *f, double off) {
    f->lined = true;
    for (int k = 0; k < 2; k++) f->mark[k] = moved(f->foot[k], f->out, off);
}

/* As DejaVu Sans sets it: its digits are of one width, and stops, spaces and strokes of about another. Asking
 * the typesetter for each of many trials would take longer than all the rest. */
static double width_of(const Figure *f) {
    double digit = f->bold ? 0.696 : 0.636, other = f->bold ? 0.38 : 0.337, width = 0;
    for (const char *c = f->text; *c; c++) width += *c >= '0' && *c <= '9' ? digit : other;
    return width * type;
}

/* --- places --- */

static Point along(const Figure *f) {
    return (Point){cos(f->turn), sin(f->turn)};
}

static double half_width(const Figure *f) {
    return f->width / 2 + 1.5;
}

static const double half_height = high / 2 + 1.5;

static bool is_free(const Ground *g, const Figure *f, Point at) {
    Point on = along(f), core = {g->core.x, g->core.y};
    double w = half_width(f);
    if (outline_side(&g->outline, at) >= 0 && point_distance(at, core) <= g->core.r) return false;
    for (int i = 0; i < g->dots; i++) {
        double x = g->dot[i].x - at.x, y = g->dot[i].y - at.y;
        if (fabs(x * on.x + y * on.y) < w && fabs(y * on.x - x * on.y) < half_height) return false;
    }
    return true;
}

/* The text takes its place: nothing else may come there. */
static void occupy(Ground *g, Figures *figures, const Figure *f) {
    Point on = along(f), down = {-on.y, on.x};
    double w = half_width(f);
    for (double v = -half_height; v < half_height + 0.1; v += half_height / 2)
        ground_line(g, moved(moved(f->at, on, -w), down, v), moved(moved(f->at, on, w), down, v));
    double x = fabs(on.x) * w + fabs(on.y) * half_height, y = fabs(on.y) * w + fabs(on.x) * half_height;
    figures->low = (Point){fmin(figures->low.x, f->at.x - x), fmin(figures->low.y, f->at.y - y)};
    figures->high = (Point){fmax(figures->high.x, f->at.x + x), fmax(figures->high.y, f->at.y + y)};
}

double turn_along(Point a, Point b) {
    static const double steep = 80 * PI / 180;
    double turn = atan2(b.y - a.y, b.x - a.x);
    return turn > steep ? turn - PI : turn < steep - PI ? turn + PI : turn;
}

/* 1. */
static bool find_on_line(const Ground *g, Figure *f) {
    static const double step = 4, ends = 4;
    double length = point_distance(f->mark[0], f->mark[1]), slack = length / 2 - f->width / 2 - ends;
    if (!f->lined || slack < 0) return false;
    f->turn = turn_along(f->mark[0], f->mark[1]);
    Point middle = point_between(f->mark[0], f->mark[1], 0.5), on = along(f);
    for (double off = 0; off <= slack; off += step)
        for (int way = -1; way <= 1; way += 2) {
            f->at = moved(middle, on, way * off);
            if (is_free(g, f, f->at)) return true;
        }
    return false;
}

/* 2. */
static bool find_beside(const Ground *g, Figure *f) {
    enum { RINGS = 14, NEAR = 4 };
    static const double step = 4;
    const Point *of = f->lined ? f->mark : f->foot;
    bool turned = !f->lined && point_distance(of[0], of[1]) > f->width;
    f->turn = turned ? turn_along(of[0], of[1]) : 0;
    Point out = f->out, on = {-out.y, out.x};
    double deep = turned ? high / 2 : fabs(out.x) * f->width / 2 + fabs(out.y) * high / 2;
    Point first = moved(point_between(of[0], of[1], 0.5), out, deep + air);
    f->at = first;
    for (int ring = 0; ring < RINGS; ring++)
        for (int i = 0; i <= 2 * ring; i++) {
            int aside = i % 2 ? -(i + 1) / 2 : i / 2, beyond = ring - (aside < 0 ? -aside : aside);
            Point at = moved(moved(first, out, step * beyond), on, step * aside);
            if (!is_free(g, f, at)) continue;
            f->at = at;
            return ring < NEAR;
        }
    return false;
}

static void add_line(Ground *g, Figures *figures, const Figure *f) {
    for (int k = 0; k < 2; k++) {
        Point m = f->mark[k];
        ground_line(g, f->foot[k], m);
        figures->low = (Point){fmin(figures->low.x, m.x - tick), fmin(figures->low.y, m.y - tick)};
        figures->high = (Point){fmax(figures->high.x, m.x + tick), fmax(figures->high.y, m.y + tick)};
    }
    ground_line(g, f->mark[0], f->mark[1]);
}

void figures_settle(Ground *ground, Figures *figures) {
    bool placed[FIGURES_MAX] = {false};
    figures->strayed = 0;
    for (int i = 0; i < figures->count; i++) {
        Figure *f = &figures->figure[i];
        f->width = width_of(f);
        placed[i] = find_on_line(ground, f);
        if (placed[i]) occupy(ground, figures, f);
    }
    for (int i = 0; i < figures->count; i++)
        if (figures->figure[i].lined) add_line(ground, figures, &figures->figure[i]);
    for (int i = 0; i < figures->count; i++) {
        if (placed[i]) continue;
        if (!find_beside(ground, &figures->figure[i])) figures->strayed++;
        occupy(ground, figures, &figures->figure[i]);
    }
}

static void draw_line(cairo_t *cr, const Figure *f) {
    for (int k = 0; k < 2; k++) {
        cairo_move_to(cr, f->foot[k].x, f->foot[k].y);
        cairo_line_to(cr, f->mark[k].x + tick * f->out.x, f->mark[k].y + tick * f->out.y);
    }
    cairo_move_to(cr, f->mark[0].x, f->mark[0].y);
    cairo_line_to(cr, f->mark[1].x, f->mark[1].y);
    canvas_stroke(cr, 0.7);
    if (!f->bold) return;
    cairo_arc(cr, f->mark[0].x, f->mark[0].y, zero, 0, 2 * PI); /* from there it counts */
    cairo_fill(cr);
}

/* Black on a white ground, which interrupts its line. */
static void draw_text(cairo_t *cr, const Figure *f) {
    cairo_save(cr);
    cairo_translate(cr, f->at.x, f->at.y);
    cairo_rotate(cr, f->turn);
    cairo_rectangle(cr, -f->width / 2 - 2, -high / 2, f->width + 4, high);
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_fill(cr);
    cairo_set_source_rgb(cr, 0, 0, 0);
    type_show(cr, 0, 0.36 * type, type, f->bold, ALIGN_CENTRE, f->text);
    cairo_restore(cr);
}

void figures_draw(cairo_t *cr, const Figures *figures, double x, double y) {
    cairo_save(cr);
    cairo_translate(cr, x, y);
    for (int i = 0; i < figures->count; i++)
        if (figures->figure[i].lined) draw_line(cr, &figures->figure[i]);
    for (int i = 0; i < figures->count; i++) draw_text(cr, &figures->figure[i]);
    cairo_restore(cr);
}
