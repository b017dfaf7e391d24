/* Public. What the kitchen is told: the cook and the heat, line by line. SPDX-License-Identifier: MIT
 *
 * Text and sheets print the same lines. Every figure says where it comes from: a publication, the shop's
 * habit, or computed from such. */
#ifndef LOGOCANE_COOK_WORDS_H
#define LOGOCANE_COOK_WORDS_H

#include "model/job.h"

enum { COOK_LINES = 8, COOK_LINE = 400 };

typedef struct CookWords {
    int lines;
    char line[COOK_LINES][COOK_LINE];
} CookWords;

/* What the masses are computed from; boilings; how hot. */
void cook_words(const Job *job, CookWords *out);

/* How long ropes and the log stay workable; what a difference does. */
void heat_words(const Job *job, CookWords *out);

#endif
