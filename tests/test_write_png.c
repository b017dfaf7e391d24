/* Tests of src/write/write_png.c. SPDX-License-Identifier: MIT */
#include "write/files.h"

#include "base/folder.h"

#include <png.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

static Image make_image(int width, int height, double px_per_mm, int least_alpha) {
    Image image = {0};
    Err err = {0};
    assert_true(image_new(width, height, px_per_mm, &image, &err));
    uint32_t seed = 5;
    for (int i = 0; i < width * height * 4; i++) {
        seed = seed * 1664525u + 1013904223u;
        uint8_t v = (uint8_t)(seed >> 24);
        image.rgba[i] = i % 4 == 3 && v < least_alpha ? (uint8_t)least_alpha : v;
    }
    return image;
}

/* The bytes of the PNG; *size of them; free() them. */
static uint8_t *bytes_of(const Image *image, size_t *size) {
    char *bytes = NULL;
    FILE *file = open_memstream(&bytes, size);
    Err err = {0};
    assert_non_null(file);
    assert_true(write_png(image, file, &err));
    assert_true(file_close(file, "picture.png", &err));
    return (uint8_t *)bytes;
}

static void what_is_written_reads_back_the_same(void **state) {
    (void)state;
    const int sizes[4][2] = {{1, 1}, {7, 5}, {300, 2}, {65, 130}};
    for (int i = 0; i < 8; i++) {
        Image image = make_image(sizes[i / 2][0], sizes[i / 2][1], 0, i % 2 ? 255 : 0);
        if (i % 2 == 0) image.rgba[3] = 100; /* not all opaque, even of one pixel */
        size_t size, count = (size_t)image.width * (size_t)image.height * 4;
        uint8_t *bytes = bytes_of(&image, &size), *back = malloc(count);
        png_image reader = {.version = PNG_IMAGE_VERSION};
        assert_true(png_image_begin_read_from_memory(&reader, bytes, size));
        assert_int_equal(reader.width, image.width);
        assert_int_equal(reader.height, image.height);
        assert_int_equal(reader.format, i % 2 ? PNG_FORMAT_RGB : PNG_FORMAT_RGBA);
        reader.format = PNG_FORMAT_RGBA;
        assert_true(png_image_finish_read(&reader, NULL, back, 0, NULL));
        assert_memory_equal(back, image.rgba, count);
        free(back);
        free(bytes);
        image_free(&image);
    }
}

/* Where the chunk's data starts; 0 if there is none. */
static size_t find_chunk(const uint8_t *bytes, size_t size, const char *type) {
    for (size_t at = 8; at + 12 <= size;) {
        if (memcmp(bytes + at + 4, type, 4) == 0) return at + 8;
        at += 12 + ((size_t)bytes[at] << 24 | (size_t)bytes[at + 1] << 16 | (size_t)bytes[at + 2] << 8 |
                    bytes[at + 3]);
    }
    return 0;
}

static void the_physical_size_is_there_if_stated(void **state) {
    (void)state;
    /* 300 dots an inch are 11.811 a mm: 11811 = 0x2e23 a metre */
    const uint8_t want[9] = {0, 0, 0x2e, 0x23, 0, 0, 0x2e, 0x23, 1};
    size_t size;
    Image stated = make_image(3, 2, 300 / 25.4, 0), silent = make_image(3, 2, 0, 0);
    uint8_t *bytes = bytes_of(&stated, &size);
    size_t at = find_chunk(bytes, size, "pHYs");
    assert_true(at > 0);
    assert_memory_equal(bytes + at, want, 9);
    free(bytes);
    bytes = bytes_of(&silent, &size);
    assert_int_equal(find_chunk(bytes, size, "pHYs"), 0);
    assert_true(find_chunk(bytes, size, "sRGB") > 0);
    assert_int_equal(find_chunk(bytes, size, "tIME"), 0);
    assert_int_equal(find_chunk(bytes, size, "tEXt"), 0);
    free(bytes);
    image_free(&stated);
    image_free(&silent);
}

static void the_same_image_gives_the_same_bytes(void **state) {
    (void)state;
    size_t size, again_size;
    Image image = make_image(200, 100, 8, 0);
    uint8_t *bytes = bytes_of(&image, &size), *again = bytes_of(&image, &again_size);
    assert_int_equal(size, again_size);
    assert_memory_equal(bytes, again, size);
    free(bytes);
    free(again);
    image_free(&image);
}

static void a_full_disk_shows_at_the_close(void **state) {
    (void)state;
    FILE *file = fopen("/dev/full", "wb");
    assert_non_null(file);
    Image image = make_image(200, 100, 8, 0);
    Err err = {0};
    assert_true(write_png(&image, file, &err));
    assert_false(file_close(file, "mockup.png", &err));
    assert_int_equal(err.code, ERR_SYSTEM);
    assert_non_null(strstr(err.msg, "mockup.png"));
    image_free(&image);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_is_written_reads_back_the_same),
                                       cmocka_unit_test(the_physical_size_is_there_if_stated),
                                       cmocka_unit_test(the_same_image_gives_the_same_bytes),
                                       cmocka_unit_test(a_full_disk_shows_at_the_close)};
    return cmocka_run_group_tests_name("write_png", tests, NULL, NULL);
}
