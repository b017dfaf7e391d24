/* Sections. SPDX-License-Identifier: MIT */
#include "model/section.h"

#include <math.h>

static const double slack = 1e-6;        /* lengths that differ by less are equal but for errors of sums */
static const double square_slack = 1e-7; /* likewise of sines and cosines */

static double length_of(Point p) {
    return sqrt(p.x * p.x + p.y * p.y);
}

/* From the corner to the next one, which it may be asked for beyond the last. */
static Point side_of(const Outline *o, int i) {
    Point a = o->corner[i % o->corners], b = o->corner[(i + 1) % o->corners];
    return (Point){b.x - a.x, b.y - a.y};
}

static bool is_parallel(Point a, Point b) {
    return fabs(a.x * b.y - a.y * b.x) <= square_slack * length_of(a) * length_of(b);
}

static bool is_square(Point a, Point b) {
    return fabs(a.x * b.x + a.y * b.y) <= square_slack * length_of(a) * length_of(b);
}

/* Clockwise as seen, the base runs from its right end to its left one. */
Outline section_on(const Outline *o, int base, bool mirrored) {
    const int n = o->corners;
    Outline out = {.corners = n};
    Point right = o->corner[base], side = side_of(o, base);
    double length = length_of(side), left_most = 0, high = 0;
    for (int i = 0; i < n; i++) {
        Point p = o->corner[mirrored ? (base - i + n) % n : (base + 1 + i) % n];
        double dx = p.x - right.x, dy = p.y - right.y;
        double along = (dx * side.x + dy * side.y) / length; /* from the right end on to the left */
        double up = (side.x * dy - side.y * dx) / length;
        if (i == 0 || i == n - 1) up = 0;
        out.corner[i] = (Point){mirrored ? along : -along, up};
        left_most = i == 0 ? out.corner[i].x : fmin(left_most, out.corner[i].x);
        high = fmax(high, up);
    }
    for (int i = 0; i < n; i++) out.corner[i] = (Point){out.corner[i].x - left_most, high - out.corner[i].y};
    return out;
}

/* A way to lay an outline. */
typedef struct Lying {
    bool parallel; /* a side opposite is parallel to the base */
    int square;    /* right angles at its ends */
    double length;
    int base;
    Outline section;
} Lying;

static Lying lie(const Outline *o, int base, bool mirrored) {
    Point side = side_of(o, base), before = side_of(o, base + o->corners - 1), after = side_of(o, base + 1);
    Lying l = {.length = length_of(side), .base = base, .section = section_on(o, base, mirrored)};
    for (int i = 2; i + 1 < o->corners; i++) l.parallel |= is_parallel(side, side_of(o, base + i));
    l.square = is_square(side, before) + is_square(side, after);
    return l;
}

static int compare_lengths(double a, double b) {
    return fabs(a - b) <= slack ? 0 : a < b ? -1 : 1;
}

/* Is it better to lay it like a than like b? */
static bool lies_better(const Lying *a, const Lying *b) {
    if (a->parallel != b->parallel) return a->parallel;
    if (a->square != b->square) return a->square > b->square;
    int order = compare_lengths(b->length, a->length);
    for (int i = 0; i < a->section.corners && !order; i++) {
        order = compare_lengths(a->section.corner[i].x, b->section.corner[i].x);
        if (!order) order = compare_lengths(a->section.corner[i].y, b->section.corner[i].y);
    }
    return order < 0;
}

/* No side but of so much length is a base: a corner-cut strip would else stand on its tip, if that is square.
 */
static double least_base(const Outline *o) {
    double longest = 0;
    for (int i = 0; i < o->corners; i++) longest = fmax(longest, length_of(side_of(o, i)));
    return o->corners > 4 ? longest / 2 - slack : 0;
}

Outline section_of(const Outline *o, int *base) {
    Lying best = {.length = -1};
    double least = least_base(o);
    for (int i = 0; i < 2 * o->corners; i++) {
        Lying other = lie(o, i / 2, i % 2);
        if (other.length >= least && (best.length < 0 || lies_better(&other, &best))) best = other;
    }
    if (base) *base = best.base;
    return best.section;
}

double section_perimeter(const Outline *section) {
    double sum = 0;
    for (int i = 0; i < section->corners; i++) sum += length_of(side_of(section, i));
    return sum;
}

bool section_fits(const Outline *section, const Outline *o, double apart) {
    double areas = outline_area(section) - outline_area(o);
    if (section->corners != o->corners || fabs(areas) > 2 * apart * section_perimeter(section)) return false;
    for (int way = 0; way < 2 * o->corners; way++) {
        Outline other = section_on(o, way / 2, way % 2);
        int i = 0;
        for (; i < o->corners; i++)
            if (fabs(other.corner[i].x - section->corner[i].x) > apart ||
                fabs(other.corner[i].y - section->corner[i].y) > apart)
                break;
        if (i == o->corners) return true;
    }
    return false;
}

bool section_is_strip(const Outline *section, double apart, Outline *strip) {
    if (section->corners != 4) return false;
    const Point *c = section->corner;
    double w = (c[3].x - c[0].x + c[2].x - c[1].x) / 2;
    if (w <= 0) return false;
    double h = outline_area(section) / w, high = section_high(section);
    double left = (c[0].x + c[1].x + c[2].x + c[3].x) / 4 - w / 2;
    Outline box = outline_of_box(left, high - h, w, h); /* from its top left corner, clockwise */
    for (int i = 0; i < 4; i++) {
        Point p = c[i], q = box.corner[(i + 3) % 4];
        if (length_of((Point){p.x - q.x, p.y - q.y}) > apart) return false;
    }
    Outline level = outline_of_box(0, 0, fmax(w, h), fmin(w, h));
    *strip = section_on(&level, 2, false);
    return true;
}

double section_wide(const Outline *section) {
    double most = 0;
    for (int i = 0; i < section->corners; i++) most = fmax(most, section->corner[i].x);
    return most;
}

double section_high(const Outline *section) {
    return section->corner[0].y;
}

double section_up(const Outline *section, int corner) {
    return section->corner[0].y - section->corner[corner].y;
}

Outline section_scaled(const Outline *section, double scale) {
    Outline out = *section;
    for (int i = 0; i < out.corners; i++)
        out.corner[i] = (Point){out.corner[i].x * scale, out.corner[i].y * scale};
    return out;
}
