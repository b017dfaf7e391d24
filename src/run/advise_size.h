/* A larger piece, a larger order: remedies of a check that is too fine. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_ADVISE_SIZE_H
#define LOGOCANE_ADVISE_SIZE_H

#include "run/advisor.h"

/* The least diameter in whole millimetres, up to 25, that mends the check, if there is one. Both fail
 * with ERR_MEMORY only. */
bool advise_diameter(Advisor *a, Err *err) MUST_CHECK;

/* The orders in hundreds of pieces that mend it, as ranges; only if a larger piece does, too. */
bool advise_pieces(Advisor *a, Err *err) MUST_CHECK;

#endif
