/* Tests of src/say/check_words.c. SPDX-License-Identifier: MIT */
#include "say/check_words.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

static void tells(const char *advice, char said[ADVICE_SAID], const char *want) {
    Check check = {.name = "likeness", .unit = "", .verdict = VERDICT_CHANGE};
    char out[CHECK_TEXT];
    strcpy(check.advice, advice);
    advice_print(&check, said, out);
    assert_string_equal(out, want);
}

static void of_several_ways_the_first_is_told(void **state) {
    (void)state;
    char said[ADVICE_SAID] = "";
    tells("without the red part: then this line is go; or in pieces of 20 mm: then this line is go", said,
          "without the red part: then this line is go");
    tells("", said, "");
}

static void all_ways_that_make_all_go_are_told_and_no_other(void **state) {
    (void)state;
    char said[ADVICE_SAID] = "";
    tells("without the red part: then this line is go; or in pieces of 20 mm: then all is go; or in an order "
          "of 2 400: then all is go",
          said, "in pieces of 20 mm: then all is go; or in an order of 2 400: then all is go");
}

static void what_a_line_before_said_is_not_said_again(void **state) {
    (void)state;
    char said[ADVICE_SAID] = "";
    tells("in pieces of 18 mm: then this line is go", said, "in pieces of 18 mm: then this line is go");
    tells("with 3 people: then this line is go; or in pieces of 18 mm: then this line is go", said,
          "as above");
    tells("in pieces of 8 mm: then this line is go", said, "in pieces of 8 mm: then this line is go");
    tells("in pieces of 18 mm: then this line is go; or in pieces of 22 mm: then all is go", said,
          "in pieces of 22 mm: then all is go");
}

/* The rest of a sentence that was said with it. */
static void what_it_takes_is_said_once(void **state) {
    (void)state;
    char said[ADVICE_SAID] = "";
    tells("no piece helps; it takes strokes of 6 %", said, "no piece helps; it takes strokes of 6 %");
    tells("it takes strokes of 6 %", said, "as above");
}

/* As long as a check's advice can be, in every check: nothing is written beyond. */
static void the_longest_advice_fits(void **state) {
    (void)state;
    char said[ADVICE_SAID] = "", longest[CHECK_TEXT];
    memset(longest, 'a', sizeof longest - 1);
    longest[sizeof longest - 1] = 0;
    for (int i = 0; i < CHECKS_MAX; i++) {
        longest[0] = (char)('A' + i);
        tells(longest, said, longest);
    }
    tells(longest, said, "as above");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_several_ways_the_first_is_told),
        cmocka_unit_test(all_ways_that_make_all_go_are_told_and_no_other),
        cmocka_unit_test(what_a_line_before_said_is_not_said_again),
        cmocka_unit_test(what_it_takes_is_said_once),
        cmocka_unit_test(the_longest_advice_fits),
    };
    return cmocka_run_group_tests_name("check_words", tests, NULL, NULL);
}
