/* Gradients, shadows, glows: colours that run into each other. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SHADING_H
#define LOGOCANE_SHADING_H

#include "inks/labelling.h"

/* ink[height][width]: the swatch that is the ink of each pixel. Areas that meet without an edge on most of
 * their border are one shading, and its largest swatch is its ink (design 5); elsewhere the same swatch may
 * be an ink of its own. Fails with ERR_MEMORY. */
bool shading_inks(const Labelling *l, uint8_t *ink, Err *err) MUST_CHECK;

/* The share of what is not field that is shaded: pixels of a swatch that is only a shade of its ink, and
 * pixels over CIEDE2000 8 from their ink and over 3 px from an edge. ink[pixel] is the root swatch of each
 * pixel, `field` that of the background. Shadow and glow on the field count as well, and field over
 * CIEDE2000 16 from its ink; light that changes slowly across it does not. *deeply: the share that is over
 * CIEDE2000 16 from its ink, and over 3 px from an edge: what flattening would change for all to see. Fails
 * with ERR_MEMORY. */
bool shading_share(const Labelling *l, const uint8_t *ink, int field, double *share, double *deeply,
                   Err *err) MUST_CHECK;

#endif
