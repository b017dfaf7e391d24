/* Tests of src/read/decode_jpeg.c. SPDX-License-Identifier: MIT */
#include "picture_files.h"
#include "sanitized.h"

#include <jpeglib.h>
#include <pthread.h>
#include <stb_image_write.h>
#include <sys/resource.h>
#include <sys/wait.h>

static const char *const DRAWING[] = {"RGBY", "KWWK", "YBGR"};
enum { WIDE = 4, HIGH = 3 };

static void on_jpeg(void *context, void *data, int size) {
    put(context, data, (size_t)size);
}

/* Each letter a square of 8 x 8 px. */
static Bytes make_jpeg(const char *const *rows, int wide, int high) {
    Bytes pixels = {0}, b = {0};
    for (int y = 0; y < high * 8; y++)
        for (int x = 0; x < wide * 8; x++) {
            uint32_t colour = letter_colour(rows[y / 8][x / 8]);
            put_be16(&pixels, colour >> 16), put_8(&pixels, colour >> 8 & 255);
        }
    assert_true(stbi_write_jpg_to_func(on_jpeg, &b, wide * 8, high * 8, 3, pixels.bytes, 95));
    free(pixels.bytes);
    return b;
}

/* An APP1 segment behind SOI, with a tag before the orientation. */
static void insert_exif(Bytes *b, bool little, unsigned orientation) {
    Bytes s = {0};
    void (*put_16)(Bytes *, unsigned) = little ? put_le16 : put_be16;
    void (*put_32)(Bytes *, uint32_t) = little ? put_le32 : put_be32;
    put_be16(&s, 0xffe1), put_be16(&s, 2 + 6 + 8 + 2 + 2 * 12 + 4);
    put(&s, "Exif\0\0", 6);
    put_text(&s, little ? "II" : "MM"), put_16(&s, 42), put_32(&s, 8);
    put_16(&s, 2);
    put_16(&s, 0x0100), put_16(&s, 4), put_32(&s, 1), put_32(&s, 32);
    put_16(&s, 0x0112), put_16(&s, 3), put_32(&s, 1), put_16(&s, orientation), put_16(&s, 0);
    put_32(&s, 0);
    insert(b, 2, s.bytes, s.size);
    free(s.bytes);
}

static void a_jpeg_comes_upright(void **state) {
    (void)state;
    static const char *const stored[] = {"RGB", "YKW"};
    /* EXIF 2.3, tag 0x0112: the side of the upright picture where row 0 and column 0 are stored */
    static const char *const upright[10][3] = {
        {"RGB", "YKW"},     {"RGB", "YKW"},     /* 0: not allowed; 1: top, left */
        {"BGR", "WKY"},     {"WKY", "BGR"},     /* top, right; bottom, right */
        {"YKW", "RGB"},     {"RY", "GK", "BW"}, /* bottom, left; left, top */
        {"YR", "KG", "WB"}, {"WB", "KG", "YR"}, /* right, top; right, bottom */
        {"BW", "GK", "RY"}, {"RGB", "YKW"}};    /* left, bottom; 9: not allowed */
    for (unsigned i = 0; i < 20; i++) {
        Bytes b = make_jpeg(stored, 3, 2);
        insert_exif(&b, i & 1, i / 2);
        Picture p = decode_good(&b);
        const char *const *rows = upright[i / 2];
        assert_int_equal(p.width, 8 * strlen(rows[0]));
        assert_int_equal(p.file_width, p.width);
        assert_int_equal(p.width * p.height, 24 * 16);
        picture_is(&p, rows, 8, 8);
        picture_free(&p);
        free(b.bytes);
    }
}

static void a_damaged_exif_turns_nothing(void **state) {
    (void)state;
    for (size_t at = 2; at < 2 + 48; at++) {
        Bytes b = make_jpeg(DRAWING, WIDE, HIGH);
        insert_exif(&b, true, 1);
        if (at < 6) at = 6; /* marker and length of the segment are libjpeg's */
        b.bytes[at] ^= 0xff;
        Picture p = decode_good(&b);
        picture_is(&p, DRAWING, 8, 8);
        picture_free(&p);
        free(b.bytes);
    }
}

static void a_cut_off_jpeg_is_refused(void **state) {
    (void)state;
    Bytes b = make_jpeg(DRAWING, WIDE, HIGH);
    insert_exif(&b, false, 3);
    beginnings_are_refused(&b, b.size);
    Bytes filled = {0}; /* as an interrupted download leaves it */
    put(&filled, b.bytes, b.size - 20);
    for (size_t i = b.size - 20; i < b.size; i++) put_8(&filled, 0);
    refused(filled.bytes, filled.size, "cut off");
    free(filled.bytes);
    free(b.bytes);
}

/* The byte after the marker 0xff, code and its length. */
static uint8_t *segment_of(const Bytes *b, unsigned code) {
    for (size_t i = 0; i + 4 < b->size; i++)
        if (b->bytes[i] == 0xff && b->bytes[i + 1] == code) return b->bytes + i + 4;
    fail_msg("no segment %02x", code);
    abort();
}

static void a_table_of_too_many_symbols_is_refused(void **state) {
    (void)state;
    for (unsigned more = 0; more < 2; more++) { /* 256 symbols of 9 bits and more are allowed, 257 are not */
        Bytes b = make_jpeg(DRAWING, WIDE, HIGH), s = {0};
        put_be16(&s, 0xffc4), put_be16(&s, 2 + 17 + 256 + more), put_8(&s, 0x13);
        for (int bits = 1; bits <= 16; bits++) put_8(&s, bits == 9 ? 255 : bits == 10 ? 1 + more : 0);
        for (unsigned i = 0; i < 256 + more; i++) put_8(&s, i & 255);
        insert(&b, 2, s.bytes, s.size);
        if (more)
            refused(b.bytes, b.size, "damaged");
        else {
            Picture p = decode_good(&b);
            picture_free(&p);
        }
        free(s.bytes);
        free(b.bytes);
    }
}

static void a_jpeg_that_lies_is_refused(void **state) {
    (void)state;
    Bytes b = make_jpeg(DRAWING, WIDE, HIGH);
    uint8_t *frame = segment_of(&b, 0xc0);
    uint8_t before[5];
    memcpy(before, frame, 5);
    memcpy(frame, "\x08\xff\xff\xff\xff", 5), refused(b.bytes, b.size, "100 megapixels");
    memcpy(frame, "\x08\x26\x26\x26\x26", 5), refused(b.bytes, b.size, "damaged"); /* 95 Mpx of under 2 kB */
    memcpy(frame, "\x08\0\0\0\x20", 5), refused(b.bytes, b.size, "32 x 0 px");
    memcpy(frame, "\x08\0\1\xff\xfe", 5), refused(b.bytes, b.size, "variety"); /* 65534 x 1 px */
    memcpy(frame, before, 5);
    frame[0] = 12, refused(b.bytes, b.size, "variety");
    frame[0] = 8, frame[-3] = 0xc9, refused(b.bytes, b.size, "variety"); /* arithmetic coding */
    frame[-3] = 0xc0;
    frame[5] = 7, refused(b.bytes, b.size, "damaged"); /* components */
    free(b.bytes);
}

/* As a program leaves it that "mends" files by putting an end to them. */
static void a_jpeg_that_is_cut_short_within_is_refused(void **state) {
    (void)state;
    Bytes b = make_jpeg(DRAWING, WIDE, HIGH);
    size_t data = (size_t)(segment_of(&b, 0xda) - b.bytes) + 10;
    for (size_t end = b.size - 6; end > data; end -= 3) {
        b.size = end;
        put_be16(&b, 0xffd9);
        refused(b.bytes, b.size, "damaged");
    }
    free(b.bytes);
    b = file_holds("tests/seeds/jpeg/restart.jpg");
    uint8_t *mark = memmem(b.bytes, b.size, "\xff\xd0", 2);
    assert_non_null(mark);
    memmove(mark, mark + 2, b.size - (size_t)(mark - b.bytes) - 2);
    refused(b.bytes, b.size - 2, "damaged");
    free(b.bytes);
}

/* Frames of films leave out the usual tables (ITU-T T.81, annex K.3), which the test files are coded with. */
static void without_its_tables_a_jpeg_is_read_by_the_usual_ones(void **state) {
    (void)state;
    Bytes b = make_jpeg(DRAWING, WIDE, HIGH);
    segment_of(&b, 0xc4)[-3] = 0xfe; /* a comment */
    Picture p = decode_good(&b);
    picture_is(&p, DRAWING, 8, 8);
    picture_free(&p);
    free(b.bytes);
}

/* --- files by libjpeg --- */

typedef struct JpegSpec {
    int side, components; /* px; 3: R, G, B; 4: C, M, Y, K */
    J_COLOR_SPACE space;  /* in the file */
    bool adobe;           /* with the marker */
    bool progressive;
    uint8_t pixel[4]; /* all of one colour */
} JpegSpec;

static Bytes encode(const JpegSpec *s) {
    struct jpeg_compress_struct codec = {0};
    struct jpeg_error_mgr errors;
    unsigned char *made = NULL;
    unsigned long size = 0;
    codec.err = jpeg_std_error(&errors);
    jpeg_create_compress(&codec);
    jpeg_mem_dest(&codec, &made, &size);
    codec.image_width = codec.image_height = (JDIMENSION)s->side;
    codec.input_components = s->components;
    codec.in_color_space = s->components == 4 ? JCS_CMYK : JCS_RGB;
    jpeg_set_defaults(&codec);
    jpeg_set_colorspace(&codec, s->space);
    codec.write_Adobe_marker = s->adobe;
    jpeg_set_quality(&codec, 100, TRUE);
    if (s->progressive) jpeg_simple_progression(&codec);
    uint8_t *row = malloc((size_t)(s->side * s->components));
    assert_non_null(row);
    for (int i = 0; i < s->side * s->components; i++) row[i] = s->pixel[i % s->components];
    jpeg_start_compress(&codec, TRUE);
    for (int y = 0; y < s->side; y++) (void)jpeg_write_scanlines(&codec, &row, 1);
    jpeg_finish_compress(&codec);
    jpeg_destroy_compress(&codec);
    Bytes b = {0};
    put(&b, made, size);
    free(made), free(row);
    return b;
}

static void colour_spaces_come_out_as_rgb(void **state) {
    (void)state;
    static const struct {
        JpegSpec spec;
        uint32_t want;
    } rows[] = {
        {{16, 3, JCS_YCbCr, false, false, {200, 40, 90}}, 0xc8285aff},
        {{16, 3, JCS_YCbCr, false, true, {200, 40, 90}}, 0xc8285aff},
        {{16, 3, JCS_RGB, true, false, {200, 40, 90}}, 0xc8285aff},
        {{16, 3, JCS_GRAYSCALE, false, false, {90, 90, 90}}, 0x5a5a5aff},
        {{16, 4, JCS_CMYK, true, false, {200, 40, 90, 255}}, 0xc8285aff},  /* inverted: 255 is no ink */
        {{16, 4, JCS_YCCK, true, false, {200, 100, 50, 128}}, 0x643219ff}, /* half the light */
        {{16, 4, JCS_CMYK, false, false, {55, 215, 165, 0}}, 0xc8285aff},  /* plain */
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        Bytes b = encode(&rows[i].spec);
        Picture p = decode_good(&b);
        uint32_t got = pixel_at(&p, 7, 8);
        for (int shift = 0; shift < 32; shift += 8)
            if (abs((int)(got >> shift & 255) - (int)(rows[i].want >> shift & 255)) > 2)
                fail_msg("row %zu: got %08x, want %08x", i, got, rows[i].want);
        picture_free(&p);
        beginnings_are_refused(&b, b.size);
        free(b.bytes);
    }
}

/* A scan of hardly any data costs a pass over the whole picture. */
static void a_jpeg_of_a_thousand_scans_is_refused(void **state) {
    (void)state;
    Bytes b = encode(&(JpegSpec){64, 3, JCS_YCbCr, false, true, {200, 40, 90}}), s = {0};
    size_t end = b.size - 2, last = end, first = end;
    while (b.bytes[last] != 0xff || b.bytes[last + 1] != 0xda) last--;
    put(&s, b.bytes + last, end - last);
    s.bytes[s.size > 9 ? 9 : 0] = 0; /* as if nothing of these values had come before, which may come again */
    for (int scans = 0; scans < 1000; scans++) {
        insert(&b, first, s.bytes, s.size);
        if (scans == 40) {
            Picture p = decode_good(&b);
            picture_free(&p);
        }
    }
    refused(b.bytes, b.size, "variety");
    free(b.bytes), free(s.bytes);
}

#ifndef SANITIZED
/* In a child with 100 MB: the picture's values take twice that. */
static void a_jpeg_that_memory_does_not_hold_is_told(void **state) {
    (void)state;
    Bytes b = encode(&(JpegSpec){6000, 3, JCS_YCbCr, false, true, {200, 40, 90}});
    pid_t child = fork();
    if (child == 0) {
        const struct rlimit limit = {100 << 20, 100 << 20};
        Picture p = {0};
        Err err = {0};
        bool refusal = setrlimit(RLIMIT_AS, &limit) == 0 && !decode_bytes(b.bytes, b.size, &p, &err);
        _exit(refusal && err.code == ERR_MEMORY && !p.rgba ? 0 : 1);
    }
    int status = -1;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    free(b.bytes);
}
#endif

static void *decode_alone(void *bytes) {
    const Bytes *b = bytes;
    Picture p = {0};
    Err err = {0};
    bool good = decode_bytes(b->bytes, b->size, &p, &err);
    assert_true(good ? p.rgba && p.width > 0 : err.code == ERR_INPUT && !p.rgba);
    picture_free(&p);
    return NULL;
}

/* Each in a thread of its own: what a library keeps of the file before, it keeps for its thread. */
static void a_changed_header_in_the_first_file_read_does_no_harm(void **state) {
    (void)state;
    static const struct {
        unsigned code;
        size_t size;
    } segments[] = {{0xc0, 15}, {0xda, 10}};
    Bytes b = make_jpeg(DRAWING, WIDE, HIGH);
    for (int i = 0; i < 2; i++)
        for (size_t bit = 0; bit < segments[i].size * 8; bit++) {
            uint8_t *at = segment_of(&b, segments[i].code) + bit / 8, before = *at;
            pthread_t thread;
            *at ^= (uint8_t)(1u << bit % 8);
            assert_int_equal(pthread_create(&thread, NULL, decode_alone, &b), 0);
            assert_int_equal(pthread_join(thread, NULL), 0);
            *at = before;
        }
    free(b.bytes);
}

static void changed_bytes_do_no_harm(void **state) {
    (void)state;
    Bytes b = make_jpeg(DRAWING, WIDE, HIGH);
    insert_exif(&b, true, 6);
    uint32_t seed = 11;
    for (int round = 0; round < 1500; round++) {
        seed = seed * 1664525u + 1013904223u;
        size_t at = (seed >> 8) % b.size;
        uint8_t before = b.bytes[at];
        b.bytes[at] ^= (uint8_t)(1u << (seed >> 28 & 7));
        Picture p = {0};
        Err err = {0};
        bool good = decode_bytes(b.bytes, b.size, &p, &err);
        assert_true(good ? p.rgba && p.width > 0 : err.code == ERR_INPUT && !p.rgba);
        picture_free(&p);
        b.bytes[at] = before;
    }
    free(b.bytes);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_jpeg_comes_upright),
                                       cmocka_unit_test(a_damaged_exif_turns_nothing),
                                       cmocka_unit_test(a_cut_off_jpeg_is_refused),
                                       cmocka_unit_test(a_table_of_too_many_symbols_is_refused),
                                       cmocka_unit_test(a_jpeg_that_lies_is_refused),
                                       cmocka_unit_test(a_jpeg_that_is_cut_short_within_is_refused),
                                       cmocka_unit_test(without_its_tables_a_jpeg_is_read_by_the_usual_ones),
                                       cmocka_unit_test(colour_spaces_come_out_as_rgb),
                                       cmocka_unit_test(a_jpeg_of_a_thousand_scans_is_refused),
#ifndef SANITIZED
                                       cmocka_unit_test(a_jpeg_that_memory_does_not_hold_is_told),
#endif
                                       cmocka_unit_test(a_changed_header_in_the_first_file_read_does_no_harm),
                                       cmocka_unit_test(changed_bytes_do_no_harm)};
    return cmocka_run_group_tests_name("decode_jpeg", tests, NULL, NULL);
}
