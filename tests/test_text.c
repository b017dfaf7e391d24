/* Tests of src/base/text.c. SPDX-License-Identifier: MIT */
#include "base/text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

/* Valid and invalid sequences after RFC 3629, sections 3 and 4. */
static void what_is_no_utf_8_or_steers_a_terminal_becomes_a_question_mark(void **state) {
    (void)state;
    static const struct {
        const char *in, *out;
    } row[] = {{"ferry", "ferry"},
               {"", ""},
               {"caf\xC3\xA9", "caf\xC3\xA9"},
               {"\xE6\xBC\xA2\xF0\x9F\x8D\xAC", "\xE6\xBC\xA2\xF0\x9F\x8D\xAC"},
               {"a\nb\tc\x1B[31m\x7F", "a?b?c?[31m?"},
               {"\xC0\x80", "??"},           /* overlong NUL */
               {"\xE0\x80\xAF", "???"},      /* overlong slash */
               {"\xF0\x80\x80\xAF", "????"}, /* the same in four bytes */
               {"\xED\xA0\x80", "???"},      /* a surrogate */
               {"\xF4\x90\x80\x80", "????"}, /* over U+10FFFF */
               {"\xF4\x8F\xBF\xBD", "\xF4\x8F\xBF\xBD"},
               {"\xC3", "?"}, /* cut off */
               {"\xE6\xBC", "??"},
               {"\x80\xBF\xFF", "???"},
               {"\xC2\x85", "?"}, /* C1: next line */
               {"\xE2\x80\xAE"
                "gnp",
                "?gnp"},
               {"\xE2\x80\x8E\xE2\x80\x8F", "??"}, /* right-to-left override */
               {"\xE2\x80\xA8", "?"},              /* line separator */
               {"\xEF\xB7\x8F\xEF\xB7\x90\xEF\xB7\xAF\xEF\xB7\xB0", "\xEF\xB7\x8F??\xEF\xB7\xB0"},
               {"\xEF\xBF\xBD\xEF\xBF\xBE\xEF\xBF\xBF", "\xEF\xBF\xBD??"}, /* noncharacters */
               {"\xF0\x9F\xBF\xBE\xF4\x8F\xBF\xBF", "??"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        char out[64];
        text_clean(out, sizeof out, row[i].in);
        assert_string_equal(out, row[i].out);
        assert_int_equal(text_valid(row[i].in), strcmp(row[i].in, row[i].out) == 0);
        assert_true(text_valid(out));
    }
}

static void text_is_cut_at_whole_characters(void **state) {
    (void)state;
    char out[8];
    text_clean(out, 5, "caf\xC3\xA9s");
    assert_string_equal(out, "caf");
    text_clean(out, 6, "caf\xC3\xA9s");
    assert_string_equal(out, "caf\xC3\xA9");
    text_clean(out, 1, "cafe");
    assert_string_equal(out, "");
}

static void long_text_loses_its_middle(void **state) {
    (void)state;
    char out[64], longest[5000];
    text_fit(out, sizeof out, "harbour-cafe.png", 16);
    assert_string_equal(out, "harbour-cafe.png");
    text_fit(out, sizeof out, "harbour-cafe.png", 12);
    assert_string_equal(out, "harb...e.png");
    text_fit(out, sizeof out, "\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9", 8);
    assert_string_equal(out, "\xC3\xA9\xC3\xA9...\xC3\xA9\xC3\xA9\xC3\xA9");
    memset(longest, 'a', sizeof longest);
    strcpy(longest + sizeof longest - 5, ".png");
    text_fit(out, sizeof out, longest, 20);
    assert_string_equal(out, "aaaaaaaa...aaaaa.png");
    for (int columns = 8; columns < 30; columns++) {
        text_fit(out, sizeof out, longest, columns);
        assert_int_equal(text_width(out), columns);
    }
}

typedef void Print(FILE *file, const char *text);

static char *printed(Print *print, const char *text) {
    char *out = NULL;
    size_t size;
    FILE *file = open_memstream(&out, &size);
    assert_non_null(file);
    print(file, text);
    fclose(file);
    return out;
}

static void expect(Print *print, const char *text, const char *want) {
    char *out = printed(print, text);
    assert_string_equal(out, want);
    free(out);
}

static void csv_cells_are_quoted_and_no_formulas(void **state) {
    (void)state;
    expect(text_csv, "sky blue", "sky blue");
    expect(text_csv, "red, deep", "\"red, deep\"");
    expect(text_csv, "5\" rope", "\"5\"\" rope\"");
    expect(text_csv, "two\nlines", "two?lines");
    expect(text_csv, "=1+1", "'=1+1");
    expect(text_csv, "@SUM(A1,\"x\")", "\"'@SUM(A1,\"\"x\"\")\"");
    expect(text_csv, "-2", "'-2");
    expect(text_csv, "+3", "'+3");
    expect(text_csv, "\t=4", "?=4");
    expect(text_csv, "\r=5", "?=5");
    expect(text_csv, "  =6", "\"'  =6\"");
    expect(text_csv,
           "\xEF\xBC\x9D"
           "7",
           "'\xEF\xBC\x9D"
           "7");
    expect(text_csv, "red;=8", "\"red;=8\"");
    expect(text_csv, " red ", "\" red \"");
    expect(text_csv, "", "");
}

static void left_5(FILE *file, const char *text) {
    text_pad(file, text, 5);
}

static void right_5(FILE *file, const char *text) {
    text_pad(file, text, -5);
}

static void padding_counts_characters_not_bytes(void **state) {
    (void)state;
    expect(left_5, "caf\xC3\xA9", "caf\xC3\xA9 ");
    expect(right_5, "\xC3\xA9", "    \xC3\xA9");
    expect(left_5, "longer", "longer");
}

static void from_70(FILE *file, const char *text) {
    text_wrap(file, text, 70, 4);
}

static void words_go_on_below_before_column_80(void **state) {
    (void)state;
    expect(from_70, "one two three", "one two\n    three\n");
    expect(from_70, "one   2345678 three", "one\n    2345678 three\n");
    expect(from_70, "one 234567 three", "one 234567\n    three\n"); /* up to column 80 */
    expect(from_70, "one 2 300 to", "one 2 300\n    to\n");
    expect(from_70, "three 2 300 to", "three\n    2 300 to\n"); /* a number stays in one piece */
    expect(from_70, "syrups 80 % of", "syrups\n    80 % of\n"); /* and with its unit */
    expect(from_70, "syrup 80 of", "syrup 80\n    of\n");
    expect(from_70, "", "\n");
}

static void numbers_are_short_and_grouped(void **state) {
    (void)state;
    static const struct {
        double value;
        int decimals;
        const char *text;
    } row[] = {{12500, 0, "12 500"}, {999, 0, "999"},          {1000, 2, "1 000"},
               {0.80, 2, "0.8"},     {-1234.5, 1, "-1 234.5"}, {1234567.891, 2, "1 234 567.89"},
               {0, 2, "0"},          {-123, 0, "-123"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        char out[32];
        text_number(out, sizeof out, row[i].value, row[i].decimals);
        assert_string_equal(out, row[i].text);
    }
}

static void sums_of_money_have_two_digits_behind_the_point(void **state) {
    (void)state;
    static const struct {
        double value;
        const char *text;
    } row[] = {{0, "0.00"},        {2.5, "2.50"},          {999.996, "1 000.00"},
               {4900, "4 900.00"}, {1318.774, "1 318.77"}, {1234567.05, "1 234 567.05"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        char out[32];
        text_money(out, sizeof out, row[i].value);
        assert_string_equal(out, row[i].text);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_no_utf_8_or_steers_a_terminal_becomes_a_question_mark),
        cmocka_unit_test(text_is_cut_at_whole_characters),
        cmocka_unit_test(long_text_loses_its_middle),
        cmocka_unit_test(csv_cells_are_quoted_and_no_formulas),
        cmocka_unit_test(padding_counts_characters_not_bytes),
        cmocka_unit_test(words_go_on_below_before_column_80),
        cmocka_unit_test(numbers_are_short_and_grouped),
        cmocka_unit_test(sums_of_money_have_two_digits_behind_the_point)};
    return cmocka_run_group_tests_name("text", tests, NULL, NULL);
}
