/* Tests of src/inks/count_inks.c. SPDX-License-Identifier: MIT */
#include "inks/inks.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

enum { SIDE = 100, FIELD = 0, LINE = 1, INSIDE = 2, OTHER = 3 };

/* Squares one in the other: of each, how far from the middle it reaches (the largest first), and its ink. */
typedef struct Square {
    int reach, ink;
} Square;

static InkMap map_of(uint8_t *label, const Square *square, int squares) {
    for (int i = 0; i < SIDE * SIDE; i++) {
        int x = i % SIDE, y = i / SIDE, far = (int)fmax(fabs(x + 0.5 - 50), fabs(y + 0.5 - 50));
        label[i] = FIELD;
        for (int s = 0; s < squares; s++)
            if (far < square[s].reach) label[i] = (uint8_t)square[s].ink;
    }
    InkMap map = {.width = SIDE, .height = SIDE, .count = 4, .field = FIELD, .label = label};
    map.circle = (Circle){50, 50, 50}; /* thin: up to 3 px */
    Err err = {0};
    assert_true(count_inks(&map, &err));
    return map;
}

static bool inside(const InkMap *map, int x, int y) {
    return x < SIDE && y < SIDE && hypot(x + 0.5 - map->circle.x, y + 0.5 - map->circle.y) <= map->circle.r;
}

/* Sides of pixels inside the circle where two inks meet, either way; a = b: of all inks, each once. */
static int borders_of(const InkMap *map, int a, int b) {
    int count = 0;
    for (int i = 0; i < SIDE * SIDE; i++)
        for (int down = 0; down < 2; down++) {
            int x = i % SIDE, y = i / SIDE;
            if (!inside(map, x, y) || !inside(map, x + !down, y + down)) continue;
            int here = map->label[i], there = map->label[i + (down ? SIDE : 1)];
            count += a == b ? here != there : (here == a && there == b) || (here == b && there == a);
        }
    return count;
}

/* On how many rows and columns two inks meet across thin lines. */
static int times_across(const InkMap *map, int a, int b) {
    return (int)lround(map->across[a][b] * borders_of(map, 0, 0));
}

static void shares_and_borders_are_counted_inside_the_circle(void **state) {
    (void)state;
    uint8_t label[SIDE * SIDE];
    InkMap map = map_of(label, (Square[]){{45, LINE}, {39, INSIDE}, {20, OTHER}}, 3);
    int pixels[4] = {0}, all = 0;
    for (int i = 0; i < SIDE * SIDE; i++)
        if (inside(&map, i % SIDE, i / SIDE)) pixels[label[i]]++, all++;
    for (int i = 0; i < map.count; i++) {
        assert_true(fabs(map.ink[i].share - (double)pixels[i] / all) < 1e-12);
        for (int k = 0; k < i; k++) {
            double share = (double)borders_of(&map, i, k) / borders_of(&map, 0, 0);
            assert_true(fabs(map.border[i][k] - share) < 1e-12 && map.border[i][k] == map.border[k][i]);
        }
        assert_true(map.border[i][i] == 0);
    }
}

static void a_thin_outline_lets_its_sides_meet_a_thick_one_does_not(void **state) {
    (void)state;
    uint8_t label[SIDE * SIDE];
    for (int thick = 1; thick <= 6; thick++) {
        InkMap map = map_of(label, (Square[]){{30 + thick, LINE}, {30, INSIDE}}, 2);
        /* 60 rows and 60 columns, each met twice */
        assert_int_equal(times_across(&map, FIELD, INSIDE), thick <= 3 ? 240 : 0);
        assert_true(map.across[INSIDE][FIELD] == map.across[FIELD][INSIDE]);
        assert_true(map.across[LINE][INSIDE] == 0 && map.across[FIELD][FIELD] == 0);
    }
}

static void of_two_lines_it_is_the_sum_that_counts(void **state) {
    (void)state;
    uint8_t label[SIDE * SIDE];
    InkMap map = map_of(label, (Square[]){{33, LINE}, {32, OTHER}, {30, INSIDE}}, 3);
    assert_int_equal(times_across(&map, FIELD, INSIDE), 240);
    assert_true(map.across[FIELD][OTHER] == 0); /* itself a thin line */
    map = map_of(label, (Square[]){{34, LINE}, {32, OTHER}, {30, INSIDE}}, 3);
    assert_true(map.across[FIELD][INSIDE] == 0);
}

static void what_touches_does_not_meet_across(void **state) {
    (void)state;
    uint8_t label[SIDE * SIDE];
    InkMap map = map_of(label, (Square[]){{30, INSIDE}}, 1);
    for (int i = 0; i < map.count; i++)
        for (int k = 0; k < map.count; k++) assert_true(map.across[i][k] == 0);
}

static void the_field_goes_on_beyond_a_picture_cut_close(void **state) {
    (void)state;
    uint8_t label[SIDE * SIDE];
    InkMap map = map_of(label, (Square[]){{49, LINE}, {47, INSIDE}}, 2);
    assert_int_equal(times_across(&map, FIELD, INSIDE), 4 * 94);
}

/* A black and a white line side by side at 60 degrees: the white one's columns are long, its rows not. */
static void a_slanted_line_is_not_wide(void **state) {
    (void)state;
    uint8_t label[SIDE * SIDE];
    for (int i = 0; i < SIDE * SIDE; i++) {
        double at = (i % SIDE - 50) * sin(PI / 3) - (i / SIDE - 50) * cos(PI / 3);
        label[i] = at < 0 ? FIELD : at < 1 ? LINE : at < 2.4 ? OTHER : at < 3 ? LINE : INSIDE;
    }
    InkMap map = {.width = SIDE, .height = SIDE, .count = 4, .field = FIELD, .label = label};
    map.circle = (Circle){50, 50, 60};
    Err err = {0};
    assert_true(count_inks(&map, &err));
    assert_true(map.across[FIELD][OTHER] == 0 && map.across[OTHER][INSIDE] == 0);
    assert_true(times_across(&map, FIELD, INSIDE) > 50); /* by rows */
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shares_and_borders_are_counted_inside_the_circle),
        cmocka_unit_test(a_thin_outline_lets_its_sides_meet_a_thick_one_does_not),
        cmocka_unit_test(of_two_lines_it_is_the_sum_that_counts),
        cmocka_unit_test(what_touches_does_not_meet_across),
        cmocka_unit_test(a_slanted_line_is_not_wide),
        cmocka_unit_test(the_field_goes_on_beyond_a_picture_cut_close),
    };
    return cmocka_run_group_tests_name("count_inks", tests, NULL, NULL);
}
