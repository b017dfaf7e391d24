/* Which pixel is of which colour, and which are only the mix of two that meet. SPDX-License-Identifier: MIT
 */
#ifndef LOGOCANE_LABELLING_H
#define LOGOCANE_LABELLING_H

#include "base/err.h"
#include "inks/histogram.h"
#include "model/picture.h"

typedef enum PixelKind {
    PIXEL_FLAT,    /* like its four neighbours: labelled by the nearest colour */
    PIXEL_PURE,    /* at an edge, within CIEDE2000 6 of its colour and no mix */
    PIXEL_CLAIMED, /* while labelling: near a colour that is not flat hereabouts */
    PIXEL_MIX,     /* at an edge, a mix of colours that meet there */
    PIXEL_LOOSE    /* at an edge, neither: votes for a colour of its own */
} PixelKind;

typedef struct Labelling {
    const Picture *picture; /* not owned */
    TintTables tables;
    Swatches swatches;
    Histogram histogram; /* all pixels, weighed by flatness */
    uint8_t *rough; /* [height][width] 1000 x the largest step to a side neighbour (OKLab, alpha), at most
                       255; owned */
    uint8_t *label; /* [height][width] index of a swatch; owned */
    uint8_t *kind;  /* [height][width] PixelKind; owned */
    size_t edges;
    int32_t *edge; /* the pixels that are not flat; owned */
} Labelling;

/* Measures the picture: roughness, histogram, edge pixels; no swatches yet. Fails with ERR_MEMORY; free what
 * is there all the same. */
bool labelling_measure(const Picture *picture, Labelling *out, Err *err) MUST_CHECK;

/* Labels every pixel with the swatches there are (at least one). */
bool labelling_label(Labelling *l, Err *err) MUST_CHECK;

/* The tint of a pixel. */
Tint labelling_tint(const Labelling *l, size_t pixel);

/* The swatches that are flat or pure within a few pixels, as a set. */
uint64_t labelling_around(const Labelling *l, size_t pixel);

void labelling_free(Labelling *l);

#endif
