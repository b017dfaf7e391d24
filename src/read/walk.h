/* Is a picture file whole? A part of the stage decode. SPDX-License-Identifier: MIT
 *
 * stb_image 2.27 takes cut-off BMP and GIF files for whole, and believes what a header claims. So each
 * file of these kinds, and each PSD, is walked first, by its own structure, without making a pixel: is all
 * there that the header wants? The bytes may be touched up where stb_image would read them wrongly; that is
 * said at each place. */
#ifndef LOGOCANE_WALK_H
#define LOGOCANE_WALK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef enum WalkEnd {
    WALK_WHOLE,
    WALK_CUT,     /* ends too early */
    WALK_DAMAGED, /* contradicts itself */
    WALK_OTHER    /* a variety that is not read */
} WalkEnd;

typedef struct Walk {
    bool sized;             /* the size was found, whatever the end */
    uint32_t width, height; /* px, as stored; any value */
} Walk;

/* *out must be {0}; it is filled as far as the walk comes. Cost: one pass over the bytes. */
WalkEnd walk_gif(uint8_t *bytes, size_t size, Walk *out);
WalkEnd walk_bmp(uint8_t *bytes, size_t size, Walk *out);
WalkEnd walk_psd(const uint8_t *bytes, size_t size, Walk *out);

/* The pixels of a PSD that was found whole: rgba[height][width][4], sRGB, straight alpha. (The other kinds
 * are stb_image's.) */
void psd_pixels(const uint8_t *bytes, size_t size, uint8_t *rgba);

#endif
