/* Public. Places: what of the logo does not come out, numbered the same in words and in pictures.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FLAW_H
#define LOGOCANE_FLAW_H

#include "base/geom.h"

#include <stddef.h>
#include <stdint.h>

enum { FLAWS_MAX = 8, FLAW_TEXT = 160 };

typedef enum FlawKind {
    FAULT_LOST, /* the face does not show it, or as something else */
    FAULT_RUN,  /* it and another part have run together; a hole has run out */
    FAULT_FINE  /* it is there, but thinner than hands lay; a hole: narrower */
} FlawKind;

typedef struct Flaw {
    int part; /* index of the Judgement's part */
    FlawKind fault;
    Box box;               /* samples of the wanted face: the part, or of a large one where it is worst */
    char words[FLAW_TEXT]; /* "red part, upper left: lost" */
} Flaw;

typedef struct Flaws {
    int count;
    Flaw place[FLAWS_MAX]; /* number i + 1, the worst first */
    int more;              /* places beyond these */
} Flaws;

/* What of the wanted face is thinner than hands lay. */
typedef enum Fine { FINE_NOT, FINE_STROKE, FINE_GAP } Fine;

typedef struct FineMap {
    int side;      /* points: half the samples of the wanted face, rounded up */
    uint8_t *fine; /* [side][side] Fine; owned */
} FineMap;

void fine_map_free(FineMap *map);

/* "upper left", "middle": where a point of the face lies, `side` samples wide. */
const char *face_where(Point p, double side);

#endif
