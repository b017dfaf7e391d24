/* Numbers read one after the other from bytes in memory. SPDX-License-Identifier: MIT */
#include "read/decoders.h"

size_t cursor_left(const Cursor *c) {
    return c->size - c->at;
}

void cursor_skip(Cursor *c, size_t count) {
    if (count > cursor_left(c)) {
        c->short_of = true;
        count = cursor_left(c);
    }
    c->at += count;
}

unsigned cursor_8(Cursor *c) {
    if (c->at < c->size) return c->bytes[c->at++];
    c->short_of = true;
    return 0;
}

unsigned cursor_be16(Cursor *c) {
    unsigned high = cursor_8(c);
    return high << 8 | cursor_8(c);
}

unsigned cursor_le16(Cursor *c) {
    unsigned low = cursor_8(c);
    return low | cursor_8(c) << 8;
}

uint32_t cursor_be32(Cursor *c) {
    uint32_t high = cursor_be16(c);
    return high << 16 | cursor_be16(c);
}

uint32_t cursor_le32(Cursor *c) {
    uint32_t low = cursor_le16(c);
    return low | (uint32_t)cursor_le16(c) << 16;
}
