/* Public. Places: what of the logo does not come out, numbered the same in words and in pictures.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PLACE_H
#define LOGOCANE_PLACE_H

#include "base/geom.h"

#include <stddef.h>
#include <stdint.h>

enum { PLACES_MAX = 8, PLACE_TEXT = 160 };

typedef enum Fault {
    FAULT_LOST, /* the face does not show it, or as something else */
    FAULT_RUN,  /* it and another part have run together; a hole has run out */
    FAULT_FINE  /* it is there, but thinner than hands lay; a hole: narrower */
} Fault;

typedef struct Place {
    int part; /* index of the Judgement's part */
    Fault fault;
    Box box;                /* samples of the wanted face: the part, or of a large one where it is worst */
    char words[PLACE_TEXT]; /* "red part, upper left: lost" */
} Place;

typedef struct Places {
    int count;
    Place place[PLACES_MAX]; /* number i + 1, the worst first */
    int more;                /* places beyond these */
} Places;

/* What of the wanted face is thinner than hands lay. */
typedef enum Fine { FINE_NOT, FINE_STROKE, FINE_GAP } Fine;

typedef struct FineMap {
    int side;      /* points: half the samples of the wanted face, rounded up */
    uint8_t *fine; /* [side][side] Fine; owned */
} FineMap;

void fine_map_free(FineMap *map);

/* "upper left", "middle": where a point of the face lies, `side` samples wide. */
const char *place_where(Point p, double side);

#endif
