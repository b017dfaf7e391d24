/* Outlines. SPDX-License-Identifier: MIT */
#include "model/outline.h"

#include <math.h>

static const double slack = 1e-9;
/* A section that fills less of its width times length than this is a wedge, or tapers like one; ours. */
static const double taper_fill = 0.7;

Outline outline_of_box(double x, double y, double w, double h) {
    return (Outline){4, {{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}};
}

double outline_area(const Outline *o) {
    return polygon_area(o->corner, o->corners);
}

double outline_disc_area(const Outline *o, Circle disc) {
    return polygon_disc_area(o->corner, o->corners, disc);
}

bool outline_disc_box(const Outline *o, Circle disc, Point *low, Point *high) {
    return polygon_disc_box(o->corner, o->corners, disc, low, high);
}

Point outline_middle(const Outline *o) {
    Point sum = {0, 0};
    for (int i = 0; i < o->corners; i++) sum = (Point){sum.x + o->corner[i].x, sum.y + o->corner[i].y};
    return (Point){sum.x / o->corners, sum.y / o->corners};
}

/* Twice the area of the triangle a, b, p: over 0 if p lies to the right of the way from a to b, as seen. */
static double cross(Point a, Point b, Point p) {
    return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

static double distance(Point a, Point b) {
    return sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
}

int outline_side(const Outline *o, Point p) {
    int where = 1;
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = outline_next(o, i);
        double off = cross(a, b, p), edge = slack * distance(a, b);
        if (off < -edge) return -1;
        if (off <= edge) where = 0;
    }
    return where;
}

/* How far the outline reaches from the side's line; 0 where two corners are in one place. */
static double width_on(const Outline *o, int side) {
    const Point a = o->corner[side], b = outline_next(o, side);
    const double length = distance(a, b);
    double most = 0;
    for (int i = 0; i < o->corners; i++) {
        const double off = cross(a, b, o->corner[i]);
        if (off > most) most = off;
    }
    return length > 0 ? most / length : 0;
}

/* And along it. */
static double length_on(const Outline *o, int side) {
    const Point a = o->corner[side], b = outline_next(o, side);
    const double length = distance(a, b);
    double low = 0, high = length;
    for (int i = 0; i < o->corners; i++) {
        const Point p = o->corner[i];
        const double along = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
        if (along < low) low = along;
        if (along > high) high = along;
    }
    return high - low;
}

/* The least width is always met on a side. */
Width outline_width(const Outline *o) {
    Width least = {HUGE_VAL, 0, 0};
    for (int i = 0; i < o->corners; i++) {
        const double width = width_on(o, i);
        if (width >= least.width - slack) continue;
        least.width = width;
        least.side = i;
    }
    least.length = length_on(o, least.side);
    return least;
}

Shape outline_shape(const Outline *o) {
    if (o->corners == 3) return SHAPE_WEDGE;
    if (o->corners > 4) return SHAPE_CORNER_CUT;
    for (int i = 0; i < 4; i++) {
        Point a = o->corner[i], b = outline_next(o, i), c = o->corner[(i + 2) % 4];
        double along = (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y);
        if (fabs(along) > slack * distance(a, b) * distance(b, c)) return SHAPE_TAPERED;
    }
    return SHAPE_STRIP;
}

static bool too_sharp(const Outline *o, double sharpest) {
    for (int i = 0; i < o->corners; i++) {
        Point p = o->corner[i], a = o->corner[i > 0 ? i - 1 : o->corners - 1], b = outline_next(o, i);
        double dot = (a.x - p.x) * (b.x - p.x) + (a.y - p.y) * (b.y - p.y);
        if (cross(p, b, a) < sharpest * dot - slack) return true;
    }
    return false;
}

bool outline_can_be_formed(const Outline *o, const LayKey *key, double least) {
    if (o->corners > key->corners_most || too_sharp(o, key->sharpest)) return false;
    Width w = outline_width(o);
    bool tapers = outline_area(o) < taper_fill * w.width * w.length;
    return w.width >= (tapers ? key->taper_least : 1) * least - slack;
}

/* Towards the inside, one long. */
static Point inwards(Point a, Point b) {
    double length = distance(a, b);
    return (Point){(a.y - b.y) / length, (b.x - a.x) / length};
}

/* Where the corner goes if the side before it moves inwards by a, and the one behind it by b. Of equal ways
 * the sum is the same whichever side comes first, so that mirror images stay mirror images. */
static Point corner_inset(const Outline *o, int corner, double a, double b) {
    Point p = o->corner[corner];
    Point m = inwards(o->corner[corner > 0 ? corner - 1 : o->corners - 1], p);
    Point n = inwards(p, outline_next(o, corner));
    if (a == b) {
        double far = a / (1 + (m.x * n.x + m.y * n.y));
        return (Point){p.x + far * (m.x + n.x), p.y + far * (m.y + n.y)};
    }
    double across = m.x * n.y - m.y * n.x;
    return (Point){p.x + (a * n.y - b * m.y) / across, p.y + (b * m.x - a * n.x) / across};
}

bool outline_inset(const Outline *o, double by, int still, Outline *out) {
    Outline in = {.corners = o->corners};
    for (int i = 0; i < o->corners; i++) {
        int before = i > 0 ? i - 1 : o->corners - 1;
        in.corner[i] = corner_inset(o, i, before == still ? 0 : by, i == still ? 0 : by);
    }
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = outline_next(o, i), c = in.corner[i], d = outline_next(&in, i);
        if ((b.x - a.x) * (d.x - c.x) + (b.y - a.y) * (d.y - c.y) <= slack * distance(a, b)) return false;
    }
    *out = in;
    return true;
}

bool outline_can_be_wrapped(const Outline *o) {
    static const double tangent_of_60 = 1.7320508075688772;
    return !too_sharp(o, tangent_of_60);
}

/* The corners clockwise from place a to place b, both included. */
static bool walk(const Outline *o, OutlinePlace a, OutlinePlace b, Outline *out) {
    int between = (b.side - a.side + o->corners) % o->corners - b.corner;
    if (between < 1 || between + 2 > OUTLINE_MAX) return false;
    out->corners = between + 2;
    out->corner[0] = a.at;
    for (int i = 1; i <= between; i++) out->corner[i] = o->corner[(a.side + i) % o->corners];
    out->corner[between + 1] = b.at;
    return true;
}

bool outline_cut(const Outline *o, OutlinePlace a, OutlinePlace b, Outline *before, Outline *after) {
    Outline rest, part;
    if (a.side == b.side || !walk(o, b, a, &rest) || !walk(o, a, b, &part)) return false;
    *before = rest;
    *after = part;
    return true;
}

bool outline_same(const Outline *a, const Outline *b, double apart) {
    if (a->corners != b->corners) return false;
    for (int first = 0; first < b->corners; first++) {
        int i = 0;
        for (; i < a->corners; i++) {
            Point p = a->corner[i], q = b->corner[(first + i) % b->corners];
            if (fabs(p.x - q.x) > apart || fabs(p.y - q.y) > apart) break;
        }
        if (i == a->corners) return true;
    }
    return false;
}
