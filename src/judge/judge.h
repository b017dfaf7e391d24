/* Public. What comes of it: the verdict, and what does not come out. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_JUDGE_JUDGE_H
#define LOGOCANE_JUDGE_JUDGE_H

#include "base/err.h"
#include "model/job.h"
#include "model/judgement.h"

/* --- judge: the verdict --- */

/* What those who look for a way out must know of how it is judged. */
#define JUDGED_SHARE 0.005 /* inks and borders of a smaller share are not judged */
#define WARMTH_KNOWN 0.9   /* of a computed time that counts: the loss to air is known to a tenth */

/* Compares the softened face with the wanted one, part by part, and the job with the shop's limits: one Check
 * of a kind, the worst of them the verdict. Reads all of the job but its judgement. Fails with
 * ERR_MEMORY only; *out is then untouched. */
bool judge(const Job *job, Judgement *out, Err *err) MUST_CHECK;

/* --- measure: features kept, largest difference --- */

/* How like the wanted face the softened one is, as people see it. Reads the judgement's parts, the grid, the
 * face, the palette and the cane. Fails with ERR_MEMORY only; *out is then untouched. Free with
 * measures_free. */
bool measure(const Job *job, Measures *out, Err *err) MUST_CHECK;

/* --- check_shapes: what the two make of it together --- */

/* Adds the checks of features, letters and the largest difference to those of the judgement. */
void judge_shapes(const Job *job, const Measures *measures, Judgement *judgement);

/* judge, measure and judge_shapes: fills job->judgement and job->measures, both empty before. Fails with
 * ERR_MEMORY only; what was filled before it failed stays the job's. */
bool judge_job(Job *job, Err *err) MUST_CHECK;

/* --- find_flaws: judged parts become numbered flaws --- */

/* Lists the parts and holes that are not kept or finer than hands lay; specks are left out. Never fails. */
void find_flaws(const Job *job, Flaws *out);

#endif
