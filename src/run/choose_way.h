/* How a picture is best redrawn for hands. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CHOOSE_WAY_H
#define LOGOCANE_CHOOSE_WAY_H

#include "base/err.h"
#include "model/job.h"

/* Redraws job->grid, which is framed, in the way whose finished piece is best, worked out coarsely. Fails
 * with ERR_MEMORY only. */
bool redraw_best(Job *job, Err *err) MUST_CHECK;

#endif
