/* Tests of src/parts/rows.c. SPDX-License-Identifier: MIT */
#include "parts/parts.h"

#include "letter_grid.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <cmocka.h>

static WordGrid w; /* too large for the stack of a test */

/* How many rows of the kind, and letters in them. */
static int count_rows(RowKind kind, int *letters) {
    Areas areas;
    Rows rows;
    Err err = {0};
    assert_true(areas_find(&w.grid, &areas, &err));
    Part *part = mem_alloc((size_t)areas.count, sizeof *part, &err);
    int parts = 0, count = 0, members = 0;
    for (int i = 0; i < areas.count; i++)
        if (!areas.area[i].open) part[parts++] = areas.area[i].part;
    assert_true(rows_find(&areas, part, parts, 20, &rows, &err));
    *letters = 0;
    for (int i = 0; i < rows.count; i++) {
        count += rows.row[i].kind == kind;
        if (rows.row[i].kind == kind) *letters += rows.row[i].letters;
    }
    for (int i = 0; i < parts; i++) {
        if (rows.of[i] < 0) continue;
        assert_int_equal(part[i].candy, rows.row[rows.of[i]].candy);
        members += rows.row[rows.of[i]].kind == kind;
    }
    assert_int_equal(members, *letters);
    rows_free(&rows);
    areas_free(&areas);
    free(part);
    return count;
}

static void three_on_a_line_are_a_row(void **state) {
    (void)state;
    int letters;
    word_field(&w);
    word_draw(&w, "HEH", 10, 10);
    assert_int_equal(count_rows(ROW_STRAIGHT, &letters), 1);
    assert_int_equal(letters, 3);
    assert_int_equal(count_rows(ROW_PAIR, &letters), 0);
    word_field(&w);
    word_letter(&w, 'H', 150, 150, 10, 10, 0);
    word_letter(&w, 'E', 220, 210, 10, 10, 0); /* a step lower each */
    word_letter(&w, 'H', 290, 270, 10, 10, 0);
    assert_int_equal(count_rows(ROW_STRAIGHT, &letters), 0);
}

static void low_parts_are_no_letters(void **state) {
    (void)state;
    int letters;
    word_field(&w);
    word_draw(&w, "HEH", 2, 2); /* 14 samples high: under 20 */
    assert_int_equal(count_rows(ROW_STRAIGHT, &letters), 0);
}

static void three_round_the_middle_are_a_row(void **state) {
    (void)state;
    int letters;
    word_field(&w);
    word_bend(&w, "HEEH", 9, 170, 1.1);
    assert_int_equal(count_rows(ROW_ARC, &letters), 1);
    assert_int_equal(letters, 4);
    word_field(&w); /* at the bottom, across where the turn starts anew */
    word_letter(&w, 'H', 160, 390, 9, 9, -2.52);
    word_letter(&w, 'E', 256, 426, 9, 9, 3.14159);
    word_letter(&w, 'H', 352, 390, 9, 9, 2.52);
    assert_int_equal(count_rows(ROW_ARC, &letters), 1);
    assert_int_equal(letters, 3);
}

static void what_reaches_round_the_middle_is_no_letter(void **state) {
    (void)state;
    int letters;
    word_field(&w);
    for (int i = 0; i < WORD_SIDE * WORD_SIDE; i++) {
        double x = i % WORD_SIDE + 0.5 - WORD_SIDE / 2.0, y = i / WORD_SIDE + 0.5 - WORD_SIDE / 2.0;
        double r = sqrt(x * x + y * y), turn = fmod(atan2(x, -y) + 2 * PI, 2 * PI / 3);
        if (r > 180 && r < 230 && turn > 0.3) w.candy[i] = 1; /* three arcs */
    }
    assert_int_equal(count_rows(ROW_ARC, &letters), 0);
}

static void two_of_one_height_are_a_pair_and_three_are_none(void **state) {
    (void)state;
    int letters;
    word_field(&w);
    word_draw(&w, "HB", 14, 14);
    assert_int_equal(count_rows(ROW_PAIR, &letters), 1);
    assert_int_equal(letters, 2);
    word_box(&w, 60, 240, 8, 20, 1); /* a dash beside them, not as high */
    assert_int_equal(count_rows(ROW_PAIR, &letters), 1);
    word_field(&w);
    word_letter(&w, 'H', 200, 256, 12, 12, 0);
    word_letter(&w, 'B', 300, 266, 12, 12, 0); /* ten samples lower */
    assert_int_equal(count_rows(ROW_PAIR, &letters), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_on_a_line_are_a_row),
        cmocka_unit_test(low_parts_are_no_letters),
        cmocka_unit_test(three_round_the_middle_are_a_row),
        cmocka_unit_test(what_reaches_round_the_middle_is_no_letter),
        cmocka_unit_test(two_of_one_height_are_a_pair_and_three_are_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
