/* An image to be written. SPDX-License-Identifier: MIT */
#include "model/image.h"

#include "base/mem.h"

#include <stdlib.h>

bool image_new(int width, int height, double px_per_mm, Image *out, Err *err) {
    uint8_t *rgba = mem_alloc((size_t)width * (size_t)height, 4, err);
    if (!rgba) return false;
    *out = (Image){width, height, px_per_mm, rgba};
    return true;
}

void image_free(Image *image) {
    free(image->rgba);
    *image = (Image){0};
}
