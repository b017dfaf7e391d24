/* Public. What is round and what is wrapped: discs in their squares, sheets round outlines.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRAPPED_H
#define LOGOCANE_WRAPPED_H

#include "model/block.h"

enum { DISC_CORNERS = 48 };

/* The disc that touches the sides of an upright square. */
Circle square_disc(const Outline *square);

/* Corners on its edge, evenly, clockwise as seen from the topmost: their box is the square about the disc. */
void disc_corners(Circle disc, Point out[DISC_CORNERS]);

/* Does the outline hold all corners of the other, on its edge or inside? */
bool outline_holds(const Outline *outline, const Outline *other);

/* steps^2 of its section. */
double wrap_area(const Wrap *wrap);

/* steps: how long it is round, along the middle of its thickness: area / thickness. */
double wrap_length(const Wrap *wrap);

/* Is its section the disc that touches the sides of its outline? So is that of a round rope that is wrapped,
 * once or twice. */
bool block_is_round(const LayUp *layup, const Block *block);

#endif
