/* Tests of src/inks/regions.c. SPDX-License-Identifier: MIT */
#include "inks/regions.h"

#include <leptonica/allheaders.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

static void areas_of_a_drawn_picture_are_told_apart(void **state) {
    (void)state;
    const char *picture = "AABBA"
                          "ABBAA"
                          "AABAB"
                          "BABBB";
    uint8_t label[20];
    for (int i = 0; i < 20; i++) label[i] = (uint8_t)(picture[i] - 'A');
    Regions r;
    Err err = {0};
    assert_true(regions_find(label, 5, 4, &r, &err));
    assert_int_equal(r.count, 4);
    static const int32_t want[20] = {0, 0, 1, 1, 2, 0, 1, 1, 2, 2, 0, 0, 1, 2, 1, 3, 0, 1, 1, 1};
    for (int i = 0; i < 20; i++) assert_int_equal(r.of[i], want[i]);
    regions_free(&r);
    regions_free(&r);
}

/* Leptonica counts 4-connected areas of ones. */
static void areas_are_as_many_as_leptonica_counts(void **state) {
    (void)state;
    enum { W = 61, H = 47 };
    uint64_t seed = 3;
    for (int round = 0; round < 40; round++) {
        uint8_t label[W * H];
        PIX *pix = pixCreate(W, H, 1);
        for (int i = 0; i < W * H; i++) {
            seed = seed * 6364136223846793005u + 1442695040888963407u;
            label[i] = (int)(seed >> 58) < 14 + round; /* ever denser */
            if (label[i]) pixSetPixel(pix, i % W, i / W, 1);
        }
        l_int32 ones, zeros;
        pixCountConnComp(pix, 4, &ones);
        pixInvert(pix, pix);
        pixCountConnComp(pix, 4, &zeros);
        pixDestroy(&pix);
        Regions r;
        Err err = {0};
        assert_true(regions_find(label, W, H, &r, &err));
        assert_int_equal(r.count, ones + zeros);
        int pixels = 0;
        for (int i = 0; i < r.count; i++) pixels += r.pixels[i];
        assert_int_equal(pixels, W * H);
        for (int i = 0; i < W * H; i++) assert_int_equal(r.label[r.of[i]], label[i]);
        regions_free(&r);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(areas_of_a_drawn_picture_are_told_apart),
                                       cmocka_unit_test(areas_are_as_many_as_leptonica_counts)};
    return cmocka_run_group_tests_name("regions", tests, NULL, NULL);
}
