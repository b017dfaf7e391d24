/* Public. Text that comes from outside, made safe to print. SPDX-License-Identifier: MIT
 *
 * Names of files, jobs and candies may hold anything. Whatever leaves the program is valid UTF-8 without
 * characters that steer a terminal: control characters (C0, DEL, C1), line and paragraph separators, and the
 * marks that turn the direction of writing; and without noncharacters (U+FDD0, U+FFFE ...), which libraries
 * refuse. */
#ifndef LOGOCANE_TEXT_H
#define LOGOCANE_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { TEXT_COLUMNS = 80, TEXT_INDENT = 10 }; /* of a text written for people: the widest line; its margin */

/* Is all of it valid UTF-8 (RFC 3629: no overlong forms, no surrogates) without the characters named above?
 */
bool text_valid(const char *text);

/* Copies text, '?' for each byte that is no UTF-8 and each character named above, cut at a whole character to
 * fit `size` bytes (at least 1, the closing 0 included). `out` may be `text`. */
void text_clean(char *out, size_t size, const char *text);

/* Is it one of the list, whose end is NULL? */
bool text_among(const char *text, const char *const list[]);

/* Columns on a screen: one for each character of clean text. */
int text_width(const char *text);

/* The text cleaned and, if it is over `columns` (8 or more) wide, its middle replaced by "...", so that the
 * end of a file name stays to be read. Never longer than size - 1 bytes. */
void text_fit(char *out, size_t size, const char *text, int columns);

/* Prints clean text and spaces up to `columns`; to the right if columns < 0. Longer text is printed whole. */
void text_pad(FILE *file, const char *text, int columns);

/* Bytes of the first word, with what must not begin a line of its own: the rest of a number, its unit. */
size_t text_word(const char *text);

/* Prints the words of clean text from column `indent` on, going on below it before column TEXT_COLUMNS, a
 * number and its unit together; `at` columns of the first line are used already. Ends the line. */
void text_wrap(FILE *file, const char *text, int at, int indent);

/* The same from the margin on, before column `columns` (TEXT_COLUMNS or less). */
void text_fill(FILE *file, const char *text, int columns);

/* Prints the label in the margin, or "", and the words beside it, wrapped to the right of TEXT_INDENT. */
void text_under(FILE *file, const char *label, const char *words);

/* Appends to the text in out[size], as printf prints; what does not fit is cut. */
void text_append(char *out, size_t size, const char *format, ...) __attribute__((format(printf, 3, 4)));

/* Appends one word as a shell takes it, in single quotes where it has to be. */
void text_append_word(char *out, size_t size, const char *word);

/* A number of at most `decimals` (0..9) digits behind the point, ".0" and the like left out; its thousands
 * grouped by spaces: "12 500", "0.8". */
void text_number(char *out, size_t size, double value, int decimals);

/* A sum of money, 0 or more: two digits behind the point, thousands grouped: "4 900.00". */
void text_money(char *out, size_t size, double value);

/* One CSV cell (RFC 4180): clean, quoted where it has to be, and with an apostrophe before a first character
 * that a spreadsheet would take for a formula (= + - @, spaces before them or not, wide forms too). */
void text_csv(FILE *file, const char *text);

#endif
