/* What would come of it if something were changed: the job is run again. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TRIAL_H
#define LOGOCANE_TRIAL_H

#include "base/err.h"
#include "model/job.h"

enum { TRIALS_MAX = 96, SIZED = 2 };

typedef struct Outcome {
    Change change;             /* as it was run: with its points, without dyes for inks that are gone */
    Verdict verdict;           /* of the whole */
    Verdict check[CHECKS_MAX]; /* by CheckKind; go of one that the job does not have */
} Outcome;

typedef struct Trial {
    Change change;
    bool can; /* false: such a job cannot be worked out at all */
    Outcome outcome;
} Trial;

/* A job of which only sizes, hands and temperatures are changed: while its key stays, so does its lay-up. */
typedef struct Sized {
    Shop shop;
    Job job;  /* points at the shop; owned */
    int used; /* number of the run that used it last; 0 = empty */
} Sized;

typedef struct Trials {
    const Job *job; /* run; not owned */
    double budget; /* seconds that may still be spent, as trial_cost counts them: the same on every machine */
    int runs;
    int refused; /* runs that the budget did not allow */
    int trials;
    Trial trial[TRIALS_MAX];
    Sized *sized; /* [SIZED]; owned */
} Trials;

/* Room for sized jobs. Fails with ERR_MEMORY. Free with trials_free. */
bool trials_new(const Job *job, double budget, Trials *out, Err *err) MUST_CHECK;
void trials_free(Trials *trials);

/* Runs the job with the change, unless that was done before. *outcome = NULL if it cannot be worked out, or
 * the budget does not allow it. Fails with ERR_MEMORY only. */
bool trial_run(Trials *trials, const Change *change, const Outcome **outcome, Err *err) MUST_CHECK;

/* What a run of so many steps and candies takes, in seconds of one core of the machine it was measured on. */
double trial_cost(int steps, int candies);

/* The log that the change leads to, without running; false if there is none. */
bool trial_cane(const Job *job, const Change *change, Cane *cane);

/* --- change_points: by which points parts are left out --- */

/* Fills in the points of a change of a job that was run: one in each area of one ink that is left out. *can:
 * they are few enough, and each can be named. Fails with ERR_MEMORY only. */
bool change_points(const Job *job, Change *change, bool *can, Err *err) MUST_CHECK;

/* Adds to the job's order, which *order is a copy of, all that the change asks for: what its command asks for
 * (say/command_words.c). False if there is no room for it. */
bool change_order(const Job *job, const Change *change, Order *order);

#endif
