/* Public. Plane geometry: boxes, discs, polygons cut by a disc, the smallest enclosing circle.
 * SPDX-License-Identifier: MIT
 *
 * x to the right, y down. Lengths in whatever unit the caller uses; all of one call in the same. */
#ifndef LOGOCANE_GEOM_H
#define LOGOCANE_GEOM_H

#include <stdbool.h>
#include <stddef.h>

#define PI 3.14159265358979323846

typedef struct Point {
    double x, y;
} Point;

typedef struct Circle {
    double x, y, r; /* centre and radius, r >= 0 */
} Circle;

/* Half open: x <= X < x + w. */
typedef struct Box {
    int x, y, w, h;
} Box;

/* Does the box hold all of the other one? */
static inline bool box_holds(Box box, Box other) {
    return other.x >= box.x && other.y >= box.y && other.x + other.w <= box.x + box.w &&
           other.y + other.h <= box.y + box.h;
}

/* v brought within low..high. Unlike fmin and fmax no call, so that it can be used a million times. */
static inline double within(double v, double low, double high) {
    return v < low ? low : v > high ? high : v;
}

/* 0 at `from` and before, 1 at `to` and beyond, smooth between; `to` may be the smaller one. */
static inline double smooth_step(double from, double to, double at) {
    double t = within((at - from) / (to - from), 0, 1);
    return t * t * (3 - 2 * t);
}

/* The area of the polygon p[0..count), simple, whichever way round. */
double polygon_area(const Point *p, int count);

/* The exact area of the polygon's part inside the disc: a sum over the edges of the signed area of the disc's
 * part of the triangle (centre, p[i], p[i + 1]). Simple polygons, whichever way round. */
double polygon_disc_area(const Point *p, int count, Circle disc);

/* The box of the convex polygon's part inside the disc, from *low to *high; false if there is none. */
bool polygon_disc_box(const Point *p, int count, Circle disc, Point *low, Point *high);

/* Does the box lie wholly outside the disc? Touching it counts as outside. */
bool box_outside_disc(Box box, Circle disc);

/* The smallest circle that holds all points (Welzl 1991, the move-to-front form of de Berg et al.,
 * "Computational Geometry", 4.7), expected O(count) after a shuffle with a fixed seed; the points are
 * reordered. count 0: r = 0. */
Circle enclosing_circle(Point *p, size_t count);

#endif
