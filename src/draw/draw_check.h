/* Public. What cannot be built, beside what can. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAW_CHECK_H
#define LOGOCANE_DRAW_CHECK_H

#include "base/err.h"
#include "model/image.h"
#include "model/job.h"

/* The logo as sent beside the finished cut, at one scale, 1600 px wide: strokes and gaps finer than hands lay
 * tinted on the logo, the job's places ringed on both and numbered as in the text, and listed. Fails with
 * ERR_MEMORY only; *out is then untouched. */
bool draw_check(const Job *job, Image *out, Err *err) MUST_CHECK;

#endif
