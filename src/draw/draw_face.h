/* Public. The finished cut, large. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAW_FACE_H
#define LOGOCANE_DRAW_FACE_H

#include "base/err.h"
#include "model/image.h"
#include "model/job.h"

/* The softened face in its jacket, with stripes, side x side px, anti-aliased, transparent outside; px_per_mm
 * from the piece's diameter. Fails with ERR_MEMORY only; *out is then untouched. */
bool draw_face(const Job *job, int side, Image *out, Err *err) MUST_CHECK;

#endif
