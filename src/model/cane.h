/* Public. The log and the cane drawn from it. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CANE_H
#define LOGOCANE_CANE_H

#include <stdbool.h>

enum { STEPS_MAX = 84 };

typedef struct Cane {
    int logs;    /* 1.. ; all numbers below are per log */
    long pieces; /* pieces the logs give together: the order's, or more if it is under the least order */
    bool
        least_order; /* the order is too small for the least log: laid up as the least order that fills one */
    double log_diameter_mm;  /* D, jacket included */
    double log_length_mm;    /* L */
    double core_diameter_mm; /* steps * step_mm = (1 - j) D */
    double volume_ml;        /* of one log: the order's share, lost ends included */
    double reduction;        /* D / d */
    double cane_length_m;    /* L (D/d)^2 / 1000 */
    double step_mm;          /* least strip / 4, / 3 or / 2 */
    int steps;               /* n: steps across the core, 1..STEPS_MAX */
    int least_steps;         /* steps in a least strip: 2, 3 or 4 */
    int fine_most; /* steps: largest side of a block built at twice its size and drawn down; 0 = none */
} Cane;

#endif
