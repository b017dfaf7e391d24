/* Tests of src/say/answer_words.c and of a change as options. SPDX-License-Identifier: MIT */
#include "say/answer.h"

#include "sample_job.h"
#include "base/text.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static void is_row(const Answer *answer, int row, AnswerKind kind, const char *label, const char *text) {
    assert_true(row < answer->rows);
    assert_int_equal(answer->row[row].kind, kind);
    assert_string_equal(answer->row[row].label, label);
    assert_string_equal(answer->row[row].text, text);
}

static void the_rows_stand_in_the_order_of_their_kinds(void **state) {
    (void)state;
    Sample s;
    Answer answer;
    sample_fill(&s);
    s.job.judgement.advised = true;
    s.job.judgement.best = (Way){.change = {.diameter_mm = 18}, .mends = true, .whole = VERDICT_GO};
    answer_fill(&s.job, 0, 0, &answer);
    assert_int_equal(answer.rows, 6);
    is_row(&answer, 0, ANSWER_ORDER, "Order", "1 000 pieces of 16 x 14 mm");
    is_row(&answer, 1, ANSWER_WHY, "Why", "likeness 0.7999 of 1, at least 0.8 wanted");
    is_row(&answer, 2, ANSWER_WAY, "Do", "in pieces of 18 mm across: then all is go");
    is_row(&answer, 4, ANSWER_CANDIES, "Candies", "white 2.73 kg, red 1.77 kg");
    for (int i = 1; i < answer.rows; i++) assert_true(answer.row[i].kind >= answer.row[i - 1].kind);
}

static void says_cause(CheckKind kind, double value, double limit, Units units, const char *words) {
    char out[CHECK_TEXT];
    const bool least = kind != CHECK_CANDIES && kind != CHECK_ROPES && kind != CHECK_MATCH;
    cause_words(
        &(Check){.kind = kind, .value = value, .limit = limit, .least = least, .verdict = VERDICT_CHANGE},
        units, out);
    assert_string_equal(out, words);
}

/* No name of a measure where a plain sentence will do, and none without what it is like. */
static void a_reason_is_a_sentence(void **state) {
    (void)state;
    says_cause(CHECK_CANDIES, 5, 4, UNITS_MM, "it would take 5 candies, at most 4 wanted");
    says_cause(CHECK_PARTS, 5, 7, UNITS_MM, "5 of 7 parts and holes come out");
    says_cause(CHECK_LETTERS, 0, 3, UNITS_MM, "0 of 3 letters keep their holes and inlets");
    says_cause(CHECK_ROPES, 1200, 66, UNITS_MM, "1 200 ropes to make, at most 66 wanted");
    says_cause(CHECK_WEAKEST, 0.62, 0.7, UNITS_MM, "weakest main part 0.62 of 1, at least 0.7 wanted");
    says_cause(CHECK_OWN, 3.14, 10, UNITS_MM, "own colours 3.1 apart, 10 wanted (2 is hardly seen)");
    says_cause(CHECK_MATCH, 12.34, 10, UNITS_IN,
               "worst colour match 12.3 off, at most 10 (2 is hardly seen)");
    says_cause(CHECK_STROKE, 0.254, 0.508, UNITS_IN, "finest stroke 0.01 in, at least 0.02 in wanted");
    Check near = {.kind = CHECK_STROKE, .value = 0.57, .limit = 0.58, .least = true};
    char words[CHECK_TEXT];
    check_words(&near, UNITS_MM, words); /* go, as nearly as it can be measured */
    assert_string_equal(words, "0.57 mm, at least 0.58 mm wanted; near enough");
    near.verdict = VERDICT_CHANGE;
    check_words(&near, UNITS_MM, words);
    assert_string_equal(words, "0.57 mm, at least 0.58 mm wanted");
    for (int kind = 0; kind < CHECKS_MAX; kind++) { /* a line of the answer has room for "; and 9 more" */
        char out[CHECK_TEXT];
        cause_words(&(Check){.kind = (CheckKind)kind, .value = 12.34, .limit = 20, .verdict = VERDICT_NO},
                    UNITS_MM, out);
        assert_in_range(strlen(out), 20, TEXT_COLUMNS - TEXT_INDENT - strlen("; and 9 more"));
    }
}

/* A page has room for all of them, a terminal has not. */
static void all_reasons_and_candies_are_told_where_there_is_room(void **state) {
    (void)state;
    Sample s;
    Answer answer;
    sample_fill(&s);
    for (int i = 2; i < CHECKS_MAX; i++) s.job.judgement.check[i] = s.job.judgement.check[1];
    s.job.judgement.checks = CHECKS_MAX;
    s.job.bill.materials = MATERIALS_MAX;
    for (int i = 0; i < MATERIALS_MAX; i++) s.job.bill.material[i] = s.job.bill.material[0];
    s.shop.price_hour = 1;
    answer_fill(&s.job, 0, 0, &answer);
    int why = 0;
    for (int i = 0; i < answer.rows; i++) {
        why += answer.row[i].kind == ANSWER_WHY;
        assert_null(strstr(answer.row[i].text, "more"));
    }
    assert_int_equal(why, CHECKS_MAX - 1);
    answer_fill(&s.job, 2, 70, &answer);
    is_row(&answer, 2, ANSWER_WHY, "", "likeness 0.7999 of 1, at least 0.8 wanted; and 19 more");
    assert_non_null(strstr(answer.row[5].text, "white 2.73 kg, 20 more"));
    /* Candies with the longest names are counted where they have no room at all. */
    for (int i = 0; i < MATERIALS_MAX; i++) memset(s.job.bill.material[i].candy.name, 'w', CANDY_NAME - 1);
    answer_fill(&s.job, 1, 0, &answer);
    assert_non_null(strstr(answer.row[answer.rows - 3].text, " more"));
}

static void ways_out_are_listed_once_the_best_first(void **state) {
    (void)state;
    Sample s;
    AnswerWay way[ANSWER_WAYS];
    sample_fill(&s);
    Judgement *j = &s.job.judgement;
    j->advised = true;
    j->best = (Way){.change = {.diameter_mm = 21, .colours = 5}, .whole = VERDICT_GO};
    j->check[1].ways = 3;
    j->check[1].way[0] = (Way){.change = {.people = 3}, .mends = true, .whole = VERDICT_CHANGE};
    j->check[1].way[1] = (Way){.change = {.plain = true}, .mends = true, .whole = VERDICT_GO};
    j->check[1].way[2] = j->best;
    assert_int_equal(answer_ways(&s.job, way), 3);
    assert_ptr_equal(way[0].way, &j->best);
    assert_string_equal(way[0].text, "in pieces of 21 mm across and with 5 colours: then all is go");
    assert_string_equal(way[1].text, "with plainer detail: then all is go");
    assert_string_equal(way[2].text, "with 3 people laying up: then \"likeness\" is go");
}

static void a_change_is_options_with_their_long_names(void **state) {
    (void)state;
    Sample s;
    ChangeOptions options;
    char words[OPTIONS_TEXT];
    sample_fill(&s);
    s.job.order.piece_length_mm = 14;
    const Change change = {.diameter_mm = 18,
                           .pieces = 2400,
                           .colours = 5,
                           .plain = true,
                           .people = 3,
                           .joining_c = 85,
                           .dyed = 4,
                           .without = 1,
                           .points = 2,
                           .point = {{1234, 5600}, {1, 2}}};
    static const char *const want[][2] = {
        {"pieces", "2400"},     {"piece", "18x14mm"}, {"leave-out", "12.34:56,0.01:0.02"},
        {"map", "#BE2432=dye"}, {"colours", "5"},     {"detail", "plain"},
        {"people", "3"},        {"warm-box", "85"}};
    assert_true(change_options(&s.job, &change, &options));
    assert_int_equal(options.pairs, 8);
    for (int i = 0; i < options.pairs; i++) {
        assert_string_equal(options.pair[i].name, want[i][0]);
        assert_string_equal(options.pair[i].value, want[i][1]);
    }
    assert_true(command_words(&s.job, &change, words, sizeof words));
    assert_string_equal(words, "-n 2400 -p 18x14mm --leave-out 12.34:56,0.01:0.02 -m '#BE2432=dye' -k 5 "
                               "--detail plain --people 3 --warm-box 85");
    assert_false(change_options(&s.job, &(Change){.without = 1}, &options)); /* nobody knows where it lies */
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_rows_stand_in_the_order_of_their_kinds),
        cmocka_unit_test(a_reason_is_a_sentence),
        cmocka_unit_test(all_reasons_and_candies_are_told_where_there_is_room),
        cmocka_unit_test(ways_out_are_listed_once_the_best_first),
        cmocka_unit_test(a_change_is_options_with_their_long_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
