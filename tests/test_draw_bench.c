/* Tests of src/draw/draw_bench.c and what it draws with, read back with poppler's tools.
 * SPDX-License-Identifier: MIT */
#include "draw/draw.h"

#include "bench_job.h"
#include "slanted_job.h"
#include "say/bench_words.h"
#include "draw/bench_pages.h"
#include "scratch.h"

#include <cairo-script.h>
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

enum { FILE_NAME = SCRATCH };

/* Draws the job into a file of its own. */
static void save(const Job *job, char name[FILE_NAME]) {
    size_t length = 0;
    char *bytes = draw(job, &length);
    scratch_name(name, "bench");
    int fd = mkstemp(name);
    assert_true(fd >= 0);
    FILE *file = fdopen(fd, "wb");
    assert_int_equal(fwrite(bytes, 1, length, file), length);
    fclose(file);
    free(bytes);
}

/* What the command prints, FILE in it being that file; to be freed. */
static char *ask_file(const char *name, const char *command, size_t *size) {
    char whole[SCRATCH + 400], part[4096], *out = NULL;
    size_t got = 0, room = 0;
    const char *at = strstr(command, "FILE");
    (void)snprintf(whole, sizeof whole, "%.*s'%s'%s", (int)(at - command), command, name, at + 4);
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

/* Page `page` (1..) of what pdftotext printed, cut out of it and ended. */
static char *page_of(char *text, int page) {
    for (; page > 1; page--) {
        text = strchr(text, '\f');
        assert_non_null(text);
        text++;
    }
    char *end = strchr(text, '\f');
    if (end) *end = 0;
    return text;
}

/* The section's page is the second unless the first flows over. */
static char *ask_section(const char *file, const char *tool, const char *rest, size_t *size) {
    char command[200], *text = ask_file(file, "pdftotext FILE -", NULL);
    int page = 1;
    char *at = strstr(text, "The log: face end");
    assert_non_null(at);
    for (const char *c = text; c < at; c++) page += *c == '\f';
    free(text);
    (void)snprintf(command, sizeof command, "%s -f %d -l %d FILE %s", tool, page, page, rest);
    return ask_file(file, command, size);
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
        char foot[40], *text = ask_file(name, "pdftotext -layout FILE -", NULL), *page = page_of(text, i);
        (void)snprintf(foot, sizeof foot, "page %d of %d", i, pages);
        has(page, foot);
        has(page, "the night ferry");
        free(text);
    }
    unlink(name);
    bench_free(&b);
}

static void the_date_is_there_only_if_asked_for(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 44, 1, motif_plain, DETAIL_NORMAL, NULL));
    char *text = ask(&b.job, "pdftotext FILE -", NULL);
    assert_int_equal(occurrences(text, "2026"), 0);
    free(text);
    strcpy(b.job.order.date, "2026-06-01");
    text = ask(&b.job, "pdftotext FILE -", NULL);
    assert_int_equal(occurrences(text, "Bench sheets, 2026-06-01"), 1);
    free(text);
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

static cairo_status_t write_script(void *file, const unsigned char *data, unsigned length) {
    fwrite(data, 1, length, file);
    return CAIRO_STATUS_SUCCESS;
}

/* pdftotext breaks up words that are neither level nor upright, so the section is drawn as cairo's script,
 * where each text stands whole. */
static void check_numbers(const Job *job) {
    char *script = NULL, want[64], number[32];
    size_t size = 0;
    Err err = {0};
    FILE *file = open_memstream(&script, &size);
    cairo_device_t *device = cairo_script_create_for_stream(write_script, file);
    cairo_surface_t *surface = cairo_script_surface_create(device, CAIRO_CONTENT_COLOR, 600, 600);
    cairo_t *cr = cairo_create(surface);
    assert_true(section_draw(cr, job, 300, 300, PT_PER_MM, &err));
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
    cairo_device_destroy(device);
    fclose(file);
    for (int i = 0; i < job->layup.ropes; i++) {
        rope_number(&job->layup.rope[i], number);
        (void)snprintf(want, sizeof want, "(%s) [", number);
        int times = occurrences(script, want);
        if (times != 1) fail_msg("%s is there %d times", number, times);
    }
    free(script);
}

/* The height that pdftotext gives a word is that of its type times a constant of the face: 1.164 in DejaVu
 * Sans. */
static double type_of(const char *words, const char *number) {
    char want[64];
    (void)snprintf(want, sizeof want, ">%s</word>", number);
    const char *at = strstr(words, want);
    assert_non_null(at);
    while (strncmp(at, "yMin=", 5) != 0) at--;
    double top = strtod(at + 6, NULL), left = 0, right = 0;
    const char *low = strstr(at, "yMax=");
    while (strncmp(at, "xMin=", 5) != 0) at--;
    left = strtod(at + 6, NULL);
    right = strtod(strstr(at, "xMax=") + 6, NULL);
    double high = strtod(low + 6, NULL) - top, wide = right - left;
    return fmin(high, wide < high ? wide : high) / 1.164;
}

/* Is its outline within so many steps each way? */
static bool fits_a_square(const Rope *rope, double steps) {
    for (int i = 1; i < rope->outline.corners; i++)
        for (int k = 0; k < i; k++) {
            Point a = rope->outline.corner[i], b = rope->outline.corner[k];
            if (fabs(a.x - b.x) > steps || fabs(a.y - b.y) > steps) return false;
        }
    return true;
}

/* Squares of the least strip, by turns. */
static int motif_checker(int x, int y, int n) {
    int u = (x - n / 3) / 4, v = (y - n / 3) / 4;
    if (x < n / 3 || y < n / 3 || u > 3 || v > 3) return 0;
    return 1 + (u + v) % 2;
}

/* Thin ropes' numbers stand beside the log, so that none is set in less than 9 pt. */
static void no_number_of_the_section_is_small(void **state) {
    (void)state;
    BenchJob b;
    char name[FILE_NAME], number[32];
    assert_true(bench_build(&b, 48, 3, motif_checker, DETAIL_FINE, NULL));
    int thin = 0;
    save(&b.job, name);
    char *words = ask_section(name, "pdftotext -bbox", "-", NULL);
    unlink(name);
    for (int i = 0; i < b.job.layup.ropes; i++) {
        const Rope *rope = &b.job.layup.rope[i];
        if (rope->trim) continue;
        rope_number(rope, number);
        thin += fits_a_square(rope, 4);
        if (type_of(words, number) < 8.9) fail_msg("%s is set in %.1f pt", number, type_of(words, number));
    }
    assert_true(thin >= 8);
    free(words);
    bench_free(&b);
}

/* Is all dark within 1.2 pt of the point? `data` has 4 px a pt. */
static bool is_a_dot(cairo_surface_t *surface, double x, double y) {
    const unsigned char *data = cairo_image_surface_get_data(surface);
    int row = cairo_image_surface_get_stride(surface), cx = (int)lround(4 * x), cy = (int)lround(4 * y);
    for (int dy = -5; dy <= 5; dy++)
        for (int dx = -5; dx <= 5; dx++)
            if (dx * dx + dy * dy < 25 && data[(cy + dy) * row + 4 * (cx + dx) + 1] > 60) return false;
    return true;
}

/* Drawn by itself, where its middle is known. */
static void the_leads_of_small_numbers_end_in_their_ropes(void **state) {
    (void)state;
    BenchJob b;
    Err err = {0};
    int led = 0, side = 400;
    assert_true(bench_build(&b, 48, 3, motif_checker, DETAIL_FINE, NULL));
    const Job *job = &b.job;
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, side * 4, side * 4);
    cairo_t *cr = cairo_create(surface);
    cairo_scale(cr, 4, 4);
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_paint(cr);
    assert_true(section_draw(cr, job, side / 2.0, side / 2.0, PT_PER_MM, &err));
    cairo_surface_flush(surface);
    for (int i = 0; i < job->layup.ropes; i++) {
        const Rope *rope = &job->layup.rope[i];
        const Point *corner = rope->outline.corner;
        if (!fits_a_square(rope, 4) || rope->rim || outline_shape(&rope->outline) != SHAPE_STRIP) continue;
        double step = job->cane.step_mm * PT_PER_MM, middle = side / 2.0 - job->grid.core.r * step;
        if (!is_a_dot(surface, middle + (corner[0].x + corner[2].x) / 2 * step,
                      middle + (corner[0].y + corner[2].y) / 2 * step))
            fail_msg("%d.%d", rope->type + 1, rope->serial);
        led++;
    }
    assert_true(led >= 8);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
    bench_free(&b);
}

static void every_rope_is_numbered_once_in_the_section(void **state) {
    (void)state;
    Motif *const motifs[] = {motif_plain, motif_blob, motif_table};
    for (int m = 0; m < 3; m++) {
        BenchJob b;
        assert_true(bench_build(&b, 52, 3, motifs[m], DETAIL_FINE, NULL));
        check_numbers(&b.job);
        bench_free(&b);
    }
}

static void a_log_of_300_ropes_is_drawn_whole(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build_squares(&b, 20, 8, motif_squares));
    assert_true(b.job.layup.ropes >= 300);
    char name[FILE_NAME];
    save(&b.job, name);
    check_numbers(&b.job);
    char *text = ask_file(name, "pdftotext -layout FILE -", NULL), last[64];
    int pages = count_pages(name), pulls = 0;
    unlink(name);
    (void)snprintf(last, sizeof last, "page %d of %d", pages, pages);
    has(text, last);
    char *list = strstr(text, "Ropes to pull\n"), *at = list;
    assert_non_null(list);
    while ((at = strstr(at + 1, "x)")))
        pulls += at[-1] >= '0' && at[-1] <= '9'; /* each says how far to draw */
    assert_int_equal(pulls, b.job.bill.pulls);
    free(text);
    bench_free(&b);
}

/* --- blends --- */

/* Told where the ropes of the blend are, and where its sheets are; enough for all of them. */
static void a_blend_is_folded_before_its_ropes_and_sheets(void **state) {
    (void)state;
    BenchJob b;
    Job *j = &b.job;
    Err err = {0};
    bench_start(&b, 44, 2, motif_blob, NULL);
    const Candy *of[] = {&b.shop.stock.candy[12], &b.shop.stock.candy[0]};
    assert_true(blend_make(of, (const int[]){1, 2}, "", "", &j->palette.candy[1], &err));
    j->palette.jacket[0] = j->palette.candy[1];
    assert_true(lay_up(&j->grid, &j->cane.key, &j->layup, &err) && bench_finish(&b));
    const BlendRow *row = &j->bill.blend[0];
    assert_int_equal(j->bill.blends, 1);
    assert_true(fabs(row->part_g[0] + row->part_g[1] - row->whole.with_spare_g) < 1e-9);
    double needed = 0;
    for (int i = 0; i < j->bill.pulls; i++)
        if (j->bill.rope[j->bill.pull[i].type].candy == 1)
            needed += j->bill.pull[i].times * j->bill.pull[i].mass_g;
    for (int i = 0; i < j->bill.wraps; i++)
        if (blend_same(&j->bill.wrap[i].candy, &row->whole.candy)) needed += j->bill.wrap[i].mass_g;
    assert_true(needed > 0 && needed < row->whole.with_spare_g);
    assert_true(fabs(needed * 1.05 / row->whole.with_spare_g - 1) < 0.02);
    char *text = ask(j, "pdftotext -layout FILE -", NULL), *list = strstr(text, "Ropes to pull\n");
    has(text, " to violet+2white, 3 times (habit).");
    assert_non_null(list);
    char *head = strstr(list, "violet+2white, pulled, folded"), *sheets = strstr(list, "Sheets to roll");
    assert_non_null(head);
    assert_non_null(sheets);
    char *fold = strstr(head, "Fold "), *again = strstr(sheets, "Fold ");
    assert_true(fold && fold < sheets && again);
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
            assert_int_not_equal(hatch_of(&b.job, &b.job.palette.candy[i]),
                                 hatch_of(&b.job, &b.job.palette.candy[k]));
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

/* --- the first page --- */

typedef struct Crowd {
    int candies, logs, checks;
    Units units;
    double altitude_m, candy_kg_price;
} Crowd;

/* Page 2 begins with the log's section, so all of the first sheet is on page 1. The last is as much as it
 * holds. */
/* A check whose advice is as long as it usually gets: a hole left out (part 0), or larger pieces. */
static Check gap_with_two_ways(void) {
    Check check = {CHECK_GAP, 0.3, 0.8, true, VERDICT_CHANGE, .ways = 2};
    check.way[0] = (Way){.change = {.without = 1}, .mends = true, .whole = VERDICT_CHANGE};
    check.way[1] = (Way){.change = {.diameter_mm = 17}, .mends = true, .whole = VERDICT_CHANGE};
    return check;
}

static void the_first_sheet_is_one_page_however_much_it_says(void **state) {
    (void)state;
    static const Crowd crowd[] = {{3, 1, 0, UNITS_MM, 0, 0},     {3, 2, 3, UNITS_MM, 0, 0},
                                  {3, 7, 4, UNITS_IN, 1500, 0},  {3, 7, 4, UNITS_IN, 1500, 6.5},
                                  {8, 1, 3, UNITS_MM, 0, 0},     {8, 2, 3, UNITS_MM, 1500, 6.5},
                                  {5, 7, 3, UNITS_IN, 1500, 6.5}};
    for (size_t i = 0; i < sizeof crowd / sizeof *crowd; i++) {
        BenchJob b;
        const Crowd *c = &crowd[i];
        bool many = c->candies > 3;
        assert_true(bench_build(&b, many ? 44 : 64, c->candies, many ? motif_squares : motif_table,
                                DETAIL_NORMAL, NULL));
        b.job.order.units = c->units;
        b.job.cane.logs = c->logs;
        b.shop.altitude_m = c->altitude_m;
        b.shop.price_candy_kg = c->candy_kg_price;
        b.shop.kettle_g = 3500;
        b.job.judgement.verdict = c->checks ? VERDICT_CHANGE : VERDICT_GO;
        b.job.judgement.checks = c->checks;
        for (int k = 0; k < c->checks; k++) b.job.judgement.check[k] = gap_with_two_ways();
        cook(&b.job.cane, &b.job.bill, &b.shop, &b.job.recipe);
        char *text = ask(&b.job, "pdftotext -layout FILE -", NULL), *second = strchr(text, '\f');
        assert_non_null(second);
        if (!strstr(page_of(second + 1, 1), "The log: face end"))
            fail_msg("case %d flows over: %.40s", (int)i, second + 1);
        *second = 0;
        has(text, "Cautions");
        has(text, "11 Chop");
        free(text);
        bench_free(&b);
    }
}

/* --- what the pages say --- */

static void the_first_page_says_what_to_cook_and_to_beware_of(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 56, 3, motif_blob, DETAIL_NORMAL, NULL));
    b.job.judgement.verdict = VERDICT_CHANGE;
    b.job.judgement.checks = 2;
    b.job.judgement.check[0] = (Check){CHECK_LIKENESS, 0.74, 0.8, true, VERDICT_CHANGE, .ways = 1};
    b.job.judgement.check[0].way[0] =
        (Way){.change = {.diameter_mm = 18}, .mends = true, .whole = VERDICT_CHANGE};
    b.job.judgement.check[1] = (Check){CHECK_MASS, 4, 12, false, VERDICT_GO, .standing = STANDING_OURS};
    char *text = ask(&b.job, "pdftotext -layout -f 1 -l 1 FILE -", NULL);
    static const char *const want[] = {"CHANGE",
                                       "1 000 pieces of 16 x 14 mm",
                                       "CUT A TEST SLICE AND READ IT",
                                       "gloves",
                                       "running water for 20",
                                       "choking",
                                       "owner's written permission",
                                       "likeness 0.74 of 1, at least 0.8 wanted; in pieces of 18 mm",
                                       "308 mm long",
                                       "to lay up and wrap",
                                       "cream, pulled"};
    for (size_t i = 0; i < sizeof want / sizeof *want; i++) has(text, want[i]);
    assert_null(strstr(text, "log mass"));
    free(text);
    bench_free(&b);
}

/* Is there a line in the text with all three? */
static bool has_line(const char *text, const char *one, const char *two, const char *three) {
    for (const char *line = text; *line; line += strcspn(line, "\n"), line += *line == '\n') {
        char copy[512];
        (void)snprintf(copy, sizeof copy, "%.*s ", (int)strcspn(line, "\n"), line);
        if (strstr(copy, one) && strstr(copy, two) && strstr(copy, three)) return true;
    }
    return false;
}

static void the_day_and_the_ropes_by_need_leave_nothing_out(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 56, 3, motif_blob, DETAIL_NORMAL, NULL));
    const Job *job = &b.job;
    char *text = ask(&b.job, "pdftotext -layout FILE -", NULL), rope[32], block[32], candy[64];
    char *day = strstr(text, "The day: minutes"), *needed = strstr(text, "Ropes in the order"),
         *end = strstr(text, "Blocks in build order");
    assert_true(day && needed && end && day < needed && needed < end);
    needed[-1] = *end = 0;
    int ropes = 0;
    for (int k = 0; k < job->blocks.blocks; k++) {
        const Block *it = &job->blocks.block[k];
        (void)snprintf(block, sizeof block, "block %d ", k + 1);
        (void)snprintf(rope, sizeof rope, "block %d", k + 1);
        if (!strstr(day, rope)) fail_msg("%s is not in:\n%s", rope, day);
        for (int i = it->first_item; i < it->first_item + it->items; i++) {
            const Item *item = &job->blocks.item[i];
            const Rope *of = item->is_block ? NULL : &job->layup.rope[item->index];
            if (!of || of->type < 0) continue;
            (void)snprintf(rope, sizeof rope, " %d.%d ", of->type + 1, of->serial);
            (void)snprintf(candy, sizeof candy, " %s ", job->palette.candy[of->candy].name);
            if (!has_line(needed, rope, block, candy))
                fail_msg("%s%s%s is not in:\n%s", rope, block, candy, needed);
            ropes += it->builds;
        }
    }
    assert_int_equal(ropes, job->bill.ropes_made);
    has(day, "chop, cool, pack");
    has(day, "TEST SLICE");
    has(end + 1, "min ");
    free(text);
    bench_free(&b);
}

static void the_first_page_says_what_goes_into_the_kettle(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 56, 3, motif_blob, DETAIL_NORMAL, NULL));
    b.shop.flavour_share = 0.01;
    cook(&b.job.cane, &b.job.bill, &b.shop, &b.job.recipe);
    char *text = ask(&b.job, "pdftotext -layout FILE -", NULL), *first = page_of(text, 1), flavour[32],
         candy[32];
    (void)snprintf(flavour, sizeof flavour, "%.1f g", b.job.recipe.whole.flavour_g);
    mass_print(candy, sizeof candy, b.job.recipe.whole.candy_g, UNITS_MM);
    static const char *const want[] = {"sugar",
                                       "syrup",
                                       "water",
                                       "flavour",
                                       "one boiling of",
                                       "3 coloured batches",
                                       "cook to 149 °C (300 °F)",
                                       "(published)",
                                       "(habit)",
                                       "to the kilogram"};
    for (size_t i = 0; i < sizeof want / sizeof *want; i++) has(first, want[i]);
    has(first, flavour);
    has(first, candy);
    assert_null(strstr(first, "acid"));
    free(text);
    bench_free(&b);
}

static void the_ropes_say_how_long_they_stay_warm(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 56, 3, motif_table, DETAIL_NORMAL, NULL));
    char *text = ask(&b.job, "pdftotext -layout FILE -", NULL), line[64];
    has(text, "out of the warm box");
    has(text, "; the log ");
    for (int i = 0; i < b.job.heat.pulls; i++) {
        minutes_print(line, sizeof line, b.job.heat.pull[i].seconds);
        has(text, line);
    }
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
    for (char *c = text; *c; c++)
        if (*c == '\n') *c = ' ';
    assert_int_equal(occurrences(text, "build it once"), copied);
    has(text, "end for end");
    free(text);
    bench_free(&b);
}

/* Block 1 goes twice into block 2, which is drawn out twice as thick, and once into block 3 as in the log. */
static void pieces_are_cut_as_thick_as_they_are_needed(void **state) {
    (void)state;
    BenchJob b = {0};
    BlockWords words;
    Item item[] = {{.is_block = true, .index = 0},
                   {.is_block = true, .index = 0, .motion.way = {true, 0}},
                   {.is_block = true, .index = 1},
                   {.is_block = true, .index = 0, .motion.way = {false, 2}}};
    Block block[] = {
        {.kind = BLOCK_ROW,
         .high = {8, 4},
         .way = BUILD_THICKER,
         .builds = 1,
         .pieces = 3,
         .scale = 3,
         .length_mm = 118.75,
         .mirrored_risk = true,
         .turned_risk = true},
        {.kind = BLOCK_ROW,
         .first_item = 0,
         .items = 2,
         .way = BUILD_FINE,
         .builds = 1,
         .pieces = 1,
         .scale = 2,
         .length_mm = 80,
         .high = {16, 4},
         .turned_risk = true},
        {.kind = BLOCK_STACK, .first_item = 2, .items = 2, .builds = 1, .scale = 1, .length_mm = 300}};
    b.shop = shop_default();
    b.job.shop = &b.shop;
    b.job.cane.step_mm = 1.5;
    b.job.blocks = (Blocks){.blocks = 3, .block = block, .items = 4, .item = item};
    block_words(&b.job, 0, &words);
    assert_string_equal(words.line[0], "ONE WAY ONLY");
    /* 2 x 80 x 4 + 300 = 940 of 118.75 x 9 = 1068.75: 12 % lost; 160 / 0.8795 = 182, 300 / 0.8795 = 341 */
    assert_string_equal(words.line[1],
                        "x3: build it once at 36 x 18 mm, 119 mm long; draw it out to 24 x 12 mm, "
                        "182 mm long; square the ends; cut and nick 2 pieces of 80 mm; draw the rest "
                        "out to 12 x 6 mm, 341 mm long; square the ends; cut and nick a piece of "
                        "300 mm.");
    assert_string_equal(words.line[2],
                        "Goes into block 2 as built and end for end; into block 3 a half turn.");
    block_words(&b.job, 1, &words);
    assert_string_equal(words.line[0], "NICK UP");
    assert_string_equal(words.line[1],
                        "Fine block: build it once at 48 x 12 mm, 80 mm long; draw it out to "
                        "24 x 6 mm, 320 mm long; square the ends; cut and nick a piece of 300 mm.");
    b.job.order.units = UNITS_IN;
    block_words(&b.job, 1, &words);
    assert_string_equal(words.line[1],
                        "Fine block: build it once at 1 7/8 x 15/32 in, 3 5/32 in long; draw it out to "
                        "15/16 x 1/4 in, 12 19/32 in long; square the ends; cut and nick a piece of "
                        "11 13/16 in.");
}

/* Of the same type 30 x 9 mm: one lies, one stands; one has all but 3 steps of its width beyond the rim. */
static void sizes_are_width_by_height_as_drawn(void **state) {
    (void)state;
    BenchJob b = {0};
    Rope rope[] = {{.outline = outline_of_box(10, 10, 20, 6)},
                   {.outline = outline_of_box(10, 10, 6, 20)},
                   {.outline = outline_of_box(-7, 10, 10, 20), .rim = true, .type = 1},
                   {.trim = true}};
    RopeRow row[] = {{.section = {4, {{0, 9}, {0, 0}, {30, 0}, {30, 9}}}},
                     {.section = {4, {{0, 4.1}, {0, 0}, {28.8, 0}, {28.8, 4.1}}}, .rim = true}};
    Item item[] = {{.index = 0},
                   {.index = 1},
                   {.index = 2},
                   {.index = 3},
                   {.is_block = true, .index = 0, .motion.way = {true, 1}}};
    static const char *const want[] = {"60 x 18", "18 x 60", "57.6 x 8.2 rim", "a trim", "12 x 24"};
    Block block[] = {{.high = {8, 4}, .scale = 1}, {.scale = 2}};
    b.job.cane.step_mm = 1.5;
    b.job.grid.core = (Circle){20, 20, 20};
    b.job.layup = (LayUp){.ropes = 4, .rope = rope};
    b.job.bill.rope = row;
    b.job.blocks = (Blocks){.blocks = 2, .block = block};
    for (size_t i = 0; i < sizeof item / sizeof *item; i++) {
        char size[ROPE_SIZE];
        const char *way;
        item_words(&b.job, &block[1], &item[i], size, &way);
        assert_string_equal(size, want[i]);
        assert_string_equal(way, item[i].is_block ? "end for end, then a quarter turn right" : "");
    }
}

/* Each pull of a slanted rope is drawn and told once; whatever is at the bench is a length. */
static void slanted_ropes_say_how_they_are_formed(void **state) {
    (void)state;
    BenchJob b;
    assert_true(slanted_build(&b, 48, slanted_crescent));
    char *text = ask(&b.job, "pdftotext -raw FILE -", NULL);
    for (char *c = text; *c; c++)
        if (*c == '\n') *c = ' ';
    int slanted = 0;
    for (int i = 0; i < b.job.bill.pulls; i++)
        slanted += rope_kind(&b.job.bill.rope[b.job.bill.pull[i].type]) == KIND_SLANTED;
    assert_true(slanted >= 3);
    assert_int_equal(occurrences(text, "from a square rope of"), slanted);
    has(text, "how far along its side a join ends");
    assert_int_equal(occurrences(text, "angle") + occurrences(text, "degree"), 0);
    free(text);
    bench_free(&b);
}

static void rim_ropes_are_drawn_as_they_lie(void **state) {
    (void)state;
    BenchJob b;
    assert_true(slanted_build(&b, 48, slanted_crescent));
    char *text = ask(&b.job, "pdftotext -raw FILE -", NULL), mean[ROPE_LINE];
    for (char *c = text; *c; c++)
        if (*c == '\n') *c = ' ';
    int rims = 0;
    for (int i = 0; i < b.job.bill.pulls; i++) {
        const RopeRow *row = &b.job.bill.rope[b.job.bill.pull[i].type];
        if (!row->rim) continue;
        rims++;
        rim_form_words(row, b.job.bill.pull[i].scale, UNITS_MM, mean);
        has(text, mean);
    }
    assert_true(rims >= 3);
    assert_int_equal(occurrences(text, "flatten a square rope of"), rims);
    free(text);
    bench_free(&b);
}

/* The height of a wide flat section, 11.3 mm, stands at the right of its drawing. */
static void figures_of_a_section_keep_clear_of_its_words(void **state) {
    (void)state;
    const double words_at = 30 + 205; /* pt */
    BenchJob b;
    assert_true(slanted_build(&b, 48, slanted_crescent));
    int type = 0, found = 0;
    while (rope_kind(&b.job.bill.rope[type]) != KIND_SLANTED) type++;
    RopeRow *row = &b.job.bill.rope[type];
    row->section = (Outline){4, {{0, 11.3}, {0.5, 0}, {7.3, 0.1}, {48.2, 11.3}}};
    row->width_mm = 48.2;
    row->height_mm = 11.3;
    row->shape = SHAPE_TAPERED;
    for (int i = 0; i < b.job.bill.pulls; i++) b.job.bill.pull[i].scale = 1;
    char *text = ask(&b.job, "pdftotext -bbox FILE -", NULL);
    for (char *at = strstr(text, "<word "); at; at = strstr(at + 1, "<word ")) {
        const char *low = strstr(at, "xMin=\""), *high = strstr(at, "xMax=\""), *word = strchr(at, '>');
        assert_true(low && high && word);
        if (strncmp(word, ">11.3<", 6) != 0 || strtod(low + 6, NULL) >= words_at) continue;
        assert_true(strtod(high + 6, NULL) < words_at - 4);
        found++;
    }
    assert_true(found > 0);
    free(text);
    bench_free(&b);
}

/* In a column that no word fits, each stands on a line of its own. */
static void lines_are_broken_neither_in_numbers_nor_before_units(void **state) {
    (void)state;
    static const char *const text =
        "build it at 1 11/32 x 2 5/32 in, 1 500 mm long, to 300 \302\260F; cut 2 pieces";
    cairo_surface_t *surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR, NULL);
    cairo_t *cr = cairo_create(surface);
    double one = type_height(cr, 14, false, 1e4, text);
    /* build|it|at|1 11/32|x|2 5/32 in,|1 500 mm|long,|to|300 F;|cut|2|pieces */
    assert_true(fabs(type_height(cr, 14, false, 10, text) - 13 * one) < 1e-6);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
}

/* Fractions take the most room; at two metres 12 pt is the least that is read. */
static void fractions_of_an_inch_are_set_in_12_pt_at_least(void **state) {
    (void)state;
    BenchJob b;
    assert_true(bench_build(&b, 64, 3, motif_table, DETAIL_NORMAL, NULL));
    b.job.order.units = UNITS_IN;
    char *words = ask(&b.job, "pdftotext -f 2 -bbox FILE -", NULL);
    int fractions = 0;
    for (char *at = strstr(words, "<word"); at; at = strstr(at + 1, "<word")) {
        double top = strtod(strstr(at, "yMin=") + 6, NULL), low = strtod(strstr(at, "yMax=") + 6, NULL);
        char *text = strchr(at, '>') + 1, *end = strstr(text, "</word");
        *end = 0;
        if (strchr(text, '/')) {
            double type = (low - top) / 1.164;
            fractions++;
            if (type < 11.9) fail_msg("%s is set in %.1f pt", text, type);
        }
        *end = '<';
    }
    assert_true(fractions > 50);
    free(words);
    bench_free(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_page_is_a4_or_us_letter),
        cmocka_unit_test(every_page_has_its_number_and_the_name),
        cmocka_unit_test(the_date_is_there_only_if_asked_for),
        cmocka_unit_test(the_same_job_gives_the_same_bytes),
        cmocka_unit_test(the_rule_is_100_mm),
        cmocka_unit_test(every_rope_is_numbered_once_in_the_section),
        cmocka_unit_test(no_number_of_the_section_is_small),
        cmocka_unit_test(the_leads_of_small_numbers_end_in_their_ropes),
        cmocka_unit_test(a_log_of_300_ropes_is_drawn_whole),
        cmocka_unit_test(a_log_of_one_rope_has_no_blocks),
        cmocka_unit_test(hostile_names_are_drawn_and_do_no_harm),
        cmocka_unit_test(a_blend_is_folded_before_its_ropes_and_sheets),
        cmocka_unit_test(eight_candies_are_named_and_told_apart),
        cmocka_unit_test(hatches_differ_without_colour),
        cmocka_unit_test(the_first_sheet_is_one_page_however_much_it_says),
        cmocka_unit_test(the_day_and_the_ropes_by_need_leave_nothing_out),
        cmocka_unit_test(the_first_page_says_what_to_cook_and_to_beware_of),
        cmocka_unit_test(the_first_page_says_what_goes_into_the_kettle),
        cmocka_unit_test(the_ropes_say_how_long_they_stay_warm),
        cmocka_unit_test(a_copied_block_says_how_it_is_built),
        cmocka_unit_test(pieces_are_cut_as_thick_as_they_are_needed),
        cmocka_unit_test(sizes_are_width_by_height_as_drawn),
        cmocka_unit_test(slanted_ropes_say_how_they_are_formed),
        cmocka_unit_test(rim_ropes_are_drawn_as_they_lie),
        cmocka_unit_test(figures_of_a_section_keep_clear_of_its_words),
        cmocka_unit_test(lines_are_broken_neither_in_numbers_nor_before_units),
        cmocka_unit_test(fractions_of_an_inch_are_set_in_12_pt_at_least),
    };
    return cmocka_run_group_tests_name("draw_bench", tests, NULL, NULL);
}
