/* Letters made even, where that gains. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_EVEN_H
#define LOGOCANE_EVEN_H

#include "base/err.h"
#include "model/even_letters.h"
#include "model/job.h"

#include <stdbool.h>

/* What came of the letters of `even`, a job with redrawn letters, beside the same job as it was: both laid
 * up, softened, judged and measured. Filled by letters_compare. */
typedef struct LetterGain {
    bool better;    /* no letter came out worse or lost a counter in redrawing, all together better, and
                       the verdict no worse */
    double was, is; /* 0..1: what is left of the letters' features, in the mean */
    double least;   /* the least that any letter gained; under 0: lost */
} LetterGain;

LetterGain letters_compare(const Job *as_is, const Job *even, const EvenLetters *letters);

/* Lays the job up with letters made even by the wishes of even_wish(); *out is the one whose letters come out
 * best, up to its measures, if they are better than as they are; else empty, and so are the others. `job` has
 * been run up to its fine map. Nothing depends on threads. Fails with ERR_MEMORY only; all are then empty.
 * Free with job_free. */
bool even_best(const Job *job, Job *out, EvenLetters *letters, LetterGain *gain, Err *err) MUST_CHECK;

#endif
