/* Public. The order of the stages. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_JOB_RUN_H
#define LOGOCANE_JOB_RUN_H

#include "model/job.h"

/* Runs the stages from matching on. `job` must have picture, inks, shop, file and order set and the rest
 * empty. An order by mass is run with the pieces N for which N - 1 pieces of the mass they come to weigh less
 * than ordered, N at least that; order.pieces says how many. Fails as the stages do; then the job is empty
 * but for what was set. */
bool job_run(Job *job, Err *err) MUST_CHECK;

/* Runs a job that was run before once more, after any change that leaves picture, inks and candies as they
 * are: of the order's pieces, mass, piece size, detail, or of the shop's numbers. While the key of the lay-up
 * (cane.h) stays, the lay-up is kept, and only the cheap rest is worked out. The results are those of
 * job_run. */
bool job_run_again(Job *job, Err *err) MUST_CHECK;

#endif
