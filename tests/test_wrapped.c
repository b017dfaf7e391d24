/* Tests of src/model/wrapped.c. SPDX-License-Identifier: MIT */
#include "wrapped_job.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

static void a_disc_touches_the_sides_of_its_square(void **state) {
    (void)state;
    for (int first = 0; first < 4; first++) {
        Outline box = outline_of_box(3, 7, 9, 9), square = {.corners = 4};
        for (int i = 0; i < 4; i++) square.corner[i] = box.corner[(i + first) % 4];
        Circle disc = square_disc(&square);
        near(disc.x, 7.5, 1e-12);
        near(disc.y, 11.5, 1e-12);
        near(disc.r, 4.5, 1e-12);
    }
}

static void the_corners_of_a_disc_lie_on_it_and_its_square_is_their_box(void **state) {
    (void)state;
    Point p[DISC_CORNERS], low = {100, 100}, high = {-100, -100};
    disc_corners((Circle){10, 20, 5}, p);
    for (int i = 0; i < DISC_CORNERS; i++) {
        Point q = p[(i + 1) % DISC_CORNERS];
        near(hypot(p[i].x - 10, p[i].y - 20), 5, 1e-12);
        assert_true((p[i].x - 10) * (q.y - 20) - (p[i].y - 20) * (q.x - 10) > 0); /* clockwise, y down */
        low = (Point){fmin(low.x, p[i].x), fmin(low.y, p[i].y)};
        high = (Point){fmax(high.x, p[i].x), fmax(high.y, p[i].y)};
    }
    near(low.x, 5, 1e-12);
    near(low.y, 15, 1e-12);
    near(high.x, 15, 1e-12);
    near(high.y, 25, 1e-12);
}

/* A convex outline whose sides all lie `far` outside those of a triangle, mitred. */
static Outline grown_triangle(const Outline *o, double far) {
    Outline out = {.corners = 3};
    double side[3], all = 0;
    for (int i = 0; i < 3; i++) { /* opposite corner i */
        Point a = o->corner[(i + 1) % 3], b = o->corner[(i + 2) % 3];
        all += side[i] = hypot(a.x - b.x, a.y - b.y);
    }
    double r = 2 * outline_area(o) / all; /* of the circle inscribed: growing is a scaling about its middle */
    Point m = {0, 0};
    for (int i = 0; i < 3; i++)
        m = (Point){m.x + side[i] / all * o->corner[i].x, m.y + side[i] / all * o->corner[i].y};
    for (int i = 0; i < 3; i++)
        out.corner[i] = (Point){m.x + (o->corner[i].x - m.x) * (r + far) / r,
                                m.y + (o->corner[i].y - m.y) * (r + far) / r};
    return out;
}

static void a_sheet_is_as_long_round_as_its_area_by_its_thickness(void **state) {
    (void)state;
    const Outline triangle = {3, {{0, 0}, {14, 1}, {5, 12}}};
    const struct {
        Wrap wrap;
        double length;
    } cases[] = {
        {{.outline = outline_of_box(0, 0, 10, 14), .inner = outline_of_box(2, 2, 6, 10), .thickness = 2}, 40},
        {{.outline = outline_of_box(0, 0, 10, 10),
          .inner = outline_of_box(2, 2, 6, 6),
          .round = true,
          .thickness = 2},
         8 * PI},
        {{.outline = grown_triangle(&triangle, 1.5), .inner = triangle, .thickness = 1.5}, 0},
    };
    for (int i = 0; i < 3; i++) {
        const Wrap *wrap = &cases[i].wrap;
        near(wrap_length(wrap), wrap_area(wrap) / wrap->thickness, 1e-9);
        if (cases[i].length > 0) near(wrap_length(wrap), cases[i].length, 1e-9);
    }
}

static void the_lay_up_made_by_hand_fills_the_core(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    const LayUp *layup = &w.bench.job.layup;
    double area = 0;
    for (int i = 0; i < layup->ropes; i++) area += layup->rope[i].area;
    for (int i = 0; i < layup->wraps; i++) area += wrap_area(&layup->wrap[i]);
    near(area, PI * 28 * 28, 1e-9);
    for (int b = 0; b < WJ_BLOCKS; b++)
        assert_int_equal(block_is_round(layup, &w.bench.job.blocks.block[b]), b == WJ_TWICE);
    wrapped_free(&w);
}

static void an_outline_holds_what_reaches_its_edge(void **state) {
    (void)state;
    Outline box = outline_of_box(0, 0, 8, 8), in = outline_of_box(0, 2, 8, 3),
            out = outline_of_box(1, 1, 8, 3);
    assert_true(outline_holds(&box, &box));
    assert_true(outline_holds(&box, &in));
    assert_false(outline_holds(&box, &out));
    assert_false(outline_holds(&in, &box));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_disc_touches_the_sides_of_its_square),
        cmocka_unit_test(the_corners_of_a_disc_lie_on_it_and_its_square_is_their_box),
        cmocka_unit_test(a_sheet_is_as_long_round_as_its_area_by_its_thickness),
        cmocka_unit_test(the_lay_up_made_by_hand_fills_the_core),
        cmocka_unit_test(an_outline_holds_what_reaches_its_edge),
    };
    return cmocka_run_group_tests_name("wrapped", tests, NULL, NULL);
}
