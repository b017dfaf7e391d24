/* Tests of src/bench/steam.c. SPDX-License-Identifier: MIT */
#include "bench/steam.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (!(fabs(got - want) <= limit)) fail_msg("got %.9g, want %.9g", got, want);
}

/* IAPWS SR1-86 saturation at ISO 2533 pressure, computed beforehand by another program, to 0.01 C. */
static void water_boils_cooler_the_higher_the_kitchen(void **state) {
    (void)state;
    static const double row[][2] = {{0, 99.97},    {300, 98.98},  {500, 98.31}, {1000, 96.65},
                                    {1500, 94.98}, {2000, 93.32}, {3000, 89.97}};
    for (int i = 0; i < 7; i++) near(water_boils_c(air_pressure_kpa(row[i][0])), row[i][1], 0.02);
}

/* McGee, On Food and Cooking: a degree Celsius for each 305 m (1000 ft). */
static void the_kitchen_rule_holds_to_a_tenth(void **state) {
    (void)state;
    for (double h = 305; h <= 3050; h += 305)
        near(water_boils_c(air_pressure_kpa(0)) - water_boils_c(air_pressure_kpa(h)), h / 305, 0.1 * h / 305);
}

/* Steam tables, from memory: the triple point 0.611 657 kPa at 0.01 C; 101.418 kPa at 100 C (IAPWS-95); 1 MPa
 * at 179.88 C (IAPWS-IF97). ISO 2533, from memory: 89.875 kPa at 1000 m, 54.020 kPa at 5000 m. */
static void published_points_are_met(void **state) {
    (void)state;
    near(steam_pressure_kpa(0.01), 0.611657, 2e-4);
    near(steam_pressure_kpa(100), 101.418, 0.02);
    near(water_boils_c(1000), 179.88, 0.02);
    near(air_pressure_kpa(0), 101.325, 1e-9);
    near(air_pressure_kpa(1000), 89.875, 0.005);
    near(air_pressure_kpa(5000), 54.020, 0.01);
}

static void boiling_is_the_inverse_of_steam_pressure(void **state) {
    (void)state;
    for (double c = 10; c < 300; c += 7.3) near(water_boils_c(steam_pressure_kpa(c)), c, 1e-9);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(water_boils_cooler_the_higher_the_kitchen),
                                       cmocka_unit_test(the_kitchen_rule_holds_to_a_tenth),
                                       cmocka_unit_test(published_points_are_met),
                                       cmocka_unit_test(boiling_is_the_inverse_of_steam_pressure)};
    return cmocka_run_group_tests_name("steam", tests, NULL, NULL);
}
