/* Tests of src/base/distance.c. SPDX-License-Identifier: MIT */
#include "base/distance.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { SIDE = 24, AREA = SIDE * SIDE };

static uint32_t random_bits(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(*state >> 33);
}

static void compare_with_brute(const uint8_t *site, int width, int height) {
    int32_t squared[AREA], nearest[AREA], only[AREA];
    Err err = {0};
    assert_true(distance_transform(site, width, height, squared, nearest, &err));
    for (int i = 0; i < width * height; i++) {
        int32_t best = INT32_MAX, at = -1;
        for (int column = 0; column < width; column++)
            for (int row = 0; row < height; row++) {
                int dx = column - i % width, dy = row - i / width, j = row * width + column;
                if (!site[j] || dx * dx + dy * dy >= best) continue;
                best = dx * dx + dy * dy;
                at = j;
            }
        assert_int_equal(squared[i], best);
        assert_int_equal(nearest[i], at); /* ties: leftmost column, then upper row */
    }
    assert_true(distance_transform(site, width, height, only, NULL, &err));
    assert_memory_equal(only, squared, (size_t)(width * height) * sizeof *only);
    assert_true(distance_transform(site, width, height, NULL, only, &err));
    assert_memory_equal(only, nearest, (size_t)(width * height) * sizeof *only);
    assert_true(distance_transform(site, width, height, NULL, NULL, &err));
    for (int limit = 1; limit < 8; limit += 3) {
        assert_true(distance_under(site, width, height, limit, only, &err));
        for (int i = 0; i < width * height; i++) {
            if (squared[i] < limit * limit)
                assert_int_equal(only[i], squared[i]);
            else
                assert_true(only[i] >= limit * limit);
        }
    }
}

/* The same where it is asked for. */
static void compare_where_asked(const uint8_t *site, int width, int height, uint64_t *seed) {
    int32_t nearest[AREA], only[AREA];
    uint8_t asked[AREA];
    Err err = {0};
    for (int i = 0; i < AREA; i++) asked[i] = random_bits(seed) % 16 == 0;
    assert_true(distance_transform(site, width, height, NULL, nearest, &err));
    assert_true(distance_nearest(site, asked, width, height, only, &err));
    for (int i = 0; i < width * height; i++)
        if (asked[i]) assert_int_equal(only[i], nearest[i]);
}

static void every_distance_equals_the_one_found_by_trying_every_site(void **state) {
    (void)state;
    uint64_t seed = 3;
    for (int round = 0; round < 300; round++) {
        int width = 1 + (int)(random_bits(&seed) % SIDE), height = 1 + (int)(random_bits(&seed) % SIDE);
        unsigned rare = 1 + random_bits(&seed) % 120;
        uint8_t site[AREA];
        for (int i = 0; i < AREA; i++) site[i] = random_bits(&seed) % rare == 0;
        compare_with_brute(site, width, height);
        compare_where_asked(site, width, height, &seed);
    }
}

static void without_a_site_nothing_is_near(void **state) {
    (void)state;
    uint8_t site[AREA] = {0};
    compare_with_brute(site, SIDE, SIDE);
    compare_with_brute(site, 1, 1);
    site[AREA - 1] = 1;
    compare_with_brute(site, SIDE, SIDE);
}

static void far_distances_stay_exact(void **state) {
    (void)state;
    enum { W = DISTANCE_SIDE_MAX, H = 12 };
    uint8_t *site = calloc((size_t)W * H, 1);
    int32_t *squared = calloc((size_t)W * H, sizeof *squared);
    assert_non_null(site);
    assert_non_null(squared);
    site[0] = 1;
    Err err = {0};
    assert_true(distance_transform(site, W, H, squared, NULL, &err));
    assert_int_equal(squared[(size_t)W * H - 1], 16383 * 16383 + 11 * 11);
    assert_int_equal(squared[W - 1], 16383 * 16383);
    free(site);
    free(squared);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_distance_equals_the_one_found_by_trying_every_site),
        cmocka_unit_test(without_a_site_nothing_is_near),
        cmocka_unit_test(far_distances_stay_exact),
    };
    return cmocka_run_group_tests_name("distance", tests, NULL, NULL);
}
