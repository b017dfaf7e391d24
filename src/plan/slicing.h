/* The table of best slicings: what the cheapest lay-up of every rectangle costs. SPDX-License-Identifier: MIT
 *
 * A part of the stage lay_up, kept apart because it is the arithmetic and nothing else. All costs are whole
 * numbers of 1 / COST_ONE cells, so sums are exact, whatever their order, on every machine. */
#ifndef LOGOCANE_SLICING_H
#define LOGOCANE_SLICING_H

#include "model/cane.h"
#include "base/err.h"
#include "model/grid.h"
#include "model/ink.h"

/* The best lay-up of every rectangle with sides least..most. */
typedef struct Table {
    int least, most;         /* steps; most 0: an empty table */
    int side[STEPS_MAX + 2]; /* where side w starts in a packed triangle of (w, x), x = 0..n - w */
    int triangle;            /* entries of a triangle: sum of n - w + 1 over w = least..most */
    int stride;    /* from one triangle to the next: more, so that what is read beyond a row is there */
    int32_t *best; /* [(h, y)][(w, x)], both packed triangles; owned */
} Table;

typedef struct Slicing {
    int n, candies;  /* steps across */
    Circle core;     /* steps */
    int32_t lambda;  /* the price of a rope, 0..LAMBDA_MAX */
    int32_t *cost;   /* [candies][n][n], a copy of the grid's; owned */
    int32_t *prefix; /* [candies][n][n + 1]: sums along each row; owned */
    int32_t *
        sum; /* [candies + 1][n + 1][n + 1]: summed areas of each candy, and of each cell's cheapest; owned */
    Table coarse; /* sides of a least strip or more, at most n */
    Table fine;   /* inside fine blocks: half of that */
} Slicing;

enum {
    LAMBDA_MAX = 1 << 27,
    FINE_ROPES = 3 /* what building a fine block is worth, in ropes (design 5) */
};

/* A rectangle split corner to corner: `rising` from bottom left to top right, else from top left to bottom
 * right; the candy left of the split and right of it. */
typedef struct WedgePair {
    bool rising;
    int left, right;
    int32_t cost; /* without lambda; INT32_MAX if the sides are beyond 4 : 1 */
} WedgePair;

/* Sets up the sums and an empty table for the grid. Fails with ERR_MEMORY; *out is then untouched. */
bool slicing_new(const Grid *grid, Slicing *out, Err *err) MUST_CHECK;

/* Fills the table for this price of a rope: O(n^5 / 6) additions and minima, most of them in long runs. */
void slicing_solve(Slicing *s, int32_t lambda);

/* The optimum of a rectangle with sides within the table's, lambda included. */
int32_t slicing_best(const Table *table, Box box);

/* Could the rectangle be a fine block? */
bool slicing_can_be_fine(const Slicing *s, Box box);

/* The best strip and wedge pair alone, without lambda; ties to the lower candy, falling before rising. */
int32_t slicing_strip(const Slicing *s, Box box, int *candy);
WedgePair slicing_wedges(const Slicing *s, Box box);

void slicing_free(Slicing *s);

#endif
