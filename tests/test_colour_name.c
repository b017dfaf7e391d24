/* Tests of src/model/colour_name.c. SPDX-License-Identifier: MIT */
#include "model/colour_name.h"

#include "model/shop.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

/* By eye: what anybody would call it. */
static void common_colours_get_the_names_people_use(void **state) {
    (void)state;
    static const struct {
        const char *code, *name;
    } row[] = {{"#014D4E", "dark teal"},      {"#0D9488", "teal"},       {"#808000", "olive"},
               {"#006400", "dark green"},     {"#8B0000", "dark red"},   {"#FFB6C1", "pale pink"},
               {"#36454F", "dark grey blue"}, {"#333333", "dark grey"},  {"#D3D3D3", "light grey"},
               {"#B57EDC", "light purple"},   {"#D2B48C", "tan"},        {"#FFA500", "yellowish orange"},
               {"#40E0D0", "turquoise"},      {"#3E2723", "dark brown"}, {"#5C0923", "maroon"},
               {"#FFFFFF", "white"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const char *names[COLOUR_NAMES];
        Rgb8 colour;
        assert_true(rgb8_parse(row[i].code, &colour));
        colour_names(colour, names);
        if (strcmp(names[0], row[i].name) != 0) print_error("%s\n", row[i].code);
        assert_string_equal(names[0], row[i].name);
    }
}

static void all_names_are_listed_once_and_fit_a_candy(void **state) {
    (void)state;
    const char *names[COLOUR_NAMES];
    colour_names((Rgb8){120, 30, 200}, names);
    for (int i = 0; i < COLOUR_NAMES; i++) {
        assert_true(colour_name_known(names[i]) && strlen(names[i]) < CANDY_NAME);
        for (int j = 0; j < i; j++) assert_string_not_equal(names[i], names[j]);
    }
    assert_false(colour_name_known("dye") || colour_name_known("dark") || colour_name_known(""));
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(common_colours_get_the_names_people_use),
                                       cmocka_unit_test(all_names_are_listed_once_and_fit_a_candy)};
    return cmocka_run_group_tests_name("colour_name", tests, NULL, NULL);
}
