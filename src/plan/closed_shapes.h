/* Closed shapes of the wanted face: what a sheet or a round rope could be. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PLAN_CLOSED_SHAPES_H
#define LOGOCANE_PLAN_CLOSED_SHAPES_H

#include "base/err.h"
#include "model/grid.h"
#include "model/outline.h"

/* An area of one candy with all that it encloses, or what it encloses in one of its holes. */
typedef struct ClosedShape {
    int candy;    /* palette index: of the area; of what lies all round it, if it is a hole */
    bool hole;    /* what an area encloses, not the area */
    double area;  /* steps^2 */
    Point middle; /* steps: of its area */
    int corners;  /* of its convex hull, clockwise as seen */
    int first;    /* in ClosedShapes.corner */
} ClosedShape;

/* Filled by closed_shapes_find. */
typedef struct ClosedShapes {
    int count;
    ClosedShape *shape; /* by area in reading order, each area before its holes; owned */
    int corners;
    Point *corner; /* steps; owned */
} ClosedShapes;

/* The shapes in the laid-up core of at least so many steps^2 whose convex hull they fill to at least that
 * share. Fails with ERR_MEMORY only; *out is then untouched. Free with closed_shapes_free. */
bool closed_shapes_find(const Grid *grid, double least, double share, ClosedShapes *out, Err *err) MUST_CHECK;
void closed_shapes_free(ClosedShapes *shapes);

/* The circle that a shape is, to `off` of its radius, or `rough` steps if that is more; false if it is none.
 */
bool shape_is_disc(const ClosedShapes *shapes, const ClosedShape *shape, double off, double rough,
                   Circle *out);

/* A polygon of few corners, 3 to `most`, none under 60 degrees, that lies along the shape's hull: corners of
 * the hull are left out and sides made longer as long as that moves nothing by more than `off` steps, and
 * until there are so few; sharp corners are cut off, `tip` steps wide. False if that would move the hull by
 * more than 2 `off`. */
bool shape_fit(const ClosedShapes *shapes, const ClosedShape *shape, int most, double off, double tip,
               Outline *out);

#endif
