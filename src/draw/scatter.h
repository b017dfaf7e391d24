/* Pieces scattered on a table. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SCATTER_H
#define LOGOCANE_SCATTER_H

#include "draw/ray.h"

enum { SCATTER_MAX = 26 };

typedef struct Scatter {
    int count;
    Piece piece[SCATTER_MAX]; /* on or over the table, none in another */
    double width, depth;      /* mm: of the part of the table they lie on, about (0, 0) */
} Scatter;

/* Some two dozen pieces of about that size (each its own, by a few hundredths, never over 1.03 times). Most
 * stand, more with the picture up than with its mirror image, turned by less than a right angle; some lie.
 * Pieces over twice as long as thick all lie, one end towards the viewer; under half as long none do.
 * `aspect` is depth over width. The same arguments give the same pieces. */
void scatter(double diameter_mm, double length_mm, double aspect, unsigned seed, Scatter *out);

#endif
