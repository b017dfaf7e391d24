/* What to pull and what to roll: the tables of the bench sheets. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAW_LISTS_H
#define LOGOCANE_DRAW_LISTS_H

#include "model/job.h"
#include "draw/sheet.h"

/* Rope types with their pulls, trims, then rings and jacket as sheets. */
void draw_lists(Sheet *sheet, const Job *job);

/* A small area hatched as the candy, its lower left corner at (x, y). */
void swatch_draw(Sheet *sheet, const Job *job, const Candy *candy, double x, double y, double w, double h);

#endif
