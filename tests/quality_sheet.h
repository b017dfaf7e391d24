/* Contact sheets of `make quality`. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_QUALITY_SHEET_H
#define LOGOCANE_QUALITY_SHEET_H

#include "model/job.h"

#include <cairo.h>

/* Pages of pictures, written one after the other as FOLDER/quality-1.png ... */
typedef struct Sheet {
    const char *folder; /* not owned */
    int pages, cells;   /* pages begun; cells used on the last one */
    cairo_surface_t *surface;
    cairo_t *cr;
} Sheet;

/* Adds a picture: the logo, its lay-up and its softened face, and under them two lines of text. Fails if a
 * page cannot be drawn or written. */
bool sheet_add(Sheet *sheet, const Job *job, const char *title, const char *figures, Err *err) MUST_CHECK;

/* Writes the last page. */
bool sheet_end(Sheet *sheet, Err *err) MUST_CHECK;

#endif
