/* Public. The job folder. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRITE_JOB_H
#define LOGOCANE_WRITE_JOB_H

#include "model/job.h"

/* May the job be written to the folder `dir`? As folder_check, with the files of a job. For an early answer.
 */
bool write_job_check(const char *dir, bool force, Err *err) MUST_CHECK;

/* Writes all files of the job to the folder `dir`, all or nothing. Fails with ERR_USAGE (the folder is not
 * free), ERR_SYSTEM, ERR_MEMORY; what was there is then as it was. */
bool write_job(const Job *job, const char *dir, bool force, Err *err) MUST_CHECK;

#endif
