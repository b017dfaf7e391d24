/* Tests of src/base/components.c. SPDX-License-Identifier: MIT */
#include "base/components.h"

#include <allheaders.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>
#include <cmocka.h>

enum { SIDE = 64, AREA = SIDE * SIDE };

static uint32_t random_bits(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(*state >> 33);
}

/* Labels of a picture drawn as text, its letters being the values, '.' no area. */
static int label_text(const char *text, int width, const char *four, int32_t *label) {
    uint8_t ways[256];
    memset(ways, 8, sizeof ways);
    ways['.'] = 0;
    for (; *four; four++) ways[(uint8_t)*four] = 4;
    return components((const uint8_t *)text, width, (int)strlen(text) / width, ways, label);
}

static void corners_join_an_area_of_eight_ways_and_not_of_four(void **state) {
    (void)state;
    const char *text = "A.A"
                       ".A."
                       "A.A";
    int32_t label[9];
    assert_int_equal(label_text(text, 3, "", label), 1);
    assert_int_equal(label[8], 0);
    assert_int_equal(label[1], -1);
    assert_int_equal(label_text(text, 3, "A", label), 5);
    const int32_t want[9] = {0, -1, 1, -1, 2, -1, 3, -1, 4};
    assert_memory_equal(label, want, sizeof want);
}

static void areas_are_numbered_in_reading_order_whatever_joins_them_later(void **state) {
    (void)state;
    const char *text = "A.B.A.A"
                       "A.B.A.A"
                       "A.BAAAA"
                       "AAAA.BA";
    int32_t label[28];
    assert_int_equal(label_text(text, 7, "", label), 3);
    assert_int_equal(label[2], 1);
    for (int i = 0; i < 28; i++)
        if (text[i] == 'A') assert_int_equal(label[i], 0);
    assert_int_equal(label[26], 2);
}

/* A random picture of blots: noise, then each pixel takes the majority round it. */
static void draw_blots(uint8_t *value, int colours, uint64_t *seed) {
    uint8_t noise[AREA];
    for (int i = 0; i < AREA; i++) noise[i] = (uint8_t)(random_bits(seed) % (unsigned)colours);
    for (int i = 0; i < AREA; i++) {
        int votes[8] = {0}, best = 0;
        for (int d = 0; d < 9; d++) {
            int x = i % SIDE + d % 3 - 1, y = i / SIDE + d / 3 - 1;
            if (x >= 0 && y >= 0 && x < SIDE && y < SIDE) votes[noise[y * SIDE + x]]++;
        }
        for (int k = 1; k < colours; k++)
            if (votes[k] > votes[best]) best = k;
        value[i] = (uint8_t)best;
    }
}

/* Leptonica's components of one value: the count, and each component's pixels one label of ours, all of it.
 */
static int compare_value(const uint8_t *value, const int32_t *label, int v, int ways) {
    PIX *pix = pixCreate(SIDE, SIDE, 1);
    for (int i = 0; i < AREA; i++)
        if (value[i] == v) pixSetPixel(pix, i % SIDE, i / SIDE, 1);
    PIXA *areas = NULL;
    BOXA *boxes = pixConnComp(pix, &areas, ways);
    int count = boxaGetCount(boxes);
    for (int k = 0; k < count; k++) {
        l_int32 x0, y0, w, h, ours = -1, size = 0, total = 0;
        boxaGetBoxGeometry(boxes, k, &x0, &y0, &w, &h);
        PIX *area = pixaGetPix(areas, k, L_CLONE);
        for (int i = 0; i < w * h; i++) {
            l_uint32 bit;
            pixGetPixel(area, i % w, i / w, &bit);
            if (!bit) continue;
            int32_t here = label[(y0 + i / w) * SIDE + x0 + i % w];
            if (ours < 0) ours = here;
            assert_int_equal(here, ours);
            size++;
        }
        for (int i = 0; i < AREA; i++) total += label[i] == ours;
        assert_int_equal(total, size);
        pixDestroy(&area);
    }
    pixaDestroy(&areas);
    boxaDestroy(&boxes);
    pixDestroy(&pix);
    return count;
}

static void areas_equal_those_of_leptonica_on_random_pictures(void **state) {
    (void)state;
    uint64_t seed = 99;
    for (int round = 0; round < 50; round++) {
        int colours = 2 + round % 4, sum = 0;
        uint8_t value[AREA], ways[256];
        int32_t label[AREA];
        memset(ways, 8, sizeof ways);
        ways[0] = 4; /* the field */
        draw_blots(value, colours, &seed);
        int count = components(value, SIDE, SIDE, ways, label);
        for (int v = 0; v < colours; v++) sum += compare_value(value, label, v, ways[v]);
        assert_int_equal(count, sum);
    }
}

/* Areas connected by their sides, of every value: each pixel lies in one. */
static void regions_of_a_drawn_picture_are_told_apart_with_their_areas(void **state) {
    (void)state;
    const char *picture = "AABBA"
                          "ABBAA"
                          "AABAB"
                          "BABBB";
    Regions r;
    Err err = {0};
    assert_true(regions_find((const uint8_t *)picture, 5, 4, &r, &err));
    assert_int_equal(r.count, 4);
    static const int32_t want[20] = {0, 0, 1, 1, 2, 0, 1, 1, 2, 2, 0, 0, 1, 2, 1, 3, 0, 1, 1, 1};
    static const int32_t pixels[4] = {6, 9, 4, 1};
    assert_memory_equal(r.of, want, sizeof want);
    assert_memory_equal(r.pixels, pixels, sizeof pixels);
    assert_memory_equal(r.value, "ABAB", 4);
    regions_free(&r);
    regions_free(&r);
}

static void regions_are_as_many_as_leptonica_counts(void **state) {
    (void)state;
    uint64_t seed = 3;
    for (int round = 0; round < 40; round++) {
        uint8_t value[AREA];
        for (int i = 0; i < AREA; i++)
            value[i] = random_bits(&seed) % 64 < 14 + (unsigned)round; /* ever denser */
        Regions r;
        Err err = {0};
        assert_true(regions_find(value, SIDE, SIDE, &r, &err));
        assert_int_equal(r.count, compare_value(value, r.of, 0, 4) + compare_value(value, r.of, 1, 4));
        int pixels = 0;
        for (int i = 0; i < r.count; i++) pixels += r.pixels[i];
        assert_int_equal(pixels, AREA);
        for (int i = 0; i < AREA; i++) assert_int_equal(r.value[r.of[i]], value[i]);
        regions_free(&r);
    }
}

static void a_set_is_known_by_its_least_member_whatever_order_it_is_joined_in(void **state) {
    (void)state;
    enum { MEMBERS = 60, KINDS = 7 }; /* of one set: the members with the same rest of KINDS */
    uint64_t seed = 5;
    int32_t parent[MEMBERS];
    for (int32_t i = 0; i < MEMBERS; i++) parent[i] = i;
    for (int n = 0; n < 2000; n++) {
        int32_t i = (int32_t)(random_bits(&seed) % MEMBERS), j = (int32_t)(random_bits(&seed) % MEMBERS);
        if (i % KINDS == j % KINDS) set_join(parent, i, j);
    }
    for (int32_t i = 0; i < MEMBERS; i++) assert_int_equal(set_root(parent, i), i % KINDS);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(corners_join_an_area_of_eight_ways_and_not_of_four),
        cmocka_unit_test(areas_are_numbered_in_reading_order_whatever_joins_them_later),
        cmocka_unit_test(areas_equal_those_of_leptonica_on_random_pictures),
        cmocka_unit_test(regions_of_a_drawn_picture_are_told_apart_with_their_areas),
        cmocka_unit_test(regions_are_as_many_as_leptonica_counts),
        cmocka_unit_test(a_set_is_known_by_its_least_member_whatever_order_it_is_joined_in),
    };
    return cmocka_run_group_tests_name("components", tests, NULL, NULL);
}
