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

/* Frames and redraws alone. */
bool coarse_aim(Job *job, RedrawWay way, Err *err) MUST_CHECK;

/* Frames, redraws, lays up with straight cuts only, softens, judges and measures the job, whose palette and
 * cane are set, with fewer steps for the same log: some twenty times quicker than as it will be laid. The
 * cane becomes coarse. Fails with ERR_MEMORY only; what is filled in is the job's to free. */
bool coarse_piece(Job *job, RedrawWay way, CoarseHand hand, Err *err) MUST_CHECK;

#endif
