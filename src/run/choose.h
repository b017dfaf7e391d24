/* Which of several palettes makes the best piece. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CHOOSE_H
#define LOGOCANE_CHOOSE_H

#include "base/err.h"
#include "model/job.h"

/* Matches the job's inks, tries the palettes that could do and takes the best. They depend on inks, shop and
 * the order's candies, not on sizes and numbers. Fails as match_candies does; nothing is changed then. */
bool choose_palette(const Job *job, Palette *palette, Choice *out, Err *err) MUST_CHECK;

/* Would the same be chosen for another order of the job's picture? False if that is not known. Both orders'
 * shops may differ in people and warm box only. */
bool choice_stays(const Job *job, const Order *other);

#endif
