/* Tests of src/draw_bench.c and what it draws with, read back with poppler's tools. SPDX-License-Identifier:
 * MIT */
#include "draw_bench.h"

#include "bench_job.h"
#include "hatch.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <unistd.h>
#include <cmocka.h>

/* --- helpers --- */

/* The PDF's bytes, to be freed. */
static char *draw(const Job *job, size_t *size) {
    char *bytes = NULL;
    Err err = {0};
    FILE *file = open_memstream(&bytes, size);
    assert_non_null(file);
    if (!draw_bench(job, file, &err)) fail_msg("%s", err.msg);
    fclose(file);
    assert_true(*size > 1000 && memcmp(bytes, "%PDF-", 5) == 0);
    return bytes;
}

enum { FILE_NAME = 40 };

/* Draws the job into a file of its own. */
static void save(const Job *job, char name[FILE_NAME]) {
    size_t length = 0;
    char *bytes = draw(job, &length);
    strcpy(name, "/tmp/logocane-bench-XXXXXX");
    int fd = mkstemp(name);
    assert_true(fd >= 0);
    FILE *file = fdopen(fd, "wb");
    assert_int_equal(fwrite(bytes, 1, length, file), length);
    fclose(file);
    free(bytes);
}

/* What the command prints, FILE in it being that file; to be freed. */
static char *ask_file(const char *name, const char *command, size_t *size) {
    char whole[400], part[4096], *out = NULL;
    size_t got = 0, room = 0;
    const char *at = strstr(command, "FILE");
    (void)snprintf(whole, sizeof whole, "%.*s%s%s", (int)(at - command), command, name, at + 4);
    FILE *pipe = popen(whole, "r"); /* NOLINT: the command is the test's own */
    assert_non_null(pipe);
    FILE *memory = open_memstream(&out, &room);
    while ((got = fread(part, 1, sizeof part, pipe)) > 0) fwrite(part, 1, got, memory);
    fclose(memory);
    assert_int_equal(pclose(pipe), 0);
    if (size) *size = room;
    return out;
}

static char *ask(const Job *job, const char *command, size_t *size) {
    char name[FILE_NAME];
    save(job, name);
    char *out = ask_file(name, command, size);
    unlink(name);
    return out;
}

static int count_pages(const char *file) {
    char *info = ask_file(file, "pdfinfo FILE", NULL), *at = strstr(info, "Pages:");
    assert_non_null(at);
    int pages = (int)strtol(at + 6, NULL, 10);
    free(info);
    return pages;
}

/* The section's page is the second unless the first flows over. */
static char *ask_section(const char *file, const char *tool, const char *rest, size_t *size) {
    char command[200];
    for (int page = 2;; page++) {
        (void)snprintf(command, sizeof command, "pdftotext -f %d -l %d FILE -", page, page);
        char *text = ask_file(file, command, NULL);
        bool found = strstr(text, "The log: face end") != NULL;
        free(text);
        if (!found) continue;
        (void)snprintf(command, sizeof command, "%s -f %d -l %d FILE %s", tool, page, page, rest);
        return ask_file(file, command, size);
    }
}

static int occurrences(const char *text, const char *what) {
    int count = 0;
    for (const char *at = strstr(text, what); at; at = strstr(at + 1, what)) count++;
    return count;
}

static void has(const char *text, const char *what) {
    if (!strstr(text, what)) fail_msg("no '%s'", what);
}

/* --- pages --- */

static void every_page_is_a4_or_us_letter(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 56, 3, motif_blob, DETAIL_NORMAL, NULL));
    char name[FILE_NAME];
    save(&b.job, name);
    int pages = count_pages(name);
    assert_true(pages >= 5);
    char *info = ask_file(name, "pdfinfo -f 1 -l 99 FILE", NULL);
    unlink(name);
    assert_int_equal(occurrences(info, "595.276 x 841.89 pts (A4)"), pages);
    assert_int_equal(occurrences(info, "Date"), 0);
    free(info);
    b.job.order.units = UNITS_IN;
    info = ask(&b.job, "pdfinfo -f 1 -l 99 FILE", NULL);
    assert_true(occurrences(info, "612 x 792 pts (letter)") >= pages);
    assert_int_equal(occurrences(info, "A4"), 0);
    free(info);
    bench_free(&b);
}

static void every_page_has_its_number_and_the_name(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 56, 3, motif_blob, DETAIL_NORMAL, NULL));
    strcpy(b.job.order.name, "the night ferry");
    char name[FILE_NAME];
    save(&b.job, name);
    int pages = count_pages(name);
    for (int i = 1; i <= pages; i++) {
        char command[100], foot[40];
        (void)snprintf(command, sizeof command, "pdftotext -layout -f %d -l %d FILE -", i, i);
        (void)snprintf(foot, sizeof foot, "page %d of %d", i, pages);
        char *text = ask_file(name, command, NULL);
        has(text, foot);
        has(text, "the night ferry");
        free(text);
    }
    unlink(name);
    bench_free(&b);
}

static void the_same_job_gives_the_same_bytes(void **state) {
    (void)state;
    BenchJob b;
    size_t one = 0, two = 0;
    assert_true(bench_build(&b, 56, 3, motif_table, DETAIL_NORMAL, NULL));
    char *first = draw(&b.job, &one), *second = draw(&b.job, &two);
    assert_int_equal(one, two);
    assert_memory_equal(first, second, one);
    free(first);
    free(second);
    bench_free(&b);
}

/* --- the section page --- */

/* Widths of the dark runs of a row of a picture of w px, the longest within [low, high]. */
static int run_within(const unsigned char *row, int w, int low, int high) {
    int best = 0;
    for (int x = 0; x < w; x++) {
        int from = x;
        while (x < w && row[x] < 128) x++;
        if (x - from >= low && x - from <= high && x - from > best) best = x - from;
    }
    return best;
}

/* 254 dots an inch are 10 px a mm. The rule is the lowest line of about 100 mm; its lower edge has no ticks.
 */
static void the_rule_is_100_mm(void **state) {
    (void)state;
    BenchJob b;
    size_t size = 0;
    assert_true(bench_build(&b, 56, 3, motif_blob, DETAIL_NORMAL, NULL));
    char name[FILE_NAME];
    save(&b.job, name);
    char *pgm = ask_section(name, "pdftoppm -r 254 -gray", "", &size), *at = pgm;
    unlink(name);
    int w = 0, h = 0, found = 0;
    assert_memory_equal(pgm, "P5\n", 3);
    w = (int)strtol(pgm + 3, &at, 10);
    h = (int)strtol(at, &at, 10);
    at += strcspn(at, "\n") + 1;
    at += strcspn(at, "\n") + 1;
    assert_true(w == 2100 || w == 2101);
    assert_int_equal((int)(size - (size_t)(at - pgm)), w * h);
    for (int y = h - 1; y >= 0 && !found; y--)
        found = run_within((const unsigned char *)at + (size_t)y * w, w, 950, 1050);
    if (abs(found - 1000) > 1) fail_msg("the rule is %.1f mm", found / 10.0);
    free(pgm);
    bench_free(&b);
}

static void check_numbers(const Job *job, const char *file) {
    char *words = ask_section(file, "pdftotext -bbox", "-", NULL), want[64], number[32];
    for (int i = 0; i < job->layup.ropes; i++) {
        rope_number(&job->layup.rope[i], number);
        (void)snprintf(want, sizeof want, ">%s</word>", number);
        int times = occurrences(words, want);
        if (times != 1) fail_msg("%s is there %d times", number, times);
    }
    free(words);
}

static void every_rope_is_numbered_once_in_the_section(void **state) {
    (void)state;
    Motif *const motifs[] = {motif_plain, motif_blob, motif_table};
    for (int m = 0; m < 3; m++) {
        BenchJob b;
        char name[FILE_NAME];
        assert_true(bench_build(&b, 69, 3, motifs[m], DETAIL_FINE, NULL));
        save(&b.job, name);
        check_numbers(&b.job, name);
        unlink(name);
        bench_free(&b);
    }
}

static void a_log_of_300_ropes_is_drawn_whole(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 84, 8, motif_squares, DETAIL_FINE, NULL));
    assert_true(b.job.layup.ropes >= 250);
    char name[FILE_NAME];
    save(&b.job, name);
    check_numbers(&b.job, name);
    char *text = ask_file(name, "pdftotext -layout FILE -", NULL), last[64];
    int pages = count_pages(name);
    unlink(name);
    (void)snprintf(last, sizeof last, "page %d of %d", pages, pages);
    has(text, last);
    assert_int_equal(occurrences(text, "lump "), b.job.bill.pulls + 1); /* and once in the head of the list */
    free(text);
    bench_free(&b);
}

/* --- odd jobs --- */

static void a_log_of_one_rope_has_no_blocks(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 56, 1, motif_plain, DETAIL_NORMAL, NULL));
    assert_int_equal(b.job.layup.ropes, 1);
    char *text = ask(&b.job, "pdftotext -layout FILE -", NULL);
    has(text, "The core is one rope");
    assert_null(strstr(text, "Blocks in build order"));
    has(text, "1.1");
    free(text);
    bench_free(&b);
}

static void hostile_names_are_drawn_and_do_no_harm(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 56, 3, motif_blob, DETAIL_NORMAL, NULL));
    strcpy(b.job.order.name, "a\xFF\n\x1B[2J %s%n (\\) \xE2\x80\xAE caf\xC3\xA9");
    char *text = ask(&b.job, "pdftotext -layout FILE -", NULL);
    has(text, "a???[2J %s%n (\\) ? caf\xC3\xA9");
    free(text);
    memset(b.job.order.name, 'W', JOB_NAME - 1);
    b.job.order.name[JOB_NAME - 1] = 0;
    memset(b.job.palette.candy[1].name, 'M', CANDY_NAME - 1);
    for (int i = 0; i < b.job.bill.materials; i++)
        if (i == 1) memset(b.job.bill.material[i].candy.name, 'M', CANDY_NAME - 1);
    text = ask(&b.job, "pdftotext -bbox FILE -", NULL); /* nothing beyond the right edge */
    for (const char *at = strstr(text, "xMax=\""); at; at = strstr(at + 1, "xMax=\""))
        assert_true(strtod(at + 6, NULL) <= 595.276 - 20);
    free(text);
    bench_free(&b);
}

static void eight_candies_are_named_and_told_apart(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 44, 8, motif_squares, DETAIL_NORMAL, NULL));
    char name[FILE_NAME];
    save(&b.job, name);
    char *text = ask_section(name, "pdftotext -layout", "-", NULL);
    unlink(name);
    for (int k = 0; k < 8; k++) {
        has(text, b.job.palette.candy[k].name);
        for (int i = 0; i < k; i++)
            assert_int_not_equal(hatch_of(&b.job.bill, &b.job.palette.candy[i]),
                                 hatch_of(&b.job.bill, &b.job.palette.candy[k]));
    }
    free(text);
    bench_free(&b);
}

/* Which parts of a square are dark: the share in each of 16 x 16 fields says enough. */
static void hatches_differ_without_colour(void **state) {
    (void)state;
    enum { SIDE = 96 };
    static unsigned char dark[HATCHES][SIDE * SIDE];
    for (int k = 0; k < HATCHES; k++) {
        cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, SIDE, SIDE);
        cairo_t *cr = cairo_create(surface);
        cairo_scale(cr, 4, 4);
        cairo_rectangle(cr, 0, 0, SIDE, SIDE);
        hatch_fill(cr, k, (Rgb8){255, 255, 255}, 6);
        cairo_surface_flush(surface);
        const unsigned char *data = cairo_image_surface_get_data(surface);
        for (int i = 0; i < SIDE * SIDE; i++) dark[k][i] = data[4 * i] < 128;
        cairo_destroy(cr);
        cairo_surface_destroy(surface);
        int inked = 0;
        for (int i = 0; i < SIDE * SIDE; i++) inked += dark[k][i];
        assert_true(k == 0 ? inked == 0 : inked > SIDE * SIDE / 50);
        assert_true(inked < SIDE * SIDE / 2); /* numbers stay readable */
        for (int j = 0; j < k; j++) {
            int other = 0;
            for (int i = 0; i < SIDE * SIDE; i++) other += dark[k][i] != dark[j][i];
            if (other < SIDE * SIDE / 50) fail_msg("hatches %d and %d look alike", j, k);
        }
    }
}

/* --- what the pages say --- */

static void the_first_page_says_what_to_cook_and_to_beware_of(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 56, 3, motif_blob, DETAIL_NORMAL, NULL));
    b.job.judgement.verdict = VERDICT_CHANGE;
    b.job.judgement.checks = 2;
    b.job.judgement.check[0] =
        (Check){"likeness", 0.74, 0.8, true, "", VERDICT_CHANGE, "make the piece 18 mm across", SOURCE_OURS};
    b.job.judgement.check[1] = (Check){"log mass", 4, 12, false, "kg", VERDICT_GO, "", SOURCE_OURS};
    char *text = ask(&b.job, "pdftotext -layout -f 1 -l 1 FILE -", NULL);
    static const char *const want[] = {"CHANGE",
                                       "1 000 pieces of 16 x 14 mm",
                                       "CUT A TEST SLICE AND READ IT",
                                       "gloves",
                                       "running water for 20",
                                       "choking",
                                       "owner's written permission",
                                       "likeness is 0.74, wanted at least 0.8; make the piece 18 mm across",
                                       "308 mm long",
                                       "for 2 people (habit)",
                                       "cream, pulled"};
    for (size_t i = 0; i < sizeof want / sizeof *want; i++) has(text, want[i]);
    assert_null(strstr(text, "log mass"));
    free(text);
    bench_free(&b);
}

static void a_copied_block_says_how_it_is_built(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 64, 3, motif_table, DETAIL_NORMAL, NULL));
    int copied = 0;
    for (int i = 0; i < b.job.blocks.blocks; i++) copied += b.job.blocks.block[i].way != BUILD_ONCE;
    assert_true(copied > 0);
    char *text = ask(&b.job, "pdftotext -raw FILE -", NULL);
    assert_int_equal(occurrences(text, ": build it once"), copied);
    has(text, "end for end");
    free(text);
    bench_free(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_page_is_a4_or_us_letter),
        cmocka_unit_test(every_page_has_its_number_and_the_name),
        cmocka_unit_test(the_same_job_gives_the_same_bytes),
        cmocka_unit_test(the_rule_is_100_mm),
        cmocka_unit_test(every_rope_is_numbered_once_in_the_section),
        cmocka_unit_test(a_log_of_300_ropes_is_drawn_whole),
        cmocka_unit_test(a_log_of_one_rope_has_no_blocks),
        cmocka_unit_test(hostile_names_are_drawn_and_do_no_harm),
        cmocka_unit_test(eight_candies_are_named_and_told_apart),
        cmocka_unit_test(hatches_differ_without_colour),
        cmocka_unit_test(the_first_page_says_what_to_cook_and_to_beware_of),
        cmocka_unit_test(a_copied_block_says_how_it_is_built),
    };
    return cmocka_run_group_tests_name("draw_bench", tests, NULL, NULL);
}
