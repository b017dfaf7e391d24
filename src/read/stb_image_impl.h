/* BMP and GIF by stb_image; a part of the stage decode. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_STB_IMAGE_IMPL_H
#define LOGOCANE_STB_IMAGE_IMPL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The pixels of the file in bytes[size], size under 2^31: [*height][*width][4], sRGB, straight alpha; free
 * with free(). NULL if stb_image cannot read it, *no_memory then tells whether memory was the cause. */
uint8_t *stb_image_load(const uint8_t *bytes, size_t size, int *width, int *height, bool *no_memory);

#endif
