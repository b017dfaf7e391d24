/* Public. The picture for the client. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAW_MOCKUP_H
#define LOGOCANE_DRAW_MOCKUP_H

#include "base/err.h"
#include "model/image.h"
#include "model/job.h"

/* Some two dozen pieces on a table, and a card with one face large, the logo as sent, the candies and the
 * size; `width` px wide (1600 for e-mail), three quarters as high, opaque. Fails with ERR_MEMORY only; *out
 * is then untouched. */
bool draw_mockup(const Job *job, int width, Image *out, Err *err) MUST_CHECK;

#endif
