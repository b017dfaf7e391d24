/* Tests of the rays of src/draw/scene.c. SPDX-License-Identifier: MIT */
#include "draw/scene.h"

#include "piece_holds.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

/* Stands on the table, picture up. */
static const Piece standing = {.middle = {3, -2, 7},
                               .axis = {0, 0, 1},
                               .right = {1, 0, 0},
                               .up = {0, 1, 0},
                               .radius = 8,
                               .length = 14,
                               .standing = true};

static void near(double got, double want) {
    if (!(fabs(got - want) < 1e-9)) fail_msg("got %.12g, want %.12g", got, want);
}

/* A piece somewhere, any way round. */
static Piece chance_piece(unsigned seed) {
    Piece p = {.radius = chance_between(seed, 1, 2, 9), .length = chance_between(seed, 2, 1, 20)};
    p.middle =
        (Vec){chance_between(seed, 3, -5, 5), chance_between(seed, 4, -5, 5), chance_between(seed, 5, -5, 5)};
    p.axis = vec_unit((Vec){chance_between(seed, 6, -1, 1), chance_between(seed, 7, -1, 1),
                            chance_between(seed, 8, -1, 1)});
    p.right = vec_unit(vec_cross(p.axis, (Vec){0.3, -0.5, 0.8}));
    p.up = vec_cross(p.axis, p.right);
    return p;
}

static void the_picture_is_seen_from_its_end(void **state) {
    (void)state;
    Hit hit;
    assert_true(ray_meets_piece(&standing, (Vec){5, 2, 100}, (Vec){0, 0, -1}, &hit));
    assert_int_equal(hit.surface, SURFACE_PICTURE_END);
    near(hit.u, 2 / 8.0);
    near(hit.v, 4 / 8.0);
    near(hit.t, 86);
    near(hit.normal.z, 1);
}

/* Seen from below with the same up, right and left have changed places: the mirror image. */
static void the_other_end_shows_the_mirror_image(void **state) {
    (void)state;
    for (unsigned seed = 0; seed < 200; seed++) {
        Piece p = chance_piece(seed);
        double u = chance_between(seed, 20, -0.7, 0.7), v = chance_between(seed, 21, -0.7, 0.7);
        Vec spot =
            vec_add(p.middle, vec_add(vec_scale(p.right, u * p.radius), vec_scale(p.up, v * p.radius)));
        Hit a, b;
        assert_true(ray_meets_piece(&p, vec_add(spot, vec_scale(p.axis, 50)), vec_scale(p.axis, -1), &a));
        assert_true(ray_meets_piece(&p, vec_add(spot, vec_scale(p.axis, -50)), p.axis, &b));
        assert_int_equal(a.surface, SURFACE_PICTURE_END);
        assert_int_equal(b.surface, SURFACE_OTHER_END);
        near(a.u, u);
        near(b.u, u);
        near(a.v, b.v);
        /* the viewer's right is ahead x up: on the other end it is the picture's left */
        near(vec_dot(vec_cross(vec_scale(p.axis, -1), p.up), p.right), 1);
        near(vec_dot(vec_cross(p.axis, p.up), p.right), -1);
    }
}

static void the_side_tells_the_direction_and_how_far_along(void **state) {
    (void)state;
    Hit hit;
    assert_true(ray_meets_piece(&standing, (Vec){3, -100, 10.5}, (Vec){0, 2, 0}, &hit));
    assert_int_equal(hit.surface, SURFACE_SIDE);
    near(hit.t, 45);
    near(hit.u, 0);
    near(hit.v, -1);
    near(hit.along, 0.5);
    near(hit.normal.y, -1);
}

/* Against small steps along the ray and the test of a point. */
static void the_first_meeting_is_where_the_piece_begins(void **state) {
    (void)state;
    int met = 0;
    for (unsigned seed = 0; seed < 600; seed++) {
        Piece p = chance_piece(seed);
        Vec from = {chance_between(seed, 30, -30, 30), chance_between(seed, 31, -30, 30), 35};
        Vec to = {chance_between(seed, 32, -8, 8), chance_between(seed, 33, -8, 8),
                  chance_between(seed, 34, -8, 8)};
        Vec way = vec_unit(vec_minus(to, from));
        double first = -1;
        for (double t = 0; t < 90 && first < 0; t += 0.01)
            if (piece_holds(&p, vec_add(from, vec_scale(way, t)))) first = t;
        Hit hit;
        bool is = ray_meets_piece(&p, from, way, &hit);
        if (first < 0) continue; /* a ray may graze between two steps */
        assert_true(is);
        if (fabs(hit.t - first) > 0.011) fail_msg("seed %u: got %g, steps %g", seed, hit.t, first);
        met++;
    }
    assert_true(met > 200);
}

static void what_lies_behind_is_not_met(void **state) {
    (void)state;
    Hit hit;
    assert_false(ray_meets_piece(&standing, (Vec){3, -2, 20}, (Vec){0, 0, 1}, &hit));
    assert_false(ray_meets_piece(&standing, (Vec){30, -2, 7}, (Vec){0, 1, 0}, &hit));
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_picture_is_seen_from_its_end),
                                       cmocka_unit_test(the_other_end_shows_the_mirror_image),
                                       cmocka_unit_test(the_side_tells_the_direction_and_how_far_along),
                                       cmocka_unit_test(the_first_meeting_is_where_the_piece_begins),
                                       cmocka_unit_test(what_lies_behind_is_not_met)};
    return cmocka_run_group_tests_name("ray", tests, NULL, NULL);
}
