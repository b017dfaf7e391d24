/* Picture files made in memory, for the tests of decode. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PICTURE_FILES_H
#define LOGOCANE_PICTURE_FILES_H

#include "read/read.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>
#include <cmocka.h>

/* A growing run of bytes; {0} is empty; free(bytes) at the end. */
typedef struct Bytes {
    uint8_t *bytes;
    size_t size, room;
} Bytes;

static inline void put(Bytes *b, const void *from, size_t size) {
    if (b->size + size > b->room) {
        b->room = (b->size + size) * 2;
        b->bytes = realloc(b->bytes, b->room);
        assert_non_null(b->bytes);
    }
    if (size) memcpy(b->bytes + b->size, from, size);
    b->size += size;
}

static inline void put_8(Bytes *b, unsigned v) {
    put(b, &(uint8_t){(uint8_t)v}, 1);
}
static inline void put_le16(Bytes *b, unsigned v) {
    put_8(b, v & 255), put_8(b, v >> 8 & 255);
}
static inline void put_le32(Bytes *b, uint32_t v) {
    put_le16(b, v & 0xffff), put_le16(b, v >> 16);
}
static inline void put_be16(Bytes *b, unsigned v) {
    put_8(b, v >> 8 & 255), put_8(b, v & 255);
}
static inline void put_be32(Bytes *b, uint32_t v) {
    put_be16(b, v >> 16), put_be16(b, v & 0xffff);
}
static inline void put_text(Bytes *b, const char *text) {
    put(b, text, strlen(text));
}

/* What the file holds. */
static inline Bytes file_holds(const char *path) {
    Bytes b = {0};
    uint8_t piece[4096];
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    for (size_t got; (got = fread(piece, 1, sizeof piece, file)) > 0;) put(&b, piece, got);
    fclose(file);
    return b;
}

/* Puts `size` bytes in at `at`. */
static inline void insert(Bytes *b, size_t at, const void *from, size_t size) {
    Bytes made = {0};
    put(&made, b->bytes, at);
    put(&made, from, size);
    put(&made, b->bytes + at, b->size - at);
    free(b->bytes);
    *b = made;
}

/* An unnamed file that holds the bytes; its path in path[32]. */
static inline int file_of(const uint8_t *bytes, size_t size, char *path) {
    int fd = memfd_create("picture", 0);
    assert_true(fd >= 0);
    for (size_t done = 0; done < size;) {
        ssize_t wrote = write(fd, bytes + done, size - done);
        assert_true(wrote > 0);
        done += (size_t)wrote;
    }
    (void)snprintf(path, 32, "/proc/self/fd/%d", fd);
    return fd;
}

static inline bool decode_bytes(const uint8_t *bytes, size_t size, Picture *out, Err *err) {
    char path[32];
    int fd = file_of(bytes, size, path);
    bool good = decode(path, "logo", out, err);
    close(fd);
    return good;
}

static inline Picture decode_good(const Bytes *b) {
    Picture picture = {0};
    Err err = {0};
    if (!decode_bytes(b->bytes, b->size, &picture, &err)) fail_msg("refused: %s", err.msg);
    return picture;
}

/* Refused with ERR_INPUT, in one line that starts with the name and holds `words`. */
static inline void refused(const uint8_t *bytes, size_t size, const char *words) {
    Picture picture = {0};
    Err err = {0};
    if (decode_bytes(bytes, size, &picture, &err)) fail_msg("taken: %zu bytes that want \"%s\"", size, words);
    assert_int_equal(err.code, ERR_INPUT);
    assert_null(picture.rgba);
    if (strncmp(err.msg, "logo: ", 6) != 0 || !strstr(err.msg, words) || !strstr(err.msg, "; "))
        fail_msg("%zu bytes: \"%s\" is not about \"%s\"", size, err.msg, words);
}

/* Every beginning of the file is refused. */
static inline void beginnings_are_refused(const Bytes *b, size_t whole_from) {
    for (size_t size = 0; size < whole_from; size++) {
        uint8_t *copy = malloc(size + 1); /* of its own, so that valgrind and ASan see a step too far */
        assert_non_null(copy);
        memcpy(copy, b->bytes, size);
        refused(copy, size, size == 0 ? "empty" : size < 6 ? "" : "cut off");
        free(copy);
    }
    Picture whole = {0};
    Err err = {0};
    assert_true(decode_bytes(b->bytes, whole_from, &whole, &err));
    picture_free(&whole);
}

static inline uint32_t pixel_at(const Picture *p, int x, int y) {
    const uint8_t *q = p->rgba + ((size_t)y * (size_t)p->width + (size_t)x) * 4;
    return (uint32_t)q[0] << 24 | (uint32_t)q[1] << 16 | (uint32_t)q[2] << 8 | q[3];
}

/* The colour of a letter, 0xRRGGBBAA. */
static inline uint32_t letter_colour(char c) {
    switch (c) {
    case 'R':
        return 0xe01020ff;
    case 'G':
        return 0x10a030ff;
    case 'B':
        return 0x2040c0ff;
    case 'Y':
        return 0xf0d010ff;
    case 'K':
        return 0x101010ff;
    case 'W':
        return 0xfffffeff;
    default:
        return 0; /* transparent */
    }
}

/* The picture is that of the rows, each channel to within `limit`. */
static inline void picture_is(const Picture *p, const char *const *rows, int scale, int limit) {
    for (int y = scale / 2; y < p->height; y += scale)
        for (int x = scale / 2; x < p->width; x += scale) {
            uint32_t got = pixel_at(p, x, y), want = letter_colour(rows[y / scale][x / scale]);
            for (int shift = 0; shift < 32; shift += 8)
                if (abs((int)(got >> shift & 255) - (int)(want >> shift & 255)) > limit)
                    fail_msg("pixel %d, %d: got %08x, want %08x", x, y, got, want);
        }
}

#endif
