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

unsigned cursor_16(Cursor *c) {
    unsigned first = cursor_8(c), second = cursor_8(c);
    return c->big ? first << 8 | second : first | second << 8;
}

uint32_t cursor_32(Cursor *c) {
    uint32_t first = cursor_16(c), second = cursor_16(c);
    return c->big ? first << 16 | second : first | second << 16;
}
