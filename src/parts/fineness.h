/* How fine strokes and gaps are. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FINENESS_H
#define LOGOCANE_FINENESS_H

#include "parts/face_areas.h"
#include "base/err.h"

typedef struct Gap {
    double mm; /* how fine, at the piece; 0 = there are no parts */
    bool fine; /* most of what is so fine lies in fine blocks, where half a least strip counts */
} Gap;

/* Fills in stroke_mm, body_mm and fine of the parts and holes that are no specks, measured up to 4 least
 * strips, and *gap, the finest for what hands lay there, and *gap_of_main, the finest that concerns a main
 * part or hole, up to 2. sample_mm: the size of a sample at the piece. Fails with ERR_MEMORY only. */
bool fineness_measure(Areas *areas, double sample_mm, Gap *gap, Gap *gap_of_main, Err *err) MUST_CHECK;

#endif
