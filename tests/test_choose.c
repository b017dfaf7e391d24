/* Tests of src/run/choose.c and src/plan/choose_field.c: candies as a maker would take them. What is wanted
 * was told by eye, no source. SPDX-License-Identifier: MIT */
#include "run/choose.h"

#include "fault_logos.h"
#include "inks/inks.h"
#include "model/shop.h"
#include "plan/plan.h"
#include "plan/plan_parts.h"
#include "run/run.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

/* --- logos --- */

typedef void Drawing(cairo_t *c);

typedef struct Chosen {
    InkMap inks;
    Palette palette;
    Choice choice;
} Chosen;

static Chosen choose(Drawing *draw, unsigned rgb, const Shop *shop, const Order *order) {
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, FAULT_SIDE, FAULT_SIDE);
    cairo_t *c = cairo_create(surface);
    if (draw)
        draw(c);
    else
        draw_letter_logo(c, rgb);
    cairo_destroy(c);
    Err err = {0};
    Picture picture = {0};
    Chosen out = {0};
    assert_true(fault_picture(surface, &picture, &err));
    cairo_surface_destroy(surface);
    assert_true(find_inks(&picture, &out.inks, &err));
    Job job = {.picture = &picture, .inks = &out.inks, .shop = shop, .order = *order};
    assert_true(choose_palette(&job, &out.palette, &out.choice, &err));
    picture_free(&picture);
    return out;
}

static const char *field_of(const Chosen *chosen) {
    return chosen->palette.candy[chosen->palette.field].name;
}

static bool has(const Chosen *chosen, const char *candy) {
    for (int i = 0; i < chosen->palette.count; i++)
        if (strcmp(chosen->palette.candy[i].name, candy) == 0) return true;
    return false;
}

static double chroma_of(Rgb8 srgb) {
    Lab lab = rgb8_lab(srgb);
    return sqrt(lab.a * lab.a + lab.b * lab.b);
}

static void logos_on_transparency_come_on_white(void **state) {
    (void)state;
    static Drawing *const drawing[] = {draw_arrows_logo, draw_cake_logo, draw_cup_logo, draw_muffin_logo,
                                       draw_blades_logo};
    const Shop shop = shop_default();
    const Order order = order_default();
    for (size_t i = 0; i < sizeof drawing / sizeof *drawing; i++) {
        Chosen chosen = choose(drawing[i], 0, &shop, &order);
        assert_string_equal(field_of(&chosen), "white");
        inkmap_free(&chosen.inks);
    }
}

static void a_face_keeps_black_eyes(void **state) {
    (void)state;
    const Shop shop = shop_default();
    const Order order = order_default();
    Chosen chosen = choose(draw_face_logo, 0, &shop, &order);
    assert_true(has(&chosen, "black"));
    assert_true(has(&chosen, "white"));
    inkmap_free(&chosen.inks);
}

static void what_would_be_lost_on_white_gets_a_neutral_field(void **state) {
    (void)state;
    static Drawing *const drawing[] = {draw_skull_logo, draw_mountain_logo, draw_house_logo};
    const Shop shop = shop_default();
    const Order order = order_default();
    for (size_t i = 0; i < sizeof drawing / sizeof *drawing; i++) {
        Chosen chosen = choose(drawing[i], 0, &shop, &order);
        const Candy *field = &chosen.palette.candy[chosen.palette.field];
        assert_string_not_equal(field->name, "white");
        assert_true(chroma_of(field->srgb) < 15);
        assert_true(has(&chosen, i == 2 ? "cream" : "white"));
        inkmap_free(&chosen.inks);
    }
}

static void a_field_that_is_asked_for_is_kept(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Order order = order_default();
    strcpy(order.field, "red");
    Chosen chosen = choose(draw_cup_logo, 0, &shop, &order);
    assert_string_equal(field_of(&chosen), "red");
    inkmap_free(&chosen.inks);
}

static void letters_keep_their_colour_on_white(void **state) {
    (void)state;
    static const struct {
        unsigned rgb;
        double least, most; /* CIELAB chroma of the candy */
    } letter[] = {{0x475569, 0, 25}, {0x36454F, 0, 25}, {0x0B3D0B, 20, 99}, {0xF27A1A, 40, 140}};
    const Order order = order_default();
    for (int dye = 0; dye < 2; dye++)
        for (size_t i = 0; i < sizeof letter / sizeof *letter; i++) {
            Shop shop = shop_default();
            shop.dye_to_order = dye;
            Chosen chosen = choose(NULL, letter[i].rgb, &shop, &order);
            assert_string_equal(field_of(&chosen), "white");
            assert_int_equal(chosen.palette.count, 2);
            const Candy *candy = &chosen.palette.candy[1 - chosen.palette.field];
            assert_int_equal(candy->finish, FINISH_PULLED);
            double chroma = chroma_of(candy->srgb);
            if (chroma < letter[i].least || chroma > letter[i].most)
                fail_msg("#%06X became %s", letter[i].rgb, candy->name);
            inkmap_free(&chosen.inks);
        }
}

/* --- the choice --- */

static void candies_depend_on_neither_size_nor_number(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Order order = order_default(), large = order;
    large.pieces = 5000;
    large.piece_diameter_mm = 30;
    large.detail = DETAIL_PLAIN;
    Drawing *const drawing[] = {draw_cake_logo, draw_muffin_logo, draw_skull_logo};
    for (int i = 0; i < 3; i++) {
        Chosen one = choose(drawing[i], 0, &shop, &order), other = choose(drawing[i], 0, &shop, &large);
        assert_int_equal(one.palette.count, other.palette.count);
        for (int k = 0; k < one.palette.count; k++)
            assert_string_equal(one.palette.candy[k].name, other.palette.candy[k].name);
        inkmap_free(&one.inks);
        inkmap_free(&other.inks);
    }
}

static void the_taken_one_is_the_best_of_those_tried(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Order order = order_default();
    order.colours = 3;
    Chosen chosen = choose(draw_cake_logo, 0, &shop, &order);
    const Choice *choice = &chosen.choice;
    assert_true(choice->count > 1);
    const Tried *taken = &choice->tried[choice->taken];
    assert_int_equal(taken->loss, LOSS_NONE);
    for (int i = 0; i < choice->count; i++) {
        const Tried *tried = &choice->tried[i];
        assert_true(tried->palette.count <= 3);
        assert_true(tried->verdict >= taken->verdict);
        if (tried->verdict == taken->verdict) assert_true(tried->worth <= taken->worth + 0.01);
        if (i != choice->taken) assert_int_not_equal(tried->loss, LOSS_NONE);
        assert_true(tried->colour >= 0 && tried->colour <= 1);
        assert_true(tried->contrast >= 0 && tried->contrast <= 1);
    }
    inkmap_free(&chosen.inks);
}

static void answers_differ_and_the_first_is_the_cheapest(void **state) {
    (void)state;
    uint64_t seed = 5;
    for (int round = 0; round < 200; round++) {
        Assignment a = {.inks = 2 + round % 4, .choices = 6, .limit = 2 + round % 3, .beyond = -1};
        for (int i = 0; i < INKS_MAX; i++) a.fixed[i] = -1;
        for (int i = 0; i < a.inks; i++)
            for (int c = 0; c < a.choices; c++) {
                seed = seed * 6364136223846793005u + 1442695040888963407u;
                a.colour[i][c] = (double)(seed >> 40) / 2e6;
            }
        a.fixed[0] = round % 5 == 0 ? 2 : -1;
        Answer answer[PALETTES_MAX];
        int best[INKS_MAX], count = cheapest_answers(&a, answer);
        assert_true(count >= 1 && count <= PALETTES_MAX);
        assert_true(fabs(answer[0].cost - cheapest_candies(&a, best)) < 1e-9);
        for (int i = 0; i < count; i++) {
            assert_true(answer[i].cost >= answer[0].cost - 1e-9);
            if (a.fixed[0] >= 0) assert_int_equal(answer[i].of_ink[0], 2);
            for (int k = 0; k < i; k++)
                assert_memory_not_equal(answer[i].of_ink, answer[k].of_ink, (size_t)a.inks * sizeof(int));
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(logos_on_transparency_come_on_white),
        cmocka_unit_test(a_face_keeps_black_eyes),
        cmocka_unit_test(what_would_be_lost_on_white_gets_a_neutral_field),
        cmocka_unit_test(a_field_that_is_asked_for_is_kept),
        cmocka_unit_test(letters_keep_their_colour_on_white),
        cmocka_unit_test(candies_depend_on_neither_size_nor_number),
        cmocka_unit_test(the_taken_one_is_the_best_of_those_tried),
        cmocka_unit_test(answers_differ_and_the_first_is_the_cheapest),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
