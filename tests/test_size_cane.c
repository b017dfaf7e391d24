/* Tests of src/plan/size_cane.c. SPDX-License-Identifier: MIT */
#include "base/geom.h"
#include "plan/plan.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

static Palette of_density(double density) {
    return (Palette){
        .count = 1, .candy = {{.density_g_ml = density}}, .jackets = 1, .jacket = {{.density_g_ml = 1}}};
}

static Cane sized(long pieces, double density, double least_strip_mm) {
    Order order = order_default();
    Shop shop = shop_default();
    Palette palette = of_density(density);
    Cane cane = {0};
    Err err = {0};
    order.pieces = pieces;
    shop.least_strip_mm = least_strip_mm;
    assert_true(size_cane(&order, &palette, &shop, &cane, &err));
    return cane;
}

/* Check values, worked out from the formulas. A least strip of 8 mm forces steps of 2 mm for
 * these. */
static void the_worked_examples_come_out(void **state) {
    (void)state;
    Cane c = sized(1000, 1.30, 8);
    near(c.step_mm, 2, 0);
    assert_int_equal(c.key.steps, 52);
    near(c.log_diameter_mm, 115.56, 0.005);
    near(c.log_length_mm, 305.0, 0.05);
    near(c.reduction, 7.22, 0.005);
    near(c.cane_length_m, 15.91, 0.005);
    c = sized(1000, 1.30, 6);
    near(c.step_mm, 1.5, 0);
    assert_int_equal(c.key.steps, 69);
    near(c.log_diameter_mm, 115.00, 1e-9);
    near(c.log_length_mm, 307.96, 0.005);
    near(c.reduction, 7.19, 0.005);
    c = sized(5000, 1.50, 6);
    near(c.step_mm, 2, 0);
    assert_int_equal(c.logs, 2);
    assert_int_equal(c.key.steps, 82);
    near(c.log_diameter_mm, 182.22, 0.005);
    near(c.log_length_mm, 306.6, 0.05);
}

static void volumes_balance(void **state) {
    (void)state;
    for (long pieces = 1; pieces < 200000; pieces = pieces * 3 / 2 + 1) {
        Cane c = sized(pieces, 1.50, 6);
        double log = c.logs * PI / 4 * c.log_diameter_mm * c.log_diameter_mm * c.log_length_mm * 0.88;
        double cut = (double)c.pieces * PI / 4 * 16 * 16 * 14;
        near(log / cut, 1, 1e-9);
        near(c.volume_ml * 1000 * c.logs * 0.88 / cut, 1, 1e-9);
        assert_true(c.key.steps <= STEPS_MAX && c.key.least_steps >= 2);
        assert_true(c.log_diameter_mm <= 200 + 1e-9 && c.log_length_mm >= 300 - 1e-9);
        near(c.key.steps * c.step_mm, c.core_diameter_mm, 1e-9);
        near(c.core_diameter_mm / c.log_diameter_mm, 0.9, 1e-12);
    }
}

static void a_small_order_becomes_the_least_that_fills_a_log(void **state) {
    (void)state;
    Cane c = sized(10, 1.30, 6);
    assert_true(c.least_order && c.logs == 1 && c.pieces > 10);
    near(c.log_diameter_mm, 80, 1.5 / 0.9);
    assert_false(sized(c.pieces, 1.30, 6).least_order);
    assert_true(sized(c.pieces - 1, 1.30, 6).least_order);
}

static void the_step_is_the_finest_that_fits(void **state) {
    (void)state;
    assert_int_equal(sized(1000, 1.30, 6).key.least_steps, 4);
    assert_int_equal(sized(1000, 1.30, 4).key.least_steps, 3); /* 103.8 / (4 / 4) > 84 */
    Cane c = sized(5000, 1.30, 2);                             /* nothing fits: held at 84, longer */
    assert_int_equal(c.key.least_steps, 2);
    assert_int_equal(c.key.steps, STEPS_MAX);
    assert_true(c.log_length_mm > 400);
}

/* Drawing out keeps the volume: l = L (D/d)^2. A glass-fibre preform of 25 mm x 1 m drawn to 125 um
 * gives 40.0 km (sizes as published, "tens to hundreds of km" per preform: Hewak, Encyclopedia of Modern
 * Optics, 2004, 440-445; the length is computed). A foot of cane gives 20 pieces of 0.6 in (common practice,
 * no source). Strawberry rock: 5 ft of cane makes 15 pieces of 4 in (Frye, Practical Candy Maker, Chicago
 * 1885). */
static void drawing_out_keeps_the_volume(void **state) {
    (void)state;
    Order order = order_default();
    Shop shop = shop_default();
    Palette palette = of_density(1.30);
    Cane cane = {0};
    Err err = {0};
    order.piece_diameter_mm = 0.125; /* beyond what options allow: the formula does not mind */
    order.piece_length_mm = 1000;
    shop.lost_share = shop.jacket_share = 0;
    shop.log_diameter_max_mm = 25;
    shop.log_diameter_min_mm = 1;
    shop.log_length_min_mm = 1000;
    shop.least_strip_mm = 1.25;
    order.pieces = 40000; /* 40 km in metres of fibre */
    assert_true(size_cane(&order, &palette, &shop, &cane, &err));
    near(cane.log_diameter_mm, 25, 1e-9);
    near(cane.log_length_mm, 1000, 1e-6);
    near(cane.cane_length_m, 40000, 1e-3);
    static const struct {
        long pieces;
        double diameter_mm, length_mm, cane_m;
    } seen[] = {{20, 16, 0.6 * MM_PER_IN, 0.3048}, {15, 25, 4 * MM_PER_IN, 5 * 0.3048}};
    for (int i = 0; i < 2; i++) {
        shop.log_length_min_mm = 10;
        order.pieces = seen[i].pieces;
        order.piece_diameter_mm = seen[i].diameter_mm;
        order.piece_length_mm = seen[i].length_mm;
        shop.log_diameter_max_mm = 200;
        assert_true(size_cane(&order, &palette, &shop, &cane, &err));
        near(cane.cane_length_m, seen[i].cane_m, 1e-9);
    }
}

static void what_cannot_be_drawn_is_refused(void **state) {
    (void)state;
    Order order = order_default();
    Shop shop = shop_default();
    Palette palette = of_density(1.30);
    Cane cane = {.key = {.steps = -1}};
    Err err = {0};
    order.piece_diameter_mm = 90;
    order.pieces = 1;
    order.piece_length_mm = 1;
    assert_false(size_cane(&order, &palette, &shop, &cane, &err));
    assert_int_equal(err.code, ERR_USAGE);
    assert_int_equal(cane.key.steps, -1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_worked_examples_come_out),
        cmocka_unit_test(volumes_balance),
        cmocka_unit_test(a_small_order_becomes_the_least_that_fills_a_log),
        cmocka_unit_test(the_step_is_the_finest_that_fits),
        cmocka_unit_test(drawing_out_keeps_the_volume),
        cmocka_unit_test(what_cannot_be_drawn_is_refused),
    };
    return cmocka_run_group_tests_name("size_cane", tests, NULL, NULL);
}
