/* Tests of src/base/mem.c. SPDX-License-Identifier: MIT */
#include "base/mem.h"
#include "sanitized.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <cmocka.h>

/* Page faults of taking, filling and freeing so many bytes. */
static long faults_of(size_t bytes) {
    Err err = {0};
    struct rusage before, after;
    assert_int_equal(getrusage(RUSAGE_SELF, &before), 0);
    void *block = mem_alloc(bytes, 1, &err);
    assert_non_null(block);
    memset(block, 1, bytes);
    free(block);
    assert_int_equal(getrusage(RUSAGE_SELF, &after), 0);
    return after.ru_minflt - before.ru_minflt;
}

static void memory_that_was_freed_is_taken_again(void **state) {
    (void)state;
#ifdef SANITIZED
    skip();
#endif
    const size_t bytes = 24 << 20;
    mem_keep();
    (void)faults_of(bytes);
    assert_in_range(faults_of(bytes), 0, 100); /* 24 MB are 6144 pages, and 12 large ones */
    assert_in_range(faults_of(bytes / 3), 0, 100);
}

static void a_product_too_large_is_out_of_memory(void **state) {
    (void)state;
#ifdef SANITIZED
    skip(); /* it ends the program */
#endif
    Err err = {0};
    assert_null(mem_alloc(SIZE_MAX / 2, 3, &err));
    assert_int_equal(err.code, ERR_MEMORY);
}

static void what_grows_keeps_its_items_and_adds_zeros(void **state) {
    (void)state;
    Err err = {0};
    size_t room = 0;
    int *item = mem_grow(NULL, &room, 3, sizeof *item, &err);
    assert_non_null(item);
    item[2] = 7;
    item = mem_grow(item, &room, 1000, sizeof *item, &err);
    assert_non_null(item);
    assert_true(room >= 1000);
    assert_int_equal(item[2], 7);
    for (size_t i = 3; i < room; i++) assert_int_equal(item[i], 0);
    free(item);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(memory_that_was_freed_is_taken_again),
        cmocka_unit_test(a_product_too_large_is_out_of_memory),
        cmocka_unit_test(what_grows_keeps_its_items_and_adds_zeros),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
