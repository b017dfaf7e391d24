/* Blocks laid into their places by code of its own, shift by shift and turn by turn, and what the face shows
 * then: what the program says of ways round is held against it. SPDX-License-Identifier: MIT
 *
 * Lengths in steps. How far two convex polygons are apart is asked of their corners; the best shift is found
 * by feeling about; the face is told point by point. Nothing of the program is called but rotations written
 * out here. */
#ifndef LOGOCANE_TESTS_LAID_BY_HAND_H
#define LOGOCANE_TESTS_LAID_BY_HAND_H

#include "base/geom.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum {
    HAND_CORNERS = 96, /* of an outline that the core's edge cuts */
    HAND_CORE = 60,    /* corners that the core has */
    HAND_PARTS = 400,  /* ropes and sheets */
    HAND_SIDE = 340,   /* points */
    HAND_FINE = 4,     /* points a step */
    HAND_OUT = 255     /* no candy */
};

typedef struct HandShape {
    int corners; /* clockwise as seen */
    Point corner[HAND_CORNERS];
} HandShape;

/* A rope or a sheet; a round one is the disc that touches the sides of its outline, an upright square. */
typedef struct HandPart {
    int candy;
    bool round;
    HandShape outline, inner; /* of a sheet, what it goes round; else no corners */
} HandPart;

typedef struct HandFace {
    int steps, parts; /* the core is as wide as that */
    HandPart part[HAND_PARTS];
    unsigned char candy[HAND_SIDE][HAND_SIDE]; /* [y][x] by hand_paint */
} HandFace;

/* How a block lies: end for end or not, then turned clockwise about its middle, then shifted. */
typedef struct HandWay {
    bool mirrored;
    double angle;
    Point middle, shift;
    double apart; /* of the block and its place */
} HandWay;

/* --- shapes --- */

static inline double hand_cross(Point a, Point b, Point p) {
    return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

static inline bool hand_inside(const HandShape *s, Point p) {
    for (int i = 0; i < s->corners; i++)
        if (hand_cross(s->corner[i], s->corner[(i + 1) % s->corners], p) < 0) return false;
    return s->corners > 0;
}

static inline bool hand_in_disc(const HandShape *square, Point p) {
    Point a = square->corner[0], b = square->corner[2];
    double x = p.x - (a.x + b.x) / 2, y = p.y - (a.y + b.y) / 2, r = fabs(a.x - b.x) / 2;
    return x * x + y * y < r * r;
}

/* What of it lies inside the core, whose edge becomes short sides. */
static inline HandShape hand_cut(HandShape shape, double steps) {
    for (int k = 0; k < HAND_CORE; k++) {
        double u = 2 * PI * k / HAND_CORE, v = 2 * PI * (k + 1) / HAND_CORE, r = steps / 2;
        Point a = {r + r * cos(u), r + r * sin(u)}, b = {r + r * cos(v), r + r * sin(v)};
        HandShape out = {0};
        for (int i = 0; i < shape.corners; i++) {
            Point p = shape.corner[i], q = shape.corner[(i + 1) % shape.corners];
            double f = hand_cross(a, b, p), g = hand_cross(a, b, q);
            if (f >= 0) out.corner[out.corners++] = p;
            if ((f > 0 && g < 0) || (f < 0 && g > 0))
                out.corner[out.corners++] =
                    (Point){p.x + f / (f - g) * (q.x - p.x), p.y + f / (f - g) * (q.y - p.y)};
        }
        shape = out;
    }
    return shape;
}

static inline Point hand_middle(const HandShape *s) {
    double area = 0, x = 0, y = 0;
    for (int i = 0; i < s->corners; i++) {
        Point p = s->corner[i], q = s->corner[(i + 1) % s->corners];
        double a = p.x * q.y - q.x * p.y;
        area += a;
        x += a * (p.x + q.x);
        y += a * (p.y + q.y);
    }
    return (Point){x / (3 * area), y / (3 * area)};
}

static inline Point hand_moved(Point p, const HandWay *w) {
    double x = w->mirrored ? w->middle.x - p.x : p.x - w->middle.x, y = p.y - w->middle.y;
    double c = cos(w->angle), s = sin(w->angle);
    return (Point){w->middle.x + c * x - s * y + w->shift.x, w->middle.y + s * x + c * y + w->shift.y};
}

/* What goes to p. */
static inline Point hand_origin(Point p, const HandWay *w) {
    double u = p.x - w->shift.x - w->middle.x, v = p.y - w->shift.y - w->middle.y;
    double c = cos(w->angle), s = sin(w->angle), x = c * u + s * v;
    return (Point){w->middle.x + (w->mirrored ? -x : x), w->middle.y + c * v - s * u};
}

static inline HandShape hand_shape_moved(const HandShape *s, const HandWay *w) {
    HandShape out = {.corners = s->corners};
    for (int i = 0; i < s->corners; i++)
        out.corner[i] = hand_moved(s->corner[w->mirrored ? s->corners - 1 - i : i], w);
    return out;
}

/* --- how far apart --- */

/* The most that a corner of `a`, shifted, lies outside of `b`; `most` if it is no more. */
static inline double hand_outside(const HandShape *a, Point shift, const HandShape *b, double most) {
    for (int i = 0; i < a->corners; i++) {
        Point p = {a->corner[i].x + shift.x, a->corner[i].y + shift.y};
        double near = HUGE_VAL;
        bool out = false;
        for (int k = 0; k < b->corners; k++) {
            Point q = b->corner[k], r = b->corner[(k + 1) % b->corners];
            if (hand_cross(q, r, p) >= 0) continue;
            double x = r.x - q.x, y = r.y - q.y, part = ((p.x - q.x) * x + (p.y - q.y) * y) / (x * x + y * y);
            part = part < 0 ? 0 : part > 1 ? 1 : part;
            x = q.x + part * x - p.x;
            y = q.y + part * y - p.y;
            near = fmin(near, x * x + y * y);
            out = true;
        }
        if (out && near > most * most) most = sqrt(near);
    }
    return most;
}

static inline double hand_apart(const HandShape *a, const HandShape *b, Point shift) {
    return hand_outside(b, (Point){-shift.x, -shift.y}, a, hand_outside(a, shift, b, 0));
}

/* Feels about for the best shift of a block that is turned by that angle about its middle; not if it is more
 * than `hopeless` off with middle on middle. */
static inline HandWay hand_lay(const HandShape *block, double angle, bool mirrored, double hopeless) {
    enum { ROUND = 12 };
    HandWay way = {mirrored, angle, hand_middle(block), {0, 0}, 0};
    HandShape turned = hand_shape_moved(block, &way);
    way.apart = hand_apart(&turned, block, way.shift);
    if (way.apart > hopeless) return way;
    for (double step = 1; step > 0.005;) {
        bool better = false;
        for (int i = 0; i < ROUND; i++) {
            Point to = {way.shift.x + step * cos(2 * PI * i / ROUND),
                        way.shift.y + step * sin(2 * PI * i / ROUND)};
            double apart = hand_apart(&turned, block, to);
            if (apart >= way.apart - 1e-6) continue;
            way.apart = apart;
            way.shift = to;
            better = true;
        }
        if (!better) step /= 2;
    }
    return way;
}

/* --- what it shows --- */

static inline int hand_candy(const HandFace *f, Point p) {
    double r = f->steps / 2.0;
    if ((p.x - r) * (p.x - r) + (p.y - r) * (p.y - r) >= r * r) return HAND_OUT;
    for (int round = 1; round >= 0; round--)
        for (int i = f->parts - 1; i >= 0; i--) {
            const HandPart *part = &f->part[i];
            if (part->round != (bool)round) continue;
            bool in = round ? hand_in_disc(&part->outline, p) : hand_inside(&part->outline, p);
            bool hole = part->inner.corners > 0 &&
                        (round ? hand_in_disc(&part->inner, p) : hand_inside(&part->inner, p));
            if (in && !hole) return part->candy;
        }
    return HAND_OUT;
}

/* The middle of a point of the raster. */
static inline Point hand_point(int x, int y) {
    return (Point){(x + 0.5) / HAND_FINE, (y + 0.5) / HAND_FINE};
}

static inline void hand_paint(HandFace *f) {
    for (int y = 0; y < f->steps * HAND_FINE; y++)
        for (int x = 0; x < f->steps * HAND_FINE; x++)
            f->candy[y][x] = (unsigned char)hand_candy(f, hand_point(x, y));
}

/* The face with the block laid that way. What no part of it covers is `beyond`, or stays as it is if that is
 * under 0. Returns the share of the block that is not as it was; `beyond` counts as changed. */
static inline double hand_lay_again(const HandFace *f, const HandShape *block, const HandWay *way, int beyond,
                                    unsigned char out[HAND_SIDE][HAND_SIDE]) {
    long all = 0, changed = 0;
    memcpy(out, f->candy, sizeof f->candy);
    for (int y = 0; y < f->steps * HAND_FINE; y++)
        for (int x = 0; x < f->steps * HAND_FINE; x++) {
            if (f->candy[y][x] == HAND_OUT || !hand_inside(block, hand_point(x, y))) continue;
            Point from = hand_origin(hand_point(x, y), way);
            int candy = hand_inside(block, from) ? hand_candy(f, from) : beyond;
            if (candy >= 0) out[y][x] = (unsigned char)candy;
            all++;
            changed += out[y][x] != f->candy[y][x];
        }
    return all ? (double)changed / (double)all : 0;
}

/* Number i of the eight ways to lay the whole. */
static inline int hand_whole(const HandFace *f, int i, int x, int y) {
    int last = f->steps * HAND_FINE - 1;
    if (i >= 4) x = last - x;
    for (int k = 0; k < i % 4; k++) {
        int swap = x;
        x = y;
        y = last - swap;
    }
    return f->candy[y][x];
}

/* Is the whole, laid that way, different from `other` in a square of so many points a side? */
static inline bool hand_differs(const HandFace *f, int i, unsigned char other[HAND_SIDE][HAND_SIDE],
                                int square) {
    int side = f->steps * HAND_FINE, run[HAND_SIDE] = {0};
    for (int y = 0; y < side; y++) {
        int across = 0;
        for (int x = 0; x < side; x++) {
            run[x] = hand_whole(f, i, x, y) != other[y][x] ? run[x] + 1 : 0;
            across = run[x] >= square ? across + 1 : 0;
            if (across >= square) return true;
        }
    }
    return false;
}

/* Does the face show another picture, however it is looked at? */
static inline bool hand_spoils(const HandFace *f, unsigned char other[HAND_SIDE][HAND_SIDE], int square) {
    for (int i = 0; i < 8; i++)
        if (!hand_differs(f, i, other, square)) return false;
    return true;
}

#endif
