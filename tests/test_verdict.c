/* Tests of the verdict as a maker sees it: a picture, the default order, the whole job.
 * SPDX-License-Identifier: MIT
 *
 * What no hands can build is *no*, and the first reason that is given is the right one; what makers build
 * every week is *go* or a change. */
#include "scene_logo.h"

#include "say/verdict_words.h"
#include <math.h>

static const Rgb8 white = {255, 255, 255}, red = {200, 32, 44}, navy = {26, 36, 84}, yellow = {250, 210, 48},
                  blue = {32, 76, 168}, green = {46, 142, 68}, black = {32, 29, 30};

/* --- what cannot be built --- */

static uint8_t level(double v) {
    return (uint8_t)(fmin(fmax(v, 0), 1) * 255 + 0.5);
}

/* One of a lattice of chosen values, the same on every machine. */
static double value_at(int x, int y, int layer) {
    uint32_t h = (uint32_t)x * 374761393u + (uint32_t)y * 668265263u + (uint32_t)layer * 2246822519u;
    h = (h ^ h >> 13) * 1274126177u;
    return ((h ^ h >> 16) & 0xFFFF) / 65535.0;
}

/* Smooth noise: the lattice's values, blended between by cosines. */
static double noise_at(double x, double y, int layer) {
    int u = (int)floor(x), v = (int)floor(y);
    double a = 0.5 - 0.5 * cos((x - u) * PI), b = 0.5 - 0.5 * cos((y - v) * PI);
    double top = value_at(u, v, layer) * (1 - a) + value_at(u + 1, v, layer) * a,
           low = value_at(u, v + 1, layer) * (1 - a) + value_at(u + 1, v + 1, layer) * a;
    return top * (1 - b) + low * b;
}

/* Coarse and fine noise in each channel: colours and detail all over, no flat place. */
static Rgb8 photograph(double x, double y) {
    double c[3];
    for (int i = 0; i < 3; i++)
        c[i] = 0.7 * noise_at(3 * x, 3 * y, i) + 0.3 * noise_at(14 * x, 14 * y, 3 + i);
    return (Rgb8){level(c[0]), level(c[1]), level(c[2])};
}

/* A shaded disc as a camera sees it: light from the upper left that dims over the lower right, grain on both
 * it and the paper. */
static Rgb8 photographed_disc(double x, double y) {
    const double grain = 0.05 * (noise_at(90 * x, 90 * y, 7) - 0.5);
    if (hypot(x, y) > 0.8) return (Rgb8){level(0.95 + grain), level(0.94 + grain), level(0.92 + grain)};
    const double light = 1 - 0.75 * fmax(0, (x + y + 0.2) / 1.4) + 0.5 * grain;
    return (Rgb8){level(0.8 * light + grain), level(0.2 * light + grain), level(0.15 * light + grain)};
}

/* A hill under a sky with a sun: soft light, grain. */
static Rgb8 photographed_scene(double x, double y) {
    const double grain = 0.06 * (noise_at(90 * x, 90 * y, 8) - 0.5);
    const double hill = 0.2 + 0.3 * noise_at(2 * x, 0, 9), shade = noise_at(6 * x, 6 * y, 10);
    const double glow = exp(-6 * ((x - 0.3) * (x - 0.3) + (y + 0.5) * (y + 0.5)));
    if (y > hill)
        return (Rgb8){level(0.15 + 0.2 * shade + grain), level(0.3 + 0.3 * shade + grain),
                      level(0.1 + grain)};
    return (Rgb8){level(0.4 + 0.2 * y + 0.5 * glow + grain), level(0.55 + 0.2 * y + 0.4 * glow + grain),
                  level(0.85 + 0.1 * y + grain)};
}

/* A disc that goes from blue to red. */
static Rgb8 gradient(double x, double y) {
    double t = (x + 0.9) / 1.8;
    if (hypot(x, y) > 0.9) return white;
    return (Rgb8){level(0.1 + 0.75 * t), level(0.2), level(0.7 - 0.6 * t)};
}

/* A flower of hairlines: one petal after the other, drawn with a pen of one hundredth of the width. */
static Rgb8 hairlines(double x, double y) {
    double r = hypot(x, y), turn = atan2(y, x), petal = 0.55 + 0.3 * cos(7 * turn);
    bool line = fabs(r - petal) < 0.012 || fabs(r - 0.5 * petal) < 0.012 || fabs(r - 0.12) < 0.012;
    return line ? black : white;
}

static Rgb8 barcode(double x, double y) {
    static const char bars[] =
        "1010001101001100100100110111010001011001101010110110011010000101110010011101011";
    int module = (int)floor((x + 0.85) / 1.7 * (double)(sizeof bars - 1));
    if (fabs(x) >= 0.85 || fabs(y) > 0.5) return white;
    return bars[module] == '1' ? black : white;
}

/* Nine lines of small letters, three by five dots each. */
static Rgb8 small_text(double x, double y) {
    static const char *const letter[] = {"111101101101111", "010110010010111", "111100110100111",
                                         "101101111101101", "111101110100100", "110101110101101",
                                         "111010010010010"};
    int column = (int)floor((x + 0.8) / 1.6 * 64), row = (int)floor((y + 0.8) / 1.6 * 63);
    if (fabs(x) >= 0.8 || fabs(y) >= 0.8 || column % 4 == 3 || row % 7 >= 5) return white;
    int which = (column / 4 * 5 + row / 7 * 3) % 7;
    return letter[which][row % 7 * 3 + column % 4] == '1' ? navy : white;
}

/* --- what is built every week --- */

/* A red disc with a bold yellow bar. */
static Rgb8 bold_mark(double x, double y) {
    if (hypot(x, y) > 0.9) return white;
    return fabs(x) < 0.55 && fabs(y) < 0.2 ? yellow : red;
}

static Rgb8 letter(double x, double y) {
    bool post = x > -0.6 && x < -0.25 && fabs(y)<0.85, bar = x> - 0.6 && x < 0.6 &&
                (fabs(y + 0.68) < 0.17 || (x < 0.4 && fabs(y + 0.02) < 0.17));
    return post || bar ? navy : white;
}

/* Two arcs that meet in points, a stalk below. */
static Rgb8 leaf(double x, double y) {
    bool blade = hypot(x - 0.55, y) < 1.05 && hypot(x + 0.55, y) < 1.05,
         stalk = fabs(x) < 0.09 && y > 0.7 && y < 1;
    return blade || stalk ? green : white;
}

/* Inside at least four of the five lines that its sides lie on. */
static Rgb8 star(double x, double y) {
    int inside = 0;
    for (int k = 0; k < 5; k++) {
        double turn = PI / 2 + k * 2 * PI / 5;
        inside += x * cos(turn) + y * sin(turn) < 0.9 * cos(2 * PI / 5);
    }
    return inside >= 4 ? red : white;
}

/* Straight above, two arcs below, a white band across. */
static Rgb8 shield(double x, double y) {
    bool in =
        fabs(x) < 0.75 && y > -0.85 && (y < 0 || (hypot(x + 0.45, y) < 1.2 && hypot(x - 0.45, y) < 1.2));
    return !in || fabs(y + 0.3) < 0.15 ? white : blue;
}

/* --- tests --- */

typedef struct Seen {
    Verdict verdict;
    const char *reason; /* the first line that is as bad as the verdict */
} Seen;

static Seen judged(Scene *scene) {
    Logo logo;
    logo_draw(&logo, scene);
    logo_run(&logo);
    const Judgement *j = &logo.job.judgement;
    Seen seen = {j->verdict, "none"};
    for (int i = j->checks - 1; i >= 0; i--)
        if (j->check[i].verdict == j->verdict) seen.reason = check_name(j->check[i].kind, UNITS_MM);
    logo_free(&logo);
    return seen;
}

static void is_no(Scene *scene, const char *reason, const char *or_reason) {
    Seen seen = judged(scene);
    assert_int_equal(seen.verdict, VERDICT_NO);
    if (strcmp(seen.reason, reason) != 0 && strcmp(seen.reason, or_reason) != 0)
        fail_msg("the first reason is %s, not %s", seen.reason, reason);
}

static void can_be_built(Scene *scene) {
    Seen seen = judged(scene);
    if (seen.verdict == VERDICT_NO) fail_msg("no, for %s", seen.reason);
}

static void a_photograph_is_no_for_its_shading(void **state) {
    (void)state;
    is_no(photograph, "shaded area", "");
}

static void a_photograph_of_a_shaded_disc_and_one_of_a_scene_are_no(void **state) {
    (void)state;
    is_no(photographed_disc, "shaded area", "");
    is_no(photographed_scene, "shaded area", "");
}

static void a_gradient_is_no_for_its_shading(void **state) {
    (void)state;
    is_no(gradient, "shaded area", "");
}

/* They come out thicker, where there is room. */
static void a_drawing_in_hairlines_is_no_go(void **state) {
    (void)state;
    assert_int_not_equal(judged(hairlines).verdict, VERDICT_GO);
}

static void a_barcode_is_no_for_its_strokes_or_gaps(void **state) {
    (void)state;
    is_no(barcode, "parts and holes kept", "finest gap"); /* they run together */
}

static void lines_of_small_text_are_no_for_their_strokes_or_gaps(void **state) {
    (void)state;
    is_no(small_text, "finest stroke", "finest gap");
}

static void a_bold_mark_in_two_colours_can_be_built(void **state) {
    (void)state;
    can_be_built(bold_mark);
}

static void a_single_letter_can_be_built(void **state) {
    (void)state;
    can_be_built(letter);
}

static void a_leaf_can_be_built(void **state) {
    (void)state;
    can_be_built(leaf);
}

static void a_star_can_be_built(void **state) {
    (void)state;
    can_be_built(star);
}

static void a_shield_can_be_built(void **state) {
    (void)state;
    can_be_built(shield);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_photograph_is_no_for_its_shading),
        cmocka_unit_test(a_photograph_of_a_shaded_disc_and_one_of_a_scene_are_no),
        cmocka_unit_test(a_gradient_is_no_for_its_shading),
        cmocka_unit_test(a_drawing_in_hairlines_is_no_go),
        cmocka_unit_test(a_barcode_is_no_for_its_strokes_or_gaps),
        cmocka_unit_test(lines_of_small_text_are_no_for_their_strokes_or_gaps),
        cmocka_unit_test(a_bold_mark_in_two_colours_can_be_built),
        cmocka_unit_test(a_single_letter_can_be_built),
        cmocka_unit_test(a_leaf_can_be_built),
        cmocka_unit_test(a_star_can_be_built),
        cmocka_unit_test(a_shield_can_be_built),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
