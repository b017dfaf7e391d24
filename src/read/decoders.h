/* What the decoders of picture files share; private to the stage decode. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DECODERS_H
#define LOGOCANE_DECODERS_H

#include "base/err.h"
#include "model/picture.h"

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

/* --- decode: what kind of file is it, and its bytes --- */

typedef enum FileKind {
    KIND_PNG,
    KIND_JPEG,
    KIND_GIF,
    KIND_BMP,
    KIND_PSD,
    KIND_OTHER,     /* a picture or drawing that is not read here */
    KIND_NO_PICTURE /* a film, a text, or what is not known */
} FileKind;

/* The kind, from the first bytes, never from the name. Of the last two, *what is its description with the
 * article, or NULL if it is not known; never freed. */
FileKind decode_kind(const uint8_t *head, size_t size, const char **what);

enum { SOURCE_HEAD = 1024 }; /* bytes */

typedef struct Source {
    FILE *file;                /* owned, unless it is standard input */
    const char *name;          /* stands for the file in messages; not owned */
    uint8_t head[SOURCE_HEAD]; /* the first bytes, for telling the kind; they are read again by source_read */
    size_t head_size;          /* bytes in head, under SOURCE_HEAD only if the file is no longer */
    size_t head_used;          /* bytes of head that source_read has handed out */
} Source;

/* Up to `size` of the next bytes; fewer only at the end of the file or on a read error. */
size_t source_read(Source *source, void *to, size_t size);

/* Fills *err with why a read came short, ERR_INPUT for a file that is cut off, ERR_SYSTEM for a read error;
 * returns false. */
bool source_short(const Source *source, Err *err);

/* Fill *err with what a picture of that kind ("JPEG") suffers from: damaged, or of a variety that is not
 * read; ERR_INPUT. Return false. */
bool source_damaged(const Source *source, const char *kind, Err *err);
bool source_variety(const Source *source, const char *kind, Err *err);

/* All bytes from here on, at least one allocated; the caller frees *bytes. Fails with ERR_INPUT if they are
 * over 512 MiB, with ERR_MEMORY, with ERR_SYSTEM on a read error. */
bool source_rest(Source *source, uint8_t **bytes, size_t *size, Err *err) MUST_CHECK;

/* May a picture be of this size? Fails with ERR_INPUT if a side is 0 or over 65535 px, or the whole over
 * 100 megapixels. */
bool source_check_size(const Source *source, uint32_t width, uint32_t height, Err *err) MUST_CHECK;

/* --- decode_png, decode_jpeg, decode_stb: a kind of file into a Picture --- */

/* Reads the PNG from its first byte to its IEND. Fails with ERR_INPUT if it is too large, cut off or damaged
 * (a wrong checksum too), with ERR_MEMORY, with ERR_SYSTEM on a read error. */
bool decode_png(Source *source, Picture *out, Err *err) MUST_CHECK;

/* Reads the JPEG from its first byte to its EOI; the picture is upright as its EXIF says. Fails with
 * ERR_INPUT if it is too large, cut off, damaged or of a variety that is not read (arithmetic coding,
 * lossless, not 8 bits, not 1, 3 or 4 components, of several scans and costly: see decode_jpeg.c), with
 * ERR_MEMORY, with ERR_SYSTEM on a read error. */
bool decode_jpeg(Source *source, Picture *out, Err *err) MUST_CHECK;

/* Reads a GIF, BMP or PSD, held in memory whole. Fails with ERR_INPUT if it is too large, cut off, damaged
 * or of a variety that is not read, with ERR_MEMORY, with ERR_SYSTEM on a read error. */
bool decode_stb(Source *source, FileKind kind, Picture *out, Err *err) MUST_CHECK;

/* --- shrink: rows of pixels averaged into a Picture ---
 *
 *     shrink_begin(&s, width, height, 8, 0, true, err), shrink_row(&s, y, 0, 1, width, rgba) for y = 0, 1, 2
 * ..., shrink_finish(&s, &picture); shrink_free(&s) in any case. */

typedef struct Shrink {
    Picture picture; /* the picture under way; owned */
    int samples; /* of a pixel in the rows that come: 4; 3 = R, G, B, all opaque: set after shrink_begin */
    bool plain;  /* opaque pixels stay as they are */
    int sample_bytes; /* 1 or 2: bytes of a sample in the rows that come */
    int filled;       /* rows of the picture that are done, 0..picture.height */
    bool ordered;     /* rows come whole and from the top: one row of sums is enough */
    uint16_t *linear; /* [256 or 65536], sample -> linear light, 65535 = white; owned */
    uint8_t *srgb;    /* [65536], linear light -> sRGB, rounded to nearest; owned */
    uint64_t *sums;   /* [1 or picture.height][picture.width][4]: light x alpha of r, g, b; alpha; owned */
} Shrink;

/* Gets ready for a picture of width x height px, 1..65535 each way, at most 100 megapixels, whose samples are
 * of 8 or 16 bits (`depth`) and mean light = sample^(1/gamma), or sRGB where gamma is 0. `ordered`: rows will
 * come whole and from the top; else (interlaced) in any order and in parts. Fails with ERR_MEMORY. */
bool shrink_begin(Shrink *shrink, int width, int height, int depth, double gamma, bool ordered,
                  Err *err) MUST_CHECK;

/* Adds the `count` pixels x, x + step, x + 2 step ... of row y: R, G, B, A samples, straight alpha, those of
 * 16 bits with the high byte first. */
void shrink_row(Shrink *shrink, int y, int x, int step, int count, const uint8_t *rgba);

/* Ends the work: *out gets the picture, which the caller then owns. Every pixel must have been added once. */
void shrink_finish(Shrink *shrink, Picture *out);

/* Frees what is left and resets to {0}; safe on empty and twice. */
void shrink_free(Shrink *shrink);

/* --- decode: numbers read one after the other from bytes in memory ---
 *
 * Reading beyond the end gives 0 and sets `short_of`, so that a reader may look once, at its end. */

typedef struct Cursor {
    const uint8_t *bytes; /* [size]; not owned */
    size_t size;
    size_t at;     /* 0..size, the next byte */
    bool big;      /* numbers have the high byte first; else the low one */
    bool short_of; /* something was wanted beyond the end */
} Cursor;

unsigned cursor_8(Cursor *c);
unsigned cursor_16(Cursor *c);
uint32_t cursor_32(Cursor *c);
void cursor_skip(Cursor *c, size_t count);
size_t cursor_left(const Cursor *c);

/* --- walk_gif, walk_bmp, walk_psd: is a picture file whole? ---
 *
 * stb_image 2.27 takes cut-off BMP and GIF files for whole, and believes what a header claims. So each
 * file of these kinds, and each PSD, is walked first, by its own structure, without making a pixel: is all
 * there that the header wants? The bytes may be touched up where stb_image would read them wrongly; that is
 * said at each place. */

typedef enum WalkEnd {
    WALK_WHOLE,
    WALK_CUT,     /* ends too early */
    WALK_DAMAGED, /* contradicts itself */
    WALK_OTHER    /* a variety that is not read */
} WalkEnd;

typedef struct Walk {
    bool sized;             /* the size was found, whatever the end */
    uint32_t width, height; /* px, as stored; any value */
} Walk;

/* *out must be {0}; it is filled as far as the walk comes. Cost: one pass over the bytes. */
WalkEnd walk_gif(uint8_t *bytes, size_t size, Walk *out);
WalkEnd walk_bmp(uint8_t *bytes, size_t size, Walk *out);
WalkEnd walk_psd(uint8_t *bytes, size_t size, Walk *out);

/* The pixels of a PSD that was found whole: rgba[height][width][4], sRGB, straight alpha. (The other kinds
 * are stb_image's.) */
void psd_pixels(const uint8_t *bytes, size_t size, uint8_t *rgba);

/* --- stb_image_impl: BMP and GIF by stb_image --- */

/* The pixels of the file in bytes[size], size under 2^31: [*height][*width][4], sRGB, straight alpha; free
 * with free(). NULL if stb_image cannot read it, *no_memory then tells whether memory was the cause. */
uint8_t *stb_image_load(const uint8_t *bytes, size_t size, int *width, int *height, bool *no_memory);

#endif
