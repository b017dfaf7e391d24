/* Public. Colour: sRGB, linear light, CIELAB (D50), CIEDE2000. SPDX-License-Identifier: MIT
 *
 * Sources: sRGB transfer and primaries IEC 61966-2-1:1999; CIELAB CIE 15 with the ICC D50 white,
 * Bradford-adapted; CIEDE2000 Sharma, Wu & Dalal, Color Res. Appl. 30 (2005) 21-30. */
#ifndef LOGOCANE_COLOUR_H
#define LOGOCANE_COLOUR_H

#include <stdbool.h>
#include <stdint.h>

enum { RGB8_CODE = 8 }; /* bytes of "#RRGGBB", the closing 0 included */

typedef struct Rgb8 {
    uint8_t r, g, b; /* sRGB, 0..255 */
} Rgb8;

typedef struct Linear {
    double r, g, b; /* linear light, sRGB primaries, 0..1 */
} Linear;

typedef struct Lab {
    double l, a, b; /* CIELAB, D50: l 0..100 */
} Lab;

/* The sRGB transfer function and its inverse; v in 0..1. */
double srgb_to_linear(double v);
double linear_to_srgb(double v);

Linear rgb8_linear(Rgb8 c); /* three powers: where there are many pixels, fill a table of the 256 values */
Rgb8 linear_rgb8(Linear c); /* clamped to 0..1, rounded to nearest */
Lab linear_lab(Linear c);   /* to D50 by the Bradford matrix of the ICC sRGB profile */
Lab rgb8_lab(Rgb8 c);

/* CIELAB chroma: 0 of greys. */
double rgb8_chroma(Rgb8 c);

/* CIEDE2000 with kL = kC = kH = 1; symmetric; 0 for equal colours. */
double delta_e00(Lab p, Lab q);

/* "#RRGGBB" or "RRGGBB" -> colour; false leaves *out untouched. */
bool rgb8_parse(const char *text, Rgb8 *out);

/* The colour as "#RRGGBB". */
void rgb8_code(Rgb8 c, char out[RGB8_CODE]);

#endif
