/* Tests of src/plan/own_motions.c. SPDX-License-Identifier: MIT */
#include "plan/plan_parts.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static const Circle wide = {30, 30, 100}, core = {30, 30, 30};

static const double root3 = 1.7320508075688772;

static Point back_and_forth(Point p, const Rigid *m) {
    return rigid_undone(rigid_moved(p, m), m);
}

/* All motions differ, are lengths' own, and can be taken back; without arcs each corner goes to one. */
static void check(const char *name, Outline o, Circle disc, int turns, int mirrored) {
    Rigid m[OWN_MOTIONS_MAX];
    int count = own_motions(&o, disc, m), ends = 0;
    for (int i = 0; i < count; i++) ends += m[i].mirrored;
    if (count - ends != turns || ends != mirrored)
        fail_msg("%s: %d turns, %d end for end", name, count - ends, ends);
    for (int i = 0; i < count; i++) {
        assert_true(m[i].mirrored == (i >= turns));
        assert_true(fabs(m[i].cosine * m[i].cosine + m[i].sine * m[i].sine - 1) < 1e-12);
        Point p = back_and_forth((Point){3, 5}, &m[i]), q = rigid_moved((Point){3, 5}, &m[i]);
        assert_true(fabs(p.x - 3) < 1e-9 && fabs(p.y - 5) < 1e-9);
        for (int j = 0; j < i; j++) {
            Point r = rigid_moved((Point){3, 5}, &m[j]);
            assert_true(fabs(q.x - r.x) + fabs(q.y - r.y) > 1e-3);
        }
        Outline at = {.corners = o.corners};
        for (int k = 0; k < o.corners; k++)
            at.corner[k] = rigid_moved(o.corner[m[i].mirrored ? o.corners - 1 - k : k], &m[i]);
        if (disc.r == wide.r) assert_true(outline_same(&at, &o, 0.0101));
    }
    assert_true(m[0].cosine == 1 && m[0].sine == 0 && m[0].shift.x == 0 && m[0].shift.y == 0);
}

static void a_polygon_fits_in_as_many_ways_as_it_is_symmetric(void **state) {
    (void)state;
    check("square", outline_of_box(3, 4, 10, 10), wide, 4, 4);
    check("strip", outline_of_box(3, 4, 10, 11), wide, 2, 2);
    check("even wedge", (Outline){3, {{26, 50 - 20 * root3}, {46, 50}, {6, 50}}}, wide, 3, 3);
    check("wedge of two equal sides", (Outline){3, {{26, 8}, {46, 50}, {6, 50}}}, wide, 1, 1);
    check("wedge", (Outline){3, {{20, 8}, {46, 50}, {6, 50}}}, wide, 1, 0);
    check("slanted strip", (Outline){4, {{8, 10}, {38, 10}, {48, 40}, {18, 40}}}, wide, 2, 0);
    check("rhombus", (Outline){4, {{26, 5}, {41, 30}, {26, 55}, {11, 30}}}, wide, 2, 2);
    check("kite", (Outline){4, {{26, 5}, {41, 20}, {26, 55}, {11, 20}}}, wide, 1, 1);
    check("tapered strip", (Outline){4, {{10, 10}, {30, 10}, {35, 40}, {5, 40}}}, wide, 1, 1);
    check("six even sides",
          (Outline){6,
                    {{20, 30 - 10 * root3},
                     {40, 30 - 10 * root3},
                     {50, 30},
                     {40, 30 + 10 * root3},
                     {20, 30 + 10 * root3},
                     {10, 30}}},
          wide, 6, 6);
    check("slanted square", (Outline){4, {{22, 8}, {38, 20}, {26, 36}, {10, 24}}}, wide, 4, 4);
}

static void the_cores_edge_is_a_side_that_fits_itself_only(void **state) {
    (void)state;
    check("half", outline_of_box(0, 0, 30, 60), core, 1, 1);
    check("segment", outline_of_box(0, 0, 12, 60), core, 1, 1);
    check("slanted segment", (Outline){4, {{0, 0}, {30, 0}, {6, 60}, {0, 60}}}, core, 1, 1);
    check("quarter", outline_of_box(0, 0, 30, 30), core, 1, 1);
    check("strip across the middle", outline_of_box(0, 20, 60, 20), core, 2, 2);
    check("strip beside the middle", outline_of_box(0, 20, 60, 21), core, 1, 1);
    check("its ends outside", outline_of_box(0, 5, 59, 15), core, 1, 1); /* not alike, but out of hand */
    check("end of a strip", outline_of_box(0, 20, 30, 21), core, 1, 0);
    check("slanted strip across the middle", (Outline){4, {{20, 0}, {50, 0}, {40, 60}, {10, 60}}}, core, 2,
          2);
    /* were the arc straight, it would fit in eight ways */
    check("square against the edge",
          (Outline){4, {{18, 0}, {42, 0}, {42, 54 - 27.49545417}, {18, 54 - 27.49545417}}}, core, 1, 1);
    check("all of it", outline_of_box(-1, -1, 62, 62), core, 1, 0);
}

static void a_hundredth_of_a_step_off_still_fits(void **state) {
    (void)state;
    check("nearly square", outline_of_box(3, 4, 10, 10.005), wide, 4, 4);
    check("no square", outline_of_box(3, 4, 10, 10.05), wide, 2, 2);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_polygon_fits_in_as_many_ways_as_it_is_symmetric),
        cmocka_unit_test(the_cores_edge_is_a_side_that_fits_itself_only),
        cmocka_unit_test(a_hundredth_of_a_step_off_still_fits),
    };
    return cmocka_run_group_tests_name("own_motions", tests, NULL, NULL);
}
