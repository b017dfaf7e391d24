/* Is a BMP whole? A part of the stage decode. SPDX-License-Identifier: MIT
 *
 * The headers as documented for BITMAPCOREHEADER (12 bytes) and BITMAPINFOHEADER and its later forms (40, 56,
 * 108, 124 bytes); then the rows, each filled up to four bytes, must be there. */
#include "walk.h"

#include "cursor.h"

static bool known_header(uint32_t size) {
    return size == 12 || size == 40 || size == 56 || size == 108 || size == 124;
}

static bool known_depth(unsigned bits, uint32_t compression) {
    bool masks = bits == 16 || bits == 32;
    if (bits != 1 && bits != 4 && bits != 8 && bits != 24 && !masks) return false;
    return compression == 0 ||
           (compression == 3 && masks); /* 1, 2: run lengths; 4, 5: a JPEG or PNG inside */
}

WalkEnd walk_bmp(const uint8_t *bytes, size_t size, Walk *out) {
    Cursor c = {.bytes = bytes, .size = size, .at = size < 10 ? size : 10};
    uint32_t offset = cursor_le32(&c), header = cursor_le32(&c), compression = 0;
    bool core = header == 12;
    out->orientation = 1;
    if (!c.short_of && !known_header(header)) return WALK_OTHER;
    out->width = core ? cursor_le16(&c) : cursor_le32(&c);
    out->height = core ? cursor_le16(&c) : cursor_le32(&c);
    if (!core && out->height > 0x7fffffff) out->height = -out->height; /* from the top down */
    cursor_skip(&c, 2);
    unsigned bits = cursor_le16(&c);
    if (!core) compression = cursor_le32(&c);
    if (c.short_of) return WALK_CUT;
    out->sized = true;
    if (!known_depth(bits, compression)) return WALK_OTHER;
    if (offset < 14 + header) return WALK_DAMAGED;
    if (out->width == 0 || out->height == 0) return WALK_DAMAGED;
    /* 2^32 x 32 bits x 2^31 rows might overflow; such a side is refused before the end is looked at */
    if (out->width > 0xffff || out->height > 0xffff) return WALK_DAMAGED;
    uint64_t line = ((uint64_t)out->width * bits + 31) / 32 * 4, last = ((uint64_t)out->width * bits + 7) / 8;
    return offset + line * (out->height - 1) + last <= size ? WALK_WHOLE : WALK_CUT;
}
