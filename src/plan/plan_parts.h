/* Parts of stages that have files of their own. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PLAN_PARTS_H
#define LOGOCANE_PLAN_PARTS_H

#include "plan/plan.h"

#include <stddef.h>
#include <stdint.h>

/* --- cheapest_candies, of match_candy: the exact cheapest way to give each ink a candy --- */

enum { CHOICES_MAX = STOCK_MAX + INKS_MAX }; /* the stock, and a candy dyed for each ink */

typedef struct Assignment {
    int inks, choices;                        /* 1..INKS_MAX, 1..CHOICES_MAX */
    int limit;                                /* most different choices, `beyond` counted, 1..INKS_MAX */
    double colour[INKS_MAX][CHOICES_MAX];     /* cost of giving ink i choice c, >= 0 */
    double border[INKS_MAX][INKS_MAX];        /* weight of the border between two inks, symmetric, >= 0 */
    double apart[INKS_MAX][INKS_MAX];         /* how far apart the two should look, symmetric */
    double between[CHOICES_MAX][CHOICES_MAX]; /* how far apart two choices look, symmetric */
    int fixed[INKS_MAX];                      /* the choice an ink must take, or -1 */
    int beyond;                               /* a choice that is used whatever the inks take, or -1 */
} Assignment;

/* Finds of_ink[0..inks) with the least
 *     sum colour[i][of_ink[i]] + sum over i < j of border[i][j] * max(0, apart[i][j] -
 * between[of_ink[i]][of_ink[j]]) using at most `limit` different choices, `beyond` counted. Equal costs (to
 * 1e-9): the first in the order of inks and choices. The fixed choices and `beyond` must not be more than
 * `limit`. Returns the cost. */
double cheapest_candies(const Assignment *a, int of_ink[INKS_MAX]);

/* --- way_round, of find_blocks: which blocks could be laid in the wrong way round --- */

/* Sets mirrored_risk, turned_risk and looks_the_same of each block: a placement other than the right one that
 * fits the block's slot, rim included, and gives a face that is neither the intended one nor the whole of it
 * turned or mirrored. The log itself has no wrong way: each piece shows the picture on one end and its mirror
 * image on the other. Fails with ERR_MEMORY only. */
bool find_wrong_ways(const Grid *grid, const LayUp *layup, Blocks *blocks, Err *err) MUST_CHECK;

/* --- keep_areas, of soften: samples are given to candies by price, such that each candy keeps its area ---
 */

enum { BLOCK = 16 }; /* samples that are worked on at once, so that compilers use vector instructions */

typedef struct AreaPrices {
    int candies;
    int opens;            /* samples to be shared out */
    size_t room;          /* for so many, a multiple of BLOCK */
    float *value;         /* [candies][room] of the open samples, 0..1; of the caller, as the next */
    float *margin;        /* [room] scratch */
    int closed[INKS_MAX]; /* samples of each candy beside the open ones */
    int target[INKS_MAX]; /* what each candy should have of both; 0: any */
    float price[INKS_MAX];
} AreaPrices;

/* Gives each open sample to the candy with the largest value + price, the earliest of equals: given[opens].
 * The prices are such that every candy has its target, or as near as can be: they start from what they are,
 * and stay. */
void keep_areas(AreaPrices *prices, uint8_t *given);

#endif
