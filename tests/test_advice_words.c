/* Tests of src/say/advice_words.c and src/say/check_words.c. SPDX-License-Identifier: MIT */
#include "said.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

static const Way people_3 = {.change = {.people = 3}, .mends = true, .whole = VERDICT_CHANGE},
                 mm_8 = {.change = {.diameter_mm = 8}, .mends = true, .whole = VERDICT_CHANGE},
                 mm_18 = {.change = {.diameter_mm = 18}, .mends = true, .whole = VERDICT_CHANGE},
                 mm_20 = {.change = {.diameter_mm = 20}, .mends = true, .whole = VERDICT_GO},
                 order_2400 = {.change = {.pieces = 2400}, .mends = true, .whole = VERDICT_GO};

static Check check_with(const Way *one, const Way *two, const Way *three) {
    const Way *way[] = {one, two, three};
    Check check = {.kind = CHECK_LIKENESS, .verdict = VERDICT_CHANGE};
    for (int i = 0; i < 3; i++)
        if (way[i]) check.way[check.ways++] = *way[i];
    return check;
}

/* What a line of a text tells of it. */
static void tells(Check check, Said *said, const char *want) {
    Job job = {.judgement = {.verdict = VERDICT_CHANGE, .least_percent = 6}};
    char out[ADVICE_TEXT];
    advice_print_short(&job, &check, said, out);
    assert_string_equal(out, want);
}

static void of_several_ways_the_first_is_told(void **state) {
    (void)state;
    Said said = {.lines = 0};
    tells(check_with(&people_3, &mm_18, NULL), &said, "with 3 people laying up: then this line is go");
    tells(check_with(NULL, NULL, NULL), &said, "");
}

static void all_ways_that_make_all_go_are_told_and_no_other(void **state) {
    (void)state;
    Said said = {.lines = 0};
    tells(check_with(&people_3, &mm_20, &order_2400), &said,
          "in pieces of 20 mm across: then all is go; or in an order of 2 400 pieces: then all is go");
}

static void what_a_line_before_said_is_not_said_again(void **state) {
    (void)state;
    Said said = {.lines = 0};
    tells(check_with(&mm_18, NULL, NULL), &said, "in pieces of 18 mm across: then this line is go");
    tells(check_with(&people_3, &mm_18, NULL), &said, "as above");
    tells(check_with(&mm_8, NULL, NULL), &said, "in pieces of 8 mm across: then this line is go");
    tells(check_with(&mm_18, &mm_20, NULL), &said, "in pieces of 20 mm across: then all is go");
}

static void a_way_tells_what_comes_of_it(void **state) {
    (void)state;
    Job job = {.judgement = {.verdict = VERDICT_NO}};
    Way way = {.change = {.diameter_mm = 20}, .mends = true, .whole = VERDICT_CHANGE};
    Check check = check_with(&way, NULL, NULL);
    assert_string_equal(advice_on(&job, &check),
                        "in pieces of 20 mm across: then this line is go, the whole a change");
    check.way[0].whole = VERDICT_NO;
    assert_string_equal(advice_on(&job, &check),
                        "in pieces of 20 mm across: then this line is go, the whole still no");
    check.way[0].mends = false;
    check.way[0].whole = VERDICT_CHANGE;
    assert_string_equal(advice_on(&job, &check), "in pieces of 20 mm across: then the whole is a change");
}

/* The rest of a sentence was said with it. */
static void what_it_takes_is_said_once(void **state) {
    (void)state;
    Said said = {.lines = 0};
    Check check = check_with(NULL, NULL, NULL);
    check.outlook = OUTLOOK_ONLY_REDRAW;
    tells(check, &said,
          "no piece up to 25 mm makes it go; it takes strokes and gaps of 6 % of the logo's width");
    check.outlook = OUTLOOK_REDRAW;
    tells(check, &said, "as above");
}

/* Each kind has a name and a drawing that would help, or none. */
static void every_kind_of_check_can_be_said(void **state) {
    (void)state;
    const Job job = {.judgement = {.verdict = VERDICT_NO}};
    for (int kind = 0; kind < CHECKS_MAX; kind++) {
        Check check = {.kind = (CheckKind)kind, .verdict = VERDICT_NO, .outlook = OUTLOOK_ONLY_REDRAW};
        assert_true(strlen(check_name(check.kind, UNITS_IN)) > 3);
        for (int other = 0; other < kind; other++)
            assert_string_not_equal(check_name(check.kind, UNITS_MM), check_name((CheckKind)other, UNITS_MM));
        assert_non_null(strstr(advice_on(&job, &check), "it takes "));
    }
}

/* Four ways, each as long as can be, in every check: nothing is written beyond. */
static void the_longest_advice_fits(void **state) {
    (void)state;
    Said said = {.lines = 0};
    Part part[3] = {{.candy = 0}, {.candy = 0}, {.candy = 0}};
    Job job = {.judgement = {.verdict = VERDICT_CHANGE, .parts = 3, .part = part}};
    memset(job.palette.candy[0].name, 'X', CANDY_NAME - 1);
    for (int i = 0; i < CHECKS_MAX; i++) {
        Check check = {.kind = (CheckKind)i, .verdict = VERDICT_CHANGE, .ways = WAYS_MAX};
        char out[ADVICE_TEXT];
        for (int w = 0; w < WAYS_MAX; w++)
            check.way[w] =
                (Way){.change = {.without = 7, .diameter_mm = 10 + i + 0.1 * w, .colours = 3, .plain = true},
                      .mends = true,
                      .whole = VERDICT_GO};
        advice_print(&job, &check, out);
        assert_true(strlen(out) > 80 && strlen(out) < ADVICE_TEXT);
        advice_print_short(&job, &check, &said, out);
        assert_true(strlen(out) > 80 && strlen(out) < ADVICE_TEXT);
    }
    assert_int_equal(said.lines, CHECKS_MAX * WAYS_MAX);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_several_ways_the_first_is_told),
        cmocka_unit_test(all_ways_that_make_all_go_are_told_and_no_other),
        cmocka_unit_test(what_a_line_before_said_is_not_said_again),
        cmocka_unit_test(a_way_tells_what_comes_of_it),
        cmocka_unit_test(what_it_takes_is_said_once),
        cmocka_unit_test(every_kind_of_check_can_be_said),
        cmocka_unit_test(the_longest_advice_fits),
    };
    return cmocka_run_group_tests_name("advice_words", tests, NULL, NULL);
}
