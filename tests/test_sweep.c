/* Tests of src/run/sweep.c, src/write/write_sweep.c and src/draw/draw_sweep.c. SPDX-License-Identifier: MIT
 */
#include "run/run.h"

#include "draw/draw.h"
#include "base/text.h"
#include "write/write.h"

#include "drawn_logo.h"
#include "scratch.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <unistd.h>
#include <cmocka.h>

static const SweepPlan plan = {2, {14, 20}, 3, {50, 700, 1500}, false};

static void count_calls(void *user, const SweepTable *table, int row, int done) {
    int *calls = user;
    assert_int_equal(done, ++*calls);
    assert_int_equal(table->rows, 6);
    assert_in_range(row, 0, 5);
    assert_true(table->row[row].ropes_made > 0); /* it is filled by then */
}

static SweepTable swept(const DrawnLogo *logo, Job *job, int face_side) {
    Err err = {0};
    SweepTable table = {0};
    int calls = 0;
    *job = drawn_logo_job(logo);
    if (!sweep(job, &plan, face_side, count_calls, &calls, &table, &err)) fail_msg("%s", err.msg);
    assert_int_equal(calls, 6);
    return table;
}

static void each_row_is_the_job_of_that_size_and_order(void **state) {
    (void)state;
    DrawnLogo logo;
    Job job;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    logo.shop.price_candy_kg = 9;
    (void)snprintf(logo.shop.currency, sizeof logo.shop.currency, "EUR");
    SweepTable table = swept(&logo, &job, 0);
    assert_int_equal(table.rows, 6);
    assert_true(table.prices);
    assert_string_equal(table.currency, "EUR");
    int priced = 0;
    for (int i = 0; i < table.rows; i++) {
        const SweepRow *row = &table.row[i];
        Job one = drawn_logo_job(&logo);
        one.order.piece_diameter_mm = plan.diameter_mm[i / 3];
        one.order.pieces = plan.pieces[i % 3];
        assert_true(job_run(&one, &err));
        assert_true(row->diameter_mm == one.order.piece_diameter_mm && row->pieces == one.order.pieces);
        assert_int_equal(row->verdict, one.judgement.verdict);
        assert_true(row->likeness == one.judgement.likeness && row->weakest == one.judgement.weakest);
        assert_int_equal(row->ropes_made, one.bill.ropes_made);
        assert_int_equal(row->logs, one.cane.logs);
        assert_int_equal(row->given, one.cane.pieces);
        assert_true(row->log_mass_g == one.bill.log_mass_g &&
                    row->log_diameter_mm == one.cane.log_diameter_mm);
        assert_true(row->pieces_mass_g == one.bill.quote.pieces_mass_g);
        assert_true(row->price == (row->verdict == VERDICT_NO ? 0 : one.bill.quote.price));
        priced += row->price > 0;
        for (int k = 0; k < one.judgement.checks; k++)
            if (one.judgement.check[k].kind == row->cause)
                assert_int_equal(one.judgement.check[k].verdict, row->verdict);
        assert_null(row->face.rgba);
        job_free(&one);
    }
    assert_true(priced > 0);
    assert_true(table.row[0].given > table.row[0].pieces); /* 50 pieces are under the least log */
    sweep_table_free(&table);
    sweep_table_free(&table); /* safe twice */
    job_free(&job);
    drawn_logo_free(&logo);
}

/* Six rows filled by hand, as wide as they come. */
static void fill_wide(SweepTable *table, SweepRow row[6]) {
    *table = (SweepTable){
        .logo = "a-logo-with-a-name-that-is-much-longer-than-any-table-can-show-in-eighty-columns-"
                "of-text.png",
        .piece_length_mm = 14,
        .currency = "",
        .plan = plan,
        .rows = 6,
        .row = row};
    for (int i = 0; i < 6; i++)
        row[i] = (SweepRow){.diameter_mm = 22.225,
                            .pieces = 10000000,
                            .given = 10000001,
                            .verdict = (Verdict)(i % 3),
                            .cause = CHECK_APART,
                            .likeness = 0.815,
                            .weakest = 0.5,
                            .ropes_made = 10000,
                            .logs = 99999,
                            .log_diameter_mm = 199.6,
                            .log_length_mm = 1234.5,
                            .log_mass_g = 123456,
                            .pieces_mass_g = 3.7e7};
}

static void text_of(const SweepTable *table, char out[8192]) {
    FILE *file = fmemopen(out, 8192, "w");
    assert_non_null(file);
    write_sweep_text(table, file);
    assert_int_equal(fclose(file), 0);
}

static void the_table_is_80_columns_wide_at_most(void **state) {
    (void)state;
    SweepTable table;
    SweepRow row[6];
    fill_wide(&table, row);
    for (int form = 0; form < 4; form++) {
        int units = table.units = (Units)(form % 2);
        table.prices = form >= 2;
        char text[8192];
        text_of(&table, text);
        assert_non_null(strstr(text, "* under the smallest log"));
        assert_non_null(
            strstr(text, units == UNITS_IN ? "7/8 in  10 000 000* go" : "22.2 mm 10 000 000* go"));
        for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n"))
            if (text_width(line) > TEXT_COLUMNS) fail_msg("%d columns: %s", text_width(line), line);
    }
}

static void each_column_stands_under_its_head(void **state) {
    (void)state;
    SweepTable table;
    SweepRow row[6];
    fill_wide(&table, row);
    table.rows = 3;
    row[1].logs = 1;
    row[1].log_mass_g = 4500;
    row[2].logs = 3;
    row[2].cause = CHECK_READING;
    row[1].ropes_made = 77;
    row[1].price = 120.4;
    table.prices = true;
    table.currency = "EUR";
    char text[8192];
    text_of(&table, text);
    char *head = strstr(text, "piece  "), *line = strstr(head, "change");
    while (line[-1] != '\n') line--;
    assert_ptr_equal(strstr(head, "verdict") - head, strstr(line, "change") - line);
    assert_ptr_equal(strstr(head, "likeness") + 8 - head, strstr(line, "0.8") + 4 - line);
    assert_ptr_equal(strstr(head, "ropes") + 5 - head, strstr(line, " 77 ") + 3 - line);
    assert_ptr_equal(strstr(head, "a log") + 5 - head, strstr(line, "4.5 kg") + 6 - line);
    assert_ptr_equal(strstr(head, "price") + 5 - head, strstr(line, "120") + 3 - line);
    assert_ptr_equal(strstr(head, "why") - head, strstr(line, "alike candies") - line);
    assert_non_null(strstr(text, "hard to see"));
    assert_non_null(strstr(text, "price: of the order, in EUR, by"));
    table.prices = false;
    text_of(&table, text);
    assert_null(strstr(text, "price"));
}

static char *slurp(const char *path, size_t *size) {
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *bytes = calloc(1, 1 << 20);
    assert_non_null(bytes);
    *size = fread(bytes, 1, (1 << 20) - 1, file);
    fclose(file);
    return bytes;
}

static void give_faces(SweepTable *table) {
    Err err = {0};
    for (int i = 0; i < table->rows; i++) {
        assert_true(image_new(SWEEP_FACE, SWEEP_FACE, 0, &table->row[i].face, &err));
        for (int p = 0; p < SWEEP_FACE * SWEEP_FACE; p++) {
            uint8_t *pixel = table->row[i].face.rgba + 4 * (size_t)p;
            pixel[0] = (uint8_t)(40 * i);
            pixel[1] = 200;
            pixel[3] = 255;
        }
    }
}

static void free_faces(SweepTable *table) {
    for (int i = 0; i < table->rows; i++) image_free(&table->row[i].face);
}

static void the_folder_holds_the_lists_in_the_units_spoken_and_no_more(void **state) {
    (void)state;
    char dir[SCRATCH], path[SCRATCH + 16];
    SweepTable table;
    SweepRow row[6];
    Err err = {0};
    size_t size;
    scratch_name(dir, "sweep-test");
    assert_non_null(mkdtemp(dir));
    fill_wide(&table, row);
    give_faces(&table);
    table.units = UNITS_IN;
    table.row[1].cause = CHECK_READING;
    if (!write_sweep_check(dir, false, &err) || !write_sweep(&table, dir, false, &err))
        fail_msg("%s", err.msg);
    (void)snprintf(path, sizeof path, "%s/sweep.csv", dir);
    char *csv = slurp(path, &size);
    table.prices = true;
    table.currency = "EUR";
    row[1].price = 12345.678;
    if (!write_sweep_check(dir, true, &err) || !write_sweep(&table, dir, true, &err)) fail_msg("%s", err.msg);
    (void)snprintf(path, sizeof path, "%s/sweep.csv", dir);
    char *priced = slurp(path, &size);
    assert_non_null(strstr(priced, "pieces_mass_oz,price,currency\r\n"));
    assert_non_null(strstr(priced, ",,EUR\r\n"));
    assert_non_null(strstr(priced, ",12345.68,EUR\r\n"));
    free(priced);
    const char *head =
        "piece_diameter_in,piece_length_in,pieces,pieces_given,verdict,cause,likeness,weakest,ropes_made,"
        "logs,log_diameter_in,log_length_in,log_mass_oz,pieces_mass_oz\r\n"
        "0.875,0.551,10000000,10000001,go,,0.8150,0.5000,10000,99999,7.858,48.602,4354.8,1305136.6\r\n"
        "0.875,0.551,10000000,10000001,change,reading at 350 mm,0.8150";
    if (strncmp(csv, head, strlen(head)) != 0) fail_msg("%s", csv);
    (void)unlink(path);
    (void)snprintf(path, sizeof path, "%s/sweep.png", dir);
    char *png = slurp(path, &size);
    assert_memory_equal(png, "\x89PNG\r\n\x1A\n", 8);
    assert_false(write_sweep(&table, dir, false, &err)); /* not without force */
    assert_int_equal(err.code, ERR_USAGE);
    (void)unlink(path);
    assert_int_equal(rmdir(dir), 0);
    free(csv);
    free(png);
    free_faces(&table);
}

static const uint8_t *pixel_at(const Image *image, int x, int y) {
    return image->rgba + 4 * ((size_t)y * image->width + x);
}

static void the_picture_has_a_face_a_row_in_its_place_and_words_below(void **state) {
    (void)state;
    SweepTable table;
    SweepRow row[6];
    Image image = {0};
    Err err = {0};
    fill_wide(&table, row);
    give_faces(&table);
    assert_true(draw_sweep(&table, &image, &err));
    assert_int_equal(image.width, 108 + 2 * 164 + 16);
    assert_int_equal(image.height, 92 + 3 * 232 + 16);
    for (int i = 0; i < 6; i++) {
        int x = 108 + 164 * (i / 3) + 82, y = 92 + 232 * (i % 3), dark = 0;
        const uint8_t want[] = {(uint8_t)(40 * i), 200, 0, 255};
        assert_memory_equal(pixel_at(&image, x, y + 66), want, 4);
        for (int dy = 138; dy < 212; dy++)
            for (int dx = -70; dx < 70; dx++) dark += pixel_at(&image, x + dx, y + dy)[1] < 128;
        if (dark < 200) fail_msg("row %d has no words: %d", i, dark);
    }
    for (int x = 0; x < image.width; x++) { /* words and faces end before the edge */
        assert_int_equal(pixel_at(&image, x, image.height - 1)[0], 255);
        assert_int_equal(pixel_at(&image, x, 0)[0], 255);
    }
    for (int y = 0; y < image.height; y++) assert_int_equal(pixel_at(&image, image.width - 1, y)[0], 255);
    image_free(&image);
    table.prices = true; /* a line more: of the first row, which is go, the last */
    table.currency = "EUR";
    row[0].price = 88;
    assert_true(draw_sweep(&table, &image, &err));
    assert_int_equal(image.height, 92 + 3 * 248 + 16);
    int dark = 0;
    for (int y = 92 + 188; y < 92 + 206; y++)
        for (int x = 108; x < 108 + 164; x++) dark += pixel_at(&image, x, y)[1] < 128;
    assert_true(dark > 30);
    image_free(&image);
    free_faces(&table);
}

static void a_sweep_draws_its_faces_if_asked(void **state) {
    (void)state;
    DrawnLogo logo;
    Job job;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    SweepTable table = swept(&logo, &job, 40);
    for (int i = 0; i < table.rows; i++) {
        assert_int_equal(table.row[i].face.width, 40);
        assert_int_equal(pixel_at(&table.row[i].face, 20, 20)[3], 255);
        assert_int_equal(pixel_at(&table.row[i].face, 0, 0)[3], 0);
    }
    sweep_table_free(&table);
    job_free(&job);
    drawn_logo_free(&logo);
}

static void a_row_that_cannot_be_sized_ends_the_sweep(void **state) {
    (void)state;
    DrawnLogo logo;
    Err err = {0};
    assert_true(drawn_logo_fill(&logo, &err));
    logo.shop.log_diameter_min_mm = logo.shop.log_diameter_max_mm = 40;
    Job job = drawn_logo_job(&logo);
    const SweepPlan thick = {2, {20, 60}, 1, {100}, false};
    SweepTable table = {.logo = "untouched"};
    assert_false(sweep(&job, &thick, 0, NULL, NULL, &table, &err));
    assert_int_equal(err.code, ERR_USAGE);
    assert_string_equal(table.logo, "untouched");
    job_free(&job);
    drawn_logo_free(&logo);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_row_is_the_job_of_that_size_and_order),
        cmocka_unit_test(the_table_is_80_columns_wide_at_most),
        cmocka_unit_test(each_column_stands_under_its_head),
        cmocka_unit_test(the_folder_holds_the_lists_in_the_units_spoken_and_no_more),
        cmocka_unit_test(the_picture_has_a_face_a_row_in_its_place_and_words_below),
        cmocka_unit_test(a_sweep_draws_its_faces_if_asked),
        cmocka_unit_test(a_row_that_cannot_be_sized_ends_the_sweep),
    };
    return cmocka_run_group_tests_name("sweep", tests, NULL, NULL);
}
