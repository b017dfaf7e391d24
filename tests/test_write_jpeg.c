/* Tests of src/write/write_jpeg.c. SPDX-License-Identifier: MIT */
#include "write/files.h"

#include "picture_files.h"

/* The bytes of the JPEG; free() them. */
static uint8_t *bytes_of(const Image *image, size_t *size) {
    char *bytes = NULL;
    FILE *file = open_memstream(&bytes, size);
    Err err = {0};
    assert_non_null(file);
    assert_true(write_jpeg(image, file, &err));
    fclose(file);
    return (uint8_t *)bytes;
}

/* Slow colours, and noise of that many bytes on them. */
static Image make_image(int width, int height, int noise) {
    Image image;
    Err err = {0};
    assert_true(image_new(width, height, 0, &image, &err));
    uint32_t seed = 9;
    for (int i = 0; i < width * height; i++) {
        int x = i % width * 200 / width, y = i / width * 200 / height;
        for (int c = 0; c < 3; c++) {
            seed = seed * 1664525u + 1013904223u;
            int v = (c == 0 ? x : c == 1 ? y : 200 - x) + 20 + (noise ? (int)(seed >> 16) % noise : 0);
            image.rgba[4 * i + c] = (uint8_t)(v > 255 ? 255 : v);
        }
        image.rgba[4 * i + 3] = 255;
    }
    return image;
}

static void what_is_written_reads_back_nearly_the_same(void **state) {
    (void)state;
    Image image = make_image(200, 120, 0);
    size_t size;
    uint8_t *bytes = bytes_of(&image, &size);
    Picture picture = {0};
    Err err = {0};
    if (!decode_bytes(bytes, size, &picture, &err)) fail_msg("%s", err.msg);
    assert_int_equal(picture.width, 200);
    assert_int_equal(picture.height, 120);
    for (int i = 0; i < 200 * 120 * 4; i++)
        if (abs(picture.rgba[i] - image.rgba[i]) > 12)
            fail_msg("byte %d: %d for %d", i, picture.rgba[i], image.rgba[i]);
    picture_free(&picture);
    free(bytes);
    image_free(&image);
}

static void a_large_noisy_picture_stays_small_enough_for_e_mail(void **state) {
    (void)state;
    Image image = make_image(1600, 1200, 50);
    size_t size;
    uint8_t *bytes = bytes_of(&image, &size);
    assert_in_range(size, 100000, JPEG_MOST_BYTES);
    free(bytes);
    image_free(&image);
}

static void a_plain_picture_keeps_the_best_quality(void **state) {
    (void)state;
    Image rough = make_image(300, 300, 120), smooth = make_image(300, 300, 0);
    size_t of_rough, of_smooth;
    free(bytes_of(&rough, &of_rough));
    free(bytes_of(&smooth, &of_smooth));
    assert_true(of_smooth < of_rough);
    assert_true(of_rough > 60000); /* 300 x 300 at the best quality; at the next it is under */
    image_free(&rough);
    image_free(&smooth);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_is_written_reads_back_nearly_the_same),
                                       cmocka_unit_test(a_large_noisy_picture_stays_small_enough_for_e_mail),
                                       cmocka_unit_test(a_plain_picture_keeps_the_best_quality)};
    return cmocka_run_group_tests_name("write_jpeg", tests, NULL, NULL);
}
