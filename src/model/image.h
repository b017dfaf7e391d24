/* Public. An image to be written. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_IMAGE_H
#define LOGOCANE_IMAGE_H

#include "base/err.h"

#include <stdint.h>

/* Filled by image_new, but for the pixels: the drawing that asked for it. */
typedef struct Image {
    int width, height; /* px */
    double px_per_mm;  /* physical size; 0 = not stated */
    uint8_t *rgba;     /* [height][width][4], sRGB, straight alpha; owned */
} Image;

/* An image of that size, all transparent. Fails with ERR_MEMORY. */
bool image_new(int width, int height, double px_per_mm, Image *out, Err *err) MUST_CHECK;

void image_free(Image *image);

#endif
