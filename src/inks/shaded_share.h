/* How much of a picture is shaded. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SHADED_SHARE_H
#define LOGOCANE_SHADED_SHARE_H

#include "inks/labelling.h"

/* The share of what is not field that is shaded: pixels of a swatch that is only a shade of its ink, and
 * pixels over CIEDE2000 8 from their ink and over 3 px from an edge. ink[height][width]: the swatch that is
 * the ink of each pixel; `field`: that of the background, -1 = there is none. Shadow and glow on the field
 * count as well, and field over CIEDE2000 16 from its ink; light that changes slowly across it does not.
 * *deep: the share that is over CIEDE2000 16 from its ink, and over 3 px from an edge: what flattening would
 * change for all to see; 0..*share. Fails with ERR_MEMORY; the outputs are then untouched. */
bool shaded_share(const Labelling *l, const uint8_t *ink, int field, double *share, double *deep,
                  Err *err) MUST_CHECK;

#endif
