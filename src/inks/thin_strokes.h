/* Colours that only edge pixels show: thin strokes. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_THIN_STROKES_H
#define LOGOCANE_THIN_STROKES_H

#include "inks/labelling.h"

/* Adds to the swatches the colours that loose pixels agree on: such that at least `least` of them are that
 * colour, or its mixes with the colours around. Fails with ERR_MEMORY. */
bool find_thin_strokes(Labelling *l, double least, Err *err) MUST_CHECK;

#endif
