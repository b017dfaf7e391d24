/* Tests of src/inks/tint.c. SPDX-License-Identifier: MIT */
#include "inks/steps.h"
#include "oklab.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

static Tint tint(uint8_t r, uint8_t g, uint8_t b, uint8_t a) {
    TintTables tables;
    tint_tables(&tables);
    return tint_of_pixel(&tables, (const uint8_t[4]){r, g, b, a});
}

static void a_pixel_s_tint_agrees_with_the_exact_colour(void **state) {
    (void)state;
    for (int i = 0; i < 6 * 6 * 6; i++) {
        Rgb8 c = {(uint8_t)(i % 6 * 51), (uint8_t)(i / 6 % 6 * 51), (uint8_t)(i / 36 * 51)};
        Tint t = tint(c.r, c.g, c.b, 255);
        Oklab want = linear_oklab(rgb8_linear(c));
        assert_true(fabs((double)t.ok[0] - want.l) < 1e-4 && fabs((double)t.ok[1] - want.a) < 2e-4);
        assert_true(fabs((double)t.ok[2] - want.b) < 2e-4);
        Rgb8 back = tint_rgb8(&t);
        assert_true(back.r == c.r && back.g == c.g && back.b == c.b);
    }
}

/* The shortcut must not change the answer. */
static void within_is_what_the_distance_says(void **state) {
    (void)state;
    uint64_t seed = 9;
    for (int i = 0; i < 200000; i++) {
        uint8_t v[6];
        for (int k = 0; k < 6; k++) {
            seed = seed * 6364136223846793005u + 1442695040888963407u;
            int step = (int)(seed >> 58) - 32;
            v[k] = k < 3 ? (uint8_t)(seed >> 56) : (uint8_t)fmin(255, fmax(0, v[k - 3] + step));
        }
        Tint p =
            tint_of_encoded((const float[4]){(float)v[0] / 255, (float)v[1] / 255, (float)v[2] / 255, 1});
        Tint q =
            tint_of_encoded((const float[4]){(float)v[3] / 255, (float)v[4] / 255, (float)v[5] / 255, 1});
        double limit = 1 + i % 10;
        assert_int_equal(tint_within(&p, &q, limit), tint_distance(&p, &q) <= limit);
    }
}

static void a_mix_is_known_in_linear_light_and_in_encoded_values(void **state) {
    (void)state;
    Tint a = tint(200, 30, 40, 255), b = tint(20, 60, 170, 255), clear = tint(0, 0, 0, 0);
    double part;
    float mixed[4];
    for (int t = 0; t <= 10; t++) {
        float f = (float)t / 10;
        for (int i = 0; i < 4; i++) mixed[i] = a.linear[i] + f * (b.linear[i] - a.linear[i]);
        Tint mix = tint_of_linear(mixed);
        assert_true(tint_mix(&mix, &a, &b, 1, true, &part) && fabs(part - (double)f) < 0.01);
        for (int i = 0; i < 4; i++) mixed[i] = a.encoded[i] + f * (b.encoded[i] - a.encoded[i]);
        mix = tint_of_encoded(mixed);
        assert_true(tint_mix(&mix, &a, &b, 1, false, &part) && fabs(part - (double)f) < 0.01);
        for (int i = 0; i < 4; i++) mixed[i] = f * a.linear[i];
        mix = tint_of_linear(mixed);
        assert_true(tint_mix(&mix, &clear, &a, 1, true, &part) && fabs(part - (double)f) < 0.01);
    }
    Tint black = tint(0, 0, 0, 255), green = tint(40, 160, 60, 255);
    assert_false(tint_mix(&black, &a, &b, 6, true, &part));
    assert_false(tint_mix(&green, &a, &b, 6, true, &part));
}

static void a_mix_of_three_goes_to_the_largest_part(void **state) {
    (void)state;
    Tint a = tint(200, 30, 40, 255), b = tint(20, 60, 170, 255), c = tint(250, 210, 40, 255);
    const Tint *const of[3] = {&a, &b, &c};
    float mixed[4];
    for (int i = 0; i < 4; i++) mixed[i] = 0.3f * a.linear[i] + 0.2f * b.linear[i] + 0.5f * c.linear[i];
    Tint mix = tint_of_linear(mixed), white = tint(255, 255, 255, 255);
    int most = -1;
    assert_true(tint_mix3(&mix, of, 1, &most));
    assert_int_equal(most, 2);
    assert_false(tint_mix3(&white, of, 6, &most));
}

static void see_through_tints_are_compared_over_white_and_over_black(void **state) {
    (void)state;
    Tint clear = tint(0, 0, 0, 0), white = tint(255, 255, 255, 255), shade = tint(0, 0, 0, 128);
    assert_true(tint_distance(&clear, &white) > 90); /* alike over white, not over black */
    assert_true(tint_distance(&clear, &shade) > 10 && tint_transparent(&clear) && !tint_transparent(&white));
    assert_true(tint_distance(&clear, &clear) == 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pixel_s_tint_agrees_with_the_exact_colour),
        cmocka_unit_test(within_is_what_the_distance_says),
        cmocka_unit_test(a_mix_is_known_in_linear_light_and_in_encoded_values),
        cmocka_unit_test(a_mix_of_three_goes_to_the_largest_part),
        cmocka_unit_test(see_through_tints_are_compared_over_white_and_over_black)};
    return cmocka_run_group_tests_name("tint", tests, NULL, NULL);
}
