/* Is a GIF whole? A part of the stage decode. SPDX-License-Identifier: MIT
 *
 * Block by block (GIF89a, CompuServe 1990, 17 to 27) to the trailer. The codes of the first image (appendix
 * F) are followed for their lengths only: do they come to the frame's pixels, and do they not run on far
 * beyond them? Later images are not shown. */
#include "read/decoders.h"

enum {
    MOST_CODES = 4096,
    /* Times the frame's pixels: stb_image unpacks what runs on beyond them, a code of 12 bits up to 4 kB. */
    MOST_MADE = 2,
    /* Of a screen over a megapixel, against its first frame: without it some 60 bytes ask for a gigabyte. */
    MOST_SCREEN = 64
};

/* The stream of codes in a run of sub-blocks. */
typedef struct CodeStream {
    Cursor *c;
    unsigned block;     /* bytes left in the sub-block */
    uint32_t bits;      /* not yet used, the lowest first */
    unsigned bit_count; /* of them */
    bool ended;         /* the sub-block of length 0 was read */
} CodeStream;

/* The next code of `width` bits; -1 at the end. */
static int next_code(CodeStream *s, unsigned width) {
    while (s->bit_count < width) {
        if (s->block == 0) {
            s->block = cursor_8(s->c);
            s->ended = s->block == 0;
            if (s->ended) return -1;
        }
        s->bits |= (uint32_t)cursor_8(s->c) << s->bit_count;
        if (s->c->short_of) return -1;
        s->bit_count += 8, s->block--;
    }
    int code = (int)(s->bits & ((1u << width) - 1));
    s->bits >>= width, s->bit_count -= width;
    return code;
}

static void skip_sub_blocks(Cursor *c) {
    for (unsigned length; (length = cursor_8(c)) != 0;) cursor_skip(c, length);
}

/* Follows the codes: their strings' lengths must add up to `pixels`. */
static WalkEnd walk_codes(Cursor *c, uint64_t pixels) {
    uint16_t length[MOST_CODES]; /* of the string of each code */
    unsigned root = cursor_8(c);
    if (root < 1 || root > 8) return c->short_of ? WALK_CUT : WALK_DAMAGED;
    const int clear = 1 << root;
    int next = clear + 2, before = -1;
    unsigned width = root + 1;
    for (int i = 0; i < clear; i++) length[i] = 1;
    uint64_t made = 0;
    CodeStream s = {.c = c};
    for (int code; (code = next_code(&s, width)) >= 0 && code != clear + 1;) {
        if (code == clear) {
            next = clear + 2, before = -1, width = root + 1;
            continue;
        }
        if (code > next || (code == next && (before < 0 || next == MOST_CODES))) return WALK_DAMAGED;
        if (before >= 0 && next < MOST_CODES) length[next++] = (uint16_t)(length[before] + 1);
        made += length[code];
        if (made > MOST_MADE * pixels + MOST_CODES) return WALK_DAMAGED;
        before = code;
        if (next == 1 << width && width < 12) width++;
    }
    if (!s.ended) {
        cursor_skip(c, s.block);
        skip_sub_blocks(c);
    }
    if (c->short_of) return WALK_CUT;
    return made >= pixels ? WALK_WHOLE : WALK_DAMAGED;
}

static size_t table_bytes(unsigned flags) {
    return flags & 0x80 ? (size_t)3 << ((flags & 7) + 1) : 0;
}

/* An image: its descriptor, its table, its codes (20 to 22). */
static WalkEnd walk_image(Cursor *c, const Walk *screen) {
    unsigned x = cursor_16(c), y = cursor_16(c), width = cursor_16(c), height = cursor_16(c);
    cursor_skip(c, table_bytes(cursor_8(c)));
    if (c->short_of) return WALK_CUT;
    if (width == 0 || height == 0 || x + width > screen->width || y + height > screen->height)
        return WALK_DAMAGED;
    uint64_t whole = (uint64_t)screen->width * screen->height, frame = (uint64_t)width * height;
    if (whole > 1 << 20 && whole > frame * MOST_SCREEN) return WALK_OTHER;
    return walk_codes(c, frame);
}

WalkEnd walk_gif(uint8_t *bytes, size_t size, Walk *out) {
    Cursor c = {.bytes = bytes, .size = size};
    cursor_skip(&c, 6);
    out->width = cursor_16(&c);
    out->height = cursor_16(&c);
    unsigned flags = cursor_8(&c);
    cursor_skip(&c, 2);
    if (c.short_of) return WALK_CUT;
    out->sized = true;
    bytes[11] = 0; /* the background's index: stb_image would fill what is transparent with it */
    cursor_skip(&c, table_bytes(flags));
    for (bool shown = false;;) { /* of the blocks behind the first image only the structure is looked at */
        unsigned block = cursor_8(&c);
        if (c.short_of) return WALK_CUT;
        if (block == 0x3b) return shown ? WALK_WHOLE : WALK_DAMAGED;
        if (block == 0 && shown) continue; /* padding, as some writers put it */
        if (block != 0x2c && block != 0x21) return WALK_DAMAGED;
        if (block == 0x2c && !shown) {
            WalkEnd end = walk_image(&c, out);
            if (end != WALK_WHOLE) return end;
            shown = true;
            continue;
        }
        cursor_skip(&c, block == 0x2c ? 8 : 0);
        flags = cursor_8(&c); /* of an extension: its label */
        cursor_skip(&c, block == 0x2c ? table_bytes(flags) + 1 : 0);
        skip_sub_blocks(&c);
    }
}
