/* Tests of the two columns of src/draw/sheet.c. SPDX-License-Identifier: MIT */
#include "draw/sheet.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

static const double heights[] = {100, 180, 60, 250, 90, 300, 40, 700, 120, 500, 80, 80, 80};

enum { ENTRIES = sizeof heights / sizeof *heights };

static bool is_wide(int i) {
    return i % 5 == 3;
}

/* On a page each entry begins at or below the one before, entries keep apart, and none runs over the foot. */
static void entries_are_read_from_the_top_down_in_their_order(void **state) {
    (void)state;
    Sheet sheet;
    Err err = {0};
    Slot slot[ENTRIES];
    int page[ENTRIES];
    sheet_open(&sheet, "ferry", UNITS_MM, 0, NULL);
    sheet_page(&sheet, "Blocks");
    Columns columns = columns_begin(&sheet);
    for (int i = 0; i < ENTRIES; i++) {
        slot[i] = columns_place(&columns, heights[i], is_wide(i));
        page[i] = sheet.page;
        assert_true(slot[i].y + heights[i] <= sheet_bottom(&sheet));
        assert_true(slot[i].x >= SHEET_MARGIN);
        assert_true(slot[i].x + slot[i].width <= sheet.width - SHEET_MARGIN + 1e-9);
        for (int j = 0; j < i; j++) {
            if (page[j] != page[i]) continue;
            assert_true(slot[i].y >= slot[j].y);
            bool beside = slot[i].x >= slot[j].x + slot[j].width || slot[j].x >= slot[i].x + slot[i].width;
            assert_true(beside || slot[i].y >= slot[j].y + heights[j]);
        }
    }
    assert_true(page[ENTRIES - 1] >= 3);
    assert_true(slot[1].x > slot[0].x); /* both columns are used */
    columns_end(&columns);
    assert_true(sheet.y >= slot[ENTRIES - 1].y + heights[ENTRIES - 1]);
    assert_true(sheet_close(&sheet, &err));
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(entries_are_read_from_the_top_down_in_their_order)};
    return cmocka_run_group_tests_name("columns", tests, NULL, NULL);
}
