/* JPEG into a Picture; a part of the stage decode. SPDX-License-Identifier: MIT
 *
 * Method. 1. libjpeg reads the header, from pieces of the file; the size is checked before anything is
 * reserved for pixels. 2. Its rows go straight into the sums of shrink, as the file has them. 3. EOI must be
 * there. 4. The small picture is turned upright: the orientation is in the first IFD of the EXIF segment
 * (JEITA CP-3451, 4.6).
 *
 * Every error of libjpeg, and every warning that pixels are wrong, ends the reading at once; the first cause
 * is the one that is told. Memory: some rows; of a file with several scans (a progressive one), libjpeg holds
 * 2 bytes for each sample, at most MOST_BLOCKS of them. Time: such a file costs a pass over the samples of
 * its components for each scan, however little data that holds, so scans are counted, and their blocks.
 *
 * Colour: all is taken for sRGB. Where four components come with Adobe's marker they are inverted CMYK, as
 * Adobe's programs write it, else plain CMYK; both are multiplied out. */
#include "read/decoders.h"

#include "base/mem.h"

#include <stdio.h> /* for jpeglib.h */

#include <jpeglib.h>
#include <jerror.h>
#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

enum {
    PIECE = 1 << 16,         /* bytes read from the file at a time */
    LARGEST_SEGMENT = 65533, /* bytes of data, by the 16 bits of its length (ITU-T T.81, B.1.1.4) */
    MOST_SCANS = 100,        /* usual scripts of progressive writers have 6 to 20 */
    /* Of 8 x 8 samples, 128 bytes: 256 MB. 43 megapixels with whole chroma, 87 with the usual quarter. */
    MOST_BLOCKS = 2000000,
    /* Blocks passed over by all scans, up to 0.15 microseconds each. A usual script passes five to seven
       times over all of them. */
    MOST_PASSED = 20 * MOST_BLOCKS,
    MOST_MEMORY = 1 << 30, /* bytes, beyond what the largest picture can take; else a variable of the
                              environment would decide */
};

/* All that must survive libjpeg's longjmp. */
typedef struct JpegReader {
    struct jpeg_decompress_struct codec;
    struct jpeg_error_mgr errors;
    struct jpeg_source_mgr input;
    struct jpeg_progress_mgr progress;
    jmp_buf way_out;
    Source *source;                   /* not owned */
    Err *err;                         /* not owned */
    Shrink shrink;                    /* begun when the header is in */
    int scan;                         /* the last one that on_scan counted; 0 = none */
    int64_t passed;                   /* blocks of all scans up to it */
    int orientation;                  /* EXIF 2.3, tag 0x0112: 1..8; 1 = as stored */
    uint8_t *row;                     /* [width][3 or 4]; owned */
    uint8_t piece[PIECE];             /* of the file */
    uint8_t segment[LARGEST_SEGMENT]; /* the last APP1 */
} JpegReader;

static bool check_size(JpegReader *r) {
    return source_check_size(r->source, r->codec.image_width, r->codec.image_height, r->err);
}

/* --- what libjpeg calls --- */

/* The size comes before other causes: it is what a file that lies about it should hear. */
static _Noreturn void on_error(j_common_ptr codec) {
    JpegReader *r = codec->client_data;
    int code = r->errors.msg_code;
    bool sized = r->codec.image_width > 0 && r->codec.image_height > 0;
    if ((sized || code == JERR_EMPTY_IMAGE) && !check_size(r)) longjmp(r->way_out, 1);
    if (code == JERR_OUT_OF_MEMORY || code == JERR_NO_BACKING_STORE)
        (void)err_set(r->err, ERR_MEMORY, "%s: out of memory; close other programs", r->source->name);
    else if (code == JERR_BAD_PRECISION || code == JERR_SOF_UNSUPPORTED || code == JERR_IMAGE_TOO_BIG)
        (void)source_variety(r->source, "JPEG", r->err);
    else
        (void)source_damaged(r->source, "JPEG", r->err);
    longjmp(r->way_out, 1);
}

/* Of the warnings (level -1), these leave the pixels as they are; all others say that data is wrong. */
static void on_message(j_common_ptr codec, int level) {
    int code = codec->err->msg_code;
    bool harmless = code == JWRN_EXTRANEOUS_DATA || code == JWRN_JFIF_MAJOR || code == JWRN_ADOBE_XFORM ||
                    code == JWRN_NOT_SEQUENTIAL || code == JWRN_BOGUS_ICC;
    if (level < 0 && !harmless) on_error(codec);
}

static int64_t blocks_of(const jpeg_component_info *component) {
    return (int64_t)component->width_in_blocks * component->height_in_blocks;
}

static _Noreturn void refuse_costly(JpegReader *r) {
    (void)source_variety(r->source, "JPEG", r->err);
    longjmp(r->way_out, 1);
}

/* Called at least once a scan: counts the blocks that a new one passes over. */
static void on_scan(j_common_ptr common) {
    JpegReader *r = common->client_data;
    const struct jpeg_decompress_struct *codec = &r->codec;
    if (codec->input_scan_number == r->scan) return;
    r->scan = codec->input_scan_number;
    for (int i = 0; i < codec->comps_in_scan; i++) r->passed += blocks_of(codec->cur_comp_info[i]);
    if (r->scan > MOST_SCANS || r->passed > MOST_PASSED) refuse_costly(r);
}

/* Of a file with several scans all samples are held. */
static void check_held(JpegReader *r) {
    int64_t blocks = 0;
    if (!jpeg_has_multiple_scans(&r->codec)) return;
    for (int i = 0; i < r->codec.num_components; i++) blocks += blocks_of(&r->codec.comp_info[i]);
    if (blocks > MOST_BLOCKS) refuse_costly(r);
}

static void on_start_or_end(j_decompress_ptr codec) {
    (void)codec;
}

static boolean on_empty(j_decompress_ptr codec) {
    JpegReader *r = codec->client_data;
    size_t got = source_read(r->source, r->piece, PIECE);
    if (got == 0) {
        if (codec->image_width == 0 || codec->image_height == 0 || check_size(r))
            (void)source_short(r->source, r->err);
        longjmp(r->way_out, 1);
    }
    r->input.next_input_byte = r->piece;
    r->input.bytes_in_buffer = got;
    return TRUE;
}

static void on_skip(j_decompress_ptr codec, long count) {
    struct jpeg_source_mgr *input = codec->src;
    size_t left = count > 0 ? (size_t)count : 0;
    while (left > input->bytes_in_buffer) {
        left -= input->bytes_in_buffer;
        (void)on_empty(codec);
    }
    input->next_input_byte += left;
    input->bytes_in_buffer -= left;
}

/* --- EXIF --- */

/* The orientation in an APP1 segment; 0 if it holds none. */
static int exif_orientation(const uint8_t *segment, size_t size) {
    if (size < 14 || memcmp(segment, "Exif\0", 6) != 0) return 0;
    Cursor c = {.bytes = segment + 6, .size = size - 6, .big = segment[6] != 'I'}; /* TIFF: either order */
    cursor_skip(&c, 4);
    uint32_t offset = cursor_32(&c);
    c.at = 0;
    cursor_skip(&c, offset);
    unsigned entries = cursor_16(&c);
    for (unsigned i = 0; i < entries && !c.short_of; i++) {
        unsigned tag = cursor_16(&c), type = cursor_16(&c);
        uint32_t count = cursor_32(&c);
        unsigned value = cursor_16(&c);
        cursor_skip(&c, 2);
        if (tag == 0x0112 && type == 3 && count == 1 && !c.short_of && value >= 1 && value <= 8)
            return (int)value;
    }
    return 0;
}

static unsigned next_byte(JpegReader *r) {
    if (r->input.bytes_in_buffer == 0) (void)on_empty(&r->codec);
    r->input.bytes_in_buffer--;
    return *r->input.next_input_byte++;
}

static boolean on_app1(j_decompress_ptr codec) {
    JpegReader *r = codec->client_data;
    unsigned length = next_byte(r) << 8;
    length |= next_byte(r);
    if (length < 2) ERREXIT(codec, JERR_BAD_LENGTH);
    for (unsigned i = 0; i < length - 2; i++) r->segment[i] = (uint8_t)next_byte(r);
    int orientation = exif_orientation(r->segment, length - 2);
    if (orientation) r->orientation = orientation;
    return TRUE;
}

/* Step 4. EXIF 2.3, tag 0x0112: which sides of the upright picture the stored row 0 and column 0 are; from 5
 * on rows are columns. On failure *p is as it was. */
static bool turn_upright(Picture *p, int orientation, Err *err) {
    if (orientation == 1) return true;
    const bool turned = orientation >= 5;
    const bool from_right = strchr("\2\3\7\10", orientation), from_below = strchr("\3\4\6\7", orientation);
    Picture upright = {.width = turned ? p->height : p->width,
                       .height = turned ? p->width : p->height,
                       .shrink = p->shrink,
                       .file_width = turned ? p->file_height : p->file_width,
                       .file_height = turned ? p->file_width : p->file_height};
    uint8_t *to = upright.rgba = mem_alloc((size_t)p->width * (size_t)p->height, 4, err);
    if (!to) return false;
    for (int y = 0; y < upright.height; y++)
        for (int x = 0; x < upright.width; x++, to += 4) {
            int column = turned ? y : x, row = turned ? x : y; /* as stored */
            if (from_right) column = p->width - 1 - column;
            if (from_below) row = p->height - 1 - row;
            memcpy(to, p->rgba + 4 * ((size_t)row * (size_t)p->width + (size_t)column), 4);
        }
    picture_free(p);
    *p = upright;
    return true;
}

/* --- the file --- */

/* Step 1. */
static bool read_header(JpegReader *r) {
    struct jpeg_decompress_struct *codec = &r->codec;
    (void)jpeg_read_header(codec, TRUE);
    if (!check_size(r)) return false;
    int components = codec->num_components;
    if (codec->arith_code || (components != 1 && components != 3 && components != 4))
        return source_variety(r->source, "JPEG", r->err);
    codec->out_color_space = components == 4 ? JCS_CMYK : JCS_RGB;
    int width = (int)codec->image_width, height = (int)codec->image_height;
    r->row = mem_alloc((size_t)width, 4, r->err);
    if (!r->row || !shrink_begin(&r->shrink, width, height, 8, 0, true, r->err)) return false;
    r->shrink.samples = 3;
    return true;
}

/* C, M, Y, K to R, G, B, in place. */
static void multiply_out(uint8_t *row, int count, bool inverted) {
    const uint8_t *from = row;
    for (uint8_t *to = row; count > 0; count--, from += 4)
        for (int c = 0; c < 3; c++) {
            int light = inverted ? from[c] * from[3] : (255 - from[c]) * (255 - from[3]);
            *to++ = (uint8_t)((light + 127) / 255);
        }
}

/* Steps 1 to 3. All calls that may jump are in here. */
static bool read_file(JpegReader *r) {
    struct jpeg_decompress_struct *codec = &r->codec;
    if (setjmp(r->way_out)) return false;
    jpeg_create_decompress(codec);
    codec->mem->max_memory_to_use = MOST_MEMORY;
    codec->src = &r->input;
    codec->progress = &r->progress;
    jpeg_set_marker_processor(codec, JPEG_APP0 + 1, on_app1);
    if (!read_header(r)) return false;
    check_held(r);
    (void)jpeg_start_decompress(codec);
    while (codec->output_scanline < codec->output_height) {
        int y = (int)codec->output_scanline, width = (int)codec->output_width;
        (void)jpeg_read_scanlines(codec, &r->row, 1);
        if (codec->num_components == 4) multiply_out(r->row, width, codec->saw_Adobe_marker);
        shrink_row(&r->shrink, y, 0, 1, width, r->row);
    }
    (void)jpeg_finish_decompress(codec);
    return true;
}

bool decode_jpeg(Source *source, Picture *out, Err *err) {
    JpegReader *r = mem_alloc(1, sizeof *r, err);
    if (!r) return false;
    r->source = source, r->err = err, r->orientation = 1;
    r->codec.err = jpeg_std_error(&r->errors);
    r->codec.client_data = r;
    r->errors.error_exit = on_error;
    r->errors.emit_message = on_message;
    r->progress.progress_monitor = on_scan;
    r->input = (struct jpeg_source_mgr){.init_source = on_start_or_end,
                                        .fill_input_buffer = on_empty,
                                        .skip_input_data = on_skip,
                                        .resync_to_restart = jpeg_resync_to_restart,
                                        .term_source = on_start_or_end};
    Picture picture = {0};
    bool good = read_file(r);
    if (good) shrink_finish(&r->shrink, &picture);
    jpeg_destroy_decompress(&r->codec);
    good = good && turn_upright(&picture, r->orientation, err);
    if (good)
        *out = picture;
    else
        picture_free(&picture);
    shrink_free(&r->shrink);
    free(r->row);
    free(r);
    return good;
}
