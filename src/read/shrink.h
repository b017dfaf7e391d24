/* Rows of pixels averaged into a Picture; a part of the stage decode. SPDX-License-Identifier: MIT
 *
 *     shrink_begin(&s, width, height, 8, 0, true, err), shrink_row(&s, y, 0, 1, width, rgba) for y = 0, 1, 2
 * ..., shrink_finish(&s, &picture); shrink_free(&s) in any case. */
#ifndef LOGOCANE_SHRINK_H
#define LOGOCANE_SHRINK_H

#include "base/err.h"
#include "model/picture.h"

#include <stdint.h>

typedef struct Shrink {
    Picture picture; /* the picture under way; owned */
    int samples; /* of a pixel in the rows that come: 4; 3 = R, G, B, all opaque: set after shrink_begin */
    bool plain;  /* opaque pixels stay as they are */
    int sample_bytes; /* 1 or 2: bytes of a sample in the rows that come */
    int filled;       /* rows of the picture that are done, 0..picture.height */
    bool ordered;     /* rows come whole and from the top: one row of sums is enough */
    uint16_t *linear; /* [256 or 65536], sample -> linear light, 65535 = white; owned */
    uint8_t *srgb;    /* [65536], linear light -> sRGB, rounded to nearest; owned */
    uint64_t *sums;   /* [1 or picture.height][picture.width][4]: light x alpha of r, g, b; alpha; owned */
} Shrink;

/* Gets ready for a picture of width x height px, 1..65535 each way, at most 100 megapixels, whose samples are
 * of 8 or 16 bits (`depth`) and mean light = sample^(1/gamma), or sRGB where gamma is 0. `ordered`: rows will
 * come whole and from the top; else (interlaced) in any order and in parts. Fails with ERR_MEMORY. */
bool shrink_begin(Shrink *shrink, int width, int height, int depth, double gamma, bool ordered,
                  Err *err) MUST_CHECK;

/* Adds the `count` pixels x, x + step, x + 2 step ... of row y: R, G, B, A samples, straight alpha, those of
 * 16 bits with the high byte first. */
void shrink_row(Shrink *shrink, int y, int x, int step, int count, const uint8_t *rgba);

/* Ends the work: *out gets the picture, which the caller then owns. Every pixel must have been added once. */
void shrink_finish(Shrink *shrink, Picture *out);

/* Frees what is left and resets to {0}; safe on empty and twice. */
void shrink_free(Shrink *shrink);

#endif
