/* Tests of src/app/options.c. SPDX-License-Identifier: MIT */
#include "app/options.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { WORDS = 40 };

/* Parses the words, which '|' divides. */
static bool parse(const char *line, Options *out, Err *err) {
    static char copy[8192]; /* what is parsed points into it */
    char program[] = "logocane", *argv[WORDS + 2] = {program};
    int argc = 1;
    *err = (Err){0};
    (void)snprintf(copy, sizeof copy, "%s", line);
    for (char *word = copy; word && *line && argc <= WORDS; argc++) {
        char *end = strchr(word, '|');
        if (end) *end++ = 0;
        argv[argc] = word;
        word = end;
    }
    return options_parse(argc, argv, out, err);
}

static Options good(const char *line) {
    Options options = {0};
    Err err;
    if (!parse(line, &options, &err)) fail_msg("%s: %s", line, err.msg);
    return options;
}

static void the_defaults_hold_where_nothing_is_said(void **state) {
    (void)state;
    Options o = good("ferry.png");
    assert_string_equal(o.logo, "ferry.png");
    assert_int_equal(o.order.pieces, 1000);
    assert_true(o.order.piece_diameter_mm == 16 && o.order.piece_length_mm == 14);
    assert_int_equal(o.order.colours, 4);
    assert_int_equal(o.order.detail, DETAIL_NORMAL);
    assert_null(o.dir);
    assert_string_equal(o.order.name, "");
    assert_false(o.json || o.force || o.quiet || o.help || o.version);
}

static void every_option_reaches_its_field(void **state) {
    (void)state;
    Options o = good(
        "-n|5,000|-p|5/8x1/2in|-k|6|-f|sky blue|-m|#1A2B3C=navy|--map|ff0000=dye|-j|red, white|--stripes|8|"
        "--ropes|30|--detail|fine|--name|Nachtf\xC3\xA4hre|-o|job|--json|--force|-q|--units|in|--dated|--"
        "shop|mine.ini|ferry.png");
    assert_int_equal(o.order.pieces, 5000);
    assert_true(o.order.piece_diameter_mm == 15.875 && o.order.piece_length_mm == 12.7);
    assert_int_equal(o.order.colours, 6);
    assert_string_equal(o.order.field, "sky blue");
    assert_int_equal(o.order.wishes, 2);
    assert_int_equal(o.order.wish[0].ink.g, 0x2B);
    assert_string_equal(o.order.wish[0].candy, "navy");
    assert_string_equal(o.order.wish[1].candy, "dye");
    assert_int_equal(o.order.jackets, 2);
    assert_string_equal(o.order.jacket[0], "red");
    assert_string_equal(o.order.jacket[1], "white");
    assert_int_equal(o.order.stripes, 8);
    assert_int_equal(o.order.ropes_cap, 30);
    assert_int_equal(o.order.detail, DETAIL_FINE);
    assert_string_equal(o.order.name, "Nachtf\xC3\xA4hre");
    assert_string_equal(o.dir, "job");
    assert_true(o.json && o.force && o.quiet && o.dated);
    assert_int_equal(o.order.units, UNITS_IN);
    assert_string_equal(o.shop, "mine.ini");
    assert_int_equal(good("--colours|7|a").order.colours, 7);
    assert_int_equal(good("--colors=8|a").order.colours, 8);
}

static void of_pieces_and_weight_the_last_holds(void **state) {
    (void)state;
    assert_true(good("--weight|5kg|a").order.weight_g == 5000);
    assert_true(good("--weight|8oz|a").order.weight_g == 226.796185);
    assert_true(good("--weight|5kg|-n|7|a").order.weight_g == 0);
    assert_true(good("-n|7|--weight|5kg|a").order.weight_g == 5000);
}

static void a_sweep_has_lists_of_its_own_or_the_usual_ones(void **state) {
    (void)state;
    Options o = good("--sweep|ferry.png");
    assert_true(o.sweep);
    assert_string_equal(o.logo, "ferry.png");
    assert_int_equal(o.plan.sizes, 7);
    assert_int_equal(o.plan.orders, 5);
    assert_true(o.plan.diameter_mm[6] == 25 && o.plan.pieces[4] == 5000);
    o = good("--sweep=16,5/8in,14:1_000,500|ferry.png"); /* sorted */
    assert_int_equal(o.plan.sizes, 3);
    assert_true(o.plan.diameter_mm[0] == 14 && o.plan.diameter_mm[1] == 15.875 &&
                o.plan.diameter_mm[2] == 16);
    assert_int_equal(o.plan.orders, 2);
    assert_true(o.plan.pieces[0] == 500 && o.plan.pieces[1] == 1000);
    assert_int_equal(good("--sweep=18|a").plan.orders, 5);
    assert_int_equal(good("--sweep=:300|a").plan.sizes, 7);
    assert_int_equal(good("--sweep=:300|a").plan.pieces[0], 300);
}

/* Of the command line, with the shop's usual order. */
static SweepPlan sweep_of(const char *line) {
    Shop shop = shop_default();
    Err err = {0};
    Options o = good(line);
    if (!options_take_usual(&shop, &o, &err)) fail_msg("%s", err.msg);
    return o.plan;
}

static void sizes_that_nobody_named_are_whole_parts_of_an_inch_where_inches_are_spoken(void **state) {
    (void)state;
    static const double in[] = {0.5, 0.5625, 0.625, 0.6875, 0.75, 0.875, 1};
    static const char *const lines[] = {"--sweep|--units|in|a", "--units|in|--sweep=:300|a"};
    for (int k = 0; k < 2; k++) {
        SweepPlan plan = sweep_of(lines[k]);
        assert_int_equal(plan.sizes, 7);
        for (int i = 0; i < 7; i++) assert_true(fabs(plan.diameter_mm[i] - in[i] * MM_PER_IN) < 1e-9);
    }
    assert_int_equal(sweep_of("--units|in|--sweep=:300|a").orders, 1);
    assert_true(sweep_of("--sweep=14|--units|in|a").diameter_mm[0] == 14); /* as it was named */
    assert_true(sweep_of("--sweep|a").diameter_mm[0] == 12);
}

static void all_logos_named_are_kept_in_their_order(void **state) {
    (void)state;
    Options o = good("b.png|--table|a.png|-n|7|c d.png");
    assert_int_equal(o.logo_count, 3);
    assert_string_equal(o.logo, "b.png");
    assert_string_equal(o.logos[0], "b.png");
    assert_string_equal(o.logos[2], "c d.png");
    assert_true(o.table && !o.csv);
    assert_string_equal(o.typed, "-n 7"); /* how it is told is not of the job */
    assert_true(good("--csv|a.png").csv);
    assert_int_equal(good("a.png").logo_count, 1);
}

static void the_shop_is_printed_without_a_logo(void **state) {
    (void)state;
    Options o = good("--print-shop|--shop|mine.ini");
    assert_true(o.print_shop);
    assert_null(o.logo);
    assert_string_equal(o.shop, "mine.ini");
}

static void options_may_follow_the_logo_and_two_dashes_end_them(void **state) {
    (void)state;
    assert_int_equal(good("ferry.png|-n|7").order.pieces, 7);
    assert_string_equal(good("--|-n").logo, "-n");
    assert_string_equal(good("-").logo, "-");
    assert_true(good("--help|--nonsense").help);
    assert_true(good("-V").version);
    assert_int_equal(good("-n|5|-n|6|a").order.pieces, 6);
    assert_int_equal(good("-j|red,white,blue|-j|black|a").order.jackets, 1);
    assert_string_equal(good("-j|auto|a").order.jacket[0], "auto");
    assert_int_equal(good("a").order.fit, FIT_AUTO);
    assert_int_equal(good("--fit|crop|a").order.fit, FIT_CROP);
    assert_int_equal(good("--fit=whole|a").order.fit, FIT_WHOLE);
}

/* The command line, and words that the message must hold. */
static const struct {
    const char *line, *says;
} bad[] = {
    {"", "no logo"},
    {"a.png|-", "standard input among several"},
    {"a.png||b.png", "an empty name among several"},
    {"--csv|--json|a", "is not JSON"},
    {"-n|0|a", "from 1 to 10000000"},
    {"-n|10000001|a", "from 1 to 10000000"},
    {"-n|12abc|a", "whole number"},
    {"-n||a", "whole number"},
    {"-n|1e3|a", "whole number"},
    {"-n|-5|a", "whole number"},
    {"-n|5g|a", "write --weight '5g'"},
    {"-n|12lb|a", "write --weight '12lb'"},
    {"-n|5mm|a", "whole number"},
    {"a|-n", "value is missing"},
    {"a|--pieces", "write --pieces N"},
    {"-k|13|a", "from 1 to 12"},
    {"-k|0|a", "from 1 to 12"},
    {"-p|16|a", "diameter x length"},
    {"-p|4.9x14|a", "5 to 60 mm"},
    {"-p|61x14|a", "5 to 60 mm"},
    {"-p|16x1.9|a", "2 to 100 mm"},
    {"-p|16x101|a", "2 to 100 mm"},
    {"-p|nanx14|a", "diameter x length"},
    {"-f||a", "missing"},
    {"-f|  |a", "missing"},
    {"-f|a\nb|a", "control"},
    {"-f|0123456789012345678901234567890123456789012345678|a", "too long"},
    {"-m|red|a", "#RRGGBB=CANDY"},
    {"-m|#12345=red|a", "#RRGGBB=CANDY"},
    {"-m|#1234567890123456789=red|a", "#RRGGBB=CANDY"},
    {"-m|=red|a", "#RRGGBB=CANDY"},
    {"-m|#123456=|a", "missing"},
    {"-m|#123456=red|-m|123456=blue|a", "twice"},
    {"-m|#1=a|a", "#RRGGBB=CANDY"},
    {"-j|red,,white|a", "missing"},
    {"-j|red,|a", "missing"},
    {"-j|a,b,c,d,e,f,g|a", "more than 6"},
    {"--stripes|49|a", "from 1 to 48"},
    {"--ropes|0|a", "from 1 to 10000"},
    {"--detail|finest|a", "plain, normal or fine"},
    {"--fit|all|a", "auto, crop or whole"},
    {"-j|red,auto|a", "auto chooses all of the jacket"},
    {"-j|red,Red|a", "--jacket: Red is named twice"},
    {"--name||a", "empty"},
    {"--name|a\x1B[0m|a", "control"},
    {"--name|a\xFF|a", "UTF-8"},
    {"-o||a", "empty"},
    {"--nonsense|a", "--nonsense: no such option"},
    {"--json|-x|a", "-x: no such option"},
    {"--json|-qx|a", "-x: no such option"},
    {"--json=1|a", "takes no value"},
    {"--weight|5st|a", "write for example --weight 5kg"},
    {"--weight|0.5g|a", "not a mass"},
    {"--weight||a", "not a mass"},
    {"--units|cm|a", "mm or in"},
    {"--shop||a", "name a shop file"},
    {"--valid-until|2027-02-29|a", "no day of the calendar"},
    {"--sweep=|a", "no list"},
    {"--sweep=4|a", "no list"},
    {"--sweep=14,14|a", "no list"},
    {"--sweep=14:|a", "no list"},
    {"--sweep=14:0|a", "no list"},
    {"--sweep=14,,16|a", "no list"},
    {"--sweep=14:500:600|a", "no list"},
    {"--sweep=5,6,7,8,9,10,11,12,13,14,15,16,17|a", "no list"},
    {"--sweep|--weight|5kg|a", "its own orders"},
    {"--sweep|--json|a", "no job.json"},
};

static void what_is_wrong_is_said_in_one_line_and_leaves_the_result_alone(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        Options options = {.dir = "untouched"};
        Err err;
        if (parse(bad[i].line, &options, &err)) fail_msg("accepted: %s", bad[i].line);
        assert_int_equal(err.code, ERR_USAGE);
        if (!strstr(err.msg, bad[i].says)) fail_msg("\"%s\" does not say \"%s\"", err.msg, bad[i].says);
        assert_non_null(strstr(err.msg, "; "));
        assert_non_null(strchr(err.msg, ':'));
        assert_null(strchr(err.msg, '\n'));
        assert_string_equal(options.dir, "untouched");
    }
}

static void thirteen_inks_are_too_many_and_twelve_are_not(void **state) {
    (void)state;
    char line[400] = "";
    for (int i = 0; i < INKS_MAX; i++)
        (void)snprintf(line + strlen(line), sizeof line - strlen(line), "-m|#0000%02X=red|", i);
    (void)snprintf(line + strlen(line), sizeof line - strlen(line), "a");
    assert_int_equal(good(line).order.wishes, INKS_MAX);
    Options options;
    Err err;
    (void)snprintf(line + strlen(line), sizeof line - strlen(line), "|-m|#FFFFFF=white");
    assert_false(parse(line, &options, &err));
    assert_non_null(strstr(err.msg, "more than 12"));
    (void)snprintf(line, sizeof line, "a");
    for (int i = 0; i < INKS_MAX; i++) strcat(line, "|--join|#102030=#203040");
    assert_int_equal(good(line).order.edits, INKS_MAX);
    strcat(line, "|--join|#102030=#203040");
    assert_false(parse(line, &options, &err));
    assert_non_null(strstr(err.msg, "--join: more than 12"));
}

static void seventeen_names_of_the_machine_are_too_many(void **state) {
    (void)state;
    char line[400] = "--page";
    Options options;
    Err err;
    for (int i = 0; i < PAGE_HOSTS_MAX; i++) strcat(line, "|--page-host|counter");
    assert_int_equal(good(line).page_hosts, PAGE_HOSTS_MAX);
    strcat(line, "|--page-host|counter");
    assert_false(parse(line, &options, &err));
    assert_non_null(strstr(err.msg, "more than 16 names"));
}

static void points_and_joins_add_up_in_their_order(void **state) {
    (void)state;
    Options o = good("--leave-out|41:63,0:100|--join|#102030=a0b0c0|--leave-out|7.25:8.5|a.png");
    assert_int_equal(o.order.edits, 4);
    const Edit *e = o.order.edit;
    assert_true(e[0].x == 4100 && e[0].y == 6300 && !e[0].with);
    assert_true(e[1].x == 0 && e[1].y == 10000 && e[1].with);
    assert_true(e[2].kind == EDIT_JOIN && e[2].ink.r == 0x10 && e[2].into.b == 0xC0);
    assert_true(e[3].kind == EDIT_LEAVE_OUT && e[3].x == 725 && e[3].y == 850 && !e[3].with);
    assert_int_equal(good("--leave-out|lettering|a.png").order.edit[0].kind, EDIT_LETTERING);
    static const char *const wrong[] = {"--leave-out|letters|a.png", "--leave-out|lettering,4:6|a.png",
                                        "--leave-out|41|a.png",      "--leave-out|41:101|a.png",
                                        "--leave-out|41:-1|a.png",   "--leave-out|41:6.123|a.png",
                                        "--leave-out|41:63,|a.png",  "--leave-out|:|a.png",
                                        "--join|#102030|a.png",      "--join|#102030=red|a.png",
                                        "--people|0|a.png",          "--people|21|a.png",
                                        "--warm-box|49|a.png",       "--warm-box|111|a.png",
                                        "--advised|--sweep|a.png"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        Err err;
        assert_false(parse(wrong[i], &o, &err));
        assert_int_equal(err.code, ERR_USAGE);
    }
}

static void at_most_so_many_points_are_taken(void **state) {
    (void)state;
    char line[2048] = "a.png|--leave-out|1:1";
    Options o;
    Err err;
    for (int i = 1; i < POINTS_MAX; i++) strcat(line, ",1:1");
    assert_int_equal(good(line).order.edits, POINTS_MAX);
    strcat(line, ",1:1");
    assert_false(parse(line, &o, &err));
}

static void what_says_what_the_job_is_is_kept_as_a_shell_takes_it(void **state) {
    (void)state;
    Options o =
        good("--pieces=500|-m|#102030=navy|a.png|-o|x|--name|Tom's café|--json|--no-fine|--advised|-q");
    assert_string_equal(o.typed, "-n 500 -m '#102030=navy' --name 'Tom'\\''s café' --no-fine");
    assert_string_equal(good("a.png").typed, "");
    o = good("--shop|theirs.ini|--shop|/home/ours/our shop.ini|-n|7|a.png");
    assert_string_equal(o.typed, "-n 7 --shop '/home/ours/our shop.ini'"); /* the last holds */
    assert_string_equal(good("--page|--shop|/home/ours/our shop.ini|-n|7").typed,
                        "-n 7 --shop 'our shop.ini'"); /* others read it */
    assert_string_equal(good("--shop|ours.ini|--page").typed, "--shop ours.ini");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(seventeen_names_of_the_machine_are_too_many),
        cmocka_unit_test(points_and_joins_add_up_in_their_order),
        cmocka_unit_test(at_most_so_many_points_are_taken),
        cmocka_unit_test(what_says_what_the_job_is_is_kept_as_a_shell_takes_it),
        cmocka_unit_test(the_defaults_hold_where_nothing_is_said),
        cmocka_unit_test(every_option_reaches_its_field),
        cmocka_unit_test(of_pieces_and_weight_the_last_holds),
        cmocka_unit_test(a_sweep_has_lists_of_its_own_or_the_usual_ones),
        cmocka_unit_test(sizes_that_nobody_named_are_whole_parts_of_an_inch_where_inches_are_spoken),
        cmocka_unit_test(all_logos_named_are_kept_in_their_order),
        cmocka_unit_test(the_shop_is_printed_without_a_logo),
        cmocka_unit_test(options_may_follow_the_logo_and_two_dashes_end_them),
        cmocka_unit_test(what_is_wrong_is_said_in_one_line_and_leaves_the_result_alone),
        cmocka_unit_test(thirteen_inks_are_too_many_and_twelve_are_not)};
    return cmocka_run_group_tests_name("options", tests, NULL, NULL);
}
