/* The flat image of a PSD: is it whole, and its pixels. A part of the stage decode. SPDX-License-Identifier:
 * MIT
 *
 * Section by section (Adobe Photoshop File Formats Specification, 2019) to the image data: raw channels must
 * all be there; of run-length (PackBits) channels every row must come to the picture's width within the bytes
 * that the row table gives it. The channel after the colours is transparency, unless there are layers and
 * their count is positive: then it is a saved selection, and has no part in the picture. Where there is
 * transparency, the colours are stored blended with white, which is taken out again.
 *
 * stb_image 2.27 does none of the tests, takes a selection for transparency, unpacks 16 bits wrongly, and
 * takes out the white by a float that may not fit its byte (undefined in C). So it is not asked. */
#include "read/decoders.h"

enum { LARGEST_SIDE = 30000 };

typedef struct Psd {
    Cursor c; /* at the image data */
    uint32_t width, height;
    unsigned channels, depth;
    unsigned colours; /* channels of colour: 1 or 3 */
    bool alpha;       /* the channel after the colours is transparency */
    bool packed;
} Psd;

/* One row: do `count` bytes unpack to exactly `width`? With `to`, they are put there. */
static bool unpack_row(const uint8_t *row, size_t count, uint8_t *to, size_t width) {
    size_t made = 0;
    for (size_t i = 0; i < count;) {
        unsigned code = row[i++];
        if (code == 128) continue; /* nothing */
        bool literal = code < 128;
        size_t values = literal ? code + 1 : 1, run = literal ? values : 257 - code;
        if (values > count - i || run > width - made) return false;
        for (size_t k = 0; to && k < run; k++) to[made + k] = row[literal ? i + k : i];
        made += run, i += values;
    }
    return made == width;
}

static WalkEnd walk_packed(Psd p) {
    size_t rows = (size_t)p.height * p.channels, width = (size_t)p.width * (p.depth / 8);
    Cursor table = p.c;
    cursor_skip(&p.c, rows * 2);
    for (size_t i = 0; i < rows && !p.c.short_of; i++) {
        size_t count = cursor_16(&table), start = p.c.at;
        cursor_skip(&p.c, count);
        if (!p.c.short_of && !unpack_row(p.c.bytes + start, count, NULL, width)) return WALK_DAMAGED;
    }
    return p.c.short_of ? WALK_CUT : WALK_WHOLE;
}

/* The layer section starts with the length of the layer information, and it with the count of layers. */
static bool has_plain_layers(Cursor c, uint32_t length) {
    if (length < 6) return false;
    uint32_t information = cursor_32(&c);
    unsigned count = cursor_16(&c);
    return information > 0 && count > 0 && count < 0x8000;
}

/* All up to the image data. */
static WalkEnd read_header(Psd *p, const uint8_t *bytes, size_t size) {
    *p = (Psd){.c = {.bytes = bytes, .size = size, .at = size < 4 ? size : 4, .big = true}};
    unsigned version = cursor_16(&p->c);
    cursor_skip(&p->c, 6);
    p->channels = cursor_16(&p->c);
    uint32_t height = cursor_32(&p->c), width = cursor_32(&p->c);
    p->depth = cursor_16(&p->c);
    unsigned mode = cursor_16(&p->c);
    if (p->c.short_of) return WALK_CUT;
    if (version != 1) return WALK_OTHER; /* 2: the large kind */
    p->height = height, p->width = width;
    p->colours = mode == 3 ? 3 : 1; /* RGB, grey; no others */
    if ((mode != 3 && mode != 1) || (p->depth != 8 && p->depth != 16)) return WALK_OTHER;
    if (p->channels < p->colours || p->channels > 56) return WALK_DAMAGED;
    if (width - 1 >= LARGEST_SIDE || height - 1 >= LARGEST_SIDE) return WALK_DAMAGED;
    cursor_skip(&p->c, cursor_32(&p->c)); /* colour mode data */
    cursor_skip(&p->c, cursor_32(&p->c)); /* resources */
    uint32_t layers = cursor_32(&p->c);
    p->alpha = p->channels > p->colours && !has_plain_layers(p->c, layers);
    cursor_skip(&p->c, layers);
    unsigned compression = cursor_16(&p->c);
    if (p->c.short_of) return WALK_CUT;
    p->packed = compression == 1;
    return compression <= 1 ? WALK_WHOLE : WALK_OTHER; /* 2, 3: deflated, of single layers only */
}

WalkEnd walk_psd(uint8_t *bytes, size_t size, Walk *out) {
    Psd p;
    WalkEnd end = read_header(&p, bytes, size);
    out->sized = p.colours > 0;
    out->width = p.width, out->height = p.height;
    if (end != WALK_WHOLE) return end;
    if (p.packed) return walk_packed(p);
    uint64_t all = (uint64_t)p.width * p.height * p.channels * (p.depth / 8);
    return all <= cursor_left(&p.c) ? WALK_WHOLE : WALK_CUT;
}

/* Puts one row of a channel where it belongs. */
static void place_row(const Psd *p, const uint8_t *row, unsigned channel, uint8_t *rgba) {
    unsigned from = channel == p->colours ? 3 : channel, to = p->colours == 1 && channel == 0 ? 2 : from;
    for (uint32_t x = 0; x < p->width; x++) {
        unsigned value =
            p->depth == 8 ? row[x] : ((row[2 * x] * 256u + row[2 * x + 1]) * 255 + 32767) / 65535;
        for (unsigned c = from; c <= to; c++) rgba[(size_t)x * 4 + c] = (uint8_t)value;
    }
}

/* stored = colour * alpha + white * (1 - alpha), each of 255 */
static void take_out_white(uint8_t *rgba, size_t count) {
    for (uint8_t *end = rgba + count * 4; rgba < end; rgba += 4)
        for (int c = 0; c < 3 && rgba[3] > 0; c++) {
            int darker = ((255 - rgba[c]) * 255 + rgba[3] / 2) / rgba[3];
            rgba[c] = (uint8_t)(darker > 255 ? 0 : 255 - darker);
        }
}

void psd_pixels(const uint8_t *bytes, size_t size, uint8_t *rgba) {
    uint8_t unpacked[LARGEST_SIDE * 2] = {0};
    Psd p;
    if (read_header(&p, bytes, size) != WALK_WHOLE) return;
    size_t width = (size_t)p.width * (p.depth / 8), count = (size_t)p.width * p.height;
    Cursor table = p.c;
    if (p.packed) cursor_skip(&p.c, (size_t)p.height * p.channels * 2);
    for (size_t i = 3; i < count * 4; i += 4) rgba[i] = 255;
    for (unsigned channel = 0; channel < p.colours + p.alpha; channel++)
        for (uint32_t y = 0; y < p.height; y++) {
            const uint8_t *row = p.c.bytes + p.c.at;
            size_t stored = p.packed ? cursor_16(&table) : width;
            if (p.packed && !unpack_row(row, stored, unpacked, width)) return;
            place_row(&p, p.packed ? unpacked : row, channel, rgba + (size_t)y * p.width * 4);
            cursor_skip(&p.c, stored);
        }
    if (p.alpha) take_out_white(rgba, count);
}
