/* Public. The lay-up: the slicing tree that fills the core, its ropes, and how they can be placed.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_LAYUP_H
#define LOGOCANE_LAYUP_H

#include "base/geom.h"

#include <stdbool.h>

typedef enum NodeKind {
    NODE_EMPTY,  /* lies outside the core: nothing there */
    NODE_STRIP,  /* one rope */
    NODE_WEDGES, /* two wedges, corner to corner */
    NODE_ROW,    /* cut by a vertical line: first left, second right */
    NODE_STACK   /* cut by a horizontal line: first above, second below */
} NodeKind;

/* Where a wedge's right angle is: top left, top right, bottom left, bottom right. */
typedef enum Corner { CORNER_TL, CORNER_TR, CORNER_BL, CORNER_BR } Corner;

/* Filled by lay_up. */
typedef struct Node {
    NodeKind kind;
    Box box;           /* steps */
    int first, second; /* children's indexes (row, stack) or the ropes' (strip: first; wedges: both) */
    bool fine;         /* inside a fine block, or the whole of one */
} Node;

typedef enum Shape { SHAPE_STRIP, SHAPE_WEDGE } Shape;

/* Filled by lay_up, but for type and serial: weigh. */
typedef struct Rope {
    Box box;   /* steps; the whole leaf, even where the rim cuts it */
    int candy; /* palette index */
    Shape shape;
    Corner corner; /* of a wedge */
    double area;   /* steps^2 inside the core */
    bool rim;      /* the core's edge cuts it */
    bool trim;     /* under 1/4 least strip^2 inside the core: pressed in, not counted */
    int type;      /* by weigh: index of its row in the rope list; equal ropes share one; -1: a trim */
    int serial; /* by weigh: 1.. within its type, in the order of the tree; trims are counted by themselves */
    bool fine;  /* inside a fine block: built at twice the size, then drawn down */
} Rope;

/* Filled by lay_up. */
typedef struct LayUp {
    int nodes;
    Node *node;    /* children before parents; the root is the last; owned */
    int ropes;     /* all of them, trims included, in the order of the tree: top to bottom, left to right */
    Rope *rope;    /* owned */
    int laid;      /* ropes that are no trims */
    double cost;   /* cells: the sum of the leaves' costs, without lambda */
    double lambda; /* cells: what one more rope had to be worth */
} LayUp;

/* The corners of a rope's section, 4 for a strip or 3 for a wedge, in steps; returns how many. */
int rope_outline(const Rope *rope, Point out[4]);

/* Where a point of the rope's box lies, (x, y) of a raster over the square, `parts` points a step: 1 if its
 * middle lies in the rope, 0 if on the line between the two wedges of a pair, -1 if in the other wedge.
 * Exact. */
int rope_side(const Rope *rope, int parts, int x, int y);

/* What a rope is called at the bench: "7.2" is the second of type 7, "t3" the third trim. */
void rope_number(const Rope *rope, char out[32]);

void layup_free(LayUp *layup);

/* --- the eight ways to lay a straight rope or block: turned about its length in quarters, and perhaps laid
 * end for end, which shows the mirror image of its section --- */

/* A value: whoever has a Placement says who fills it. */
typedef struct Placement {
    bool mirrored; /* first: left and right change places */
    int turn;      /* then: quarter turns clockwise, 0..3 */
} Placement;

enum { PLACEMENTS = 8 };

/* Number i of the eight: 0 = as it is, 1..3 turned, 4..7 mirrored and turned. */
Placement placement(int i);

/* The box `inner`, given within `outer`, after `outer` was laid that way with its top left corner staying
 * put. */
Box box_placed(Box inner, Box outer, Placement way);

/* Where a corner goes. */
Corner corner_placed(Corner corner, Placement way);

/* Does a section of w x h fit its own place when laid that way? */
bool placement_fits(Box box, Placement way);

/* The placement that is `first`, then `second`. */
Placement placement_after(Placement first, Placement second);

#endif
