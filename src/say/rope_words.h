/* Public. What is told of candies, ropes, trims and the jacket. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_ROPE_WORDS_H
#define LOGOCANE_ROPE_WORDS_H

#include "model/job.h"

enum { ROPE_LINE = 500, ROPE_SIZE = 128 }; /* bytes of a line, of a size, the closing 0 included */

/* "red, pulled", or "red, pulled, dyed for this job". */
void candy_words(const Candy *candy, char out[ROPE_LINE]);

/* The candies of the jacket and its stripes. */
void jacket_words(const Job *job, char out[ROPE_LINE]);

/* How many ropes are laid and made, trims, rings and blocks. */
void ropes_words(const Job *job, char out[ROPE_LINE]);

/* The trims of the row's candy: their numbers, and what they weigh together. */
void trims_words(const Job *job, const WrapRow *row, char out[ROPE_LINE]);

/* How ropes are pulled; how sheets are rolled. */
void pulling_words(const Job *job, char out[ROPE_LINE]);
void rolling_words(const Job *job, char out[ROPE_LINE]);

/* "ring, red", "jacket stripes, white": of a row that is no trims. */
void sheet_words(const WrapRow *row, char out[ROPE_LINE]);

/* "ring", "jacket", "trim". */
const char *wrap_name(WrapKind kind);

/* "strip" or "wedge". */
const char *shape_name(Shape shape);

/* Cuts the unit off behind a length or a size. */
void unit_drop(char *size);

/* A rope's section without its unit: "12 x 9", "12 x 9 rim". */
void rope_section_print(double one_mm, double other_mm, bool rim, Units units, char out[ROPE_SIZE]);

/* What to form the lump of a pull to, without unit: "37 x 37 x 60"; of inches, which take more room, one side
 * of the square, to a 16th: "1 1/2 x 2 3/8". The lump is weighed; its form need not be finer. */
void lump_print(const Pull *pull, Units units, char out[ROPE_SIZE]);

#endif
