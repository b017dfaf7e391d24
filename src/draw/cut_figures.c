/* Where the joins of a block stand, and how long its sides are. SPDX-License-Identifier: MIT
 *
 * Input: a block with its items' cuts, the scale of its drawing. Output: figures beside it.
 * 1. Each end of a cut is measured along the side it lies on: from the nearer corner; on a side that the
 * core's edge cuts from the corner inside the core; if neither is, from where the edge meets the side. An end
 * outside the core stands where the cut meets the core's edge, measured straight from the nearest side that
 * ends there. Of a whole disc, whose sides all lie outside, the square round it is measured, where the cut
 * would meet it. An end in a corner needs no measure. Cuts that are all upright or all level in a rectangle
 * need none either: the items' sizes say it.
 * 2. Such a measure has a line along its side, outside; of several from one corner the longer farther out.
 * 3. Of a block that is no rectangle each side's length stands beside it, unless it is the block's whole
 * width or height; on a line of its own, farther out, where a cut ends on that side. So does how far it is
 * straight across where the core's edge runs from one side to the next.
 * 4. Something round stands so far in from the left and from the top of the block's box: two measures, which
 * have lines below and to the left of the box; none where it reaches the box. */
#include "draw/bench_pages.h"

#include "model/wrapped.h"

#include <math.h>

static const double eps = 1e-6;
static const double first_line = 9, next_line = 14; /* pt: how far a measure's line is off its side */

/* A block as it is drawn: in pt from the top left of what of it lies inside the core. */
typedef struct Drawn {
    const Job *job;     /* not owned */
    const Block *block; /* not owned */
    double scale;       /* pt a step */
    double mm;          /* a pt, as built */
    Outline outline;    /* of a whole disc the square round it */
    bool disc;
    Circle core;
    Ground ground;
    Figures *out; /* not owned */
} Drawn;

/* From one point along a side to another. */
typedef struct Measure {
    Point from, to;
    int side; /* -1: the core's edge */
} Measure;

static Point on_page(const Drawn *d, Point step) {
    Point low = d->block->low;
    return (Point){(step.x - low.x) * d->scale, (step.y - low.y) * d->scale};
}

static bool same(Point a, Point b) {
    return point_distance(a, b) < eps;
}

static bool in_core(const Drawn *d, Point p) {
    return point_distance(p, (Point){d->core.x, d->core.y}) <= d->core.r + eps;
}

static void side_of(const Outline *o, int side, Point *a, Point *b) {
    *a = o->corner[side];
    *b = o->corner[side + 1 < o->corners ? side + 1 : 0];
}

/* --- 1. measures --- */

/* The side a point lies on; -1 if it is a corner. */
static int side_at(const Outline *o, Point p) {
    int best = -1;
    double least = HUGE_VAL;
    for (int i = 0; i < o->corners; i++) {
        Point a, b;
        side_of(o, i, &a, &b);
        if (same(a, p)) return -1;
        double off = fabs((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / point_distance(a, b);
        if (off >= least) continue;
        least = off;
        best = i;
    }
    return best;
}

static Point side_from(const Drawn *d, int side, Point p) {
    Point a, b;
    side_of(&d->outline, side, &a, &b);
    bool first = in_core(d, a), second = in_core(d, b);
    if (first != second) return first ? a : b;
    if (!first) (void)line_clip(d->core, &a, &b); /* of a disc: the square's own corners */
    return point_distance(a, p) <= point_distance(b, p) ? a : b;
}

/* Where the core's edge meets a side, nearest to p; false if it meets none. */
static bool edge_from(const Drawn *d, Point p, Point *from) {
    double least = HUGE_VAL;
    for (int i = 0; i < d->outline.corners; i++) {
        Point end[2];
        side_of(&d->outline, i, &end[0], &end[1]);
        if (!line_clip(d->core, &end[0], &end[1])) continue;
        for (int k = 0; k < 2; k++) {
            double far = point_distance(end[k], p);
            if (point_distance(end[k], (Point){d->core.x, d->core.y}) < d->core.r - eps || far >= least)
                continue;
            least = far;
            *from = end[k];
        }
    }
    return least < HUGE_VAL;
}

/* Does a part of the side lie inside the core? */
static bool side_is_seen(const Drawn *d, int side) {
    Point a, b;
    side_of(&d->outline, side, &a, &b);
    return line_clip(d->core, &a, &b);
}

/* Of the end of a cut, which comes from `other`; false if it needs none. */
static bool measure_end(const Drawn *d, Point end, Point other, Measure *out) {
    Point seen = end, far = other;
    *out = (Measure){.to = end, .side = side_at(&d->outline, end)};
    if (!line_clip(d->core, &far, &seen)) return false;
    bool beyond = !same(seen, end) || (out->side >= 0 && !side_is_seen(d, out->side));
    if (beyond && edge_from(d, seen, &out->from)) {
        out->to = seen;
        out->side = -1;
        return !same(out->from, seen);
    }
    if (out->side < 0) return false;
    out->from = side_from(d, out->side, end);
    return !same(out->from, end);
}

static bool is_rectangle(const Outline *o) {
    for (int i = 0; i < o->corners; i++) {
        Point a, b;
        side_of(o, i, &a, &b);
        if (fabs(a.x - b.x) > eps && fabs(a.y - b.y) > eps) return false;
    }
    return o->corners == 4;
}

static bool is_straight(const Item *item, BlockKind kind) {
    const Point *c = item->cut;
    return kind == BLOCK_ROW ? fabs(c[0].x - c[1].x) < eps : fabs(c[0].y - c[1].y) < eps;
}

static Figure *add(Drawn *d, int side, Point from, Point to) {
    double mm = point_distance(from, to) * d->mm;
    return figure_add(d->out, &d->ground, side, from, to, mm, d->job->order.units);
}

/* The line through two points, as far as it lies in the box from (0, 0). */
static void line_to_box(Point size, Point end[2]) {
    Point a = end[0], b = end[1];
    const double at[2] = {a.x, a.y}, way[2] = {b.x - a.x, b.y - a.y}, most[2] = {size.x, size.y};
    double from = -HUGE_VAL, to = HUGE_VAL;
    for (int k = 0; k < 2; k++) {
        if (way[k] == 0) continue;
        double one = -at[k] / way[k], other = (most[k] - at[k]) / way[k];
        from = fmax(from, fmin(one, other));
        to = fmin(to, fmax(one, other));
    }
    end[0] = point_between(a, b, from);
    end[1] = point_between(a, b, to);
}

static void add_cut(Drawn *d, const Item *item, bool both) {
    Point end[2] = {on_page(d, item->cut[0]), on_page(d, item->cut[1])};
    if (d->disc) line_to_box(on_page(d, d->block->high), end);
    for (int i = 0; i < 2; i++) {
        Measure m;
        if (!measure_end(d, end[i], end[1 - i], &m)) continue;
        Figure *f = add(d, m.side, m.from, m.to);
        if (f) f->bold = true;
        if (!both) return;
    }
}

/* A rectangle whose cuts are all upright or all level. */
static bool is_plain(const Drawn *d) {
    const Block *b = d->block;
    const Item *item = &d->job->blocks.item[b->first_item];
    for (int i = 1; i < b->items; i++)
        if (!is_straight(&item[i], b->kind)) return false;
    return is_rectangle(&d->outline);
}

static void add_cuts(Drawn *d) {
    const Block *b = d->block;
    const Item *item = &d->job->blocks.item[b->first_item];
    bool rectangle = is_rectangle(&d->outline);
    for (int i = 1; i < b->items; i++) add_cut(d, &item[i], !rectangle || !is_straight(&item[i], b->kind));
}

/* --- 2. lines --- */

/* How far the core's edge bulges beyond the line between two of its points. */
static double bulge(const Drawn *d, const Figure *f) {
    double half = point_distance(f->foot[0], f->foot[1]) / 2, r = d->core.r;
    return r - sqrt(fmax(r * r - half * half, 0));
}

/* How many shorter measures run from the same corner along the same side. */
static int shorter_ones(const Drawn *d, int index) {
    const Figure *f = &d->out->figure[index];
    double length = point_distance(f->foot[0], f->foot[1]);
    int count = 0;
    for (int i = 0; i < d->out->count; i++) {
        const Figure *other = &d->out->figure[i];
        double theirs = point_distance(other->foot[0], other->foot[1]);
        if (other->side != f->side || !same(other->foot[0], f->foot[0])) continue;
        count += theirs < length || (theirs == length && i < index);
    }
    return count;
}

static void add_lines(Drawn *d) {
    for (int i = 0; i < d->out->count; i++) {
        Figure *f = &d->out->figure[i];
        figure_line(f, first_line + next_line * shorter_ones(d, i) + (f->side < 0 ? bulge(d, f) : 0));
    }
}

/* --- 3. sides --- */

/* How far out the lines of cuts on this side are; 0: none ends on it. */
static double lines_on(const Drawn *d, int side) {
    double most = 0;
    for (int i = 0; i < d->out->count; i++) {
        const Figure *f = &d->out->figure[i];
        if (f->lined && f->side == side) most = fmax(most, point_distance(f->foot[0], f->mark[0]));
    }
    return most;
}

static void add_side(Drawn *d, int side, Point from, Point to) {
    Point size = on_page(d, d->block->high);
    double w = fabs(to.x - from.x), h = fabs(to.y - from.y), lines = lines_on(d, side);
    if ((h < eps && w > size.x - eps) || (w < eps && h > size.y - eps)) return;
    Figure *f = add(d, side, from, to);
    if (f && side < 0)
        figure_line(f, fmax(lines + next_line, bulge(d, f) + first_line));
    else if (f && lines > 0)
        figure_line(f, lines + next_line);
}

/* The sides as far as they lie in the core, and from each to the next where the core's edge is between. */
static void add_sides(Drawn *d) {
    Point end[OUTLINE_MAX][2];
    int sides = 0;
    if (is_rectangle(&d->outline)) return;
    for (int i = 0; i < d->outline.corners; i++) {
        Point *e = end[sides];
        side_of(&d->outline, i, &e[0], &e[1]);
        if (!line_clip(d->core, &e[0], &e[1])) continue;
        add_side(d, i, e[0], e[1]);
        sides++;
    }
    for (int i = 0; i < sides && sides > 1; i++) add_side(d, -1, end[i][1], end[(i + 1) % sides][0]);
}

/* --- 4. something round --- */

/* A measure along the box's lower or left side. */
static void add_inset(Drawn *d, Point from, Point to, Point out) {
    Figure *f = add(d, -1, from, to);
    if (!f) return;
    f->out = out;
    f->bold = true;
    figure_line(f, first_line);
}

static void add_round(Drawn *d) {
    const Outline *square = &d->job->blocks.item[d->block->first_item].outline;
    Circle disc = square_disc(square);
    Point corner = on_page(d, (Point){disc.x - disc.r, disc.y - disc.r}), size = on_page(d, d->block->high);
    add_inset(d, (Point){0, size.y}, (Point){corner.x, size.y}, (Point){0, 1});
    add_inset(d, (Point){0, 0}, (Point){0, corner.y}, (Point){-1, 0});
}

/* --- the nick --- */

/* Where what lies inside the core is highest at x. */
static double top_at(const Outline *o, Circle core, double x) {
    double top = HUGE_VAL, across = core.r * core.r - (x - core.x) * (x - core.x);
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = o->corner[(i + 1) % o->corners];
        if ((a.x < x && b.x < x) || (a.x > x && b.x > x)) continue;
        top = fmin(top, a.x == b.x ? fmin(a.y, b.y) : a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x));
    }
    return across > 0 ? fmax(top, core.y - sqrt(across)) : top;
}

Nick block_nick(const Job *job, const Block *block) {
    double x = (block->low.x + block->high.x) / 2;
    return (Nick){{x, top_at(&block->outline, job->grid.core, x)}, {0, 1}};
}

/* --- all --- */

static void draw_up_outline(Drawn *d) {
    const Outline *o = &d->block->outline;
    Point size = on_page(d, d->block->high);
    d->disc = true;
    d->outline.corners = o->corners;
    for (int i = 0; i < o->corners; i++) d->outline.corner[i] = on_page(d, o->corner[i]);
    for (int i = 0; i < o->corners; i++) {
        Point a, b;
        side_of(&d->outline, i, &a, &b);
        if (line_clip(d->core, &a, &b)) d->disc = false;
    }
    if (d->disc) d->outline = outline_of_box(0, 0, size.x, size.y);
}

void cut_figures(const Job *job, const Block *block, double scale, Figures *out) {
    Drawn d = {.job = job, .block = block, .scale = scale, .out = out};
    Circle core = job->grid.core;
    Point middle = on_page(&d, (Point){core.x, core.y}), tip = on_page(&d, block_nick(job, block).tip);
    d.mm = job->cane.step_mm * block->scale / scale;
    d.core = (Circle){middle.x, middle.y, core.r * scale};
    out->count = out->strayed = 0;
    out->low = (Point){0, -NICK_ROOM};
    out->high = on_page(&d, block->high);
    draw_up_outline(&d);
    bool round = block->kind == BLOCK_ROUND;
    if (is_plain(&d) && !round) return;
    ground_start(&d.ground, &d.outline, d.core);
    ground_line(&d.ground, (Point){tip.x - 7, tip.y - 12}, (Point){tip.x + 7, tip.y - 12});
    ground_line(&d.ground, (Point){tip.x - 4, tip.y - 6}, (Point){tip.x + 4, tip.y - 6});
    add_cuts(&d);
    add_lines(&d);
    if (round) add_round(&d);
    add_sides(&d);
    figures_settle(&d.ground, out);
}
