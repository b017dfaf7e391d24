/* Tests of src/base/thickness.c. SPDX-License-Identifier: MIT */
#include "base/thickness.h"

#include "base/distance.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>
#include <cmocka.h>

enum { SIDE = 40, AREA = SIDE * SIDE };

static uint32_t random_bits(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(*state >> 33);
}

/* Discs of no site in a plane of sites: blots of many widths. */
static void draw_blots(uint8_t *site, uint64_t *seed) {
    memset(site, 1, AREA);
    for (int k = 0; k < 8; k++) {
        int x = (int)(random_bits(seed) % SIDE), y = (int)(random_bits(seed) % SIDE);
        int r = 1 + (int)(random_bits(seed) % 8);
        for (int i = 0; i < AREA; i++)
            if ((i % SIDE - x) * (i % SIDE - x) + (i / SIDE - y) * (i / SIDE - y) <= r * r) site[i] = 0;
    }
}

/* The largest disc, of all that hold no site, that covers the pixel. (Near the cap thickness may fall short
 * of this: of the largest disc only pixel-centred discs of the cap's size count, and they need not reach its
 * edge.) */
static double brute_thickness(const int32_t *squared, int pixel, double cap) {
    int best = 0;
    for (int c = 0; c < AREA; c++) {
        int dx = c % SIDE - pixel % SIDE, dy = c / SIDE - pixel / SIDE;
        if (dx * dx + dy * dy < squared[c] && squared[c] > best) best = squared[c];
    }
    return best == 0 ? 0 : fmin(2 * sqrt(best) - 0.5, cap);
}

static void thickness_is_that_of_the_largest_disc_to_a_pixel(void **state) {
    (void)state;
    uint64_t seed = 17;
    for (int round = 0; round < 60; round++) {
        uint8_t site[AREA];
        int32_t squared[AREA];
        float thick[AREA];
        double cap = 60;
        Err err = {0};
        draw_blots(site, &seed);
        assert_true(distance_transform(site, SIDE, SIDE, squared, NULL, &err));
        assert_true(local_thickness(site, SIDE, SIDE, cap, thick, &err));
        for (int i = 0; i < AREA; i++) {
            double want = brute_thickness(squared, i, cap), got = (double)thick[i];
            if (site[i] ? got != 0 : got > want + 1e-4 || got < want - 1.01)
                fail_msg("round %d, pixel %d: %g, want %g", round, i, got, want);
        }
    }
}

/* The skeleton leaves out discs that a neighbour's nearly holds; their pixels are covered all the same. */
static void every_pixel_is_as_thick_as_its_own_disc_at_least(void **state) {
    (void)state;
    uint64_t seed = 4;
    for (int round = 0; round < 200; round++) {
        uint8_t site[AREA];
        int32_t squared[AREA];
        float thick[AREA];
        Err err = {0};
        for (int i = 0; i < AREA; i++) site[i] = random_bits(&seed) % 24 == 0;
        site[0] = 1;
        assert_true(distance_transform(site, SIDE, SIDE, squared, NULL, &err));
        assert_true(local_thickness(site, SIDE, SIDE, 20, thick, &err));
        for (int i = 0; i < AREA; i++)
            if (!site[i]) assert_true((double)thick[i] >= fmin(2 * sqrt(squared[i]) - 0.5, 20) - 1e-4);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(thickness_is_that_of_the_largest_disc_to_a_pixel),
        cmocka_unit_test(every_pixel_is_as_thick_as_its_own_disc_at_least),
    };
    return cmocka_run_group_tests_name("thickness", tests, NULL, NULL);
}
