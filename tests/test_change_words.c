/* Tests of src/say/change_words.c. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

#include <string.h>

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

enum { SIDE = 100, PARTS = 5 };

/* Says what `words` must be of leaving out the first `parts` of parts at these places. */
static void without(int parts, const Point *middle, const char *words) {
    Part part[PARTS] = {{0}};
    Job job = {.judgement = {.parts = PARTS, .part = part}};
    char out[320] = "";
    job.grid.wanted.side = SIDE;
    strcpy(job.palette.candy[0].name, "brown");
    strcpy(job.palette.candy[1].name, "white");
    for (int i = 0; i < PARTS; i++) {
        part[i].candy = i % 2;
        part[i].hole = i % 2;
        part[i].middle = middle[i];
    }
    Way way = {.change = {.without = ((uint64_t)1 << parts) - 1}};
    change_print(out, sizeof out, &job, &way, false);
    assert_string_equal(out, words);
}

static void up_to_three_parts_are_named_with_their_places(void **state) {
    (void)state;
    const Point middle[PARTS] = {{10, 10}, {50, 50}, {50, 90}};
    without(1, middle, "without the brown part at the upper left");
    without(
        3, middle,
        "without the brown part at the upper left, the white hole in the middle and the brown part at the "
        "bottom");
}

static void more_parts_are_counted_with_the_side_where_most_are(void **state) {
    (void)state;
    const Point below[PARTS] = {{10, 80}, {30, 80}, {50, 80}, {70, 80}, {50, 50}};
    const Point over[PARTS] = {{10, 80}, {90, 10}, {50, 50}, {70, 80}, {10, 10}};
    without(4, below, "without the 4 finest details (brown, white, at the bottom)");
    without(5, below, "without the 5 finest details (brown, white, most at the bottom)");
    without(5, over, "without the 5 finest details (brown, white)");
}

static void orders_are_told_as_ranges(void **state) {
    (void)state;
    const Job job = {.order = {.weight_g = 0}};
    char out[160];
    Way way = {.change = {.pieces = 2400}};
    change_print(out, sizeof out, &job, &way, false);
    assert_string_equal(out, "in an order of 2 400 pieces");
    way.ranges = 2;
    way.range[0] = (PieceRange){2400, 2500};
    way.range[1] = (PieceRange){4800, 4800};
    change_print(out, sizeof out, &job, &way, false);
    assert_string_equal(out, "in an order of 2 400 to 2 500, or 4 800 pieces");
}

/* Whoever speaks inches reads °F; the option wants °C. */
static void the_warm_box_is_told_in_the_degrees_of_the_units(void **state) {
    (void)state;
    Job job = {.order = {.units = UNITS_MM}};
    char out[160];
    const Way way = {.change = {.joining_c = 85}};
    change_print(out, sizeof out, &job, &way, false);
    assert_string_equal(out, "with the warm box at 85 °C");
    job.order.units = UNITS_IN;
    change_print(out, sizeof out, &job, &way, false);
    assert_string_equal(out, "with the warm box at 185 °F (85 °C)");
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(up_to_three_parts_are_named_with_their_places),
                                       cmocka_unit_test(more_parts_are_counted_with_the_side_where_most_are),
                                       cmocka_unit_test(orders_are_told_as_ranges),
                                       cmocka_unit_test(the_warm_box_is_told_in_the_degrees_of_the_units)};
    return cmocka_run_group_tests_name("change_words", tests, NULL, NULL);
}
