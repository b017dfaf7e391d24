/* Tests of src/run/even.c. SPDX-License-Identifier: MIT */
#include "run/even.h"

#include "inks/inks.h"
#include "letter_grid.h"
#include "run/run.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <cmocka.h>

/* --- the rule --- */

enum { LETTERS = 3 };

/* A job whose measures are made up: three letters side by side, each with a counter and two bays. */
typedef struct Made {
    Job job;
    Part part[LETTERS];
    Feature feature[3 * LETTERS];
} Made;

static void make(Made *m) {
    memset(m, 0, sizeof *m);
    for (int i = 0; i < LETTERS; i++) {
        m->part[i] = (Part){.candy = 1, .box = {100 * i, 0, 80, 90}, .iou = 0.8, .kept = true};
        for (int k = 0; k < 3; k++)
            m->feature[3 * i + k] = (Feature){.kind = k ? FEATURE_BAY : FEATURE_COUNTER,
                                              .part = i,
                                              .share = 0.1,
                                              .left = 0.9,
                                              .kept = true};
    }
    m->job.judgement.part = m->part;
    m->job.judgement.parts = LETTERS;
    m->job.measures.features.feature = m->feature;
    m->job.measures.features.count = 3 * LETTERS;
}

static void lose(Made *m, int feature) {
    m->feature[feature].kept = false;
    m->feature[feature].left = 0;
}

static EvenLetters made_letters(void) {
    EvenLetters letters = {.rows = 1, .letters = LETTERS};
    letters.row[0].candy = 1;
    for (int i = 0; i < LETTERS; i++)
        letters.letter[i] = (EvenLetter){0, {100 * i + 40, 45}, {100 * i + 40, 45}};
    return letters;
}

static void letters_that_gain_are_better(void **state) {
    (void)state;
    static Made was, is;
    const EvenLetters letters = made_letters();
    make(&was), make(&is);
    lose(&was, 0);
    LetterGain gain = letters_compare(&was.job, &is.job, &letters);
    assert_true(gain.better);
    assert_true(fabs(gain.was - 8 / 9.0) < 1e-9 && fabs(gain.is - 1) < 1e-9 && fabs(gain.least) < 1e-9);
    assert_false(letters_compare(&is.job, &is.job, &letters).better); /* nothing to gain */
    assert_false(letters_compare(&is.job, &was.job, &letters).better);
}

static void one_letter_that_loses_is_enough(void **state) {
    (void)state;
    static Made was, is;
    const EvenLetters letters = made_letters();
    make(&was), make(&is);
    for (int i = 0; i < 3; i++) lose(&was, i);
    lose(&is, 7);
    LetterGain gain = letters_compare(&was.job, &is.job, &letters); /* a third lost; two thirds in the mean */
    assert_true(gain.is > gain.was + 0.2);
    assert_false(gain.better);
    assert_true(fabs(gain.least + 1 / 3.0) < 1e-9);
}

static void a_worse_verdict_is_not_made_up_for(void **state) {
    (void)state;
    static Made was, is;
    const EvenLetters letters = made_letters();
    make(&was), make(&is);
    for (int i = 0; i < 6; i++) lose(&was, i);
    is.job.judgement.verdict = VERDICT_CHANGE;
    assert_false(letters_compare(&was.job, &is.job, &letters).better);
    was.job.judgement.verdict = VERDICT_CHANGE;
    assert_true(letters_compare(&was.job, &is.job, &letters).better);
}

static void a_word_that_nobody_reads_stays_as_it_is(void **state) {
    (void)state;
    static Made was, is;
    const EvenLetters letters = made_letters();
    make(&was), make(&is);
    for (int i = 0; i < 9; i++) lose(&was, i);
    for (int i = 3; i < 9; i++) lose(&is, i);
    assert_false(letters_compare(&was.job, &is.job, &letters).better); /* a third is left */
}

static void a_counter_lost_in_redrawing_counts(void **state) {
    (void)state;
    static Made was, is;
    const EvenLetters letters = made_letters();
    make(&was), make(&is);
    lose(&was, 0);
    is.feature[3].kind = FEATURE_BAY; /* the second letter was drawn without its counter */
    assert_false(letters_compare(&was.job, &is.job, &letters).better);
}

static void a_mangled_letter_is_worth_less_whatever_its_features(void **state) {
    (void)state;
    static Made was, is;
    const EvenLetters letters = made_letters();
    make(&was), make(&is);
    for (int i = 0; i < 3; i++) lose(&was, i);
    is.part[2].iou = 0.45;
    assert_false(letters_compare(&was.job, &is.job, &letters).better);
    is.part[2].iou = 0.8;
    is.part[1].run_into = true;
    assert_false(letters_compare(&was.job, &is.job, &letters).better);
    is.part[1].run_into = false;
    assert_true(letters_compare(&was.job, &is.job, &letters).better);
}

/* --- the whole of it --- */

static WordGrid word; /* too large for the stack of a test */

typedef struct Ran {
    Picture picture;
    InkMap inks;
    Shop shop;
    Job job;
} Ran;

/* The word as a picture, black on white, run for a small order. */
static void run_word(Ran *r) {
    Err err = {0};
    *r = (Ran){.shop = shop_default()};
    r->picture = (Picture){WORD_SIDE, WORD_SIDE, 1,
                           WORD_SIDE, WORD_SIDE, mem_alloc((size_t)WORD_SIDE * WORD_SIDE * 4, 1, &err)};
    for (int i = 0; i < WORD_SIDE * WORD_SIDE; i++)
        memset(r->picture.rgba + 4 * (size_t)i, word.candy[i] == 1 ? 20 : 255, 3),
            r->picture.rgba[4 * i + 3] = 255;
    assert_true(find_inks(&r->picture, &r->inks, &err));
    r->job = (Job){.picture = &r->picture, .inks = &r->inks, .shop = &r->shop, .order = order_default()};
    r->job.order.pieces = 500;
    assert_true(job_run(&r->job, &err));
}

static void ran_free(Ran *r) {
    job_free(&r->job);
    inkmap_free(&r->inks);
    picture_free(&r->picture);
}

static void a_word_that_fills_up_is_made_even(void **state) {
    (void)state;
    static Ran r;
    word_field(&word);
    word_draw(&word, "BEBR", 12, 14);
    run_word(&r);
    const EvenLetters *even = &r.job.grid.redrawn.even;
    assert_int_equal(even->rows, 1);
    assert_int_equal(even->letters, 4);
    assert_non_null(r.job.grid.sent.candy);
    assert_true(r.job.layup.nodes > 0 && r.job.face.candy != NULL);
    assert_true(r.job.measures.features.count > 0 && r.job.measures.features.kept_share > 0.6);
    ran_free(&r);
}

static void a_word_that_is_well_stays_as_it_is(void **state) {
    (void)state;
    Err err = {0};
    static Ran r;
    Job other;
    EvenLetters letters;
    LetterGain gain;
    word_field(&word);
    word_draw(&word, "HOH", 20, 24);
    run_word(&r);
    assert_true(even_best(&r.job, &other, &letters, &gain, &err));
    assert_false(gain.better);
    assert_int_equal(letters.letters, 0);
    assert_int_equal(other.layup.nodes, 0);
    ran_free(&r);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(letters_that_gain_are_better),
        cmocka_unit_test(one_letter_that_loses_is_enough),
        cmocka_unit_test(a_worse_verdict_is_not_made_up_for),
        cmocka_unit_test(a_word_that_nobody_reads_stays_as_it_is),
        cmocka_unit_test(a_counter_lost_in_redrawing_counts),
        cmocka_unit_test(a_mangled_letter_is_worth_less_whatever_its_features),
        cmocka_unit_test(a_word_that_fills_up_is_made_even),
        cmocka_unit_test(a_word_that_is_well_stays_as_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
