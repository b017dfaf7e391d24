/* Public. Advice in words. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_ADVICE_WORDS_H
#define LOGOCANE_ADVICE_WORDS_H

#include "model/job.h"

enum { ADVICE_TEXT = 320 };

/* All that is known of how to mend the check: "without the red part: then all is go; or in pieces of 22 mm
 * across: then this line is go". "" where there is nothing to say. */
void advice_print(const Job *job, const Check *check, char out[ADVICE_TEXT]);

/* What the lines of a text have said so far; {0} at first. */
typedef struct Said {
    int lines;
    char line[CHECKS_MAX * WAYS_MAX][ADVICE_TEXT];
} Said;

/* What of it is worth a line of a text: what makes all go, else the first way; "as above" if a line before
 * said so. What is new is added to `said`. */
void advice_print_short(const Job *job, const Check *check, Said *said, char out[ADVICE_TEXT]);

#endif
