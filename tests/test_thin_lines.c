/* Tests of src/base/thin_lines.c. SPDX-License-Identifier: MIT */
#include "base/thin_lines.h"

#include "base/components.h"
#include "base/geom.h"
#include "sanitized.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { SIDE = 96, AREA = SIDE * SIDE };

static uint8_t ink[AREA], line[AREA];
static float thick[AREA];

static void box(int x, int y, int wide, int high, int value) {
    for (int v = y; v < y + high; v++)
        for (int u = x; u < x + wide; u++) ink[v * SIDE + u] = (uint8_t)value;
}

static void thin_ink(void) {
    Err err = {0};
    assert_true(thin_lines(ink, SIDE, SIDE, 60, line, thick, &err));
}

static int neighbours(int i) {
    int count = 0;
    for (int v = -1; v <= 1; v++)
        for (int u = -1; u <= 1; u++) count += (u || v) && line[i + v * SIDE + u];
    return count;
}

static int count_ends(void) {
    int ends = 0;
    for (int i = 0; i < AREA; i++) ends += line[i] && neighbours(i) == 1;
    return ends;
}

/* Areas of ink, 8 ways, and of what is none, 4 ways. */
static int count_areas(const uint8_t *mask, int of) {
    static int32_t label[AREA];
    uint8_t ways[256] = {0};
    ways[of] = of ? 8 : 4;
    return components(mask, SIDE, SIDE, ways, label);
}

static void a_bar_becomes_its_middle_line(void **state) {
    (void)state;
    memset(ink, 0, sizeof ink);
    box(20, 40, 50, 12, 1);
    thin_ink();
    assert_int_equal(count_ends(), 2);
    int low = SIDE, high = 0;
    for (int i = 0; i < AREA; i++) {
        if (!line[i]) {
            assert_true(thick[i] == 0);
            continue;
        }
        assert_in_range(i / SIDE, 44, 47);
        assert_true(fabs((double)thick[i] - 11.5) < 1);
        low = i % SIDE < low ? i % SIDE : low;
        high = i % SIDE > high ? i % SIDE : high;
    }
    assert_in_range(low, 23, 29); /* half the thickness from the end */
    assert_in_range(high, 60, 66);
}

static void an_e_has_three_arms(void **state) {
    (void)state;
    memset(ink, 0, sizeof ink);
    box(20, 10, 12, 76, 1);
    for (int k = 0; k < 3; k++) box(20, 10 + 32 * k, 50, 12, 1);
    thin_ink();
    assert_int_equal(count_ends(), 3);
    assert_int_equal(count_areas(line, 1), 1);
}

static void a_thin_serif_is_cut_off(void **state) {
    (void)state;
    memset(ink, 0, sizeof ink);
    box(40, 10, 16, 76, 1);
    box(32, 80, 32, 6, 1); /* eight pixels beyond the stem on either side, six thick */
    thin_ink();
    assert_int_equal(count_ends(), 2);
}

static uint32_t random_bits(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(*state >> 33);
}

static void nothing_parts_or_closes(void **state) {
    (void)state;
    uint64_t seed = 7;
    for (int round = 0; round < 60; round++) {
        memset(ink, 0, sizeof ink);
        for (int k = 0; k < 14; k++) {
            int wide = 2 + (int)(random_bits(&seed) % 40), high = 2 + (int)(random_bits(&seed) % 40);
            box(1 + (int)(random_bits(&seed) % (SIDE - 2 - wide)),
                1 + (int)(random_bits(&seed) % (SIDE - 2 - high)), wide, high, k % 3 != 2);
        }
        for (int k = 0; round % 3 == 0 && k < 200; k++)
            box(1 + (int)(random_bits(&seed) % (SIDE - 2)), 1 + (int)(random_bits(&seed) % (SIDE - 2)), 1, 1,
                k % 2);
        thin_ink();
        for (int i = 0; i < AREA; i++) assert_true(ink[i] || !line[i]);
        assert_int_equal(count_areas(line, 1), count_areas(ink, 1));
        assert_int_equal(count_areas(line, 0), count_areas(ink, 0));
    }
}

/* A star of five points, its outline waved. */
static void waved_star(double out, double in, double turn, double wave, double waves, double phase) {
    memset(ink, 0, sizeof ink);
    for (int y = 1; y < SIDE - 1; y++)
        for (int x = 1; x < SIDE - 1; x++) {
            double across = x - SIDE / 2.0, down = y - SIDE / 2.0, angle = atan2(down, across) - turn;
            double point = fabs(fmod(angle / (2 * PI) * 5 + 10.5, 1) - 0.5) * 2;
            double edge = in + (out - in) * point + wave * sin(waves * angle + phase);
            ink[y * SIDE + x] = hypot(across, down) < edge;
        }
}

#ifdef SANITIZED
enum { STARS = 300 }; /* they are slow */
#else
enum { STARS = 1500 };
#endif

/* Their lines run into themselves here and there, where no third one is seen to leave: one in five hundred
 * was followed for ever. */
static void lines_that_run_into_themselves_end(void **state) {
    (void)state;
    uint64_t seed = 7;
    for (int round = 0; round < STARS; round++) {
        double out = 33 + random_bits(&seed) % 12, in = 14 + random_bits(&seed) % 17;
        double turn = random_bits(&seed) % 72 * PI / 180, wave = 1 + random_bits(&seed) % 4;
        double waves = 5 * (1 + random_bits(&seed) % 6), phase = random_bits(&seed) % 7;
        waved_star(out, in, turn, wave, waves, phase);
        thin_ink();
        for (int i = 0; i < AREA; i++) assert_true(ink[i] || !line[i]);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bar_becomes_its_middle_line),
        cmocka_unit_test(an_e_has_three_arms),
        cmocka_unit_test(a_thin_serif_is_cut_off),
        cmocka_unit_test(nothing_parts_or_closes),
        cmocka_unit_test(lines_that_run_into_themselves_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
