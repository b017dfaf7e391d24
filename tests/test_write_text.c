/* Tests of src/write/write_text.c. SPDX-License-Identifier: MIT */
#include "write/write.h"

#include "sample_job.h"
#include "base/text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static char *print(const Job *job) {
    char *text = sample_print(job, write_text);
    assert_non_null(text);
    return text;
}

static void says(const Job *job, const char *want) {
    char *text = print(job);
    if (!strstr(text, want)) fail_msg("\"%s\" is not in:\n%s", want, text);
    free(text);
}

static void the_first_line_is_the_verdict(void **state) {
    (void)state;
    static const char *const line[] = {
        "GO: ferry.png can be built as drawn\nOrder     1 000 pieces of 16 x 14 mm\n",
        "CHANGE: ferry.png can be built with the changes below\nOrder     1 000 pieces of 16 x 14 mm\n",
        "NO: ferry.png cannot be built like this\nOrder     1 000 pieces of 16 x 14 mm\n"};
    Sample s;
    sample_fill(&s);
    for (int verdict = VERDICT_GO; verdict <= VERDICT_NO; verdict++) {
        s.job.judgement.verdict = (Verdict)verdict;
        char *text = print(&s.job);
        assert_true(strncmp(text, line[verdict], strlen(line[verdict])) == 0);
        free(text);
    }
    strcpy(s.job.file, "-");
    says(&s.job, "NO: ferry cannot");
    s.job.order.pieces = 1;
    s.job.order.units = UNITS_IN;
    s.job.order.piece_diameter_mm = 15.875;
    s.job.order.piece_length_mm = 12.7;
    says(&s.job, "\nOrder     1 piece of 5/8 x 1/2 in\n");
}

static void what_is_not_go_comes_first_with_value_limit_and_advice(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    says(&s.job, "Checks                                     is  wanted\n"
                 "  change  likeness                     0.7999  at least 0.8\n"
                 "            in pieces of 18 mm across: then this line is go\n"
                 "  go      candies it would take, log mass\n");
    for (int i = 3; i < 12; i++) s.job.judgement.check[i] = (Check){CHECK_PARTS, .verdict = VERDICT_GO};
    s.job.judgement.checks = 12;
    says(&s.job, "  go      candies it would take, log mass, parts and holes kept,\n"
                 "          parts and holes kept, parts and holes kept, parts and holes kept,\n");
    s.job.judgement.check[2].verdict = VERDICT_NO;
    s.job.judgement.check[2].value = 15.04;
    says(&s.job, "wanted\n"
                 "  no      log mass                      15 kg  at most 12 kg (habit)\n"
                 "  change  likeness");
}

static void a_sentence_to_send_stands_below_the_checks(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    s.job.judgement.advised = true;
    s.job.judgement.best = (Way){.change = {.diameter_mm = 18}, .mends = true, .whole = VERDICT_GO};
    says(&s.job, "candies it would take, log mass\n\n"
                 "To send   We can make your logo as picture candy, 16 mm across. Its finest\n"
                 "          details come out a little simpler than drawn. What we propose is\n"
                 "          pieces of 18 mm across. Then it comes out well.\n\nLog ");
}

static void log_ropes_candy_and_inks_are_told(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    says(&s.job, "one log 115.5 mm across with its jacket (core 104 mm), 305 mm long,\n          4.63 kg\n");
    says(&s.job, "drawn out 7.2 times thinner, to 15.9 m of cane\n");
    says(&s.job, "a piece weighs 4.2 g, 238 to the kilogram; those ordered 4.2 kg\n");
    says(&s.job, "Jacket    red; 6 stripes\n");
    says(&s.job, "2 laid, of 2 types, 13 made, 1 trim, 1 ring, 2 blocks\n"
                 "          about 10 min to lay up and wrap, 2 people (habit)\n");
    says(&s.job, "\n          1 of the 2 blocks spoils every piece if laid wrong: 1 end for end, 0\n      "
                 "    turned; mark an end\n");
    says(&s.job, "white               pulled      2.6 kg     2.73 kg\n");
    says(&s.job, "#BE2432     10.0 %  red                   6.5  joined with #C81E2B\n");
    says(&s.job, "transparent 60.0 %  white                   -  background\n");
    says(&s.job, "burns");
    says(&s.job, "choke");
    s.job.cane.logs = 2;
    s.job.cane.least_order = true;
    s.job.cane.pieces = 2310;
    s.job.bill.quote.spare_pieces = 1310;
    says(&s.job, "2 logs, each 115.5 mm across");
    says(&s.job, "under the smallest log: this one gives 2 310 pieces,\n          1 310 to spare");
    says(&s.job, "2 coloured batches to cook, each candy anew for each log\n");
}

static void silent(const Job *job, const char *what) {
    char *text = sample_print(job, write_text);
    assert_non_null(text);
    if (strstr(text, what)) fail_msg("\"%s\" is in:\n%s", what, text);
    free(text);
}

static void how_to_build_and_cook_is_told_only_of_what_can_be_built(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    says(&s.job, "\nCandy ");
    says(&s.job, "\nCook ");
    s.job.judgement.verdict = VERDICT_NO;
    silent(&s.job, "\nCandy ");
    silent(&s.job, "\nCook ");
    silent(&s.job, "mark an end");
    says(&s.job, "\nRopes ");
    says(&s.job, "burns");
}

static void there_is_a_cost_only_where_the_shop_has_a_price(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    silent(&s.job, "\nCost");
    Quote *quote = &s.job.bill.quote;
    s.shop.price_candy_kg = 6.5;
    quote->cost[PRICE_CANDY] = quote->price = 29.25;
    says(&s.job, "\nCost      29.25: candy 29.25; not in it: hours, fuel, packing\n");
    s.shop.price_hour = 30;
    quote->hours = 0.5;
    quote->cost[PRICE_HOURS] = 15;
    s.shop.price_margin = 0.2;
    quote->margin_cost = 8.85;
    quote->price = 55;
    strcpy(s.shop.currency, "EUR");
    says(&s.job, "\nCost      55.00 EUR: candy 29.25, 0.5 hours 15.00, margin 20 %: 8.85; rounded\n"
                 "          up; not in it: fuel, packing\n");
    s.shop.price_least = quote->price = 60;
    says(&s.job, "60.00 EUR: candy 29.25, 0.5 hours 15.00, margin 20 %: 8.85; our least\n"
                 "          order; not in it: fuel, packing\n");
    s.shop.price_boiling = s.shop.price_packing = 1;
    silent(&s.job, "not in it");
}

static void where_inches_are_spoken_no_millimetre_or_gram_is_left(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    s.job.order.units = UNITS_IN;
    s.job.order.piece_diameter_mm = 15.875;
    s.job.order.piece_length_mm = 12.7;
    s.job.judgement.check[1] =
        (Check){CHECK_STROKE, 0.635, 0.8, true, VERDICT_CHANGE, .standing = STANDING_OURS};
    s.job.judgement.check[2] = (Check){CHECK_MASS, 14, 12, false, VERDICT_CHANGE, .standing = STANDING_OURS};
    says(&s.job, "1 000 pieces of 5/8 x 1/2 in\n");
    says(&s.job, "one log 4.55 in (4 9/16) across with its jacket (core 4.09 in),\n"
                 "          12.01 in (12) long, 10.21 lb\n");
    says(&s.job, "to 52.2 ft of cane\n"); /* 15.91 m / 0.3048 */
    says(&s.job, "a piece weighs 0.15 oz, 108 to the pound; those ordered 9.26 lb\n");
    says(&s.job, "0.025 in  at least 0.031 in");
    says(&s.job, "30.9 lb  at most 26.5 lb");
    silent(&s.job, " mm");
    silent(&s.job, " kg");
    silent(&s.job, " g ");
    silent(&s.job, " m ");
}

static void what_is_dyed_to_order_is_said_and_priced(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    silent(&s.job, "dyed");
    strcpy(s.job.palette.candy[1].name, "dark teal");
    s.job.palette.candy[1].dyed = s.job.bill.material[1].candy.dyed = true;
    strcpy(s.job.bill.material[1].candy.name, "dark teal");
    s.job.bill.quote.dyed = 1;
    says(&s.job, "2 coloured batches to cook, 1 of them dyed to order");
    says(&s.job, "dyed to order: dark teal");
    says(&s.job, "pull a sample first");
    s.shop.price_dyed_batch = 4;
    s.shop.price_candy_kg = 5;
    s.job.bill.quote.cost[PRICE_DYE] = 4;
    s.job.bill.quote.cost[PRICE_CANDY] = 22.5;
    s.job.bill.quote.price = 26.5;
    says(&s.job, "26.50: candy 22.50, dyeing to order 4.00; not in it: hours, fuel,\n          packing");
}

static void no_line_is_over_80_columns_whatever_the_names(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    memset(s.job.file, 'W', sizeof s.job.file - 1);
    for (size_t i = 0; i + 2 < sizeof s.job.order.name; i += 2) memcpy(s.job.order.name + i, "\xC3\xA9", 2);
    s.job.order.name[254] = 0;
    for (int i = 0; i < 2; i++) memset(s.job.palette.candy[i].name, 'X', CANDY_NAME - 1);
    s.job.bill.material[0].candy = s.job.palette.candy[0];
    s.job.bill.material[0].candy.dyed = true;
    s.job.palette.candy[s.job.palette.of_ink[2]].dyed = true; /* dyed, background, joined: all at one ink */
    s.inks.field = 2;
    s.job.bill.material[0].mass_g = 1e7;
    s.job.palette.jackets = JACKETS_MAX;
    for (int i = 0; i < JACKETS_MAX; i++) s.job.palette.jacket[i] = s.job.palette.candy[0];
    s.job.order.pieces = 10000000;
    Part part[3] = {{.candy = 1, .middle = {10, 10}}, {.candy = 1, .hole = true}, {.candy = 0}};
    s.job.judgement.parts = 3;
    s.job.judgement.part = part;
    s.job.judgement.advised = true;
    Way way = {.change = {.without = 7, .dyed = 3}, .mends = true, .whole = VERDICT_GO};
    s.job.judgement.best = s.job.judgement.check[1].way[0] = way;
    s.job.judgement.checks = CHECKS_MAX;
    for (int i = 3; i < CHECKS_MAX; i++) s.job.judgement.check[i] = s.job.judgement.check[2];
    char *text = print(&s.job);
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
        assert_true(text_valid(line));
        if (text_width(line) > TEXT_COLUMNS) fail_msg("%d columns: %s", text_width(line), line);
    }
    free(text);
}

static void places_are_numbered_and_the_rest_counted(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    char *text = print(&s.job);
    assert_null(strstr(text, "Places"));
    free(text);
    Part part[3] = {{.candy = 1, .middle = {10, 10}},
                    {.candy = 0, .hole = true, .middle = {50, 50}},
                    {.candy = 1, .middle = {12, 10}}};
    s.job.judgement.part = part;
    s.job.grid.wanted.side = 100;
    s.job.flaws = (Flaws){.count = 3, .more = 3};
    for (int i = 0; i < 3; i++)
        s.job.flaws.flaw[i] = (Flaw){.part = i, .kind = i == 1 ? FLAW_RUN : FLAW_LOST};
    text = print(&s.job);
    assert_non_null(strstr(text, "\nPlaces    1, 3 red part, upper left: lost\n"
                                 "          2 white hole, middle: opens to what is round it\n"
                                 "          and 3 more\n"));
    free(text);
}

static void hostile_names_print_safely(void **state) {
    (void)state;
    Sample s;
    sample_fill(&s);
    strcpy(s.job.file, "a\nNO: \x1B[31m\xFF.png");
    strcpy(s.job.palette.jacket[0].name, "\x1B]0;x\x07");
    strcpy(s.job.order.name, "two\nlines");
    Part part = {.candy = 1, .middle = {10, 10}};
    strcpy(s.job.palette.candy[1].name, "cut\rback");
    s.job.judgement.part = &part;
    s.job.judgement.parts = 1;
    s.job.judgement.check[1].way[0].change.without = 1;
    char *text = print(&s.job);
    for (char *c = text; *c; c++)
        if (*c == '\n') *c = ' ';
    assert_true(text_valid(text));
    assert_non_null(strstr(text, "a?NO: ?[31m?.png"));
    assert_non_null(strstr(text, "two?lines"));
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_line_is_the_verdict),
        cmocka_unit_test(what_is_not_go_comes_first_with_value_limit_and_advice),
        cmocka_unit_test(a_sentence_to_send_stands_below_the_checks),
        cmocka_unit_test(log_ropes_candy_and_inks_are_told),
        cmocka_unit_test(how_to_build_and_cook_is_told_only_of_what_can_be_built),
        cmocka_unit_test(there_is_a_cost_only_where_the_shop_has_a_price),
        cmocka_unit_test(where_inches_are_spoken_no_millimetre_or_gram_is_left),
        cmocka_unit_test(what_is_dyed_to_order_is_said_and_priced),
        cmocka_unit_test(no_line_is_over_80_columns_whatever_the_names),
        cmocka_unit_test(places_are_numbered_and_the_rest_counted),
        cmocka_unit_test(hostile_names_print_safely)};
    return cmocka_run_group_tests_name("write_text", tests, NULL, NULL);
}
