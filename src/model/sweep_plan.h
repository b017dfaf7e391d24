/* Public. Which piece sizes and orders a sweep looks at; their limits stand in order.h.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SWEEP_PLAN_H
#define LOGOCANE_SWEEP_PLAN_H

#include <stdbool.h>

enum { SWEEP_MAX = 12 };

/* Filled by sweep_plan_parse or sweep_plan_default. */
typedef struct SweepPlan {
    int sizes;                     /* 1..SWEEP_MAX */
    double diameter_mm[SWEEP_MAX]; /* of a piece, PIECE_LEAST_MM..PIECE_MOST_MM, rising */
    int orders;                    /* 1..SWEEP_MAX */
    long pieces[SWEEP_MAX];        /* 1..PIECES_MAX, rising */
} SweepPlan;

/* 12, 14, 16, 18, 20, 22, 25 mm : 250, 500, 1000, 2000, 5000 pieces. */
SweepPlan sweep_plan_default(void);

/* "14,16:500,1000": piece diameters : orders; a side that is left out is as in the default. Diameters in mm
 * unless they say in ("5/8in"). Lists are sorted. False, and *out untouched, on what cannot be read, is out
 * of range, is there twice or is one too many. */
bool sweep_plan_parse(const char *text, SweepPlan *out);

#endif
