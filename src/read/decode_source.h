/* The bytes of a picture file; a part of the stage decode. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DECODE_SOURCE_H
#define LOGOCANE_DECODE_SOURCE_H

#include "base/err.h"

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

enum { SOURCE_HEAD = 1024 };

typedef struct Source {
    FILE *file;                /* owned, unless it is standard input */
    const char *name;          /* stands for the file in messages; not owned */
    uint8_t head[SOURCE_HEAD]; /* the first bytes, for telling the kind; they are read again by source_read */
    size_t head_size;          /* bytes in head, under SOURCE_HEAD only if the file is no longer */
    size_t head_used;          /* bytes of head that source_read has handed out */
} Source;

/* Opens `path` ("-": standard input) and reads its head. Fails with ERR_INPUT on no such file, no permission,
 * a folder, an empty file; with ERR_SYSTEM on any other failure. source_close in any case. */
bool source_open(const char *path, const char *name, Source *out, Err *err) MUST_CHECK;
void source_close(Source *source);

/* Up to `size` of the next bytes; fewer only at the end of the file or on a read error. */
size_t source_read(Source *source, void *to, size_t size);

/* Fills *err with why a read came short, ERR_INPUT for a file that is cut off, ERR_SYSTEM for a read error;
 * returns false. */
bool source_short(const Source *source, Err *err);

/* All bytes from here on, at least one allocated; the caller frees *bytes. Fails with ERR_INPUT if they are
 * over 512 MiB, with ERR_MEMORY, with ERR_SYSTEM on a read error. */
bool source_rest(Source *source, uint8_t **bytes, size_t *size, Err *err) MUST_CHECK;

/* May a picture be of this size? Fails with ERR_INPUT if a side is 0 or over 65535 px, or the whole over
 * 100 megapixels. */
bool source_check_size(const Source *source, uint32_t width, uint32_t height, Err *err) MUST_CHECK;

#endif
