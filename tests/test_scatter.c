/* Tests of src/draw/scatter.c. SPDX-License-Identifier: MIT */
#include "draw/scene.h"

#include "piece_holds.h"

#include "base/geom.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

static const double sizes[][2] = {{16, 14}, {5, 2},   {60, 2},   {25, 50}, {10, 100},
                                  {5, 100}, {16, 33}, {60, 100}, {12, 12}};

enum { SIZES = sizeof sizes / sizeof *sizes };

/* A point of the piece's surface: part way along and round. */
static Vec surface_point(const Piece *p, double along, double turn, double out) {
    Vec round = vec_add(vec_scale(p->right, cos(turn) * out), vec_scale(p->up, sin(turn) * out));
    return vec_add(p->middle,
                   vec_add(vec_scale(p->axis, along * p->length / 2), vec_scale(round, p->radius)));
}

/* The ball round a piece. */
static double reach(const Piece *p) {
    return sqrt(p->radius * p->radius + p->length * p->length / 4);
}

/* Two cylinders that overlap have a point of the surface of one in the other, as long as neither pierces the
 * other, which pieces on one table cannot. */
static bool overlap(const Piece *a, const Piece *b) {
    Vec apart = vec_add(a->middle, vec_scale(b->middle, -1));
    if (sqrt(vec_dot(apart, apart)) > reach(a) + reach(b)) return false;
    for (int along = -12; along <= 12; along++)
        for (int turn = 0; turn < 36; turn++)
            for (int out = 1; out <= 3; out++)
                if (piece_holds(b, surface_point(a, along / 12.0, turn * PI / 18, out / 3.0))) return true;
    return false;
}

static void no_two_pieces_overlap(void **state) {
    (void)state;
    for (int i = 0; i < SIZES; i++)
        for (unsigned seed = 6; seed < 8; seed++) {
            Scatter s;
            scatter(sizes[i][0], sizes[i][1], 1.2, seed, &s);
            for (int a = 0; a < s.count; a++)
                for (int b = 0; b < s.count; b++)
                    if (a != b && overlap(&s.piece[a], &s.piece[b]))
                        fail_msg("%g x %g: %d and %d", sizes[i][0], sizes[i][1], a, b);
        }
}

static void there_are_some_two_dozen(void **state) {
    (void)state;
    for (int i = 0; i < SIZES; i++) {
        Scatter s;
        scatter(sizes[i][0], sizes[i][1], 1.2, 7, &s);
        assert_in_range(s.count, 24, SCATTER_MAX);
    }
}

static void all_lie_on_the_table_and_stay_on_its_part(void **state) {
    (void)state;
    for (int i = 0; i < SIZES; i++) {
        Scatter s;
        scatter(sizes[i][0], sizes[i][1], 1.2, 7, &s);
        for (int k = 0; k < s.count; k++) {
            double lowest = HUGE_VAL;
            for (int at = 0; at < 720; at++) {
                Vec p = surface_point(&s.piece[k], at % 2 ? 1 : -1, at * PI / 360, 1);
                lowest = fmin(lowest, p.z);
                assert_true(fabs(p.x) <= s.width / 2 + 1e-9 && fabs(p.y) <= s.depth / 2 + 1e-9);
            }
            assert_true(fabs(lowest) < 1e-3 * s.piece[k].radius);
        }
    }
}

static void most_face_the_viewer_and_some_lie(void **state) {
    (void)state;
    Scatter s;
    scatter(16, 14, 1.2, 7, &s);
    int standing = 0, picture = 0;
    for (int i = 0; i < s.count; i++) {
        standing += s.piece[i].standing;
        picture += s.piece[i].standing && s.piece[i].axis.z > 0;
        if (s.piece[i].standing) assert_true(s.piece[i].up.y > 0.5);          /* not on its head */
        if (!s.piece[i].standing) assert_true(fabs(s.piece[i].axis.y) > 0.5); /* one end towards the viewer */
    }
    assert_true(standing > s.count * 2 / 3 && standing < s.count - 3);
    assert_true(picture > standing / 2 && picture < standing); /* both ends are shown */
}

static void every_frame_is_right_handed(void **state) {
    (void)state;
    Scatter s;
    scatter(16, 14, 1.2, 7, &s);
    for (int i = 0; i < s.count; i++) {
        Vec axis = vec_cross(s.piece[i].right, s.piece[i].up);
        assert_true(fabs(vec_dot(axis, s.piece[i].axis) - 1) < 1e-12);
    }
}

static void each_piece_differs_a_little(void **state) {
    (void)state;
    Scatter s;
    scatter(16, 14, 1.2, 7, &s);
    for (int i = 0; i < s.count; i++) {
        assert_true(fabs(s.piece[i].radius - 8) <= 8 * 0.03 && fabs(s.piece[i].length - 14) <= 14 * 0.03);
        for (int k = 0; k < i; k++) assert_true(s.piece[i].number != s.piece[k].number);
    }
}

static void the_same_seed_scatters_the_same(void **state) {
    (void)state;
    Scatter a, b, c;
    memset(&a, 0, sizeof a);
    memset(&b, 0, sizeof b);
    scatter(16, 14, 1.2, 7, &a);
    scatter(16, 14, 1.2, 7, &b);
    scatter(16, 14, 1.2, 8, &c);
    assert_int_equal(a.count, b.count);
    for (int i = 0; i < a.count; i++)
        assert_memory_equal(&a.piece[i].middle, &b.piece[i].middle, sizeof(Vec));
    assert_true(a.piece[0].middle.x != c.piece[0].middle.x);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(no_two_pieces_overlap),
                                       cmocka_unit_test(there_are_some_two_dozen),
                                       cmocka_unit_test(all_lie_on_the_table_and_stay_on_its_part),
                                       cmocka_unit_test(most_face_the_viewer_and_some_lie),
                                       cmocka_unit_test(every_frame_is_right_handed),
                                       cmocka_unit_test(each_piece_differs_a_little),
                                       cmocka_unit_test(the_same_seed_scatters_the_same)};
    return cmocka_run_group_tests_name("scatter", tests, NULL, NULL);
}
