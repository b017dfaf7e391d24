/* PNG chunks and their checksums. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_PNG_CHUNKS_H
#define LOGOCANE_TESTS_PNG_CHUNKS_H

#include <stddef.h>
#include <stdint.h>

/* PNG, annex D, bit by bit. */
static inline uint32_t png_crc(const uint8_t *bytes, size_t size) {
    uint32_t crc = 0xffffffff;
    for (size_t i = 0; i < size; i++) {
        crc ^= bytes[i];
        for (int k = 0; k < 8; k++) crc = crc & 1 ? 0xedb88320 ^ crc >> 1 : crc >> 1;
    }
    return ~crc;
}

static inline uint32_t png_32(const uint8_t *p) {
    return (uint32_t)p[0] << 24 | (uint32_t)p[1] << 16 | (uint32_t)p[2] << 8 | p[3];
}

/* Gives every whole chunk the checksum that it should have. */
static inline void png_mend(uint8_t *png, size_t size) {
    for (size_t at = 8; at + 12 <= size;) {
        size_t length = png_32(png + at);
        if (length > size - at - 12) return;
        uint32_t crc = png_crc(png + at + 4, length + 4);
        at += 8 + length;
        for (int i = 0; i < 4; i++) png[at++] = (uint8_t)(crc >> (24 - 8 * i));
    }
}

#endif
