/* Public. The log and the cane drawn from it. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CANE_H
#define LOGOCANE_CANE_H

#include "model/order.h"

#include <stdbool.h>

enum { STEPS_MAX = 84 };

/* All that a lay-up depends on besides the matched logo: two orders with the same key have the same lay-up.
 * The stages that lay up are given this and see nothing else of order and shop. Filled by size_cane. */
typedef struct LayKey {
    int steps;       /* n: steps across the core, 1..STEPS_MAX */
    int least_steps; /* steps in a least strip: 2, 3 or 4 */
    int sheet_steps; /* steps in the least sheet, rounded up */
    int fine_most;   /* steps: largest side of a block built at twice its size and drawn down; 0 = none */
    double rounding; /* least strips: how far rolling rounds corners */
    Detail detail;
    int ropes_cap;      /* most ropes laid; 0 = no cap */
    double margin;      /* least strips of field between the picture and the core's edge */
    int corners_most;   /* of a rope's section, 4.. */
    double sharpest;    /* the tangent of the sharpest corner of a rope's section */
    double taper_least; /* least width of a wedge or of what tapers like one, of the least strip, 0..1 */
} LayKey;

/* Orders keys, by all they hold: under 0, 0 for the same lay-up, over 0. */
int lay_key_compare(const LayKey *a, const LayKey *b);

/* Filled by size_cane. */
typedef struct Cane {
    LayKey key;
    int logs;    /* 1.. ; all numbers below are per log */
    long pieces; /* pieces the logs give together: the order's, or more if it is under the least order */
    bool
        least_order; /* the order is too small for the least log: laid up as the least order that fills one */
    double log_diameter_mm;  /* D, jacket included */
    double log_length_mm;    /* L */
    double core_diameter_mm; /* key.steps * step_mm = (1 - j) D */
    double volume_ml;        /* of one log: the order's share, lost ends included */
    double reduction;        /* D / d */
    double cane_length_m;    /* L (D/d)^2 / 1000 */
    double step_mm;          /* least strip / 4, / 3 or / 2 */
} Cane;

/* How large a sample of the face is on the piece, mm. */
double cane_sample_mm(const Cane *cane);

#endif
