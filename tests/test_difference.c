/* Tests of src/parts/difference.c. SPDX-License-Identifier: MIT */
#include "parts/parts.h"

#include "model/shop.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>
#include <cmocka.h>

enum { STEPS = 10, SIDE = STEPS * SAMPLES };

static const double sample_mm = 0.025;

typedef struct Raster {
    uint8_t candy[SIDE * SIDE];
} Raster;

static void draw_field(Raster *r) {
    for (int i = 0; i < SIDE * SIDE; i++) {
        double x = i % SIDE + 0.5 - SIDE / 2.0, y = i / SIDE + 0.5 - SIDE / 2.0;
        r->candy[i] = x * x + y * y < SIDE * SIDE / 4.0 ? 0 : OUTSIDE;
    }
}

/* Fills a disc given in samples. */
static void fill(Raster *r, double x, double y, double radius, int candy) {
    for (int i = 0; i < SIDE * SIDE; i++) {
        double u = i % SIDE + 0.5 - x, v = i / SIDE + 0.5 - y;
        if (u * u + v * v < radius * radius && r->candy[i] != OUTSIDE) r->candy[i] = (uint8_t)candy;
    }
}

/* White, red, and a white that is hardly another. */
static Palette palette_of_three(void) {
    Palette palette = {.count = 3};
    palette.candy[0].srgb = (Rgb8){250, 250, 250};
    palette.candy[1].srgb = (Rgb8){200, 30, 40};
    palette.candy[2].srgb = (Rgb8){240, 235, 225};
    return palette;
}

static Difference compare(const Raster *wanted, const Raster *face) {
    Raster w = *wanted, f = *face;
    Grid grid = {.steps = STEPS, .least_steps = 4, .candies = 3, .wanted = {SIDE, w.candy}};
    Palette palette = palette_of_three();
    Difference d = {.wanted = -1};
    Err err = {0};
    assert_true(difference_find(&grid, &palette, &(Face){SIDE, f.candy}, sample_mm, &d, &err));
    return d;
}

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

static void a_face_as_drawn_does_not_differ(void **state) {
    (void)state;
    Raster r;
    draw_field(&r);
    fill(&r, 40, 40, 20, 1);
    Difference d = compare(&r, &r);
    near(d.across_mm, 0, 0);
    near(d.of_thickness, 0, 0);
}

static void a_disc_that_is_lost_is_the_difference(void **state) {
    (void)state;
    Raster wanted, face;
    draw_field(&wanted);
    face = wanted;
    fill(&wanted, 30, 45, 10, 1);
    fill(&wanted, 60, 30, 4, 1); /* the smaller one does not matter */
    Difference d = compare(&wanted, &face);
    near(d.across_mm, 20 * sample_mm, 2 * sample_mm);
    near(d.times_seen, d.across_mm / 0.10, 1e-9);
    near(d.thick_mm, 20 * sample_mm, 2 * sample_mm);
    near(d.of_thickness, 1, 0.1);
    near(d.middle_mm.x, -10 * sample_mm, sample_mm);
    near(d.middle_mm.y, 5 * sample_mm, sample_mm);
    assert_int_equal(d.wanted, 1);
    assert_int_equal(d.got, 0);
}

static void of_several_as_large_the_first_is_told(void **state) {
    (void)state;
    Raster wanted, face;
    draw_field(&wanted);
    face = wanted;
    fill(&face, 30, 50, 6, 1);
    fill(&face, 55, 30, 6, 1);
    fill(&face, 20, 30, 6, 1);
    Difference d = compare(&wanted, &face);
    near(d.middle_mm.x, -20 * sample_mm, sample_mm);
    near(d.middle_mm.y, -10 * sample_mm, sample_mm);
}

static void a_blot_in_a_wide_field_is_little_of_its_thickness(void **state) {
    (void)state;
    Raster wanted, face;
    draw_field(&wanted);
    face = wanted;
    fill(&face, 40, 40, 6, 1);
    Difference d = compare(&wanted, &face);
    near(d.across_mm, 12 * sample_mm, 2 * sample_mm);
    near(d.thick_mm, 2 * 4 * SAMPLES * sample_mm, 1e-6); /* two least strips: thicker is told as that */
    assert_int_equal(d.got, 1);
}

static void candies_that_hardly_differ_are_not_wrong(void **state) {
    (void)state;
    Raster wanted, face;
    draw_field(&wanted);
    face = wanted;
    fill(&face, 40, 40, 15, 2);
    near(compare(&wanted, &face).across_mm, 0, 0);
}

/* Where the core's edge touches the raster's, a disc must not reach beyond. */
static void the_difference_ends_at_the_cores_edge(void **state) {
    (void)state;
    Raster wanted, face;
    draw_field(&wanted);
    face = wanted;
    fill(&face, 0, 40, 8, 1); /* half of it lies in the core */
    Difference d = compare(&wanted, &face);
    if (d.across_mm > 8 * sample_mm) fail_msg("%g mm", d.across_mm);
    near(d.across_mm, 8 * sample_mm, 1.5 * sample_mm);
}

static uint32_t random_bits(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(*state >> 33);
}

static bool is_wrong(const Raster *wanted, const Raster *face, int x, int y) {
    if (x < 0 || y < 0 || x >= SIDE || y >= SIDE) return false;
    int w = wanted->candy[y * SIDE + x], f = face->candy[y * SIDE + x];
    return w != OUTSIDE && w != f && (w == 1 || f == 1); /* candies 0 and 2 are alike */
}

/* Every sample's distance from all that is right, plainly; and mirrored. */
static void random_faces_agree_with_a_plain_search(void **state) {
    (void)state;
    uint64_t seed = 21;
    for (int round = 0; round < 6; round++) {
        Raster wanted, face, back[2];
        draw_field(&wanted);
        draw_field(&face);
        for (int k = 0; k < 12; k++) {
            double x = random_bits(&seed) % SIDE, y = random_bits(&seed) % SIDE;
            fill(k % 2 ? &face : &wanted, x, y, 3 + random_bits(&seed) % 12, (int)(random_bits(&seed) % 3));
        }
        int most = 0;
        for (int i = 0; i < SIDE * SIDE; i++) {
            int x = i % SIDE, y = i / SIDE, least = 4 * SIDE * SIDE;
            for (int v = -1; is_wrong(&wanted, &face, x, y) && v <= SIDE; v++)
                for (int u = -1; u <= SIDE; u++) {
                    int d = (u - x) * (u - x) + (v - y) * (v - y);
                    if (d < least && !is_wrong(&wanted, &face, u, v)) least = d;
                }
            if (is_wrong(&wanted, &face, x, y) && least > most) most = least;
            back[0].candy[y * SIDE + SIDE - 1 - x] = wanted.candy[i];
            back[1].candy[y * SIDE + SIDE - 1 - x] = face.candy[i];
        }
        Difference d = compare(&wanted, &face);
        near(d.across_mm, (2 * sqrt(most) - 0.5) * sample_mm, 1e-9);
        near(compare(&back[0], &back[1]).across_mm, d.across_mm, 1e-12);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_face_as_drawn_does_not_differ),
        cmocka_unit_test(a_disc_that_is_lost_is_the_difference),
        cmocka_unit_test(of_several_as_large_the_first_is_told),
        cmocka_unit_test(a_blot_in_a_wide_field_is_little_of_its_thickness),
        cmocka_unit_test(candies_that_hardly_differ_are_not_wrong),
        cmocka_unit_test(the_difference_ends_at_the_cores_edge),
        cmocka_unit_test(random_faces_agree_with_a_plain_search),
    };
    return cmocka_run_group_tests_name("difference", tests, NULL, NULL);
}
