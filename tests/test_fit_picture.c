/* Tests of src/inks/find_field.c and src/inks/fit_picture.c. SPDX-License-Identifier: MIT */
#include "framing_logos.h"

#include "inks/inks.h"
#include "inks/steps.h"
#include "model/job.h"
#include "plan/plan.h"
#include "run/run.h"
#include "say/verdict_words.h"
#include "write/write.h"

#include <setjmp.h>
#include <stdarg.h>
#include <cmocka.h>

enum { SIZE = 120 /* px, the short side */ };

static void near(double got, double want, double limit, const char *what) {
    if (!(fabs(got - want) <= limit)) fail_msg("%s: got %.9g, want %.9g", what, got, want);
}

static InkMap found(const char *name, Fit fit) {
    Err err = {0};
    Picture picture;
    InkMap map;
    assert_true(framing_logo_draw(framing_logo(name), SIZE, &picture, &err));
    if (!find_inks_fit(&picture, fit, &map, &err)) fail_msg("%s", err.msg);
    picture_free(&picture);
    return map;
}

static double share_of(const InkMap *map, Paint paint) {
    double share = 0;
    for (int i = 0; i < map->count; i++) {
        Rgb8 c = map->ink[i].srgb;
        const uint8_t *want = paint_rgba[paint];
        bool same = paint == CLEAR
                        ? map->ink[i].transparent
                        : abs(c.r - want[0]) < 12 && abs(c.g - want[1]) < 12 && abs(c.b - want[2]) < 12;
        if (same && map->ink[i].transparent == (paint == CLEAR)) share += map->ink[i].share;
    }
    return share;
}

/* The share of a disc beyond a straight line, `part` of the radius from its centre. */
static double segment(double part) {
    return (acos(part) - part * sqrt(1 - part * part)) / PI;
}

typedef enum Comes { DISC, WHOLE, GROUND, BADGE } Comes;

/* How each comes into the disc, chosen by eye: as a disc out of it, whole on a field, on its own ground, or
 * as the disc that it is. */
static const struct {
    const char *name;
    Comes comes;
} expected[] = {
    {"three-upright", DISC},  {"three-upright-long", WHOLE},
    {"three-level", DISC},    {"two-upright", DISC},
    {"two-level", DISC},      {"half-disc", DISC},
    {"belt", DISC},           {"cross", DISC},
    {"cross-on-white", DISC}, {"cross-in-cross", DISC},
    {"sun", GROUND},          {"sun-aside", GROUND},
    {"band", DISC},           {"two-slanted", DISC},
    {"saltire", DISC},        {"canton", WHOLE},
    {"emblem", DISC},         {"corner-field", WHOLE},
    {"in-margin", DISC},      {"tile", GROUND},
    {"two-bars", WHOLE},      {"wedge", DISC},
    {"lozenge", GROUND},      {"ribbon", DISC},
    {"hills", WHOLE},         {"sign", GROUND},
    {"steam", GROUND},        {"badge", BADGE},
    {"dot", GROUND},          {"icon", GROUND},
    {"shield", GROUND},       {"oval", GROUND},
    {"plus", GROUND},         {"letters", GROUND},
    {"pencil", GROUND},
};

static Comes comes_of(const InkMap *map) {
    return map->roundel ? BADGE : map->cropped ? DISC : map->beyond ? WHOLE : GROUND;
}

static void every_picture_comes_into_the_disc_as_anybody_expects(void **state) {
    (void)state;
    assert_int_equal(sizeof expected / sizeof *expected, FRAMING_LOGOS);
    for (int i = 0; i < FRAMING_LOGOS; i++) {
        InkMap map = found(expected[i].name, FIT_AUTO);
        if (comes_of(&map) != expected[i].comes)
            fail_msg("%s: %d, not %d", expected[i].name, comes_of(&map), expected[i].comes);
        assert_int_equal(map.full_bleed, expected[i].comes == DISC || expected[i].comes == WHOLE);
        inkmap_free(&map);
    }
}

static void a_flag_is_a_disc_of_its_short_side_and_holds_all_its_stripes(void **state) {
    (void)state;
    InkMap map = found("three-level", FIT_AUTO);
    near(map.circle.r, SIZE / 2.0, 0, "radius");
    near(map.circle.x, map.width / 2.0, 0, "middle");
    near(share_of(&map, BLACK), segment(1 / 3.0), 0.006, "black");
    near(share_of(&map, ORANGE), 1 - 2 * segment(1 / 3.0), 0.006, "orange");
    near(share_of(&map, YELLOW), segment(1 / 3.0), 0.006, "yellow");
    inkmap_free(&map);
    map = found("three-upright", FIT_AUTO);
    near(share_of(&map, BLUE), segment(0.5), 0.006, "blue");
    near(share_of(&map, ORANGE), segment(0.5), 0.006, "orange");
    assert_true(!map.ink[map.field].transparent && map.ink[map.field].srgb.g > 240); /* white, at the rim */
    inkmap_free(&map);
    map = found("two-slanted", FIT_AUTO);
    near(share_of(&map, BLUE), 0.5, 0.006, "blue half");
    inkmap_free(&map);
}

static void a_flag_lies_whole_on_a_field_of_its_own(void **state) {
    (void)state;
    InkMap map = found("three-upright-long", FIT_AUTO);
    double round = PI * (1 + 4) / 4; /* of the circle round 2 x 1 */
    near(map.circle.r, SIZE * sqrt(5) / 2, 1e-9, "radius");
    assert_true(map.ink[map.field].transparent);
    near(share_of(&map, CLEAR), 1 - 2 / round, 0.001, "round it");
    near(share_of(&map, BLUE), 2 / 3.0 / round, 0.006, "blue");
    double sum = 0, borders = 0, field = 0;
    for (int i = 0; i < map.count; i++) {
        sum += map.ink[i].share;
        field += map.border[map.field][i];
        for (int j = 0; j < i; j++) borders += map.border[i][j];
    }
    near(sum, 1, 1e-12, "shares");
    near(borders, 1, 1e-12, "borders");
    near(field, 6 / 8.0, 0.01, "border to the field"); /* all round, and twice between stripes */
    inkmap_free(&map);
}

static void what_keeps_clear_of_the_border_is_whole_in_the_disc(void **state) {
    (void)state;
    InkMap map = found("emblem", FIT_AUTO);
    near(share_of(&map, BROWN), 0.17 * 0.17 / 0.25, 0.006, "emblem");
    inkmap_free(&map);
    map = found("canton", FIT_AUTO); /* its star would be cut */
    assert_true(!map.cropped && map.beyond);
    inkmap_free(&map);
}

static void a_disc_beside_the_middle_is_taken_where_only_that_keeps_all(void **state) {
    (void)state;
    InkMap map = found("cross-on-white", FIT_AUTO);
    assert_true(map.cropped && map.circle.x < map.width / 2.0 - 0.05 * SIZE);
    near(map.circle.r, SIZE / 2.0, 0, "radius");
    inkmap_free(&map);
}

static void a_flag_in_a_transparent_margin_is_cropped_without_it(void **state) {
    (void)state;
    InkMap map = found("in-margin", FIT_AUTO);
    near(map.circle.r, 0.4 * SIZE, 0.6, "radius"); /* half of its own short side */
    near(map.circle.x, 0.8 * SIZE, 0.6, "middle");
    near(share_of(&map, CLEAR), 0, 0, "margin");
    near(share_of(&map, GREEN) + share_of(&map, WHITE), 1, 1e-9, "flag");
    assert_int_equal(map.width, (int)(1.6 * SIZE)); /* still in the picture's own pixels */
    inkmap_free(&map);
    map = found("in-margin", FIT_WHOLE);
    assert_true(!map.cropped && map.ink[map.field].transparent);
    inkmap_free(&map);
}

static void a_plain_disc_keeps_its_size_in_its_ground(void **state) {
    (void)state;
    InkMap map = found("sun", FIT_AUTO);
    near(map.circle.r, SIZE / 2.0, 0, "radius");
    near(share_of(&map, BLUE), 0.36, 0.006, "sun");
    assert_false(map.roundel || map.cropped);
    inkmap_free(&map);
    map = found("dot", FIT_AUTO); /* transparency tells nothing of a size */
    near(map.circle.r, 0.4 * SIZE, 0.8, "radius");
    assert_false(map.roundel);
    inkmap_free(&map);
}

static void crop_and_whole_are_done_where_they_are_asked_for(void **state) {
    (void)state;
    InkMap map = found("two-bars", FIT_CROP);
    assert_true(map.cropped && !map.beyond);
    near(map.circle.x, map.width / 2.0, 0, "middle");
    assert_true(share_of(&map, GREEN) > 0.1 && share_of(&map, GREEN) < 0.25); /* the star alone */
    inkmap_free(&map);
    map = found("three-level", FIT_WHOLE);
    assert_true(map.beyond && !map.cropped);
    inkmap_free(&map);
    map = found("steam", FIT_WHOLE);
    InkMap other = found("steam", FIT_AUTO);
    near(map.circle.r, other.circle.r, 0, "radius");
    assert_false(map.cropped || map.beyond);
    inkmap_free(&map);
    inkmap_free(&other);
    map = found("badge", FIT_CROP);
    assert_true(map.roundel && !map.cropped);
    inkmap_free(&map);
}

static void an_ink_that_a_crop_leaves_out_is_none_any_more(void **state) {
    (void)state;
    InkMap map = found("pencil", FIT_CROP); /* a disc out of its middle: yellow, and nothing else */
    assert_true(map.cropped);
    near(map.circle.r, SIZE / 2.0, 1, "radius");
    assert_int_equal(map.count, 2);
    near(share_of(&map, YELLOW), 1, 1e-9, "yellow");
    assert_true(map.ink[map.field].transparent);
    for (int i = 0; i < map.width * map.height; i++) assert_in_range(map.label[i], 0, map.count - 1);
    inkmap_free(&map);
}

/* Turned a quarter, the same comes of it, turned a quarter. */
static void a_turned_picture_is_framed_the_same(void **state) {
    (void)state;
    Err err = {0};
    for (int i = 0; i < FRAMING_LOGOS; i++) {
        Picture picture, turned;
        InkMap map, other;
        int size = fmax(framing_logos[i].w, framing_logos[i].h) > 5 ? 40 : 80;
        assert_true(framing_logo_draw(&framing_logos[i], size, &picture, &err));
        int w = picture.width, h = picture.height;
        turned = (Picture){h, w, 1, h, w, mem_alloc((size_t)w * (size_t)h, 4, &err)};
        assert_non_null(turned.rgba);
        for (int y = 0; y < h; y++)
            for (int x = 0; x < w; x++)
                memcpy(turned.rgba + 4 * ((size_t)x * (size_t)h + (size_t)(h - 1 - y)),
                       picture.rgba + 4 * ((size_t)y * (size_t)w + (size_t)x), 4);
        assert_true(find_inks(&picture, &map, &err) && find_inks(&turned, &other, &err));
        if (comes_of(&map) != comes_of(&other)) fail_msg("%s is framed otherwise", framing_logos[i].name);
        near(other.circle.x, h - map.circle.y, 1e-6, framing_logos[i].name);
        near(other.circle.y, map.circle.x, 1e-6, framing_logos[i].name);
        near(other.circle.r, map.circle.r, 1e-6, framing_logos[i].name);
        inkmap_free(&map);
        inkmap_free(&other);
        picture_free(&picture);
        picture_free(&turned);
    }
}

/* Twelve stripes of greys take all the inks there are. */
static void a_picture_of_twelve_inks_has_a_field_too(void **state) {
    (void)state;
    enum { W = 120, H = 60 };
    Err err = {0};
    InkMap map = {.width = W, .height = H, .count = INKS_MAX, .full_bleed = true};
    map.label = mem_alloc((size_t)W * H, 1, &err);
    assert_non_null(map.label);
    map.circle = (Circle){W / 2.0, H / 2.0, sqrt(W * W + H * H) / 2};
    for (int i = 0; i < W * H; i++) map.label[i] = (uint8_t)(i % W / (W / INKS_MAX));
    for (int i = 0; i < INKS_MAX; i++) {
        uint8_t grey = (uint8_t)(250 - 20 * i);
        map.ink[i] = (Ink){.srgb = {grey, grey, grey}, .share = 1.0 / INKS_MAX};
    }
    assert_true(fit_picture(&map, FIT_AUTO, &err));
    assert_true(map.beyond && map.count == INKS_MAX && map.ink[map.field].transparent);
    int darkest = 255;
    for (int i = 0; i < map.count; i++)
        if (i != map.field && map.ink[i].srgb.r < darkest) darkest = map.ink[i].srgb.r;
    assert_int_equal(darkest, 50); /* the last went to its neighbour, the rest is there */
    for (int i = 0; i < W * H; i++) assert_int_not_equal(map.label[i], map.field);
    inkmap_free(&map);
}

/* The steam over a cup, in a jacket that has the steam's own red. */
static double clear_strips(const char *jacket) {
    Err err = {0};
    Shop shop = shop_default();
    Order order = order_default();
    Palette palette;
    Cane cane;
    Grid grid;
    InkMap map = found("steam", FIT_AUTO);
    strcpy(order.field, "white");
    if (jacket) strcpy(order.jacket[order.jackets++], jacket);
    assert_true(match_candy(&map, &order, &shop, &palette, &err) &&
                size_cane(&order, &palette, &shop, &cane, &err) &&
                frame(&map, &palette, &cane.key, &grid, &err));
    double half = grid.wanted.side / 2.0, farthest = 0;
    for (int i = 0; i < grid.wanted.side * grid.wanted.side; i++) {
        if (grid.wanted.candy[i] == OUTSIDE || grid.wanted.candy[i] == grid.field) continue;
        farthest =
            fmax(farthest, hypot(i % grid.wanted.side + 0.5 - half, i / grid.wanted.side + 0.5 - half));
    }
    double clear = (half - farthest) / SAMPLES / grid.least_steps;
    grid_free(&grid);
    inkmap_free(&map);
    return clear;
}

/* One to five pixels high, or wide, with two ends of another colour. */
static void a_picture_of_a_few_rows_is_looked_at_within_them(void **state) {
    (void)state;
    for (int thin = 1; thin <= 5; thin++)
        for (int turned = 0; turned < 2; turned++) {
            const int w = turned ? thin : 60, h = turned ? 60 : thin;
            Err err = {0};
            InkMap map = {0};
            Picture picture = {w, h, 1, w, h, mem_alloc((size_t)(w * h) * 4, 1, &err)};
            assert_non_null(picture.rgba);
            for (int i = 0; i < w * h; i++) {
                int along = turned ? i / w : i % w;
                const uint8_t red[4] = {200, 32, 44, 255}, navy[4] = {26, 36, 84, 255};
                memcpy(picture.rgba + 4 * (size_t)i, along < 20 || along >= 40 ? red : navy, 4);
            }
            assert_true(find_inks(&picture, &map, &err));
            assert_in_range(map.count, 1, 3);
            assert_in_range(map.field, 0, map.count - 1);
            inkmap_free(&map);
            picture_free(&picture);
        }
}

static void a_least_strip_of_field_parts_a_picture_from_a_jacket_of_another_candy(void **state) {
    (void)state;
    near(clear_strips("red"), 1, 0.06, "red");
    near(clear_strips("brown"), 1, 0.06, "brown");
    near(clear_strips("white"), 0.25, 0.06, "white");
    near(clear_strips(NULL), 0.25, 0.06, "of itself");
}

/* The text of a whole job, and what is to be told to the client; both good until the next call. */
static const char *told(Fit fit, const char **client) {
    static char text[16384], sentence[SENTENCE_TEXT];
    Err err = {0};
    Shop shop = shop_default();
    Picture picture;
    assert_true(framing_logo_draw(framing_logo("three-level"), SIZE, &picture, &err));
    InkMap map = found("three-level", fit);
    Job job = {.picture = &picture, .inks = &map, .shop = &shop, .order = order_default()};
    shop.least_strip_mm = 12; /* coarse: it takes no time */
    strcpy(job.file, "flag.png");
    assert_true(job_run(&job, &err));
    memset(text, 0, sizeof text);
    FILE *file = fmemopen(text, sizeof text - 1, "w");
    assert_true(file && write_text(&job, file, &err));
    fclose(file);
    client_print(&job, sentence);
    *client = sentence;
    job_free(&job);
    inkmap_free(&map);
    picture_free(&picture);
    return text;
}

static void that_a_picture_is_cropped_is_told(void **state) {
    (void)state;
    const char *client, *text = told(FIT_AUTO, &client);
    assert_non_null(
        strstr(text, "Picture   cropped to a disc: 53 % of it is left out")); /* 1 - PI / 4 / (5 / 3) */
    assert_non_null(strstr(client, "It is cropped to a disc"));
    text = told(FIT_WHOLE, &client);
    assert_null(strstr(text, "cropped"));
    assert_null(strstr(client, "cropped"));
    assert_non_null(strstr(text, "round it"));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_picture_comes_into_the_disc_as_anybody_expects),
        cmocka_unit_test(a_flag_is_a_disc_of_its_short_side_and_holds_all_its_stripes),
        cmocka_unit_test(a_flag_lies_whole_on_a_field_of_its_own),
        cmocka_unit_test(what_keeps_clear_of_the_border_is_whole_in_the_disc),
        cmocka_unit_test(a_disc_beside_the_middle_is_taken_where_only_that_keeps_all),
        cmocka_unit_test(a_flag_in_a_transparent_margin_is_cropped_without_it),
        cmocka_unit_test(a_plain_disc_keeps_its_size_in_its_ground),
        cmocka_unit_test(crop_and_whole_are_done_where_they_are_asked_for),
        cmocka_unit_test(an_ink_that_a_crop_leaves_out_is_none_any_more),
        cmocka_unit_test(a_turned_picture_is_framed_the_same),
        cmocka_unit_test(a_picture_of_twelve_inks_has_a_field_too),
        cmocka_unit_test(a_picture_of_a_few_rows_is_looked_at_within_them),
        cmocka_unit_test(a_least_strip_of_field_parts_a_picture_from_a_jacket_of_another_candy),
        cmocka_unit_test(that_a_picture_is_cropped_is_told),
    };
    return cmocka_run_group_tests_name("fit_picture", tests, NULL, NULL);
}
