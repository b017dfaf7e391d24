/* Public. Files become a Picture and a Shop. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_READ_READ_H
#define LOGOCANE_READ_READ_H

#include "base/err.h"
#include "model/picture.h"
#include "model/shop.h"

#include <stdio.h>

/* --- decode: a file becomes a Picture --- */

/* Reads the logo at `path` ("-": standard input); `name` stands for it in messages. Kinds, told from the
 * first bytes: PNG (streamed), JPEG (streamed, if it has one scan), BMP, GIF (first frame), PSD (flat image).
 * Averages in linear light, alpha-weighted, by max(1, long side / 768) rounded down, so both sides end under
 * 1536 px. Fails with ERR_INPUT on: no such file, a folder, empty, cut off, damaged, another kind (says how
 * to send it), over 100 megapixels, nothing with alpha over 2/255; with ERR_MEMORY; with ERR_SYSTEM on a read
 * error. *out is then untouched. */
bool decode(const char *path, const char *name, Picture *out, Err *err) MUST_CHECK;

/* --- file_is_picture: which files of a folder are meant --- */

/* Is the file at `path` a picture or a drawing, by its first bytes, of whatever kind, or, where these tell
 * nothing or cannot be read, by an ending of its name that decode reads? */
bool file_is_picture(const char *path);

/* --- shop_file: the shop file: INI, read and printed --- */

/* Reads a shop from `file`; what it does not name is as in shop_default(), the stock as a whole too: a file
 * with any [candy NAME] replaces it. `name` is for messages. Fails with ERR_INPUT, "NAME:LINE: what; what to
 * do", on what is no INI, on sections and keys that are not known, values out of range, keys and candies
 * given twice, over STOCK_MAX candies, limits that contradict each other, long lines and what is no plain
 * UTF-8. *out is then untouched. */
bool shop_file_read(FILE *file, const char *name, Shop *out, Err *err) MUST_CHECK;

/* The same from the file at `path`. Fails with ERR_INPUT as well if it cannot be read. */
bool shop_file_open(const char *path, Shop *out, Err *err) MUST_CHECK;

/* Prints the shop as a file that reads back to the same shop, each key with unit, range and standing as a
 * remark. What was printed, read and printed again is the same bytes. */
void shop_file_print(const Shop *shop, FILE *file);

#endif
