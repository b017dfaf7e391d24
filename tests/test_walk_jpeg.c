/* Tests of src/read/walk_jpeg.c, and of JPEG through decode. SPDX-License-Identifier: MIT */
#include "picture_files.h"

#include <pthread.h>
#include <stb_image_write.h>

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
        if (at < 6) at = 6; /* marker and length of the segment are the walk's */
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
    memcpy(frame, before, 5);
    frame[0] = 12, refused(b.bytes, b.size, "variety");
    frame[0] = 8, frame[-3] = 0xc9, refused(b.bytes, b.size, "variety"); /* arithmetic coding */
    frame[-3] = 0xc0;
    uint8_t *table = segment_of(&b, 0xc4);
    table[1] = 0, table[2] = 1, table[-3] = 0xfe, refused(b.bytes, b.size, "damaged"); /* no Huffman tables */
    table[-3] = 0xc4;
    frame[5] = 7, refused(b.bytes, b.size, "damaged"); /* components */
    free(b.bytes);
}

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
                                       cmocka_unit_test(a_changed_header_in_the_first_file_read_does_no_harm),
                                       cmocka_unit_test(changed_bytes_do_no_harm)};
    return cmocka_run_group_tests_name("walk_jpeg", tests, NULL, NULL);
}
