/* Tests of src/judge/check_drawn.c. SPDX-License-Identifier: MIT */
#include "judge/checks.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

enum { STEPS = 24, SIDE = STEPS * SAMPLES };

/* A square of 12 x 12 steps in the middle of a logo, one pixel a step, and the face that came of it. */
typedef struct Drawn {
    uint8_t label[STEPS * STEPS], face[SIDE * SIDE];
    InkMap inks;
    Job job;
} Drawn;

static bool in_square(double x, double y) {
    return fmax(fabs(x - STEPS / 2.0), fabs(y - STEPS / 2.0)) < 6;
}

/* The square in `square` on `ground`; in the face candies 0 and 1 are as given, and it lies `shift` steps to
 * the right; `came`: it is there at all. */
static void fill(Drawn *d, Rgb8 ground, Rgb8 square, double shift, bool came) {
    memset(d, 0, sizeof *d);
    d->inks = (InkMap){.width = STEPS, .height = STEPS, .count = 2, .label = d->label};
    d->inks.ink[0] = (Ink){ground, false, 0.75};
    d->inks.ink[1] = (Ink){square, false, 0.25};
    for (int i = 0; i < STEPS * STEPS; i++) d->label[i] = in_square(i % STEPS + 0.5, (int)(i / STEPS) + 0.5);
    for (int i = 0; i < SIDE * SIDE; i++) {
        double x = (i % SIDE + 0.5) / SAMPLES, y = ((int)(i / SIDE) + 0.5) / SAMPLES;
        bool core = hypot(x - STEPS / 2.0, y - STEPS / 2.0) < STEPS / 2.0;
        d->face[i] = (uint8_t)(!core ? OUTSIDE : came && in_square(x - shift, y));
    }
    d->job.inks = &d->inks;
    d->job.palette = (Palette){.count = 2};
    d->job.palette.candy[0].srgb = ground;
    d->job.palette.candy[1].srgb = square;
    d->job.grid.steps = STEPS;
    d->job.grid.least_steps = 4; /* borders are near within 1.8 steps */
    d->job.grid.frame = (Frame){.centre_px = {STEPS / 2.0, STEPS / 2.0}, .px_per_step = 1};
    d->job.face = (Face){SIDE, d->face};
}

static Check drawn(Drawn *d) {
    Err err = {0};
    Judgement j = {.verdict = VERDICT_GO};
    assert_true(check_drawn(&d->job, &j, &err));
    assert_int_equal(j.checks, 1);
    assert_int_equal(j.check[0].kind, CHECK_DRAWN);
    assert_int_equal(j.verdict, j.check[0].verdict);
    return j.check[0];
}

static const Rgb8 white = {255, 255, 255}, black = {0, 0, 0}, grey = {230, 230, 230},
                  near_white = {250, 250, 250};

static void what_came_out_shows_and_what_did_not_does_not(void **state) {
    (void)state;
    static Drawn d;
    fill(&d, white, black, 0, true);
    Check check = drawn(&d);
    assert_true(check.value == 100 && check.verdict == VERDICT_GO);
    fill(&d, white, black, 0, false);
    check = drawn(&d);
    assert_true(check.value == 0 && check.verdict == VERDICT_NO);
}

static void a_border_may_move_by_less_than_half_a_strip(void **state) {
    (void)state;
    static Drawn d;
    fill(&d, white, black, 1.5, true);
    assert_true(drawn(&d).value > 99);
    fill(&d, white, black, 3,
         true); /* left and right are lost; of above and below what lies over them stays */
    Check check = drawn(&d);
    assert_true(check.value > 30 && check.value < 60);
    assert_int_equal(check.verdict, VERDICT_CHANGE);
}

/* Light grey on white counts, for what it is: too near to be two colours it is no border at all. */
static void a_border_counts_as_its_colours_differ(void **state) {
    (void)state;
    static Drawn d;
    fill(&d, white, grey, 0, false);
    assert_int_equal(drawn(&d).verdict, VERDICT_NO);
    fill(&d, white, near_white, 0, false);
    assert_true(drawn(&d).value == 100);
    fill(&d, white, black, 0, true); /* a black square that came out grey: as much as grey is of black */
    d.job.palette.candy[1].srgb = grey;
    Check check = drawn(&d);
    assert_true(check.value > 10 && check.value < 35);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_came_out_shows_and_what_did_not_does_not),
        cmocka_unit_test(a_border_may_move_by_less_than_half_a_strip),
        cmocka_unit_test(a_border_counts_as_its_colours_differ),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
