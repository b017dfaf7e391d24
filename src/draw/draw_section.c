/* Ropes and blocks as the builder sees them. SPDX-License-Identifier: MIT
 *
 * A label is tried upright and lying, at a grid of places from the middle out, in type that shrinks until its
 * box fits: an area is an outline cut by the core's circle, so it is convex, and a box lies in it if its
 * corners do. In the log's section numbers that would be too small to read stand outside the jacket,
 * led to their ropes, as many as there is room for, the smallest first. */
#include "draw/bench_pages.h"

#include "base/mem.h"
#include "model/wrapped.h"

#include <math.h>
#include <stdlib.h>

enum { TRIES = 12 }; /* places a label is tried at, each way */

static const double least_type = 3.5, halo = 0.8; /* pt; how white the ground of a label is */

/* Where a label may lie. */
typedef struct LabelArea {
    const Outline *outline; /* steps; not owned */
    bool round;             /* it is the disc in that square */
    Circle hole;            /* steps: of a rest, what is round in it; r 0 if there is none */
    Circle core;            /* steps; what lies outside it does not count */
    Nick nick;              /* steps: of a block; what lies before it does not count; {0} if there is none */
} LabelArea;

typedef struct Label {
    double x, y; /* pt: of its middle */
    double size; /* pt: of the type */
    double turn; /* clockwise; -PI / 2: it reads upwards */
} Label;

/* The core's middle at (x, y), scale pt a step. */
static View view_round(cairo_t *cr, const Job *job, double x, double y, double scale, bool mirrored) {
    Circle core = job->grid.core;
    return (View){cr, job, x - (mirrored ? -core.x : core.x) * scale, y - core.y * scale, scale, mirrored};
}

/* The log's radius. */
static double log_steps(const View *v) {
    return v->job->cane.log_diameter_mm / 2 / v->job->cane.step_mm;
}

/* --- labels --- */

static bool disc_has(Circle disc, double x, double y) {
    double across = x - disc.x, down = y - disc.y;
    return across * across + down * down <= disc.r * disc.r;
}

static bool is_inside(const LabelArea *a, double x, double y) {
    const Outline *o = a->outline;
    const Nick *n = &a->nick;
    if (!disc_has(a->core, x, y)) return false;
    if ((x - n->tip.x) * n->into.x + (y - n->tip.y) * n->into.y < 0) return false;
    if (a->hole.r > 0 && disc_has(a->hole, x, y)) return false;
    if (a->round) return disc_has(square_disc(o), x, y);
    for (int i = 0; i < o->corners; i++) {
        Point p = o->corner[i], q = o->corner[(i + 1) % o->corners];
        if ((q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x) < 0) return false;
    }
    return true;
}

/* A box is given by half its length and half its height, each as drawn. Beside a hole, which bulges into it,
 * the middles of its sides count too. */
static bool box_fits(const LabelArea *a, double x, double y, Point w, Point h) {
    if (a->hole.r > 0 &&
        !(is_inside(a, x, y) && is_inside(a, x - w.x, y - w.y) && is_inside(a, x + w.x, y + w.y) &&
          is_inside(a, x - h.x, y - h.y) && is_inside(a, x + h.x, y + h.y)))
        return false;
    return is_inside(a, x - w.x - h.x, y - w.y - h.y) && is_inside(a, x + w.x - h.x, y + w.y - h.y) &&
           is_inside(a, x - w.x + h.x, y - w.y + h.y) && is_inside(a, x + w.x + h.x, y + w.y + h.y);
}

/* The place nearest to the middle where such a box fits. */
static bool find_place(const LabelArea *a, Point low, Point high, Point w, Point h, Point *out) {
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

/* The turns a label is tried at: level, upwards, and along the longest side of the narrowest strip that holds
 * the outline, if that is slanted. Returns how many. */
static int list_turns(const Outline *o, double turn[3]) {
    int side = outline_width(o).side;
    Point a = o->corner[side], b = o->corner[(side + 1) % o->corners];
    turn[0] = 0;
    turn[1] = -PI / 2;
    turn[2] = turn_along(a, b);
    return a.x == b.x || a.y == b.y ? 2 : 3;
}

/* The largest label of that width (pt at size 1); text is 0.73 of the size high, with air 1.05. */
static Label place_label(const View *v, const LabelArea *a, double width, double largest) {
    Point low = {0}, high = {0}, at = {0};
    double turn[3];
    int turns = list_turns(a->outline, turn);
    (void)outline_disc_box(a->outline, a->core, &low, &high);
    Label label = {.size = largest};
    for (bool found = false; !found && label.size > least_type; label.size *= found ? 1 : 0.94)
        for (int i = 0; i < turns && !found; i++) {
            double along = (width + 0.35) * label.size / v->scale / 2,
                   across = 1.05 * label.size / v->scale / 2;
            double x = cos(turn[i]), y = sin(turn[i]);
            label.turn = turn[i];
            found = find_place(a, low, high, (Point){along * x, along * y}, (Point){-across * y, across * x},
                               &at);
        }
    if (label.size <= least_type) {
        at = (Point){(low.x + high.x) / 2, (low.y + high.y) / 2};
        label.turn = 0;
    }
    label.x = view_x(v, at.x);
    label.y = view_y(v, at.y);
    return label;
}

/* Black on a white ground, or, of a block's number, white on black. */
static void show_label(cairo_t *cr, Label l, double width, const char *text, bool block) {
    double w = (width + 0.2) * l.size, h = 0.95 * l.size, ground = !block;
    cairo_save(cr);
    cairo_translate(cr, l.x, l.y);
    cairo_rotate(cr, l.turn);
    cairo_rectangle(cr, -w / 2, -h / 2, w, h);
    cairo_set_source_rgba(cr, ground, ground, ground, block ? 1 : halo);
    cairo_fill(cr);
    cairo_set_source_rgb(cr, block, block, block);
    type_show(cr, 0, 0.36 * l.size, l.size, true, ALIGN_CENTRE, text);
    cairo_restore(cr);
}

/* What is round in a rest: of all that lies inside its outline the largest disc. */
static Circle hole_of(const LayUp *layup, const Rope *rest) {
    Circle hole = {0, 0, 0};
    for (int i = 0; i < layup->ropes + layup->wraps; i++) {
        bool rope = i < layup->ropes,
             round = rope ? layup->rope[i].round : layup->wrap[i - layup->ropes].round;
        const Outline *o = rope ? &layup->rope[i].outline : &layup->wrap[i - layup->ropes].outline;
        if (!rest->rest || !round || !outline_holds(&rest->outline, o)) continue;
        if (square_disc(o).r > hole.r) hole = square_disc(o);
    }
    return hole;
}

static LabelArea area_of(const View *v, const Rope *rope) {
    return (LabelArea){.outline = &rope->outline,
                       .round = rope->round,
                       .hole = hole_of(&v->job->layup, rope),
                       .core = v->job->grid.core};
}

void rope_label(const View *v, const Rope *rope, double largest) {
    char number[32];
    LabelArea a = area_of(v, rope);
    rope_number(rope, number);
    double width = type_width(v->cr, 100, true, number) / 100;
    show_label(v->cr, place_label(v, &a, width, largest), width, number, false);
}

void block_label(const View *v, const Outline *outline, bool round, Nick nick, double half, int block,
                 double largest) {
    char number[16];
    Point on = {-nick.into.y, nick.into.x}, tip = nick.tip;
    const Nick clear[] = {nick,
                          {{tip.x + half * on.x, tip.y + half * on.y}, on},
                          {{tip.x - half * on.x, tip.y - half * on.y}, {-on.x, -on.y}}};
    Label best = {0};
    (void)snprintf(number, sizeof number, "%d", block + 1);
    double width = type_width(v->cr, 100, true, number) / 100;
    for (int i = 0; i < 3; i++) {
        LabelArea a = {.outline = outline, .round = round, .core = v->job->grid.core, .nick = clear[i]};
        Label label = place_label(v, &a, width, largest);
        if (label.size > 1.1 * best.size) best = label;
    }
    show_label(v->cr, best, width, number, true);
}

/* A trim is too small to write on: its number stands on the jacket beside it. */
static void trim_label(const View *v, const Rope *rope) {
    char number[32];
    Point low = {0}, high = {0};
    Circle core = v->job->grid.core;
    rope_number(rope, number);
    (void)outline_disc_box(&rope->outline, core, &low, &high);
    double dx = (low.x + high.x) / 2 - core.x, dy = (low.y + high.y) / 2 - core.y, r = hypot(dx, dy);
    double outer = log_steps(v), out = (core.r + outer) / 2,
           size = fmin(9, 0.8 * (outer - core.r) * v->scale);
    double width = type_width(v->cr, 100, true, number) / 100;
    Label label = {view_x(v, core.x + dx / r * out), view_y(v, core.y + dy / r * out), size, 0};
    show_label(v->cr, label, width, number, false);
}

/* --- the log --- */

static void draw_jacket(const View *v) {
    const Palette *p = &v->job->palette;
    Circle core = v->job->grid.core;
    int stripes = p->stripes > 1 && p->jackets > 1 ? p->stripes : 1;
    double x = view_x(v, core.x), y = view_y(v, core.y), outer = log_steps(v) * v->scale;
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
        disc_path(v, (Circle){core.x, core.y, grid->ring[i].outer});
        candy_fill(v->cr, v->job, &v->job->palette.candy[grid->ring[i].candy], 1.2);
    }
    disc_path(v, grid->rings > 0 ? core : (Circle){core.x, core.y, grid->steps / 2.0});
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

/* A trim, which is too small to write on. */
static bool is_small(const Rope *rope) {
    return rope->trim && !rope->rest;
}

/* All numbers but those of trims, the smallest first; returns how many. */
static int list_numbers(const View *v, Number *number) {
    int count = 0;
    for (int i = 0; i < v->job->layup.ropes; i++) {
        const Rope *rope = &v->job->layup.rope[i];
        Number n = {.rope = i};
        LabelArea a = area_of(v, rope);
        if (is_small(rope)) continue;
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

/* A place in the middle of what of the rope lies inside the core; of a rest near what is round in it. */
static Point anchor_of(const View *v, const Rope *rope) {
    LabelArea a = area_of(v, rope);
    Point low = {0}, high = {0}, at = outline_middle(&rope->outline);
    if ((rope->rim || rope->rest) && outline_disc_box(a.outline, a.core, &low, &high))
        (void)find_place(&a, low, high, (Point){0, 0}, (Point){0, 0}, &at);
    return (Point){view_x(v, at.x), view_y(v, at.y)};
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
    Outline square = outline_of_box(0, 0, job->grid.steps, job->grid.steps);
    ropes_draw(&v, &square);
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
        if (is_small(&job->layup.rope[i])) trim_label(&v, &job->layup.rope[i]);
    nick_draw(cr, x, y - radius, 12, 0, true);
    free(number);
    return true;
}

void key_draw(cairo_t *cr, const Job *job, double x, double y, double size, int block) {
    View v = view_round(cr, job, x, y, size / 2 / job->grid.core.r, false);
    core_clip(&v);
    for (int i = 0; i < job->layup.ropes; i++)
        section_path(&v, &job->layup.rope[i].outline, job->layup.rope[i].round);
    for (int i = 0; i < job->layup.wraps; i++)
        section_path(&v, &job->layup.wrap[i].outline, job->layup.wrap[i].round);
    cairo_set_source_rgb(cr, 0.55, 0.55, 0.55);
    canvas_stroke(cr, 0.4);
    bool first = true;
    for (int i = 0; i < job->blocks.uses; i++) {
        const BlockUse *use = &job->blocks.use[i];
        if (use->block != block) continue;
        Outline place = outline_moved(&job->blocks.block[block].outline, use->motion);
        cairo_set_source_rgb(cr, first ? 0 : 0.6, first ? 0 : 0.6, first ? 0 : 0.6);
        section_path(&v, &place, block_is_round(&job->layup, &job->blocks.block[block]));
        cairo_fill(cr);
        first = false;
    }
    cairo_restore(cr);
    disc_path(&v, job->grid.core);
    canvas_stroke(cr, 1);
}
