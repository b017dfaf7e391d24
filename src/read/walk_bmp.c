/* Is a BMP whole? A part of the stage decode. SPDX-License-Identifier: MIT
 *
 * The headers as documented for BITMAPCOREHEADER (12 bytes) and BITMAPINFOHEADER and its later forms (40, 52,
 * 56, 108, 124 bytes). Every row, filled up to four bytes, must be there, and every index must have its
 * colour: stb_image would show what was left in memory.
 *
 * Two things are touched up in place, since stb_image cannot read them: pixels that do not follow the header
 * at once are moved there, and a header of 52 or 56 bytes with masks is cut to 40, which leaves the masks
 * where they were. */
#include "read/decoders.h"

#include <string.h>

typedef struct Bmp {
    uint8_t *bytes;
    size_t size;
    uint32_t offset, header; /* bytes: where the pixels start; of the second header */
    uint32_t width, height;
    unsigned bits; /* a pixel */
    bool masks;
} Bmp;

static bool known_header(uint32_t size) {
    return size == 12 || size == 40 || size == 52 || size == 56 || size == 108 || size == 124;
}

static bool known_depth(unsigned bits, uint32_t compression) {
    bool masks = bits == 16 || bits == 32;
    if (bits != 1 && bits != 4 && bits != 8 && bits != 24 && !masks) return false;
    return compression == 0 ||
           (compression == 3 && masks); /* 1, 2: run lengths; 4, 5: a JPEG or PNG inside */
}

static uint64_t row_bytes(const Bmp *b) {
    return ((uint64_t)b->width * b->bits + 31) / 32 * 4;
}

/* Has every pixel's index a colour in the table between the header and the pixels? */
static bool has_colours(const Bmp *b) {
    unsigned colours = (b->offset - 14 - b->header) / 4, per_byte = 8 / b->bits;
    if (colours == 0 || colours > 256) return false;
    for (uint32_t y = 0; y < b->height; y++) {
        const uint8_t *row = b->bytes + b->offset + y * row_bytes(b);
        for (uint32_t x = 0; x < b->width; x++) {
            unsigned shift = 8 - b->bits * (x % per_byte + 1);
            if ((row[x / per_byte] >> shift & ((1u << b->bits) - 1)) >= colours) return false;
        }
    }
    return true;
}

static void write_le32(uint8_t *to, uint32_t v) {
    for (int i = 0; i < 4; i++) to[i] = (uint8_t)(v >> 8 * i & 255);
}

/* Both touches; for pixels that are no indices. */
static WalkEnd touch_up(Bmp *b) {
    if (b->header == 52 || b->header == 56) {
        static const uint8_t none[4] = {0};
        bool alpha = b->masks && b->header == 56 && memcmp(b->bytes + 66, none, 4) != 0;
        if (alpha) return WALK_OTHER; /* it would be lost */
        b->header = 40;
    }
    uint32_t start = 14 + b->header + (b->header == 40 && b->masks ? 12 : 0);
    if (b->offset < start) return WALK_DAMAGED;
    memmove(b->bytes + start, b->bytes + b->offset, b->size - b->offset);
    write_le32(b->bytes + 10, start);
    write_le32(b->bytes + 14, b->header);
    return WALK_WHOLE;
}

static WalkEnd walk_rows(Bmp *b) {
    if (b->offset < 14 + b->header) return WALK_DAMAGED;
    /* sides that might overflow the product: they are refused by their size before this end is looked at */
    if (b->width - 1 >= 0xffff || b->height - 1 >= 0xffff) return WALK_DAMAGED;
    if (b->offset + row_bytes(b) * b->height > b->size) return WALK_CUT;
    if (b->bits > 8) return touch_up(b);
    if (b->header == 52) return WALK_OTHER;
    return has_colours(b) ? WALK_WHOLE : WALK_DAMAGED;
}

WalkEnd walk_bmp(uint8_t *bytes, size_t size, Walk *out) {
    Cursor c = {.bytes = bytes, .size = size, .at = size < 10 ? size : 10};
    Bmp b = {.bytes = bytes, .size = size};
    b.offset = cursor_32(&c);
    b.header = cursor_32(&c);
    bool core = b.header == 12;
    if (!c.short_of && !known_header(b.header)) return WALK_OTHER;
    b.width = core ? cursor_16(&c) : cursor_32(&c);
    b.height = core ? cursor_16(&c) : cursor_32(&c);
    if (!core && b.height > 0x7fffffff) b.height = -b.height; /* from the top down */
    cursor_skip(&c, 2);
    b.bits = cursor_16(&c);
    uint32_t compression = core ? 0 : cursor_32(&c);
    cursor_skip(&c, core ? 0 : 20);
    if (c.short_of) return WALK_CUT;
    out->sized = true, out->width = b.width, out->height = b.height;
    if (!known_depth(b.bits, compression)) return WALK_OTHER;
    if (core && b.bits != 24) return WALK_OTHER; /* stb_image counts their colours wrongly */
    b.masks = compression == 3;
    return walk_rows(&b);
}
