/* Tests of src/plan/soften.c. SPDX-License-Identifier: MIT */
#include "plan/plan.h"
#include "random_tree.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { ROPES_MAX = 1024 };

/* A strip, or the half of a box beside its diagonal. */
typedef struct Straight {
    Box box;             /* steps */
    bool wedge;          /* a half only: */
    bool rising, behind; /* the diagonal rises to the right; the half to the right of it */
} Straight;

typedef struct Plan {
    Grid grid;
    LayUp layup;
    Rope rope[ROPES_MAX];
    Straight straight[ROPES_MAX]; /* the same, without outlines */
} Plan;

static uint32_t random_bits(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(*state >> 33);
}

static Plan *plan_new(int steps, int candies) {
    Plan *plan = calloc(1, sizeof *plan);
    assert_non_null(plan);
    plan->grid = (Grid){.steps = steps, .least_steps = 4, .candies = candies};
    plan->grid.core = (Circle){steps / 2.0, steps / 2.0, steps / 2.0};
    plan->layup.rope = plan->rope;
    return plan;
}

static void add(Plan *plan, Straight of, Outline outline, int candy) {
    assert_true(plan->layup.ropes < ROPES_MAX);
    plan->straight[plan->layup.ropes] = of;
    plan->rope[plan->layup.ropes++] = (Rope){.outline = outline, .candy = candy};
}

static void add_strip(Plan *plan, Box box, int candy) {
    add(plan, (Straight){.box = box}, outline_of_box(box.x, box.y, box.w, box.h), candy);
}

/* The two halves of a box, to the left and to the right of its diagonal. */
static void add_wedges(Plan *plan, Box box, bool rising, int left, int right) {
    const Outline whole = outline_of_box(box.x, box.y, box.w, box.h);
    const Point *c = whole.corner; /* top left, top right, bottom right, bottom left */
    Outline one = {3, {c[0], c[rising ? 1 : 2], c[3]}},
            other = {3, {c[rising ? 1 : 0], c[rising ? 2 : 1], c[rising ? 3 : 2]}};
    add(plan, (Straight){box, true, rising, false}, one, left);
    add(plan, (Straight){box, true, rising, true}, other, right);
}

/* Cuts the box at random, down to sides of 4 steps; leaves are strips or wedges of any candy. */
static void add_random(Plan *plan, Box box, uint64_t *seed) {
    bool across = random_bits(seed) % 2, stop = random_bits(seed) % 6 == 0 && box.w < 30;
    int side = across ? box.w : box.h, candies = plan->grid.candies;
    if (side < 8) {
        across = !across;
        side = across ? box.w : box.h;
    }
    if (side < 8 || stop) {
        int a = (int)(random_bits(seed) % candies), b = (int)(random_bits(seed) % candies);
        if (random_bits(seed) % 2)
            add_wedges(plan, box, random_bits(seed) % 2, a, b);
        else
            add_strip(plan, box, a);
        return;
    }
    int cut = 4 + (int)(random_bits(seed) % (side - 7));
    Box first = box, second = box;
    if (across) {
        first.w = cut;
        second.x += cut;
        second.w -= cut;
    } else {
        first.h = cut;
        second.y += cut;
        second.h -= cut;
    }
    add_random(plan, first, seed);
    add_random(plan, second, seed);
}

static Face run(const Plan *plan, double rounding) {
    LayKey key = {.rounding = rounding};
    Face face = {0};
    Err err = {0};
    assert_true(soften(&plan->grid, &plan->layup, &key, &face, &err));
    assert_int_equal(face.side, plan->grid.steps * SAMPLES);
    return face;
}

static void count(const Face *face, int area[256]) {
    memset(area, 0, 256 * sizeof *area);
    for (int i = 0; i < face->side * face->side; i++) area[face->candy[i]]++;
}

static void each_candy_keeps_its_area_to_half_a_percent(void **state) {
    (void)state;
    uint64_t seed = 11;
    for (int round = 0; round < 12; round++) {
        int candies = 2 + round % 5;
        Plan *plan = plan_new(24 + 5 * round % 40, candies);
        add_random(plan, (Box){0, 0, plan->grid.steps, plan->grid.steps}, &seed);
        Face before = run(plan, 0), after = run(plan, 0.35);
        int was[256], is[256];
        count(&before, was);
        count(&after, is);
        assert_int_equal(was[OUTSIDE], is[OUTSIDE]);
        for (int k = 0; k < candies; k++)
            if (fabs((double)is[k] - was[k]) > 0.005 * was[k])
                fail_msg("round %d, candy %d: %d samples became %d", round, k, was[k], is[k]);
        face_free(&before);
        face_free(&after);
        free(plan);
    }
}

static void a_straight_edge_across_the_core_stays_where_it_is(void **state) {
    (void)state;
    Plan *plan = plan_new(40, 2);
    add_strip(plan, (Box){0, 0, 20, 40}, 0);
    add_strip(plan, (Box){20, 0, 20, 40}, 1);
    Face before = run(plan, 0), after = run(plan, 0.35);
    assert_memory_equal(before.candy, after.candy, (size_t)(before.side * before.side));
    face_free(&before);
    face_free(&after);
    free(plan);
}

/* Six blurs of sigma 0.35 least strip / sqrt(6) move edges as curvature does for a time t = sigma^2 / 2 in
 * all: 62.7 samples^2 with a least strip of 32. A right corner under curvature motion, y' = y'' / (1 + y'^2)
 * from y = |x|, then stands 8.28 samples back along its diagonal (integrated numerically), 5.85 along each
 * side. The area a closed curve loses, 2 pi t = 394, is given back round the square's 512 samples: 0.77.
 * So 5.1 samples, give or take one for the finite steps, and sides that bulge by one at most. */
static void the_corner_of_a_square_is_rounded_by_about_the_rounding_length(void **state) {
    (void)state;
    Plan *plan = plan_new(48, 2);
    add_strip(plan, (Box){0, 0, 48, 16}, 0);
    add_strip(plan, (Box){0, 16, 16, 16}, 0);
    add_strip(plan, (Box){16, 16, 16, 16}, 1);
    add_strip(plan, (Box){32, 16, 16, 16}, 0);
    add_strip(plan, (Box){0, 32, 48, 16}, 0);
    Face face = run(plan, 0.35);
    int depth = 0, bulge = 0, first = 16 * SAMPLES;
    while (face.candy[(size_t)(first + depth) * face.side + first + depth] == 0) depth++;
    while (face.candy[(size_t)(24 * SAMPLES) * face.side + first - 1 - bulge] == 1) bulge++;
    if (depth < 4 || depth > 6) fail_msg("the corner went back by %d samples", depth);
    if (bulge > 1) fail_msg("the side bulged by %d samples", bulge);
    face_free(&face);
    free(plan);
}

/* Small squares give area back, so the candies' common edge moves; at the rim, where half the neighbourhood
 * is missing, no farther than in the middle. */
static void an_edge_that_takes_up_area_stays_straight_up_to_the_rim(void **state) {
    (void)state;
    Plan *plan = plan_new(48, 2);
    add_strip(plan, (Box){0, 0, 24, 48}, 1);
    add_strip(plan, (Box){24, 0, 8, 48}, 0);
    for (int i = 0; i < 12; i++) {
        add_strip(plan, (Box){32, 4 * i, 4, 4}, i % 2);
        add_strip(plan, (Box){36, 4 * i, 12, 4}, 0);
    }
    Face face = run(plan, 0.35);
    int least = face.side, most = 0;
    for (int y = 0; y < face.side; y++) {
        const uint8_t *row = face.candy + (size_t)y * face.side;
        for (int x = 20 * SAMPLES; x < 28 * SAMPLES; x++) {
            if (row[x] != 1 || row[x + 1] != 0) continue;
            if (x < least) least = x;
            if (x > most) most = x;
        }
    }
    if (least > most || most > least + 1) fail_msg("the edge lies between columns %d and %d", least, most);
    assert_true(least > 24 * SAMPLES - 1); /* it did move */
    face_free(&face);
    free(plan);
}

/* --- painting, against painters that are as plain as can be --- */

/* In whole half samples: 1 inside, 0 on the diagonal, -1 outside. */
static int straight_side(const Straight *s, int x, int y) {
    int w = 2 * SAMPLES * s->box.w, h = 2 * SAMPLES * s->box.h;
    int across = 2 * (x - SAMPLES * s->box.x) + 1, down = 2 * (y - SAMPLES * s->box.y) + 1;
    if (across < 0 || down < 0 || across > w || down > h) return -1;
    if (!s->wedge) return 1;
    int left = s->rising ? w * h - across * h - down * w : down * w - across * h;
    return s->behind ? (left < 0) - (left > 0) : (left > 0) - (left < 0);
}

static void straight_ropes_are_painted_by_the_middles_of_samples(void **state) {
    (void)state;
    uint64_t seed = 3;
    for (int round = 0; round < 12; round++) {
        Plan *plan = plan_new(20 + 7 * round % 40, 5);
        add_random(plan, (Box){0, 0, plan->grid.steps, plan->grid.steps}, &seed);
        Face face = run(plan, 0);
        for (int i = 0; i < face.side * face.side; i++) {
            int want = OUTSIDE;
            for (int k = 0; k < plan->layup.ropes; k++)
                if (straight_side(&plan->straight[k], i % face.side, i / face.side) >= 0 &&
                    plan->rope[k].candy < want)
                    want = plan->rope[k].candy;
            assert_int_not_equal(want, OUTSIDE);
            if (face.candy[i] != OUTSIDE) assert_int_equal(face.candy[i], want);
        }
        face_free(&face);
        free(plan);
    }
}

/* Takes the ropes of a random tree of slanted cuts. */
static Plan *slanted_plan(int n, uint64_t seed) {
    Plan *plan = plan_new(n, 5);
    LayUp tree = random_tree(n, 60, 5, 1.5, seed);
    memcpy(plan->rope, tree.rope, (size_t)tree.ropes * sizeof *plan->rope);
    plan->layup.ropes = tree.ropes;
    layup_free(&tree);
    return plan;
}

static void slanted_ropes_are_painted_by_the_middles_of_samples(void **state) {
    (void)state;
    for (uint64_t seed = 1; seed < 25; seed++) {
        Plan *plan = slanted_plan(18 + (int)seed, seed);
        Face face = run(plan, 0);
        for (int i = 0; i < face.side * face.side; i++) {
            Point p = {(i % face.side + 0.5) / SAMPLES, (i / face.side + 0.5) / SAMPLES};
            int want = OUTSIDE;
            for (int k = 0; k < plan->layup.ropes && face.candy[i] != OUTSIDE; k++)
                if (plan->rope[k].candy < want && outline_side(&plan->rope[k].outline, p) >= 0)
                    want = plan->rope[k].candy;
            assert_int_equal(face.candy[i], want);
        }
        face_free(&face);
        free(plan);
    }
}

/* Of two ropes along a diagonal of whole steps, which runs through the middles of samples, whichever is
 * painted first. A line half as steep runs through none. */
static void a_sample_on_the_line_between_two_ropes_is_the_first_candys(void **state) {
    (void)state;
    for (int first = 0; first < 2; first++)
        for (int slope = 1; slope <= 2; slope++) {
            Plan *plan = plan_new(40, 3);
            const double end = slope == 1 ? 40 : 20; /* of the line, at x = 40 */
            Outline above = {3, {{0, 0}, {40, 0}, {40, end}}};
            Outline below = {4, {{0, 0}, {40, end}, {40, 40}, {0, 40}}};
            if (slope == 1) below = (Outline){3, {{0, 0}, {40, 40}, {0, 40}}};
            add(plan, (Straight){0}, first ? above : below, first ? 1 : 2);
            add(plan, (Straight){0}, first ? below : above, first ? 2 : 1);
            Face face = run(plan, 0);
            int on = 0;
            for (int y = 0; y < face.side; y++)
                for (int x = 0; x < face.side; x++) {
                    if (face.candy[y * face.side + x] == OUTSIDE) continue;
                    int down = slope * (2 * y + 1) - (2 * x + 1);
                    on += down == 0;
                    assert_int_equal(face.candy[y * face.side + x], down > 0 ? 2 : 1);
                }
            assert_true(slope == 1 ? on > 200 : on == 0);
            face_free(&face);
            free(plan);
        }
}

/* --- placements --- */

static void is_placed_in_all_eight_ways(const Plan *plan) {
    const int n = plan->grid.steps;
    Face face = run(plan, 0.35);
    for (int how = 1; how < PLACEMENTS; how++) {
        Plan *other = plan_new(n, plan->grid.candies);
        Motion motion = motion_in_place(placement(how), (Point){0, 0}, (Point){n, n}), of_samples = motion;
        of_samples.shift = (Point){motion.shift.x * SAMPLES, motion.shift.y * SAMPLES};
        for (int i = 0; i < plan->layup.ropes; i++) { /* in the opposite order, too */
            Rope rope = plan->rope[plan->layup.ropes - 1 - i];
            rope.outline = outline_moved(&rope.outline, motion);
            other->rope[other->layup.ropes++] = rope;
        }
        Face placed = run(other, 0.35);
        for (int i = 0; i < face.side * face.side; i++) {
            Point at = point_moved((Point){i % face.side + 0.5, i / face.side + 0.5}, of_samples);
            if (placed.candy[(size_t)floor(at.y) * face.side + (size_t)floor(at.x)] != face.candy[i])
                fail_msg("placement %d differs", how);
        }
        face_free(&placed);
        free(other);
    }
    face_free(&face);
}

static void a_turned_or_mirrored_layup_gives_the_turned_or_mirrored_face(void **state) {
    (void)state;
    uint64_t seed = 5;
    Plan *plan = plan_new(37, 4);
    add_random(plan, (Box){0, 0, 37, 37}, &seed);
    is_placed_in_all_eight_ways(plan);
    free(plan);
    for (uint64_t slanted = 1; slanted < 6; slanted++) {
        plan = slanted_plan(36 + (int)slanted, slanted);
        is_placed_in_all_eight_ways(plan);
        free(plan);
    }
}

static void outside_is_exactly_what_the_disc_leaves_over(void **state) {
    (void)state;
    for (int n = 8; n < 60; n += 7) {
        Plan *plan = plan_new(n, 2);
        plan->grid.rings = 2; /* two steps of candy 1 round a step of candy 0 */
        plan->grid.ring[0] = (Ring){1, n / 2.0, n / 2.0 - 2};
        plan->grid.ring[1] = (Ring){0, n / 2.0 - 2, n / 2.0 - 3};
        plan->grid.core.r -= 3;
        add_strip(plan, (Box){0, 0, n, n}, 1);
        Face face = run(plan, 0), soft = run(plan, 0.35);
        for (int i = 0; i < face.side * face.side; i++) {
            /* in half samples about the centre: whole numbers */
            int x = 2 * (i % face.side) + 1 - face.side, y = 2 * (i / face.side) + 1 - face.side;
            int r2 = x * x + y * y, r = n * SAMPLES, ring = r - 4 * SAMPLES, field = r - 6 * SAMPLES;
            int want = r2 > r * r ? OUTSIDE : r2 > ring * ring ? 1 : r2 > field * field ? 0 : 1;
            assert_int_equal(face.candy[i], want);
            assert_int_equal(soft.candy[i] == OUTSIDE, want == OUTSIDE);
        }
        face_free(&face);
        face_free(&soft);
        free(plan);
    }
}

/* Half the box each, but for the samples on the diagonal, which are candy 1's. */
static void a_wedge_fills_the_half_of_its_box(void **state) {
    (void)state;
    for (int how = 0; how < 4; how++) {
        bool rising = how % 2, swap = how / 2;
        Plan *plan = plan_new(40, 3);
        add_strip(plan, (Box){0, 0, 40, 16}, 0);
        add_strip(plan, (Box){0, 16, 14, 7}, 0);
        add_wedges(plan, (Box){14, 16, 12, 7}, rising, swap ? 1 : 2, swap ? 2 : 1);
        add_strip(plan, (Box){26, 16, 14, 7}, 0);
        add_strip(plan, (Box){0, 23, 40, 17}, 0);
        Face face = run(plan, 0);
        int area[256], left = 14 * SAMPLES, right = 26 * SAMPLES - 1, top = 16 * SAMPLES,
                       bottom = 23 * SAMPLES - 1;
        assert_int_equal(face.candy[(rising ? top : bottom) * face.side + left], swap ? 1 : 2);
        assert_int_equal(face.candy[(rising ? bottom : top) * face.side + right], swap ? 2 : 1);
        count(&face, area);
        assert_int_equal(area[1] + area[2], 12 * 7 * SAMPLES * SAMPLES);
        assert_true(abs(area[1] - area[2]) <= 2 * SAMPLES);
        face_free(&face);
        free(plan);
    }
}

static void the_same_layup_gives_the_same_face(void **state) {
    (void)state;
    uint64_t seed = 23;
    Plan *plan = plan_new(52, 5);
    add_random(plan, (Box){0, 0, 52, 52}, &seed);
    Face one = run(plan, 0.35), two = run(plan, 0.35);
    assert_memory_equal(one.candy, two.candy, (size_t)(one.side * one.side));
    face_free(&one);
    face_free(&two);
    free(plan);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_candy_keeps_its_area_to_half_a_percent),
        cmocka_unit_test(a_straight_edge_across_the_core_stays_where_it_is),
        cmocka_unit_test(the_corner_of_a_square_is_rounded_by_about_the_rounding_length),
        cmocka_unit_test(an_edge_that_takes_up_area_stays_straight_up_to_the_rim),
        cmocka_unit_test(a_turned_or_mirrored_layup_gives_the_turned_or_mirrored_face),
        cmocka_unit_test(outside_is_exactly_what_the_disc_leaves_over),
        cmocka_unit_test(a_wedge_fills_the_half_of_its_box),
        cmocka_unit_test(straight_ropes_are_painted_by_the_middles_of_samples),
        cmocka_unit_test(slanted_ropes_are_painted_by_the_middles_of_samples),
        cmocka_unit_test(a_sample_on_the_line_between_two_ropes_is_the_first_candys),
        cmocka_unit_test(the_same_layup_gives_the_same_face),
    };
    return cmocka_run_group_tests_name("soften", tests, NULL, NULL);
}
