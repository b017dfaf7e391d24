/* Tests of src/base/geom.c. SPDX-License-Identifier: MIT */
#include "base/geom.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

static double random_unit(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (double)(*state >> 11) / 9007199254740992.0;
}

static void the_disc_part_of_a_polygon_has_its_known_area(void **state) {
    (void)state;
    const Point square[4] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    const Point quarter[4] = {{0, 0}, {5, 0}, {5, 5}, {0, 5}};
    const Point half[4] = {{0.5, -9}, {9, -9}, {9, 9}, {0.5, 9}};
    near(polygon_disc_area(square, 4, (Circle){0, 0, 2}), 4, 1e-12);
    near(polygon_disc_area(square, 4, (Circle){0, 0, 0.5}), PI / 4, 1e-12);
    near(polygon_disc_area(square, 4, (Circle){9, 0, 1}), 0, 1e-12);
    near(polygon_disc_area(quarter, 4, (Circle){0, 0, 2}), PI, 1e-12);
    /* circular segment, r = 1, distance 1/2: acos(1/2) - sqrt(3)/4 */
    near(polygon_disc_area(half, 4, (Circle){0, 0, 1}), PI / 3 - sqrt(3) / 4, 1e-12);
    near(polygon_area(square, 4), 4, 0);
}

static void cells_cut_by_a_disc_add_up_to_the_disc(void **state) {
    (void)state;
    for (int n = 1; n < 30; n++) {
        double sum = 0;
        for (int i = 0; i < n * n; i++) {
            double x = i % n, y = i / n;
            const Point p[4] = {{x, y}, {x + 1, y}, {x + 1, y + 1}, {x, y + 1}};
            sum += polygon_disc_area(p, 4, (Circle){n / 2.0, n / 2.0, n / 2.0});
        }
        near(sum, PI * n * n / 4, 1e-9);
    }
}

static void the_box_of_a_cut_polygon_touches_what_is_inside(void **state) {
    (void)state;
    const Point square[4] = {{0, 0}, {4, 0}, {4, 4}, {0, 4}}, far[3] = {{9, 9}, {10, 9}, {9, 10}};
    const Point wedge[3] = {{0, 0}, {4, 0}, {0, 4}};
    Point low, high;
    assert_true(polygon_disc_box(square, 4, (Circle){0, 0, 2}, &low, &high));
    near(low.x + low.y, 0, 1e-12);
    near(high.x + high.y, 4, 1e-12);
    assert_true(polygon_disc_box(square, 4, (Circle){2, 2, 1}, &low, &high)); /* the disc lies inside */
    near(low.x, 1, 1e-12);
    near(high.y, 3, 1e-12);
    assert_true(polygon_disc_box(wedge, 3, (Circle){2, 0, 1}, &low, &high));
    near(low.x, 1, 1e-12);
    near(high.x, 3, 1e-12);
    near(low.y, 0, 1e-12);
    near(high.y, 1, 1e-12);
    assert_false(polygon_disc_box(far, 3, (Circle){0, 0, 2}, &low, &high));
    /* the disc touches the upper side, but for what turning both has left of rounding */
    const Point under[4] = {{-8, 1e-12}, {8, 1e-12}, {8, 5}, {-8, 5}};
    assert_true(polygon_disc_box(under, 4, (Circle){0, 10, 10}, &low, &high));
    near(low.y, 0, 1e-9);
    near(high.y, 5, 1e-9);
}

/* The smallest of all circles through two or three points that holds every point. */
static double brute_radius(const Point *p, int count) {
    double best = 1e300;
    for (int i = 0; i < count; i++)
        for (int j = i + 1; j < count; j++)
            for (int k = j; k < count; k++) {
                Point three[3] = {p[i], p[j], p[k]};
                Circle c = enclosing_circle(three, 3); /* of at most three points: checked by hand below */
                bool all = true;
                for (int m = 0; m < count; m++) all = all && hypot(p[m].x - c.x, p[m].y - c.y) <= c.r + 1e-9;
                if (all && c.r < best) best = c.r;
            }
    return best;
}

static void the_enclosing_circle_is_the_smallest(void **state) {
    (void)state;
    Point right[3] = {{0, 0}, {4, 0}, {0, 3}}, line[3] = {{0, 0}, {1, 1}, {4, 4}};
    near(enclosing_circle(right, 3).r, 2.5, 1e-12);
    near(enclosing_circle(line, 3).r, 2 * sqrt(2), 1e-12);
    near(enclosing_circle(line, 1).r, 0, 0);
    uint64_t seed = 7;
    for (int round = 0; round < 200; round++) {
        int count = 2 + round % 11;
        Point p[12];
        for (int i = 0; i < count; i++) /* on a coarse grid, so that ties and doubles occur */
            p[i] = (Point){floor(random_unit(&seed) * 8), floor(random_unit(&seed) * 8)};
        double want = brute_radius(p, count);
        if (want > 1e299) want = 0;
        near(enclosing_circle(p, (size_t)count).r, want, 1e-9);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_disc_part_of_a_polygon_has_its_known_area),
                                       cmocka_unit_test(cells_cut_by_a_disc_add_up_to_the_disc),
                                       cmocka_unit_test(the_box_of_a_cut_polygon_touches_what_is_inside),
                                       cmocka_unit_test(the_enclosing_circle_is_the_smallest)};
    return cmocka_run_group_tests_name("geom", tests, NULL, NULL);
}
