/* Which pixel is of which colour, and which only mixes two that meet. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_LABELLING_H
#define LOGOCANE_LABELLING_H

#include "base/err.h"
#include "inks/histogram.h"
#include "model/picture.h"

#include <string.h>

#define SWATCH_REACH 6.0 /* CIEDE2000: colours no farther apart are one swatch */

/* Surest first: what is looked for around a pixel is of *at most* some kind. */
typedef enum PixelKind {
    PIXEL_FLAT,    /* like its four neighbours: labelled by the nearest colour */
    PIXEL_PURE,    /* at an edge, and of a colour that is flat near by */
    PIXEL_CLAIMED, /* only while labelling: at an edge, near to a colour that is not flat near by */
    PIXEL_MIX,     /* at an edge, a mix of colours that meet there */
    PIXEL_LOOSE    /* at an edge, none of these: votes for a colour of its own */
} PixelKind;

typedef struct Labelling {
    const Picture *picture; /* not owned */
    size_t pixels;          /* the picture's width * height */
    TintTables tables;
    Swatches swatches;   /* the colours that pixels are labelled with */
    Histogram histogram; /* all pixels, weighed by how flat they lie */
    uint8_t *rough; /* [height][width] 1000 x the largest step to a side neighbour (OKLab, alpha), at most
                       255; owned */
    uint8_t *label; /* [height][width] index of a swatch; owned */
    uint8_t *kind;  /* [height][width] PixelKind; owned */
    size_t edges;
    int32_t *edge; /* [edges] the pixels that are not flat, in reading order; owned */
} Labelling;

/* Measures the picture: roughness, histogram, edge pixels; no swatches yet. Fails with ERR_MEMORY. Either way
 * free *out with labelling_free. */
bool labelling_measure(const Picture *picture, Labelling *out, Err *err) MUST_CHECK;

/* Labels every pixel with the swatches there are (at least one). Fails with ERR_MEMORY. */
bool labelling_label(Labelling *l, Err *err) MUST_CHECK;

/* The tint of a pixel. */
Tint labelling_tint(const Labelling *l, size_t pixel);

/* The swatches that are flat or pure within a few pixels, as a set. */
uint64_t labelling_around(const Labelling *l, size_t pixel);

void labelling_free(Labelling *l);

/* Are the two, r g b a, the same? */
static inline bool same_pixel(const uint8_t *p, const uint8_t *q) {
    return memcmp(p, q, 4) == 0;
}

#endif
