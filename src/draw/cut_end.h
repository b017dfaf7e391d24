/* The cut end of a piece as light. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CUT_END_H
#define LOGOCANE_CUT_END_H

#include "draw/satin.h"

enum { TONES = 16384 };

/* Linear light to sRGB bytes, fast: the transfer function by table, never a tenth of a byte off before
 * rounding. */
typedef struct Tone {
    float byte[TONES + 1];
} Tone;

void tone_fill(Tone *tone);

/* The byte of a light, which is clamped to 0..1. */
uint8_t tone_byte(const Tone *tone, float light);

typedef enum CutLight {
    CUT_FLAT, /* even light from everywhere: what scene.c adds its own light to */
    CUT_LIT   /* light from above left, a soft gloss, a rounded edge */
} CutLight;

/* Squares of light over the piece's face, edge to edge; outside it nothing. */
typedef struct CutEnd {
    int side;    /* px */
    float *rgba; /* [side][side][4] linear light times coverage, coverage; owned */
} CutEnd;

/* The softened face in its jacket. Each candy's mean over the area it shows is its stated colour, as far as a
 * change of its light by a quarter reaches. Fails with ERR_MEMORY only; *out is then untouched. */
bool cut_end_paint(const Job *job, int side, CutLight light, CutEnd *out, Err *err) MUST_CHECK;
void cut_end_free(CutEnd *end);

/* Where a direction from the middle lies among the jacket's stripes: 0..stripes, from 12 o'clock clockwise.
 */
double stripe_at(int stripes, double right, double up);

#endif
