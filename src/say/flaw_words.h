/* Public. What does not come out, in words. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FLAW_WORDS_H
#define LOGOCANE_FLAW_WORDS_H

#include "model/job.h"

#include <stddef.h>

enum { FLAW_TEXT = 160 };

/* "red part, upper left: lost". */
void flaw_print(const Job *job, const Flaw *flaw, char out[FLAW_TEXT]);

/* "upper left", "middle": where a point of the face lies, `side` samples wide. */
const char *face_where(Point p, double side);

#endif
