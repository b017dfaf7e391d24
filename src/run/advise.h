/* Public. What would make it better. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_ADVISE_H
#define LOGOCANE_ADVISE_H

#include "base/err.h"
#include "model/job.h"

/* A job that was run and is not *go* gets, for each check that is not *go*, the least changes that make that
 * check go, each verified by running the job with it, and the best of all; a job that is *go* is left alone.
 * At most `budget` seconds of runs are made, counted and not timed (see trial.h), what is
 * likeliest first; advice that was not verified is not given. The same on every machine. *runs (may be NULL):
 * how many were made. Fails with ERR_MEMORY only. */
#define ADVISE_BUDGET 3.6 /* s: with the job itself under 5 */
bool advise(Job *job, double budget, int *runs, Err *err) MUST_CHECK;

#endif
