/* Tests of src/judge/judge.c. SPDX-License-Identifier: MIT */
#include "judge/judge.h"

#include "said.h"
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { STEPS = 16, SIDE = STEPS * SAMPLES };

/* A job of its own, all of it *go*: a red square in a white field, 8 steps wide, two least strips. */
typedef struct Setting {
    Shop shop;
    InkMap inks;
    uint8_t wanted[SIDE * SIDE], face[SIDE * SIDE];
    Job job;
} Setting;

/* The field is candy 0; from..to, in samples, both ways, is candy 1. */
static void draw_square(uint8_t *candy, int from, int to) {
    for (int i = 0; i < SIDE * SIDE; i++) {
        int x = i % SIDE, y = i / SIDE;
        bool inside = hypot(x + 0.5 - SIDE / 2.0, y + 0.5 - SIDE / 2.0) < SIDE / 2.0;
        candy[i] = !inside ? OUTSIDE : x >= from && x < to && y >= from && y < to;
    }
}

static void setting_fill(Setting *s) {
    memset(s, 0, sizeof *s);
    s->shop = shop_default();
    s->inks = (InkMap){.count = 2};
    s->inks.ink[0] = (Ink){{255, 255, 255}, false, 0.7};
    s->inks.ink[1] = (Ink){{200, 32, 44}, false, 0.3};
    s->inks.border[0][1] = s->inks.border[1][0] = 1;
    draw_square(s->wanted, 32, 96);
    draw_square(s->face, 32, 96);
    Job *job = &s->job;
    *job = (Job){.inks = &s->inks, .shop = &s->shop, .order = order_default()};
    job->palette =
        (Palette){.count = 2, .inks = 2, .wanted = 2, .of_ink = {0, 1}, .jackets = 1, .stripes = 1};
    job->palette.candy[0].srgb = (Rgb8){248, 246, 240};
    job->palette.candy[1].srgb = (Rgb8){200, 32, 44};
    job->cane = (Cane){
        .log_diameter_mm = 100, .reduction = 6, .step_mm = 1.5, .key = {.steps = STEPS, .least_steps = 4}};
    job->grid = (Grid){.steps = STEPS, .least_steps = 4, .candies = 2, .wanted = {SIDE, s->wanted}};
    job->grid.core = (Circle){STEPS / 2.0, STEPS / 2.0, STEPS / 2.0};
    job->face = (Face){SIDE, s->face};
    job->bill = (Bill){.log_mass_g = 5000, .ropes_made = 40};
    job->work.laying = 20;
}

static Judgement run(const Setting *s) {
    Judgement judgement = {0};
    Err err = {0};
    assert_true(judge(&s->job, &judgement, &err));
    return judgement;
}

static const Check *find(const Judgement *judgement, const char *name) {
    return check_named(judgement, name);
}

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

static void a_perfect_face_has_likeness_one_and_every_line_is_go(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    Judgement j = run(&s);
    near(j.likeness, 1, 0);
    near(j.weakest, 1, 0);
    assert_int_equal(j.verdict, VERDICT_GO);
    assert_true(j.least_percent >= 1); /* also of a job that nobody advises on */
    static const char *const names[] = {"shaded area",
                                        "own colours apart",
                                        "finest stroke",
                                        "finest gap",
                                        "reading at 350 mm",
                                        "touching inks kept apart",
                                        "worst colour match",
                                        "candies it would take",
                                        "parts and holes kept",
                                        "likeness",
                                        "weakest main part",
                                        "ropes made",
                                        "minutes",
                                        "log mass",
                                        "log diameter"};
    assert_int_equal(j.checks, sizeof names / sizeof *names);
    for (int i = 0; i < j.checks; i++) {
        assert_string_equal(check_name(j.check[i].kind, UNITS_MM), names[i]);
        assert_int_equal(j.check[i].verdict, VERDICT_GO);
        assert_string_equal(advice_on(&s.job, &j.check[i]), "");
        assert_true(j.check[i].least ? j.check[i].value >= j.check[i].limit
                                     : j.check[i].value <= j.check[i].limit);
    }
    judgement_free(&j);
}

/* --- the zones --- */

static void set_wanted(Setting *s, double v) {
    s->job.palette.wanted = (int)v;
}
static void set_match(Setting *s, double v) {
    s->job.palette.delta_e[1] = v;
}
static void set_shaded(Setting *s, double v) {
    s->inks.shaded = v / 100;
    s->inks.deep = v / 200;
}
/* All of it, but v % of it far from its candy's colour. */
static void set_deep(Setting *s, double v) {
    s->inks.shaded = 1;
    s->inks.deep = v / 100;
}
/* Some of it, v % of all so far. */
static void set_deep_in_places(Setting *s, double v) {
    s->inks.shaded = 0.6;
    s->inks.deep = v / 100;
}
/* A tenth of it, near its candy's colour, v % of that grained. */
static void set_grain(Setting *s, double v) {
    s->inks.shaded = 0.1;
    s->inks.grain = v / 100;
}
static void set_cuts(Setting *s, double v) {
    s->inks.cuts = (int)v;
}
/* v % of what is drawn in another colour altogether. */
static void set_other_colours(Setting *s, double v) {
    s->inks.count = s->job.palette.inks = 3;
    s->inks.ink[2] = (Ink){{20, 30, 200}, false, 0.3 * v / 100};
    s->inks.ink[1].share = 0.3 - s->inks.ink[2].share;
    s->job.palette.delta_e[2] = 30;
    s->job.palette.of_ink[2] = 2;
}
static void set_ropes(Setting *s, double v) {
    s->job.bill.ropes_made = (int)v;
}
static void set_minutes(Setting *s, double v) {
    s->job.work.laying = v;
}
static void set_mass(Setting *s, double v) {
    s->job.bill.log_mass_g = v * 1000;
}
static void set_diameter(Setting *s, double v) {
    s->job.cane.log_diameter_mm = v;
}

/* The part becomes a bar so many samples wide, in logo and face. */
static void set_bar(Setting *s, double v) {
    for (int i = 0; i < SIDE * SIDE; i++)
        if (s->wanted[i] != OUTSIDE) s->wanted[i] = s->face[i] = abs(2 * (i % SIDE) + 1 - SIDE) < v;
}

/* The same bar in the logo; in the face it is gone. */
static void set_lost_bar(Setting *s, double v) {
    set_bar(s, v);
    for (int i = 0; i < SIDE * SIDE; i++)
        if (s->face[i] != OUTSIDE) s->face[i] = 0;
}

/* A hole so many samples wide in the square; in the face it is filled. */
static void set_lost_hole(Setting *s, double v) {
    draw_square(s->face, 64 - (int)v / 2, 64 + (int)v / 2);
    for (int i = 0; i < SIDE * SIDE; i++)
        if (s->face[i] == 1) s->wanted[i] = 0;
    draw_square(s->face, 32, 96);
}

/* A gap so many samples wide down the middle of the square. */
static void set_gap(Setting *s, double v) {
    for (int i = 0; i < SIDE * SIDE; i++)
        if (s->wanted[i] != OUTSIDE && abs(2 * (i % SIDE) + 1 - SIDE) < v) s->wanted[i] = s->face[i] = 0;
}

/* A smaller square in the face: IoU = (v / 64)^2. */
static void set_face(Setting *s, double v) {
    draw_square(s->face, 64 - (int)v / 2, 64 + (int)v / 2);
}

/* A bar of 32 samples, 6 mm in the log, drawn out so far that it is v mm at the piece. */
static void set_reading(Setting *s, double v) {
    set_bar(s, 32);
    s->job.cane.reduction = 6 / v;
}

typedef struct Zone {
    const char *name;
    void (*set)(Setting *, double);
    double value;
    Verdict verdict;
} Zone;

static const Zone zones[] = {
    {"candies it would take", set_wanted, 4, VERDICT_GO},
    {"candies it would take", set_wanted, 5, VERDICT_CHANGE},
    {"worst colour match", set_match, 10, VERDICT_GO},
    {"worst colour match", set_match, 10.1, VERDICT_CHANGE},
    {"worst colour match", set_match, 25, VERDICT_CHANGE},
    {"worst colour match", set_match, 25.1, VERDICT_NO}, /* all that is drawn */
    {"shaded area", set_shaded, 5, VERDICT_GO},
    {"shaded area", set_shaded, 5.1, VERDICT_CHANGE},
    {"shaded area", set_shaded, 65, VERDICT_CHANGE},
    {"shaded area", set_shaded, 65.1, VERDICT_NO},
    {"shaded area", set_deep, 0, VERDICT_GO}, /* a sheen */
    {"shaded area", set_deep, 0.03, VERDICT_CHANGE},
    {"shaded area", set_deep, 20, VERDICT_CHANGE},
    {"shaded area", set_deep, 20.1, VERDICT_NO},
    {"shaded area", set_deep_in_places, 50, VERDICT_CHANGE},
    {"shaded area", set_deep_in_places, 50.1, VERDICT_NO},
    {"shaded area", set_grain, 50, VERDICT_GO},
    {"shaded area", set_grain, 50.1, VERDICT_NO},
    {"cut by the picture's edge", set_cuts, 3, VERDICT_GO},
    {"cut by the picture's edge", set_cuts, 4, VERDICT_NO},
    {"worst colour match", set_other_colours, 19.9, VERDICT_CHANGE},
    {"worst colour match", set_other_colours, 20.1, VERDICT_NO},
    {"finest stroke", set_bar, 34, VERDICT_GO}, /* the least strip is 32 samples */
    {"finest stroke", set_bar, 24, VERDICT_GO}, /* a third thinner comes out thicker */
    {"finest stroke", set_bar, 20, VERDICT_CHANGE},
    {"finest stroke", set_bar, 18, VERDICT_CHANGE},
    {"finest stroke", set_bar, 22, VERDICT_GO},     /* a sample is allowed for the measuring */
    {"finest stroke", set_bar, 14, VERDICT_CHANGE}, /* thickened, but kept */
    {"finest stroke", set_lost_bar, 18, VERDICT_CHANGE},
    {"finest stroke", set_lost_bar, 14, VERDICT_NO},
    {"finest gap", set_gap, 34, VERDICT_GO},
    {"finest gap", set_gap, 24, VERDICT_GO},
    {"finest gap", set_gap, 20, VERDICT_CHANGE},
    {"finest gap", set_gap, 18, VERDICT_CHANGE},
    {"finest gap", set_gap, 14, VERDICT_CHANGE},
    {"finest gap", set_lost_hole, 18, VERDICT_CHANGE},
    {"finest gap", set_lost_hole, 14, VERDICT_NO},
    {"reading at 350 mm", set_reading, 0.34, VERDICT_GO},
    {"reading at 350 mm", set_reading, 0.31, VERDICT_CHANGE},
    {"reading at 350 mm", set_reading, 0.11, VERDICT_CHANGE},
    {"reading at 350 mm", set_reading, 0.09, VERDICT_NO},
    {"parts and holes kept", set_face, 46, VERDICT_GO}, /* 0.517 */
    {"parts and holes kept", set_face, 44, VERDICT_NO}, /* 0.473, a main part */
    {"likeness", set_face, 62, VERDICT_GO},             /* 0.938 */
    {"likeness", set_face, 60, VERDICT_GO},             /* 0.879, which is read as 0.88 */
    {"likeness", set_face, 58, VERDICT_CHANGE},         /* 0.821 */
    {"likeness", set_face, 56, VERDICT_NO},             /* 0.766 */
    {"weakest main part", set_face, 54, VERDICT_GO},    /* 0.712 */
    {"weakest main part", set_face, 52, VERDICT_CHANGE},
    {"weakest main part", set_face, 46, VERDICT_CHANGE},
    {"weakest main part", set_face, 44, VERDICT_NO},
    {"ropes made", set_ropes, 66, VERDICT_GO},
    {"ropes made", set_ropes, 67, VERDICT_CHANGE},
    {"ropes made", set_ropes, 120, VERDICT_CHANGE},
    {"ropes made", set_ropes, 121, VERDICT_NO},
    {"minutes", set_minutes, 40, VERDICT_GO},
    {"minutes", set_minutes, 60, VERDICT_CHANGE}, /* three people in place of two */
    {"minutes", set_minutes, 60.1, VERDICT_NO},
    {"log mass", set_mass, 12, VERDICT_GO},
    {"log mass", set_mass, 15, VERDICT_CHANGE},
    {"log mass", set_mass, 15.1, VERDICT_NO},
    {"log diameter", set_diameter, 200, VERDICT_GO},
    {"log diameter", set_diameter, 250, VERDICT_CHANGE},
    {"log diameter", set_diameter, 251, VERDICT_NO},
};

static void every_line_has_its_zones_and_the_worst_line_is_the_verdict(void **state) {
    (void)state;
    static Setting s;
    for (size_t i = 0; i < sizeof zones / sizeof *zones; i++) {
        const Zone *zone = &zones[i];
        setting_fill(&s);
        zone->set(&s, zone->value);
        Judgement j = run(&s);
        const Check *check = find(&j, zone->name);
        assert_non_null(check);
        if (check->verdict != zone->verdict)
            fail_msg("%s set to %g is %s: %g against %g", zone->name, zone->value,
                     verdict_name(check->verdict), check->value, check->limit);
        Verdict worst = VERDICT_GO;
        for (int k = 0; k < j.checks; k++)
            if (j.check[k].verdict > worst && !j.check[k].own) worst = j.check[k].verdict;
        assert_int_equal(j.verdict, worst);
        judgement_free(&j);
    }
}

/* --- single lines --- */

typedef struct Touch {
    Rgb8 ink, candy; /* of the second ink and candy; the first are white */
    bool transparent;
    double border;
    bool looked_at;
    Verdict verdict;
} Touch;

static void touching_inks_stay_apart_as_far_as_the_inks_ask(void **state) {
    (void)state;
    static const Touch touches[] = {
        {{0, 0, 0}, {0, 0, 0}, false, 1, true, VERDICT_GO},
        {{0, 0, 0}, {248, 246, 240}, false, 1, true, VERDICT_NO},
        {{0, 0, 0}, {200, 200, 200}, false, 1, true, VERDICT_CHANGE}, /* between 10 and 20 */
        {{150, 150, 150}, {200, 200, 200}, false, 1, true, VERDICT_CHANGE},
        {{235, 235, 235}, {248, 246, 240}, false, 0.5, true, VERDICT_GO},      /* merged, and hardly told
                                                                                apart before */
        {{235, 235, 235}, {248, 246, 240}, false, 0.51, true, VERDICT_CHANGE}, /* all that is drawn */
        {{205, 205, 205}, {248, 246, 240}, false, 1, true, VERDICT_CHANGE},    /* merged, but alike anyway */
        {{235, 235, 235}, {225, 225, 225}, false, 1, true, VERDICT_GO},
        {{0, 0, 0}, {248, 246, 240}, true, 1, true, VERDICT_NO},
        {{0, 0, 0}, {0, 0, 0}, true, 1, true, VERDICT_GO},
        {{0, 0, 0}, {248, 246, 240}, false, 0.004, false, VERDICT_GO},
    };
    static Setting s;
    for (size_t i = 0; i < sizeof touches / sizeof *touches; i++) {
        setting_fill(&s);
        s.inks.ink[1].srgb = touches[i].ink;
        s.inks.ink[1].transparent = touches[i].transparent;
        s.inks.border[0][1] = s.inks.border[1][0] = touches[i].border;
        s.job.palette.candy[1].srgb = touches[i].candy;
        Judgement j = run(&s);
        const Check *check = find(&j, "touching inks kept apart");
        assert_int_equal(check != NULL, touches[i].looked_at);
        if (check && check->verdict != touches[i].verdict)
            fail_msg("row %zu: %s, %g against %g", i, verdict_name(check->verdict), check->value,
                     check->limit);
        judgement_free(&j);
    }
}

static void the_worst_of_several_touching_pairs_is_told(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    s.inks.count = s.job.palette.inks = s.job.palette.count = 3;
    s.inks.ink[2] = (Ink){{20, 30, 90}, false, 0.1};
    s.job.palette.of_ink[2] = 2;
    s.job.palette.candy[2].srgb = (Rgb8){200, 40, 50};
    s.inks.border[1][2] = s.inks.border[2][1] = 0.5;
    Judgement j = run(&s);
    assert_int_equal(find(&j, "touching inks kept apart")->verdict, VERDICT_NO);
    assert_true(find(&j, "touching inks kept apart")->value < 5);
    judgement_free(&j);
}

static void a_colour_of_next_to_no_area_is_not_judged(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    s.inks.ink[1].share = 0.004;
    s.job.palette.delta_e[1] = 30;
    Judgement j = run(&s);
    assert_int_equal(find(&j, "worst colour match")->verdict, VERDICT_GO);
    judgement_free(&j);
}

static void a_small_ink_that_was_joined_is_no_bad_match(void **state) {
    (void)state;
    static Setting s;
    for (int i = 0; i < 4; i++) {
        bool small = i % 2, joined = i / 2;
        setting_fill(&s);
        s.inks.count = s.job.palette.inks = 3;
        s.inks.ink[2] = (Ink){{0, 90, 90}, false, small ? 0.049 : 0.051};
        s.job.palette.count = joined ? 2 : 3;
        s.job.palette.candy[2].srgb = (Rgb8){40, 120, 60};
        s.job.palette.of_ink[2] = joined ? 1 : 2;
        s.job.palette.delta_e[2] = 30;
        Judgement j = run(&s);
        assert_int_equal(find(&j, "worst colour match")->verdict,
                         small && joined ? VERDICT_GO : VERDICT_CHANGE);
        judgement_free(&j);
    }
}

/* A white halo round a red square on transparency, and white letters on it. */
static void on_a_white_field_transparency_is_paper_but_for_what_is_lost_on_it(void **state) {
    (void)state;
    static Setting s;
    for (int i = 0; i < 4; i++) {
        bool letters = i % 2, white = i / 2;
        setting_fill(&s);
        s.inks.count = s.job.palette.inks = 3;
        s.inks.ink[0].transparent = true;
        s.inks.ink[2] = (Ink){{255, 255, 255}, false, 0.1};
        s.inks.border[0][1] = s.inks.border[1][0] = letters ? 0.3 : 0;
        s.inks.border[0][2] = s.inks.border[2][0] = 0.5;
        s.inks.border[1][2] = s.inks.border[2][1] = letters ? 0.2 : 0.5;
        if (!white) s.job.palette.candy[0].srgb = (Rgb8){140, 140, 140};
        s.job.palette.of_ink[2] = 0;
        near(ink_at_field(&s.inks, 2), letters ? 5 / 7.0 : 0.5, 1e-12);
        assert_int_equal(ink_on_field(&s.inks, 2), letters ? ON_FIELD_MISSED : ON_FIELD_SEEN);
        Judgement j = run(&s);
        const Check *check = find(&j, "touching inks kept apart");
        assert_int_equal(check->verdict, white && !letters ? VERDICT_GO : VERDICT_NO);
        judgement_free(&j);
    }
}

/* A bar of 6 by 20 samples beside the square: 2.8 % of the parts, a crumb. */
static void what_is_too_fine_or_lost_in_crumbs_asks_for_a_change_only(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    for (int i = 0; i < SIDE * SIDE; i++)
        if (i % SIDE >= 14 && i % SIDE < 20 && abs(2 * (i / SIDE) + 1 - SIDE) < 20) s.wanted[i] = 1;
    Judgement j = run(&s);
    assert_int_equal(j.parts, 2);
    assert_int_equal(find(&j, "finest stroke")->verdict, VERDICT_CHANGE);
    near(find(&j, "finest stroke")->value, 6 * 1.5 / 8 / 6, 1.5 / 8 / 6);
    near(find(&j, "finest stroke")->limit, 0.7, 1e-12);
    assert_int_equal(find(&j, "parts and holes kept")->verdict, VERDICT_CHANGE);
    near(find(&j, "parts and holes kept")->value, 1, 0);
    near(find(&j, "parts and holes kept")->limit, 2, 0);
    /* what was not kept is not read */
    assert_true(find(&j, "reading at 350 mm")->value > 1);
    near(j.weakest, 1, 0);
    /* by the square roots of the areas: 64 against sqrt(120) */
    near(j.likeness, 64 / (64 + sqrt(120)), 1e-9);
    judgement_free(&j);
}

/* A square and so many more of 6 by 6 samples in a row along the top, as small text: lost, and crumbs by
 * their area. */
static Verdict lose_letters(int letters, bool keep_square) {
    static Setting s;
    setting_fill(&s);
    for (int i = 0; i < letters; i++)
        for (int k = 0; k < 36; k++) s.wanted[(20 + k / 6) * SIDE + 24 + 8 * i + k % 6] = 1;
    if (!keep_square) draw_square(s.face, 0, 0);
    Judgement j = run(&s);
    assert_int_equal(j.parts, letters + 1);
    Verdict verdict = find(&j, "parts and holes kept")->verdict;
    judgement_free(&j);
    return verdict;
}

static void a_lost_line_of_text_cannot_be_spared(void **state) {
    (void)state;
    assert_int_equal(lose_letters(9, true), VERDICT_CHANGE);
    assert_int_equal(lose_letters(10, true), VERDICT_NO);
    assert_int_equal(lose_letters(1, false), VERDICT_NO);
}

/* What is the shop's own matter leaves the verdict as it was. */
static void a_third_pair_of_hands_is_no_change_to_a_client(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    set_minutes(&s, 50);
    Judgement j = run(&s);
    assert_int_equal(find(&j, "minutes")->verdict, VERDICT_CHANGE);
    assert_true(find(&j, "minutes")->own);
    assert_int_equal(j.verdict, VERDICT_GO);
    judgement_free(&j);
    set_minutes(&s, 61);
    j = run(&s);
    assert_false(find(&j, "minutes")->own);
    assert_int_equal(j.verdict, VERDICT_NO);
    judgement_free(&j);
}

/* Four parts of a row with a feature each, so many of which are lost; with `share`, of their kind. */
static Judgement lose_features(int letters, int lost, FeatureKind kind, double share) {
    static Setting s;
    static Feature list[8];
    setting_fill(&s);
    Judgement j = run(&s);
    for (int i = 0; i < letters; i++)
        list[i] = (Feature){.kind = kind, .part = i, .letter = true, .share = share, .kept = i >= lost};
    Measures m = {.features = {letters, list, letters - lost, 1}};
    judge_shapes(&s.job, &m, &j);
    return j;
}

static void one_letter_that_fills_up_is_a_change_and_two_are_no(void **state) {
    (void)state;
    static const struct {
        int letters, lost;
        FeatureKind kind;
        double share;
        Verdict verdict;
    } rows[] = {
        {4, 0, FEATURE_COUNTER, 0.02, VERDICT_GO}, {4, 1, FEATURE_COUNTER, 0.02, VERDICT_CHANGE},
        {4, 2, FEATURE_COUNTER, 0.02, VERDICT_NO}, {2, 2, FEATURE_COUNTER, 0.02, VERDICT_CHANGE},
        {4, 2, FEATURE_BAY, 0.06, VERDICT_NO},     {4, 2, FEATURE_BAY, 0.04, VERDICT_GO},
        {4, 4, FEATURE_ARM, 0.10, VERDICT_GO},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        Judgement j = lose_features(rows[i].letters, rows[i].lost, rows[i].kind, rows[i].share);
        const Check *check = find(&j, "letters kept");
        if (check->verdict != rows[i].verdict) fail_msg("row %zu: %s", i, verdict_name(check->verdict));
        assert_true(j.verdict >= check->verdict);
        judgement_free(&j);
    }
}

/* The least strip is 1 mm at the piece. */
static void shapes_and_wrong_spots_have_their_zones(void **state) {
    (void)state;
    static const struct {
        double lost, across;
        Verdict shapes, spot;
    } rows[] = {{0.010, 0.8, VERDICT_GO, VERDICT_GO}, /* lost, of 0.2 that a plain part is told by */
                {0.011, 0.81, VERDICT_CHANGE, VERDICT_CHANGE},
                {0.079, 2, VERDICT_CHANGE, VERDICT_CHANGE},
                {0.081, 2.01, VERDICT_NO, VERDICT_NO},
                {0.3, 2.01, VERDICT_NO, VERDICT_NO}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        static Setting s;
        setting_fill(&s);
        Feature one = {.kind = FEATURE_BAY, .share = rows[i].lost};
        Judgement j = run(&s);
        Measures m = {.features = {1, &one, 0, 0}, .difference = {.across_mm = rows[i].across}};
        judge_shapes(&s.job, &m, &j);
        assert_int_equal(find(&j, "shapes kept")->verdict, rows[i].shapes);
        assert_int_equal(find(&j, "largest wrong spot")->verdict, rows[i].spot);
        judgement_free(&j);
    }
}

static void shading_that_leaves_nothing_is_no(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    s.inks.shaded = 1;
    Judgement j = run(&s);
    assert_int_equal(find(&j, "shaded area")->verdict, VERDICT_GO);
    judgement_free(&j);
    draw_square(s.wanted, 0, 0);
    draw_square(s.face, 0, 0);
    j = run(&s);
    assert_int_equal(find(&j, "shaded area")->verdict, VERDICT_NO);
    judgement_free(&j);
}

static void a_gap_in_a_fine_block_is_go_from_half_a_strip(void **state) {
    (void)state;
    for (int fine = 0; fine < 2; fine++) {
        static Setting s;
        setting_fill(&s);
        set_gap(&s, 18);
        Rope rope = {.outline = outline_of_box(4, 4, 8, 8), .fine = fine};
        s.job.layup = (LayUp){.ropes = 1, .rope = &rope};
        Judgement j = run(&s);
        assert_int_equal(find(&j, "finest gap")->verdict, fine ? VERDICT_GO : VERDICT_CHANGE);
        near(find(&j, "finest gap")->limit, fine ? 0.35 : 0.7, 1e-12);
        judgement_free(&j);
    }
}

/* An outline of 4 samples all round: as ropes it could not be laid; as a sheet it is thickened. */
static void a_thin_ring_asks_for_a_sheet_and_never_for_no(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    s.job.grid.rings = 1;
    s.job.grid.core = (Circle){STEPS / 2.0, STEPS / 2.0, STEPS / 2.0 - 1};
    for (int i = 0; i < SIDE * SIDE; i++) {
        double r = hypot(i % SIDE + 0.5 - SIDE / 2.0, i / SIDE + 0.5 - SIDE / 2.0);
        if (s.wanted[i] == OUTSIDE || r <= 60) continue;
        s.wanted[i] = s.face[i] = 1;
    }
    Judgement j = run(&s);
    const Check *check = find(&j, "finest stroke");
    assert_int_equal(check->verdict, VERDICT_CHANGE);
    near(check->limit, 0.25, 1e-12); /* kept, and up to twice as thick: half a sheet */
    near(check->value, 4 * 1.5 / 8 / 6, 1.5 / 8 / 6);
    judgement_free(&j);
}

/* A necked pair: two halves as drawn but for a bridge between them. */
static void parts_that_touch_but_are_as_drawn_are_a_flaw_and_no_loss(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    set_gap(&s, 14);
    for (int i = 0; i < SIDE * SIDE; i++)
        if (s.face[i] == 0 && abs(2 * (i / SIDE) + 1 - SIDE) < 8 && abs(2 * (i % SIDE) + 1 - SIDE) < 14)
            s.face[i] = 1;
    Judgement j = run(&s);
    assert_true(j.part[0].run_into && !j.part[0].kept && j.part[0].iou > 0.9);
    assert_int_equal(find(&j, "parts and holes kept")->verdict, VERDICT_CHANGE);
    assert_int_equal(find(&j, "finest gap")->verdict, VERDICT_CHANGE);
    judgement_free(&j);
}

static void limits_say_where_they_come_from(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    Judgement j = run(&s);
    assert_int_equal(find(&j, "reading at 350 mm")->standing, STANDING_PUBLISHED);
    assert_int_equal(find(&j, "finest stroke")->standing, STANDING_HABIT);
    assert_int_equal(find(&j, "ropes made")->standing, STANDING_HABIT);
    assert_int_equal(find(&j, "likeness")->standing, STANDING_OURS);
    assert_string_equal(standing_name(STANDING_PUBLISHED), "published");
    judgement_free(&j);
}

static void a_picture_without_parts_has_no_lines_on_strokes(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    draw_square(s.wanted, 0, 0);
    draw_square(s.face, 0, 0);
    s.job.palette.count = s.job.palette.inks = s.inks.count = 1;
    Judgement j = run(&s);
    assert_int_equal(j.parts, 0);
    assert_null(find(&j, "finest stroke"));
    assert_null(find(&j, "finest gap"));
    assert_null(find(&j, "reading at 350 mm"));
    near(j.likeness, 1, 0);
    assert_int_equal(j.verdict, VERDICT_GO);
    judgement_free(&j);
}

static void an_ink_too_fine_for_any_sample_is_a_lost_part(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    draw_square(s.wanted, 0, 0);
    draw_square(s.face, 0, 0);
    Judgement j = run(&s);
    const Check *kept = find(&j, "parts and holes kept");
    near(kept->value, 0, 0);
    near(kept->limit, 1, 0);
    assert_int_equal(j.verdict, VERDICT_NO);
    judgement_free(&j);
}

static void shading_is_said_to_be_left_out(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    s.inks.shaded = 0.12;
    s.inks.deep = 0.01;
    Judgement j = run(&s);
    assert_non_null(strstr(advice_on(&s.job, find(&j, "shaded area")), "left out"));
    judgement_free(&j);
    s.inks.shaded = 0.7;
    s.inks.deep = 0.33;
    j = run(&s);
    assert_non_null(strstr(advice_on(&s.job, find(&j, "shaded area")), "a drawing in flat colours"));
    judgement_free(&j);
    s.inks.deep = 0.05;
    s.inks.grain = 0.6; /* nowhere far from its candy, but grained: a photograph */
    j = run(&s);
    assert_int_equal(find(&j, "shaded area")->verdict, VERDICT_NO);
    judgement_free(&j);
}

/* As thick as the least sheet asks, less a half: a sheet of twice the thickness is what is laid. */
static void a_ring_of_half_a_sheet_is_go(void **state) {
    (void)state;
    static Setting s;
    setting_fill(&s);
    s.job.grid.rings = 1;
    s.job.grid.core = (Circle){STEPS / 2.0, STEPS / 2.0, STEPS / 2.0 - 1.5};
    for (int i = 0; i < SIDE * SIDE; i++) {
        double r = hypot(i % SIDE + 0.5 - SIDE / 2.0, i / SIDE + 0.5 - SIDE / 2.0);
        if (s.wanted[i] != OUTSIDE && r > 54) s.wanted[i] = s.face[i] = 1;
    }
    Judgement j = run(&s);
    assert_true(j.part[0].ring && j.part[0].kept);
    assert_true(j.part[0].stroke_mm < 0.5); /* a sheet at the piece */
    assert_int_equal(find(&j, "finest stroke")->verdict, VERDICT_GO);
    judgement_free(&j);
}

/* Rim ropes, however thin, are not asked. */
static void a_rope_must_stay_warm_for_the_time_of_a_join(void **state) {
    (void)state;
    static Setting s;
    static RopeRow row[2];
    static Warmth warmth[2];
    setting_fill(&s);
    s.shop.minutes_join = 0.5;
    warmth[1].seconds = 100;
    s.job.bill.rope = row;
    s.job.bill.rope_types = 2;
    s.job.heat.rope = warmth;
    s.job.heat.ropes = 2;
    for (int seconds = 26; seconds <= 27; seconds++) { /* a tenth under the limit: so well is it known */
        warmth[0].seconds = seconds;
        Judgement j = run(&s);
        const Check *check = find(&j, "out of the warm box");
        assert_non_null(check);
        near(check->value, seconds, 0);
        near(check->limit, 30, 0);
        assert_int_equal(check->standing, STANDING_HABIT);
        assert_int_equal(check->verdict, seconds < 27 ? VERDICT_CHANGE : VERDICT_GO);
        judgement_free(&j);
    }
    row[1].rim = true; /* those of the rim count too */
    warmth[1].seconds = 10;
    Judgement j = run(&s);
    near(find(&j, "out of the warm box")->value, 10, 0);
    judgement_free(&j);
    s.job.heat.ropes = 0;
    j = run(&s);
    assert_null(find(&j, "out of the warm box"));
    judgement_free(&j);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_perfect_face_has_likeness_one_and_every_line_is_go),
        cmocka_unit_test(every_line_has_its_zones_and_the_worst_line_is_the_verdict),
        cmocka_unit_test(touching_inks_stay_apart_as_far_as_the_inks_ask),
        cmocka_unit_test(a_small_ink_that_was_joined_is_no_bad_match),
        cmocka_unit_test(on_a_white_field_transparency_is_paper_but_for_what_is_lost_on_it),
        cmocka_unit_test(the_worst_of_several_touching_pairs_is_told),
        cmocka_unit_test(a_colour_of_next_to_no_area_is_not_judged),
        cmocka_unit_test(what_is_too_fine_or_lost_in_crumbs_asks_for_a_change_only),
        cmocka_unit_test(a_lost_line_of_text_cannot_be_spared),
        cmocka_unit_test(a_third_pair_of_hands_is_no_change_to_a_client),
        cmocka_unit_test(one_letter_that_fills_up_is_a_change_and_two_are_no),
        cmocka_unit_test(shapes_and_wrong_spots_have_their_zones),
        cmocka_unit_test(shading_that_leaves_nothing_is_no),
        cmocka_unit_test(a_gap_in_a_fine_block_is_go_from_half_a_strip),
        cmocka_unit_test(a_thin_ring_asks_for_a_sheet_and_never_for_no),
        cmocka_unit_test(parts_that_touch_but_are_as_drawn_are_a_flaw_and_no_loss),
        cmocka_unit_test(limits_say_where_they_come_from),
        cmocka_unit_test(a_picture_without_parts_has_no_lines_on_strokes),
        cmocka_unit_test(a_rope_must_stay_warm_for_the_time_of_a_join),
        cmocka_unit_test(an_ink_too_fine_for_any_sample_is_a_lost_part),
        cmocka_unit_test(shading_is_said_to_be_left_out),
        cmocka_unit_test(a_ring_of_half_a_sheet_is_go),
    };
    return cmocka_run_group_tests_name("judge", tests, NULL, NULL);
}
