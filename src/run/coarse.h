/* A piece worked out coarsely, to compare by. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_COARSE_H
#define LOGOCANE_COARSE_H

#include "base/err.h"
#include "model/job.h"

/* How the coarse picture comes out. */
typedef enum CoarseHand {
    COARSE_LAID, /* of ropes, laid up with straight cuts only */
    COARSE_FREE  /* as if it could be laid without ropes; the lay-up is the same */
} CoarseHand;

/* Frames the job, whose palette and cane are set, with fewer steps for the same log: what comes of it is some
 * twenty times quicker than as it will be laid. The cane becomes coarse. Fails with ERR_MEMORY only; what is
 * filled in is the job's to free. */
bool coarse_frame(Job *job, Err *err) MUST_CHECK;

/* Then, once its grid is redrawn, lays it up with straight cuts only, softens, judges and measures it.
 * Likewise. */
bool coarse_piece(Job *job, CoarseHand hand, Err *err) MUST_CHECK;

#endif
