/* Tests of src/bench/heat_loss.c. SPDX-License-Identifier: MIT */
#include "bench/heat_loss.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

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
    const struct CMUnitTest tests[] = {cmocka_unit_test(ropes_and_logs_lose_what_was_worked_out),
                                       cmocka_unit_test(a_hot_pipe_loses_what_the_textbook_says),
                                       cmocka_unit_test(thinner_and_warmer_cylinders_lose_more)};
    return cmocka_run_group_tests_name("heat_loss", tests, NULL, NULL);
}
