/* Public. A sweep as a picture. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAW_SWEEP_H
#define LOGOCANE_DRAW_SWEEP_H

#include "base/err.h"
#include "model/image.h"
#include "model/sweep_table.h"

enum { SWEEP_FACE = 132 }; /* px: the side of a row's face */

/* The faces, a column a piece size, a row an order, each with its verdict, likeness and ropes below. Every
 * row of the table needs a face of SWEEP_FACE px. Fails with ERR_MEMORY only; *out is then untouched. */
bool draw_sweep(const SweepTable *table, Image *out, Err *err) MUST_CHECK;

#endif
