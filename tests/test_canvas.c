/* Tests of src/draw/canvas.c and of the end of src/draw/sheet.c: what cairo reports must be told.
 * SPDX-License-Identifier: MIT */
#include "draw/canvas.h"
#include "draw/sheet.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { TOO_WIDE = 40000 }; /* cairo's pictures have at most 32767 px a side */

static const Rgb8 white = {255, 255, 255};

static void told(bool good, const Err *err) {
    assert_false(good);
    assert_int_equal(err->code, ERR_MEMORY);
    assert_non_null(strstr(err->msg, "; "));
}

static void pixels_come_out_as_they_were_laid(void **state) {
    (void)state;
    static const uint8_t pixels[] = {200, 30, 40, 255, 10, 20, 30, 255, 1, 2, 3, 255, 90, 80, 70, 255};
    Canvas canvas;
    Image image = {0};
    Err err = {0};
    canvas_open(&canvas, 3, 2, 4, white);
    assert_true(canvas_lay(&canvas, pixels, 2, 2, 1, 0, 2, 2, &err));
    assert_true(canvas_close(&canvas, true, &image, &err));
    assert_null(canvas.cr);
    assert_int_equal(image.width, 3);
    assert_int_equal(image.height, 2);
    assert_true(image.px_per_mm == 4);
    for (int y = 0; y < 2; y++) {
        assert_int_equal(image.rgba[12 * y], 255);
        assert_memory_equal(image.rgba + 12 * y + 4, pixels + 8 * y, 8);
    }
    image_free(&image);
}

static void a_canvas_that_cairo_cannot_make_is_told_at_its_end(void **state) {
    (void)state;
    Canvas canvas;
    Image image = {.width = 7};
    Err err = {0};
    canvas_open(&canvas, TOO_WIDE, 1, 0, white);
    told(canvas_close(&canvas, true, &image, &err), &err);
    assert_int_equal(image.width, 7);
}

static void a_drawing_that_went_wrong_is_told_at_its_end(void **state) {
    (void)state;
    Canvas canvas;
    Image image = {.width = 7};
    Err err = {0};
    canvas_open(&canvas, 3, 2, 0, white);
    cairo_restore(canvas.cr); /* without a cairo_save: an error that stays */
    told(canvas_close(&canvas, true, &image, &err), &err);
    assert_int_equal(image.width, 7);
}

static void a_picture_that_cairo_cannot_lay_is_told(void **state) {
    (void)state;
    Canvas canvas;
    Image image = {0};
    Err err = {0};
    uint8_t *pixels = calloc(TOO_WIDE, 4);
    assert_non_null(pixels);
    canvas_open(&canvas, 3, 2, 0, white);
    told(canvas_lay(&canvas, pixels, TOO_WIDE, 1, 0, 0, 3, 2, &err), &err);
    free(pixels);
    assert_false(canvas_close(&canvas, false, &image, &err));
    assert_null(image.rgba);
}

static void sheets_that_went_wrong_are_told_at_their_end(void **state) {
    (void)state;
    Sheet sheet;
    Err err = {0};
    sheet_open(&sheet, "job", UNITS_MM, 1, NULL);
    sheet_page(&sheet, "page");
    cairo_restore(sheet.cr);
    told(sheet_close(&sheet, &err), &err);
    assert_null(sheet.cr);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(pixels_come_out_as_they_were_laid),
                                       cmocka_unit_test(a_canvas_that_cairo_cannot_make_is_told_at_its_end),
                                       cmocka_unit_test(a_drawing_that_went_wrong_is_told_at_its_end),
                                       cmocka_unit_test(a_picture_that_cairo_cannot_lay_is_told),
                                       cmocka_unit_test(sheets_that_went_wrong_are_told_at_their_end)};
    return cmocka_run_group_tests_name("canvas", tests, NULL, NULL);
}
