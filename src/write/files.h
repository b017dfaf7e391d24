/* Files of the job folder: pictures as PNG and JPEG, lists as CSV. SPDX-License-Identifier: MIT
 *
 * Nothing here closes the file, and what each print call says is left alone: errors in writing show when the
 * file is closed. */
#ifndef LOGOCANE_WRITE_FILES_H
#define LOGOCANE_WRITE_FILES_H

#include "model/image.h"
#include "model/job.h"

#include <stdio.h>

/* Writes the image as 8-bit RGBA (RGB if all is opaque), sRGB chunk, pHYs if px_per_mm is stated, no time, no
 * text. Fails with ERR_MEMORY or ERR_SYSTEM. */
bool write_png(const Image *image, FILE *file, Err *err) MUST_CHECK;

enum { JPEG_MOST_BYTES = 480 * 1000 }; /* for e-mail */

/* Writes the image, its alpha left out, at the best of a few qualities that keeps it under JPEG_MOST_BYTES,
 * or at the least. Fails with ERR_MEMORY. */
bool write_jpeg(const Image *image, FILE *file, Err *err) MUST_CHECK;

/* Prints "GO: ferry.png can be built as drawn". */
void write_headline(const Job *job, FILE *file);

/* Lists as CSV (RFC 4180, UTF-8), the rows of the bill, one each. They never fail. */
bool write_ropes(const Job *job, FILE *file, Err *err) MUST_CHECK;     /* a row a type of rope, per log */
bool write_wraps(const Job *job, FILE *file, Err *err) MUST_CHECK;     /* sheets and trims, per log */
bool write_materials(const Job *job, FILE *file, Err *err) MUST_CHECK; /* a row a candy, all logs */
bool write_plan(const Job *job, FILE *file, Err *err) MUST_CHECK;      /* a row a task of a log */

/* Writes the letter to the client: UTF-8, lines of at most LETTER_COLUMNS. It never fails. */
enum { LETTER_COLUMNS = 72 };
bool write_letter(const Job *job, FILE *file, Err *err) MUST_CHECK;

#endif
