/* Tests of src/plan/frame.c and src/base/thickness.c. SPDX-License-Identifier: MIT */
#include "plan/plan.h"

#include "model/shop.h"
#include "base/mem.h"
#include "base/thickness.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <stdint.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

/* What ink is where, by a formula; the field is ink 0. */
typedef int Drawing(double x, double y);

static int dot(double x, double y) {
    return hypot(x, y) < 0.5;
}

static int square(double x, double y) {
    return fabs(x) < 0.35 && fabs(y) < 0.35;
}

static int outlined(double x, double y) { /* a thin outline round a field with a bar in it */
    double r = hypot(x, y);
    return r > 0.97 && r < 1 ? 1 : fabs(x) < 0.1 && fabs(y) < 0.5;
}

static int banded(double x, double y) { /* a disc with a wide band, then field, then a bar */
    double r = hypot(x, y);
    return r < 1 && r > 0.8 ? 1 : fabs(x) < 0.1 && fabs(y) < 0.5;
}

static int halves(double x, double y) {
    (void)y;
    return x > 0;
}

static InkMap drawn(Drawing *ink, int size, bool full_bleed, bool roundel) {
    Err err = {0};
    InkMap map = {.width = size, .height = size, .count = 2, .full_bleed = full_bleed, .roundel = roundel};
    map.label = mem_alloc((size_t)size * size, 1, &err);
    double half = size / 2.0;
    for (int i = 0; i < size * size; i++)
        map.label[i] = (uint8_t)ink((i % size + 0.5 - half) / half, (i / size + 0.5 - half) / half);
    map.circle = (Circle){half, half, half};
    return map;
}

static Grid framed(const InkMap *map) {
    Shop shop = shop_default();
    Palette palette = {
        .count = 2, .candy = {shop.stock.candy[0], shop.stock.candy[2]}, .inks = 2, .of_ink = {0, 1}};
    LayKey key = {.steps = 64, .least_steps = 4, .sheet_steps = 2, .margin = 0.25};
    Grid grid = {0};
    Err err = {0};
    assert_true(frame(map, &palette, &key, &grid, &err));
    assert_true(cost_cells(&grid, &err));
    return grid;
}

static double share_of(const Grid *grid, int candy) {
    int count = 0, all = 0;
    for (int i = 0; i < grid->wanted.side * grid->wanted.side; i++) {
        all += grid->wanted.candy[i] != OUTSIDE;
        count += grid->wanted.candy[i] == candy;
    }
    return (double)count / all;
}

static void the_circle_comes_a_quarter_of_a_least_strip_inside_the_core(void **state) {
    (void)state;
    InkMap map = drawn(square, 400, false, false);
    map.circle.r = 100;
    Grid grid = framed(&map);
    near(grid.frame.px_per_step, 100 / (32 - 1.0), 1e-12);
    near(share_of(&grid, 1), 43.4 * 43.4 / (PI * 32 * 32), 0.004); /* 0.7 / 0.5 * 31 steps a side */
    assert_int_equal(grid.rings, 0);
    grid_free(&grid);
    inkmap_free(&map);
}

static void a_roundel_loses_a_little_of_its_rim(void **state) {
    (void)state;
    InkMap map = drawn(dot, 400, false, true);
    map.circle.r = 100;
    Grid grid = framed(&map);
    near(grid.frame.px_per_step, 98.5 / 32, 1e-12);
    near(share_of(&grid, 1), 1, 1e-12);
    grid_free(&grid);
    inkmap_free(&map);
}

static void a_disc_out_of_a_picture_fills_the_core(void **state) {
    (void)state;
    InkMap map = drawn(halves, 400, true, false);
    map.cropped = true;
    map.circle = (Circle){240, 200, 150};
    Grid grid = framed(&map);
    near(grid.frame.px_per_step, 150 / 32.0, 1e-12);
    near(grid.frame.centre_px.x, 240, 0);
    assert_true(grid.frame.cropped && grid.frame.full_bleed);
    grid_free(&grid);
    map.cropped = false; /* whole */
    map.circle = (Circle){200, 200, 200 * sqrt(2)};
    grid = framed(&map);
    near(grid.frame.px_per_step, 200 * sqrt(2) / 31, 1e-12);
    grid_free(&grid);
    inkmap_free(&map);
}

static void a_band_is_a_ring_and_a_thin_outline_becomes_a_sheet(void **state) {
    (void)state;
    InkMap map = drawn(banded, 400, false, true);
    Grid grid = framed(&map);
    assert_int_equal(grid.rings, 1);
    assert_int_equal(grid.ring[0].candy, 1);
    near(grid.ring[0].outer, 32, 0);
    near(grid.ring[0].inner, 26, 1.01); /* 0.8 / 0.985 of 32, in whole steps */
    near(grid.core.r, grid.ring[0].inner, 0);
    grid_free(&grid);
    inkmap_free(&map);
    map = drawn(outlined, 800, false, true);
    grid = framed(&map);
    assert_int_equal(grid.rings, 1);
    assert_int_equal(grid.ring[0].candy, 1);
    near(grid.ring[0].inner, 30, 0); /* 3 mm in steps of 1.5 */
    grid_free(&grid);
    inkmap_free(&map);
}

static void field_rings_count_only_round_something(void **state) {
    (void)state;
    InkMap map = drawn(outlined, 800, false, false);
    map.circle.r = 440; /* a margin of 4 steps: field, outline, field */
    Grid grid = framed(&map);
    assert_int_equal(grid.rings, 2);
    assert_int_equal(grid.ring[0].candy, 0);
    assert_int_equal(grid.ring[1].candy, 1);
    grid_free(&grid);
    map.circle.r = 1200; /* far away: nothing but field near the rim */
    grid = framed(&map);
    assert_int_equal(grid.rings, 0);
    grid_free(&grid);
    inkmap_free(&map);
}

static void a_small_part_weighs_more_than_a_large_one(void **state) {
    (void)state;
    InkMap map = drawn(square, 512, false, false);
    Grid large = framed(&map);
    map.circle.r = 1100; /* the same square, small */
    Grid small = framed(&map);
    int middle = large.steps / 2 * large.steps + large.steps / 2;
    assert_true(small.cost[middle] > large.cost[middle] && large.cost[middle] > COST_ONE / 2);
    grid_free(&large);
    grid_free(&small);
    inkmap_free(&map);
}

static void cells_cost_what_their_samples_say(void **state) {
    (void)state;
    InkMap map = drawn(halves, 512, true, false);
    Grid grid = framed(&map);
    int n = grid.steps, middle = n / 2 * n + n / 2;
    assert_int_equal(grid.cost[middle + 8],
                     lround(0.7 * COST_ONE));           /* white where black is wanted, a large part */
    assert_int_equal(grid.cost[n * n + middle + 8], 0); /* black there */
    assert_int_equal(grid.cost[0], 0);                  /* the square's corner lies outside the core */
    assert_int_equal(grid.cost[n * n], 0);
    grid_free(&grid);
    inkmap_free(&map);
}

static void thickness_of_a_bar_is_its_width(void **state) {
    (void)state;
    enum { SIDE = 60 };
    static uint8_t site[SIDE * SIDE];
    static float thick[SIDE * SIDE];
    Err err = {0};
    for (int width = 3; width < 20; width += 2) {
        for (int i = 0; i < SIDE * SIDE; i++) site[i] = !(i % SIDE >= 20 && i % SIDE < 20 + width);
        assert_true(local_thickness(site, SIDE, SIDE, 40, thick, &err));
        for (int x = 20; x < 20 + width; x++) near((double)thick[30 * SIDE + x], width, 1.01);
    }
    memset(site, 0, sizeof site);
    assert_true(local_thickness(site, SIDE, SIDE, 32, thick, &err));
    near((double)thick[0], 32, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_circle_comes_a_quarter_of_a_least_strip_inside_the_core),
        cmocka_unit_test(a_roundel_loses_a_little_of_its_rim),
        cmocka_unit_test(a_disc_out_of_a_picture_fills_the_core),
        cmocka_unit_test(a_band_is_a_ring_and_a_thin_outline_becomes_a_sheet),
        cmocka_unit_test(field_rings_count_only_round_something),
        cmocka_unit_test(a_small_part_weighs_more_than_a_large_one),
        cmocka_unit_test(cells_cost_what_their_samples_say),
        cmocka_unit_test(thickness_of_a_bar_is_its_width),
    };
    return cmocka_run_group_tests_name("frame", tests, NULL, NULL);
}
