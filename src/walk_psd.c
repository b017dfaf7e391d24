/* Is the flat image of a PSD whole? A part of the stage decode. SPDX-License-Identifier: MIT
 *
 * Section by section (Adobe Photoshop File Formats Specification, 2019) to the image data: raw channels must
 * all be there; of run-length (PackBits) channels every row must come to the picture's width within the bytes
 * that the row table gives it. The fourth channel is transparency, unless there are layers and their count is
 * positive: then it is a saved selection, and is made opaque in place, since stb_image takes it for
 * transparency always. */
#include "walk.h"

#include "cursor.h"

#include <string.h>

typedef struct Psd {
    uint8_t *bytes;
    Cursor c;
    unsigned channels;
    unsigned depth;
    bool selection; /* the fourth channel is no transparency */
} Psd;

static WalkEnd walk_raw(Psd *p, const Walk *size) {
    uint64_t channel = (uint64_t)size->width * size->height * (p->depth / 8);
    if (channel * p->channels > cursor_left(&p->c)) return WALK_CUT;
    if (p->selection) memset(p->bytes + p->c.at + 3 * channel, 255, channel);
    return WALK_WHOLE;
}

/* One row: `count` bytes that must unpack to `width`; with `fill`, to as many 255. */
static bool walk_row(uint8_t *row, size_t count, size_t width, bool fill) {
    size_t made = 0;
    for (size_t i = 0; i < count;) {
        unsigned code = row[i++];
        if (code == 128) continue; /* nothing */
        size_t values = code < 128 ? code + 1 : 1;
        if (values > count - i) return false;
        if (fill) memset(row + i, 255, values);
        made += code < 128 ? values : 257 - code;
        i += values;
    }
    return made == width;
}

static WalkEnd walk_packed(Psd *p, const Walk *size) {
    if (p->depth != 8) return WALK_OTHER; /* stb_image unpacks 16 bits wrongly */
    size_t rows = (size_t)size->height * p->channels;
    Cursor table = p->c;
    cursor_skip(&p->c, rows * 2);
    if (p->c.short_of) return WALK_CUT;
    for (size_t i = 0; i < rows; i++) {
        size_t count = cursor_be16(&table), start = p->c.at;
        cursor_skip(&p->c, count);
        if (p->c.short_of) return WALK_CUT;
        bool fill = p->selection && i / size->height == 3;
        if (!walk_row(p->bytes + start, count, size->width, fill)) return WALK_DAMAGED;
    }
    return WALK_WHOLE;
}

/* The layer section starts with the length of the layer information, and it with the count of layers. */
static bool has_plain_layers(Cursor c, uint32_t length) {
    if (length < 6) return false;
    uint32_t information = cursor_be32(&c);
    unsigned count = cursor_be16(&c);
    return information > 0 && count > 0 && count < 0x8000;
}

WalkEnd walk_psd(uint8_t *bytes, size_t size, Walk *out) {
    Psd p = {.bytes = bytes, .c = {.bytes = bytes, .size = size, .at = size < 4 ? size : 4}};
    unsigned version = cursor_be16(&p.c);
    cursor_skip(&p.c, 6);
    p.channels = cursor_be16(&p.c);
    out->orientation = 1;
    out->height = cursor_be32(&p.c);
    out->width = cursor_be32(&p.c);
    p.depth = cursor_be16(&p.c);
    unsigned mode = cursor_be16(&p.c);
    if (p.c.short_of) return WALK_CUT;
    if (version != 1) return WALK_OTHER; /* 2: the large kind */
    out->sized = true;
    if (mode != 3 || (p.depth != 8 && p.depth != 16) || p.channels < 3 || p.channels > 16) return WALK_OTHER;
    if (out->width == 0 || out->height == 0 || out->width > 30000 || out->height > 30000) return WALK_DAMAGED;
    cursor_skip(&p.c, cursor_be32(&p.c)); /* colour mode data */
    cursor_skip(&p.c, cursor_be32(&p.c)); /* resources */
    uint32_t layers = cursor_be32(&p.c);
    p.selection = p.channels > 3 && has_plain_layers(p.c, layers);
    cursor_skip(&p.c, layers);
    unsigned compression = cursor_be16(&p.c);
    if (p.c.short_of) return WALK_CUT;
    if (compression == 0) return walk_raw(&p, out);
    return compression == 1 ? walk_packed(&p, out) : WALK_OTHER; /* 2, 3: deflated, of single layers only */
}
