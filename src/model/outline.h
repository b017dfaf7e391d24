/* Public. Outlines: the sections of ropes and blocks, convex polygons. SPDX-License-Identifier: MIT
 *
 * x to the right, y down. Steps in a lay-up; the functions take whatever unit the caller uses. */
#ifndef LOGOCANE_OUTLINE_H
#define LOGOCANE_OUTLINE_H

#include "base/geom.h"
#include "model/cane.h"

enum { OUTLINE_MAX = 16 };

/* A value: whoever has an outline says who fills it. */
typedef struct Outline {
    int corners;               /* 3..OUTLINE_MAX; 0: nothing */
    Point corner[OUTLINE_MAX]; /* clockwise as seen; no three in a line */
} Outline;

/* What the section of a rope is called. */
typedef enum Shape {
    SHAPE_STRIP,      /* four right angles */
    SHAPE_WEDGE,      /* three corners */
    SHAPE_TAPERED,    /* four corners, not all of them right: a tapered strip */
    SHAPE_CORNER_CUT, /* five corners or more: a corner-cut strip */
    SHAPE_ROUND       /* none: a round rope; its outline is the square about it */
} Shape;

enum { SHAPES = SHAPE_ROUND + 1 };

/* The four corners of a box, from its top left one. */
Outline outline_of_box(double x, double y, double w, double h);

/* The corner that follows, clockwise. */
static inline Point outline_next(const Outline *outline, int corner) {
    return outline->corner[corner + 1 < outline->corners ? corner + 1 : 0];
}

/* The mean of its corners: a point inside it. */
Point outline_middle(const Outline *outline);

double outline_area(const Outline *outline);

/* Exactly, of its part inside the disc. */
double outline_disc_area(const Outline *outline, Circle disc);

/* The box of its part inside the disc; false, and the points untouched, if there is none. */
bool outline_disc_box(const Outline *outline, Circle disc, Point *low, Point *high);

/* Where a point lies: 1 inside, 0 on the edge (to 1e-9), -1 outside. */
int outline_side(const Outline *outline, Point p);

/* The least distance between two parallel lines that hold an outline between them (0 if two corners are in
 * one place), and how long it is along them. A value: outline_width fills it. */
typedef struct Width {
    double width, length;
    int side; /* one of the lines runs along the side from this corner to the next */
} Width;

Width outline_width(const Outline *outline);

Shape outline_shape(const Outline *outline);

/* The outline with all its sides moved inwards, so far, but side `still` (from that corner to the next; -1:
 * none): what a sheet about it leaves, corners mitred (under 0: outwards). False, and *out untouched, unless
 * every side stays. */
bool outline_inset(const Outline *outline, double by, int still, Outline *out);

/* No corner under 60 degrees, as what is to be wrapped in a sheet must be. */
bool outline_can_be_wrapped(const Outline *outline);

/* Can hands form a rope like that, where the least strip is `least` wide? By the key's corners_most, sharpest
 * and taper_least. */
bool outline_can_be_formed(const Outline *outline, const LayKey *key, double least);

/* A place on the edge of an outline. A value: whoever has a place says who fills it. */
typedef struct OutlinePlace {
    int side;    /* it lies on the side from this corner to the next */
    bool corner; /* it is that corner itself */
    Point at;
} OutlinePlace;

/* Cuts the outline by the straight line between two places: `after` is what lies clockwise from a to b along
 * the edge, `before` the rest. False, and neither written, if both lie on one side, or a part would have more
 * than OUTLINE_MAX corners. */
bool outline_cut(const Outline *outline, OutlinePlace a, OutlinePlace b, Outline *before, Outline *after);

/* The same corners, no coordinate further apart than so, whichever is the first? */
bool outline_same(const Outline *a, const Outline *b, double apart);

#endif
