/* One that gives advice: what advise.c and its helper advise_size.c share. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_ADVISOR_H
#define LOGOCANE_ADVISOR_H

#include "run/trial.h"

/* What was found for a check, beside its ways. */
typedef struct Note {
    bool all_go;            /* a way makes all go that costs less than larger pieces or orders */
    bool size_failed;       /* no piece of a usual size mends it: the largest was run, or cannot */
    bool unknown;           /* a run for it was not allowed */
    int diameter;           /* in steps of step_mm, of a piece that mends it; 0 = none was run */
    Verdict diameter_whole; /* of all, with that */
} Note;

typedef struct Advisor {
    Job *job;
    Trials trials;
    Check *check; /* the one that is advised on */
    Note *note;   /* on it */
    Note notes[CHECKS_MAX];
    uint64_t letters; /* set of parts and holes that are letters of a row: never left out */
    double lettering; /* 0..1: of what is drawn, where there is a drawing beside it; else 0 */
    int diameter;     /* in steps, that mended a check before; 0 = none */
    Change together;  /* the first changes of all checks */
    Way best;         /* with the best whole */
} Advisor;

/* Runs the job with the way's change and fills in `mends` and `whole`: the check is go and the whole no worse
 * than it was. Neither, if it was not run. Fails with ERR_MEMORY only. */
bool try_way(Advisor *a, Way *way, Err *err) MUST_CHECK;

/* Adds a way out to the check that is advised on: one that mends it, or with which the whole is a change and
 * no longer a no. */
void add_way(Advisor *a, const Way *way);

/* --- advise_size: a larger piece, a larger order: remedies of a check that is too fine --- */

/* Sizes that people would ask for: whole millimetres, twentieths of an inch; the largest, in such steps. */
double advise_step_mm(const Advisor *a);
int advise_largest_steps(const Advisor *a);

/* The least diameter that mends the check, if there is one: in whole millimetres up to 25, or in steps of
 * 0.05 in up to 1 in. Both fail with ERR_MEMORY only. */
bool advise_diameter(Advisor *a, Err *err) MUST_CHECK;

/* The first orders in hundreds of pieces that mend it, as ranges; only if a larger piece does, too. */
bool advise_pieces(Advisor *a, Err *err) MUST_CHECK;

/* --- advise_lettering: the drawing without its lettering --- */

/* Is there lettering, and a drawing besides? Then the job is run without it, beyond the budget. */
bool advise_find_lettering(Advisor *a, Err *err) MUST_CHECK;

/* Adds it to the check that is advised on, if it helps. */
bool advise_lettering(Advisor *a, Err *err) MUST_CHECK;

/* Of a no that nothing makes go so far: a larger piece that does without the lettering becomes the best way;
 * the least, as far as the budget goes.
 * All fail with ERR_MEMORY only. */
bool advise_lettering_size(Advisor *a, Err *err) MUST_CHECK;

#endif
