/* An image as a JPEG file. SPDX-License-Identifier: MIT */
#include "write/files.h"

#include "base/mem.h"

#include <stb_image_write.h>
#include <stdlib.h>
#include <string.h>

typedef struct Jpeg {
    uint8_t *bytes;        /* owned */
    size_t capacity, size; /* bytes: reserved, used */
    bool full;             /* no memory */
    Err *err;              /* not owned */
} Jpeg;

static void append(void *context, void *data, int size) {
    Jpeg *jpeg = context;
    if (jpeg->full || size <= 0) return;
    uint8_t *bytes = mem_grow(jpeg->bytes, &jpeg->capacity, jpeg->size + (size_t)size, 1, jpeg->err);
    jpeg->full = !bytes;
    if (!bytes) return;
    jpeg->bytes = bytes;
    memcpy(bytes + jpeg->size, data, (size_t)size);
    jpeg->size += (size_t)size;
}

bool write_jpeg(const Image *image, FILE *file, Err *err) {
    static const int quality[] = {92, 86, 78, 66, 50, 30, 10};
    Jpeg jpeg = {.err = err};
    for (size_t i = 0; i < sizeof quality / sizeof *quality; i++) {
        jpeg.size = 0;
        (void)stbi_write_jpg_to_func(append, &jpeg, image->width, image->height, 4, image->rgba, quality[i]);
        if (jpeg.full || jpeg.size <= JPEG_MOST_BYTES) break;
    }
    if (!jpeg.full) (void)fwrite(jpeg.bytes, 1, jpeg.size, file);
    free(jpeg.bytes);
    return !jpeg.full;
}
