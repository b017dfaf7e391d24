/* Tests of src/plan/wrap_wishes.c. SPDX-License-Identifier: MIT */
#include "plan/plan_parts.h"
#include "drawn_grid.h"

#include <setjmp.h>
#include <stdarg.h>
#include <cmocka.h>

enum { N = 60, LEAST = 4 };

static int wishes_of(Drawing *drawing, WrapWish out[WRAP_WISHES_MAX]) {
    Grid grid = drawn_grid(N, LEAST, 4, drawing);
    const LayKey key = sheet_key(2);
    Err err = {0};
    int count = -1;
    assert_true(find_wrap_wishes(&grid, &key, out, &count, &err));
    for (int i = 0; i < count; i++) {
        Outline inner;
        double laid = fmax(out[i].thickness, least_sheet(&key));
        assert_true(out[i].round || outline_can_be_wrapped(&out[i].outline));
        assert_true(outline_inset(&out[i].outline, laid, -1, &inner));
        assert_true(i == 0 || outline_area(&out[i].outline) <= outline_area(&out[i - 1].outline));
    }
    grid_free(&grid);
    return count;
}

/* The outline lies within so many steps of the polygon round the core's middle. */
static void near_regular(const Outline *o, int sides, double in, double angle, double limit) {
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = outline_next(o, i);
        double x = (a.x + b.x - N) / 2, y = (a.y + b.y - N) / 2;
        double off = inside_regular(sides, in, angle, x, y);
        if (fabs(off) > limit) fail_msg("side %d lies %f inside", i, off);
    }
}

/* --- what is found --- */

static int square_rim(double x, double y) {
    double in = inside_regular(4, 18, 0, x, y);
    return in < 0 ? 0 : in < 2 ? 1 : 2;
}

static void a_square_with_a_rim_is_one_outline_of_four_corners(void **state) {
    (void)state;
    WrapWish wish[WRAP_WISHES_MAX];
    assert_int_equal(wishes_of(square_rim, wish), 1);
    assert_false(wish[0].round);
    assert_int_equal(wish[0].candy, 1);
    assert_int_equal(wish[0].outline.corners, 4);
    assert_true(fabs(wish[0].thickness - 2) < 0.15);
    near_regular(&wish[0].outline, 4, 18, 0, 0.15);
}

static int triangle_rim(double x, double y) {
    double in = inside_regular(3, 10, PI / 2, x, y);
    return in < 0 ? 0 : in < 3 ? 1 : fabs(x) < 1 && fabs(y) < 3 ? 2 : 3;
}

static void a_triangle_with_a_rim_has_its_tips_cut_where_they_are_too_sharp(void **state) {
    (void)state;
    WrapWish wish[WRAP_WISHES_MAX];
    assert_int_equal(wishes_of(triangle_rim, wish), 1);
    assert_int_equal(wish[0].outline.corners, 6);
    assert_true(fabs(wish[0].thickness - 3) < 0.3);
    double whole = 3 * sqrt(3) * 100, area = outline_area(&wish[0].outline);
    assert_true(area < whole * 1.01 && area > whole * 0.93);
}

static int round_rim(double x, double y) {
    double r = sqrt(x * x + y * y);
    return r > 17 ? 0 : r > 14 ? 1 : x < 0 ? 2 : 3;
}

static void a_round_rim_is_round(void **state) {
    (void)state;
    WrapWish wish[WRAP_WISHES_MAX];
    assert_int_equal(wishes_of(round_rim, wish), 1);
    assert_true(wish[0].round);
    assert_true(fabs(wish[0].outline.corner[0].x - (N / 2.0 - 17)) < 0.15);
    assert_true(fabs(wish[0].thickness - 3) < 0.2);
}

/* A sign: a rim inside the edge, on a pole of the rim's colour. */
static int sign_on_a_pole(double x, double y) {
    double in = inside_regular(4, 14, 0, x, y + 6);
    if (in >= 0) return in < 2.5 ? 1 : 2;
    return fabs(x) < 2 && y > 0 ? 1 : 0;
}

static void a_pole_does_not_hide_the_rim_of_the_sign_on_it(void **state) {
    (void)state;
    WrapWish wish[WRAP_WISHES_MAX];
    assert_int_equal(wishes_of(sign_on_a_pole, wish), 1);
    assert_int_equal(wish[0].outline.corners, 4);
    assert_true(fabs(outline_area(&wish[0].outline) - 28 * 28) < 28);
}

static int two_rims(double x, double y) {
    double in = inside_regular(4, 18, 0, x, y);
    return in < 0 ? 0 : in < 2 ? 1 : in < 4 ? 2 : 3;
}

static void two_rims_are_two_outlines_the_larger_first(void **state) {
    (void)state;
    WrapWish wish[WRAP_WISHES_MAX];
    assert_int_equal(wishes_of(two_rims, wish), 2);
    assert_int_equal(wish[0].candy, 1);
    assert_int_equal(wish[1].candy, 2);
}

/* --- what is not --- */

static int broken_rim(double x, double y) {
    double in = inside_regular(4, 18, 0, x, y);
    return in < 0 || (in < 2 && x > 0 && fabs(y) < 10) ? 0 : in < 2 ? 1 : 2;
}

static int thick_rim(double x, double y) {
    double in = inside_regular(4, 20, 0, x, y);
    return in < 0 ? 0 : in < 6 ? 1 : 2;
}

static int hair(double x, double y) {
    double in = inside_regular(4, 18, 0, x, y);
    return in < 0 ? 0 : in < 0.6 ? 1 : 2;
}

static int hollow_rim(double x, double y) {
    double r = sqrt(x * x + y * y), bite = sqrt((x - 18) * (x - 18) + y * y);
    double in = fmin(18 - r, bite - 14);
    return in < 0 ? 0 : in < 2 ? 1 : 2;
}

static int plain_square(double x, double y) {
    return inside_regular(4, 18, 0, x, y) < 0 ? 0 : 1;
}

static void lines_that_are_broken_thick_hair_fine_or_hollow_are_none(void **state) {
    (void)state;
    WrapWish wish[WRAP_WISHES_MAX];
    static Drawing *const none[] = {broken_rim, thick_rim, hair, hollow_rim, plain_square};
    for (int i = 0; i < 5; i++)
        if (wishes_of(none[i], wish) != 0) fail_msg("drawing %d has an outline", i);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_square_with_a_rim_is_one_outline_of_four_corners),
        cmocka_unit_test(a_triangle_with_a_rim_has_its_tips_cut_where_they_are_too_sharp),
        cmocka_unit_test(a_round_rim_is_round),
        cmocka_unit_test(a_pole_does_not_hide_the_rim_of_the_sign_on_it),
        cmocka_unit_test(two_rims_are_two_outlines_the_larger_first),
        cmocka_unit_test(lines_that_are_broken_thick_hair_fine_or_hollow_are_none),
    };
    return cmocka_run_group_tests_name("wrap_wishes", tests, NULL, NULL);
}
