/* One that gives advice: what `advise` and its ways of mending a line share. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_ADVISOR_H
#define LOGOCANE_ADVISOR_H

#include "trial.h"

typedef struct Advisor {
    Job *job;
    Trials trials;
    Check *check;           /* the line that is advised on */
    bool helped;            /* it has advice */
    bool all_go;            /* without anything that larger pieces or orders would cost */
    bool size_failed;       /* the largest piece was run, and does not mend it */
    int diameter;           /* a diameter that mended a line before; 0 = none */
    int found_diameter;     /* that mends this line; 0 = none */
    Verdict diameter_whole; /* of all, with that */
    bool unmended;   /* a line that is *no* has no advice: what is only a change does not matter then */
    Change together; /* the first changes of all lines */
    Change best;     /* the change with the best whole */
    Verdict best_verdict;
    char best_orders[96];
} Advisor;

/* Runs the job with the change; *good: the line is go and the whole no worse than it was; *whole: the verdict
 * of all. Neither, if it was not run. Fails with ERR_MEMORY only. */
bool try_change(Advisor *a, const Change *change, bool *good, Verdict *whole, Err *err) MUST_CHECK;

/* Writes a change that mends the line under it; `orders`: the pieces as intervals, "" if they are none. */
void tell(Advisor *a, const Change *change, Verdict whole, const char *orders);

#endif
