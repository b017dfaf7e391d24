/* Public. Plain English names of colours. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_COLOUR_NAME_H
#define LOGOCANE_COLOUR_NAME_H

#include "model/colour.h"

enum { COLOUR_NAMES = 99 };

/* All the names that are known, "dark teal", "orange", the one that fits the colour best first; in lower
 * case, constant strings. */
void colour_names(Rgb8 colour, const char *out[COLOUR_NAMES]);

/* Is it one of them? */
bool colour_name_known(const char *name);

#endif
