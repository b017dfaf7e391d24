/* One that gives advice: what `advise` and its ways of mending a line share. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_ADVISOR_H
#define LOGOCANE_ADVISOR_H

#include "run/trial.h"

/* What was found for a line. */
typedef struct Note {
    bool helped;            /* it has advice */
    bool all_go;            /* that makes all go, without what larger pieces or orders would cost */
    bool size_failed;       /* no piece of a usual size mends it: the largest was run, or cannot */
    bool unknown;           /* a run for it was not allowed */
    int diameter;           /* of a piece that mends it; 0 = none was run */
    Verdict diameter_whole; /* of all, with that */
} Note;

typedef struct Advisor {
    Job *job;
    Trials trials;
    Check *check; /* the line that is advised on */
    Note *note;   /* its */
    Note notes[CHECKS_MAX];
    int diameter;    /* that mended a line before; 0 = none */
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

/* Writes one that does not mend the line, but with which the whole is a change and no longer a no. */
void tell_change(Advisor *a, const Change *change);

/* A sample at the piece, in mm: so much is allowed for the measuring of strokes and gaps. */
double sample_at_piece(const Job *job);

#endif
