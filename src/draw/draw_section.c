/* Ropes and blocks as the builder sees them. SPDX-License-Identifier: MIT
 *
 * A label is tried upright and lying, at a grid of places from the middle out, in type that shrinks until its
 * box fits: an area is a rectangle or a wedge cut by the core's circle, so it is convex, and a box lies in it
 * if its corners do. In the log's section numbers that would be too small to read stand outside the jacket,
 * led to their ropes, as many as there is room for, the smallest first. */
#include "draw/bench_pages.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { TRIES = 12 }; /* places a label is tried at, each way */

static const double least_type = 3.5, halo = 0.8; /* pt; how white the ground of a label is */

/* Where a label may lie: a convex polygon cut by the core. */
typedef struct LabelArea {
    Point corner[4]; /* clockwise, steps */
    int corners;     /* 3 or 4 */
    Circle core;     /* steps; what lies outside it does not count */
} LabelArea;

typedef struct Label {
    double x, y; /* pt: of its middle */
    double size; /* pt: of the type */
    bool lying;  /* turned to the left, so that it reads upwards */
} Label;

static double px(const View *v, double x) {
    return v->mirrored ? v->x - x * v->scale : v->x + x * v->scale;
}

static double py(const View *v, double y) {
    return v->y + y * v->scale;
}

/* The core's middle at (x, y), scale pt a step. */
static View view_round(cairo_t *cr, const Job *job, double x, double y, double scale, bool mirrored) {
    Circle core = job->grid.core;
    return (View){cr, job, x - (mirrored ? -core.x : core.x) * scale, y - core.y * scale, scale, mirrored};
}

/* The log's radius. */
static double log_steps(const View *v) {
    return v->job->cane.log_diameter_mm / 2 / v->job->cane.step_mm;
}

/* --- paths and fills --- */

static void polygon_path(const View *v, const Point *p, int count) {
    cairo_new_sub_path(v->cr);
    for (int i = 0; i < count; i++) cairo_line_to(v->cr, px(v, p[i].x), py(v, p[i].y));
    cairo_close_path(v->cr);
}

static void circle_path(const View *v, Circle c) {
    cairo_new_sub_path(v->cr);
    cairo_arc(v->cr, px(v, c.x), py(v, c.y), c.r * v->scale, 0, 2 * PI);
}

void core_clip(const View *v) {
    cairo_save(v->cr);
    circle_path(v, v->job->grid.core);
    cairo_clip(v->cr);
}

void box_path(const View *v, Box box) {
    cairo_rectangle(v->cr, px(v, v->mirrored ? box.x + box.w : box.x), py(v, box.y), box.w * v->scale,
                    box.h * v->scale);
}

static bool holds(Box outer, Box inner) {
    return inner.x >= outer.x && inner.y >= outer.y && inner.x + inner.w <= outer.x + outer.w &&
           inner.y + inner.h <= outer.y + outer.h;
}

void ropes_draw(const View *v, Box box) {
    const LayUp *layup = &v->job->layup;
    core_clip(v);
    for (int i = 0; i < layup->ropes; i++) {
        Point corner[4];
        if (!holds(box, layup->rope[i].box)) continue;
        polygon_path(v, corner, rope_outline(&layup->rope[i], corner));
        cairo_set_source_rgb(v->cr, 0, 0, 0);
        candy_fill(v->cr, v->job, &v->job->palette.candy[layup->rope[i].candy], 0.9);
    }
    cairo_restore(v->cr);
    cairo_save(v->cr); /* the rim */
    box_path(v, box);
    cairo_clip(v->cr);
    circle_path(v, v->job->grid.core);
    canvas_stroke(v->cr, 1.6);
    cairo_restore(v->cr);
}

/* --- labels --- */

static bool is_inside(const LabelArea *a, double x, double y) {
    if (a->core.r > 0 && hypot(x - a->core.x, y - a->core.y) > a->core.r) return false;
    for (int i = 0; i < a->corners; i++) {
        Point p = a->corner[i], q = a->corner[(i + 1) % a->corners];
        if ((q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x) < 0) return false;
    }
    return true;
}

static bool box_fits(const LabelArea *a, double x, double y, double w, double h) {
    return is_inside(a, x - w / 2, y - h / 2) && is_inside(a, x + w / 2, y - h / 2) &&
           is_inside(a, x - w / 2, y + h / 2) && is_inside(a, x + w / 2, y + h / 2);
}

/* The place nearest to the middle where a box of w x h steps fits. */
static bool find_place(const LabelArea *a, Point low, Point high, double w, double h, Point *out) {
    double best = HUGE_VAL, mx = (low.x + high.x) / 2, my = (low.y + high.y) / 2;
    for (int i = 0; i <= TRIES; i++)
        for (int j = 0; j <= TRIES; j++) {
            double x = low.x + (high.x - low.x) * i / TRIES, y = low.y + (high.y - low.y) * j / TRIES;
            double far = hypot(x - mx, y - my);
            if (far >= best - 1e-9 || !box_fits(a, x, y, w, h)) continue;
            best = far;
            *out = (Point){x, y};
        }
    return best < HUGE_VAL;
}

/* The largest label of that width (pt at size 1); text is 0.73 of the size high, with air 1.05. */
static Label place_label(const View *v, const LabelArea *a, double width, double largest) {
    Point low = {0}, high = {0}, at = {0};
    (void)polygon_disc_box(a->corner, a->corners, a->core, &low, &high);
    Label label = {.size = largest};
    for (; label.size > least_type; label.size *= 0.94) {
        double along = (width + 0.35) * label.size / v->scale, across = 1.05 * label.size / v->scale;
        label.lying = false;
        if (find_place(a, low, high, along, across, &at)) break;
        label.lying = true;
        if (find_place(a, low, high, across, along, &at)) break;
    }
    if (label.size <= least_type) {
        at = (Point){(low.x + high.x) / 2, (low.y + high.y) / 2};
        label.lying = false;
    }
    label.x = px(v, at.x);
    label.y = py(v, at.y);
    return label;
}

/* Black on a white ground, or, of a block's number, white on black. */
static void show_label(cairo_t *cr, Label l, double width, const char *text, bool block) {
    double w = (width + 0.2) * l.size, h = 0.95 * l.size, ground = !block;
    cairo_save(cr);
    cairo_translate(cr, l.x, l.y);
    if (l.lying) cairo_rotate(cr, -PI / 2);
    cairo_rectangle(cr, -w / 2, -h / 2, w, h);
    cairo_set_source_rgba(cr, ground, ground, ground, block ? 1 : halo);
    cairo_fill(cr);
    cairo_set_source_rgb(cr, block, block, block);
    type_show(cr, 0, 0.36 * l.size, l.size, true, ALIGN_CENTRE, text);
    cairo_restore(cr);
}

static void label_area(const View *v, const LabelArea *a, const char *text, double largest, bool block) {
    double width = type_width(v->cr, 100, true, text) / 100;
    show_label(v->cr, place_label(v, a, width, largest), width, text, block);
}

void rope_label(const View *v, const Rope *rope, double largest) {
    char number[32];
    LabelArea a = {.core = v->job->grid.core};
    a.corners = rope_outline(rope, a.corner);
    rope_number(rope, number);
    label_area(v, &a, number, largest, false);
}

void block_label(const View *v, Point low, Point high, int block, double largest) {
    char number[16];
    LabelArea a = {{low, {high.x, low.y}, high, {low.x, high.y}}, 4, v->job->grid.core};
    (void)snprintf(number, sizeof number, "%d", block + 1);
    label_area(v, &a, number, largest, true);
}

/* A trim is too small to write on: its number stands on the jacket beside it. */
static void trim_label(const View *v, const Rope *rope) {
    char number[32];
    Point corner[4], low = {0}, high = {0};
    Circle core = v->job->grid.core;
    rope_number(rope, number);
    (void)polygon_disc_box(corner, rope_outline(rope, corner), core, &low, &high);
    double dx = (low.x + high.x) / 2 - core.x, dy = (low.y + high.y) / 2 - core.y, r = hypot(dx, dy);
    double outer = log_steps(v), out = (core.r + outer) / 2,
           size = fmin(9, 0.8 * (outer - core.r) * v->scale);
    double width = type_width(v->cr, 100, true, number) / 100;
    Label label = {px(v, core.x + dx / r * out), py(v, core.y + dy / r * out), size, false};
    show_label(v->cr, label, width, number, false);
}

/* --- the log --- */

static void draw_jacket(const View *v) {
    const Palette *p = &v->job->palette;
    Circle core = v->job->grid.core;
    int stripes = p->stripes > 1 && p->jackets > 1 ? p->stripes : 1;
    double x = px(v, core.x), y = py(v, core.y), outer = log_steps(v) * v->scale;
    for (int i = 0; i < stripes; i++) { /* from 12 o'clock, clockwise */
        double place =
            v->mirrored ? stripes - 1 - i : i; /* clockwise, or against the clock from the other end */
        double from = 2 * PI * place / stripes - PI / 2, to = 2 * PI * (place + 1) / stripes - PI / 2;
        if (stripes > 1) cairo_move_to(v->cr, x, y);
        cairo_arc(v->cr, x, y, outer, from, to);
        cairo_close_path(v->cr);
        candy_fill(v->cr, v->job, &p->jacket[i % p->jackets], 0.9);
    }
}

static void draw_rings(const View *v) {
    const Grid *grid = &v->job->grid;
    Circle core = grid->core;
    for (int i = 0; i < grid->rings; i++) {
        circle_path(v, (Circle){core.x, core.y, grid->ring[i].outer});
        candy_fill(v->cr, v->job, &v->job->palette.candy[grid->ring[i].candy], 1.2);
    }
    circle_path(v, grid->rings > 0 ? core : (Circle){core.x, core.y, grid->steps / 2.0});
    cairo_set_source_rgb(v->cr, 1, 1, 1);
    cairo_fill(v->cr);
    cairo_set_source_rgb(v->cr, 0, 0, 0);
}

/* --- small numbers --- */

enum { CALLOUTS = 96 };

static const double good_type = 9, callout_type = 11, callout_row = 13, callout_gap = 14, paper_edge = 16;

/* A rope's number, as large as the rope allows. */
typedef struct Number {
    int rope;      /* index in the lay-up */
    char text[32]; /* as rope_number */
    double width;  /* at size 1 */
    Label label;
} Number;

static int compare_numbers(const void *p, const void *q) {
    const Number *a = p, *b = q;
    if (a->label.size != b->label.size) return a->label.size < b->label.size ? -1 : 1;
    return a->rope - b->rope;
}

/* All numbers but those of trims, the smallest first; returns how many. */
static int list_numbers(const View *v, Number *number) {
    int count = 0;
    for (int i = 0; i < v->job->layup.ropes; i++) {
        const Rope *rope = &v->job->layup.rope[i];
        Number n = {.rope = i};
        LabelArea a = {.core = v->job->grid.core};
        if (rope->trim) continue;
        a.corners = rope_outline(rope, a.corner);
        rope_number(rope, n.text);
        n.width = type_width(v->cr, 100, true, n.text) / 100;
        n.label = place_label(v, &a, n.width, 20);
        number[count++] = n;
    }
    qsort(number, (size_t)count, sizeof *number, compare_numbers);
    return count;
}

/* Both sides of the log, the inner ends of numbers of `width` pt. */
static int list_places(double x, double y, double radius, double width, Point place[CALLOUTS]) {
    int places = 0;
    for (double dy = -radius + 6; dy < radius - 6 && places + 2 <= CALLOUTS; dy += callout_row) {
        double out = sqrt(radius * radius - dy * dy) + callout_gap;
        if (x - out - width < paper_edge) continue;
        place[places++] = (Point){x - out, y + dy};
        place[places++] = (Point){x + out, y + dy};
    }
    return places;
}

/* The middle of what of the rope lies inside the core. */
static Point anchor_of(const View *v, const Rope *rope) {
    Point corner[4], low = {0}, high = {0}, sum = {0};
    int corners = rope_outline(rope, corner);
    Circle core = v->job->grid.core;
    for (int i = 0; i < corners; i++)
        sum = (Point){sum.x + corner[i].x / corners, sum.y + corner[i].y / corners};
    if (rope->rim && polygon_disc_box(corner, corners, core, &low, &high))
        sum = (Point){(low.x + high.x) / 2, (low.y + high.y) / 2};
    return (Point){px(v, sum.x), py(v, sum.y)};
}

static void draw_lead(cairo_t *cr, Point from, Point to) {
    for (int pass = 0; pass < 2; pass++) {
        cairo_move_to(cr, from.x, from.y);
        cairo_line_to(cr, to.x, to.y);
        cairo_set_line_width(cr, pass == 0 ? 2.4 : 0.7);
        cairo_set_source_rgba(cr, pass == 0, pass == 0, pass == 0, pass == 0 ? halo : 1);
        cairo_stroke(cr);
    }
    cairo_arc(cr, from.x, from.y, 1.6, 0, 2 * PI);
    cairo_fill(cr);
}

/* Draws the smallest numbers outside, led to their ropes; returns how many. */
static int draw_callouts(const View *v, double x, double y, double radius, const Number *number, int count) {
    Point place[CALLOUTS] = {{0}}, anchor[CALLOUTS] = {{0}};
    int place_of[CALLOUTS], called = 0;
    double widest = 0;
    while (called < count && called < CALLOUTS && number[called].label.size < good_type)
        widest = fmax(widest, number[called++].width * callout_type);
    int places = list_places(x, y, radius, widest, place);
    if (called > places) called = places;
    for (int i = 0; i < called; i++) anchor[i] = anchor_of(v, &v->job->layup.rope[number[i].rope]);
    callouts_assign(anchor, called, place, places, place_of);
    for (int i = 0; i < called; i++) {
        Point at = place[place_of[i]];
        bool left = at.x < x;
        draw_lead(v->cr, anchor[i], at);
        type_show(v->cr, at.x + (left ? -2 : 2), at.y + 4, callout_type, true,
                  left ? ALIGN_RIGHT : ALIGN_LEFT, number[i].text);
    }
    return called;
}

View slice_draw(cairo_t *cr, const Job *job, double x, double y, double scale, bool mirrored) {
    View v = view_round(cr, job, x, y, job->cane.step_mm * scale, mirrored);
    cairo_new_path(cr);
    draw_jacket(&v);
    draw_rings(&v);
    ropes_draw(&v, (Box){0, 0, job->grid.steps, job->grid.steps});
    return v;
}

bool section_draw(cairo_t *cr, const Job *job, double x, double y, double scale, Err *err) {
    double radius = job->cane.log_diameter_mm / 2 * scale;
    Number *number = mem_alloc((size_t)job->layup.ropes, sizeof *number, err);
    if (!number) return false;
    View v = slice_draw(cr, job, x, y, scale, false);
    int count = list_numbers(&v, number);
    for (int i = draw_callouts(&v, x, y, radius, number, count); i < count; i++)
        show_label(cr, number[i].label, number[i].width, number[i].text, false);
    for (int i = 0; i < job->layup.ropes; i++)
        if (job->layup.rope[i].trim) trim_label(&v, &job->layup.rope[i]);
    nick_draw(cr, x, y - radius, 12, 0, true);
    free(number);
    return true;
}

void key_draw(cairo_t *cr, const Job *job, double x, double y, double size, int block) {
    View v = view_round(cr, job, x, y, size / 2 / job->grid.core.r, false);
    core_clip(&v);
    for (int i = 0; i < job->layup.ropes; i++) {
        Point corner[4];
        polygon_path(&v, corner, rope_outline(&job->layup.rope[i], corner));
    }
    cairo_set_source_rgb(cr, 0.55, 0.55, 0.55);
    canvas_stroke(cr, 0.4);
    for (int i = 0; i < job->blocks.uses; i++) {
        const BlockUse *use = &job->blocks.use[i];
        if (use->block != block) continue;
        bool first = memcmp(&use->box, &job->blocks.block[block].box, sizeof use->box) == 0;
        cairo_set_source_rgb(cr, first ? 0 : 0.6, first ? 0 : 0.6, first ? 0 : 0.6);
        box_path(&v, use->box);
        cairo_fill(cr);
    }
    cairo_restore(cr);
    circle_path(&v, job->grid.core);
    canvas_stroke(cr, 1);
}
