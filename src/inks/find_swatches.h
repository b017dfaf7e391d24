/* The main colours of a picture. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FIND_SWATCHES_H
#define LOGOCANE_FIND_SWATCHES_H

#include "inks/labelling.h"

/* Finds the swatches of a measured picture and labels it with them: colours over SWATCH_REACH apart that hold
 * 0.3 % of the unmixed pixels each, heaviest first, then those that thin strokes voted for. At least one.
 * Fails with ERR_MEMORY. */
bool find_swatches(Labelling *l, Err *err) MUST_CHECK;

/* The fewest pixels that make an ink: 0.3 % of the unmixed ones. */
double swatches_least(const Labelling *l);

#endif
