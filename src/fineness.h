/* How fine strokes and gaps are. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FINENESS_H
#define LOGOCANE_FINENESS_H

#include "areas.h"
#include "err.h"

/* Fills in stroke_mm and body_mm of the parts and holes that are no specks, measured up to 4 least strips,
 * and *gap_mm, the finest gap, and *gap_of_main_mm, the finest that concerns a main part or hole, up to 2.
 * sample_mm: the size of a sample at the piece. Fails with ERR_MEMORY only. */
bool fineness_measure(Areas *areas, double sample_mm, double *gap_mm, double *gap_of_main_mm,
                      Err *err) MUST_CHECK;

#endif
