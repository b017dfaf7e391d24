/* The blocks in build order, a drawing each. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAW_BLOCKS_H
#define LOGOCANE_DRAW_BLOCKS_H

#include "model/job.h"
#include "draw/sheet.h"

/* As many pages as they take; none if the log is a single rope. */
void draw_blocks(Sheet *sheet, const Job *job);

#endif
