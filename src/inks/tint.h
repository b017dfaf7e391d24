/* Colours with alpha, mixed and compared. SPDX-License-Identifier: MIT
 *
 * A tint is held premultiplied, twice: in linear light, and as encoded values (the sRGB bytes / 255).
 * Pictures that were averaged in linear light mix along the first, what most drawing programs and JPEG do
 * along the second. */
#ifndef LOGOCANE_TINT_H
#define LOGOCANE_TINT_H

#include "model/colour.h"

typedef struct Tint {
    float linear[4];  /* r g b alpha, premultiplied, linear light, 0..1 */
    float encoded[4]; /* the same, premultiplied sRGB values */
    float ok[4];      /* OKLab times alpha, and alpha: for nearest neighbours, cheap */
} Tint;

/* Tables that make a tint of a pixel without a power or a root. About 8 kB; fill once per call of a stage. */
typedef struct TintTables {
    float linear[256]; /* linear light of an sRGB byte */
    float root[2049];  /* cube root of i / 2048; dark values are rooted exactly */
} TintTables;

void tint_tables(TintTables *tables);

Tint tint_of_pixel(const TintTables *tables, const uint8_t rgba[4]);
Tint tint_of_linear(const float premultiplied[4]);
Tint tint_of_encoded(const float premultiplied[4]);

/* Over white, as it looks on paper. */
Rgb8 tint_rgb8(const Tint *tint);
bool tint_transparent(const Tint *tint); /* alpha under a half */

/* Squared distance in OKLab and alpha. */
float tint_near(const Tint *p, const Tint *q);

/* CIEDE2000; of see-through tints the larger of that over white and that over black. */
double tint_distance(const Tint *p, const Tint *q);

/* tint_distance(p, q) <= limit, 1 <= limit <= 10; most cases are told by tint_near alone (bounds measured,
 * see tint.c). */
bool tint_within(const Tint *p, const Tint *q, double limit);

/* Is p a mix of a and b, within CIEDE2000 `limit` of the straight line between them, in linear light or in
 * encoded values, or of the line that JPEG makes when it blurs hue more than lightness? Then *part is b's
 * part, 0..1, measured in linear light if `linear`, else in encoded values. */
bool tint_mix(const Tint *p, const Tint *a, const Tint *b, double limit, bool linear, double *part);

/* The same of three; *most is the index (0, 1, 2) of the one with the largest part. */
bool tint_mix3(const Tint *p, const Tint *const of[3], double limit, int *most);

#endif
