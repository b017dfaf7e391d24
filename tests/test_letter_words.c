/* Tests of src/say/letter_words.c. SPDX-License-Identifier: MIT */
#include "say/letter_facts.h"
#include "say/verdict_words.h"

#include "inks/inks.h"
#include "read/read.h"
#include "run/run.h"
#include "write/files.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

/* --- made-up jobs --- */

typedef struct MadeUp {
    Picture picture;
    InkMap inks;
    Shop shop;
    Part part[2];
    Feature feature[1];
    Job job;
} MadeUp;

/* Navy and red on white, go, without anything to tell. m must stay where it is. */
static void plain_job(MadeUp *m) {
    static const Rgb8 colour[] = {{255, 255, 255}, {26, 36, 84}, {200, 32, 44}};
    static const char *const name[] = {"white", "navy", "red"};
    memset(m, 0, sizeof *m);
    m->shop = shop_default();
    m->job = (Job){.picture = &m->picture, .inks = &m->inks, .shop = &m->shop, .order = order_default()};
    m->inks.count = m->job.palette.count = m->job.palette.inks = 3;
    for (int i = 0; i < 3; i++) {
        m->inks.ink[i] = (Ink){.srgb = colour[i], .share = 0.3};
        m->job.palette.of_ink[i] = i;
        m->job.palette.candy[i].srgb = colour[i];
        strcpy(m->job.palette.candy[i].name, name[i]);
    }
    m->job.cane.pieces = 1200;
    m->job.judgement.part = m->part;
    m->job.judgement.least_percent = 7;
    m->job.grid.wanted.side = 80;
}

static void add_check(MadeUp *m, CheckKind kind, Verdict verdict) {
    Judgement *j = &m->job.judgement;
    j->check[j->checks++] = (Check){.kind = kind, .verdict = verdict};
    if (verdict > j->verdict) j->verdict = verdict;
    j->advised = true;
    j->best.whole = j->verdict;
}

/* The candy of ink 1 is so in place of as it was sent. */
static void give_candy(MadeUp *m, Rgb8 srgb) {
    m->job.palette.candy[1].srgb = srgb;
    m->job.palette.delta_e[1] = delta_e00(rgb8_lab(srgb), rgb8_lab(m->inks.ink[1].srgb));
}

static void add_line(MadeUp *m, RedrawnHow how) {
    Redrawn *redrawn = &m->job.grid.redrawn;
    redrawn->line[redrawn->count++] = (RedrawnLine){.how = how, .candy = 2, .outline = true, .missed = 1};
}

static void add_part(MadeUp *m, bool letter) {
    m->part[m->job.judgement.parts++] = (Part){.candy = 1, .letter = letter, .middle = {10, 40}};
}

static void add_feature(MadeUp *m, FeatureKind kind) {
    add_part(m, false);
    m->feature[0] = (Feature){.kind = kind};
    m->job.measures.features.feature = m->feature;
    m->job.measures.features.count = 1;
}

static void propose(MadeUp *m, Change change, Verdict whole) {
    add_check(m, CHECK_STROKE, VERDICT_CHANGE);
    m->job.judgement.best = (Way){.change = change, .whole = whole};
}

/* Fills the made-up job of that number; false behind the last. */
static bool make_up(int which, MadeUp *m) {
    plain_job(m);
    switch (which) {
    case 0:
        break;
    case 1:
        strcpy(m->job.order.name, "Harbour Fair");
        strcpy(m->shop.name, "The Striped Kettle");
        strcpy(m->shop.address, "4 Mill Lane, Northport");
        strcpy(m->job.order.valid_until, "2027-03-31");
        m->job.order.named = m->job.order.quantity_asked = true;
        break;
    case 2:
        m->shop.price_candy_kg = m->shop.price_hour = 12;
        m->job.bill.quote.price = 60;
        m->job.cane.least_order = true;
        m->shop.price_least = 40;
        break;
    case 3:
        m->inks.cropped = true;
        break;
    case 4:
        add_check(m, CHECK_SHADED, VERDICT_CHANGE);
        break;
    case 5:
        add_check(m, CHECK_SHADED, VERDICT_NO);
        break;
    case 6:
        add_check(m, CHECK_STROKE, VERDICT_CHANGE);
        break;
    case 7:
        add_check(m, CHECK_STROKE, VERDICT_NO);
        break;
    case 8:
        add_check(m, CHECK_MATCH, VERDICT_CHANGE);
        break;
    case 9:
        add_check(m, CHECK_APART, VERDICT_NO);
        break;
    case 10:
        add_check(m, CHECK_APART, VERDICT_CHANGE);
        m->job.order.wishes = 1;
        break;
    case 11:
        add_check(m, CHECK_ROPES, VERDICT_NO);
        break;
    case 12:
        add_line(m, REDRAWN_LEFT_OUT);
        break;
    case 13:
        add_line(m, REDRAWN_THICKENED);
        break;
    case 14:
        m->job.grid.redrawn.even.rows = 1;
        break;
    case 15:
        add_part(m, true);
        break;
    case 16:
        add_part(m, false);
        break;
    case 17:
        add_feature(m, FEATURE_COUNTER);
        break;
    case 18:
        add_feature(m, FEATURE_ARM);
        break;
    case 19:
        give_candy(m, (Rgb8){70, 80, 130});
        break;
    case 20:
        give_candy(m, (Rgb8){0, 2, 30});
        break;
    case 21:
        give_candy(m, (Rgb8){40, 42, 48});
        break;
    case 22:
        give_candy(m, (Rgb8){0, 16, 140});
        break;
    case 23:
        give_candy(m, (Rgb8){70, 20, 60});
        break;
    case 24:
        m->job.palette.of_ink[2] = 1;
        break;
    case 25:
        propose(m, (Change){.diameter_mm = 21, .plain = true}, VERDICT_GO);
        break;
    case 26:
        propose(m, (Change){.pieces = 2400, .joined = 3, .into = 1}, VERDICT_GO);
        break;
    case 27:
        propose(m, (Change){.dyed = 6, .colours = 5}, VERDICT_GO);
        break;
    case 28:
        add_part(m, false);
        propose(m, (Change){.without = 1}, VERDICT_GO);
        break;
    case 29:
        propose(m, (Change){.diameter_mm = 25}, VERDICT_CHANGE);
        m->job.judgement.verdict = VERDICT_NO;
        break;
    case 30:
        m->shop.price_candy_kg = m->shop.price_hour = 12;
        m->job.bill.quote.price = 60;
        propose(m, (Change){.diameter_mm = 21}, VERDICT_GO);
        break;
    case 31:
        add_check(m, CHECK_CUT, VERDICT_NO);
        break;
    case 32:
        m->job.judgement.near = (NearInks){1, 2, 8, 0.2};
        break;
    case 33:
        add_check(m, CHECK_OWN, VERDICT_CHANGE);
        break;
    case 34:
        add_check(m, CHECK_OWN, VERDICT_NO);
        break;
    case 35:
        m->job.order.edits = 3;
        m->job.order.edit[0].kind = EDIT_LEAVE_OUT;
        m->job.order.edit[1].kind = EDIT_JOIN;
        m->job.order.edit[2].kind = EDIT_LETTERING;
        break;
    case 36:
        add_check(m, CHECK_PARTS, VERDICT_NO);
        propose(m, (Change){.lettering = 0.2}, VERDICT_GO);
        break;
    default:
        return false;
    }
    return true;
}

static void write_to(const Job *job, char *text, size_t size) {
    Err err = {0};
    memset(text, 0, size);
    FILE *file = fmemopen(text, size - 1, "w");
    assert_true(file && write_letter(job, file, &err));
    assert_int_equal(fclose(file), 0);
}

/* --- what is looked at --- */

static void every_sentence_is_said_of_some_made_up_job(void **state) {
    (void)state;
    int count, which = 0;
    const LetterRow *row = letter_rows(&count);
    bool said[128] = {false};
    assert_in_range(count, 30, 128);
    for (MadeUp m; make_up(which, &m); which++) {
        uint64_t facts = letter_facts(&m.job);
        for (int i = 0; i < count; i++) said[i] |= letter_row_holds(&row[i], facts);
    }
    for (int i = 0; i < count; i++) {
        print_message("%d %s %s\n", (int)row[i].part, row[i].brief ? "+" : " ", row[i].sentence);
        if (!said[i]) fail_msg("nobody is told: %s", row[i].sentence);
    }
}

static void no_letter_has_a_word_of_the_trade_or_a_number_of_colours(void **state) {
    (void)state;
    static const char *const never[] = {"#",           "dE",     "rope",     "cane", "log ",  "log,",
                                        "lay-up",      "core",   "jacket",   "dyed", "block", "IoU",
                                        "ink",         "people", "warm box", "°C",   "{",     "}",
                                        "least strip", "face",   "unclear",  "fault"};
    static const char *const good[] = {"think", "inkling"};
    char text[4096];
    int which = 0;
    for (MadeUp m; make_up(which, &m); which++) {
        write_to(&m.job, text, sizeof text);
        for (char *line = text; *line; line += strcspn(line, "\n") + 1)
            assert_in_range(strcspn(line, "\n"), 0, LETTER_COLUMNS);
        for (size_t k = 0; k < sizeof good / sizeof *good; k++)
            for (char *at; (at = strstr(text, good[k])) != NULL;) memset(at, '.', strlen(good[k]));
        for (size_t k = 0; k < sizeof never / sizeof *never; k++)
            if (strstr(text, never[k])) fail_msg("\"%s\" in job %d:\n%s", never[k], which, text);
    }
}

static void no_two_sentences_are_the_same(void **state) {
    (void)state;
    int count;
    const LetterRow *row = letter_rows(&count);
    for (int i = 0; i < count; i++)
        for (int k = 0; k < i; k++) assert_string_not_equal(row[i].sentence, row[k].sentence);
}

static void neither_a_main_part_nor_a_letter_is_proposed_to_go(void **state) {
    (void)state;
    MadeUp m;
    assert_true(make_up(28, &m));
    assert_non_null(letter_proposal(&m.job));
    m.part[0].main = true;
    assert_null(letter_proposal(&m.job));
    m.part[0].main = false;
    m.part[0].letter = true;
    assert_null(letter_proposal(&m.job));
    Check *check = &m.job.judgement.check[0];
    check->ways = 1;
    check->way[0] = (Way){.change = {.diameter_mm = 20}, .whole = VERDICT_GO};
    assert_ptr_equal(letter_proposal(&m.job), &check->way[0]);
}

static void what_only_the_shop_does_is_not_proposed(void **state) {
    (void)state;
    MadeUp m;
    plain_job(&m);
    propose(&m, (Change){.people = 4, .joining_c = 85}, VERDICT_GO);
    assert_null(letter_proposal(&m.job));
}

static void a_missing_name_is_asked_for(void **state) {
    (void)state;
    MadeUp m;
    char text[4096];
    assert_true(make_up(0, &m));
    write_to(&m.job, text, sizeof text);
    assert_memory_equal(text, "[ ", 2);
    assert_non_null(strstr(text, "--name"));
    assert_true(make_up(1, &m));
    write_to(&m.job, text, sizeof text);
    assert_memory_equal(text, "Your logo as candy: Harbour Fair\n\nGood day,\n", 44);
    assert_non_null(strstr(text, "valid until 31 March 2027."));
    assert_non_null(strstr(text, "With kind regards\nThe Striped Kettle\n4 Mill Lane, Northport\n"));
    assert_null(strchr(text, '['));
}

/* --- the samples --- */

static void letter_of(const char *path, char *text, size_t size) {
    Err err = {0};
    Shop shop = shop_default();
    Picture picture;
    InkMap inks;
    assert_true(decode(path, path, &picture, &err) && find_inks(&picture, &inks, &err));
    shop.least_strip_mm = 8; /* coarse: it takes no time */
    Job job = {.picture = &picture, .inks = &inks, .shop = &shop, .order = order_default()};
    assert_true(job_run(&job, &err));
    write_to(&job, text, size);
    job_free(&job);
    inkmap_free(&inks);
    picture_free(&picture);
}

static void no_two_samples_get_the_same_letter(void **state) {
    (void)state;
    static const char *const name[] = {"balloon-rides.png", "beach-huts.jpg",   "clockmakers-crest.png",
                                       "fox-books.png",     "harbour-cafe.png", "kite-shop.png",
                                       "night-ferry.png",   "oak-bicycles.png", "valley-cider.png"};
    enum { SAMPLES_ALL = sizeof name / sizeof *name };
    static char text[SAMPLES_ALL][4096];
    char path[64];
    for (int i = 0; i < SAMPLES_ALL; i++) {
        (void)snprintf(path, sizeof path, "samples/%s", name[i]);
        letter_of(path, text[i], sizeof text[i]);
        for (int k = 0; k < i; k++)
            if (strcmp(text[i], text[k]) == 0) fail_msg("%s and %s:\n%s", name[i], name[k], text[i]);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_sentence_is_said_of_some_made_up_job),
        cmocka_unit_test(no_letter_has_a_word_of_the_trade_or_a_number_of_colours),
        cmocka_unit_test(no_two_sentences_are_the_same),
        cmocka_unit_test(neither_a_main_part_nor_a_letter_is_proposed_to_go),
        cmocka_unit_test(what_only_the_shop_does_is_not_proposed),
        cmocka_unit_test(a_missing_name_is_asked_for),
        cmocka_unit_test(no_two_samples_get_the_same_letter),
    };
    return cmocka_run_group_tests_name("letter words", tests, NULL, NULL);
}
