/* Whichever way an order is judged, it gets the verdict of a run of its own. SPDX-License-Identifier: MIT
 *
 * Random logos, shops and orders (random_job.h); the shop's log is let be short, so that fine blocks depend
 * on the log's length, which orders with as many steps do not share. */
#include "run/run.h"

#include "random_job.h"
#include "inks/inks.h"
#include "write/write.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <cmocka.h>

enum { LOGOS = 24, MASSES = 6 };

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
    const SweepPlan plan = {2, {12, 16}, 5, {150, 400, 500, 700, 900}};
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

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sweep_tells_what_runs_of_their_own_tell),
        cmocka_unit_test(an_order_by_mass_tells_what_its_pieces_tell),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
