/* Tests of src/bench/plan_work.c and price.c. SPDX-License-Identifier: MIT */
#include "bench/bench.h"

#include "drawn_logo.h"
#include "say/bench_words.h"
#include "run/run.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

static double end_of(const WorkTask *task) {
    return task->start + task->minutes;
}

static bool takes(const WorkTask *task, int person) {
    return task->person == person || (task->person == PEOPLE_EVERYBODY && person >= 0);
}

/* Nobody, and no kettle, does two things at once. */
static void check_person(const WorkPlan *work, int person) {
    double until = -HUGE_VAL;
    for (int i = 0; i < work->tasks; i++) { /* by start */
        if (!takes(&work->task[i], person) || work->task[i].minutes <= 0) continue;
        if (work->task[i].start < until) fail_msg("%d: two things at %g", person, work->task[i].start);
        until = end_of(&work->task[i]);
    }
}

/* The longest chain that ends with the task, by a plain recursion, from the pouring on. */
static double chain_to(const WorkPlan *work, int at) {
    double longest = 0;
    const WorkTask *task = &work->task[at];
    if (task->start < 0) return 0;
    for (int i = 0; i < work->edges; i++)
        if (work->edge[i].after == at) longest = fmax(longest, chain_to(work, work->edge[i].before));
    return longest + task->minutes;
}

static void check_edges(const WorkPlan *work) {
    for (int i = 0; i < work->edges; i++) {
        const WorkTask *before = &work->task[work->edge[i].before], *after = &work->task[work->edge[i].after];
        if (end_of(before) > after->start) fail_msg("task %d begins before %d ends", work->edge[i].after, i);
        assert_true(before->waits >= after->start - end_of(before));
    }
}

static int count_kind(const WorkPlan *work, TaskKind kind) {
    int count = 0;
    for (int i = 0; i < work->tasks; i++) count += work->task[i].kind == kind;
    return count;
}

static double hands_of(const WorkPlan *work, double from) {
    double hands = 0;
    for (int i = 0; i < work->tasks; i++)
        if (work->task[i].person != PEOPLE_NOBODY && work->task[i].start >= from)
            hands += work->task[i].minutes * (work->task[i].person == PEOPLE_EVERYBODY ? work->people : 1);
    return hands;
}

/* Whatever the plan, it can be carried out, holds all the work, and is no shorter than it can be. */
static void check_plan(const Job *job) {
    const WorkPlan *work = &job->work;
    const Shop *shop = job->shop;
    const Bill *bill = &job->bill;
    int ropes = 0, longest = -1;
    double rope_minutes = 0, poured = HUGE_VAL;
    check_edges(work);
    for (int person = PEOPLE_NOBODY; person < work->people; person++)
        if (person != PEOPLE_EVERYBODY) check_person(work, person);
    for (int i = 0; i < work->tasks; i++) {
        const WorkTask *task = &work->task[i];
        assert_in_range(task->person + 2, 0, work->people + 1);
        if (task->kind == TASK_ROPES) ropes += task->count;
        if (task->kind == TASK_ROPES) rope_minutes += task->minutes;
        if (task->kind == TASK_BOIL) poured = fmin(poured, end_of(task));
        if (task->kind == TASK_PACK) longest = i;
        assert_true(i == 0 || work->task[i - 1].start <= task->start);
    }
    assert_int_equal(ropes, bill->ropes_made);
    assert_true(fabs(rope_minutes - ropes * shop->minutes_rope) < ropes / 64.0 + 1e-9);
    assert_true(poured == 0);
    assert_int_equal(count_kind(work, TASK_BLOCK), job->blocks.blocks);
    assert_int_equal(count_kind(work, TASK_BOIL), job->recipe.boilings / job->cane.logs);
    assert_true(work->chain >= chain_to(work, longest) - 1e-9);
    assert_true(fabs(work->hands - hands_of(work, 0)) < 1e-9);
    assert_true(work->ends >= work->chain - 1e-9 && work->ends >= work->kettle - 1e-9);
    assert_true(work->ends >= work->hands / work->people - 1e-9);
    /* never longer than if one thing after the other were done */
    assert_true(work->ends <= work->hands + work->kettle + shop->minutes_boil + 1e-9);
    assert_true(work->laying > 0 && work->laying <= work->ends);
}

static void every_plan_can_be_carried_out(void **state) {
    (void)state;
    DrawnLogo logo;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    Job job = drawn_logo_job(&logo);
    double before = HUGE_VAL;
    for (int people = 1; people <= 5; people++) {
        logo.shop.people = people;
        assert_true(people == 1 ? job_run(&job, &err) : job_run_again(&job, &err));
        check_plan(&job);
        assert_true(job.work.laying <= before); /* of this log: more hands are not slower */
        before = job.work.laying;
    }
    logo.shop.people = 2;
    logo.shop.kettle_g = 700; /* a log takes several boilings */
    assert_true(job_run_again(&job, &err));
    check_plan(&job);
    assert_true(count_kind(&job.work, TASK_BOIL) >= 3);
    assert_true(job.work.kettle == (count_kind(&job.work, TASK_BOIL) - 1) * 35.0);
    logo.shop.log_mass_max_g = 3000;
    assert_true(job_run_again(&job, &err));
    check_plan(&job);
    assert_int_equal(job.cane.logs, 2);
    job_free(&job);
    drawn_logo_free(&logo);
}

/* Ropes go cold first: a hand that forms them lays them up, and at once. */
static void ropes_wait_less_than_anything_else(void **state) {
    (void)state;
    DrawnLogo logo;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    Job job = drawn_logo_job(&logo);
    assert_true(job_run(&job, &err));
    double waits = 0, most = 0;
    for (int i = 0; i < job.work.tasks; i++) {
        if (job.work.task[i].kind == TASK_ROPES) waits = fmax(waits, job.work.task[i].waits);
        if (job.work.task[i].kind == TASK_PULL) most = fmax(most, job.work.task[i].waits);
    }
    assert_true(waits < 2);
    assert_true(most > 2); /* what a candy is pulled for is not all there is */
    job_free(&job);
    drawn_logo_free(&logo);
}

/* --- a plan worked out by hand --- */

/* A log of two strips, white and red, in a white jacket: one kettle, two people. Pulling is for nothing. */
static void a_small_plan_is_as_worked_out_by_hand(void **state) {
    (void)state;
    Err err = {0};
    WorkPlan work;
    Shop shop = shop_default();
    Palette palette = {.count = 2};
    palette.candy[0] = shop.stock.candy[0];
    palette.candy[1] = shop.stock.candy[4];
    Rope rope[2] = {{.candy = 0, .type = 0}, {.candy = 1, .type = 1}};
    LayUp layup = {.ropes = 2, .rope = rope};
    Item item[2] = {{.index = 0}, {.index = 1}};
    Block block = {.kind = BLOCK_ROW, .items = 2, .made = 1, .builds = 1};
    Blocks blocks = {.blocks = 1, .block = &block, .items = 2, .item = item};
    WrapRow jacket = {.kind = WRAP_STRIPE, .candy = palette.candy[0], .count = 1};
    Bill bill = {.wraps = 1, .wrap = &jacket, .materials = 2, .log_mass_g = 4000};
    bill.material[0] = (MaterialRow){.candy = palette.candy[0], .mass_g = 2000, .with_spare_g = 2000};
    bill.material[1] = (MaterialRow){.candy = palette.candy[1], .mass_g = 2000, .with_spare_g = 2000};
    Warmth warm[2] = {{.seconds = 60}, {.seconds = 120}};
    Heat heat = {.ropes = 2, .rope = warm, .blocks = 1, .block = warm, .log.seconds = 600};
    Recipe recipe = {.boilings = 1, .whole.candy_g = 4000};
    Cane cane = {.logs = 1, .pieces = 1000, .cane_length_m = 16};
    shop.minutes_rope = 1, shop.minutes_join = 0.5, shop.minutes_pull = 2;
    assert_true(plan_work(&palette, &cane, &shop, &layup, &blocks, &bill, &heat, &recipe, &work, &err));
    /* from the end: packing 15 / 2, drawing 16 * 0.5 / 2, wrapping 4 / 2; before it the block, 0.5, and the
       jacket, 2, side by side; its ropes, 2; before them both candies are pulled, 4 each, and cooled, 6 each
     */
    assert_true(work.ends == 6 + 4 + 2 + 0.5 + 2 + 4 + 7.5);
    assert_true(work.chain == work.ends);
    assert_true(work.begins == -39);
    assert_true(work.laying == 2 + 0.5 + 2);
    assert_true(work.hands == 2 * 6 + 2 * 4 + 2 + 0.5 + 2 + 2 * (2 + 4 + 7.5));
    assert_true(work.paid == 2 * work.ends + 4);
    assert_true(work.next == 35 || work.next == work.ends);
    assert_int_equal(work.tasks, 2 + 4 + 2 + 1 + 3);
    const WorkTask *ropes = &work.task[6];
    assert_int_equal(ropes->kind, TASK_ROPES);
    assert_int_equal(ropes->count, 2);
    assert_true(ropes->start == 10 && ropes->keeps == 1);
    work_free(&work);
}

static void a_price_is_made_of_all_that_the_shop_gives(void **state) {
    (void)state;
    Shop shop = shop_default();
    Bill bill = {.materials = 1, .quote.dyed = 2};
    bill.material[0].with_spare_g = 5000;
    const Cane cane = {.logs = 2, .pieces = 2000};
    const Recipe recipe = {.boilings = 4, .whole.flavour_g = 10};
    const WorkPlan work = {.paid = 90, .next = 45, .people = 2};
    price(&cane, &shop, &recipe, &work, &bill);
    assert_true(bill.quote.price == 0);
    assert_true(bill.quote.hours == 3);
    shop.price_margin = 0.5;
    shop.price_least = 1000;
    price(&cane, &shop, &recipe, &work, &bill);
    assert_true(bill.quote.price == 0); /* of nothing */
    shop.price_candy_kg = 4;            /* 20 */
    shop.price_dyed_batch = 3;          /* 6 */
    shop.price_flavour_kg = 50;         /* 0.5 */
    shop.price_hour = 20;               /* 60 */
    shop.price_boiling = 2;             /* 8 */
    shop.price_packing = 5;             /* 10 */
    shop.price_least = 0;
    price(&cane, &shop, &recipe, &work, &bill);
    assert_true(fabs(bill.quote.price - 104.5 * 1.5) < 1e-9);
    shop.price_round = 10;
    price(&cane, &shop, &recipe, &work, &bill);
    assert_true(fabs(bill.quote.price - 160) < 1e-9);
    shop.price_least = 203;
    price(&cane, &shop, &recipe, &work, &bill);
    assert_true(fabs(bill.quote.price - 210) < 1e-9);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_plan_can_be_carried_out),
        cmocka_unit_test(ropes_wait_less_than_anything_else),
        cmocka_unit_test(a_small_plan_is_as_worked_out_by_hand),
        cmocka_unit_test(a_price_is_made_of_all_that_the_shop_gives),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
