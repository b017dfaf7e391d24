/* BMP and GIF by stb_image; a part of the stage decode. SPDX-License-Identifier: MIT
 *
 * All other kinds, files and HDR are compiled out. Sizes are checked before stb_image is called, so the
 * largest block that it can want is the picture of 60 megapixels as RGBA, 240 MB; what asks for more is a
 * mistake and gets nothing. The only state that lasts are stb_image's own thread-local settings, which nobody
 * changes, and its reason for the last failure, which is reset before each call and read right after it. */
#include "read/decoders.h"

#include <stdlib.h>
#include <string.h>

#define LARGEST_BLOCK ((size_t)4 * 60000000 + (1 << 20))

static void *budget_malloc(size_t size) {
    return size > LARGEST_BLOCK ? NULL : calloc(1, size);
}

static void *budget_realloc(void *block, size_t size) {
    return size > LARGEST_BLOCK ? NULL : realloc(block, size);
}

#define STBI_MALLOC(size) budget_malloc(size)
#define STBI_REALLOC(block, size) budget_realloc(block, size)
#define STBI_FREE(block) free(block)
#define STBI_ONLY_BMP
#define STBI_ONLY_GIF
#define STBI_NO_STDIO
#define STBI_NO_HDR
#define STBI_NO_LINEAR
#define STBI_MAX_DIMENSIONS 65535
#define STB_IMAGE_STATIC
#define STB_IMAGE_IMPLEMENTATION
#include <stb_image.h>

uint8_t *stb_image_load(const uint8_t *bytes, size_t size, int *width, int *height, bool *no_memory) {
    int channels = 0;
    stbi__g_failure_reason = ""; /* some failures set none: without this, NULL or that of an earlier file */
    uint8_t *pixels = stbi_load_from_memory(bytes, (int)size, width, height, &channels, 4);
    *no_memory = !pixels && strcmp(stbi_failure_reason(), "outofmem") == 0;
    return pixels;
}
