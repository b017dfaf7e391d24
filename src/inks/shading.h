/* Gradients: colours that run into each other are one ink. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SHADING_H
#define LOGOCANE_SHADING_H

#include "inks/labelling.h"

/* ink[height][width]: the swatch that is the ink of each pixel. Areas that meet without an edge on most of
 * their border are one shading, and its largest swatch is its ink; elsewhere the same swatch may be an ink of
 * its own. Fails with ERR_MEMORY. */
bool shading_inks(const Labelling *l, uint8_t *ink, Err *err) MUST_CHECK;

#endif
