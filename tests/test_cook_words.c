/* Tests of src/say/cook_words.c, as src/write/write_text.c prints it. SPDX-License-Identifier: MIT */
#include "write/write.h"

#include "sample_job.h"
#include "base/text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

/* The sections Cook and Heat of the text, owned. */
static char *print_both(const Job *job) {
    char *text = sample_print(job, write_text);
    assert_non_null(text);
    char *from = strstr(text, "\nCook "), *end = strstr(text, "\nInks ");
    assert_true(from && end && from < end);
    *end = 0;
    memmove(text, from, (size_t)(end - from) + 1);
    return text;
}

static void says(const Job *job, bool wanted, const char *want) {
    char *text = print_both(job);
    if (!strstr(text, want) == wanted) fail_msg("\"%s\" is%s in:\n%s", want, wanted ? " not" : "", text);
    free(text);
}

static void sugar_syrup_and_water_of_each_candy_are_a_table(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    says(&s.job, true,
         "\nCook      spare included           sugar       syrup       water\n"
         "          white                  1.86 kg       994 g       559 g\n"
         "          red                    1.21 kg       646 g       363 g\n"
         "          all                    3.07 kg     1.64 kg       922 g\n");
    says(&s.job, true, "solids 70 : 30 (published), syrup of\n          80.3 % solids (from");
    says(&s.job, true,
         "water 30 % of the\n          sugar (habit), 2.5 % moisture left (published; give or take 1 %)\n");
    s.shop.moisture = 0.02;
    says(&s.job, true, "2 % moisture left (the shop's own; give or take 1 %)\n");
    says(&s.job, true, "one boiling of 4.5 kg; the kettle takes 6 kg (habit)\n");
    s.job.order.units = UNITS_IN;
    says(&s.job, true, "all                    6.78 lb     3.62 lb     2.03 lb\n");
    s.job.recipe.boilings = 2;
    s.job.recipe.boiling.sugar_g = 1537;
    says(&s.job, true, "a boiling              3.39 lb");
    says(&s.job, true, "2 boilings of 9.93 lb each");
}

static void doses_are_printed_only_if_the_shop_gives_them(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    says(&s.job, false, "acid");
    says(&s.job, false, "colour");
    s.job.recipe.row[1].colour_g = s.job.recipe.whole.colour_g = 0.2512;
    s.job.recipe.row[0].acid_g = s.job.recipe.whole.acid_g = 45.04;
    says(&s.job, true, "                            acid      colour\n");
    says(&s.job, true, "          white                   45.0 g           -\n");
    says(&s.job, true, "          red                          -      0.25 g\n");
    says(&s.job, false, "flavour");
}

static void a_candy_that_found_no_place_is_not_cooked(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    says(&s.job, true, "\n          red     ");
    s.job.bill.material[1].mass_g = 0.04;
    says(&s.job, false, "\n          red     ");
}

static void the_altitude_is_told_only_above_the_sea(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    says(&s.job, true, "cook to 149 °C (300 °F), for a kitchen at sea level (published)\n");
    s.shop.altitude_m = 1500;
    s.job.recipe.water_boils_c = 94.98;
    s.job.recipe.cook_c = 144.01;
    s.job.recipe.cook_least_c = 142.51;
    says(&s.job, true,
         "cook to 144 °C (291 °F): at 1 500 m water boils at 95 °C (203 °F)\n"
         "          (computed; at sea level it would be 149 °C (300 °F), published)\n");
    says(&s.job, true, "as low as 143 °C (289 °F); check the thermometer\n          in boiling water");
    s.job.order.units = UNITS_IN;
    says(&s.job, true,
         "cook to 291 °F (144 °C): at 4 921 ft water boils at 203 °F (95 °C)\n          (computed; at");
}

static void ropes_that_go_cold_first_and_the_log_are_told(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    says(&s.job, true,
         "\nHeat      time for the middle to fall from 80 °C to 70 °C in a room of 22 °C\n          "
         "(habits), computed; of each thickness the rope that cools first\n"
         "          6 mm slanted ropes: 48 s out of the warm box\n"
         "          rim ropes from 5 min on; the log 84 min\n"
         "          a rope 5 °C warmer than the next is 3.4 times as soft (ratio only): it\n");
    s.job.order.units = UNITS_IN;
    says(&s.job, true, "from 176 °F to 158 °F in a room of 72 °F");
    says(&s.job, true, "a rope 9 °F warmer");
    says(&s.job, true, "\n          1/4 in slanted ropes: 48 s out of the warm box\n");
    s.job.heat.ropes = 0;
    s.job.heat.first[KIND_SLANTED] = s.job.heat.first[KIND_RIM] = -1;
    says(&s.job, true, "cools first\n          the log 84 min\n");
}

static void no_line_is_over_80_columns(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    memset(s.job.bill.material[0].candy.name, 'X', CANDY_NAME - 1);
    s.job.recipe.whole = (Weights){9.9e8, 9.9e8, 9.9e8, 9.9e8, 9.9e7, 9.9e7, 9.9e7};
    s.job.recipe.boilings = 99999;
    s.shop.altitude_m = 4999;
    s.shop.sugar_share = 0.70123456;
    for (int units = UNITS_MM; units <= UNITS_IN; units++) {
        s.job.order.units = (Units)units;
        char *text = print_both(&s.job);
        for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
            assert_true(text_valid(line));
            if (text_width(line) > TEXT_COLUMNS) fail_msg("%d columns: %s", text_width(line), line);
        }
        free(text);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(sugar_syrup_and_water_of_each_candy_are_a_table),
                                       cmocka_unit_test(doses_are_printed_only_if_the_shop_gives_them),
                                       cmocka_unit_test(a_candy_that_found_no_place_is_not_cooked),
                                       cmocka_unit_test(the_altitude_is_told_only_above_the_sea),
                                       cmocka_unit_test(ropes_that_go_cold_first_and_the_log_are_told),
                                       cmocka_unit_test(no_line_is_over_80_columns)};
    return cmocka_run_group_tests_name("cook_words", tests, NULL, NULL);
}
