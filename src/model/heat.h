/* Public. How long ropes, blocks and the log stay workable. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_HEAT_H
#define LOGOCANE_HEAT_H

/* From the warm box: until its middle has fallen from the shop's joining to its working temperature in the
 * shop's room. Filled by cool. */
typedef struct Warmth {
    double diameter_mm;         /* of the round rope that cools alike: 4 * area / perimeter */
    double width_mm, height_mm; /* of the section itself, as it is made */
    double seconds;
} Warmth;

/* Ropes by what hands do with them. */
typedef enum RopeKind { KIND_STRIP, KIND_WEDGE, KIND_RIM } RopeKind;

enum { ROPE_KINDS = 3 };

/* Filled by cool. */
typedef struct Heat {
    int ropes;             /* as Bill.rope_types */
    Warmth *rope;          /* [ropes] by type: of its pulls the one that cools first; owned */
    int pulls;             /* as Bill.pulls */
    Warmth *pull;          /* [pulls] owned */
    int blocks;            /* as Blocks.blocks */
    Warmth *block;         /* [blocks] as built, if of the log's mean density; the last is the core; owned */
    Warmth log;            /* with its jacket */
    int first[ROPE_KINDS]; /* of each kind the type that cools first; -1 = none */
    double uneven_c;       /* a mismatch between two ropes */
    double uneven_ratio;   /* how many times softer the warmer is; the viscosities are not known so well */
} Heat;

void heat_free(Heat *heat);

#endif
