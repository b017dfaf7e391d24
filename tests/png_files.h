/* PNG files put together by hand, for the tests of decode. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_PNG_FILES_H
#define LOGOCANE_TESTS_PNG_FILES_H

#include "picture_files.h"
#include "png_chunks.h"

static inline void put_chunk(Bytes *b, const char *type, const void *data, size_t size) {
    put_be32(b, (uint32_t)size);
    size_t start = b->size;
    put_text(b, type);
    put(b, data, size);
    put_be32(b, png_crc(b->bytes + start, 4 + size));
}

enum { AFTER_HEADER = 33 }; /* signature and IHDR */

static inline void insert_chunk(Bytes *b, const char *type, const void *data, size_t size) {
    Bytes chunk = {0};
    put_chunk(&chunk, type, data, size);
    insert(b, AFTER_HEADER, chunk.bytes, chunk.size);
    free(chunk.bytes);
}

#endif
