/* PngSuite through decode, beside libpng's own simplified reader; and what is wrong with a PNG, file by file.
 * SPDX-License-Identifier: MIT */
#include "png_files.h"

#include <png.h>
#include <glob.h>
#include <math.h>

/* The first chunk of that type: its head's place; 0 if there is none. */
static size_t find_chunk(const Bytes *b, const char *type) {
    size_t at = 8;
    while (at + 12 <= b->size && memcmp(b->bytes + at + 4, type, 4) != 0) at += 12 + png_32(b->bytes + at);
    return at + 12 <= b->size ? at : 0;
}

static void remove_chunk(Bytes *b, const char *type) {
    size_t at = find_chunk(b, type);
    assert_true(at > 0);
    size_t size = 12 + png_32(b->bytes + at);
    memmove(b->bytes + at, b->bytes + at + size, b->size - at - size);
    b->size -= size;
}

static void *read_by_libpng(const Bytes *b, unsigned format, const Picture *p) {
    png_image image = {.version = PNG_IMAGE_VERSION};
    assert_true(png_image_begin_read_from_memory(&image, b->bytes, b->size));
    assert_int_equal(image.width, p->width);
    assert_int_equal(image.height, p->height);
    image.format = format;
    image.flags |= PNG_IMAGE_FLAG_16BIT_sRGB; /* 16 bits without gAMA are no light */
    void *pixels = malloc(PNG_IMAGE_SIZE(image));
    assert_non_null(pixels);
    if (!png_image_finish_read(&image, NULL, pixels, 0, NULL)) fail_msg("libpng: %s", image.message);
    return pixels;
}

/* sRGB, IEC 61966-2-1. */
static double encode(double light) {
    return light <= 0.0031308 ? light * 12.92 : 1.055 * pow(light, 1 / 2.4) - 0.055;
}

static void check_pixel(const char *path, int i, const uint8_t *got, const double *want) {
    for (int c = got[3] > 0 ? 0 : 3; c < 4; c++)
        if (fabs(got[c] - want[c]) > 0.6) fail_msg("%s: pixel %d is %d, not %g", path, i, got[c], want[c]);
}

/* Up to 8 bits: libpng's samples, light in them (gAMA 1.0) put on the curve here: libpng itself puts them on
 * a power of 2.2, two levels off in places. */
static void same_samples(const char *path, Bytes *b, const Picture *p) {
    size_t at = find_chunk(b, "gAMA");
    bool light = at && png_32(b->bytes + at + 8) == 100000;
    if (at) remove_chunk(b, "gAMA");
    uint8_t *sample = read_by_libpng(b, PNG_FORMAT_RGBA, p);
    for (int i = 0; i < p->width * p->height; i++) {
        double want[4];
        for (int c = 0; c < 4; c++)
            want[c] = light && c < 3 ? 255 * encode(sample[4 * i + c] / 255.0) : sample[4 * i + c];
        check_pixel(path, i, p->rgba + 4 * i, want);
    }
    free(sample);
}

/* 16 bits: libpng's light, which comes times alpha. */
static void same_light(const char *path, const Bytes *b, const Picture *p) {
    uint16_t *light = read_by_libpng(b, PNG_FORMAT_LINEAR_RGB_ALPHA, p);
    for (int i = 0; i < p->width * p->height; i++) {
        double want[4] = {0}, alpha = light[4 * i + 3];
        want[3] = alpha / 257;
        for (int c = 0; c < 3 && alpha > 0; c++) want[c] = 255 * encode(light[4 * i + c] / alpha);
        check_pixel(path, i, p->rgba + 4 * i, want);
    }
    free(light);
}

static void every_picture_of_the_suite_is_that_of_libpng(void **state) {
    (void)state;
    glob_t found;
    assert_int_equal(glob("tests/pngsuite/*.png", 0, NULL, &found), 0);
    assert_int_equal(found.gl_pathc, 30);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        Bytes b = file_holds(found.gl_pathv[i]);
        Picture p = decode_good(&b);
        if (b.bytes[24] == 16)
            same_light(found.gl_pathv[i], &b, &p);
        else
            same_samples(found.gl_pathv[i], &b, &p);
        picture_free(&p);
        free(b.bytes);
    }
    globfree(&found);
}

static void every_beginning_of_a_picture_of_the_suite_is_refused(void **state) {
    (void)state;
    static const char *const names[] = {"tests/pngsuite/basn0g01.png", "tests/pngsuite/basn3p02.png",
                                        "tests/pngsuite/ftbbn0g04.png"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        Bytes b = file_holds(names[i]);
        beginnings_are_refused(&b, b.size);
        free(b.bytes);
    }
}

/* The kinds of damage of the suite's own broken files ("x" in their names). */
static void damaged_pictures_of_the_suite_are_refused(void **state) {
    (void)state;
    enum { DEPTH = 24, TYPE, PACKING, FILTER, LACES };
    static const struct {
        size_t at;
        uint8_t byte;
        bool mend; /* the checksums are right again */
        const char *words;
    } rows[] = {{0, 0x09, false, "not a picture"}, /* the first bit lost, as over a line of 7 bits */
                {1, 'p', false, "not a picture"},
                {4, '\n', false, "sent as text"},
                {5, '\r', false, "sent as text"},
                {7, '\r', false, "sent as text"},
                {29, 0, false, "CRC"},
                {DEPTH, 0, true, "damaged"},
                {DEPTH, 3, true, "damaged"},
                {DEPTH, 99, true, "damaged"},
                {TYPE, 1, true, "damaged"},
                {TYPE, 9, true, "damaged"},
                {TYPE, 3, true, "damaged"}, /* without its colours */
                {PACKING, 1, true, "damaged"},
                {FILTER, 1, true, "damaged"},
                {LACES, 2, true, "damaged"},
                {15, 'r', true, "no header"},
                {11, 12, false, "damaged"},
                {11, 14, false, "damaged"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        Bytes b = file_holds("tests/pngsuite/basn0g08.png");
        b.bytes[rows[i].at] = rows[i].byte;
        if (rows[i].mend) png_mend(b.bytes, b.size);
        refused(b.bytes, b.size, rows[i].words);
        free(b.bytes);
    }
}

static void a_picture_without_a_chunk_it_needs_is_refused(void **state) {
    (void)state;
    static const char *const types[] = {"IHDR", "PLTE", "IDAT"};
    for (size_t i = 0; i < sizeof types / sizeof *types; i++) {
        Bytes b = file_holds("tests/pngsuite/basn3p04.png");
        remove_chunk(&b, types[i]);
        refused(b.bytes, b.size, "damaged");
        free(b.bytes);
    }
    Bytes b = file_holds("tests/pngsuite/basn3p04.png");
    remove_chunk(&b, "IEND");
    refused(b.bytes, b.size, "cut off");
    free(b.bytes);
}

/* Every chunk that a PNG may hold, before the pixels or behind them. */
static void a_wrong_checksum_is_refused_in_every_chunk(void **state) {
    (void)state;
    static const char *const before[] = {"tEXt", "zTXt", "iTXt", "tIME", "pHYs", "sPLT", "cHRM", "sRGB",
                                         "iCCP", "eXIf", "oFFs", "pCAL", "sCAL", "acTL", "cICP", "faRe"},
                             *const own[] = {"IHDR", "gAMA", "PLTE", "tRNS", "bKGD", "IDAT", "IEND"};
    enum { BEFORE = sizeof before / sizeof *before, OWN = sizeof own / sizeof *own };
    Bytes b = file_holds("tests/pngsuite/ftbbn3p08.png");
    for (int i = 0; i < BEFORE; i++) insert_chunk(&b, before[i], "\0 night ferry", 13);
    Bytes last = {0};
    put_chunk(&last, "tEXt", "last\0of all", 11), insert(&b, b.size - 12, last.bytes, last.size);
    Picture p = decode_good(&b);
    picture_free(&p);
    for (int i = 0; i < BEFORE + OWN + 1; i++) {
        size_t at = i == BEFORE + OWN ? b.size - 12 - last.size
                                      : find_chunk(&b, i < BEFORE ? before[i] : own[i - BEFORE]);
        size_t checksum = at + 8 + png_32(b.bytes + at);
        for (int k = 0; k < 4; k++) {
            b.bytes[checksum + (size_t)k] ^= 1;
            refused(b.bytes, b.size, "CRC");
            b.bytes[checksum + (size_t)k] ^= 1;
        }
    }
    free(last.bytes), free(b.bytes);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_picture_of_the_suite_is_that_of_libpng),
        cmocka_unit_test(every_beginning_of_a_picture_of_the_suite_is_refused),
        cmocka_unit_test(damaged_pictures_of_the_suite_are_refused),
        cmocka_unit_test(a_picture_without_a_chunk_it_needs_is_refused),
        cmocka_unit_test(a_wrong_checksum_is_refused_in_every_chunk),
    };
    return cmocka_run_group_tests_name("png_suite", tests, NULL, NULL);
}
