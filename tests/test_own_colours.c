/* Tests of src/judge/own_colours.c and src/inks/find_faint.c. SPDX-License-Identifier: MIT */
#include "inks/inks.h"
#include "judge/checks.h"
#include "say/verdict_words.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { WIDE = 24, SIDE = 48 };

/* Ink 0 is the field, ink 1 a square in it, ink 2 the right half of that. s must stay where it is. */
typedef struct Setting {
    uint8_t label[WIDE * WIDE];
    InkMap inks;
    Part part[1];
    Job job;
} Setting;

static void setting_fill(Setting *s, Rgb8 field, Rgb8 one, Rgb8 other) {
    const Rgb8 colour[] = {field, one, other};
    memset(s, 0, sizeof *s);
    s->inks = (InkMap){.width = WIDE, .height = WIDE, .count = 3, .label = s->label};
    for (int i = 0; i < WIDE * WIDE; i++) {
        int x = i % WIDE, y = i / WIDE;
        s->label[i] = x < 6 || x >= 18 || y < 6 || y >= 18 ? 0 : x < 12 ? 1 : 2;
    }
    s->job = (Job){.inks = &s->inks, .order = order_default()};
    s->job.palette.count = 3;
    for (int i = 0; i < 3; i++) {
        s->inks.ink[i] = (Ink){.srgb = colour[i], .share = 0.3};
        s->job.palette.of_ink[i] = i;
        s->job.palette.candy[i].srgb = colour[i];
    }
    s->job.grid.frame = (Frame){.centre_px = {12, 12}, .px_per_step = 4};
    s->job.grid.wanted.side = SIDE;
}

static void set_border(Setting *s, int a, int b, double share) {
    s->inks.border[a][b] = s->inks.border[b][a] = share;
}

static Judgement checked(const Setting *s, int parts) {
    Judgement j = {.parts = parts};
    check_own_colours(&s->job, &j);
    return j;
}

static const Rgb8 white = {255, 255, 255}, navy = {26, 36, 84}, cream = {255, 248, 220}, blue = {30, 60, 150},
                  near_blue = {28, 50, 118};

/* Blue and another blue, 8 apart, with so much of the borders. */
static void what_carries_half_of_the_drawing_decides(void **state) {
    (void)state;
    static Setting s;
    static const struct {
        double near;
        Verdict verdict;
        bool told;
    } row[] = {{0.52, VERDICT_CHANGE, true},
               {0.48, VERDICT_GO, true},
               {0.16, VERDICT_GO, true},
               {0.14, VERDICT_GO, false}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        setting_fill(&s, white, blue, near_blue);
        set_border(&s, 1, 2, row[i].near);
        set_border(&s, 0, 1, 1 - row[i].near);
        Judgement j = checked(&s, 2);
        assert_int_equal(j.checks, 1);
        assert_int_equal(j.check[0].verdict, row[i].verdict);
        assert_int_equal(j.near.border > 0, row[i].told);
        if (row[i].told) assert_true(j.near.one == 1 && j.near.other == 2 && j.near.apart < 10);
    }
}

/* A candy can be at its own limit; nothing is at all where nothing comes out. */
static void what_is_not_seen_at_all_is_no(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s, white, blue, near_blue);
    set_border(&s, 1, 2, 1);
    assert_int_equal(checked(&s, 1).verdict, VERDICT_CHANGE);
    assert_int_equal(checked(&s, 0).verdict, VERDICT_NO);
}

/* Cream on white: 11 apart, of which hardly any is lightness. Greys so far apart differ in nothing else. */
static void colours_as_light_as_each_other_must_differ_more(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s, white, cream, navy);
    set_border(&s, 0, 1, 1);
    Judgement j = checked(&s, 1);
    assert_int_equal(j.check[0].verdict, VERDICT_CHANGE);
    assert_true(j.check[0].value > 10.5 && j.check[0].limit > 15);
    setting_fill(&s, white, (Rgb8){205, 205, 205}, navy);
    set_border(&s, 0, 1, 1);
    j = checked(&s, 1);
    assert_int_equal(j.check[0].verdict, VERDICT_GO);
    assert_true(j.check[0].value > 10 && j.check[0].value < 12 && j.check[0].limit < 11);
}

static void transparency_is_paper_on_a_white_field_only(void **state) {
    (void)state;
    static Setting s;
    for (int dark = 0; dark < 2; dark++) {
        setting_fill(&s, white, cream, navy);
        s.inks.ink[0] = (Ink){.transparent = true, .share = 0.3};
        set_border(&s, 0, 1, 1);
        if (dark) s.job.palette.candy[0].srgb = navy;
        assert_int_equal(checked(&s, 1).verdict, dark ? VERDICT_GO : VERDICT_CHANGE);
        s.inks.ink[1].srgb = white; /* that is the paper itself */
        assert_int_equal(checked(&s, 1).checks, dark);
    }
}

static void nothing_is_said_of_a_photograph(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s, white, blue, near_blue);
    set_border(&s, 1, 2, 1);
    Judgement j = {.verdict = VERDICT_NO, .parts = 1};
    check_own_colours(&s.job, &j);
    assert_int_equal(j.checks, 0);
    assert_true(j.near.border <= 0);
}

/* The two halves meet at x = 12, from y = 6 to 18; 2 samples a pixel. */
static void the_place_lies_where_the_two_meet(void **state) {
    (void)state;
    static Setting s;
    Point at = {0};
    setting_fill(&s, white, blue, near_blue);
    assert_false(own_colours_spot(&s.job, &at));
    s.job.judgement.near = (NearInks){1, 2, 8, 0.3};
    assert_true(own_colours_spot(&s.job, &at));
    assert_true(fabs(at.x - 23) < 1.01 && at.y > 12 && at.y < 36);
}

static void the_place_says_which_two_hardly_differ(void **state) {
    (void)state;
    static Setting s;
    char words[FLAW_TEXT];
    setting_fill(&s, white, cream, navy);
    s.job.judgement.near = (NearInks){0, 2, 8, 0.3};
    Flaw flaw = {.kind = FLAW_OWN, .part = -1, .line = -1, .box = {0, 20, 6, 6}};
    flaw_print(&s.job, &flaw, words);
    assert_non_null(strstr(words, "white and "));
    assert_non_null(strstr(words, ", left: hardly differ in the logo"));
    s.job.judgement.near.other = 0;
    flaw_print(&s.job, &flaw, words);
    assert_string_equal(words, "two shades of white, left: hardly differ in the logo");
}

/* --- what lies within one ink --- */

enum { PX = 60 };

/* A bar in a field, its edges averaged over two pixels; `navy_too`: a square of another ink. */
static InkMap bar_found(uint8_t field, uint8_t bar, bool navy_too, uint8_t *rgba) {
    for (int i = 0; i < PX * PX; i++) {
        int x = i % PX, y = i / PX;
        bool inside = x > 20 && x < 40 && y > 10 && y < 50, edge = inside && (x == 21 || y == 11);
        uint8_t v = (uint8_t)(edge ? (field + bar) / 2 : inside ? bar : field);
        bool square = navy_too && x > 25 && x < 35 && y > 15 && y < 25;
        const uint8_t grey[4] = {v, v, v, 255}, ink[4] = {navy.r, navy.g, navy.b, 255};
        memcpy(rgba + 4 * i, square ? ink : grey, 4);
    }
    Picture picture = {.width = PX, .height = PX, .shrink = 1, .rgba = rgba};
    InkMap map;
    Err err = {0};
    assert_true(find_inks(&picture, &map, &err));
    InkMap found = map; /* its figures; its labels go */
    inkmap_free(&map);
    found.label = NULL;
    return found;
}

static void a_bar_that_is_hardly_another_colour_is_seen_by_its_edges(void **state) {
    (void)state;
    static uint8_t rgba[4 * PX * PX];
    InkMap map = bar_found(255, 240, false, rgba);
    assert_int_equal(map.count, 1);
    assert_true(map.faint >= 1 && map.faint_apart > 2 && map.faint_apart < 4);
    map = bar_found(255, 240, true, rgba);
    assert_int_equal(map.count, 2);
    assert_true(map.faint > 0.5 && map.faint < 0.9);
    map = bar_found(255, 252, false, rgba); /* one to an eye */
    assert_true(map.faint <= 0);
    map = bar_found(255, 0, false, rgba);
    assert_int_equal(map.count, 2);
    assert_true(map.faint <= 0);
}

static void a_logo_in_one_ink_that_shows_nothing_of_its_drawing_is_no(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s, white, white, white);
    s.inks.count = 1;
    assert_int_equal(checked(&s, 0).checks, 0); /* a plain candy */
    s.inks.faint = 1;
    s.inks.faint_apart = 3;
    assert_int_equal(checked(&s, 0).verdict, VERDICT_NO);
    s.inks.shaded = 0.06; /* edges of a shading */
    assert_int_equal(checked(&s, 0).checks, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_carries_half_of_the_drawing_decides),
        cmocka_unit_test(what_is_not_seen_at_all_is_no),
        cmocka_unit_test(colours_as_light_as_each_other_must_differ_more),
        cmocka_unit_test(transparency_is_paper_on_a_white_field_only),
        cmocka_unit_test(nothing_is_said_of_a_photograph),
        cmocka_unit_test(the_place_lies_where_the_two_meet),
        cmocka_unit_test(the_place_says_which_two_hardly_differ),
        cmocka_unit_test(a_bar_that_is_hardly_another_colour_is_seen_by_its_edges),
        cmocka_unit_test(a_logo_in_one_ink_that_shows_nothing_of_its_drawing_is_no),
    };
    return cmocka_run_group_tests_name("own_colours", tests, NULL, NULL);
}
