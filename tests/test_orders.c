/* Whichever way an order is judged, it gets the verdict of a run of its own. SPDX-License-Identifier: MIT
 *
 * Random logos, shops and orders (random_job.h); the shop's log is let be short, so that fine blocks depend
 * on the log's length, which orders with as many steps do not share. */
#include "run/run.h"

#include "random_job.h"
#include "sanitized.h"
#include "inks/inks.h"
#include "write/write.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <cmocka.h>

#ifdef SANITIZED
enum { LOGOS = 8, MASSES = 6 }; /* the sanitizers are slow */
#else
enum { LOGOS = 24, MASSES = 6 };
#endif

typedef struct Case {
    RandomLogo logo;
    Order order;
} Case;

/* Case `number`; false where its logo has no inks. */
static bool case_new(unsigned number, Case *c) {
    uint8_t bytes[400];
    for (size_t i = 0; i < sizeof bytes; i++) {
        number = number * 1664525u + 1013904223u;
        bytes[i] = (uint8_t)(number >> 24);
    }
    Feed feed = {bytes, sizeof bytes};
    Err err = {0};
    *c = (Case){.logo = {.shop = shop_default()}};
    random_shop(&feed, &c->logo.shop);
    c->logo.shop.log_diameter_min_mm = 40;
    c->logo.shop.log_length_min_mm = feed_between(&feed, 80, 300);
    c->logo.shop.block_width_max_mm = feed_between(&feed, 60, 120);
    c->order = random_order(&feed, &c->logo.shop);
    c->order.weight_g = 0;
    c->order.no_fine = false;
    random_picture(&feed, &c->logo.picture);
    return find_inks(&c->logo.picture, &c->logo.inks, &err);
}

static void case_free(Case *c) {
    inkmap_free(&c->logo.inks);
    picture_free(&c->logo.picture);
}

static Job job_of(const Case *c) {
    return (Job){
        .picture = &c->logo.picture, .inks = &c->logo.inks, .shop = &c->logo.shop, .order = c->order};
}

static void a_sweep_tells_what_runs_of_their_own_tell(void **state) {
    (void)state;
    const SweepPlan plan = {2, {12, 16}, 5, {150, 400, 500, 700, 900}, false};
    int compared = 0;
    for (unsigned number = 0; number < LOGOS; number++) {
        Case c;
        SweepTable table = {0};
        Err err = {0};
        if (case_new(number, &c)) {
            Job job = job_of(&c);
            bool swept = sweep(&job, &plan, 0, NULL, NULL, &table, &err);
            for (int i = 0; i < table.rows; i++) {
                const SweepRow *row = &table.row[i];
                Job own = job_of(&c);
                own.order.piece_diameter_mm = row->diameter_mm;
                own.order.pieces = row->pieces;
                assert_true(job_run(&own, &err));
                if (row->verdict != own.judgement.verdict || row->likeness != own.judgement.likeness ||
                    row->ropes_made != own.bill.ropes_made || row->log_mass_g != own.bill.log_mass_g)
                    fail_msg("case %u, %g mm, %ld pieces: verdict %d, of its own %d; ropes %d, of its own %d",
                             number, row->diameter_mm, row->pieces, row->verdict, own.judgement.verdict,
                             row->ropes_made, own.bill.ropes_made);
                compared++;
                job_free(&own);
            }
            assert_true(swept || table.rows == 0);
            sweep_table_free(&table);
            job_free(&job);
        }
        case_free(&c);
    }
    assert_true(compared > LOGOS);
}

static char *json_of(const Job *job) {
    char *text = NULL;
    size_t size = 0;
    Err err = {0};
    FILE *file = open_memstream(&text, &size);
    assert_non_null(file);
    assert_true(write_json(job, file, &err));
    fclose(file);
    return text;
}

/* All but the mass ordered, which only one of the two has. False if there is no such order. */
static bool mass_tells(const Case *c, double weight_g) {
    Job job = job_of(c), own = job_of(c);
    Err err = {0};
    job.order.weight_g = weight_g;
    bool can = job_run(&job, &err);
    if (can) {
        own.order.pieces = job.order.pieces;
        assert_true(job_run(&own, &err));
        own.order.weight_g = weight_g;
        char *got = json_of(&job), *want = json_of(&own);
        assert_string_equal(got, want);
        free(got);
        free(want);
    }
    job_free(&own);
    job_free(&job);
    return can;
}

static void an_order_by_mass_tells_what_its_pieces_tell(void **state) {
    (void)state;
    int compared = 0;
    for (unsigned number = 0; number < LOGOS; number++) {
        Case c;
        if (case_new(number, &c))
            for (int i = 1; i <= MASSES; i++) compared += mass_tells(&c, 150.0 * i + number);
        case_free(&c);
    }
    assert_true(compared > LOGOS);
}

/* Another size, number, length, mass, pair of hands, or, now and then, other candies. */
static void change_order_at(unsigned number, Order *order) {
    static const double sizes[] = {14, 18, 21, 24}, lengths[] = {8, 14, 20};
    order->piece_diameter_mm = sizes[number % 4];
    if (number % 3 == 0) order->piece_length_mm = lengths[number / 3 % 3];
    if (number % 5 == 1) order->pieces += 100 * (long)(number % 7);
    if (number % 5 == 2) order->weight_g = 500 + number;
    if (number % 5 == 3) order->people = 3;
    if (number % 5 == 4) order->detail = DETAIL_PLAIN;
    if (number % 6 == 5) order->colours = 2 + (int)(number % 3);
    if (number % 7 == 6) order->jackets = 0;
}

/* One job ordered again and again, and each order run by itself. */
static void a_job_ordered_again_tells_what_one_of_its_own_tells(void **state) {
    (void)state;
    int compared = 0;
    for (unsigned number = 0; number < LOGOS; number++) {
        Case c;
        Err err = {0};
        if (case_new(number, &c)) {
            Job named = job_of(&c);
            Ordered again, own;
            bool ran = ordered_new(&named, &again, &err) && job_run(&again.job, &err);
            for (unsigned change = 0; ran && change < 4; change++) {
                change_order_at(number + 11 * change, &named.order);
                err = (Err){0};
                ran = ordered_again(&named, &again, &err);
                Err problem = {0};
                assert_true(ordered_new(&named, &own, &problem));
                assert_int_equal(job_run(&own.job, &problem), ran);
                assert_string_equal(err.msg, problem.msg);
                if (ran) {
                    char *got = json_of(&again.job), *want = json_of(&own.job);
                    assert_string_equal(got, want);
                    free(got);
                    free(want);
                    compared++;
                }
                ordered_free(&own);
            }
            ordered_free(&again);
        }
        case_free(&c);
    }
    assert_true(compared > 2 * LOGOS);
}

typedef struct Patience {
    int asked, most;
} Patience;

static bool is_over(void *user) {
    Patience *patience = user;
    return __atomic_add_fetch(&patience->asked, 1, __ATOMIC_RELAXED) > patience->most;
}

/* Whenever it is told to. */
enum { STOPPED = 2 }; /* a case that asks often */

static void a_job_that_is_stopped_ends_and_can_be_run_again(void **state) {
    (void)state;
    Case c;
    assert_true(case_new(STOPPED, &c));
    Patience patience = {0, INT32_MAX};
    const Stop stop = {is_over, &patience};
    Job job = job_of(&c), own = job_of(&c);
    Err err = {0};
    job.stop = &stop;
    assert_true(job_run(&own, &err) && advise(&own, ADVISE_BUDGET, NULL, &err));
    assert_true(job_run(&job, &err) && advise(&job, ADVISE_BUDGET, NULL, &err));
    const int all = patience.asked;
    print_message("asked %d times\n", all);
    assert_true(all > 1000);
    int stopped = 0;
    for (int most = 0; most < all; most += 1 + all / 40) {
        patience = (Patience){0, most};
        err = (Err){0};
        job_free(&job);
        job = job_of(&c);
        job.stop = &stop;
        bool ended = job_run(&job, &err) && advise(&job, ADVISE_BUDGET, NULL, &err);
        stopped += !ended;
        assert_int_equal(err.code, ended ? ERR_NONE : ERR_STOPPED);
        if (ended) { /* threads that try ahead ask more or less often */
            assert_true(patience.asked <= most && most > all / 2);
            continue;
        }
        assert_in_range(patience.asked, most + 1, most + 500); /* what was begun asks once more */
    }
    assert_true(stopped > 20);
    job_free(&job);
    job = job_of(&c);
    err = (Err){0};
    assert_true(job_run(&job, &err) && advise(&job, ADVISE_BUDGET, NULL, &err));
    char *got = json_of(&job), *want = json_of(&own);
    assert_string_equal(got, want);
    free(got);
    free(want);
    job_free(&job);
    job_free(&own);
    case_free(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sweep_tells_what_runs_of_their_own_tell),
        cmocka_unit_test(an_order_by_mass_tells_what_its_pieces_tell),
        cmocka_unit_test(a_job_ordered_again_tells_what_one_of_its_own_tells),
        cmocka_unit_test(a_job_that_is_stopped_ends_and_can_be_run_again),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
