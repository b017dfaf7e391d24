/* Public. Colours that lie far apart, and colours that candy can have. SPDX-License-Identifier: MIT
 *
 * CIEDE2000 was made for near colours: over long ways it gives a dark grey to violet, a dark green to black.
 */
#ifndef LOGOCANE_FAR_COLOUR_H
#define LOGOCANE_FAR_COLOUR_H

#include "model/colour.h"

#define NEAR_COLOUR 10.0 /* CIEDE2000: up to here it is what a difference costs */

/* What it costs to give an ink this candy: CIEDE2000 up to NEAR_COLOUR; beyond, NEAR_COLOUR and a difference
 * in which another hue weighs more than another lightness, and a hue for a neutral, or a neutral for a hue,
 * most of all. Symmetric, 0 for equal colours, without a jump. */
double colour_cost(Rgb8 p, Rgb8 q);

/* What candy can be, in CIELAB. A value: of the shop's keys. */
typedef struct CandyGamut {
    double darkest, lightest; /* L*, 0..100 */
    double chroma;            /* most C* */
} CandyGamut;

/* The colour nearest to this one that candy can have, of the same hue: first as strong as can be, then as
 * dark or light. The same colour if it can be had. */
Rgb8 colour_bounded(Rgb8 colour, const CandyGamut *gamut);

#endif
