/* Public. How like the logo the finished face is, as people see it: features kept, largest difference.
 * SPDX-License-Identifier: MIT
 *
 * Figures only: judge/ says what they are worth. */
#ifndef LOGOCANE_MEASURES_H
#define LOGOCANE_MEASURES_H

#include "base/geom.h"

/* What people tell a shape by. */
typedef enum FeatureKind {
    FEATURE_COUNTER, /* a hole in the part: of a B, two */
    FEATURE_BAY,     /* an inlet of what is round the part: of an E, two */
    FEATURE_ARM      /* a limb thinner than the part's body: the tips of a leaf */
} FeatureKind;

/* Filled by measure. */
typedef struct Feature {
    FeatureKind kind;
    int part;        /* index of the Judgement's part that it belongs to */
    bool letter;     /* that is a letter: one of a row */
    double share;    /* 0..1: its area, of the part's with its counters and bays */
    double left;     /* 0..1: how much of its area is left in the face */
    bool run;        /* it has run together with a larger counter or bay of its part */
    bool kept;       /* half of it is left, and it has not run together */
    Point middle_mm; /* at the piece, from its middle: x to the right, y down */
} Feature;

/* Filled by measure. */
typedef struct Features {
    int count;
    Feature *feature; /* [count], part by part in the order of the Judgement, of each part its counters and
                         bays, then its arms, in reading order; owned */
    int kept;
    double kept_share; /* 0..1: the shares of those kept, of the shares of all; 1 if there are none */
} Features;

/* The largest disc that fits into what is wrongly coloured. All 0 if nothing is wrong. Filled by measure. */
typedef struct Difference {
    double across_mm;    /* its diameter at the piece */
    double times_seen;   /* the same, in what is just seen at reading distance */
    double thick_mm;     /* how thick what is wanted is there, at the piece; at most two least strips */
    double of_thickness; /* across_mm in thick_mm: from about 1 on all of it is wrong there */
    Point middle_mm;     /* at the piece, from its middle: x to the right, y down */
    int wanted, got;     /* palette indexes there, in the logo and in the face */
} Difference;

/* Filled by measure. */
typedef struct Measures {
    Features features;
    Difference difference;
} Measures;

void measures_free(Measures *measures);

#endif
