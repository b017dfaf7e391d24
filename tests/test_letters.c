/* Tests of src/plan/letters.c, letter_row.c, letter_lines.c, letter_stretch.c and letter_pen.c.
 * SPDX-License-Identifier: MIT */
#include "plan/plan.h"

#include "base/components.h"
#include "letter_grid.h"
#include "parts/parts.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <cmocka.h>

static const EvenWish plain = {.stem = 1, .gap = 1, .gap_high = 1, .grow = 1};

static WordGrid before, after; /* too large for the stack of a test */

static EvenLetters make_even(const EvenWish *wish) {
    Err err = {0};
    EvenLetters even;
    after = before;
    assert_true(even_letters(&before.grid, wish, after.candy, &even, &err));
    return even;
}

/* Runs of the candy in a row, or column, of samples: their lengths. Returns how many. */
static int list_runs(const WordGrid *w, bool row, int at, int candy, int from, int to, int length[64]) {
    int runs = 0;
    for (int i = from, run = 0; i <= to; i++) {
        bool is = i < to && w->candy[row ? at * WORD_SIDE + i : i * WORD_SIDE + at] == candy;
        if (!is && run > 0 && runs < 64) length[runs++] = run;
        run = is ? run + 1 : 0;
    }
    return runs;
}

static int changed(void) {
    int count = 0;
    for (int i = 0; i < WORD_SIDE * WORD_SIDE; i++) count += before.candy[i] != after.candy[i];
    return count;
}

static void all_stems_come_out_as_thick(void **state) {
    (void)state;
    word_field(&before);
    word_draw(&before, "HIH", 14, 22); /* stems of 14 samples, bars of 22 */
    EvenLetters even = make_even(&plain);
    assert_int_equal(even.rows, 1);
    assert_int_equal(even.letters, 3);
    int run[64], y = (int)even.letter[1].is.y + 40; /* under the bars of the H */
    assert_int_equal(list_runs(&after, true, y, 1, 0, WORD_SIDE, run), 5);
    for (int i = 0; i < 5; i++) assert_in_range(run[i], 31, 33);
    int bars = list_runs(&after, false, (int)even.letter[0].is.x, 1, 0, WORD_SIDE, run);
    assert_true(bars >= 1);
    assert_true(fabs(even.row[0].stem - 32) < 1e-9);
}

static void counters_and_bays_are_a_gap_wide(void **state) {
    (void)state;
    word_field(&before);
    word_draw(&before, "EOE", 13, 13); /* gaps of 13 samples between bars, of 26 in the O's counter */
    EvenLetters even = make_even(&plain);
    assert_int_equal(even.rows, 1);
    for (int i = 0; i < 3; i++) {
        /* Through the arms: half-way between the letter's place and its right edge. */
        int run[64], x = (int)even.letter[i].is.x, most = 0;
        for (int by = 0; by < 60; by++) {
            int bars = list_runs(&after, false, x + by, 1, 0, WORD_SIDE, run);
            most = bars > most ? bars : most;
        }
        assert_int_equal(most, i == 1 ? 2 : 3);
    }
    /* No gap of the ground within letters or between them is narrower, but for what tapers at rounded
     * corners. */
    int run[64];
    for (int y = 200; y < 312; y += 8) {
        int runs = list_runs(&after, true, y, 0, 100, WORD_SIDE - 100, run);
        for (int i = 1; i + 1 < runs; i++) assert_true(run[i] >= 30);
    }
}

static void nothing_but_ground_is_drawn_over(void **state) {
    (void)state;
    word_field(&before);
    word_draw(&before, "BRE", 10, 12);
    word_box(&before, 150, 180, 220, 20, 2); /* a bar 14 samples above */
    word_box(&before, 120, 400, 30, 30, 1);  /* a square of the letters' candy, aside */
    EvenLetters even = make_even(&(EvenWish){0.5, 0.5, 0.5, 1.3});
    assert_int_equal(even.rows, 1);
    assert_true(changed() > 1000);
    for (int i = 0; i < WORD_SIDE * WORD_SIDE; i++) {
        if (before.candy[i] == after.candy[i]) continue;
        assert_true(before.candy[i] <= 1 && after.candy[i] <= 1);
        assert_false(i % WORD_SIDE < 150 && i / WORD_SIDE > 395);
    }
    for (int y = 200; y < 213; y++) /* the letters stay as clear of the bar as they were */
        for (int x = 140; x < 380; x++) assert_int_equal(after.candy[y * WORD_SIDE + x], 0);
}

static void letters_stay_in_order_and_are_as_many(void **state) {
    (void)state;
    word_field(&before);
    word_draw(&before, "BREHO", 9, 12);
    EvenLetters even = make_even(&(EvenWish){0.5, 0.5, 0.75, 1});
    assert_int_equal(even.letters, 5);
    Areas was, is;
    Err err = {0};
    assert_true(areas_find(&before.grid, &was, &err));
    Grid redrawn = before.grid;
    redrawn.wanted.candy = after.candy;
    assert_true(areas_find(&redrawn, &is, &err));
    assert_int_equal(is.count, was.count); /* counters, too */
    for (int i = 0; i < 5; i++) {
        Point p = even.letter[i].is, q = even.letter[i].was;
        assert_int_equal(after.candy[(int)p.y * WORD_SIDE + (int)p.x], 1);
        assert_int_equal(before.candy[(int)q.y * WORD_SIDE + (int)q.x], 1);
        if (i > 0) assert_true(p.x > even.letter[i - 1].is.x && q.x > even.letter[i - 1].was.x);
    }
    areas_free(&was);
    areas_free(&is);
}

static void what_has_no_room_stays_as_it_is(void **state) {
    (void)state;
    word_field(&before);
    word_draw(&before, "BRE", 8, 8);
    for (int y = 200; y < 312; y++) /* walls close to the letters */
        for (int x = 150; x < 362; x++)
            if (y < 222 || y >= 290 || x < 166 || x >= 346) word_box(&before, x, y, 1, 1, 2);
    EvenLetters even = make_even(&plain);
    assert_int_equal(even.rows, 0);
    assert_int_equal(changed(), 0);
}

static void letters_on_tinted_ground_stay_on_it(void **state) {
    (void)state;
    word_field(&before);
    word_box(&before, 60, 140, 392, 232, 2);
    word_draw(&before, "BRE", 10, 12);
    EvenLetters even = make_even(&(EvenWish){0.75, 0.75, 0.75, 1});
    assert_int_equal(even.rows, 1);
    for (int i = 0; i < WORD_SIDE * WORD_SIDE; i++)
        assert_true(before.candy[i] == after.candy[i] || after.candy[i] == 1 || after.candy[i] == 2);
}

static void letters_round_the_middle_stay_round_it(void **state) {
    (void)state;
    word_field(&before);
    word_bend(&before, "BREB", 10, 170, 0.9);
    EvenLetters even = make_even(&(EvenWish){0.5, 0.5, 0.75, 1});
    assert_int_equal(even.rows, 1);
    assert_true(even.row[0].arc);
    for (int i = 0; i < even.letters; i++) {
        double x = even.letter[i].is.x - WORD_SIDE / 2.0, y = even.letter[i].is.y - WORD_SIDE / 2.0;
        double r = sqrt(x * x + y * y);
        assert_true(r > 120 && r < 220);
    }
    assert_true(even.letter[0].is.x < even.letter[3].is.x); /* clockwise over the top */
}

static void blobs_and_bars_are_no_letters(void **state) {
    (void)state;
    word_field(&before);
    for (int k = 0; k < 3; k++) word_box(&before, 120 + 90 * k, 220, 60, 60, 1);
    assert_int_equal(make_even(&plain).rows, 0);
    word_field(&before);
    for (int k = 0; k < 3; k++) word_box(&before, 120 + 90 * k, 200, 24, 110, 1);
    assert_int_equal(make_even(&plain).rows, 0);
    word_field(&before);
    word_draw(&before, "B", 14, 14); /* alone */
    assert_int_equal(make_even(&plain).rows, 0);
}

static void two_letters_of_one_height_are_a_row(void **state) {
    (void)state;
    word_field(&before);
    word_draw(&before, "HB", 20, 16);
    EvenLetters even = make_even(&plain);
    assert_int_equal(even.rows, 1);
    assert_int_equal(even.letters, 2);
}

static void strokes_lie_on_whole_steps(void **state) {
    (void)state;
    word_field(&before);
    word_draw(&before, "HEH", 15, 19);
    EvenLetters even = make_even(&plain);
    assert_int_equal(even.rows, 1);
    int y = (int)even.letter[0].is.y + 40;
    for (int x = 1; x < WORD_SIDE; x++)
        if (after.candy[y * WORD_SIDE + x] != after.candy[y * WORD_SIDE + x - 1] && x > 60 && x < 200)
            assert_int_equal(x % SAMPLES, 0);
}

static uint32_t random_bits(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(*state >> 33);
}

static void any_raster_comes_out_the_same_twice(void **state) {
    (void)state;
    uint64_t seed = 1;
    for (int round = 0; round < 12; round++) {
        word_field(&before);
        int boxes = 3 + (int)(random_bits(&seed) % 60);
        for (int k = 0; k < boxes; k++) {
            int wide = 4 + (int)(random_bits(&seed) % (round % 2 ? 20 : 60)),
                high = 10 + (int)(random_bits(&seed) % 60);
            int x = 60 + (int)(random_bits(&seed) % 320),
                y = round % 3 ? 220 : 60 + (int)(random_bits(&seed) % 320);
            word_box(&before, x, y, wide, high, (int)(random_bits(&seed) % 3));
        }
        for (int k = 0; round % 4 == 3 && k < 2000; k++) /* noise */
            word_box(&before, 60 + (int)(random_bits(&seed) % 390), 60 + (int)(random_bits(&seed) % 390), 1,
                     1, k % 3);
        for (int i = 0; i < EVEN_WISHES; i++) {
            const EvenWish wish = even_wish(i);
            EvenLetters even = make_even(&wish);
            assert_true(even.rows > 0 || changed() == 0);
            for (int k = 0; k < WORD_SIDE * WORD_SIDE; k++)
                assert_true((before.candy[k] == OUTSIDE) == (after.candy[k] == OUTSIDE));
            if (even.rows == 0) continue;
            static uint8_t once[WORD_SIDE * WORD_SIDE];
            memcpy(once, after.candy, sizeof once);
            EvenLetters again = make_even(&wish);
            assert_memory_equal(once, after.candy, sizeof once);
            assert_int_equal(again.letters, even.letters);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_stems_come_out_as_thick),
        cmocka_unit_test(counters_and_bays_are_a_gap_wide),
        cmocka_unit_test(nothing_but_ground_is_drawn_over),
        cmocka_unit_test(letters_stay_in_order_and_are_as_many),
        cmocka_unit_test(what_has_no_room_stays_as_it_is),
        cmocka_unit_test(letters_on_tinted_ground_stay_on_it),
        cmocka_unit_test(letters_round_the_middle_stay_round_it),
        cmocka_unit_test(blobs_and_bars_are_no_letters),
        cmocka_unit_test(two_letters_of_one_height_are_a_row),
        cmocka_unit_test(strokes_lie_on_whole_steps),
        cmocka_unit_test(any_raster_comes_out_the_same_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
