/* Plane geometry. SPDX-License-Identifier: MIT */
#include "base/geom.h"

#include <math.h>
#include <stdint.h>

double polygon_area(const Point *p, int count) {
    double twice = 0;
    for (int i = 0; i < count; i++) {
        Point a = p[i], b = p[(i + 1) % count];
        twice += a.x * b.y - b.x * a.y;
    }
    return fabs(twice) / 2;
}

/* Signed area of the sector of the disc of radius r (centre 0) from direction a to direction b. */
static double sector(Point a, Point b, double r) {
    return r * r * atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y) / 2;
}

static Point along(Point a, Point b, double t) {
    return (Point){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

/* Signed area of the part of triangle (0, a, b) inside the disc of radius r about 0: the edge is cut where it
 * meets the circle; pieces inside count as triangles, pieces outside as sectors. */
static double edge_disc_area(Point a, Point b, double r) {
    double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
    if (length2 == 0) return 0;
    double middle = -(a.x * dx + a.y * dy) / length2;
    Point foot = along(a, b, middle);
    double half2 = (r * r - foot.x * foot.x - foot.y * foot.y) / length2;
    if (half2 <= 0) return sector(a, b, r);
    double from = middle - sqrt(half2), to = middle + sqrt(half2);
    if (to <= 0 || from >= 1) return sector(a, b, r);
    double area = 0;
    Point in = a, out = b;
    if (from > 0) {
        in = along(a, b, from);
        area += sector(a, in, r);
    }
    if (to < 1) {
        out = along(a, b, to);
        area += sector(out, b, r);
    }
    return area + (in.x * out.y - in.y * out.x) / 2;
}

double polygon_disc_area(const Point *p, int count, Circle disc) {
    double area = 0;
    for (int i = 0; i < count; i++) {
        Point a = p[i], b = p[(i + 1) % count];
        area +=
            edge_disc_area((Point){a.x - disc.x, a.y - disc.y}, (Point){b.x - disc.x, b.y - disc.y}, disc.r);
    }
    return fabs(area);
}

typedef struct Extent {
    Point low, high;
    bool any;
} Extent;

static void extend(Extent *e, Point p) {
    e->low = e->any ? (Point){fmin(e->low.x, p.x), fmin(e->low.y, p.y)} : p;
    e->high = e->any ? (Point){fmax(e->high.x, p.x), fmax(e->high.y, p.y)} : p;
    e->any = true;
}

/* The ends of the edge's part inside the disc. */
static void extend_by_edge(Extent *e, Point a, Point b, Circle disc) {
    double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
    if (length2 == 0) return;
    double middle = ((disc.x - a.x) * dx + (disc.y - a.y) * dy) / length2;
    double off2 = pow(a.x + middle * dx - disc.x, 2) + pow(a.y + middle * dy - disc.y, 2);
    double half = sqrt(fmax(disc.r * disc.r - off2, 0) / length2);
    double from = fmax(middle - half, 0), to = fmin(middle + half, 1);
    if (off2 >= disc.r * disc.r || from >= to) return;
    extend(e, along(a, b, from));
    extend(e, along(a, b, to));
}

/* Or on its edge, to what rounding a turned polygon leaves: a disc's pole often touches a side. */
static bool inside_convex(const Point *p, int count, Point q) {
    static const double slack = 1e-9; /* of a length */
    int left = 0, right = 0;
    for (int i = 0; i < count; i++) {
        Point a = p[i], b = p[(i + 1) % count];
        double cross = (b.x - a.x) * (q.y - a.y) - (b.y - a.y) * (q.x - a.x);
        double least = slack * (fabs(b.x - a.x) + fabs(b.y - a.y));
        left += cross < -least;
        right += cross > least;
    }
    return left == 0 || right == 0;
}

bool polygon_disc_box(const Point *p, int count, Circle disc, Point *low, Point *high) {
    const Point pole[4] = {{disc.x - disc.r, disc.y},
                           {disc.x + disc.r, disc.y},
                           {disc.x, disc.y - disc.r},
                           {disc.x, disc.y + disc.r}};
    Extent e = {0};
    for (int i = 0; i < count; i++) extend_by_edge(&e, p[i], p[(i + 1) % count], disc);
    for (int i = 0; i < 4; i++)
        if (inside_convex(p, count, pole[i])) extend(&e, pole[i]);
    if (!e.any) return false;
    *low = e.low;
    *high = e.high;
    return true;
}

bool box_outside_disc(Box box, Circle disc) {
    double x = fmax(0, fmax(box.x - disc.x, disc.x - (box.x + box.w)));
    double y = fmax(0, fmax(box.y - disc.y, disc.y - (box.y + box.h)));
    return x * x + y * y >= disc.r * disc.r;
}

static bool holds(Circle c, Point p) {
    double slack = 1e-9 * (1 + c.r);
    return hypot(p.x - c.x, p.y - c.y) <= c.r + slack;
}

static Circle circle_of_two(Point a, Point b) {
    return (Circle){(a.x + b.x) / 2, (a.y + b.y) / 2, hypot(a.x - b.x, a.y - b.y) / 2};
}

static Circle circle_of_three(Point a, Point b, Point c) {
    double bx = b.x - a.x, by = b.y - a.y, cx = c.x - a.x, cy = c.y - a.y;
    double cross = 2 * (bx * cy - by * cx);
    if (fabs(cross) < 1e-12 * (fabs(bx * cy) + fabs(by * cx)) ||
        cross == 0) { /* in line: the two farthest apart */
        Circle best = circle_of_two(a, b), ac = circle_of_two(a, c), bc = circle_of_two(b, c);
        if (ac.r > best.r) best = ac;
        return bc.r > best.r ? bc : best;
    }
    double b2 = bx * bx + by * by, c2 = cx * cx + cy * cy;
    double x = (cy * b2 - by * c2) / cross, y = (bx * c2 - cx * b2) / cross;
    return (Circle){a.x + x, a.y + y, hypot(x, y)};
}

static void shuffle(Point *p, size_t count) {
    uint64_t state = 0x9E3779B97F4A7C15u;
    for (size_t i = count; i > 1; i--) {
        state = state * 6364136223846793005u + 1442695040888963407u; /* Knuth's MMIX generator */
        size_t j = (size_t)((state >> 33) % i);
        Point keep = p[i - 1];
        p[i - 1] = p[j];
        p[j] = keep;
    }
}

/* The smallest circle of p[0..count) with a (and b) on it: the loops of de Berg et al., 4.7. */
static Circle through_two(const Point *p, size_t count, Point a, Point b) {
    Circle c = circle_of_two(a, b);
    for (size_t i = 0; i < count; i++)
        if (!holds(c, p[i])) c = circle_of_three(a, b, p[i]);
    return c;
}

static Circle through_one(const Point *p, size_t count, Point a) {
    Circle c = {a.x, a.y, 0};
    for (size_t i = 0; i < count; i++)
        if (!holds(c, p[i])) c = through_two(p, i, a, p[i]);
    return c;
}

Circle enclosing_circle(Point *p, size_t count) {
    if (count == 0) return (Circle){0};
    shuffle(p, count);
    Circle c = {p[0].x, p[0].y, 0};
    for (size_t i = 1; i < count; i++)
        if (!holds(c, p[i])) c = through_one(p, i, p[i]);
    return c;
}
