/* Tests of the cylinder in src/bench/cool.c. SPDX-License-Identifier: MIT */
#include "bench/bench.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

enum { TERMS = 40 };

/* Clear candy: 1.50 g/ml, 1.72 kJ/kg K, 0.297 W/m K (Choi & Okos 1986 at 80 C, 2 % water, computed). */
static const double conductivity = 0.297, capacity = 1500 * 1720;

static void near(double got, double want, double share) {
    if (!(fabs(got - want) <= share * fabs(want))) fail_msg("got %.9g, want %.9g", got, want);
}

static double biot_equation(double x, double biot) {
    return x * j1(x) - biot * j0(x);
}

/* The nth root, 1.., of x J1(x) = biot J0(x): one in each interval between the zeros of J1, found by halving.
 */
static double root_of(double biot, int n) {
    const double pi = 3.14159265358979323846;
    double low = n == 1 ? 1e-9 : 0, high = 0;
    for (int zero = 0; zero < 2;
         zero++) { /* the zeros of J1 beside it, by Newton from McMahon's first term */
        int k = n - 1 + zero;
        double z = (k + 0.25) * pi;
        for (int i = 0; k > 0 && i < 20; i++) z -= j1(z) / (j0(z) - j1(z) / z);
        if (zero == 0 && k > 0) low = z;
        if (zero == 1) high = z;
    }
    double sign = biot_equation(low, biot);
    for (int i = 0; i < 80; i++) {
        double x = (low + high) / 2;
        if ((biot_equation(x, biot) < 0) == (sign < 0))
            low = x;
        else
            high = x;
    }
    return (low + high) / 2;
}

/* The middle's temperature, 1 at first, 0 in the end: the classical series (Carslaw & Jaeger, ch. 7, from
 * memory). */
static double series(double biot, double fourier) {
    double sum = 0;
    for (int n = 1; n <= TERMS; n++) {
        double x = root_of(biot, n), a = j0(x), b = j1(x);
        sum += 2 / x * b / (a * a + b * b) * exp(-x * x * fourier);
    }
    return sum;
}

static double fourier_at(double biot, double share) {
    double low = 0, high = 100;
    for (int i = 0; i < 60; i++) {
        double f = (low + high) / 2;
        if (series(biot, f) > share)
            low = f;
        else
            high = f;
    }
    return (low + high) / 2;
}

/* Seconds of a cylinder 100 mm across from 80 C in a room of 22 C until its middle has `share` of the way
 * before it. */
static double seconds(double biot, double share) {
    Cylinder c = {0.05, conductivity, capacity, 80, 22, biot * conductivity / 0.05};
    return cylinder_seconds(&c, 22 + 58 * share);
}

/* First roots: Incropera & DeWitt, table 5.1, from memory; 2.4048 is the first zero of J0. Second and third
 * zero of J0: Abramowitz & Stegun, table 9.5. */
static void the_roots_are_those_of_the_tables(void **state) {
    (void)state;
    near(root_of(0.1, 1), 0.4417, 1e-4);
    near(root_of(1, 1), 1.2558, 1e-4);
    near(root_of(10, 1), 2.1795, 1e-4);
    near(root_of(1e9, 1), 2.4048, 1e-4);
    near(root_of(1e9, 2), 5.52008, 1e-5);
    near(root_of(1e9, 3), 8.65373, 1e-5);
}

static void times_are_those_of_the_series(void **state) {
    (void)state;
    static const double biot[] = {0.1, 1, 10, 1e6}, share[] = {0.95, 0.828, 0.5, 0.2, 0.05};
    for (int b = 0; b < 4; b++)
        for (int i = 0; i < 5; i++) {
            double want = fourier_at(biot[b], share[i]) * 0.05 * 0.05 * capacity / conductivity;
            near(seconds(biot[b], share[i]), want, 0.01);
        }
}

/* Held at a fixed surface temperature the last to die away falls by e in R^2 / (5.783 alpha): 62.7 min for
 * 100 mm, 141 for 150 mm with 1.15e-7 m2/s; 5.783 = 2.4048^2. */
static void the_slowest_mode_of_a_log_takes_an_hour_or_two(void **state) {
    (void)state;
    static const double row[][2] = {{0.05, 62.7}, {0.075, 141}};
    for (int i = 0; i < 2; i++) {
        Cylinder c = {row[i][0], 1.15e-7 * capacity, capacity, 80, 22, 1e9};
        double slow = cylinder_seconds(&c, 22 + 58 * 0.1 * exp(-1)) - cylinder_seconds(&c, 22 + 58 * 0.1);
        near(slow / 60, row[i][1], 0.01);
    }
}

/* A thin rope that loses little is as warm all through: t = rho c R / (2 h) ln(from / to). */
static void thin_ropes_cool_as_if_without_a_gradient(void **state) {
    (void)state;
    for (double biot = 0.001; biot <= 0.0101; biot *= 3.16) {
        double lumped = capacity * 0.05 / (2 * biot * conductivity / 0.05) * log(58.0 / 48);
        near(seconds(biot, 48.0 / 58), lumped, 0.02);
    }
}

/* Worked out beforehand without a gradient: 15 mm, 80 to 50 C in a room of 22 C: 8 min; 6 mm: 80 to 70 about
 * 0.7 min, 80 to 50 2.8 min. The gradient makes it longer. */
static void ropes_in_still_air_cool_in_minutes(void **state) {
    (void)state;
    static const double row[][3] = {{0.0075, 50, 8}, {0.003, 70, 0.7}, {0.003, 50, 2.8}};
    for (int i = 0; i < 3; i++) {
        Cylinder rope = {row[i][0], 1000 * conductivity, capacity, 80, 22, 0};
        double level = cylinder_seconds(&rope, row[i][1]) / 60;
        rope.conductivity_w_mk = conductivity;
        near(level, row[i][2], 0.08);
        assert_true(cylinder_seconds(&rope, row[i][1]) / 60 > level * 1.05);
        assert_true(cylinder_seconds(&rope, row[i][1]) / 60 < level * 1.5);
    }
}

static void thicker_cooler_and_slower_take_longer(void **state) {
    (void)state;
    double last = 0;
    for (double r = 0.001; r < 0.2; r *= 1.3) {
        Cylinder c = {r, conductivity, capacity, 80, 22, 0};
        double now = cylinder_seconds(&c, 70);
        assert_true(now > last && now < cylinder_seconds(&c, 69));
        c.room_c = 26;
        assert_true(now < cylinder_seconds(&c, 70));
        last = now;
    }
}

/* --- what the surface loses --- */

static void between(double got, double low, double high) {
    if (!(got >= low && got <= high)) fail_msg("%.6g is not within %.6g and %.6g", got, low, high);
}

/* Worked out beforehand by another program from the same sources: a rope of 15 mm 14 to 16, a log of 100 to
 * 150 mm 11.5 to 13 W/m2 K, surfaces of 60 to 80 C in air of 22 C. */
static void ropes_and_logs_lose_what_was_worked_out(void **state) {
    (void)state;
    for (double surface = 60; surface <= 80; surface += 5) {
        between(heat_loss_w_m2k(0.015, surface, 22), 14, 16);
        for (double diameter = 0.100; diameter <= 0.1501; diameter += 0.01)
            between(heat_loss_w_m2k(diameter, surface, 22), 11.5 * 0.99, 13 * 1.01); /* rounded */
    }
}

/* Incropera & DeWitt, example 9.4 (6th edition), from memory: a pipe of 100 mm at 165 C in a room of 23 C
 * loses 441 W/m by convection (h 7.78) and 334 W/m with an emissivity of 0.85. Ours has 0.9: 441 + 334 * 0.9
 * / 0.85 = 795 W/m. */
static void a_hot_pipe_loses_what_the_textbook_says(void **state) {
    (void)state;
    double w_m = heat_loss_w_m2k(0.1, 165, 23) * 3.14159265358979 * 0.1 * (165 - 23);
    between(w_m, 795 * 0.98, 795 * 1.02);
}

static void thinner_and_warmer_cylinders_lose_more(void **state) {
    (void)state;
    for (double d = 0.003; d < 0.2; d *= 1.5) {
        assert_true(heat_loss_w_m2k(d, 70, 22) > heat_loss_w_m2k(d * 1.5, 70, 22));
        assert_true(heat_loss_w_m2k(d, 80, 22) > heat_loss_w_m2k(d, 60, 22));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_roots_are_those_of_the_tables),
                                       cmocka_unit_test(times_are_those_of_the_series),
                                       cmocka_unit_test(the_slowest_mode_of_a_log_takes_an_hour_or_two),
                                       cmocka_unit_test(thin_ropes_cool_as_if_without_a_gradient),
                                       cmocka_unit_test(ropes_in_still_air_cool_in_minutes),
                                       cmocka_unit_test(thicker_cooler_and_slower_take_longer),
                                       cmocka_unit_test(ropes_and_logs_lose_what_was_worked_out),
                                       cmocka_unit_test(a_hot_pipe_loses_what_the_textbook_says),
                                       cmocka_unit_test(thinner_and_warmer_cylinders_lose_more)};
    return cmocka_run_group_tests_name("cylinder", tests, NULL, NULL);
}
