/* What a closed shape of the wanted face could be laid as. SPDX-License-Identifier: MIT
 *
 * A polygon of few corners: of all corners of the hull that could be left out (the hull loses a triangle) and
 * all sides whose neighbours could be made longer until they meet (it gains one), the one that moves the
 * outline least goes first, until none moves it by less than what is allowed and the corners are few enough.
 */
#include "plan/closed_shapes.h"

#include <math.h>
#include <string.h>

enum { CORNERS_MAX = 512 }; /* of a hull; a rougher one is not fitted */

static double distance(Point a, Point b) {
    return sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
}

/* Of a line from a to b how far p lies off, over 0 to its right, as seen. */
static double offset(Point a, Point b, Point p) {
    return ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / distance(a, b);
}

bool shape_is_disc(const ClosedShapes *shapes, const ClosedShape *shape, double off, double rough,
                   Circle *out) {
    const Point *hull = shapes->corner + shape->first;
    Circle c = {shape->middle.x, shape->middle.y, sqrt(shape->area / PI)};
    double most = fmax(off * c.r, rough);
    for (int i = 0; i < shape->corners; i++) {
        Point next = hull[(i + 1) % shape->corners],
              mid = {(hull[i].x + next.x) / 2, (hull[i].y + next.y) / 2};
        Point centre = {c.x, c.y};
        if (fabs(distance(hull[i], centre) - c.r) > most || fabs(distance(mid, centre) - c.r) > most)
            return false;
    }
    *out = c;
    return true;
}

/* --- a polygon of few corners --- */

typedef struct Polygon {
    int corners;
    Point p[CORNERS_MAX];
} Polygon;

static Point at(const Polygon *f, int i) {
    return f->p[(i + f->corners) % f->corners];
}

/* The cosine of the angle at b. */
static double cosine(Point a, Point b, Point c) {
    return ((a.x - b.x) * (c.x - b.x) + (a.y - b.y) * (c.y - b.y)) / (distance(a, b) * distance(b, c));
}

/* No side is made longer if it meets the other at less than so (35 degrees). */
static const double sharpest_cosine = 0.82;

/* Where the sides before and behind side i meet beyond it; false if they do not, or too sharply. */
static bool meet(const Polygon *f, int i, Point *out) {
    Point a = at(f, i - 1), b = at(f, i), c = at(f, i + 1), d = at(f, i + 2);
    double ux = b.x - a.x, uy = b.y - a.y, vx = c.x - d.x, vy = c.y - d.y, cross = ux * vy - uy * vx;
    if (cross >= -1e-9 * distance(a, b) * distance(c, d)) return false;
    double along = ((c.x - b.x) * vy - (c.y - b.y) * vx) / cross;
    *out = (Point){b.x + along * ux, b.y + along * uy};
    return along > 0 && cosine(a, *out, d) <= sharpest_cosine;
}

/* One way to be simpler: the corner goes, or the side from it to the next. */
typedef struct Step {
    double moves; /* steps */
    int corner;
    bool side;
    Point meet;
} Step;

static Step next_step(const Polygon *f) {
    Step best = {.moves = HUGE_VAL};
    for (int i = 0; i < f->corners; i++) {
        Point q;
        double moves = fabs(offset(at(f, i - 1), at(f, i + 1), f->p[i]));
        if (moves < best.moves) best = (Step){.moves = moves, .corner = i};
        if (f->corners < 4 || !meet(f, i, &q)) continue;
        moves = fabs(offset(at(f, i), at(f, i + 1), q));
        if (moves < best.moves) best = (Step){moves, i, true, q};
    }
    return best;
}

static void take_step(Polygon *f, Step step) {
    int gone = step.side ? (step.corner + 1) % f->corners : step.corner;
    if (step.side) f->p[step.corner] = step.meet;
    f->corners--;
    memmove(f->p + gone, f->p + gone + 1, (size_t)(f->corners - gone) * sizeof *f->p);
}

/* Corners sharper than so (62 degrees) are cut off: where cuts end at half steps one of 60 does not stay so.
 */
static const double tip_cosine = 0.469;

/* A corner that is too sharp becomes two, so far apart. */
static bool cut_tips(Polygon *f, double tip) {
    for (int i = 0; i < f->corners; i++) {
        Point a = at(f, i - 1), p = f->p[i], b = at(f, i + 1);
        double sharp = cosine(a, p, b), back = tip / sqrt(fmax(2 - 2 * sharp, 1e-9));
        double before = distance(a, p), behind = distance(p, b);
        if (sharp <= tip_cosine) continue;
        if (back >= before / 2 || back >= behind / 2 || f->corners == CORNERS_MAX) return false;
        memmove(f->p + i + 1, f->p + i, (size_t)(f->corners - i) * sizeof *f->p);
        f->corners++;
        f->p[i] = (Point){p.x + back / before * (a.x - p.x), p.y + back / before * (a.y - p.y)};
        f->p[i + 1] = (Point){p.x + back / behind * (b.x - p.x), p.y + back / behind * (b.y - p.y)};
        i++;
    }
    return true;
}

/* How far the farthest corner of one polygon lies outside the other. */
static double beyond(const Point *p, int corners, const Point *of, int count) {
    double most = 0;
    for (int i = 0; i < count; i++)
        for (int k = 0; k < corners; k++) most = fmax(most, -offset(p[k], p[(k + 1) % corners], of[i]));
    return most;
}

bool shape_fit(const ClosedShapes *shapes, const ClosedShape *shape, int most, double off, double tip,
               Outline *out) {
    const Point *hull = shapes->corner + shape->first;
    Polygon f = {.corners = shape->corners};
    if (f.corners > CORNERS_MAX || most > OUTLINE_MAX) return false;
    memcpy(f.p, hull, (size_t)f.corners * sizeof *f.p);
    while (f.corners > 3) {
        Step step = next_step(&f);
        if (step.moves > off && f.corners <= most) break;
        take_step(&f, step);
    }
    if (beyond(f.p, f.corners, hull, shape->corners) > 2 * off || !cut_tips(&f, tip) ||
        f.corners > OUTLINE_MAX)
        return false;
    double area = polygon_area(f.p, f.corners), round = 0;
    for (int i = 0; i < f.corners; i++) round += distance(f.p[i], at(&f, i + 1));
    if (area - shape->area > off * round) return false;
    *out = (Outline){.corners = f.corners};
    memcpy(out->corner, f.p, (size_t)f.corners * sizeof *f.p);
    return true;
}
