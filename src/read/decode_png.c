/* PNG into a Picture; a part of the stage decode. SPDX-License-Identifier: MIT
 *
 * Method. 1. The size is checked in the first bytes, before anything is allocated. 2. The file is read chunk
 * by chunk (PNG, W3C Recommendation, 2nd ed., 5.3); the chunks that make the pixels go to libpng's push
 * reader in pieces, the rest (text, profiles, thumbnails, of any size) is only checked against its CRC. 3.
 * libpng hands back rows as RGBA, those of an interlaced picture pass by pass as they stand; each goes
 * straight into the sums of shrink. So memory stays small whatever the file holds. 4. IEND must be there, and
 * every pixel must have come, and no more: data beyond the last row is refused, and never inflated (the push
 * reader stops there; the pull reader would go through all of it), and so is more data than rows of that size
 * can need.
 *
 * Colour: sRGB, or gAMA where neither sRGB nor iCCP says better. A gAMA within 5 % of 1/2.2 is what writers
 * put for sRGB, and is taken for it. The profile of an iCCP is not applied: logos are in sRGB, or near it.
 * cHRM, sBIT and bKGD are ignored. */
#include "read/decoders.h"

#include "base/mem.h"

#include <png.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <zlib.h>

enum {
    PIECE = 1 << 16,        /* bytes given to libpng at a time */
    LARGEST_CHUNK = 1 << 10 /* of those passed on, IDAT aside; PLTE is the largest, 768 */
};

/* All that must survive libpng's longjmp. */
typedef struct PngReader {
    png_structp png;
    png_infop info;
    Source *source;   /* not owned */
    Err *err;         /* not owned */
    Shrink shrink;    /* begun when the header chunks are in */
    int64_t pixels;   /* that came so far */
    int64_t expected; /* width x height */
    int64_t data;     /* bytes of IDAT chunks so far, by their heads */
    int64_t data_max; /* the most that the rows can take */
    bool profile;     /* an iCCP was seen */
    bool no_memory;   /* libpng asked for some in vain; it may go on without, we do not */
    uint8_t *piece;   /* [PIECE]; owned */
} PngReader;

static uint32_t big_32(const uint8_t *p) {
    return (uint32_t)p[0] << 24 | (uint32_t)p[1] << 16 | (uint32_t)p[2] << 8 | p[3];
}

static bool damaged(PngReader *r, const char *what) {
    return err_set(r->err, ERR_INPUT, "%s: the PNG is damaged (%s); have it sent again", r->source->name,
                   what);
}

static bool memory_is_out(PngReader *r) {
    return err_set(r->err, ERR_MEMORY, "out of memory; close other programs");
}

/* --- what libpng calls --- */

static _Noreturn void on_error(png_structp png, png_const_charp message) {
    PngReader *r = png_get_error_ptr(png);
    (void)(r->no_memory ? memory_is_out(r) : damaged(r, message));
    png_longjmp(png, 1);
}

/* What libpng mends does not matter here. What it leaves out does: rows beyond the last, for then the size in
 * the header is not that of the picture. (Bytes behind the end of the packed data are none.) */
static void on_warning(png_structp png, png_const_charp message) {
    if (strncmp(message, "Extra compressed data", 21) == 0) on_error(png, "more data than its rows");
}

static png_voidp on_malloc(png_structp png, png_alloc_size_t size) {
    PngReader *r = png_get_mem_ptr(png);
    void *block = calloc(1, size);
    r->no_memory |= !block;
    return block;
}

static void on_free(png_structp png, png_voidp block) {
    (void)png;
    free(block);
}

/* The file's gamma, 0 for sRGB. */
static double file_gamma(const PngReader *r) {
    double gamma = 0;
    int intent;
    if (r->profile || png_get_sRGB(r->png, r->info, &intent) || !png_get_gAMA(r->png, r->info, &gamma))
        return 0;
    if (fabs(gamma * 2.2 - 1) < 0.05) return 0;
    return gamma >= 0.1 && gamma <= 10 ? gamma : 0; /* beyond: a mistake */
}

static void on_info(png_structp png, png_infop info) {
    PngReader *r = png_get_progressive_ptr(png);
    int depth = png_get_bit_depth(png, info) == 16 ? 16 : 8;
    int width = (int)png_get_image_width(png, info), height = (int)png_get_image_height(png, info);
    bool ordered = png_get_interlace_type(png, info) == PNG_INTERLACE_NONE;
    r->expected = (int64_t)width * height;
    /* rows and their filter bytes, those of seven passes at most twice; doubled for writers that pack badly
     */
    r->data_max = 4 * (int64_t)(png_get_rowbytes(png, info) + 1) * height + PIECE;
    png_set_expand(png);
    png_set_gray_to_rgb(png);
    if (!shrink_begin(&r->shrink, width, height, depth, file_gamma(r), ordered, r->err)) png_longjmp(png, 1);
    bool opaque =
        !(png_get_color_type(png, info) & PNG_COLOR_MASK_ALPHA) && !png_get_valid(png, info, PNG_INFO_tRNS);
    if (opaque) r->shrink.samples = 3; /* filling in the alpha would take a third of libpng's time */
    png_start_read_image(png);
}

static void on_row(png_structp png, png_bytep row, png_uint_32 y, int pass) {
    PngReader *r = png_get_progressive_ptr(png);
    int width = r->shrink.picture.file_width;
    if (!row) return;
    if (r->shrink.ordered) {
        shrink_row(&r->shrink, (int)y, 0, 1, width, row);
        r->pixels += width;
        return;
    }
    int count = (int)PNG_PASS_COLS((png_uint_32)width, pass);
    int file_y = (int)PNG_ROW_FROM_PASS_ROW(y, pass);
    shrink_row(&r->shrink, file_y, (int)PNG_PASS_START_COL(pass), 1 << PNG_PASS_COL_SHIFT(pass), count, row);
    r->pixels += count;
}

/* --- chunks --- */

/* Gives bytes to libpng; all calls that may jump, but for the making of the reader, are in here. */
static bool feed(PngReader *r, uint8_t *bytes, size_t size) {
    if (setjmp(png_jmpbuf(r->png))) return false;
    png_process_data(r->png, r->info, bytes, size);
    return true;
}

static bool is_one_of(const uint8_t *type, const char *names) {
    for (; *names; names += 4)
        if (memcmp(type, names, 4) == 0) return true;
    return false;
}

/* Reads one chunk, and passes it on if it has to do with pixels. */
static bool read_chunk(PngReader *r, bool *last) {
    uint8_t head[8], tail[4];
    if (source_read(r->source, head, 8) != 8) return source_short(r->source, r->err);
    const uint8_t *type = head + 4;
    size_t left = big_32(head);
    bool data = is_one_of(type, "IDAT"), pass = data || is_one_of(type, "IHDRPLTEIENDtRNSgAMAsRGB");
    if (!pass && !(type[0] & 0x20)) return damaged(r, "it holds a chunk that cannot be read");
    if (left > 0x7fffffff || (pass && !data && left > LARGEST_CHUNK))
        return damaged(r, "a chunk is too long");
    if (is_one_of(type, "iCCP")) r->profile = true;
    uLong crc = crc32(0, type, 4);
    if (pass && !feed(r, head, 8)) return false;
    if (data && (r->data += (int64_t)left) > r->data_max) return damaged(r, "more data than its rows");
    while (left > 0) {
        size_t want = left < PIECE ? left : PIECE;
        if (source_read(r->source, r->piece, want) != want) return source_short(r->source, r->err);
        if (pass && !feed(r, r->piece, want)) return false;
        if (!pass) crc = crc32(crc, r->piece, (uInt)want);
        left -= want;
    }
    if (source_read(r->source, tail, 4) != 4) return source_short(r->source, r->err);
    if (pass && !feed(r, tail, 4)) return false;
    if (!pass && big_32(tail) != crc) return damaged(r, "CRC error in a chunk that is not read");
    *last = is_one_of(type, "IEND");
    return true;
}

/* --- the file --- */

/* Step 1: signature and size from the first bytes (5.2, 11.2.2). */
static bool check_head(PngReader *r) {
    static const uint8_t signature[8] = {0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n'};
    const Source *source = r->source;
    size_t size = source->head_size < 8 ? source->head_size : 8;
    if (memcmp(source->head, signature, size) != 0) return damaged(r, "sent as text");
    if (source->head_size < 33) return source_short(source, r->err);
    if (memcmp(source->head + 12, "IHDR", 4) != 0) return damaged(r, "no header");
    return source_check_size(source, big_32(source->head + 16), big_32(source->head + 20), r->err);
}

static bool start_reader(PngReader *r) {
    r->piece = mem_alloc(PIECE, 1, r->err);
    if (!r->piece) return false;
    r->png = png_create_read_struct_2(PNG_LIBPNG_VER_STRING, r, on_error, on_warning, r, on_malloc, on_free);
    if (r->png) r->info = png_create_info_struct(r->png);
    if (!r->info) return memory_is_out(r);
    png_set_crc_action(r->png, PNG_CRC_ERROR_QUIT, PNG_CRC_ERROR_QUIT);
    png_set_progressive_read_fn(r->png, r, on_info, on_row, NULL);
    uint8_t signature[8];
    return source_read(r->source, signature, 8) == 8 && feed(r, signature, 8);
}

static bool read_file(PngReader *r) {
    if (!check_head(r) || !start_reader(r)) return false;
    for (bool last = false; !last;)
        if (!read_chunk(r, &last)) return false;
    if (r->no_memory) return memory_is_out(r);
    return (r->expected > 0 && r->pixels == r->expected) || damaged(r, "rows are missing");
}

bool decode_png(Source *source, Picture *out, Err *err) {
    PngReader r = {.source = source, .err = err};
    bool good = read_file(&r);
    if (good) shrink_finish(&r.shrink, out);
    png_destroy_read_struct(&r.png, &r.info, NULL);
    shrink_free(&r.shrink);
    free(r.piece);
    return good;
}
