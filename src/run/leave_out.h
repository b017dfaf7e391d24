/* A logo with something left out. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_LEAVE_OUT_H
#define LOGOCANE_LEAVE_OUT_H

#include "base/err.h"
#include "model/job.h"

/* The inks of a job that was run, redrawn: without the parts and holes of the set (bit i: judgement.part[i]),
 * whose pixels take the ink of what is nearest, and, if `joined` is an ink (else -1), with that ink become
 * `into`. Shares and borders are counted anew, inks without a pixel dropped (the field is kept); circle and
 * framing stay, so that all else stays where it was. Fails with ERR_MEMORY; *out is then untouched. The
 * caller frees it. */
bool leave_out(const Job *job, uint64_t without, int joined, int into, InkMap *out, Err *err) MUST_CHECK;

#endif
