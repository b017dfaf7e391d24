/* What the cheapest lay-up of every rectangle costs. SPDX-License-Identifier: MIT
 *
 * A part of the stage lay_up, kept apart because it is the arithmetic and nothing else. Costs are whole
 * numbers of 1 / COST_ONE cells, so sums are exact, in whatever order, on every machine.
 *
 * A rectangle R of whole steps, no side under the least strip, costs at best
 *
 *     f(R) = 0 where R lies outside the core, else the least of
 *         the cost of R in its cheapest candy + lambda                     one strip
 *         the cost of R's two halves, each in its own + 2 lambda           two wedges; sides within 4 : 1
 *         f(A) + f(B), for each straight cut of R into A and B             a row or a stack
 *         g(R) + FINE_ROPES lambda, R no larger than fine_most             a fine block
 *
 * with lambda the price of a rope, and g the same as f for half the least strip and without the last line:
 * ropes of a fine block are laid twice as thick and drawn down. It is the recurrence of guillotine cutting
 * (Gilmore & Gomory, "Multistage cutting stock problems of two and more dimensions", Operations Research 13
 * (1965) 94-120; from memory), with costs of areas in place of values of pieces. tests/test_lay_up.c has it
 * written down as plainly as it can be, and compares.
 *
 * Where f(R) is kept. The stretches of w steps that start at x, of a row of n steps, make a triangle:
 *
 *     w = least           x = 0 1 2 3 4 .. n - least
 *     w = least + 1       x = 0 1 2 3 .. n - least - 1
 *     ..
 *     w = n               x = 0
 *
 *     written as          | 0 1 2 3 4 .. | 0 1 2 3 ..     | .. | 0
 *                           ^              ^                     ^
 *                           side[least]    side[least + 1]       side[n]
 *
 * Heights h and tops y make the same triangle. R = (x, y, w, h) stands in the triangle (h, y) at place (w,
 * x). The triangle of one (h, y), all rectangles of one height and top, is called a tier. So what cuts add up
 * lies side by side: a level cut, for all rectangles of a tier at once, is the sum of two whole tiers; an
 * upright cut, for all rectangles w wide of a tier, the sum of two of its rows. */
#ifndef LOGOCANE_SLICING_H
#define LOGOCANE_SLICING_H

#include "model/cane.h"
#include "base/err.h"
#include "model/grid.h"
#include "model/ink.h"

/* f or g of every rectangle with sides least..most. */
typedef struct SlicingTable {
    int least, most;         /* steps; most 0: an empty table */
    int side[STEPS_MAX + 2]; /* where row w starts in a triangle; x = 0..n - w */
    int triangle;            /* entries of a triangle: the sum of n - w + 1 over w = least..most */
    int stride;              /* from one tier to the next: a triangle and what may be read beyond it */
    int32_t *best;           /* [triangle][stride]; owned */
} SlicingTable;

typedef struct Slicing {
    int n, candies;  /* steps across */
    Circle core;     /* steps */
    int32_t lambda;  /* the price of a rope, 0..LAMBDA_MAX */
    int32_t *cost;   /* [candies][n][n], a copy of the grid's; owned */
    int32_t *prefix; /* [candies][n][n + 1]: sums along each row; owned */
    int32_t *sum; /* [candies + 1][n + 1][n + 1]: summed areas; last, of the cheapest of each cell; owned */
    SlicingTable coarse; /* f: sides of a least strip or more, at most n */
    SlicingTable fine;   /* g: inside fine blocks, half of that */
} Slicing;

enum {
    LAMBDA_MAX = 1 << 27,
    FINE_ROPES = 3 /* what building a fine block is worth, in ropes; ours, chosen */
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

/* Fills the tables for this price of a rope: O(n^5 / 6) additions and minima, most of them in long runs. */
void slicing_solve(Slicing *s, int32_t lambda);

/* The optimum of a rectangle with sides within the table's, lambda included. */
int32_t slicing_best(const SlicingTable *table, Box box);

/* Could the rectangle be a fine block? */
bool slicing_can_be_fine(const Slicing *s, Box box);

/* The best strip and wedge pair alone, without lambda; ties to the lower candy, falling before rising. */
int32_t slicing_strip(const Slicing *s, Box box, int *candy);
WedgePair slicing_wedges(const Slicing *s, Box box);

void slicing_free(Slicing *s);

#endif
