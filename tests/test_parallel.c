/* Tests of src/base/parallel.c. SPDX-License-Identifier: MIT */
#include "base/parallel.h"

#include <pthread.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

enum { ROWS = 1000 };

static void count_row(void *context, int row) {
    int *times = context;
    times[row]++;
}

static void every_row_is_done_once(void **state) {
    (void)state;
    for (int threads = 0; threads < 20; threads++) {
        int times[ROWS] = {0};
        parallel_rows(ROWS, threads, count_row, times);
        for (int i = 0; i < ROWS; i++) assert_int_equal(times[i], 1);
    }
    parallel_rows(0, 2, count_row, NULL);
}

/* What each task does: 0 goes well. */
typedef struct Plan {
    bool fails[TASKS_MAX];
    int times[TASKS_MAX];
} Plan;

static bool do_task(void *context, int task, Err *err) {
    Plan *plan = context;
    plan->times[task]++;
    return !plan->fails[task] || err_set(err, ERR_SYSTEM, "task %d", task);
}

static void tasks_fail_as_the_first_that_failed(void **state) {
    (void)state;
    for (int threads = 0; threads < 4; threads++) {
        Plan plan = {.fails = {[3] = true, [9] = true}};
        Err err = {0};
        assert_false(parallel_tasks(TASKS_MAX, threads, do_task, &plan, &err));
        assert_int_equal(err.code, ERR_SYSTEM);
        assert_string_equal(err.msg, "task 3");
        for (int i = 0; i < TASKS_MAX; i++) assert_int_equal(plan.times[i], 1);
        plan = (Plan){0};
        err = (Err){0};
        assert_true(parallel_tasks(TASKS_MAX, threads, do_task, &plan, &err));
        assert_int_equal(err.code, ERR_NONE);
    }
}

enum { ITEMS = 300, WINDOW = 5 };

/* What was done in order. */
typedef struct Row {
    int at[WINDOW]; /* the item in that place, -1 = none waits */
    int taken;
    int stop; /* taken no further than that many */
    pthread_t caller;
    bool blocked; /* a worker holds SIGTERM back */
} Row;

static void do_item(void *context, int item) {
    Row *row = context;
    sigset_t now;
    assert_int_equal(pthread_sigmask(SIG_SETMASK, NULL, &now), 0);
    if (item == 0) row->blocked = sigismember(&now, SIGTERM);
    assert_int_equal(row->at[item % WINDOW], -1);
    for (volatile int spin = item % 7 * 2000; spin > 0;) spin = spin - 1; /* some take longer */
    row->at[item % WINDOW] = item;
}

static bool take_item(void *context, int item) {
    Row *row = context;
    assert_int_equal(row->at[item % WINDOW], item);
    assert_int_equal(item, row->taken++);
    assert_true(pthread_equal(row->caller, pthread_self()));
    row->at[item % WINDOW] = -1;
    return row->taken < row->stop;
}

static void items_are_taken_in_order_by_the_caller_and_few_wait(void **state) {
    (void)state;
    for (int threads = 0; threads < 10; threads++) {
        Row row = {.at = {-1, -1, -1, -1, -1}, .stop = ITEMS + 1, .caller = pthread_self()};
        parallel_in_order(ITEMS, threads, WINDOW, do_item, take_item, &row);
        assert_int_equal(row.taken, ITEMS);
        assert_int_equal(row.blocked, threads > 0);
    }
    parallel_in_order(0, 2, 1, do_item, take_item, NULL);
    assert_in_range(parallel_workers(), 1, 128);
}

static void no_more_are_taken_when_no_more_are_wanted(void **state) {
    (void)state;
    for (int threads = 0; threads < 4; threads++) {
        Row row = {.at = {-1, -1, -1, -1, -1}, .stop = 40, .caller = pthread_self()};
        parallel_in_order(ITEMS, threads, WINDOW, do_item, take_item, &row);
        assert_int_equal(row.taken, 40);
        for (int i = 0; i < WINDOW; i++) assert_in_range(row.at[i] + 1, 0, 40 + WINDOW);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_row_is_done_once),
                                       cmocka_unit_test(tasks_fail_as_the_first_that_failed),
                                       cmocka_unit_test(items_are_taken_in_order_by_the_caller_and_few_wait),
                                       cmocka_unit_test(no_more_are_taken_when_no_more_are_wanted)};
    return cmocka_run_group_tests_name("parallel", tests, NULL, NULL);
}
