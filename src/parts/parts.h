/* Public. Parts and holes: what people read a picture by. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PARTS_H
#define LOGOCANE_PARTS_H

#include "base/err.h"
#include "parts/fineness.h"
#include "model/grid.h"
#include "model/judgement.h"

/* What a logo asks of hands, part by part, and how much of it a face shows. */
typedef struct Comparison {
    int parts;
    Part *part;      /* parts and holes in reading order of their first samples; owned */
    Gap gap;         /* the finest, at most the thickness that gaps are measured up to; 0 if no parts */
    Gap gap_of_main; /* the finest that concerns a main part or hole; likewise */
} Comparison;

/* Finds parts and holes of grid->wanted, their finest strokes and gaps, and compares each with its own
 * samples in `face`, which has the same side (limits: docs/numbers.md). `fine`, [steps][steps]: 1 where a
 * rope of a fine block lies; NULL = nowhere. sample_mm: the size of a sample at the piece.
 * Strokes are measured up to 4, gaps up to 2 least strips. Fails with ERR_MEMORY only; *out is then
 * untouched. The caller frees out->part. */
bool parts_compare(const Grid *grid, const Face *face, const uint8_t *fine, double sample_mm, Comparison *out,
                   Err *err) MUST_CHECK;

#endif
