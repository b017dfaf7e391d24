/* Soft light over the table, and the shade that pieces give. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DAYLIGHT_H
#define LOGOCANE_DAYLIGHT_H

#include "model/colour.h"
#include "base/err.h"
#include "draw/scatter.h"

/* What reaches a point of the table: of the sky and of the window, 0..1 each. */
typedef struct Shade {
    float sky, window;
} Shade;

typedef struct Daylight {
    const Scatter *scatter;             /* not owned */
    double left, front;                 /* mm: of the map's corner */
    double cell;                        /* mm */
    int width, depth;                   /* cells */
    Shade *shade;                       /* [depth][width] for z = 0; owned */
    int nears[SCATTER_MAX];             /* how many pieces may keep the window from each piece */
    int near[SCATTER_MAX][SCATTER_MAX]; /* which: indexes of pieces */
} Daylight;

/* Maps the shade that all pieces throw on the table, `cells` a diameter, with that many threads
 * (parallel.h). Fails with ERR_MEMORY only; *out is then untouched. */
bool daylight_make(const Scatter *scatter, double cells, int threads, Daylight *out, Err *err) MUST_CHECK;
void daylight_free(Daylight *light);

/* The shade at a point of the table; nothing shades what lies off the map. */
Shade daylight_table(const Daylight *light, double x, double y);

/* The table's colour at a point: its own, and the shade. */
Linear daylight_ground(const Daylight *light, double x, double y);

/* What a point sends to the eye: `light` times its surface's colour, and white `gloss`. */
typedef struct Lit {
    double light, gloss;
} Lit;

/* Of a point of piece `index`: `hit` is where on it, `eye` the unit way from it to the eye. */
Lit daylight_piece(const Daylight *light, int index, const Hit *hit, Vec point, Vec eye);

#endif
