/* The exact cheapest way to give each ink a candy. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CHEAPEST_CANDIES_H
#define LOGOCANE_CHEAPEST_CANDIES_H

#include "model/candy.h"
#include "model/ink.h"

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

#endif
