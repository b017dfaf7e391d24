/* Tests of src/plan/redraw.c, find_lines.c, thicken.c and small_text.c. SPDX-License-Identifier: MIT
 *
 * Pictures are drawn in steps on a core of 40, a least strip of four: thinner than 2.2 steps is a line. */
#include "plan/plan.h"

#include "base/thickness.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { STEPS = 40, LEAST = 4, SIDE = STEPS * SAMPLES, CANDIES = 4 };
enum { FIELD, RED, BLACK, PINK }; /* pink is near red */

/* The candy at a place, steps from the middle. */
typedef int Scene(double x, double y);

static Grid draw(Scene *scene) {
    Grid g = {.steps = STEPS, .least_steps = LEAST, .candies = CANDIES, .field = FIELD};
    g.core = (Circle){STEPS / 2.0, STEPS / 2.0, STEPS / 2.0};
    for (int i = 0; i < CANDIES; i++)
        for (int k = 0; k < CANDIES; k++) g.apart[i][k] = i == k ? 0 : i * k == RED * PINK ? 0.3 : 1;
    g.wanted.side = SIDE;
    g.wanted.candy = malloc((size_t)SIDE * SIDE);
    assert_non_null(g.wanted.candy);
    for (int i = 0; i < SIDE * SIDE; i++) {
        double x = (i % SIDE + 0.5) / SAMPLES - STEPS / 2.0, y = (i / SIDE + 0.5) / SAMPLES - STEPS / 2.0;
        g.wanted.candy[i] =
            disc_holds(g.core, SAMPLES, i % SIDE, i / SIDE) ? (uint8_t)scene(x, y) : (uint8_t)OUTSIDE;
    }
    return g;
}

static Grid redrawn(Scene *scene, RedrawWay way) {
    Grid g = draw(scene);
    Err err = {0};
    assert_true(redraw(&g, way, &err));
    return g;
}

static int count(const Grid *g, int candy) {
    int n = 0;
    for (int i = 0; i < SIDE * SIDE; i++) n += g->wanted.candy[i] == candy;
    return n;
}

static int differing(const Grid *g, Scene *scene) {
    Grid other = draw(scene);
    int n = 0;
    for (int i = 0; i < SIDE * SIDE; i++) n += other.wanted.candy[i] != g->wanted.candy[i];
    grid_free(&other);
    return n;
}

/* The thickness that a tenth of the candy's samples stay under, in steps. */
static double thinnest(const Grid *g, int candy) {
    static uint8_t site[SIDE * SIDE];
    static float thick[SIDE * SIDE];
    Err err = {0};
    for (int i = 0; i < SIDE * SIDE; i++) site[i] = g->wanted.candy[i] != candy;
    assert_true(local_thickness(site, SIDE, SIDE, SIDE, thick, &err));
    for (double t = 1; t < SIDE; t++) {
        int under = 0, all = 0;
        for (int i = 0; i < SIDE * SIDE; i++) {
            all += !site[i];
            under += !site[i] && (double)thick[i] < t;
        }
        if (10 * under > all) return t / SAMPLES;
    }
    return STEPS;
}

/* --- pictures --- */

static double box(double x, double y, double w, double h) { /* how far inside the box; under 0 outside */
    return fmin(w / 2 - fabs(x), h / 2 - fabs(y));
}

static int outlined_square(double x, double y) {
    double in = box(x, y, 20, 20);
    return in > 0 ? RED : in > -1 ? BLACK : FIELD;
}

/* As it is without the outline: its ground goes to what is nearer. */
static int bare_square(double x, double y) {
    double in = box(x, y, 20, 20);
    return in > -0.5 ? RED : FIELD;
}

static int one_stroke(double x, double y) {
    return fabs(hypot(x, y / 0.6) - 14) < 0.6 ? BLACK : FIELD;
}

static int sign(double x, double y) {
    double in = box(x, y, 20, 20);
    return in > 0 ? RED : in > -1.5 ? FIELD : in > -2.5 ? BLACK : FIELD;
}

static int plain_sign(double x, double y) {
    return box(x, y, 20, 20) > 0 ? RED : FIELD;
}

/* Two blocks and a thin bar between them. */
static int dumb_bell(double x, double y) {
    return box(fabs(x) - 11, y, 10, 12) > 0 || box(x, y, 20, 1.2) > 0 ? BLACK : FIELD;
}

/* A negative line. */
static int split_disc(double x, double y) {
    return hypot(x, y) > 16 ? FIELD : fabs(x) < 0.7 && fabs(y) < 12 ? FIELD : RED;
}

/* A line between two colours that are nearly the same. */
static int parted_pinks(double x, double y) {
    return box(x, y, 26, 26) < 0 ? FIELD : fabs(x) < 0.7 ? BLACK : x < 0 ? RED : PINK;
}

/* A large disc, and five letters under it, eight steps high, that are too fine: I with serifs. */
static int small_word(double x, double y) {
    if (hypot(x, y + 7) < 12) return RED;
    double at = fabs(x) < 10 ? fmod(x + 10, 4) - 2 : 9;
    bool stem = box(at, y - 10, 0.9, 8) > 0, serif = box(at, fabs(y - 10) - 3.6, 2.4, 0.8) > 0;
    return stem || serif ? BLACK : FIELD;
}

static int disc_alone(double x, double y) {
    return hypot(x, y + 7) < 12 ? RED : FIELD;
}

static int bold(double x, double y) {
    return hypot(x, y) < 12 ? RED : FIELD;
}

/* Five lines and a note on them. */
static int music(double x, double y) {
    if (hypot(x, y) < 5) return RED;
    return fabs(x) < 15 && fabs(y) < 13 && fabs(fmod(y + 21, 6) - 3) < 0.5 ? BLACK : FIELD;
}

/* --- tests --- */

static void an_outline_between_two_colours_goes_whole_and_its_sides_share_its_ground(void **state) {
    (void)state;
    Grid g = redrawn(outlined_square, REDRAW_LINES);
    assert_int_equal(count(&g, BLACK), 0);
    assert_true(differing(&g, bare_square) < SIDE); /* but for the corners, which are round */
    assert_int_equal(g.redrawn.count, 1);
    const RedrawnLine *line = &g.redrawn.line[0];
    assert_true(line->how == REDRAWN_LEFT_OUT && line->candy == BLACK && line->outline && !line->limb);
    assert_true(line->parted > 0.9 && line->missed < 0.3);
    assert_true(fabs(line->width / SAMPLES - 1) < 0.1 && fabs(line->length / SAMPLES - 84) < 6);
    assert_non_null(g.sent.candy);
    grid_free(&g);
    g = redrawn(outlined_square, REDRAW_THICKER);
    assert_true(thinnest(&g, BLACK) > 2.6);
    grid_free(&g);
}

static void a_line_that_is_the_drawing_is_thickened_whole(void **state) {
    (void)state;
    for (int way = REDRAW_LINES; way < REDRAW_WAYS; way++) {
        Grid g = redrawn(one_stroke, (RedrawWay)way);
        assert_true(thinnest(&g, BLACK) > 2.6 && thinnest(&g, BLACK) < 4);
        assert_int_equal(g.redrawn.count, 1);
        assert_int_equal(g.redrawn.line[0].how, REDRAWN_THICKENED);
        assert_true(g.redrawn.thickened > 0);
        assert_true(g.redrawn.left_out <= 0);
        grid_free(&g);
    }
}

static void the_rim_of_a_sign_goes_with_the_gap_beside_it_and_nobody_minds(void **state) {
    (void)state;
    Grid g = redrawn(sign, REDRAW_LINES);
    assert_int_equal(differing(&g, plain_sign), 0);
    assert_true(g.redrawn.count == 1 && g.redrawn.line[0].frame && g.redrawn.missed <= 0);
    grid_free(&g);
}

static void what_holds_a_part_together_stays(void **state) {
    (void)state;
    for (int way = REDRAW_LINES; way < REDRAW_WAYS; way++) {
        Grid g = redrawn(dumb_bell, (RedrawWay)way);
        assert_true(g.redrawn.count == 1 && g.redrawn.line[0].limb);
        assert_int_equal(g.redrawn.line[0].how, REDRAWN_THICKENED);
        assert_true(g.wanted.candy[(size_t)SIDE / 2 * SIDE + SIDE / 2] == BLACK);
        grid_free(&g);
    }
}

static void a_gap_in_one_colour_is_widened(void **state) {
    (void)state;
    Grid g = redrawn(split_disc, REDRAW_LINES);
    assert_true(g.redrawn.count == 1 && g.redrawn.line[0].how == REDRAWN_THICKENED);
    int wide = 0;
    for (int x = 0; x < SIDE; x++) wide += g.wanted.candy[(size_t)SIDE / 2 * SIDE + x] == FIELD;
    Grid as_sent = draw(split_disc);
    int before = 0;
    for (int x = 0; x < SIDE; x++) before += as_sent.wanted.candy[(size_t)SIDE / 2 * SIDE + x] == FIELD;
    assert_true(wide - before >= SAMPLES);
    grid_free(&as_sent);
    grid_free(&g);
}

static void a_line_between_what_is_nearly_the_same_is_drawing(void **state) {
    (void)state;
    Grid g = redrawn(parted_pinks, REDRAW_LINES);
    assert_true(g.redrawn.count == 1 && g.redrawn.line[0].how == REDRAWN_THICKENED);
    assert_true(g.redrawn.line[0].parted < 0.3 && thinnest(&g, BLACK) > 2.6);
    grid_free(&g);
}

static void a_line_of_small_text_is_left_out_as_one(void **state) {
    (void)state;
    Grid g = redrawn(small_word, REDRAW_LINES);
    assert_int_equal(differing(&g, disc_alone), 0);
    assert_true(g.redrawn.count == 1 && g.redrawn.line[0].text && g.redrawn.line[0].missed == 1);
    assert_true(g.redrawn.line[0].box.w > 17 * SAMPLES);
    grid_free(&g);
}

static void lines_of_one_kind_fare_alike(void **state) {
    (void)state;
    Grid g = redrawn(music, REDRAW_LINES);
    int left = 0;
    for (int i = 0; i < g.redrawn.count; i++) left += g.redrawn.line[i].how == REDRAWN_LEFT_OUT;
    assert_true(left == 0 || left == g.redrawn.count);
    assert_true(g.redrawn.count > 3);
    grid_free(&g);
}

static void what_is_bold_stays_as_it_was_sent(void **state) {
    (void)state;
    for (int way = 0; way < REDRAW_WAYS; way++) {
        Grid g = redrawn(bold, (RedrawWay)way);
        assert_int_equal(differing(&g, bold), 0);
        assert_true(g.redrawn.count == 0 && g.sent.candy == NULL && face_as_sent(&g) == &g.wanted);
        grid_free(&g);
    }
}

static unsigned next_random(unsigned *seed) {
    *seed = *seed * 1664525u + 1013904223u;
    return *seed >> 8;
}

/* Blobs and lines at random. */
static void scribble(Grid *g, unsigned seed) {
    for (int n = 0; n < 24; n++) {
        int x = (int)(next_random(&seed) % SIDE), y = (int)(next_random(&seed) % SIDE);
        int w = 2 + (int)(next_random(&seed) % 60), h = 2 + (int)(next_random(&seed) % 60);
        int candy = (int)(next_random(&seed) % CANDIES);
        for (int v = y; v < y + h && v < SIDE; v++)
            for (int u = x; u < x + w && u < SIDE; u++)
                if (g->wanted.candy[(size_t)v * SIDE + u] != OUTSIDE)
                    g->wanted.candy[(size_t)v * SIDE + u] = (uint8_t)candy;
    }
}

static void whatever_is_sent_the_face_stays_one_and_comes_out_the_same_again(void **state) {
    (void)state;
    for (unsigned seed = 1; seed <= 40; seed++) {
        Grid one = draw(bold), two = draw(bold);
        Err err = {0};
        scribble(&one, seed);
        scribble(&two, seed);
        RedrawWay way = (RedrawWay)(1 + seed % (REDRAW_WAYS - 1));
        assert_true(redraw(&one, way, &err) && redraw(&two, way, &err));
        assert_memory_equal(one.wanted.candy, two.wanted.candy, (size_t)SIDE * SIDE);
        for (int i = 0; i < SIDE * SIDE; i++) {
            assert_int_equal(one.wanted.candy[i] == OUTSIDE, face_as_sent(&one)->candy[i] == OUTSIDE);
            assert_true(one.wanted.candy[i] < CANDIES || one.wanted.candy[i] == OUTSIDE);
        }
        for (int i = 0; i < one.redrawn.count; i++) {
            const RedrawnLine *line = &one.redrawn.line[i];
            assert_true(line->missed >= 0 && line->missed <= 1 && line->parted >= 0 && line->parted <= 1);
            assert_true(line->box.x >= 0 && line->box.x + line->box.w <= SIDE);
            assert_true(i == 0 || line->text || line->samples <= line[-1].samples);
        }
        grid_free(&one);
        grid_free(&two);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_outline_between_two_colours_goes_whole_and_its_sides_share_its_ground),
        cmocka_unit_test(a_line_that_is_the_drawing_is_thickened_whole),
        cmocka_unit_test(the_rim_of_a_sign_goes_with_the_gap_beside_it_and_nobody_minds),
        cmocka_unit_test(what_holds_a_part_together_stays),
        cmocka_unit_test(a_gap_in_one_colour_is_widened),
        cmocka_unit_test(a_line_between_what_is_nearly_the_same_is_drawing),
        cmocka_unit_test(a_line_of_small_text_is_left_out_as_one),
        cmocka_unit_test(lines_of_one_kind_fare_alike),
        cmocka_unit_test(what_is_bold_stays_as_it_was_sent),
        cmocka_unit_test(whatever_is_sent_the_face_stays_one_and_comes_out_the_same_again),
    };
    return cmocka_run_group_tests_name("redraw", tests, NULL, NULL);
}
