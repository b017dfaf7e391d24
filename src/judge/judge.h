/* Public. The verdict. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_JUDGE_H
#define LOGOCANE_JUDGE_H

#include "base/err.h"
#include "model/job.h"
#include "model/judgement.h"

/* Compares the softened face with the wanted one, part by part, and the job with the shop's limits: one Check
 * a line of design 7, the worst of them the verdict. Reads all of the job but its judgement. Fails with
 * ERR_MEMORY only; *out is then untouched. */
bool judge(const Job *job, Judgement *out, Err *err) MUST_CHECK;

#endif
