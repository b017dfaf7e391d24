/* Is a JPEG whole? A part of the stage decode. SPDX-License-Identifier: MIT
 *
 * Marker by marker (ITU-T T.81, annex B): a frame of a kind that stb_image reads, a scan, and EOI after it.
 * The orientation is taken from the first IFD of the EXIF segment (JEITA CP-3451, 4.6). */
#include "read/walk.h"

#include "read/cursor.h"

#include <string.h>

enum {
    /* A block of 8 x 8 samples takes a bit or more, and stands for at most 4 x 4 blocks of pixels (A.1.1);
     * tables and headers come on top. */
    MOST_PIXELS_PER_BYTE = 8 * 64 * 16
};

/* What has come so far. */
typedef struct JpegSeen {
    bool huffman, quantization, scan;
} JpegSeen;

/* TIFF numbers, either byte order. */
static unsigned tiff_16(Cursor *c, bool little) {
    return little ? cursor_le16(c) : cursor_be16(c);
}
static uint32_t tiff_32(Cursor *c, bool little) {
    return little ? cursor_le32(c) : cursor_be32(c);
}

/* The orientation in an APP1 segment; 0 if it holds none. */
static int exif_orientation(const uint8_t *segment, size_t size) {
    if (size < 14 || memcmp(segment, "Exif\0", 6) != 0) return 0;
    Cursor c = {.bytes = segment + 6, .size = size - 6};
    bool little = segment[6] == 'I';
    cursor_skip(&c, 4);
    uint32_t offset = tiff_32(&c, little);
    c.at = 0;
    cursor_skip(&c, offset);
    unsigned entries = tiff_16(&c, little);
    for (unsigned i = 0; i < entries && !c.short_of; i++) {
        unsigned tag = tiff_16(&c, little), type = tiff_16(&c, little);
        uint32_t count = tiff_32(&c, little);
        unsigned value = tiff_16(&c, little);
        cursor_skip(&c, 2);
        if (tag == 0x0112 && type == 3 && count == 1 && !c.short_of && value >= 1 && value <= 8)
            return (int)value;
    }
    return 0;
}

/* To the byte after the next marker's code, which is returned; what lies between is skipped (padding). */
static unsigned next_marker(Cursor *c) {
    while (!c->short_of) {
        const uint8_t *found = memchr(c->bytes + c->at, 0xff, cursor_left(c));
        cursor_skip(c, found ? (size_t)(found - (c->bytes + c->at)) + 1 : cursor_left(c) + 1);
        unsigned code = cursor_8(c);
        while (code == 0xff) code = cursor_8(c);
        if (code != 0 && !(code >= 0xd0 && code <= 0xd7)) return code; /* FF00 is data, D0..D7 restart it */
    }
    return 0;
}

static bool is_frame(unsigned code) {
    return code >= 0xc0 && code <= 0xcf && code != 0xc4 && code != 0xc8 && code != 0xcc;
}

/* The frame header (B.2.2). */
static WalkEnd read_frame(Cursor c, unsigned code, Walk *out) {
    unsigned precision = cursor_8(&c);
    if (out->sized) return WALK_DAMAGED;
    out->height = cursor_be16(&c);
    out->width = cursor_be16(&c);
    if (c.short_of) return WALK_CUT;
    out->sized = true;
    return code <= 0xc2 && precision == 8 ? WALK_WHOLE : WALK_OTHER; /* else: arithmetic, lossless, 12 bits */
}

/* Huffman tables (B.2.4.2): more than 256 symbols would be written past the end of stb_image 2.27's array. */
static bool good_tables(Cursor c) {
    while (cursor_left(&c) > 0) {
        unsigned symbols = 0;
        cursor_skip(&c, 1);
        for (int i = 0; i < 16; i++) symbols += cursor_8(&c);
        if (symbols > 256) return false;
        cursor_skip(&c, symbols);
    }
    return !c.short_of;
}

/* What is to be known of one segment. */
static WalkEnd walk_segment(Cursor segment, unsigned code, JpegSeen *seen, Walk *out) {
    if (is_frame(code)) return read_frame(segment, code, out);
    if (code == 0xe1) {
        int orientation = exif_orientation(segment.bytes + segment.at, cursor_left(&segment));
        if (orientation) out->orientation = orientation;
    }
    if (code == 0xc4 && !good_tables(segment)) return WALK_DAMAGED;
    seen->huffman |= code == 0xc4;
    seen->quantization |= code == 0xdb;
    seen->scan |= code == 0xda;
    return code == 0xda && !(out->sized && seen->huffman && seen->quantization) ? WALK_DAMAGED : WALK_WHOLE;
}

WalkEnd walk_jpeg(const uint8_t *bytes, size_t size, Walk *out) {
    Cursor c = {.bytes = bytes, .size = size, .at = size < 2 ? size : 2};
    out->orientation = 1;
    JpegSeen seen = {0};
    for (;;) {
        unsigned code = next_marker(&c);
        if (c.short_of) return WALK_CUT;
        if (code == 0xd9) {
            bool filled = (uint64_t)out->width * out->height <= (uint64_t)size * MOST_PIXELS_PER_BYTE;
            return seen.scan && filled ? WALK_WHOLE : WALK_DAMAGED;
        }
        if (code == 0x01) continue; /* TEM, alone without a length */
        unsigned length = cursor_be16(&c);
        if (!c.short_of && length < 2) return WALK_DAMAGED;
        Cursor segment = c;
        cursor_skip(&c, length - 2);
        if (c.short_of) return WALK_CUT;
        segment.size = c.at;
        WalkEnd end = walk_segment(segment, code, &seen, out);
        if (end != WALK_WHOLE) return end;
    }
}
