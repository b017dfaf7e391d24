/* Public. Both ends at true size. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAW_SIZE_H
#define LOGOCANE_DRAW_SIZE_H

#include "base/err.h"
#include "model/image.h"
#include "model/job.h"

/* The picture and, right of it, its mirror image as on the other end, at 600 px an inch, over rules of 20 mm
 * and half an inch and a legend; opaque, on white; px_per_mm set. Fails with ERR_MEMORY only; *out is then
 * untouched. */
bool draw_size(const Job *job, Image *out, Err *err) MUST_CHECK;

#endif
