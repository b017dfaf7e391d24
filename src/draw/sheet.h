/* Sheets of paper: pages, type, the rule. SPDX-License-Identifier: MIT
 *
 * Lengths in points of 1/72 inch, y down from the page's top. The pages are drawn twice: once to count them,
 * once to write them, so that each can bear "3 of 12".
 *
 * Type of TYPE_SMALL pt is for the desk; what the bench reads is TYPE_BENCH or more (at two metres its
 * figures, 0.73 of the size high, fill 6 arc minutes: good eyes read 5, by definition of 20/20), block
 * numbers are TYPE_LARGE (15). */
#ifndef LOGOCANE_SHEET_H
#define LOGOCANE_SHEET_H

#include "base/err.h"
#include "base/units.h"
#include "draw/canvas.h"

#include <cairo.h>
#include <stdio.h>

#define PT_PER_MM (72 / 25.4)

enum { SHEET_MARGIN = 30, TYPE_SMALL = 10, TYPE_BENCH = 14, TYPE_LARGE = 36 };

typedef struct Sheet {
    cairo_t *cr;          /* owned; NULL before sheet_open and after sheet_close */
    double width, height; /* of the page: A4, or US Letter where inches are spoken */
    double y;             /* where the page goes on */
    int page;             /* 1.. ; 0 before the first */
    int pages;            /* of all; 0 while they are counted */
    const char *name;     /* of the job */
    char title[80];       /* of this page and those it flows on to */
} Sheet;

/* A document that is written to `file` when it is closed, or nowhere if file is NULL. What goes wrong in
 * cairo is told by sheet_close; what goes wrong in writing by closing the file. */
void sheet_open(Sheet *sheet, const char *name, Units units, int pages, FILE *file);

/* Ends the page, if there is one, and begins the next, with its title and its foot. */
void sheet_page(Sheet *sheet, const char *title);

/* Goes on under a new title: on this page if `height` pt are left, else on a new one. */
void sheet_section(Sheet *sheet, const char *title, double height);

/* Begins a new page under the same title unless `height` pt are left on this one. */
void sheet_room(Sheet *sheet, double height);

/* Words over the sheet's width, broken into lines, `above` and `below` pt clear of what is there; on a new
 * page if this one has no room for them and the larger of both gaps. Nothing of "". */
void sheet_paragraph(Sheet *sheet, double size, bool bold, double above, double below, const char *text);

/* Between the margins. */
double sheet_width(const Sheet *sheet);

/* Where a page under a title begins. */
double sheet_top(void);

/* How far down text may go. */
double sheet_bottom(const Sheet *sheet);

/* Fails with ERR_MEMORY only. Frees whatever happens. */
bool sheet_close(Sheet *sheet, Err *err) MUST_CHECK;

/* The sign at the top of a face end: a notch, pointing down on to (x, y). Filled: the marked end is towards
 * the reader; hollow: it is at the far end. `turn`: quarter turns clockwise about the middle it points to. */
void nick_draw(cairo_t *cr, double x, double y, double size, int turn, bool filled);

/* A rule of 100 mm at true size, its left end at (x, y). */
void rule_draw(cairo_t *cr, double x, double y);

/* --- two columns ---
 *
 * Entries are placed one after the other where the page is filled least, so that each one's top is at or
 * below the top of the one before: whoever reads from the top down, left before right, reads them in order.
 */

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
