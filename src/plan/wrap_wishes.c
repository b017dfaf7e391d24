/* Closed outlines of the wanted face that a sheet could be. SPDX-License-Identifier: MIT
 *
 * Input: the wanted face. Output: outlines, each a thin line of one candy all round.
 * 1. Every nearly convex shape is looked at (closed_shapes.h): what an area of one candy encloses, with the
 * area, where its line runs inside the shape's hull; and what lies in one of its holes, where it runs
 * outside.
 * 2. The line's thickness is measured at places all round the hull, at right angles to it. It is a line if at
 * most places it is between a fifth of a least strip and a little over one, and at few it is missing; as
 * thick as it is at the middle one of these places.
 * 3. The shape becomes a disc, if it is one, or a polygon of few corners. What is outside counts; a sheet of
 * that thickness, or of the least if it is thinner, must fit inside.
 * 4. Of several for the same line the first stays. The largest come first.
 * Discs: every shape that is one. */
#include "plan/plan_parts.h"

#include "plan/closed_shapes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Ours, chosen by looking at the open set. */
static const double line_least = 0.2, line_most = 1.2;   /* least strips: how thick a line is */
static const double line_share = 0.75, gap_share = 0.08; /* of the places round it */
static const double convex_share = 0.93;                 /* of its hull that a shape fills */
static const double room_least = 2;                      /* least strips^2: smaller shapes are no outlines */
static const double disc_least =
    0.75; /* least strips^2: a disc is a least strip across, but for its samples */
static const double disc_off = 0.04, disc_rough = 1.0 / 8; /* of the radius; steps */
static const double fit_off = 0.3, fit_most = 0.5;         /* least strips: how far a polygon may lie off */

enum { CORNERS_MOST = 8, PLACES_MOST = 2048, PLACES_A_STEP = 2 };

typedef struct Line {
    int places, thin, missing;
    double thickness[PLACES_MOST]; /* steps: at those where it is thin enough */
} Line;

static int candy_at(const Grid *grid, double x, double y) {
    int side = grid->wanted.side, u = (int)floor(x * SAMPLES), v = (int)floor(y * SAMPLES);
    bool beyond = u < 0 || v < 0 || u >= side || v >= side || !disc_holds(grid->core, SAMPLES, u, v);
    return beyond ? OUTSIDE : grid->wanted.candy[(size_t)v * side + u];
}

/* How far the candy goes on from p that way, at most so far. A hull is a little off its shape: what comes
 * before the line, up to `before`, is passed over. */
static double reach(const Grid *grid, int candy, Point p, Point way, double before, double most) {
    const double step = 0.5 / SAMPLES;
    double from = step / 2, to;
    while (from < before && candy_at(grid, p.x + from * way.x, p.y + from * way.y) != candy) from += step;
    for (to = from; to < from + most; to += step)
        if (candy_at(grid, p.x + to * way.x, p.y + to * way.y) != candy) break;
    return to - from;
}

static void measure_place(const Grid *grid, const ClosedShape *shape, Point p, Point way, Line *line) {
    const double strip = grid->least_steps;
    double thick = reach(grid, shape->candy, p, way, strip / 2, 2 * strip);
    if (line->places == PLACES_MOST) return;
    line->places++;
    if (thick < line_least * strip / 2) line->missing++;
    if (thick >= line_least * strip / 2 && thick <= line_most * strip) line->thickness[line->thin++] = thick;
}

static int compare_doubles(const void *p, const void *q) {
    double a = *(const double *)p, b = *(const double *)q;
    return a < b ? -1 : a > b;
}

/* 2. */
static bool measure_line(const Grid *grid, const ClosedShapes *all, const ClosedShape *shape, double *out) {
    const Point *hull = all->corner + shape->first;
    Line line = {.places = 0};
    for (int i = 0; i < shape->corners; i++) {
        Point a = hull[i], b = hull[(i + 1) % shape->corners];
        double dx = b.x - a.x, dy = b.y - a.y, length = sqrt(dx * dx + dy * dy);
        Point in = {-dy / length, dx / length}, way = shape->hole ? (Point){-in.x, -in.y} : in;
        int places = (int)ceil(length * PLACES_A_STEP);
        for (int k = 0; k < places; k++) {
            double part = (k + 0.5) / places;
            measure_place(grid, shape, (Point){a.x + part * dx, a.y + part * dy}, way, &line);
        }
    }
    if (line.thin < line_share * line.places || line.missing > gap_share * line.places) return false;
    qsort(line.thickness, (size_t)line.thin, sizeof *line.thickness, compare_doubles);
    *out = line.thickness[line.thin / 2];
    return *out >= line_least * grid->least_steps;
}

/* 3. */
static bool is_inside_core(const Grid *grid, const Outline *o) {
    for (int i = 0; i < o->corners; i++) {
        double x = o->corner[i].x - grid->core.x, y = o->corner[i].y - grid->core.y;
        if (x * x + y * y > grid->core.r * grid->core.r) return false;
    }
    return true;
}

static bool fit_wish(const Grid *grid, double sheet, const ClosedShapes *all, const ClosedShape *shape,
                     WrapWish *wish) {
    const double strip = grid->least_steps, laid = fmax(wish->thickness, sheet);
    const double more = shape->hole ? wish->thickness : 0;
    Circle disc;
    Outline inner;
    if (shape_is_disc(all, shape, disc_off, disc_rough, &disc)) {
        double r = disc.r + more, x = disc.x - grid->core.x, y = disc.y - grid->core.y;
        wish->round = true;
        wish->outline = outline_of_box(disc.x - r, disc.y - r, 2 * r, 2 * r);
        return sqrt(x * x + y * y) + r <= grid->core.r && laid < r;
    }
    for (double off = fit_off; off <= fit_most + 1e-9; off += fit_most - fit_off) {
        if (!shape_fit(all, shape, CORNERS_MOST, off * strip, fmax(1.5 * laid, strip / 2), &wish->outline) ||
            !outline_inset(&wish->outline, -more, -1, &wish->outline))
            continue;
        if (outline_inset(&wish->outline, laid, -1, &inner) && outline_can_be_wrapped(&wish->outline) &&
            is_inside_core(grid, &wish->outline))
            return true;
    }
    return false;
}

/* 4. */
static bool is_same(const WrapWish *a, const WrapWish *b) {
    Point p = outline_middle(&a->outline), q = outline_middle(&b->outline);
    double one = outline_area(&a->outline), other = outline_area(&b->outline), apart = a->thickness;
    return a->candy == b->candy && fabs(p.x - q.x) <= apart && fabs(p.y - q.y) <= apart &&
           fabs(sqrt(one) - sqrt(other)) <= 2 * apart;
}

/* Where it goes among those found, by falling area; the smallest drops out if there are too many. */
static int put_wish(const WrapWish *wish, WrapWish out[WRAP_WISHES_MAX], int count) {
    for (int i = 0; i < count; i++)
        if (is_same(&out[i], wish)) return count;
    int at = count < WRAP_WISHES_MAX ? count : WRAP_WISHES_MAX - 1;
    double area = outline_area(&wish->outline);
    if (count == WRAP_WISHES_MAX && area <= outline_area(&out[at].outline)) return count;
    for (; at > 0 && outline_area(&out[at - 1].outline) < area; at--) out[at] = out[at - 1];
    out[at] = *wish;
    return count < WRAP_WISHES_MAX ? count + 1 : count;
}

/* The largest come first. */
static int put_disc(Circle disc, Circle out[ROUND_WISHES_MAX], int count) {
    for (int i = 0; i < count; i++) {
        double x = out[i].x - disc.x, y = out[i].y - disc.y;
        if (x * x + y * y <= 1 && fabs(out[i].r - disc.r) <= 0.5) return count;
    }
    int at = count < ROUND_WISHES_MAX ? count : ROUND_WISHES_MAX - 1;
    if (count == ROUND_WISHES_MAX && disc.r <= out[at].r) return count;
    for (; at > 0 && out[at - 1].r < disc.r; at--) out[at] = out[at - 1];
    out[at] = disc;
    return count < ROUND_WISHES_MAX ? count + 1 : count;
}

/* Not all of the core, with a hole. */
static bool disc_fits(const Grid *grid, Circle disc) {
    double x = disc.x - grid->core.x, y = disc.y - grid->core.y;
    return sqrt(x * x + y * y) + disc.r <= grid->core.r + disc_rough && disc.r < grid->core.r - disc_rough;
}

bool find_wishes(const Grid *grid, const LayKey *key, Wishes *out, Err *err) {
    const double strip = grid->least_steps;
    ClosedShapes all;
    Wishes w = {.wraps = 0};
    if (!closed_shapes_find(grid, disc_least * strip * strip, convex_share, &all, err)) return false; /* 1 */
    for (int i = 0; i < all.count; i++) {
        const ClosedShape *shape = &all.shape[i];
        WrapWish wish = {.candy = shape->candy};
        Circle disc;
        if (shape_is_disc(&all, shape, disc_off, disc_rough, &disc) && disc_fits(grid, disc))
            w.discs = put_disc(disc, w.disc, w.discs);
        if (shape->area >= room_least * strip * strip && measure_line(grid, &all, shape, &wish.thickness) &&
            fit_wish(grid, least_sheet(key), &all, shape, &wish))
            w.wraps = put_wish(&wish, w.wrap, w.wraps);
    }
    closed_shapes_free(&all);
    *out = w;
    return true;
}

bool find_wrap_wishes(const Grid *grid, const LayKey *key, WrapWish out[WRAP_WISHES_MAX], int *count,
                      Err *err) {
    Wishes w;
    if (!find_wishes(grid, key, &w, err)) return false;
    memcpy(out, w.wrap, sizeof w.wrap);
    *count = w.wraps;
    return true;
}
