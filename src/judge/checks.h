/* How checks are made. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CHECKS_H
#define LOGOCANE_CHECKS_H

#include "model/job.h"
#include "model/judgement.h"

/* Adds a line; its verdict may make the whole worse. */
Check *check_add(Judgement *j, CheckKind kind, double value, double limit, bool least, Verdict verdict);

/* *go* up to `go`, *change* up to `change`, *no* beyond: of a value that must be at least, or at most, so
 * much. A value that is at its limit by rounding is within it. */
Verdict at_least(double value, double go, double change);
Verdict at_most(double value, double go, double change);

/* The checks of the picture's inks and their candies; j->parts are filled. */
void check_drawing(const Job *job, Judgement *j); /* shading, the edge */
/* Fails with ERR_MEMORY only. */
bool check_drawn(const Job *job, Judgement *j, Err *err) MUST_CHECK; /* borders that show */
void check_own_colours(const Job *job, Judgement *j); /* inks that hardly differ; fills j->near */
void check_colours(const Job *job, Judgement *j);     /* contrast, match, candies */

/* Where the inks of the judgement's `near` meet most, in samples of the wanted face; false: there are none.
 */
bool own_colours_spot(const Job *job, Point *out);

#endif
