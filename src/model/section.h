/* Public. Sections: the outline of a rope as hands see it, laid on one of its sides.
 * SPDX-License-Identifier: MIT
 *
 * x to the right, y down, as everywhere; its box begins at (0, 0). The side it lies on, its base, is level
 * and at the bottom: corner[0] is its left end, then clockwise as seen, and the last corner is its right end.
 * "Left" and "high" at the bench are meant of it as it lies like this. Any unit. */
#ifndef LOGOCANE_SECTION_H
#define LOGOCANE_SECTION_H

#include "model/outline.h"

/* The outline laid on its side from corner `base` to the next, or its mirror image. */
Outline section_on(const Outline *outline, int base, bool mirrored);

/* The outline laid on the side that hands would choose: one with a parallel side opposite, if there are such;
 * of those left one with most right angles at its ends; of those the longest. (Of five corners or more, sides
 * under half the longest do not count.) Of the mirror images the one whose corners, from the first on, lie
 * farther left, then higher. All outlines that can be turned and mirrored into each other give the same, but
 * for errors of sums. The side is written to *base if that is not NULL. */
Outline section_of(const Outline *outline, int *base);

/* Can the outline be turned and mirrored so that it lies on the section, no coordinate of a corner further
 * apart than so? */
bool section_fits(const Outline *section, const Outline *outline, double apart);

/* Is a section of four corners, as section_of lays it, a rectangle but for corners that lie no farther than
 * `apart` from those of one? That rectangle has its area, is as wide as its base and top in the mean, stands
 * on its base, and is in *strip, laid on its longer side. */
bool section_is_strip(const Outline *section, double apart, Outline *strip);

/* Its box from (0, 0). */
double section_wide(const Outline *section);
double section_high(const Outline *section);

/* How high a corner lies over the base. */
double section_up(const Outline *section, int corner);

/* All lengths times `scale`. */
Outline section_scaled(const Outline *section, double scale);

double section_perimeter(const Outline *section);

#endif
