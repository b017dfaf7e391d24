/* Tests of src/base/units.c. SPDX-License-Identifier: MIT */
#include "base/units.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdint.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

static void numbers_are_read_whole_or_not_at_all(void **state) {
    (void)state;
    static const char *const bad[] = {"",    "12abc", " 3", "0x10", "nan",   "inf",
                                      "1e3", ".",     "-",  "--1",  "1.2.3", "12345678901234567"};
    double value = -1;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        assert_false(number_parse(bad[i], -1e30, 1e30, &value));
    near(value, -1, 0);
    assert_true(number_parse("0.35", 0, 1, &value));
    near(value, 0.35, 0);
    assert_true(number_parse("-2.5", -3, 0, &value));
    near(value, -2.5, 0);
    assert_false(number_parse("2", 0, 1, &value));
}

static void whole_numbers_may_be_grouped(void **state) {
    (void)state;
    long value = -1;
    assert_true(whole_parse("5,000", 1, 10000, &value));
    assert_int_equal(value, 5000);
    assert_true(whole_parse("10 000", 1, 10000, &value));
    assert_int_equal(value, 10000);
    assert_false(whole_parse("5.5", 1, 10000, &value));
    assert_false(whole_parse("5,", 1, 10000, &value));
    assert_false(whole_parse(",5", 1, 10000, &value));
    assert_false(whole_parse("0", 1, 10000, &value));
    assert_false(whole_parse("", 0, 10000, &value));
    assert_false(whole_parse("99999999999999999999999999", 0, 10000, &value));
}

static void lengths_know_their_units(void **state) {
    (void)state;
    static const struct {
        const char *text;
        double mm; /* 0 = refused */
    } rows[] = {{"16", 16},         {"16mm", 16},      {"1.6cm", 16},     {"0.6in", 15.24}, {"5/8in", 15.875},
                {"5/8 in", 15.875}, {"5/8\"", 15.875}, {"1 1/2in", 38.1}, {"16 mm", 16},    {"16m", 0},
                {"16mmx", 0},       {"5/0in", 0},      {"/8in", 0},       {"", 0},          {"mm", 0},
                {"-3mm", 0},        {"1 1in", 0},      {"999", 0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double mm = 0;
        bool good = length_parse(rows[i].text, UNITS_MM, 0.1, 500, &mm);
        if (good != (rows[i].mm > 0)) fail_msg("'%s': %s", rows[i].text, good ? "taken" : "refused");
        if (good) near(mm, rows[i].mm, 1e-12);
    }
    double mm = 0;
    assert_true(length_parse("1/2", UNITS_IN, 0, 500, &mm));
    near(mm, 12.7, 1e-12);
}

static void pieces_are_a_diameter_and_a_length(void **state) {
    (void)state;
    static const struct {
        const char *text;
        double diameter, length;
    } rows[] = {{"16x14mm", 16, 14},   {"16x14", 16, 14},      {"5/8x1/2in", 15.875, 12.7},
                {"16mmx14mm", 16, 14}, {"2cm x 14mm", 20, 14}, {"5/8inx14mm", 15.875, 14},
                {"16mmx14", 16, 14},   {"16", 0, 0},           {"16x", 0, 0},
                {"x14", 0, 0},         {"16x14x12", 0, 0},     {"0x14", 0, 0},
                {"16*14", 0, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double d = 0, l = 0;
        bool good = piece_parse(rows[i].text, &d, &l);
        if (good != (rows[i].diameter > 0)) fail_msg("'%s': %s", rows[i].text, good ? "taken" : "refused");
        if (!good) continue;
        near(d, rows[i].diameter, 1e-12);
        near(l, rows[i].length, 1e-12);
    }
}

static void masses_know_their_units(void **state) {
    (void)state;
    double g = 0;
    assert_true(mass_parse("5kg", 1, 1e6, &g));
    near(g, 5000, 0);
    assert_true(mass_parse("12 lb", 1, 1e6, &g));
    near(g, 5443.10844, 1e-9);
    assert_true(mass_parse("8oz", 1, 1e6, &g));
    near(g, 226.796185, 1e-9);
    assert_false(mass_parse("8st", 1, 1e6, &g));
}

static void printed_lengths_read_back(void **state) {
    (void)state;
    char text[32];
    for (int i = 1; i < 2000; i++) {
        double mm = i * 0.1, back = 0;
        length_print(text, sizeof text, mm, UNITS_MM);
        assert_true(length_parse(text, UNITS_MM, 0, 1000, &back));
        near(back, mm, 0.051);
        double inches = i / 32.0 * MM_PER_IN;
        length_print(text, sizeof text, inches, UNITS_IN);
        assert_true(length_parse(text, UNITS_MM, 0, 10000, &back));
        near(back, inches, 1e-9);
    }
    length_print(text, sizeof text, 16, UNITS_MM);
    assert_string_equal(text, "16 mm");
    length_print(text, sizeof text, 15.875, UNITS_IN);
    assert_string_equal(text, "5/8 in");
    stroke_print(text, sizeof text, 0.6499, UNITS_MM);
    assert_string_equal(text, "0.65 mm");
    stroke_print(text, sizeof text, 0.8, UNITS_MM);
    assert_string_equal(text, "0.8 mm");
    stroke_print(text, sizeof text, 0.65, UNITS_IN);
    assert_string_equal(text, "0.026 in");
}

static void inches_come_as_decimals_with_the_nearest_32nd(void **state) {
    (void)state;
    char text[64];
    static const struct {
        double mm;
        const char *both;
    } rows[] = {
        {115, "4.53 in (4 17/32)"}, {15.875, "5/8 in"}, {25.4, "1 in"}, {0.1, "0 in"}, {16, "0.63 in (5/8)"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        length_print_both(text, sizeof text, rows[i].mm, UNITS_IN);
        assert_string_equal(text, rows[i].both);
    }
    length_print_both(text, sizeof text, 15.94, UNITS_MM);
    assert_string_equal(text, "15.9 mm");
    near(length_by_hand(115, UNITS_IN), 4.53125 * MM_PER_IN, 1e-9);
    near(length_by_hand(115.4, UNITS_MM), 115, 0);
    distance_print(text, sizeof text, 15.94, UNITS_IN); /* 15.94 / 0.3048 = 52.297 */
    assert_string_equal(text, "52.3 ft");
    distance_print(text, sizeof text, 15.94, UNITS_MM);
    assert_string_equal(text, "15.9 m");
}

static void printed_masses_read_back(void **state) {
    (void)state;
    static const struct {
        double g;
        Units units;
        const char *text;
    } rows[] = {{3.74, UNITS_MM, "3.7 g"},   {150.4, UNITS_MM, "150 g"}, {4163, UNITS_MM, "4.16 kg"},
                {3.74, UNITS_IN, "0.13 oz"}, {453.6, UNITS_IN, "1 lb"},  {4163, UNITS_IN, "9.18 lb"},
                {340.2, UNITS_IN, "12 oz"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char text[64];
        double g = 0;
        mass_print(text, sizeof text, rows[i].g, rows[i].units);
        assert_string_equal(text, rows[i].text);
        assert_true(mass_parse(text, 0, 1e6, &g));
        near(g, rows[i].g, rows[i].g * 0.02);
    }
}

static void temperatures_know_their_scale(void **state) {
    (void)state;
    static const struct {
        const char *text;
        double c;
    } rows[] = {{"149", 149},
                {"149 C", 149},
                {"149C", 149},
                {"149 \xC2\xB0"
                 "C",
                 149},
                {"212 F", 100},
                {"32F", 0},
                {"-40F", -40},
                {"300 °F", 148.888889},
                {"22.5 C", 22.5}};
    static const char *const bad[] = {"", "C", "149 K", "149 c", "C 149", "149 C C", "°C", "nan", "1000 C"};
    double c = 7;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (!temperature_parse(rows[i].text, -100, 200, &c)) fail_msg("%s is refused", rows[i].text);
        assert_true(c == rows[i].c);
    }
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        if (temperature_parse(bad[i], -100, 200, &c)) fail_msg("%s is taken", bad[i]);
    char text[40];
    temperature_print(text, sizeof text, 148.9, UNITS_MM);
    assert_string_equal(text, "149 °C (300 °F)");
    temperature_print(text, sizeof text, 148.9, UNITS_IN);
    assert_string_equal(text, "300 °F (149 °C)");
}

static void sections_are_printed_as_hands_form_them(void **state) {
    (void)state;
    char text[96];
    section_print(text, sizeof text, 16.5, 6, UNITS_MM, false);
    assert_string_equal(text, "16.5 x 6 mm");
    section_print(text, sizeof text, 15, 6, UNITS_IN, false); /* 18.9 and 7.56 32nds */
    assert_string_equal(text, "19/32 x 1/4 in");
    section_print(text, sizeof text, 15, 6, UNITS_IN, true);
    assert_string_equal(text, "0.59 x 0.24 in (19/32 x 1/4)");
    section_print(text, sizeof text, 25.4, 0.1, UNITS_IN, false); /* never nothing */
    assert_string_equal(text, "1 x 1/32 in");
    hand_print(text, sizeof text, 308.4, UNITS_MM);
    assert_string_equal(text, "308 mm");
    hand_print(text, sizeof text, 308.4, UNITS_IN);
    assert_string_equal(text, "12 5/32 in");
}

static void times_are_seconds_up_to_three_minutes(void **state) {
    (void)state;
    char text[32];
    minutes_print(text, sizeof text, 31.4);
    assert_string_equal(text, "31 s");
    minutes_print(text, sizeof text, 179.4);
    assert_string_equal(text, "179 s");
    minutes_print(text, sizeof text, 179.6);
    assert_string_equal(text, "3 min");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_read_whole_or_not_at_all),
        cmocka_unit_test(whole_numbers_may_be_grouped),
        cmocka_unit_test(lengths_know_their_units),
        cmocka_unit_test(pieces_are_a_diameter_and_a_length),
        cmocka_unit_test(masses_know_their_units),
        cmocka_unit_test(printed_lengths_read_back),
        cmocka_unit_test(inches_come_as_decimals_with_the_nearest_32nd),
        cmocka_unit_test(sections_are_printed_as_hands_form_them),
        cmocka_unit_test(times_are_seconds_up_to_three_minutes),
        cmocka_unit_test(printed_masses_read_back),
        cmocka_unit_test(temperatures_know_their_scale),
    };
    return cmocka_run_group_tests_name("units", tests, NULL, NULL);
}
