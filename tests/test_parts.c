/* Tests of src/parts/parts.c. SPDX-License-Identifier: MIT */
#include "parts/parts.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { STEPS = 16, SIDE = STEPS * SAMPLES };

/* A raster over a core of 16 steps, drawn as text, a letter a step: '.' the field (candy 0), 'A' candy 1, 'B'
 * 2 … */
typedef struct Raster {
    uint8_t candy[SIDE * SIDE];
} Raster;

static bool in_core(int x, int y) {
    return hypot(x + 0.5 - SIDE / 2.0, y + 0.5 - SIDE / 2.0) < SIDE / 2.0;
}

static void fill(Raster *r, Box box, int candy) {
    for (int y = box.y; y < box.y + box.h; y++)
        for (int x = box.x; x < box.x + box.w; x++)
            if (in_core(x, y)) r->candy[y * SIDE + x] = (uint8_t)candy;
}

static void draw(Raster *r, const char *text) {
    assert_int_equal(strlen(text), STEPS * STEPS);
    memset(r->candy, OUTSIDE, sizeof r->candy);
    for (int i = 0; i < STEPS * STEPS; i++)
        fill(r, (Box){i % STEPS * SAMPLES, i / STEPS * SAMPLES, SAMPLES, SAMPLES},
             text[i] == '.' ? 0 : text[i] - 'A' + 1);
}

static const char *const two_parts = "................"
                                     "................"
                                     "................"
                                     "................"
                                     "................"
                                     "................"
                                     "...AAA....AAA..."
                                     "...AAA....AAA..."
                                     "...AAA....AAA..."
                                     "................"
                                     "................"
                                     "................"
                                     "................"
                                     "................"
                                     "................"
                                     "................";

static const char *const ring = "................"
                                "................"
                                "................"
                                "....AAAAAAAA...."
                                "....AAAAAAAA...."
                                "....AA....AA...."
                                "....AA....AA...."
                                "....AA....AA...."
                                "....AA....AA...."
                                "....AA....AA...."
                                "....AAAAAAAA...."
                                "....AAAAAAAA...."
                                "................"
                                "................"
                                "................"
                                "................";

/* sample_mm: size of a sample at the piece; rings: steps of the rim that are rings; fine: samples that lie
 * in fine blocks. */
static Comparison compare_laid(const Raster *wanted, const Raster *face, double sample_mm, int rings,
                               const uint8_t *fine) {
    Raster w = *wanted, f = *face;
    Comparison c = {0};
    Err err = {0};
    Grid grid = {
        .steps = STEPS, .least_steps = 4, .candies = 3, .wanted = {SIDE, w.candy}, .rings = rings > 0};
    grid.core = (Circle){STEPS / 2.0, STEPS / 2.0, STEPS / 2.0 - rings};
    assert_true(parts_compare(&grid, &(Face){SIDE, f.candy}, fine, sample_mm, &c, &err));
    return c;
}

static Comparison compare_at(const Raster *wanted, const Raster *face, double sample_mm, int rings) {
    return compare_laid(wanted, face, sample_mm, rings, NULL);
}

static Comparison compare(const Raster *wanted, const Raster *face) {
    return compare_at(wanted, face, 1, 0);
}

/* The comparison of two pictures drawn as text; `box` of the second filled with `candy`. */
static Comparison compare_filled(const char *wanted, const char *face, Box box, int candy) {
    Raster w, f;
    draw(&w, wanted);
    draw(&f, face);
    fill(&f, box, candy);
    return compare(&w, &f);
}

static const Box nothing = {0, 0, 0, 0};

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

static void a_perfect_face_keeps_every_part_and_hole(void **state) {
    (void)state;
    Comparison c = compare_filled(ring, ring, nothing, 0);
    assert_int_equal(c.parts, 2); /* the ring and its hole: the open field is neither */
    assert_false(c.part[0].hole);
    assert_true(c.part[1].hole);
    assert_int_equal(c.part[0].samples, (72 - 20) * 64);
    assert_int_equal(c.part[1].samples, 20 * 64);
    near(c.part[1].middle.x, 8 * SAMPLES, 1e-9);
    near(c.part[1].middle.y, 7.5 * SAMPLES, 1e-9);
    assert_int_equal(c.part[0].box.x, 4 * SAMPLES);
    assert_int_equal(c.part[0].box.h, 9 * SAMPLES);
    for (int i = 0; i < 2; i++) {
        near(c.part[i].iou, 1, 0);
        assert_true(c.part[i].kept);
        assert_true(c.part[i].main);
    }
    free(c.part);
}

static void a_picture_of_field_alone_has_no_parts(void **state) {
    (void)state;
    Raster r;
    draw(&r, ring);
    fill(&r, (Box){0, 0, SIDE, SIDE}, 0);
    Comparison c = compare(&r, &r);
    assert_int_equal(c.parts, 0);
    near(c.gap.mm, 0, 0);
    free(c.part);
}

static void parts_are_connected_by_corners_and_holes_are_not(void **state) {
    (void)state;
    Comparison c = compare_filled("................"
                                  "................"
                                  "................"
                                  "................"
                                  "....A...B......."
                                  ".....A.B........"
                                  "................"
                                  "................"
                                  "......CCCC......"
                                  "......C.CC......"
                                  "......CC.C......"
                                  "......CCCC......"
                                  "................"
                                  "................"
                                  "................"
                                  "................",
                                  ring, nothing, 0);
    int holes = 0;
    for (int i = 0; i < c.parts; i++) holes += c.part[i].hole;
    assert_int_equal(holes, 2);
    assert_int_equal(c.parts - holes, 3);
    free(c.part);
}

static void a_part_that_is_not_there_is_lost(void **state) {
    (void)state;
    Comparison c = compare_filled(two_parts, two_parts, (Box){10 * SAMPLES, 6 * SAMPLES, 24, 24}, 0);
    assert_int_equal(c.parts, 2);
    assert_true(c.part[0].kept);
    near(c.part[1].iou, 0, 0);
    assert_false(c.part[1].kept);
    free(c.part);
}

/* 3 x 3 steps wanted, 4 x 3 there: 9 / 12. What lies nearer to the other part is the other part's. */
static void samples_belong_to_the_nearest_part_of_their_candy(void **state) {
    (void)state;
    Comparison c =
        compare_filled(two_parts, two_parts, (Box){2 * SAMPLES, 6 * SAMPLES, SAMPLES, 3 * SAMPLES}, 1);
    near(c.part[0].iou, 9 / 12.0, 1e-12);
    near(c.part[1].iou, 1, 0);
    assert_true(c.part[0].kept);
    free(c.part);
    /* a bridge of 4 x 1 steps over the whole gap: half of it for each */
    c = compare_filled(two_parts, two_parts, (Box){6 * SAMPLES, 7 * SAMPLES, 4 * SAMPLES, SAMPLES}, 1);
    near(c.part[0].iou, 9 / 11.0, 1e-12);
    near(c.part[1].iou, 9 / 11.0, 1e-12);
    free(c.part);
}

static void parts_that_run_together_are_both_lost(void **state) {
    (void)state;
    Comparison c =
        compare_filled(two_parts, two_parts, (Box){6 * SAMPLES, 7 * SAMPLES, 4 * SAMPLES, SAMPLES}, 1);
    for (int i = 0; i < 2; i++) {
        assert_true(c.part[i].run_into);
        assert_false(c.part[i].kept);
    }
    free(c.part);
    c = compare_filled(two_parts, two_parts, (Box){6 * SAMPLES, 7 * SAMPLES, 4 * SAMPLES, SAMPLES}, 2);
    assert_true(c.part[0].kept); /* by another candy: they do not */
    free(c.part);
}

static void half_a_part_that_breaks_off_and_runs_into_another_counts(void **state) {
    (void)state;
    Raster w, f;
    draw(&w, two_parts);
    draw(&f, two_parts);
    fill(&f, (Box){4 * SAMPLES, 6 * SAMPLES, 4, 3 * SAMPLES}, 0); /* splits the left part in two */
    fill(&f, (Box){6 * SAMPLES, 7 * SAMPLES, 4 * SAMPLES, SAMPLES}, 1);
    Comparison c = compare(&w, &f);
    assert_true(c.part[0].run_into && c.part[1].run_into);
    free(c.part);
    fill(&f, (Box){4 * SAMPLES, 6 * SAMPLES, 12, 3 * SAMPLES}, 0); /* a sixth left: too little to count */
    c = compare(&w, &f);
    assert_false(c.part[0].run_into || c.part[1].run_into);
    free(c.part);
}

/* At 0.025 mm a sample, 4 samples are the arc minute that can just be seen. */
static void a_neck_too_thin_to_be_seen_does_not_join(void **state) {
    (void)state;
    for (int width = 1; width <= 8; width++) {
        Raster w, f;
        draw(&w, two_parts);
        draw(&f, two_parts);
        fill(&f, (Box){6 * SAMPLES, 7 * SAMPLES, 4 * SAMPLES, width}, 1);
        Comparison c = compare_at(&w, &f, 0.025, 0);
        assert_int_equal(c.part[0].run_into, width > 4);
        assert_int_equal(c.part[1].run_into, width > 4);
        free(c.part);
        draw(&w, ring);
        draw(&f, ring);
        fill(&f, (Box){7 * SAMPLES, 10 * SAMPLES, width, 2 * SAMPLES}, 0);
        c = compare_at(&w, &f, 0.025, 0);
        assert_int_equal(c.part[1].run_into, width > 4);
        free(c.part);
    }
}

static void a_part_in_the_rings_is_a_ring_and_its_room_no_gap(void **state) {
    (void)state;
    Raster r;
    draw(&r, ring);
    for (int i = 0; i < SIDE * SIDE; i++) {
        double radius = hypot(i % SIDE + 0.5 - SIDE / 2.0, i / SIDE + 0.5 - SIDE / 2.0);
        if (r.candy[i] != OUTSIDE && radius >= 62)
            r.candy[i] = 1;
        else if (r.candy[i] != OUTSIDE && radius >= 60)
            r.candy[i] = 2;
        else if (r.candy[i] != OUTSIDE && radius >= 56)
            r.candy[i] = 1;
    }
    Comparison c = compare_at(&r, &r, 1, 1);
    int rings = 0;
    for (int i = 0; i < c.parts; i++) rings += c.part[i].ring;
    assert_int_equal(rings, 3);
    assert_true(c.gap.mm > 12); /* from the ring to the picture, not the 2 between the rings */
    free(c.part);
    c = compare_at(&r, &r, 1, 0);
    for (int i = 0; i < c.parts; i++) assert_false(c.part[i].ring);
    assert_true(c.gap.mm < 4);
    free(c.part);
}

/* from..to: radii in samples; only the columns left of `right`. */
static void fill_ring(Raster *r, double from, double to, int right, int candy) {
    for (int i = 0; i < SIDE * SIDE; i++) {
        double radius = hypot(i % SIDE + 0.5 - SIDE / 2.0, i / SIDE + 0.5 - SIDE / 2.0);
        if (r->candy[i] != OUTSIDE && radius >= from && radius < to && i % SIDE < right)
            r->candy[i] = (uint8_t)candy;
    }
}

static void a_ring_is_kept_as_far_as_it_runs_round_however_thick(void **state) {
    (void)state;
    Raster w, f;
    draw(&w, ring);
    f = w;
    fill_ring(&w, 60, 62, SIDE, 2);
    fill_ring(&f, 56, 64, SIDE, 2);
    Comparison c = compare_at(&w, &f, 1, 1);
    assert_true(c.part[0].ring);
    near(c.part[0].iou, 1, 0);
    free(c.part);
    c = compare_at(&w, &f, 1, 0); /* were it no ring: 2 of 8 */
    near(c.part[0].iou, 0.25, 0.03);
    free(c.part);
    draw(&f, ring);
    fill_ring(&f, 56, 64, SIDE / 2, 2);
    c = compare_at(&w, &f, 1, 1);
    near(c.part[0].iou, 0.5, 0.01);
    free(c.part);
}

/* Thin lines round a large hole: without them the field is where the hole was, but no hole is to be seen. */
static void a_hole_that_ran_out_is_no_better_than_what_should_enclose_it(void **state) {
    (void)state;
    Raster w, f;
    draw(&w, ring);
    fill(&w, (Box){0, 0, SIDE, SIDE}, 0);
    f = w;
    fill(&w, (Box){32, 32, 64, 64}, 1);
    fill(&w, (Box){34, 34, 60, 60}, 0);
    Comparison c = compare(&w, &f);
    assert_int_equal(c.parts, 2);
    near(c.part[0].iou, 0, 0);
    near(c.part[1].iou, 0, 0);
    free(c.part);
    fill(&f, (Box){32, 32, 64, 64}, 1); /* the left half of the lines */
    fill(&f, (Box){34, 34, 60, 60}, 0);
    fill(&f, (Box){64, 32, 32, 64}, 0);
    c = compare(&w, &f);
    near(c.part[0].iou, 0.5, 0.02);
    near(c.part[1].iou, c.part[0].iou, 1e-12);
    free(c.part);
}

static void a_crumb_that_runs_into_a_main_part_is_the_crumbs_loss(void **state) {
    (void)state;
    Raster wanted, face;
    draw(&wanted, ring);
    fill(&wanted, (Box){60, 14, 6, 6}, 1); /* 36 samples, 4 above the ring */
    face = wanted;
    fill(&face, (Box){60, 20, 6, 4}, 1);
    Comparison c = compare(&wanted, &face);
    assert_int_equal(c.parts, 3);
    assert_false(c.part[0].main);
    assert_false(c.part[0].speck);
    assert_true(c.part[0].run_into);
    assert_false(c.part[1].run_into);
    assert_true(c.part[1].kept);
    free(c.part);
}

static void a_filled_hole_is_lost_and_so_is_one_that_broke_open(void **state) {
    (void)state;
    Comparison c = compare_filled(ring, ring, (Box){6 * SAMPLES, 5 * SAMPLES, 32, 40}, 1);
    near(c.part[1].iou, 0, 0);
    assert_false(c.part[1].kept);
    near(c.part[0].iou, 52 / 72.0, 1e-12);
    assert_true(c.part[0].kept);
    free(c.part);
    c = compare_filled(ring, ring, (Box){7 * SAMPLES, 10 * SAMPLES, SAMPLES, 2 * SAMPLES}, 0);
    assert_true(c.part[1].run_into);
    assert_false(c.part[1].kept);
    assert_true(c.part[1].iou > 0.9); /* 20 steps, and the nearer half of two more: 20 / 21 */
    near(c.part[1].iou, 20 / 21.0, 1e-12);
    free(c.part);
}

/* The core has 12 868 samples: 0.15 % are 19.3. */
static void under_fifteen_ten_thousandths_of_the_core_is_a_speck(void **state) {
    (void)state;
    Raster r;
    draw(&r, ring);
    fill(&r, (Box){20, 20, 19, 1}, 2);
    fill(&r, (Box){20, 40, 5, 4}, 2);
    Comparison c = compare(&r, &r);
    assert_int_equal(c.parts, 4);
    for (int i = 0; i < c.parts; i++) {
        assert_int_equal(c.part[i].speck, c.part[i].samples == 19);
        assert_int_equal(c.part[i].main, c.part[i].samples > 20);
    }
    free(c.part);
}

static void a_stroke_is_as_fine_as_its_width_to_a_sample(void **state) {
    (void)state;
    for (int width = 2; width <= 40; width++) {
        Raster r;
        draw(&r, ring);
        fill(&r, (Box){0, 0, SIDE, SIDE}, 0);
        fill(&r, (Box){64 - width / 2, 10, width, 108}, 1);
        Comparison c = compare(&r, &r);
        assert_int_equal(c.parts, 1);
        near(c.part[0].stroke_mm, width, 1);
        free(c.part);
    }
}

static void a_slanting_stroke_is_as_fine_as_an_upright_one(void **state) {
    (void)state;
    for (int degrees = 0; degrees < 180; degrees += 15) {
        Raster r;
        draw(&r, ring);
        double nx = cos(degrees * PI / 180), ny = sin(degrees * PI / 180);
        for (int i = 0; i < SIDE * SIDE; i++) {
            double x = i % SIDE + 0.5 - SIDE / 2.0, y = i / SIDE + 0.5 - SIDE / 2.0;
            if (r.candy[i] != OUTSIDE)
                r.candy[i] = fabs(x * nx + y * ny) < 7.25 && fabs(y * nx - x * ny) < 52;
        }
        Comparison c = compare(&r, &r);
        near(c.part[0].stroke_mm, 14.5, 1);
        free(c.part);
    }
}

/* A narrow tail that makes up less than a tenth does not count; one that makes up more does. */
static void a_tenth_of_a_part_may_be_finer_than_its_stroke(void **state) {
    (void)state;
    for (int tail = 20; tail <= 40; tail += 20) {
        Raster r;
        draw(&r, ring);
        fill(&r, (Box){0, 0, SIDE, SIDE}, 0);
        fill(&r, (Box){50, 60, 30, 40}, 1); /* 1200 samples, corners of a disc of 30 left out: 193 */
        fill(&r, (Box){64, 60 - tail, 4, tail}, 1);
        Comparison c = compare(&r, &r);
        assert_int_equal(c.parts, 1);
        if (tail == 20)
            assert_true(c.part[0].stroke_mm > 12);
        else
            near(c.part[0].stroke_mm, 4, 1);
        free(c.part);
    }
}

static void a_gap_is_as_fine_as_the_room_between_parts_of_a_candy(void **state) {
    (void)state;
    for (int gap = 3; gap <= 30; gap += 3) {
        Raster r;
        draw(&r, ring);
        fill(&r, (Box){0, 0, SIDE, SIDE}, 0);
        fill(&r, (Box){30, 40, 32, 48}, 1);
        fill(&r, (Box){62 + gap, 40, 22, 48}, 1);
        Comparison c = compare(&r, &r);
        assert_int_equal(c.parts, 2);
        /* the gap is 48 x gap of 2592 samples: from a tenth on, 259 = 48 x 5.4 */
        if (gap >= 6)
            near(c.gap.mm, gap, 1);
        else
            assert_true(c.gap.mm > 8);
        near(c.gap_of_main.mm, c.gap.mm, 0);
        free(c.part);
    }
}

static void a_hole_is_a_gap(void **state) {
    (void)state;
    Raster r;
    draw(&r, ring);
    fill(&r, (Box){0, 0, SIDE, SIDE}, 0);
    fill(&r, (Box){30, 30, 68, 68}, 1);
    fill(&r, (Box){50, 60, 30, 7}, 0);
    Comparison c = compare(&r, &r);
    assert_int_equal(c.parts, 2);
    near(c.part[1].stroke_mm, 7, 1);
    near(c.gap.mm, c.part[1].stroke_mm, 0);
    near(c.gap_of_main.mm, c.part[1].stroke_mm, 0); /* 210 of 4624 samples: 4.5 % */
    free(c.part);
}

/* Two gaps, 12 and 8 samples wide; fine blocks lie round the finer one, or the other, or neither. */
static void a_gap_in_fine_blocks_is_told_to_be_so(void **state) {
    (void)state;
    Raster r;
    draw(&r, ring);
    fill(&r, (Box){0, 0, SIDE, SIDE}, 0);
    fill(&r, (Box){24, 24, 36, 40}, 1);
    fill(&r, (Box){72, 24, 36, 40}, 1); /* 12 from the one on its left */
    fill(&r, (Box){24, 72, 84, 32}, 2);
    fill(&r, (Box){62, 72, 8, 32}, 0);
    for (int where = 0; where < 3; where++) {
        static uint8_t fine[SIDE * SIDE];
        for (int y = 0; y < SIDE; y++)
            for (int x = 0; x < SIDE; x++)
                fine[y * SIDE + x] = where > 0 && (y >= 72) == (where == 1) && x >= 56 && x < 72;
        Comparison c = compare_laid(&r, &r, 1, 0, fine);
        assert_int_equal(c.parts, 4);
        near(c.gap.mm, where == 1 ? 12 : 8, 1.5); /* 8 in a fine block is as good as 16 */
        assert_false(c.gap.fine);
        free(c.part);
    }
    static uint8_t all[SIDE * SIDE];
    memset(all, 1, sizeof all);
    Comparison c = compare_laid(&r, &r, 1, 0, all);
    near(c.gap.mm, 8, 1.5);
    assert_true(c.gap.fine && c.part[0].fine);
    free(c.part);
}

static void where_specks_are_half_of_the_drawing_they_are_no_specks(void **state) {
    (void)state;
    Raster r;
    draw(&r, ring);
    fill(&r, (Box){0, 0, SIDE, SIDE}, 0);
    for (int i = 0; i < 6; i++) fill(&r, (Box){30 + 8 * i, 60, 6, 3}, 1);
    Comparison c = compare(&r, &r);
    assert_int_equal(c.parts, 6);
    for (int i = 0; i < c.parts; i++) assert_true(c.part[i].main && !c.part[i].speck);
    free(c.part);
    fill(&r, (Box){30, 90, 36, 3}, 1); /* as much again in one piece, and one more */
    fill(&r, (Box){66, 90, 1, 1}, 1);
    c = compare(&r, &r);
    assert_int_equal(c.parts, 7);
    for (int i = 0; i < c.parts; i++) assert_int_equal(c.part[i].speck, c.part[i].samples == 18);
    free(c.part);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_perfect_face_keeps_every_part_and_hole),
        cmocka_unit_test(a_picture_of_field_alone_has_no_parts),
        cmocka_unit_test(parts_are_connected_by_corners_and_holes_are_not),
        cmocka_unit_test(a_part_that_is_not_there_is_lost),
        cmocka_unit_test(samples_belong_to_the_nearest_part_of_their_candy),
        cmocka_unit_test(parts_that_run_together_are_both_lost),
        cmocka_unit_test(half_a_part_that_breaks_off_and_runs_into_another_counts),
        cmocka_unit_test(a_neck_too_thin_to_be_seen_does_not_join),
        cmocka_unit_test(a_part_in_the_rings_is_a_ring_and_its_room_no_gap),
        cmocka_unit_test(a_ring_is_kept_as_far_as_it_runs_round_however_thick),
        cmocka_unit_test(a_hole_that_ran_out_is_no_better_than_what_should_enclose_it),
        cmocka_unit_test(a_crumb_that_runs_into_a_main_part_is_the_crumbs_loss),
        cmocka_unit_test(a_filled_hole_is_lost_and_so_is_one_that_broke_open),
        cmocka_unit_test(under_fifteen_ten_thousandths_of_the_core_is_a_speck),
        cmocka_unit_test(where_specks_are_half_of_the_drawing_they_are_no_specks),
        cmocka_unit_test(a_stroke_is_as_fine_as_its_width_to_a_sample),
        cmocka_unit_test(a_slanting_stroke_is_as_fine_as_an_upright_one),
        cmocka_unit_test(a_tenth_of_a_part_may_be_finer_than_its_stroke),
        cmocka_unit_test(a_gap_is_as_fine_as_the_room_between_parts_of_a_candy),
        cmocka_unit_test(a_hole_is_a_gap),
        cmocka_unit_test(a_gap_in_fine_blocks_is_told_to_be_so),
    };
    return cmocka_run_group_tests_name("parts", tests, NULL, NULL);
}
