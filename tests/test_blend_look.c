/* Tests of how blends are drawn, src/draw/blend_look.c, and told. SPDX-License-Identifier: MIT */
#include "draw/cut_end.h"

#include "draw/bench_pages.h"
#include "draw/draw.h"
#include "draw/scene.h"
#include "face_job.h"
#include "model/blend.h"
#include "say/bench_words.h"

#include <stdio.h>

static Candy blend_of(const Shop *shop, const char *text) {
    BlendWish wish;
    Candy blend;
    Err err = {0};
    if (!blend_read(text, "-m", &wish, &err)) fail_msg("%s", err.msg);
    const Candy *of[] = {&shop->stock.candy[stock_find(&shop->stock, wish.name[0])],
                         &shop->stock.candy[stock_find(&shop->stock, wish.name[1])]};
    if (!blend_make(of, wish.parts, text, "-m", &blend, &err)) fail_msg("%s", err.msg);
    return blend;
}

static double light_of(Linear c) {
    return c.r + c.g + c.b;
}

/* --- the look --- */

enum { HEIGHTS = 1000 };

/* Heights that are not spread evenly. */
static void fill_heights(double height[HEIGHTS]) {
    for (int i = 0; i < HEIGHTS; i++) height[i] = pow((i + 0.5) / HEIGHTS, 1.5) * 1.8 - 0.9;
}

static void each_candy_has_its_share_of_the_layers(void **state) {
    (void)state;
    const Shop shop = shop_default();
    static const char *const texts[] = {"violet+white", "violet+2white", "9navy+white", "2white+red"};
    double height[HEIGHTS];
    fill_heights(height);
    for (int k = 0; k < 4; k++) {
        const Candy blend = blend_of(&shop, texts[k]);
        BlendLook look;
        blend_look_make(&blend, height, HEIGHTS, &look);
        assert_true(look.streaked);
        double dark = light_of(look.light[0]), light = light_of(look.light[LOOK - 1]), second = 0;
        for (int i = 0; i < HEIGHTS; i++) {
            double at = light_of(blend_look_at(&look, height[i], 0, 1));
            second += fabs(at - light) < fabs(at - dark);
        }
        near(second / HEIGHTS, blend_volume_share(&blend, 1), 0.03);
        assert_true(fabs(dark - light) > 0.1 * light_of(look.stated)); /* they are told apart */
    }
}

static void the_mean_of_the_layers_is_the_stated_colour(void **state) {
    (void)state;
    const Shop shop = shop_default();
    double height[HEIGHTS];
    fill_heights(height);
    for (int k = 0; k < 13; k++) {
        char text[64];
        (void)snprintf(text, sizeof text, "%s+%dwhite", shop.stock.candy[k + 1].name, 1 + k % 9);
        const Candy blend = blend_of(&shop, text);
        BlendLook look;
        blend_look_make(&blend, height, HEIGHTS, &look);
        Linear sum = {0, 0, 0}, want = rgb8_linear(blend.srgb), unseen = blend_look_at(&look, 0.3, 0, 0);
        for (int i = 0; i < HEIGHTS; i++) {
            Linear c = blend_look_at(&look, height[i], 0, 1);
            sum = (Linear){sum.r + c.r, sum.g + c.g, sum.b + c.b};
        }
        near(sum.r / HEIGHTS, want.r, 1e-9);
        near(sum.g / HEIGHTS, want.g, 1e-9);
        near(sum.b / HEIGHTS, want.b, 1e-9);
        assert_memory_equal(&unseen, &want, sizeof want);
    }
}

/* --- face and mock-up --- */

static int all_one(double x, double y) {
    (void)x;
    (void)y;
    return 0;
}

/* Light of the middle of the face of one candy: its mean, and how far from it pixels are, in parts of it. */
static Linear middle_of(const Candy *candy, Shop *shop, int side, double *spread) {
    Job job = face_job(all_one);
    job.shop = shop;
    job.palette.candy[0] = job.palette.jacket[0] = *candy;
    Err err = {0};
    CutEnd cut;
    assert_true(cut_end_paint(&job, side, CUT_FLAT, &cut, &err));
    Linear sum = {0, 0, 0};
    double squares = 0, lights = 0;
    int count = 0;
    for (int i = 0; i < side * side; i++) {
        if (hypot(i % side + 0.5 - side / 2.0, (int)(i / side) + 0.5 - side / 2.0) > 0.42 * side) continue;
        const float *p = cut.rgba + 4 * i;
        sum = (Linear){sum.r + (double)p[0], sum.g + (double)p[1], sum.b + (double)p[2]};
        double light = (double)p[0] + (double)p[1] + (double)p[2];
        lights += light;
        squares += light * light;
        count++;
    }
    *spread = sqrt(squares / count - pow(lights / count, 2)) / (lights / count);
    cut_end_free(&cut);
    face_free(&job.face);
    return (Linear){sum.r / count, sum.g / count, sum.b / count};
}

static void a_blend_is_drawn_streaked_with_its_own_mean(void **state) {
    (void)state;
    Shop shop = shop_default();
    static const char *const texts[] = {"violet+white", "red+2white", "3navy+sky blue"};
    for (int k = 0; k < 3; k++) {
        const Candy blend = blend_of(&shop, texts[k]);
        Candy plain = blend;
        double streaked, even;
        memset(plain.blend, 0, sizeof plain.blend);
        Linear mean = middle_of(&blend, &shop, 500, &streaked);
        (void)middle_of(&plain, &shop, 500, &even);
        if (streaked < 3 * even) fail_msg("%s: %.3f, a plain one %.3f", texts[k], streaked, even);
        near(delta_e00(linear_lab(mean), rgb8_lab(blend.srgb)), 0, 1.5);
    }
}

/* Layers under a pixel are not drawn, and the more the candy is folded the less is seen of them. */
static void folding_makes_a_blend_even(void **state) {
    (void)state;
    Shop shop = shop_default();
    const Candy blend = blend_of(&shop, "violet+white");
    double before = 1;
    for (int folds = 2; folds <= 8; folds += 2) {
        double spread;
        shop.blend_folds = folds;
        Linear mean = middle_of(&blend, &shop, 500, &spread);
        assert_true(folds == 2 ? spread > 0.2 : spread < before);
        near(delta_e00(linear_lab(mean), rgb8_lab(blend.srgb)), 0, 1.5);
        before = spread + 1e-9;
    }
    assert_true(before < 0.06);
}

static void a_blended_jacket_is_streaked_along_the_side(void **state) {
    (void)state;
    Shop shop = shop_default();
    Job job = face_job(all_one);
    Err err = {0};
    job.shop = &shop;
    double spread[2];
    for (int blended = 0; blended < 2; blended++) {
        job.palette.jacket[0] = blend_of(&shop, "red+white");
        if (!blended) memset(job.palette.jacket[0].blend, 0, sizeof job.palette.jacket[0].blend);
        PieceSurface surface;
        assert_true(piece_surface_new(&job, 100, &surface, &err));
        const Piece piece = {.radius = 8, .length = 14, .number = 5};
        double sum = 0, squares = 0;
        enum { PLACES = 2000 };
        for (int i = 0; i < PLACES; i++) {
            double turn = i * 2 * PI / PLACES;
            Hit hit = {.surface = SURFACE_SIDE, .u = sin(turn), .v = cos(turn), .along = 0.3};
            double light = light_of(piece_surface_colour(&surface, &piece, &hit, 1));
            sum += light;
            squares += light * light;
        }
        spread[blended] = sqrt(squares / PLACES - pow(sum / PLACES, 2)) / (sum / PLACES);
        near(sum / PLACES / light_of(rgb8_linear(job.palette.jacket[0].srgb)), 1, 0.06);
        piece_surface_free(&surface);
    }
    assert_true(spread[1] > 3 * spread[0]);
    face_free(&job.face);
}

/* --- the bench --- */

static BlendRow row_of(const Shop *shop, const char *text, double first_g, double second_g) {
    return (BlendRow){.whole = {.candy = blend_of(shop, text), .mass_g = 1, .with_spare_g = 1},
                      .part_g = {first_g, second_g}};
}

static void the_bench_is_told_what_to_fold(void **state) {
    (void)state;
    Shop shop = shop_default();
    shop.blend_folds = 5;
    Job job = face_job(all_one);
    job.shop = &shop;
    job.cane.logs = 1;
    job.bill.blend[0] = row_of(&shop, "violet+2white", 158, 316);
    job.bill.blends = 1;
    char words[ROPE_LINE];
    blend_words(&job, &job.bill.blend[0], FORM_TEXT, words);
    assert_string_equal(words, "violet+2white: fold 158 g violet and 316 g white together, 5 times (habit)");
    blend_words(&job, &job.bill.blend[0], FORM_SHEET, words);
    assert_string_equal(words, "Fold 158 g violet and 316 g white to violet+2white: side by side, drawn out "
                               "and folded 5 times (habit).");
    job.cane.logs = 2;
    blend_words(&job, &job.bill.blend[0], FORM_SHEET, words);
    assert_non_null(strstr(words, "violet+2white, for each log: "));
    candy_words(&job.bill.blend[0].whole.candy, words);
    assert_string_equal(words, "violet+2white, pulled, folded");
    face_free(&job.face);
}

/* After the pulling, before ropes are drawn. */
static void folding_stands_in_the_order_of_work_where_it_is_done(void **state) {
    (void)state;
    Shop shop = shop_default();
    Job job = face_job(all_one);
    WorkStep step[WORK_STEPS];
    job.shop = &shop;
    job.cane.logs = 2;
    assert_int_equal(work_words(&job, step), WORK_STEPS - 1);
    assert_non_null(strstr(step[0].text, "All of it for each log."));
    job.bill.blend[job.bill.blends++] = row_of(&shop, "violet+2white", 158, 316);
    job.bill.blend[job.bill.blends++] = row_of(&shop, "red+blue", 0, 0);
    job.bill.blend[1].whole.mass_g = 0; /* it found no place in the log */
    assert_int_equal(work_words(&job, step), WORK_STEPS);
    assert_non_null(strstr(step[0].text, "All of it for each log."));
    assert_non_null(strstr(step[1].text, "Pull those named pulled"));
    assert_string_equal(step[2].text, "Fold 158 g violet and 316 g white to violet+2white, 3 times (habit).");
    job.bill.blend[1].whole.mass_g = 1;
    (void)work_words(&job, step);
    assert_non_null(strstr(step[2].text, "; 0 g red and 0 g blue to red+blue, 3 times each (habit)."));
    for (int i = 2; i < 4; i++) job.bill.blend[job.bill.blends++] = job.bill.blend[0];
    (void)work_words(&job, step);
    assert_string_equal(step[2].text, "Fold the 4 blends (page \"Ropes to pull\"), 3 times each (habit).");
    face_free(&job.face);
}

/* Red is hatched alike in two jobs, whatever else is in them, unless it is their ground. */
static void a_candy_keeps_its_hatch_from_job_to_job(void **state) {
    (void)state;
    const Shop shop = shop_default();
    const Candy white = shop.stock.candy[0], red = shop.stock.candy[4], navy = shop.stock.candy[11];
    Job one = {.shop = &shop, .palette = {.count = 2, .candy = {white, red}}},
        other = {.shop = &shop, .palette = {.count = 3, .candy = {navy, white, red}}},
        ground = {.shop = &shop, .palette = {.count = 2, .candy = {red, white}}};
    assert_int_equal(hatch_of(&one, &red), hatch_of(&other, &red));
    assert_int_equal(hatch_of(&other, &white), hatch_of(&ground, &white));
    assert_int_equal(hatch_of(&ground, &red), 0);
    assert_int_not_equal(hatch_of(&other, &red), hatch_of(&other, &white));
}

static void a_blend_has_a_hatch_of_its_own(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Job job = face_job(all_one);
    job.palette.candy[1] = blend_of(&shop, "violet+white");
    job.bill.materials = 2;
    job.bill.material[0].candy = job.palette.candy[0];
    job.bill.material[1].candy = blend_candy(&job.palette.candy[1], 0);
    job.shop = &shop;
    const Candy *candy[] = {&job.palette.candy[0], &job.palette.candy[1], &job.palette.candy[2],
                            &job.palette.jacket[0],
                            &job.bill.material[1].candy}; /* violet is in blends only */
    enum { DRAWN = sizeof candy / sizeof *candy };
    assert_int_equal(hatch_of(&job, candy[0]), 0);
    for (int i = 0; i < DRAWN; i++)
        for (int k = 0; k < i; k++) assert_int_not_equal(hatch_of(&job, candy[i]), hatch_of(&job, candy[k]));
    face_free(&job.face);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(each_candy_has_its_share_of_the_layers),
                                       cmocka_unit_test(the_mean_of_the_layers_is_the_stated_colour),
                                       cmocka_unit_test(a_blend_is_drawn_streaked_with_its_own_mean),
                                       cmocka_unit_test(folding_makes_a_blend_even),
                                       cmocka_unit_test(a_blended_jacket_is_streaked_along_the_side),
                                       cmocka_unit_test(the_bench_is_told_what_to_fold),
                                       cmocka_unit_test(folding_stands_in_the_order_of_work_where_it_is_done),
                                       cmocka_unit_test(a_candy_keeps_its_hatch_from_job_to_job),
                                       cmocka_unit_test(a_blend_has_a_hatch_of_its_own)};
    return cmocka_run_group_tests_name("blend_look", tests, NULL, NULL);
}
