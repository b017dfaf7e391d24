/* Samples shared out among candies by price. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SHARES_H
#define LOGOCANE_SHARES_H

#include "base/err.h"

#include <stddef.h>
#include <stdint.h>

enum { SHARES_CANDIES = 16 };

typedef struct Shares {
    int candies;
    int opens;                  /* samples to be shared out */
    size_t room;                /* for so many, a multiple of what is worked on at once */
    float *value;               /* [candies][room] of the open samples, 0..1; owned */
    float *margin;              /* [room] scratch; owned */
    int closed[SHARES_CANDIES]; /* samples of each candy beside the open ones */
    int target[SHARES_CANDIES]; /* what each candy should have of both; 0: no matter */
    float price[SHARES_CANDIES];
} Shares;

/* Room for so many samples; no opens yet, prices and targets 0. Fails with ERR_MEMORY. */
bool shares_new(size_t samples, int candies, Shares *out, Err *err) MUST_CHECK;

/* Gives each open sample to the candy with the largest value + price, the earliest of equals: given[opens].
 * The prices are such that every candy has its target, or as near as can be: they start from what they are,
 * and stay. */
void shares_out(Shares *shares, uint8_t *given);

void shares_free(Shares *shares); /* resets to {0} */

#endif
