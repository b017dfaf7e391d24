/* Public. The shop file: INI, read and printed. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SHOP_FILE_H
#define LOGOCANE_SHOP_FILE_H

#include "base/err.h"
#include "model/shop.h"

#include <stdio.h>

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
