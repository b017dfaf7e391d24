/* Public. The areas of a logo on the core: parts, holes, open field. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FACE_AREAS_H
#define LOGOCANE_FACE_AREAS_H

#include "base/err.h"
#include "model/grid.h"
#include "model/judgement.h"

#include <stdbool.h>

typedef struct FaceArea {
    Part part;    /* filled by areas_find: candy, hole, samples, box, middle, speck, main, ring; by
                     fineness_measure: fine, stroke_mm, body_mm; by parts_compare: the rest */
    bool open;    /* field that touches the core's edge: neither part nor hole */
    int in_rings; /* samples outside the laid-up core */
} FaceArea;

typedef struct Areas {
    const Grid *grid;    /* not owned */
    const uint8_t *fine; /* [steps][steps] 1 where a rope of a fine block lies; NULL = nowhere; not owned */
    int side;            /* samples */
    int32_t *label;      /* [side][side] index of the area, -1 outside the core; owned */
    int count;
    FaceArea *area; /* [count], in reading order of their first samples; owned */
} Areas;

/* The connected areas of grid->wanted, 4 ways for the field, 8 for all else, told apart as specks, main parts
 * and crumbs (limits: docs/numbers.md). Fails with ERR_MEMORY only; *out is then untouched. Free with
 * areas_free. */
bool areas_find(const Grid *grid, Areas *out, Err *err) MUST_CHECK;
void areas_free(Areas *areas);

/* Does the sample lie outside the laid-up core, where the rings are? */
bool areas_in_rings(const Grid *grid, int x, int y);

#endif
