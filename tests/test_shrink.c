/* Tests of src/read/shrink.c. SPDX-License-Identifier: MIT */
#include "read/decoders.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

typedef uint32_t Drawer(int x, int y); /* 0xRRGGBBAA of a pixel */

static Picture shrink_drawing(Drawer *draw, int width, int height) {
    Shrink s = {0};
    Err err = {0};
    Picture p = {0};
    uint8_t *row = malloc((size_t)width * 4);
    assert_true(row && shrink_begin(&s, width, height, 8, 0, true, &err));
    for (int y = 0; y < height; y++) {
        for (int x = 0; x < width; x++)
            for (int c = 0; c < 4; c++) row[x * 4 + c] = (uint8_t)(draw(x, y) >> (24 - 8 * c) & 255);
        shrink_row(&s, y, 0, 1, width, row);
    }
    shrink_finish(&s, &p);
    shrink_free(&s);
    free(row);
    return p;
}

static uint32_t at(const Picture *p, int x, int y) {
    const uint8_t *q = p->rgba + (y * p->width + x) * 4;
    return (uint32_t)q[0] << 24 | (uint32_t)q[1] << 16 | (uint32_t)q[2] << 8 | q[3];
}

static uint32_t black(int x, int y) {
    (void)x, (void)y;
    return 0xff;
}

static void the_factor_keeps_both_sides_under_1536(void **state) {
    (void)state;
    const int rows[][5] = {/* width, height -> factor, width, height */
                           {1, 1, 1, 1, 1},           {767, 700, 1, 767, 700},
                           {768, 9, 1, 768, 9},       {1535, 1535, 1, 1535, 1535},
                           {1536, 1536, 2, 768, 768}, {3, 1537, 2, 2, 769},
                           {2303, 2, 2, 1152, 1},     {2304, 7, 3, 768, 3},
                           {4000, 3000, 5, 800, 600}, {65535, 1, 85, 771, 1},
                           {1, 65535, 85, 1, 771}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        Picture p = shrink_drawing(black, rows[i][0], rows[i][1]);
        assert_int_equal(p.shrink, rows[i][2]);
        assert_int_equal(p.width, rows[i][3]);
        assert_int_equal(p.height, rows[i][4]);
        assert_int_equal(p.file_width, rows[i][0]);
        assert_int_equal(p.file_height, rows[i][1]);
        for (int y = 0; y < p.height; y++)
            for (int x = 0; x < p.width; x++) assert_int_equal(at(&p, x, y), 0xff);
        picture_free(&p);
    }
}

static uint32_t chequer(int x, int y) {
    return (x + y) % 2 ? 0xffffffff : 0x000000ff;
}

static uint32_t red_hidden_by_blue(int x, int y) {
    return (x + y) % 2 ? 0xff000000 : 0x0000ffff; /* red, wholly transparent; blue */
}

static uint32_t faint_and_full(int x, int y) {
    (void)y;
    return x % 2 ? 0xff000040 : 0x00ff00c0; /* red at a quarter, green at three quarters */
}

static void the_mean_is_of_light_weighed_by_alpha(void **state) {
    (void)state;
    Picture p = shrink_drawing(chequer, 1536, 4);
    assert_int_equal(at(&p, 0, 0),
                     0xbcbcbcff); /* half the light is 188 in sRGB: IEC 61966-2-1, 255 x 0.7354 */
    assert_int_equal(at(&p, 767, 1), 0xbcbcbcff);
    picture_free(&p);
    p = shrink_drawing(red_hidden_by_blue, 1536, 4);
    assert_int_equal(at(&p, 5, 1), 0x0000ff80);
    picture_free(&p);
    p = shrink_drawing(faint_and_full, 1536, 4);
    assert_int_equal(at(&p, 5, 1), 0x89e10080); /* sRGB of 0.25 and 0.75: 136.96 and 224.6 */
    picture_free(&p);
}

static uint32_t edge_columns(int x, int y) {
    return x >= 1536 || y >= 4 ? 0xff0000ff : 0x0000ffff;
}

static void the_cells_at_the_edge_are_means_of_what_is_there(void **state) {
    (void)state;
    Picture p = shrink_drawing(edge_columns, 1537, 5);
    assert_int_equal(p.width, 769);
    assert_int_equal(p.height, 3);
    assert_int_equal(at(&p, 767, 1), 0x0000ffff);
    assert_int_equal(at(&p, 768, 0), 0xff0000ff);
    assert_int_equal(at(&p, 0, 2), 0xff0000ff);
    assert_int_equal(at(&p, 768, 2), 0xff0000ff);
    picture_free(&p);
}

static uint32_t ramp(int x, int y) {
    (void)y;
    return (uint32_t)x << 24 | (uint32_t)(255 - x) << 16 | (uint32_t)(x ^ 85) << 8 | 255;
}

static uint32_t doubled_ramp(int x, int y) {
    return ramp(x / 8, y);
}

static void a_flat_colour_stays_as_it_is(void **state) {
    (void)state;
    Picture p = shrink_drawing(ramp, 256, 1);
    for (int x = 0; x < 256; x++) assert_int_equal(at(&p, x, 0), ramp(x, 0));
    picture_free(&p);
    p = shrink_drawing(doubled_ramp, 2048, 2);
    for (int x = 0; x < 1024; x++) assert_int_equal(at(&p, x, 0), ramp(x / 4, 0));
    picture_free(&p);
}

/* The largest sums: a white picture of 100 megapixels in few cells, fed with one row again and again. */
static void the_largest_picture_does_not_overflow(void **state) {
    (void)state;
    Shrink s = {0};
    Err err = {0};
    Picture p = {0};
    int width = 65535, height = 1525;
    uint8_t *row = malloc((size_t)width * 8);
    assert_true(row && shrink_begin(&s, width, height, 16, 1.0, true, &err));
    memset(row, 255, (size_t)width * 8);
    for (int y = 0; y < height; y++) shrink_row(&s, y, 0, 1, width, row);
    shrink_finish(&s, &p);
    for (int i = 0; i < p.width * p.height * 4; i++) assert_int_equal(p.rgba[i], 255);
    shrink_free(&s);
    shrink_free(&s);
    picture_free(&p);
    free(row);
}

static void sixteen_bits_of_linear_light_keep_their_darks(void **state) {
    (void)state;
    Shrink s = {0};
    Err err = {0};
    Picture p = {0};
    uint8_t row[256 * 8];
    assert_true(shrink_begin(&s, 256, 1, 16, 1.0, true, &err));
    for (int x = 0; x < 256; x++) { /* the light of each sRGB level, IEC 61966-2-1 */
        double v = x / 255.0, light = v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4);
        unsigned sample = (unsigned)lround(light * 65535);
        for (int c = 0; c < 3; c++)
            row[x * 8 + c * 2] = (uint8_t)(sample >> 8), row[x * 8 + c * 2 + 1] = (uint8_t)sample;
        row[x * 8 + 6] = row[x * 8 + 7] = 255;
    }
    shrink_row(&s, 0, 0, 1, 256, row);
    shrink_finish(&s, &p);
    for (int x = 0; x < 256; x++) assert_int_equal(p.rgba[x * 4], x);
    picture_free(&p);
    shrink_free(&s);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_factor_keeps_both_sides_under_1536),
                                       cmocka_unit_test(the_mean_is_of_light_weighed_by_alpha),
                                       cmocka_unit_test(the_cells_at_the_edge_are_means_of_what_is_there),
                                       cmocka_unit_test(a_flat_colour_stays_as_it_is),
                                       cmocka_unit_test(the_largest_picture_does_not_overflow),
                                       cmocka_unit_test(sixteen_bits_of_linear_light_keep_their_darks)};
    return cmocka_run_group_tests_name("shrink", tests, NULL, NULL);
}
