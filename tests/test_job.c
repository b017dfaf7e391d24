/* Tests of src/run/job_run.c. SPDX-License-Identifier: MIT */
#include "run/run.h"

#include "write/write.h"

#include "drawn_logo.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static char *told(const Job *job) {
    char *text = NULL;
    size_t size;
    Err err = {0};
    FILE *file = open_memstream(&text, &size);
    assert_non_null(file);
    assert_true(write_json(job, file, &err) && write_text(job, file, &err));
    fclose(file);
    return text;
}

static void run(Job *job, bool again) {
    Err err = {0};
    bool good = again ? job_run_again(job, &err) : job_run(job, &err);
    if (!good) fail_msg("%s", err.msg);
}

static void a_job_run_again_tells_what_a_new_one_tells(void **state) {
    (void)state;
    static const struct {
        double diameter, length, weight;
        long pieces;
    } orders[] = {{16, 14, 0, 1000}, {16, 14, 0, 1001}, {16, 14, 0, 100},     {12, 14, 0, 90},
                  {12, 11, 0, 9000}, {20, 14, 0, 1000}, {20, 14, 4000, 1000}, {16, 14, 0, 1000}};
    DrawnLogo logo;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    Job kept = drawn_logo_job(&logo);
    run(&kept, false);
    for (size_t i = 0; i < sizeof orders / sizeof *orders; i++) {
        Job fresh = drawn_logo_job(&logo);
        fresh.order.piece_diameter_mm = orders[i].diameter;
        fresh.order.piece_length_mm = orders[i].length;
        fresh.order.pieces = orders[i].pieces;
        fresh.order.weight_g = orders[i].weight;
        kept.order = fresh.order;
        run(&fresh, false);
        run(&kept, true);
        char *want = told(&fresh), *got = told(&kept);
        assert_string_equal(got, want);
        free(want);
        free(got);
        job_free(&fresh);
    }
    job_free(&kept);
    drawn_logo_free(&logo);
}

static void a_lay_up_is_kept_while_the_steps_stay(void **state) {
    (void)state;
    DrawnLogo logo;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    Job job = drawn_logo_job(&logo);
    run(&job, false);
    int steps = job.cane.key.steps;
    job.layup.lambda = -1; /* a mark that no lay-up bears */
    job.order.pieces = 1002;
    run(&job, true);
    assert_int_equal(job.cane.key.steps, steps);
    assert_true(job.layup.lambda == -1);
    job.order.pieces = 600;
    run(&job, true);
    assert_int_not_equal(job.cane.key.steps, steps);
    assert_true(job.layup.lambda > 0);
    job_free(&job);
    drawn_logo_free(&logo);
}

static void as_many_steps_of_another_size_are_another_lay_up(void **state) {
    (void)state;
    DrawnLogo logo;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    logo.shop.least_strip_mm = 6;
    Job job = drawn_logo_job(&logo);
    job.order.pieces = 880;
    run(&job, false);
    assert_int_equal(job.cane.key.steps, 65); /* of 1.5 mm: a quarter of the least strip */
    assert_int_equal(job.cane.key.least_steps, 4);
    job.layup.lambda = -1;
    job.order.pieces = 1550;
    run(&job, true);
    assert_int_equal(job.cane.key.steps, 65); /* of 2 mm: a third */
    assert_int_equal(job.cane.key.least_steps, 3);
    assert_true(job.layup.lambda > 0);
    job_free(&job);
    drawn_logo_free(&logo);
}

static void an_order_by_mass_gets_the_pieces_that_weigh_it(void **state) {
    (void)state;
    static const double weights[] = {1, 500, 2000, 5000, 30000};
    DrawnLogo logo;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    for (size_t i = 0; i < sizeof weights / sizeof *weights; i++) {
        Job job = drawn_logo_job(&logo);
        job.order.weight_g = weights[i];
        run(&job, false);
        double n = (double)job.order.pieces, piece = job.bill.piece_mass_g;
        if (n * piece < weights[i] * (1 - 1e-9))
            fail_msg("%g pieces of %g g are under %g g", n, piece, weights[i]);
        if ((n - 1) * piece >= weights[i])
            fail_msg("%g pieces of %g g are one too many for %g g", n, piece, weights[i]);
        assert_true(fabs(job.bill.quote.pieces_mass_g - n * piece) < 1e-9 * n * piece);
        job_free(&job);
    }
    Job job = drawn_logo_job(&logo);
    job.order.weight_g = 1e8;
    assert_false(job_run(&job, &err));
    assert_int_equal(err.code, ERR_USAGE);
    assert_non_null(strstr(err.msg, "--weight: that is over 10000000 pieces"));
    assert_null(job.layup.rope);
    job_free(&job);
    drawn_logo_free(&logo);
}

static void the_quote_adds_up(void **state) {
    (void)state;
    DrawnLogo logo;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    logo.shop.price_candy_kg = 6.5;
    logo.shop.price_hour = 30;
    logo.shop.log_mass_max_g = 3000;
    Job job = drawn_logo_job(&logo);
    run(&job, false);
    const Quote *q = &job.bill.quote;
    double spare_g = 0;
    for (int i = 0; i < job.bill.materials; i++) spare_g += job.bill.material[i].with_spare_g;
    assert_int_equal(job.cane.logs, 2);
    assert_int_equal(q->batches, 2 * job.bill.materials);
    assert_true(fabs(q->pieces_per_kg * job.bill.piece_mass_g - 1000) < 1e-9);
    assert_true(fabs(q->cost[PRICE_CANDY] - spare_g * 0.0065) < 1e-9);
    /* two people from the first pouring to the last bag, two logs, and who weighs out before; 0.50 a minute
     */
    const double minutes = (job.work.ends + job.work.next) * 2 + logo.shop.minutes_weigh;
    assert_true(fabs(q->cost[PRICE_HOURS] - minutes * 0.5) < 1e-9);
    assert_true(fabs(q->price - q->cost[PRICE_CANDY] - q->cost[PRICE_HOURS]) < 1e-9);
    assert_int_equal(q->spare_pieces, 0);
    job.order.pieces = 10;
    run(&job, true);
    assert_int_equal(q->spare_pieces, job.cane.pieces - 10);
    assert_true(q->spare_pieces > 100);
    job_free(&job);
    drawn_logo_free(&logo);
}

/* Whatever a shop file may say, a job is judged, not broken. */
static void every_shop_that_can_be_written_can_be_reckoned_with(void **state) {
    (void)state;
    static const struct {
        double most, least, length, mass, strip, sheet, jacket, lost, rounding;
    } shops[] = {{60, 40, 100, 1000, 20, 20, 0.30, 0.5, 1},
                 {400, 40, 100, 200000, 3, 1, 0.02, 0, 0.05},
                 {400, 300, 2000, 1000, 20, 1, 0.02, 0.5, 0.05},
                 {60, 60, 2000, 1000, 3, 20, 0.30, 0, 1},
                 {400, 300, 2000, 200000, 3, 20, 0.02, 0.5, 1}};
    DrawnLogo logo;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    for (size_t i = 0; i < sizeof shops / sizeof *shops; i++) {
        logo.shop.log_diameter_max_mm = shops[i].most;
        logo.shop.log_diameter_min_mm = shops[i].least;
        logo.shop.log_length_min_mm = shops[i].length;
        logo.shop.log_mass_max_g = shops[i].mass;
        logo.shop.least_strip_mm = shops[i].strip;
        logo.shop.least_sheet_mm = shops[i].sheet;
        logo.shop.jacket_share = shops[i].jacket;
        logo.shop.lost_share = shops[i].lost;
        logo.shop.rounding = shops[i].rounding;
        Job job = drawn_logo_job(&logo);
        run(&job, false);
        assert_true(job.cane.key.steps >= 1 && job.cane.key.steps <= STEPS_MAX);
        assert_true(isfinite(job.judgement.likeness) && isfinite(job.bill.piece_mass_g));
        char *text = told(&job);
        assert_null(strstr(text, "nan"));
        free(text);
        job_free(&job);
    }
    drawn_logo_free(&logo);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_job_run_again_tells_what_a_new_one_tells),
        cmocka_unit_test(a_lay_up_is_kept_while_the_steps_stay),
        cmocka_unit_test(as_many_steps_of_another_size_are_another_lay_up),
        cmocka_unit_test(an_order_by_mass_gets_the_pieces_that_weigh_it),
        cmocka_unit_test(the_quote_adds_up),
        cmocka_unit_test(every_shop_that_can_be_written_can_be_reckoned_with),
    };
    return cmocka_run_group_tests_name("job", tests, NULL, NULL);
}
