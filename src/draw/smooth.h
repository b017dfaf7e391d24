/* The softened face without its raster's stairs. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SMOOTH_H
#define LOGOCANE_SMOOTH_H

#include "base/err.h"
#include "model/grid.h"

/* Between samples the candies' blurred indicators are read bilinearly, and the largest wins: borders without
 * stairs, where the raster has them to a tenth of a sample. */
typedef struct Smooth {
    int side; /* samples */
    int candies;
    float *value;  /* [candies][side][side]; owned */
    uint8_t *top;  /* [side][side] the candy with the largest value; owned */
    float *margin; /* [side][side] how much larger than the next, 0 (on a border)..1 (inside); owned */
} Smooth;

/* Fails with ERR_MEMORY only; *out is then untouched. */
bool smooth_make(const Face *face, int candies, Smooth *out, Err *err) MUST_CHECK;
void smooth_free(Smooth *smooth);

/* The candy that wins at a point in samples: value (x, y) belongs to the middle of sample (x, y), 0.5 on. */
int smooth_candy(const Smooth *smooth, double x, double y);

/* The one candy of the square of `size` samples from (x, y) on, -1 if there may be several. */
int smooth_flat(const Smooth *smooth, double x, double y, double size);

/* A plane [side][side] of the same raster, read bilinearly at a point in samples. */
double smooth_read(const float *plane, int side, double x, double y);

/* The kernel of one pass of box blurs repeated thrice: about a Gaussian of that many samples (1..), in place.
 * Scratch: [side] floats. */
void smooth_blur(float *plane, int side, double sigma, float *scratch);

#endif
