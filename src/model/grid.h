/* Public. The picture on the core: samples, cells and what each candy would cost there.
 * SPDX-License-Identifier: MIT
 *
 * The core is a disc of n steps across; its square is n x n cells of one step, x to the right, y down, origin
 * at the square's top left. SAMPLES samples a step each way. */
#ifndef LOGOCANE_GRID_H
#define LOGOCANE_GRID_H

#include "base/geom.h"
#include "base/stop.h"
#include "model/ink.h"
#include "model/redrawn.h"

#include <stdint.h>

enum {
    SAMPLES = 8,        /* samples a step, each way */
    OUTSIDE = 255,      /* a sample outside the core */
    COST_ONE = 1 << 14, /* a cell wholly of the wrong candy, without emphasis; sums over 84 x 84 cells with
                           emphasis 3.2 stay under 2^29 */
    RINGS_MAX = 8
};

/* A sheet round the core. Filled by frame. */
typedef struct Ring {
    int candy;           /* palette index */
    double outer, inner; /* radii in steps */
} Ring;

/* Filled by frame. */
typedef struct Frame {
    Point centre_px;                   /* the core's centre in the picture's own pixels */
    double px_per_step;                /* > 0 */
    bool full_bleed, roundel, cropped; /* as InkMap's */
} Frame;

/* A square raster of candies over the core. Grid.wanted is filled by frame, Job.face by soften. */
typedef struct Face {
    int side;       /* samples: steps * SAMPLES */
    uint8_t *candy; /* [side][side] palette index, OUTSIDE outside the core; owned */
} Face;

/* Filled by frame. */
typedef struct Grid {
    int steps;       /* n */
    int least_steps; /* the least side */
    int fine_most;   /* the largest side of a fine block; 0 = none */
    int candies;     /* palette count */
    int field;       /* palette index */
    Frame frame;
    int rings; /* outermost first */
    Ring ring[RINGS_MAX];
    Circle core; /* in steps: what is laid up, inside the rings */
    Face sent;   /* the matched logo as it was sent, on the whole core, rings included; empty if nothing was
                    redrawn */
    Face wanted; /* the same as hands should aim at: by redraw */
    Redrawn redrawn; /* by redraw: what of it differs */
    int32_t *cost;   /* [candies][n][n], in 1 / COST_ONE cells, 0 outside `core`; owned */
    float *weight; /* [wanted.side][wanted.side] emphasis of each sample, 0 outside `core`; owned; NULL: even
                      in each cell */
    double apart[INKS_MAX][INKS_MAX]; /* what one candy costs in the other's place, 0..1 */
    const Stop *stop;                 /* the job's, for the search; NULL = it runs to its end; not owned */
} Grid;

/* Does the disc, in steps, hold the middle of point (x, y) of a raster over the square, `parts` points a
 * step? Of the core and the rings, whose radii are whole or half steps, no edge runs through a middle. */
static inline bool disc_holds(Circle disc, int parts, int x, int y) {
    double across = x + 0.5 - disc.x * parts, down = y + 0.5 - disc.y * parts, reach = disc.r * parts;
    return across * across + down * down < reach * reach;
}

/* The face of the logo as it was sent. */
static inline const Face *face_as_sent(const Grid *grid) {
    return grid->sent.candy ? &grid->sent : &grid->wanted;
}

void face_free(Face *face);
void grid_free(Grid *grid); /* with its face */

#endif
