/* Tests of src/run/ordered.c, src/inks/leave_out.c and src/say/command_words.c: what is typed is what was
 * advised. SPDX-License-Identifier: MIT */
#include "app/options.h"
#include "run/run.h"
#include "run/trial.h"
#include "say/verdict_words.h"
#include "scene_logo.h"

#include "said.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

static const Rgb8 white = {255, 255, 255}, red = {200, 32, 44}, green = {46, 142, 68},
                  dark_green = {24, 90, 40}, yellow = {250, 210, 48}, black = {32, 29, 30};

/* A bold square with two dots beside it. */
static Rgb8 dotted(double x, double y) {
    double across = fabs(x) - 0.82;
    bool dot = across * across + y * y < 0.088 * 0.088;
    return fmax(fabs(x), fabs(y)) < 0.62 || dot ? red : white;
}

static Rgb8 two_greens(double x, double y) {
    return fmax(fabs(x), fabs(y)) > 0.62 ? white : x < 0.03 ? green : dark_green;
}

static Rgb8 quarters(double x, double y) {
    if (fmax(fabs(x), fabs(y)) > 0.7) return white;
    return x < 0 ? (y < 0 ? red : yellow) : (y < 0 ? black : green);
}

/* A cross whose arms are thinner than a least strip. */
static Rgb8 thin_cross(double x, double y) {
    return fmin(fabs(x), fabs(y)) < 0.115 && fmax(fabs(x), fabs(y)) < 0.95 ? red : white;
}

static Rgb8 bold(double x, double y) {
    return fmax(fabs(x), fabs(y)) < 0.62 ? red : white;
}

static void draw(Logo *logo, Scene *scene) {
    logo_draw(logo, scene);
    logo->shop.least_strip_mm = 9;
    logo->job.order.pieces = 500;
    logo->job.order.no_fine = true;
}

/* The options read as a shell and the command line would. */
static Order typed(const char *before, const char *words) {
    char line[1024], program[] = "logocane", *argv[48] = {program};
    int argc = 1;
    (void)snprintf(line, sizeof line, "%s %s logo.png", before, words);
    for (char *at = line; *at;) {
        while (*at == ' ') at++;
        if (!*at) break;
        bool quoted = *at == '\'';
        argv[argc++] = at + quoted;
        at += quoted;
        at += strcspn(at, quoted ? "'" : " ");
        if (*at) *at++ = 0;
    }
    Options options;
    Err err = {0};
    if (!options_parse(argc, argv, &options, &err)) fail_msg("%s: %s", words, err.msg);
    return options.order;
}

/* Runs the logo, takes the best way, and runs what its command asks for. */
static void is_as_promised(Logo *logo, const char *option, const char *more, Verdict from, Verdict promised) {
    Err err = {0};
    char line[256], words[OPTIONS_TEXT] = "";
    bool taken = false;
    Ordered advised, own;
    (void)snprintf(line, sizeof line, "-n 500 %s", more);
    logo->job.order = typed(line, "");
    Job named = {
        .picture = &logo->picture, .inks = &logo->inks, .shop = &logo->shop, .order = logo->job.order};
    logo_run(logo);
    assert_true(advise(&logo->job, ADVISE_BUDGET, NULL, &err));
    assert_int_equal(logo->job.judgement.verdict, from);
    assert_int_equal(logo->job.judgement.best.whole, promised);
    assert_true(command_words(&logo->job, &logo->job.judgement.best.change, words, sizeof words));
    if (!strstr(words, option)) fail_msg("no '%s' in: %s", option, words);
    assert_true(advised_take(&named, &logo->job, &advised, &taken, &err));
    assert_true(taken);
    assert_int_equal(advised.job.judgement.verdict, promised);
    assert_int_equal(advised.job.advised.from, from);
    assert_string_equal(advised.job.advised.options, words);
    named.order = typed(line, words);
    assert_true(ordered_new(&named, &own, &err));
    assert_true(job_run(&own.job, &err));
    assert_int_equal(own.job.judgement.verdict, promised);
    assert_memory_equal(&own.job.judgement.likeness, &advised.job.judgement.likeness, sizeof(double));
    assert_memory_equal(&own.job.work.laying, &advised.job.work.laying, sizeof(double));
    ordered_free(&own);
    ordered_free(&advised);
    logo_free(logo);
}

static void dots_left_out_by_the_command_give_what_was_promised(void **state) {
    (void)state;
    Logo logo;
    draw(&logo, dotted);
    is_as_promised(&logo, "--leave-out ", "--no-fine", VERDICT_NO, VERDICT_GO);
}

static void greens_joined_by_the_command_give_what_was_promised(void **state) {
    (void)state;
    Logo logo;
    draw(&logo, two_greens);
    logo.shop.dye_to_order = false;
    is_as_promised(&logo, "--join '#", "--no-fine -k 2", VERDICT_NO, VERDICT_GO);
}

/* A third pair of hands is the shop's own matter: the job is *go*, and the command is told all the same. */
static void people_that_the_command_names_give_what_was_promised(void **state) {
    (void)state;
    Logo logo;
    Err err = {0};
    char words[OPTIONS_TEXT] = "";
    draw(&logo, quarters);
    logo.job.order.colours = 5;
    logo_run(&logo);
    logo.shop.working_minutes = logo.job.work.laying / 1.1;
    logo_run(&logo);
    assert_true(advise(&logo.job, ADVISE_BUDGET, NULL, &err));
    assert_int_equal(logo.job.judgement.verdict, VERDICT_GO);
    const Check *check = check_named(&logo.job.judgement, "minutes");
    assert_true(check->own && check->ways > 0);
    assert_true(command_words(&logo.job, &check->way[0].change, words, sizeof words));
    assert_string_equal(words, "--people 3");
    Job named = {.picture = &logo.picture, .inks = &logo.inks, .shop = &logo.shop};
    named.order = typed("-n 500 --no-fine -k 5", words);
    Ordered own;
    assert_true(ordered_new(&named, &own, &err) && job_run(&own.job, &err));
    assert_int_equal(check_named(&own.job.judgement, "minutes")->verdict, VERDICT_GO);
    ordered_free(&own);
    logo_free(&logo);
}

static void a_larger_piece_is_typed_in_inches_where_they_are_spoken(void **state) {
    (void)state;
    Logo logo;
    draw(&logo, thin_cross);
    is_as_promised(&logo, "x0.5in", "--no-fine --units in -p 0.63x0.5in", VERDICT_CHANGE, VERDICT_GO);
}

static void a_job_that_is_go_is_taken_as_it_is(void **state) {
    (void)state;
    Logo logo;
    Ordered out;
    Err err = {0};
    bool taken = true;
    draw(&logo, bold);
    Job named = logo.job;
    logo_run(&logo);
    assert_true(advise(&logo.job, ADVISE_BUDGET, NULL, &err));
    assert_true(advised_take(&named, &logo.job, &out, &taken, &err));
    assert_false(taken);
    logo_free(&logo);
}

/* --- the logo with edits --- */

static int count_ink(const InkMap *map, Rgb8 c) {
    int count = 0;
    for (int i = 0; i < SIDE * SIDE; i++) {
        Rgb8 d = map->ink[map->label[i]].srgb;
        count += c.r == d.r && c.g == d.g && c.b == d.b;
    }
    return count;
}

static Edit at(int x, int y, bool with) {
    return (Edit){.kind = EDIT_LEAVE_OUT, .with = with, .x = x * POINT_UNIT, .y = y * POINT_UNIT};
}

static void points_leave_out_the_areas_that_they_lie_in_and_no_others(void **state) {
    (void)state;
    Logo logo, square;
    InkMap map;
    Err err = {0};
    logo_draw(&logo, dotted);
    logo_draw(&square, bold);
    const Edit dots[] = {at(9, 50, false), at(91, 50, true)};
    assert_true(leave_out(&logo.inks, dots, 2, &map, &err));
    assert_memory_equal(map.label, square.inks.label, (size_t)SIDE * SIDE);
    assert_true(map.circle.r == logo.inks.circle.r); /* the framing stays */
    inkmap_free(&map);
    assert_true(leave_out(&logo.inks, dots, 0, &map, &err));
    assert_memory_equal(map.label, logo.inks.label, (size_t)SIDE * SIDE);
    inkmap_free(&map);
    logo_free(&logo);
    logo_free(&square);
}

static void a_join_gives_one_inks_pixels_to_the_other(void **state) {
    (void)state;
    Logo logo;
    InkMap map;
    Err err = {0};
    logo_draw(&logo, quarters);
    int reds = count_ink(&logo.inks, red), greens = count_ink(&logo.inks, green);
    const Edit join = {.kind = EDIT_JOIN, .ink = {205, 30, 40}, .into = green}; /* nearly the red */
    assert_true(leave_out(&logo.inks, &join, 1, &map, &err));
    assert_int_equal(count_ink(&map, green), reds + greens);
    assert_int_equal(map.count, logo.inks.count - 1);
    inkmap_free(&map);
    logo_free(&logo);
}

static void what_cannot_be_left_out_or_joined_is_told_in_one_line(void **state) {
    (void)state;
    static const struct {
        Edit edit;
        const char *words;
    } cases[] = {
        {{.x = 100, .y = 50}, "--leave-out: 1:0.5 lies on the open background"},
        {{.kind = EDIT_JOIN, .ink = {0, 255, 255}, .into = {200, 32, 44}},
         "no ink like #00FFFF; its inks are #"},
        {{.kind = EDIT_JOIN, .ink = {200, 32, 44}, .into = {202, 32, 44}}, "both are the ink #C8202C"},
    };
    Logo logo;
    logo_draw(&logo, dotted);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Err err = {0};
        InkMap map = {.count = -1};
        assert_false(leave_out(&logo.inks, &cases[i].edit, 1, &map, &err));
        assert_int_equal(err.code, ERR_USAGE);
        if (!strstr(err.msg, cases[i].words)) fail_msg("no '%s' in: %s", cases[i].words, err.msg);
        assert_int_equal(map.count, -1);
    }
    logo_free(&logo);
}

/* It fills its picture; one square of it lies beyond the disc. */
static Rgb8 cornered(double x, double y) {
    return y < -0.2 || fmin(x, y) > 0.9 ? red : green;
}

static void what_does_not_come_on_the_candy_cannot_be_left_out(void **state) {
    (void)state;
    const Edit point = {.x = 9700, .y = 9700};
    Logo logo;
    Err err = {0};
    InkMap map;
    logo_draw(&logo, cornered);
    assert_false(leave_out(&logo.inks, &point, 1, &map, &err));
    assert_int_equal(err.code, ERR_USAGE);
    if (!strstr(err.msg, "97:97 lies outside what comes on the candy")) fail_msg("%s", err.msg);
    logo_free(&logo);
}

static void people_and_the_warm_box_of_the_order_go_before_the_shops(void **state) {
    (void)state;
    Shop shop = shop_default(), own;
    Order order = typed("", "--people 5 --warm-box 185F");
    Err err = {0};
    assert_true(shop_for(&shop, &order, &own, &err));
    assert_int_equal(own.people, 5);
    assert_true(fabs(own.joining_c - 85) < 1e-6);
    order = order_default();
    assert_true(shop_for(&shop, &order, &own, &err));
    assert_int_equal(own.people, shop.people);
    order.joining_c = shop.working_c;
    assert_false(shop_for(&shop, &order, &own, &err));
    assert_int_equal(err.code, ERR_USAGE);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(dots_left_out_by_the_command_give_what_was_promised),
        cmocka_unit_test(greens_joined_by_the_command_give_what_was_promised),
        cmocka_unit_test(people_that_the_command_names_give_what_was_promised),
        cmocka_unit_test(a_larger_piece_is_typed_in_inches_where_they_are_spoken),
        cmocka_unit_test(a_job_that_is_go_is_taken_as_it_is),
        cmocka_unit_test(points_leave_out_the_areas_that_they_lie_in_and_no_others),
        cmocka_unit_test(a_join_gives_one_inks_pixels_to_the_other),
        cmocka_unit_test(what_cannot_be_left_out_or_joined_is_told_in_one_line),
        cmocka_unit_test(what_does_not_come_on_the_candy_cannot_be_left_out),
        cmocka_unit_test(people_and_the_warm_box_of_the_order_go_before_the_shops),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
