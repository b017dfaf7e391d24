/* Tests of src/base/date.c. SPDX-License-Identifier: MIT */
#include "base/date.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

static void only_real_days_are_dates(void **state) {
    (void)state;
    const char *good[] = {"2026-12-31", "2028-02-29", "2000-02-29", "1583-01-01", "9999-11-30"};
    const char *bad[] = {"",           "2026-02-29", "2100-02-29", "2026-13-01",  "2026-00-10",  "2026-04-31",
                         "2026-4-3",   "31.12.2026", "2026/12/31", "2026-12-31 ", " 2026-12-31", "1582-12-31",
                         "2026-12-00", "20261-2-31", "abcd-ef-gh"};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) assert_true(date_valid(good[i]));
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) assert_false(date_valid(bad[i]));
}

static void a_day_is_told_with_the_name_of_its_month(void **state) {
    (void)state;
    char words[DATE_WORDS];
    date_words("2026-03-01", words);
    assert_string_equal(words, "1 March 2026");
    date_words("2026-09-30", words);
    assert_string_equal(words, "30 September 2026");
    date_words("soon", words);
    assert_string_equal(words, "soon");
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(only_real_days_are_dates),
                                       cmocka_unit_test(a_day_is_told_with_the_name_of_its_month)};
    return cmocka_run_group_tests_name("date", tests, NULL, NULL);
}
