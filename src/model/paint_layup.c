/* A lay-up as a raster. SPDX-License-Identifier: MIT
 *
 * 1. Ropes, what is pressed in about something round, and sheets with corners. A middle on the line between
 * two goes to the candy that comes first in the palette, whichever is painted first; "on the line" is to a
 * millionth of a point, so that the same place is on it in every mirror image.
 * 2. Then what is round, over what is pressed in about it. No middle lies on a circle whose own middle and
 * radius are half steps: its distance squared is half a point squared more than a whole number of them. */
#include "model/layup.h"

#include "model/grid.h"
#include "model/wrapped.h"

#include <math.h>
#include <string.h>

static const double slack = 1e-6; /* points */

typedef struct Raster {
    int parts, side; /* points a step; points */
    uint8_t *candy;
} Raster;

/* Where a row of points crosses an outline, in points from the left: its middles from `low` to `high` lie
 * inside, on the edge where they are equal to one of them. Low over high: nowhere. */
typedef struct Crossing {
    double low, high;
} Crossing;

static Crossing cross_row(const Raster *p, const Outline *o, double y) {
    Crossing c = {HUGE_VAL, -HUGE_VAL};
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = outline_next(o, i);
        if (a.y > b.y) {
            Point swap = a;
            a = b;
            b = swap;
        }
        if (a.y * p->parts > y || b.y * p->parts < y || a.y == b.y) continue;
        double x = (a.x + (y / p->parts - a.y) * ((b.x - a.x) / (b.y - a.y))) * p->parts;
        c = (Crossing){fmin(c.low, x), fmax(c.high, x)};
    }
    return c;
}

/* 1 inside, 0 on the edge, -1 outside. */
static int side_of(Crossing c, double x) {
    if (x < c.low - slack || x > c.high + slack) return -1;
    return x > c.low + slack && x < c.high - slack;
}

/* 1. Without what lies inside `inner`, if that is not NULL. */
static void paint_outline(const Raster *p, const Outline *o, const Outline *inner, int candy) {
    double low = o->corner[0].y, high = low;
    for (int i = 1; i < o->corners; i++) {
        low = fmin(low, o->corner[i].y);
        high = fmax(high, o->corner[i].y);
    }
    for (int y = (int)fmax(0, floor(low * p->parts)); y < p->side && y < high * p->parts; y++) {
        Crossing c = cross_row(p, o, y + 0.5), hole = {HUGE_VAL, -HUGE_VAL};
        if (c.low > c.high) continue;
        if (inner) hole = cross_row(p, inner, y + 0.5);
        int from = (int)fmax(0, ceil(c.low - 0.5 - slack)),
            to = (int)fmin(p->side - 1, floor(c.high - 0.5 + slack));
        for (int x = from; x <= to; x++) {
            uint8_t *at = p->candy + (size_t)y * p->side + x;
            int within = side_of(c, x + 0.5), gone = side_of(hole, x + 0.5);
            if (gone > 0) continue;
            if ((within > 0 && gone < 0) || candy < *at) *at = (uint8_t)candy;
        }
    }
}

/* 2. Without the disc inside `inner`, if that is not NULL. */
static void paint_round(const Raster *p, const Outline *o, const Outline *inner, int candy) {
    const Circle disc = square_disc(o), hole = inner ? square_disc(inner) : (Circle){0, 0, 0};
    for (int y = (int)fmax(0, floor((disc.y - disc.r) * p->parts));
         y < p->side && y < (disc.y + disc.r) * p->parts; y++)
        for (int x = (int)fmax(0, floor((disc.x - disc.r) * p->parts));
             x < p->side && x < (disc.x + disc.r) * p->parts; x++)
            if (disc_holds(disc, p->parts, x, y) && !disc_holds(hole, p->parts, x, y))
                p->candy[(size_t)y * p->side + x] = (uint8_t)candy;
}

void layup_paint(const LayUp *layup, int parts, int side, uint8_t *candy) {
    const Raster p = {parts, side, candy};
    memset(candy, OUTSIDE, (size_t)side * (size_t)side);
    for (int i = 0; i < layup->ropes; i++)
        if (!layup->rope[i].round) paint_outline(&p, &layup->rope[i].outline, NULL, layup->rope[i].candy);
    for (int i = 0; i < layup->wraps; i++)
        if (!layup->wrap[i].round)
            paint_outline(&p, &layup->wrap[i].outline, &layup->wrap[i].inner, layup->wrap[i].candy);
    for (int i = 0; i < layup->ropes; i++)
        if (layup->rope[i].round) paint_round(&p, &layup->rope[i].outline, NULL, layup->rope[i].candy);
    for (int i = 0; i < layup->wraps; i++)
        if (layup->wrap[i].round)
            paint_round(&p, &layup->wrap[i].outline, &layup->wrap[i].inner, layup->wrap[i].candy);
}
