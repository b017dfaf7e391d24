/* Public. The lay-up: the slicing tree that fills the core, its ropes, and how they can be placed.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_LAYUP_H
#define LOGOCANE_LAYUP_H

#include "model/outline.h"

#include <stdint.h>

typedef enum NodeKind {
    NODE_EMPTY, /* lies outside the core: nothing there */
    NODE_ROPE,  /* one rope */
    NODE_CUT,   /* cut by a straight line into two */
    NODE_WRAP,  /* wrapped in a sheet, all round */
    NODE_ROUND  /* one candy, and in it something round */
} NodeKind;

/* Filled by lay_up. */
typedef struct Node {
    NodeKind kind;
    Outline outline;   /* steps; whole, even where the core's edge cuts it */
    Point cut[2];      /* steps: the ends of the cut, on the outline; the upper one first, or the left one */
    int first, second; /* a cut's: indexes of the part before and the part behind it: left and right of a cut
                          that is at least as high as wide, else above and below; a rope's: first, its index;
                          a wrap's: first, what is inside it, whose outline is the wrap's inner one; second,
                          its index in LayUp.wrap; of something round in a candy: first, what is round (a rope
                          or a wrap), second, the rope that is the rest about it */
    bool fine;         /* inside a fine block, or the whole of one */
} Node;

/* The outline cut along the line from a to b into two nodes, `one` of which has that outline. */
Node node_of_cut(const Outline *outline, Point a, Point b, int one, const Outline *of_one, int other);

/* Filled by lay_up, but for type and serial: weigh. */
typedef struct Rope {
    Outline outline; /* steps; the whole leaf, even where the rim cuts it; of a round one the square about it
                      */
    bool round;      /* it is the disc that touches the sides of its outline, wholly inside the core */
    bool rest;       /* what is left of its outline about something round: pressed in round it, no rope; a
                        trim by name and number */
    int candy;       /* palette index */
    double area;     /* steps^2 inside the core; of a rest, without what is round in it */
    bool rim;        /* the core's edge cuts it */
    bool trim;  /* under 1/4 least strip^2 inside the core, 0.6 of it at the rim: pressed in, not counted */
    int type;   /* by weigh: index of its row in the rope list; equal ropes share one; -1: a trim */
    int serial; /* by weigh: 1.. within its type, in the order of the tree; trims are counted by themselves */
    bool fine;  /* inside a fine block: built at twice the size, then drawn down */
} Rope;

/* A sheet round a rope or a block. Filled by lay_up, but for block and row: weigh. */
typedef struct Wrap {
    Outline outline;  /* steps; wholly inside the core; of a round one the square about it */
    Outline inner;    /* steps: of what is inside; all its sides as far from those of the outline; likewise */
    bool round;       /* both are the discs that touch the sides of their squares */
    int candy;        /* palette index */
    double thickness; /* steps, as it lies in the log */
    bool fine; /* inside a fine block: laid round it at twice the thickness, before that is drawn down */
    int block; /* by weigh: index in Blocks.block of what it is a sheet of, as built or a copy */
    int row;   /* by weigh: index in Bill.wrap of its row */
} Wrap;

/* Filled by lay_up. */
typedef struct LayUp {
    int nodes;
    Node *node;    /* children before parents; the root is the last; owned */
    int ropes;     /* all of them, trims included, in the order of the tree: top to bottom, left to right */
    Rope *rope;    /* owned */
    int laid;      /* ropes that are no trims */
    int wraps;     /* of two round the same block the inner one comes first */
    Wrap *wrap;    /* owned */
    double cost;   /* cells: the sum of the leaves' costs, without lambda */
    double lambda; /* cells: what one more rope had to be worth */
} LayUp;

/* Paints the ropes and sheets into candy[side][side], over the core's square, `parts` points a step: each
 * point the palette index of what its middle lies in, OUTSIDE (model/grid.h) where nothing is. Where the
 * core's edge cuts a rope, all of that is painted. */
void layup_paint(const LayUp *layup, int parts, int side, uint8_t *candy);

/* Which points lie in fine blocks: 1 in out[side][side] where the middle of point (x, y) of a raster over the
 * core's square, `parts` points a step, lies in one of their ropes, inside the core's box; else 0. */
void layup_fine(const LayUp *layup, Circle core, int parts, int side, uint8_t *out);

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

/* The placement that is `first`, then `second`. */
Placement placement_after(Placement first, Placement second);

/* A placement about the origin of the square, then a shift: where something built at one place goes. A value:
 * whoever has a Motion says who fills it; {0} leaves all where it is. */
typedef struct Motion {
    Placement way;
    Point shift; /* steps */
} Motion;

Point point_moved(Point p, Motion motion);

/* Corners stay clockwise. */
Outline outline_moved(const Outline *outline, Motion motion);

/* The motion that is `first`, then `second`. */
Motion motion_after(Motion first, Motion second);

/* The one that takes back what `motion` does. */
Motion motion_undone(Motion motion);

/* The placement of what lies in the box from low to high, such that its box's top left corner stays. */
Motion motion_in_place(Placement way, Point low, Point high);

#endif
