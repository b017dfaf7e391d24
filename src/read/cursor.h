/* Numbers read one after the other from bytes in memory. SPDX-License-Identifier: MIT
 *
 * Reading beyond the end gives 0 and sets `short_of`, so that a reader may look once, at its end. */
#ifndef LOGOCANE_CURSOR_H
#define LOGOCANE_CURSOR_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct Cursor {
    const uint8_t *bytes; /* [size]; not owned */
    size_t size;
    size_t at;     /* 0..size, the next byte */
    bool short_of; /* something was wanted beyond the end */
} Cursor;

unsigned cursor_8(Cursor *c);
unsigned cursor_be16(Cursor *c); /* be: the high byte first */
unsigned cursor_le16(Cursor *c); /* le: the low byte first */
uint32_t cursor_be32(Cursor *c);
uint32_t cursor_le32(Cursor *c);
void cursor_skip(Cursor *c, size_t count);
size_t cursor_left(const Cursor *c);

#endif
