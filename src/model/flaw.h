/* Public. What of the logo does not come out, numbered the same in words and in pictures.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FLAW_H
#define LOGOCANE_FLAW_H

#include "base/geom.h"

#include <stdint.h>

enum { FLAWS_MAX = 8 };

typedef enum FlawKind {
    FLAW_LOST, /* the face does not show it, or as something else */
    FLAW_RUN,  /* it and another part have run together; a hole has run out */
    FLAW_FINE  /* it is there, but thinner than hands lay; a hole: narrower */
} FlawKind;

/* Filled by find_flaws. */
typedef struct Flaw {
    FlawKind kind;
    int part;        /* index of the Judgement's part */
    Box box;         /* samples of the wanted face: the part, or of a large one where it is worst */
    double least_mm; /* what hands need there, at the piece */
} Flaw;

/* Filled by find_flaws. */
typedef struct Flaws {
    int count;
    Flaw flaw[FLAWS_MAX]; /* number i + 1, the worst first */
    int more;             /* flaws beyond these */
} Flaws;

/* What of the wanted face is thinner than hands lay. */
typedef enum Fine { FINE_NOT, FINE_STROKE, FINE_GAP } Fine;

/* Filled by mark_fine. */
typedef struct FineMap {
    int side;      /* points: half the samples of the wanted face, rounded up */
    uint8_t *fine; /* [side][side] Fine; owned */
} FineMap;

void fine_map_free(FineMap *map);

#endif
