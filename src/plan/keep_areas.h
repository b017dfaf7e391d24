/* Samples are given to candies by price, such that each candy keeps its area. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_KEEP_AREAS_H
#define LOGOCANE_KEEP_AREAS_H

#include "base/err.h"
#include "model/ink.h"

#include <stddef.h>
#include <stdint.h>

typedef struct AreaPrices {
    int candies;
    int opens;            /* samples to be shared out */
    size_t room;          /* for so many, a multiple of what is worked on at once */
    float *value;         /* [candies][room] of the open samples, 0..1; owned */
    float *margin;        /* [room] scratch; owned */
    int closed[INKS_MAX]; /* samples of each candy beside the open ones */
    int target[INKS_MAX]; /* what each candy should have of both; 0: any */
    float price[INKS_MAX];
} AreaPrices;

/* Room for so many samples; no opens yet, prices and targets 0. Fails with ERR_MEMORY. */
bool area_prices_new(size_t samples, int candies, AreaPrices *out, Err *err) MUST_CHECK;

/* Gives each open sample to the candy with the largest value + price, the earliest of equals: given[opens].
 * The prices are such that every candy has its target, or as near as can be: they start from what they are,
 * and stay. */
void keep_areas(AreaPrices *prices, uint8_t *given);

void area_prices_free(AreaPrices *prices); /* resets to {0} */

#endif
