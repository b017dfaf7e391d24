/* Tests of src/base/parallel.c. SPDX-License-Identifier: MIT */
#include "base/parallel.h"

#include <setjmp.h>
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

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_row_is_done_once),
                                       cmocka_unit_test(tasks_fail_as_the_first_that_failed)};
    return cmocka_run_group_tests_name("parallel", tests, NULL, NULL);
}
