/* Places along outlines, and halves of a picture that is its own mirror image. SPDX-License-Identifier: MIT
 *
 * Of such a picture only the half is laid. What has a side on the axis is one with its mirror image; all
 * else is there twice. So that all joins are straight, a cut that ends inside a side on the axis is at right
 * angles to it and goes on beyond; any other stays on its side, and so does its mirror image. A side that
 * goes on beyond the axis has no corner there, so that steps along it are counted from its outer one. */
#include "plan/slant.h"

#include <math.h>

static double distance(Point a, Point b) {
    return sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
}

double side_length(const Outline *o, int side) {
    return distance(o->corner[side], outline_next(o, side));
}

/* --- places --- */

/* At the whole or half step nearest to `along`, counted from either corner of the side. */
static OutlinePlace place_on(const Outline *o, int side, double along) {
    double length = side_length(o, side), at = rint(2 * along) / 2;
    double back = length - rint(2 * (length - along)) / 2;
    if (fabs(back - along) < fabs(at - along) - 1e-9) at = back;
    Point a = o->corner[side], b = outline_next(o, side);
    if (at <= 1e-9) return (OutlinePlace){side, true, a};
    if (at >= length - 1e-9) return (OutlinePlace){side + 1 < o->corners ? side + 1 : 0, true, b};
    Point p = {a.x + at * ((b.x - a.x) / length), a.y + at * ((b.y - a.y) / length)};
    return (OutlinePlace){side, false, p};
}

OutlinePlace place_moved(const Outline *o, OutlinePlace from, double by) {
    double along = distance(o->corner[from.side], from.at) + by;
    int side = from.side;
    while (along < 0) {
        side = side > 0 ? side - 1 : o->corners - 1;
        along += side_length(o, side);
    }
    for (double length; length = side_length(o, side), along > length; along -= length)
        side = side + 1 < o->corners ? side + 1 : 0;
    return place_on(o, side, along);
}

/* The line goes in where the corners change from its right to its left, and out where they change back. */
bool line_meets(const Outline *o, const Point line[2], OutlinePlace place[2]) {
    double off[OUTLINE_MAX], dx = line[1].x - line[0].x, dy = line[1].y - line[0].y;
    double slack = 1e-9 * sqrt(dx * dx + dy * dy);
    bool in = false, out = false;
    for (int i = 0; i < o->corners; i++) {
        off[i] = dx * (o->corner[i].y - line[0].y) - dy * (o->corner[i].x - line[0].x);
        if (fabs(off[i]) <= slack) off[i] = 0;
    }
    for (int i = 0; i < o->corners; i++) {
        double here = off[i], next = off[i + 1 < o->corners ? i + 1 : 0];
        if ((here >= 0) == (next >= 0)) continue;
        bool enters = here >= 0;
        place[!enters] = place_on(o, i, side_length(o, i) * (here / (here - next)));
        *(enters ? &in : &out) = true;
    }
    return in && out;
}

bool line_places(const Tree *t, const Outline *o, const Point line[2], OutlinePlace place[2]) {
    return line_meets(o, line, place) && level_end(t, o, place);
}

bool lies_first(const Outline *o, const Point line[2]) {
    double sum = 0, dx = line[1].x - line[0].x, dy = line[1].y - line[0].y;
    for (int i = 0; i < o->corners; i++)
        sum += dx * (o->corner[i].y - line[0].y) - dy * (o->corner[i].x - line[0].x);
    return sum > 0;
}

/* --- halves --- */

Outline tree_outline(const Tree *t) {
    double n = t->grid->steps;
    return outline_of_box(0, 0, t->axis == AXIS_UPRIGHT ? t->half : n, t->axis == AXIS_LEVEL ? t->half : n);
}

bool is_on_axis(const Tree *t, Point p) {
    return t->axis != AXIS_NONE && (t->axis == AXIS_UPRIGHT ? p.x : p.y) == t->half;
}

int axis_side(const Tree *t, const Outline *o) {
    for (int i = 0; t->axis != AXIS_NONE && i < o->corners; i++)
        if (is_on_axis(t, o->corner[i]) && is_on_axis(t, outline_next(o, i))) return i;
    return -1;
}

/* A side at right angles to the axis goes on in its mirror image: what lies on it is brought to a whole or
 * half step from its outer corner. False if there is none inside the side. */
static bool step_end(const Tree *t, const Outline *o, int axis, OutlinePlace *end) {
    const int next = (axis + 1) % o->corners, last = (axis + o->corners - 1) % o->corners;
    const bool before = end->side == (end->corner ? axis : last);
    if (!before && end->side != next) return true;
    Point inner = o->corner[before ? axis : next], outer = o->corner[before ? last : (next + 1) % o->corners];
    double rise = t->axis == AXIS_UPRIGHT ? outer.y - inner.y : outer.x - inner.x;
    double length = distance(outer, inner), from = distance(outer, end->at), at = rint(2 * from) / 2;
    if (fabs(rise) > 1e-9 || fabs(at - from) <= 1e-9) return true;
    if (at > length - 1e-9) at -= 0.5;
    if (at <= 1e-9) return false;
    const double part = at / length;
    const Point p = {outer.x + part * (inner.x - outer.x), outer.y + part * (inner.y - outer.y)};
    *end = (OutlinePlace){before ? last : next, false, p};
    return true;
}

bool level_end(const Tree *t, const Outline *o, OutlinePlace end[2]) {
    const int side = axis_side(t, o);
    for (int i = 0; i < 2 && side >= 0; i++)
        if (!step_end(t, o, side, &end[i])) return false;
    for (int i = 0; i < 2 && side >= 0; i++) {
        if (end[i].corner || end[i].side != side) continue;
        Point p = end[!i].at;
        if (is_on_axis(t, p)) return false;
        *(t->axis == AXIS_UPRIGHT ? &p.x : &p.y) = t->half;
        Point a = o->corner[side], b = outline_next(o, side);
        double length = side_length(o, side);
        double along = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
        if (along < 0.25 || along > length - 0.25) return false;
        end[i].at = p;
    }
    return true;
}

Point point_mirrored(const Tree *t, Point p) {
    return t->axis == AXIS_UPRIGHT ? (Point){2 * t->half - p.x, p.y} : (Point){p.x, 2 * t->half - p.y};
}

/* Adds a corner, unless it lies on the straight line between its neighbours. */
static void add_turning(Outline *o, Point before, Point p, Point after) {
    double cross = (p.x - before.x) * (after.y - p.y) - (p.y - before.y) * (after.x - p.x);
    if (fabs(cross) > 1e-9 && o->corners < OUTLINE_MAX) o->corner[o->corners++] = p;
}

/* Clockwise, one runs along the axis from its corner `from` to the next: it is followed from there on round
 * to `from`, then the other back the same way beyond the axis. Either has at most half of OUTLINE_MAX
 * corners. */
Outline outline_mirrored(const Tree *t, const Outline *one, const Outline *other) {
    const int from = axis_side(t, one), back = axis_side(t, other), m = one->corners, n = other->corners;
    Outline out = {0};
    for (int i = 2; i < m; i++) out.corner[out.corners++] = one->corner[(from + i) % m];
    Point last = one->corner[(from + m - 1) % m], next = point_mirrored(t, other->corner[(back + n - 1) % n]);
    add_turning(&out, last, one->corner[from], next);
    for (int i = 1; i < n - 1; i++)
        out.corner[out.corners++] = point_mirrored(t, other->corner[(back + n - i) % n]);
    last = point_mirrored(t, other->corner[(back + 2) % n]);
    add_turning(&out, last, one->corner[(from + 1) % m], one->corner[(from + 2) % m]);
    return out;
}

/* --- at the rim --- */

/* Of a least strip squared: so little inside the core is neither seen nor laid; ours. */
static const double nothing = 0.02;

/* What the core leaves of an outline, its arcs by a few points. */
typedef struct Rest {
    Outline outline;
    bool full; /* there were more corners than it can hold */
} Rest;

static void add_corner(Rest *r, Point p) {
    if (r->outline.corners < OUTLINE_MAX)
        r->outline.corner[r->outline.corners++] = p;
    else
        r->full = true;
}

/* The point of the circle half way between two others of it, less than half round. */
static Point between(Circle c, Point p, Point q) {
    double x = p.x + q.x - 2 * c.x, y = p.y + q.y - 2 * c.y, far = sqrt(x * x + y * y);
    return (Point){c.x + x / far * c.r, c.y + y / far * c.r};
}

static void add_arc(Rest *r, Circle core, Point p, Point q) {
    Point middle = between(core, p, q);
    add_corner(r, between(core, p, middle));
    add_corner(r, middle);
    add_corner(r, between(core, middle, q));
}

/* The part of the side inside the core, 0..1 from its first corner; false if there is none. */
static bool side_inside(const Outline *o, int side, Circle core, double part[2]) {
    Point a = o->corner[side], b = outline_next(o, side);
    double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
    double middle = ((core.x - a.x) * dx + (core.y - a.y) * dy) / length2;
    double x = a.x + middle * dx - core.x, y = a.y + middle * dy - core.y;
    double half2 = (core.r * core.r - x * x - y * y) / length2;
    if (half2 <= 0) return false;
    part[0] = fmax(middle - sqrt(half2), 0);
    part[1] = fmin(middle + sqrt(half2), 1);
    return part[0] < part[1];
}

/* Side by side; where the outline leaves the core and comes back, along the core's edge. */
static Rest rest_of(const Outline *o, Circle core) {
    Rest r = {0};
    Point left = {0}, first = {0};
    bool out = false, any = false, began_out = false;
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = outline_next(o, i);
        double part[2];
        if (!side_inside(o, i, core, part)) continue;
        Point from = {a.x + part[0] * (b.x - a.x), a.y + part[0] * (b.y - a.y)};
        Point to = {a.x + part[1] * (b.x - a.x), a.y + part[1] * (b.y - a.y)};
        if (!any) {
            first = from;
            began_out = part[0] > 0;
        }
        if (out) add_arc(&r, core, left, from);
        add_corner(&r, from);
        out = part[1] < 1;
        if (out) add_corner(&r, to);
        left = to;
        any = true;
    }
    if (any && (out || began_out)) add_arc(&r, core, left, first);
    return r;
}

/* Of a rope that the core's edge cuts so little may be left that no hand could form it: then it is pressed
 * in, or it is to be as wide as a wedge is. What holds the middle of the core is wide. */
static bool holds_at_rim(const Tree *t, const Outline *o, double least) {
    const Circle core = t->grid->core;
    bool cut = false;
    for (int i = 0; i < o->corners; i++) {
        double x = o->corner[i].x - core.x, y = o->corner[i].y - core.y;
        cut |= x * x + y * y > core.r * core.r;
    }
    if (!cut || outline_side(o, (Point){core.x, core.y}) >= 0) return true;
    Rest r = rest_of(o, core);
    if (r.full || r.outline.corners < 3 || outline_disc_area(o, core) < nothing * least * least) return true;
    return outline_width(&r.outline).width >= t->key->taper_least * least;
}

bool can_be_rope(const Tree *t, const Outline *o, bool fine) {
    double least = fine ? t->fine_least : t->least;
    if (axis_side(t, o) < 0) return outline_can_be_formed(o, t->key, least) && holds_at_rim(t, o, least);
    Outline whole = outline_mirrored(t, o, o);
    return outline_can_be_formed(&whole, t->key, least) && holds_at_rim(t, &whole, least);
}
