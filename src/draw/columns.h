/* Two columns on a sheet. SPDX-License-Identifier: MIT
 *
 * Entries are placed one after the other where the page is filled least, so that each one's top is at or
 * below the top of the one before: whoever reads from the top down, left before right, reads them in order.
 */
#ifndef LOGOCANE_COLUMNS_H
#define LOGOCANE_COLUMNS_H

#include "draw/sheet.h"

enum { COLUMN_GAP = 12 };

typedef struct Columns {
    Sheet *sheet;
    double y[2]; /* where each column goes on */
} Columns;

/* The place given to an entry. */
typedef struct Slot {
    double x, y, width; /* pt */
} Slot;

/* Begins at the sheet's y. */
Columns columns_begin(Sheet *sheet);

/* Of one column, or of the whole sheet. */
double column_width(const Sheet *sheet, bool wide);

/* A place of that height and the gap below it, on a new page under the same title if this one is full. */
Slot columns_place(Columns *columns, double height, bool wide);

/* What is left of this page for an entry. */
double columns_left(const Columns *columns, bool wide);

/* Goes on on a new page. */
void columns_next(Columns *columns);

/* The sheet's y becomes the end of the longer column. */
void columns_end(Columns *columns);

#endif
