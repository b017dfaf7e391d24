/* What to tell the client. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SENTENCE_H
#define LOGOCANE_SENTENCE_H

#include "run/trial.h"

#include <stddef.h>

/* The best that was found. */
typedef struct Mending {
    Change change;
    Verdict verdict;      /* of the whole with it; the job's own if nothing better was found */
    const char *orders;   /* the pieces as intervals, "" if they are none */
    double least_percent; /* the thinnest line that can be laid, in % of the logo's width */
} Mending;

/* Two or three plain sentences for the client of a job that is a change or a no: what can be had, and how. No
 * words of the trade, nobody's fault. */
void write_sentence(const Job *job, const Mending *mending, char *out, size_t size);

#endif
