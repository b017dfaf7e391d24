/* Tests of src/draw/callouts.c. SPDX-License-Identifier: MIT */
#include "draw/bench_pages.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

enum { ANCHORS = 24, PLACES = 60 };

/* Points as if thrown into a disc, places up and down both sides of it. */
static void throw_points(uint64_t seed, Point *anchor, Point *place) {
    for (int i = 0; i < ANCHORS; i++) {
        double part[2];
        for (int k = 0; k < 2; k++) {
            seed = seed * 6364136223846793005u + 1442695040888963407u;
            part[k] = (double)(seed >> 40) / (1 << 24);
        }
        double r = 90 * sqrt(part[0]), a = 2 * PI * part[1];
        anchor[i] = (Point){r * cos(a), r * sin(a)};
    }
    for (int i = 0; i < PLACES; i++) place[i] = (Point){i % 2 ? 110 : -110, (i / 2 - 14.5) * 7};
}

static double side(Point a, Point b, Point c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static bool cross(Point a, Point b, Point c, Point d) {
    return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

static void no_two_leads_cross_and_none_share_a_place(void **state) {
    (void)state;
    Point anchor[ANCHORS], place[PLACES];
    int place_of[ANCHORS];
    for (uint64_t seed = 1; seed <= 50; seed++) {
        throw_points(seed, anchor, place);
        callouts_assign(anchor, ANCHORS, place, PLACES, place_of);
        for (int i = 0; i < ANCHORS; i++)
            for (int j = 0; j < i; j++) {
                assert_int_not_equal(place_of[i], place_of[j]);
                assert_false(cross(anchor[i], place[place_of[i]], anchor[j], place[place_of[j]]));
            }
    }
}

static void as_many_points_as_places_use_all(void **state) {
    (void)state;
    Point anchor[] = {{0, 0}, {0, 1}, {0, 2}}, place[] = {{9, 2}, {9, 0}, {9, 1}};
    int place_of[3];
    callouts_assign(anchor, 3, place, 3, place_of);
    assert_int_equal(place_of[0], 1);
    assert_int_equal(place_of[1], 2);
    assert_int_equal(place_of[2], 0);
    callouts_assign(anchor, 0, place, 0, place_of);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(no_two_leads_cross_and_none_share_a_place),
                                       cmocka_unit_test(as_many_points_as_places_use_all)};
    return cmocka_run_group_tests_name("callouts", tests, NULL, NULL);
}
