/* The first sheet. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAW_FRONT_H
#define LOGOCANE_DRAW_FRONT_H

#include "model/job.h"
#include "draw/sheet.h"

/* Verdict, order, log, the cook, the heat, the order of work, cautions. Begins a page of its own. */
void draw_front(Sheet *sheet, const Job *job);

#endif
