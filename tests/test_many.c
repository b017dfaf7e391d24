/* Tests of src/run/logos_list.c, src/run/many.c, src/model/logo_table.c, src/model/cause.c,
 * src/read/file_is_picture.c, src/say/short_names.c and src/write/write_many.c. SPDX-License-Identifier: MIT
 */
#include "small_job.h"

#include "base/text.h"
#include "say/verdict_words.h"
#include "write/write.h"

#include "scratch.h"

#include <stdlib.h>
#include <sys/stat.h>

static char place[SCRATCH];

/* A folder of three pictures that fail at once, what is no picture, and two logos that can be built. */
static int enter(void **state) {
    (void)state;
    scratch_name(place, "many-test");
    if (!mkdtemp(place) || chdir(place) != 0) return -1;
    if (mkdir("logos", 0755) != 0 || mkdir("logos/sub", 0755) != 0 || mkdir("none", 0755) != 0) return -1;
    put("shop.ini", "[limits]\nleast_strip = 20 mm\n[prices]\ncurrency = EUR\ncandy_kg = 9\n");
    put_logo("logos/b.png", LOGO_EASY);
    put_logo("logos/sub/deep.png", LOGO_EASY);
    put_logo("a.png", LOGO_EASY);
    put("logos/B.PNG", "");
    put("logos/drawing", "<svg/>");
    put("logos/cut.gif", "GIF89a");
    put("logos/notes.txt", "Dear maker");
    put("logos/film", "\1\1\1\1ftypisom");
    put("logos/.hidden.png", "");
    put("none/notes.txt", "nothing");
    return 0;
}

static int leave(void **state) {
    (void)state;
    char command[SCRATCH + 16];
    (void)snprintf(command, sizeof command, "rm -rf '%s'", place);
    return chdir("/") == 0 && system(command) == 0 ? 0 : -1;
}

/* The logos of the words, which '|' divides. */
static bool list_words(const char *words, LogoList *list, Err *err) {
    static char copy[400];
    char *given[8];
    int count = 0;
    (void)snprintf(copy, sizeof copy, "%s", words);
    for (char *word = strtok(copy, "|"); word; word = strtok(NULL, "|")) given[count++] = word;
    return logos_list(given, count, list, err);
}

static LogoList listed(const char *words) {
    LogoList list = {0};
    Err err = {0};
    if (!list_words(words, &list, &err)) fail_msg("%s", err.msg);
    return list;
}

static void a_folder_is_its_pictures_by_bytes_and_what_is_none_is_counted(void **state) {
    (void)state;
    static const char *const want[] = {"z.png",         "logos/B.PNG",   "logos/b.png",
                                       "logos/cut.gif", "logos/drawing", "a.png"};
    LogoList list = listed("z.png|logos|a.png");
    assert_int_equal(list.count, 6);
    for (int i = 0; i < 6; i++) assert_string_equal(list.path[i], want[i]);
    assert_int_equal(list.passed, 2); /* neither the folder in it nor the hidden file */
    assert_int_equal(list.common, 0);
    logo_list_free(&list);
    logo_list_free(&list); /* safe twice */
    list = listed("logos/");
    assert_int_equal(list.count, 4);
    assert_string_equal(list.path[0], "logos/B.PNG");
    assert_int_equal(list.common, 6);
    logo_list_free(&list);
    list = listed("logos/sub/deep.png|logos/b.png");
    assert_int_equal(list.common, 6);
    logo_list_free(&list);
}

static void folders_without_a_picture_fail_where_nothing_else_is_given(void **state) {
    (void)state;
    LogoList list = {.passed = 77};
    Err err = {0};
    assert_false(list_words("none", &list, &err));
    assert_int_equal(err.code, ERR_INPUT);
    assert_non_null(strstr(err.msg, "none: no picture"));
    assert_int_equal(list.passed, 77); /* untouched */
    list = listed("none|a.png");
    assert_int_equal(list.count, 2);
    assert_string_equal(list.path[0], "none");
    assert_int_equal(list.passed, 1);
    logo_list_free(&list);
}

static void job_folders_have_names_of_their_own(void **state) {
    (void)state;
    static const char *const want[] = {"oak", "oak-3", "oak-2", "oak-4", ".oak", "oak.b", "Oak"};
    LogoList list = listed("x/oak.png|oak.jpg|oak-2.png|y/oak.gif|.oak|oak.b.png|Oak");
    Err err = {0};
    assert_true(logos_folders(&list, &err));
    for (int i = 0; i < 7; i++) assert_string_equal(list.folder[i], want[i]);
    logo_list_free(&list);
}

/* The rows that were told. */
typedef struct Told {
    LogoRow row[8];
    int rows, most;
} Told;

static bool note_row(void *user, const LogoRow *row) {
    Told *told = user;
    told->row[told->rows++] = *row;
    return told->rows < told->most;
}

static Told run_many(LogoList *list, const ManyJobs *jobs, int most) {
    Shop shop;
    Err err = {0};
    assert_true(shop_file_open("shop.ini", &shop, &err));
    const Job named = {.shop = &shop, .order = order_default()};
    Told told = {.most = most};
    if (!many(&named, list, jobs, note_row, &told, &err)) fail_msg("%s", err.msg);
    return told;
}

static void each_row_is_the_job_of_that_logo_and_a_bad_file_costs_its_row(void **state) {
    (void)state;
    LogoList list = listed("a.png|logos|missing.png|none");
    assert_int_equal(list.count, 7);
    Told told = run_many(&list, &(ManyJobs){NULL, false}, 100);
    assert_int_equal(told.rows, 7);
    Whole w;
    whole_fill("a.png", &w);
    static const char *const wrong[] = {NULL, "empty", NULL, "cut off", "SVG", "no such file", "no picture"};
    LogoCounts counts = {.failed = 0};
    for (int i = 0; i < 7; i++) {
        const LogoRow *row = &told.row[i];
        assert_ptr_equal(row->file, list.path[i]);
        assert_null(row->folder);
        logos_count(row, &counts);
        if (wrong[i]) {
            assert_int_equal(row->err.code, ERR_INPUT);
            assert_non_null(strstr(row->err.msg, wrong[i]));
            continue;
        }
        assert_int_equal(row->err.code, ERR_NONE);
        assert_int_equal(row->verdict, w.job.judgement.verdict);
        assert_true(row->likeness == w.job.judgement.likeness && row->weakest == w.job.judgement.weakest);
        assert_int_equal(row->pieces, 1000);
        assert_int_equal(row->ropes_made, w.job.bill.ropes_made);
        assert_true(row->minutes == w.job.work.laying);
        assert_int_equal(row->logs, w.job.cane.logs);
        assert_true(row->price == (row->verdict == VERDICT_NO ? 0 : w.job.bill.quote.price));
    }
    assert_int_equal(counts.failed, 5);
    assert_int_equal(logos_status(&counts), 2);
    whole_free(&w);
    told = run_many(&list, &(ManyJobs){NULL, false}, 2);
    assert_int_equal(told.rows, 2); /* no more were wanted */
    logo_list_free(&list);
}

static void the_status_is_that_of_the_worst(void **state) {
    (void)state;
    assert_int_equal(logos_status(&(LogoCounts){{2, 1, 0}, 0}), 0);
    assert_int_equal(logos_status(&(LogoCounts){{2, 1, 1}, 0}), 1);
    assert_int_equal(logos_status(&(LogoCounts){{2, 1, 1}, 1}), 2);
    assert_int_equal(logos_status(&(LogoCounts){{0}, 0}), 0);
}

static void each_job_gets_a_folder_and_none_is_written_over(void **state) {
    (void)state;
    LogoList list = listed("a.png|logos/cut.gif");
    Told told = run_many(&list, &(ManyJobs){"jobs", false}, 100);
    assert_string_equal(told.row[0].folder, "a");
    assert_null(told.row[1].folder);
    assert_int_equal(count("jobs"), 1);
    assert_int_equal(count("jobs/a"), 14);
    logo_list_free(&list);
    list = listed("a.png|logos/cut.gif");
    told = run_many(&list, &(ManyJobs){"jobs", false}, 100);
    assert_int_equal(told.row[0].err.code, ERR_USAGE);
    assert_non_null(strstr(told.row[0].err.msg, "--force"));
    logo_list_free(&list);
}

static void a_folder_that_cannot_hold_job_folders_is_refused(void **state) {
    (void)state;
    static const char *const dir[] = {"one", "a.png", "no/such", "logos/b.png/x"};
    assert_int_equal(mkdir("one", 0755), 0);
    put("one/job.json", "{}");
    for (size_t i = 0; i < sizeof dir / sizeof *dir; i++) {
        const Job named = {.order = order_default()};
        LogoList list = listed("a.png");
        Told told = {.rows = 0};
        Err err = {0};
        assert_false(many(&named, &list, &(ManyJobs){dir[i], true}, note_row, &told, &err));
        assert_int_equal(err.code, ERR_USAGE);
        assert_int_equal(told.rows, 0);
        logo_list_free(&list);
    }
    LogoList list = listed("logos/cut.gif");
    (void)run_many(&list, &(ManyJobs){"empty", false}, 100);
    assert_int_equal(count("empty"), -1); /* nothing came into it: it is not left behind */
    logo_list_free(&list);
}

static void names_that_are_too_long_are_told(void **state) {
    (void)state;
    char dir[5000] = "";
    for (int i = 0; i < 2042; i++) strcat(dir, "./"); /* the folder that we are in, 4084 bytes */
    LogoList list = listed("a-logo-with-a-name-that-is-somewhat-longer.png");
    Told told = run_many(&list, &(ManyJobs){dir, true}, 100);
    assert_int_equal(told.row[0].err.code, ERR_USAGE);
    assert_non_null(strstr(told.row[0].err.msg, "too long"));
    const Job named = {.order = order_default()};
    Err err = {0};
    for (int i = 0; i < 10; i++) strcat(dir, "./");
    assert_false(many(&named, &list, &(ManyJobs){dir, true}, note_row, &told, &err));
    assert_int_equal(err.code, ERR_USAGE);
    logo_list_free(&list);
}

/* --- what is told --- */

static void every_check_has_a_short_name_of_its_own(void **state) {
    (void)state;
    for (int i = 0; i < CHECKS_MAX; i++) {
        const char *name = check_short_name((CheckKind)i);
        if (!name) fail_msg("check %d, %s, has no short name", i, check_name((CheckKind)i, UNITS_MM));
        assert_in_range(text_width(name), 5, SHORT_COLUMNS);
        for (int k = 0; k < i; k++) assert_string_not_equal(name, check_short_name((CheckKind)k));
    }
}

static void what_the_shop_puts_right_by_itself_is_no_cause(void **state) {
    (void)state;
    Judgement judgement = {.checks = 3, .verdict = VERDICT_CHANGE};
    judgement.check[0] = (Check){.kind = CHECK_MATCH, .verdict = VERDICT_CHANGE, .own = true};
    judgement.check[1] = (Check){.kind = CHECK_PARTS, .verdict = VERDICT_GO};
    judgement.check[2] = (Check){.kind = CHECK_ROPES, .verdict = VERDICT_CHANGE};
    assert_int_equal(judgement_cause(&judgement), CHECK_ROPES);
    judgement.check[0].own = false;
    assert_int_equal(judgement_cause(&judgement), CHECK_MATCH);
}

static const LogoRow rows[] = {
    {.file = "all/here/ferry.png",
     .verdict = VERDICT_GO,
     .likeness = 0.905,
     .weakest = 0.75,
     .pieces = 1000,
     .ropes_made = 32,
     .logs = 1,
     .minutes = 16.04,
     .price = 1234.5,
     .folder = "ferry"},
    {.file = "all/here/a,\"b\".png",
     .verdict = VERDICT_NO,
     .cause = CHECK_READING,
     .likeness = 0.5,
     .weakest = 0.25,
     .pieces = 10000000,
     .ropes_made = 10000,
     .logs = 99,
     .minutes = 5000},
    {.file = "all/here/bad\x1B.png",
     .err = {ERR_INPUT, "all/here/bad?.png: the file is cut off; have the picture sent again"}},
    {.file = "all/here/a-folder-with-a-long-name/and-a-file-with-a-name-that-no-column-holds.png",
     .err = {ERR_SYSTEM, "out of memory, and whatever else may be said about it at some length, and so on"}},
};

enum { ROWS = sizeof rows / sizeof *rows };

static void print_all(LogoTable table, char out[8192]) {
    static const Order order = {.pieces = 1000, .piece_diameter_mm = 16, .piece_length_mm = 14};
    LogoCounts counts = {.failed = 0};
    Err err = {0};
    FILE *file = fmemopen(out, 8192, "w");
    assert_non_null(file);
    table.order = &order;
    table.count = ROWS;
    table.common = 9;
    write_many_head(&table, "all/here/", file);
    for (int i = 0; i < ROWS; i++) {
        assert_true(write_many_row(&table, &rows[i], file, &err));
        logos_count(&rows[i], &counts);
    }
    write_many_end(&table, &counts, 3, file);
    assert_int_equal(fclose(file), 0);
}

static void the_table_is_80_columns_wide_at_most(void **state) {
    (void)state;
    char text[8192];
    for (int prices = 0; prices < 2; prices++) {
        print_all((LogoTable){.form = LOGOS_TEXT, .prices = prices, .currency = "EUR"}, text);
        assert_non_null(strstr(text, "4 logos, of each 1 000 pieces of 16 x 14 mm\nin all/here/\n"));
        assert_non_null(strstr(text, "\nno       hard to see        0.50 10 000 000 10 000"));
        assert_non_null(strstr(text, "\nfailed   the file is cut off    "));
        assert_non_null(strstr(text, "  bad?.png\n"));
        assert_non_null(strstr(text, "\n1 go, 0 change, 1 no; 2 failed; 3 files passed over: no pictures\n"));
        assert_int_equal(strstr(text, "    1234.50  ferry.png\n") != NULL, prices);
        assert_int_equal(strstr(text, "in EUR, by") != NULL, prices);
        for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n"))
            if (text_width(line) > TEXT_COLUMNS) fail_msg("%d columns: %s", text_width(line), line);
    }
}

static void the_list_has_a_row_each_with_the_same_cells(void **state) {
    (void)state;
    char text[8192];
    print_all((LogoTable){.form = LOGOS_CSV, .prices = true, .currency = "EUR"}, text);
    const char *want =
        "file,verdict,cause,likeness,weakest,pieces,ropes_made,logs,minutes,price,currency,folder,error\r\n"
        "all/here/ferry.png,go,,0.9050,0.7500,1000,32,1,16.0,1234.50,EUR,ferry,\r\n"
        "\"all/here/a,\"\"b\"\".png\",no,reading at 350 mm,0.5000,0.2500,10000000,10000,99,5000.0,,EUR,,\r\n"
        "all/here/bad?.png,,,,,,,,,,EUR,,"
        "\"all/here/bad?.png: the file is cut off; have the picture sent again\"\r\n";
    if (strncmp(text, want, strlen(want)) != 0) fail_msg("%s", text);
    print_all((LogoTable){.form = LOGOS_CSV, .currency = ""}, text);
    assert_non_null(strstr(text,
                           ",minutes,folder,error\r\nall/here/ferry.png,go,,0.9050,0.7500,1000,32,1,16.0,"
                           "ferry,\r\n"));
    assert_non_null(strstr(text, "bad?.png,,,,,,,,,,\"all"));
}

static void each_line_of_json_is_an_object_by_itself(void **state) {
    (void)state;
    char text[8192];
    print_all((LogoTable){.form = LOGOS_JSON, .prices = true, .currency = "EUR"}, text);
    const char *want =
        "{\"file\":\"all/here/"
        "ferry.png\",\"verdict\":\"go\",\"likeness\":0.905,\"weakest\":0.75,\"pieces\":1000,"
        "\"ropes_made\":32,\"logs\":1,\"minutes\":16.04,\"price\":1234.5,\"currency\":\"EUR\",\"folder\":"
        "\"ferry\"}\n"
        "{\"file\":\"all/here/a,\\\"b\\\".png\",\"verdict\":\"no\",\"cause\":\"reading at 350 "
        "mm\",\"likeness\":0.5,"
        "\"weakest\":0.25,\"pieces\":10000000,\"ropes_made\":10000,\"logs\":99,\"minutes\":5000}\n"
        "{\"file\":\"all/here/bad?.png\",\"error\":\"all/here/bad?.png: the file is cut off; have the "
        "picture sent "
        "again\"}\n";
    if (strncmp(text, want, strlen(want)) != 0) fail_msg("%s", text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_folder_is_its_pictures_by_bytes_and_what_is_none_is_counted),
        cmocka_unit_test(folders_without_a_picture_fail_where_nothing_else_is_given),
        cmocka_unit_test(job_folders_have_names_of_their_own),
        cmocka_unit_test(each_row_is_the_job_of_that_logo_and_a_bad_file_costs_its_row),
        cmocka_unit_test(the_status_is_that_of_the_worst),
        cmocka_unit_test(each_job_gets_a_folder_and_none_is_written_over),
        cmocka_unit_test(a_folder_that_cannot_hold_job_folders_is_refused),
        cmocka_unit_test(names_that_are_too_long_are_told),
        cmocka_unit_test(every_check_has_a_short_name_of_its_own),
        cmocka_unit_test(what_the_shop_puts_right_by_itself_is_no_cause),
        cmocka_unit_test(the_table_is_80_columns_wide_at_most),
        cmocka_unit_test(the_list_has_a_row_each_with_the_same_cells),
        cmocka_unit_test(each_line_of_json_is_an_object_by_itself)};
    return cmocka_run_group_tests_name("many", tests, enter, leave);
}
