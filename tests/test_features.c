/* Tests of src/parts/features.c and src/parts/feature_masks.c. SPDX-License-Identifier: MIT */
#include "parts/parts.h"

#include "parts/feature_masks.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

/* A core of 24 steps, a least strip of four, 0.2 mm a step: gaps count up to 1.6 mm. */
enum { STEPS = 24, SIDE = STEPS * SAMPLES };

static const double step_mm = 0.2;

typedef struct Raster {
    uint8_t candy[SIDE * SIDE];
} Raster;

static void draw_field(Raster *r) {
    for (int i = 0; i < SIDE * SIDE; i++) {
        double x = i % SIDE + 0.5 - SIDE / 2.0, y = i / SIDE + 0.5 - SIDE / 2.0;
        r->candy[i] = x * x + y * y < SIDE * SIDE / 4.0 ? 0 : OUTSIDE;
    }
}

/* Fills a box given in steps. */
static void fill(Raster *r, double x, double y, double w, double h, int candy) {
    for (int v = (int)(y * SAMPLES); v < (int)((y + h) * SAMPLES); v++)
        for (int u = (int)(x * SAMPLES); u < (int)((x + w) * SAMPLES); u++)
            if (r->candy[v * SIDE + u] != OUTSIDE) r->candy[v * SIDE + u] = (uint8_t)candy;
}

/* Moves all by so many samples. */
static Raster moved(const Raster *from, int right, int down) {
    Raster to;
    draw_field(&to);
    for (int y = 0; y < SIDE; y++)
        for (int x = 0; x < SIDE; x++) {
            int u = x - right, v = y - down;
            if (to.candy[y * SIDE + x] == OUTSIDE || u < 0 || v < 0 || u >= SIDE || v >= SIDE) continue;
            uint8_t candy = from->candy[v * SIDE + u];
            to.candy[y * SIDE + x] = candy == OUTSIDE ? 0 : candy;
        }
    return to;
}

static Raster mirrored(const Raster *from) {
    Raster to;
    for (int i = 0; i < SIDE * SIDE; i++) to.candy[i] = from->candy[i / SIDE * SIDE + SIDE - 1 - i % SIDE];
    return to;
}

/* The caller frees the list. */
static Features compare(const Raster *wanted, const Raster *face) {
    Raster w = *wanted, f = *face;
    Grid grid = {.steps = STEPS, .least_steps = 4, .candies = 3, .wanted = {SIDE, w.candy}};
    grid.core = (Circle){STEPS / 2.0, STEPS / 2.0, STEPS / 2.0};
    const Face got = {SIDE, f.candy};
    Comparison c = {0};
    Areas areas;
    Features features;
    Err err = {0};
    assert_true(parts_compare(&grid, &got, NULL, step_mm / SAMPLES, &c, &err));
    assert_true(areas_find(&grid, &areas, &err));
    assert_true(features_find(&areas, c.part, c.parts, &got, step_mm / SAMPLES, &features, &err));
    areas_free(&areas);
    free(c.part);
    return features;
}

static void expect(const Features *f, int counters, int bays, int arms, int kept) {
    int count[3] = {0}, good = 0;
    for (int i = 0; i < f->count; i++) {
        count[f->feature[i].kind]++;
        good += f->feature[i].kept;
    }
    if (count[FEATURE_COUNTER] != counters || count[FEATURE_BAY] != bays || count[FEATURE_ARM] != arms ||
        good != kept || f->kept != kept || f->count != counters + bays + arms)
        fail_msg("%d counters, %d bays, %d arms, %d kept (%d)", count[0], count[1], count[2], good, f->kept);
}

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

/* An E 8 steps wide and 14 high, its strokes and gaps about 3 thick. */
static void draw_e(Raster *r) {
    draw_field(r);
    fill(r, 8, 5, 3, 14, 1);
    for (int k = 0; k < 3; k++) fill(r, 8, 5 + 5.5 * k, 8, 3, 1);
}

/* A B: a slab with two holes of 3 x 3 steps. */
static void draw_b(Raster *r) {
    draw_field(r);
    fill(r, 7, 5, 9, 14, 1);
    for (int k = 0; k < 2; k++) fill(r, 10, 8 + 5 * k, 3, 3, 0);
}

/* A leaf: a disc of 4 steps' radius with five tips that reach out to 10. */
static void draw_leaf(Raster *r, double reach) {
    draw_field(r);
    for (int i = 0; i < SIDE * SIDE; i++) {
        double x = (i % SIDE + 0.5) / SAMPLES - STEPS / 2.0, y = (i / SIDE + 0.5) / SAMPLES - STEPS / 2.0;
        bool in = x * x + y * y < 16;
        for (int k = 0; k < 5; k++) {
            double turn = 2 * PI * k / 5 - PI / 2;
            double along = x * cos(turn) + y * sin(turn), across = fabs(y * cos(turn) - x * sin(turn));
            in = in || (along > 0 && along < reach && across < 2 * (1 - along / 10));
        }
        if (in && r->candy[i] != OUTSIDE) r->candy[i] = 1;
    }
}

static void a_whole_e_has_two_bays(void **state) {
    (void)state;
    Raster e;
    draw_e(&e);
    Features f = compare(&e, &e);
    expect(&f, 0, 2, 0, 2);
    double own = 3 * 14 + 3 * 5 * 3, bay = 5 * 2.5; /* steps^2 */
    for (int i = 0; i < 2; i++) {
        near(f.feature[i].share, bay / (own + 2 * bay), 0.01);
        near(f.feature[i].left, 1, 1e-9);
        near(f.feature[i].middle_mm.x, (13.5 - 12) * step_mm, 0.03);
        near(f.feature[i].middle_mm.y, (i ? 2.75 : -2.75) * step_mm, 0.03);
    }
    near(f.kept_share, 1, 1e-9);
    free(f.feature);
}

static void an_e_loses_the_gap_that_fills_up(void **state) {
    (void)state;
    Raster e, face;
    draw_e(&e);
    face = e;
    fill(&face, 11, 8, 5, 2, 1);
    Features f = compare(&e, &face);
    expect(&f, 0, 2, 0, 1);
    assert_false(f.feature[0].kept);
    near(f.feature[0].left, 0.2, 0.05);
    near(f.kept_share, 0.5, 0.01);
    free(f.feature);
    fill(&face, 11, 13.5, 5, 2, 1);
    f = compare(&e, &face);
    expect(&f, 0, 2, 0, 0);
    near(f.kept_share, 0, 1e-9);
    free(f.feature);
}

static void an_e_that_is_gone_has_no_bays_left(void **state) {
    (void)state;
    Raster e, face;
    draw_e(&e);
    draw_field(&face);
    Features f = compare(&e, &face);
    expect(&f, 0, 2, 0, 0);
    free(f.feature);
    fill(&face, 8, 5, 3, 14, 1); /* only its stem is there */
    f = compare(&e, &face);
    expect(&f, 0, 2, 0, 0);
    free(f.feature);
}

static void a_b_loses_the_counters_that_fill_up(void **state) {
    (void)state;
    Raster b, face;
    draw_b(&b);
    Features f = compare(&b, &b);
    expect(&f, 2, 0, 0, 2);
    near(f.feature[0].share, 9.0 / (9 * 14), 0.003);
    free(f.feature);
    face = b;
    fill(&face, 9, 7, 5, 10, 1);
    f = compare(&b, &face);
    expect(&f, 2, 0, 0, 0);
    free(f.feature);
}

static void counters_that_run_together_are_one(void **state) {
    (void)state;
    Raster b, face;
    draw_b(&b);
    face = b;
    fill(&face, 10, 10, 3, 3, 0); /* the bar between them is gone */
    Features f = compare(&b, &face);
    expect(&f, 2, 0, 0, 1);
    assert_true(f.feature[1].run);
    near(f.feature[1].left, 1, 1e-9);
    free(f.feature);
    face = b;
    fill(&face, 11, 10, 0.5, 3, 0); /* a neck of 0.1 mm is not read */
    f = compare(&b, &face);
    expect(&f, 2, 0, 0, 2);
    free(f.feature);
}

static void a_counter_that_has_run_out_is_lost(void **state) {
    (void)state;
    Raster b, face;
    draw_b(&b);
    face = b;
    fill(&face, 13, 3, 3, 18, 0); /* the bowls' right side is gone, and with it what encloses */
    fill(&face, 10, 3, 3, 5, 0);
    fill(&face, 10, 16, 3, 5, 0);
    Features f = compare(&b, &face);
    expect(&f, 2, 0, 0, 0);
    free(f.feature);
}

static void a_leaf_loses_the_tips_that_are_cut_off(void **state) {
    (void)state;
    Raster leaf, face;
    draw_leaf(&leaf, 10);
    Features f = compare(&leaf, &leaf);
    int arms = 0, kept = 0;
    for (int i = 0; i < f.count; i++) arms += f.feature[i].kind == FEATURE_ARM;
    assert_int_equal(arms, 5);
    assert_int_equal(f.kept, f.count);
    free(f.feature);
    draw_leaf(&face, 4.5);
    f = compare(&leaf, &face);
    for (int i = 0; i < f.count; i++) kept += f.feature[i].kind == FEATURE_ARM && f.feature[i].kept;
    assert_int_equal(kept, 0);
    free(f.feature);
}

static void a_shape_that_is_only_moved_a_little_loses_nothing(void **state) {
    (void)state;
    void (*const shapes[])(Raster *) = {draw_e, draw_b};
    for (int k = 0; k < 2; k++)
        for (int by = -6; by <= 6; by += 3) { /* samples, of eight a step */
            Raster wanted, face;
            shapes[k](&wanted);
            face = moved(&wanted, by, -by);
            Features f = compare(&wanted, &face);
            assert_int_equal(f.count, 2);
            assert_int_equal(f.kept, 2);
            free(f.feature);
        }
}

static void a_disc_and_a_square_have_no_features(void **state) {
    (void)state;
    Raster r;
    draw_leaf(&r, 0);
    Features f = compare(&r, &r);
    expect(&f, 0, 0, 0, 0);
    near(f.kept_share, 1, 1e-9);
    free(f.feature);
    draw_field(&r);
    fill(&r, 5, 5, 14, 14, 1);
    f = compare(&r, &r);
    expect(&f, 0, 0, 0, 0);
    free(f.feature);
}

static void a_mirrored_face_has_mirrored_features(void **state) {
    (void)state;
    Raster wanted, face;
    draw_e(&wanted);
    face = moved(&wanted, 3, 0);
    fill(&face, 11, 8, 4, 2, 1);
    Raster wanted_back = mirrored(&wanted), face_back = mirrored(&face);
    Features f = compare(&wanted, &face), g = compare(&wanted_back, &face_back);
    assert_int_equal(f.count, g.count);
    near(f.kept_share, g.kept_share, 1e-12);
    for (int i = 0; i < f.count; i++) { /* one below the other: the order stays */
        assert_int_equal(f.feature[i].kind, g.feature[i].kind);
        near(f.feature[i].share, g.feature[i].share, 1e-12);
        near(f.feature[i].left, g.feature[i].left, 1e-12);
        near(f.feature[i].middle_mm.x, -g.feature[i].middle_mm.x, 1e-9);
        near(f.feature[i].middle_mm.y, g.feature[i].middle_mm.y, 1e-9);
    }
    free(f.feature);
    free(g.feature);
}

/* A ring in a slab: its inside is of the slab's candy, but no more the slab where the ring is gone. */
static void a_letter_that_is_gone_from_a_slab_is_the_slabs_loss(void **state) {
    (void)state;
    Raster wanted, face;
    draw_field(&wanted);
    fill(&wanted, 5, 5, 14, 14, 1);
    face = wanted;
    fill(&wanted, 9.5, 9.5, 5, 5, 2);
    fill(&wanted, 10.5, 10.5, 3, 3, 1);
    Features f = compare(&wanted, &wanted);
    assert_int_equal(f.feature[0].kind, FEATURE_COUNTER); /* the slab's: the ring */
    near(f.feature[0].share, 16.0 / (14 * 14 - 9), 0.01);
    assert_int_equal(f.kept, f.count);
    free(f.feature);
    f = compare(&wanted, &face);
    near(f.feature[0].left, 0, 1e-9);
    assert_int_equal(f.kept, 0);
    free(f.feature);
}

static void letters_count_in_a_row_and_not_alone(void **state) {
    (void)state;
    Raster wanted;
    for (int letters = 1; letters <= 3; letters++) {
        draw_field(&wanted);
        fill(&wanted, 2, 7, 20, 13, 1); /* so large that a letter is no main part */
        for (int k = 0; k < letters; k++) {
            fill(&wanted, 7 + 4 * k, 2, 2, 3, 2);
            fill(&wanted, 7.5 + 4 * k, 2, 1, 2, 0);
        }
        Features f = compare(&wanted, &wanted);
        int bays = 0;
        for (int i = 0; i < f.count; i++) bays += f.feature[i].kind == FEATURE_BAY;
        assert_int_equal(bays, letters == 3 ? 3 : 0);
        free(f.feature);
    }
}

static void what_is_thinner_than_can_be_seen_is_no_bay(void **state) {
    (void)state;
    const double gaps[] = {1.5, 0.25}; /* steps: 0.3 and 0.05 mm */
    for (int k = 0; k < 2; k++) {
        Raster u;
        draw_field(&u);
        fill(&u, 10, 9, 4, 5, 1);
        fill(&u, 12 - gaps[k] / 2, 9, gaps[k], 3.5, 0);
        Features f = compare(&u, &u);
        assert_int_equal(f.count, k == 0);
        free(f.feature);
    }
}

/* --- the masks, plainly --- */

static uint32_t random_bits(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(*state >> 33);
}

/* Is the point covered by a disc so large about a point of the window that holds none with mask == not? */
static bool covered(const FeatureMasks *m, const uint8_t *mask, int not, double across, int x, int y) {
    const double reach = (across + 0.5) / 2, reach2 = reach * reach;
    int room = (int)ceil(reach);
    for (int v = y - room; v <= y + room; v++)
        for (int u = x - room; u <= x + room; u++) {
            bool is_free = (u - x) * (u - x) + (v - y) * (v - y) < reach2;
            for (int q = v - room; is_free && q <= v + room; q++)
                for (int p = u - room; is_free && p <= u + room; p++) {
                    bool inside = p >= 0 && q >= 0 && p < m->box.w && q < m->box.h;
                    int at = inside ? mask[q * m->box.w + p] : 0; /* nothing lies beyond the window */
                    if ((p - u) * (p - u) + (q - v) * (q - v) < reach2 && at == not ) is_free = false;
                }
            if (is_free) return true;
        }
    return false;
}

/* Diameter of the largest disc in the part, as base/thickness.h measures it. */
static double body_of(const FeatureMasks *m) {
    int most = 0;
    for (size_t i = 0; i < m->points; i++) {
        int x = (int)(i % m->box.w), y = (int)(i / m->box.w), least = INT32_MAX;
        for (size_t k = 0; m->own[i] && k < m->points; k++) {
            int u = (int)(k % m->box.w) - x, v = (int)(k / m->box.w) - y;
            if (!m->own[k] && u * u + v * v < least) least = u * u + v * v;
        }
        if (m->own[i] && least > most) most = least;
    }
    return 2 * sqrt(most) - 0.5;
}

/* The arms, plainly: out[i] = 1. */
static void find_arms_plainly(const FeatureMasks *m, const FeatureSizes *sizes, uint8_t *out) {
    uint8_t *rest = calloc(1, m->points);
    double across = fmin(0.6 * body_of(m), sizes->gap_most);
    assert_non_null(rest);
    for (size_t i = 0; across > sizes->least && i < m->points; i++)
        rest[i] = m->own[i] && !covered(m, m->own, 0, across, (int)(i % m->box.w), (int)(i / m->box.w));
    for (size_t i = 0; i < m->points; i++)
        out[i] = rest[i] && covered(m, rest, 0, sizes->least, (int)(i % m->box.w), (int)(i / m->box.w));
    free(rest);
}

/* A random part of a few boxes and its masks, against the plain definitions. */
static void masks_are_what_they_are_said_to_be(void **state) {
    (void)state;
    const FeatureSizes sizes = {1.5, 3, 7};
    uint64_t seed = 12;
    for (int round = 0; round < 12; round++) {
        FeatureMasks m;
        Err err = {0};
        assert_true(masks_new((Box){10, 10, 40, 40}, false, &sizes, &m, &err));
        int at_x = -m.box.x + 5, at_y = -m.box.y + 5; /* the part's corner in the window */
        for (int k = 0; k < 5; k++) {
            int w = 2 + (int)(random_bits(&seed) % 10), h = 2 + (int)(random_bits(&seed) % 10);
            int x = at_x + (int)(random_bits(&seed) % (21 - w)),
                y = at_y + (int)(random_bits(&seed) % (21 - h));
            for (int i = 0; i < w * h; i++) m.own[(y + i / w) * m.box.w + x + i % w] = 1;
        }
        memcpy(m.got, m.own, m.points);
        memcpy(m.like, m.own, m.points);
        memcpy(m.shown, m.own, m.points);
        assert_true(masks_find(&m, &sizes, &err));
        uint8_t *arms = calloc(2, m.points), *mask = arms + m.points;
        assert_non_null(arms);
        find_arms_plainly(&m, &sizes, arms);
        assert_memory_equal(m.arms, arms, m.points);
        for (size_t i = 0; i < m.points; i++) {
            int x = (int)(i % m.box.w), y = (int)(i / m.box.w);
            mask[i] = !m.own[i] && !covered(&m, m.own, 1, sizes.gap_most, x, y);
        }
        for (size_t i = 0; i < m.points; i++) {
            int x = (int)(i % m.box.w), y = (int)(i / m.box.w);
            bool want = mask[i] && covered(&m, mask, 0, sizes.least, x, y);
            if (m.gaps[i] != want) fail_msg("round %d at %d, %d: %d", round, x, y, m.gaps[i]);
            if (m.gaps[i]) assert_int_equal(m.left[i], 1); /* all of them are left */
        }
        free(arms);
        masks_free(&m);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_whole_e_has_two_bays),
        cmocka_unit_test(an_e_loses_the_gap_that_fills_up),
        cmocka_unit_test(an_e_that_is_gone_has_no_bays_left),
        cmocka_unit_test(a_b_loses_the_counters_that_fill_up),
        cmocka_unit_test(counters_that_run_together_are_one),
        cmocka_unit_test(a_counter_that_has_run_out_is_lost),
        cmocka_unit_test(a_leaf_loses_the_tips_that_are_cut_off),
        cmocka_unit_test(a_shape_that_is_only_moved_a_little_loses_nothing),
        cmocka_unit_test(a_disc_and_a_square_have_no_features),
        cmocka_unit_test(a_mirrored_face_has_mirrored_features),
        cmocka_unit_test(a_letter_that_is_gone_from_a_slab_is_the_slabs_loss),
        cmocka_unit_test(letters_count_in_a_row_and_not_alone),
        cmocka_unit_test(what_is_thinner_than_can_be_seen_is_no_bay),
        cmocka_unit_test(masks_are_what_they_are_said_to_be),
    };
    return cmocka_run_group_tests_name("features", tests, NULL, NULL);
}
