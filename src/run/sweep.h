/* Public. Piece sizes and orders, side by side. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SWEEP_H
#define LOGOCANE_SWEEP_H

#include "base/err.h"
#include "model/job.h"
#include "model/sweep_table.h"

/* Told after each row: `done` of `all`. */
typedef void SweepProgress(void *user, int done, int all);

/* Judges job->order with each piece diameter and each number of pieces of the plan; the length of a piece
 * stays. `job` as for job_run; it is left with the last of them. With face_side > 0 each row has a face of
 * that many px. Fails as job_run does; *out is then untouched. */
bool sweep(Job *job, const SweepPlan *plan, int face_side, SweepProgress *progress, void *user,
           SweepTable *out, Err *err) MUST_CHECK;

#endif
