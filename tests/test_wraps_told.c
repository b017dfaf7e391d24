/* Tests of what text, lists and sheets tell of wraps and round ropes. SPDX-License-Identifier: MIT */
#include "wrapped_job.h"

#include "draw/bench_pages.h"
#include "draw/canvas.h"
#include "draw/cut_end.h"
#include "draw/draw.h"
#include "say/bench_words.h"
#include "scratch.h"
#include "write/files.h"
#include "write/write.h"

#include <cjson/cJSON.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <unistd.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

static void has(const char *text, const char *what) {
    if (!strstr(text, what)) fail_msg("no '%s' in '%s'", what, text);
}

static char *print(const Job *job, bool (*write)(const Job *, FILE *, Err *)) {
    char *text = NULL;
    size_t size = 0;
    Err err = {0};
    FILE *file = open_memstream(&text, &size);
    assert_true(write(job, file, &err));
    fclose(file);
    return text;
}

/* The text of the bench sheets; to be freed. */
static char *sheets(const Job *job) {
    char name[SCRATCH], command[SCRATCH + 100], *text = NULL, part[4096];
    size_t size = 0, got;
    Err err = {0};
    scratch_name(name, "wraps");
    int fd = mkstemp(name);
    assert_true(fd >= 0);
    FILE *file = fdopen(fd, "wb");
    Job faced = *job; /* the sheets show the finished cut */
    wj_face(&faced);
    assert_true(draw_bench(&faced, file, &err));
    face_free(&faced.face);
    fclose(file);
    (void)snprintf(command, sizeof command, "pdftotext -layout '%s' - | tr -s ' \\n' '  '", name);
    FILE *pipe = popen(command, "r"); /* NOLINT: the command is the test's own */
    file = open_memstream(&text, &size);
    while ((got = fread(part, 1, sizeof part, pipe)) > 0) fwrite(part, 1, got, file);
    fclose(file);
    assert_int_equal(pclose(pipe), 0);
    unlink(name);
    return text;
}

/* --- words --- */

static void a_card_says_how_its_block_is_wrapped(void **state) {
    (void)state;
    WrappedJob w;
    char words[ROPE_LINE], kind[32], size[96];
    assert_true(wrapped_build(&w));
    Job *job = &w.bench.job;
    const Block *block = job->blocks.block;
    block_wrap_words(job, &block[WJ_WRAPPED], 0, words);
    assert_string_equal(words, "wrap 3 mm cream, 120 mm round");
    block_wrap_words(job, &block[WJ_TWICE], 0, words);
    assert_string_equal(words, "wrap 3 mm white, 66 mm round");
    block_wrap_words(job, &block[WJ_TWICE], 1, words);
    assert_string_equal(words, "wrap 3 mm cream, 85 mm round");
    block_wrap_words(job, &block[WJ_FINE_WRAPPED], 0, words);
    assert_string_equal(words, "wrap 3 mm white, 120 mm round");
    block_kind_words(&block[WJ_TWICE], kind);
    assert_string_equal(kind, "in two sheets");
    block_size_print(job, &block[WJ_TWICE], false, 1, size);
    assert_string_equal(size, "30 mm across");
    job->order.units = UNITS_IN;
    block_wrap_words(job, &block[WJ_WRAPPED], 0, words);
    assert_string_equal(words, "wrap 1/8 in cream, 4 23/32 in round");
    block_size_print(job, &block[WJ_TWICE], false, 1, size);
    assert_string_equal(size, "1 3/16 in across");
    wrapped_free(&w);
}

static void items_of_round_blocks_are_told_by_their_diameter_and_mass(void **state) {
    (void)state;
    WrappedJob w;
    char size[ROPE_SIZE];
    const char *way;
    assert_true(wrapped_build(&w));
    Job *job = &w.bench.job;
    const Block *twice = &job->blocks.block[WJ_TWICE], *round = &job->blocks.block[WJ_ROUND];
    item_words(job, twice, &job->blocks.item[twice->first_item], size, &way);
    assert_string_equal(size, "18 across");
    item_words(job, round, &job->blocks.item[round->first_item], size, &way);
    assert_string_equal(size, "30 across");
    item_words(job, round, &(Item){.index = round->rest}, size, &way);
    assert_string_equal(size, "236 g, pressed in round it"); /* (576 - 100 pi) 2.25 mm^2 * 308 mm * 1.3 */
    job->order.units = UNITS_IN;
    item_words(job, round, &job->blocks.item[round->first_item], size, &way);
    assert_string_equal(size, "1 3/16 across");
    wrapped_free(&w);
}

static void the_text_lists_what_is_wrapped_and_pressed_in(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    char *text = print(&w.bench.job, write_text);
    has(text, "5 wraps, 12 blocks");
    has(text, "wrap 3 mm cream, 120 mm round, 308 mm long: block 3\n");
    has(text, "wrap 3 mm white, 66 mm round, 308 mm long: block 4\n");
    has(text, "wrap 4.2 mm cream, 68 mm round, 350 mm long: block 1\n");
    has(text, "rest t1: 236 g, pressed in soft for block 5\n");
    has(text, "18 mm round ropes: ");
    assert_null(strstr(text, "trim"));
    free(text);
    wrapped_free(&w);
}

static void sheets_tell_each_wrap_and_the_round_rope(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    char *text = sheets(&w.bench.job);
    has(text, "in two sheets, 308 mm long");
    has(text, "round in its rest, 308 mm long");
    has(text, "a trim or a rest");
    has(text, "18 across");
    has(text, "wrap, cream");
    has(text, "120 x 308 mm");
    has(text, "1 sheet, 144 g, block 3");
    has(text, "rest t1: 236 g, pressed in soft for block 5");
    has(text, "WRAP");
    has(text, "REST");
    free(text);
    wrapped_free(&w);
}

static void a_rest_is_told_with_the_numbers_of_its_copies(void **state) {
    (void)state;
    WrappedJob w;
    char words[ROPE_LINE];
    const WrapRow *row = NULL;
    assert_true(wrapped_build(&w));
    Job *job = &w.bench.job;
    const BlockUse copy = {WJ_ROUND, {.way = {true, 1}, .shift = {100, 3}}};
    Rope *rope = &job->layup.rope[job->layup.ropes++];
    assert_true(job->layup.ropes <= WJ_ROPES);
    *rope = job->layup.rope[job->blocks.block[WJ_ROUND].rest];
    rope->outline = outline_moved(&rope->outline, copy.motion);
    rope->serial = 2;
    job->blocks.use[job->blocks.uses++] = copy;
    for (int i = 0; i < job->bill.wraps; i++)
        if (job->bill.wrap[i].kind == WRAP_REST) row = &job->bill.wrap[i];
    assert_non_null(row);
    rest_words(job, row, words);
    assert_string_equal(words, "rest t1, t2: 236 g, pressed in soft for block 5");
    wrapped_free(&w);
}

/* The disc of 20 steps lies 2 from the left and 2 from the top of its block: 3 mm. */
static void a_round_card_says_how_far_in_the_rope_stands(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    Figures *figures = calloc(1, sizeof *figures);
    assert_non_null(figures);
    cut_figures(&w.bench.job, &w.bench.job.blocks.block[WJ_ROUND], 5, figures);
    assert_int_equal(figures->count, 2);
    for (int i = 0; i < 2; i++) assert_string_equal(figures->figure[i].text, "3");
    free(figures);
    wrapped_free(&w);
}

/* --- lists --- */

static void the_lists_have_a_row_for_each_sheet_and_rest(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    char *text = print(&w.bench.job, write_wraps);
    has(text, "\r\nrest,grey,1,0.00,0.0,308.0,235.9,235.9,5\r\n");
    has(text, "\r\nwrap,cream,1,3.00,120.0,308.0,144.1,144.1,3\r\n");
    has(text, "\r\nwrap,white,1,3.00,120.0,87.5,36.0,40.9,7\r\n");
    free(text);
    text = print(&w.bench.job, write_ropes);
    has(text, ",black,round,18.00,18.00,,,,,,,,no,1,308.0,0.31,101.9,1,4\r\n");
    free(text);
    wrapped_free(&w);
}

/* --- painted from job.json alone --- */

/* To the right of the way from corner to corner, all round? */
static bool json_holds(const cJSON *outline, Point p) {
    int corners = cJSON_GetArraySize(outline);
    for (int i = 0; i < corners; i++) {
        const cJSON *a = cJSON_GetArrayItem(outline, i), *b = cJSON_GetArrayItem(outline, (i + 1) % corners);
        double ax = a->child->valuedouble, ay = a->child->next->valuedouble;
        double bx = b->child->valuedouble, by = b->child->next->valuedouble;
        if ((bx - ax) * (p.y - ay) - (by - ay) * (p.x - ax) < 0) return false;
    }
    return true;
}

static bool json_true(const cJSON *object, const char *key) {
    return cJSON_IsTrue(cJSON_GetObjectItem(object, key));
}

static bool json_has(const cJSON *object, const char *key, Point p) {
    return json_holds(cJSON_GetObjectItem(object, key), p);
}

/* As docs/formats.md says. */
static const char *json_paint(const cJSON *layup, Point p) {
    const cJSON *ropes = cJSON_GetObjectItem(layup, "ropes_list"), *each, *found = NULL;
    cJSON_ArrayForEach(each, ropes) if (json_true(each, "rest") && json_has(each, "outline", p)) found = each;
    cJSON_ArrayForEach(each, ropes) if (!json_true(each, "rest") && json_has(each, "outline", p)) found =
        each;
    cJSON_ArrayForEach(each, cJSON_GetObjectItem(layup, "wraps_list")) if (json_has(each, "outline", p) &&
                                                                           !json_has(each, "inner", p))
        found = each;
    return found ? cJSON_GetObjectItem(found, "candy")->valuestring : NULL;
}

static cJSON *json_of(const Job *job) {
    char *text = print(job, write_json);
    cJSON *root = cJSON_Parse(text);
    free(text);
    assert_non_null(root);
    return root;
}

static void the_section_can_be_painted_from_the_json_alone(void **state) {
    (void)state;
    WrappedJob w;
    int seen = 0;
    assert_true(wrapped_build(&w));
    const Job *job = &w.bench.job;
    cJSON *root = json_of(job), *layup = cJSON_GetObjectItem(root, "layup");
    for (int j = 0; j < 150; j++)
        for (int i = 0; i < 150; i++) {
            double clear, x = 0.07 + 0.37 * i, y = 0.11 + 0.37 * j;
            int candy = wj_candy(&job->layup, (Point){x, y}, &clear);
            if (clear < 0.025 || hypot(x - 28, y - 28) > 28) continue; /* 48 corners stay so near a circle */
            const char *got = json_paint(layup, (Point){x, y});
            if (!got || strcmp(got, job->palette.candy[candy].name) != 0)
                fail_msg("%s at %.2f %.2f, not %s", got ? got : "nothing", x, y,
                         job->palette.candy[candy].name);
            seen++;
        }
    assert_true(seen > 10000);
    cJSON_Delete(root);
    wrapped_free(&w);
}

/* On sample points. */
static void the_section_from_the_json_is_that_which_is_softened(void **state) {
    (void)state;
    enum { PARTS = 4, SIDE = WJ_STEPS * PARTS };
    static uint8_t painted[SIDE * SIDE];
    WrappedJob w;
    int seen = 0;
    assert_true(wrapped_build(&w));
    const Job *job = &w.bench.job;
    cJSON *root = json_of(job), *layup = cJSON_GetObjectItem(root, "layup");
    layup_paint(&job->layup, PARTS, SIDE, painted);
    for (int i = 0; i < SIDE * SIDE; i++) {
        double clear;
        int x = i % SIDE, y = i / SIDE;
        Point p = {(x + 0.5) / PARTS, (y + 0.5) / PARTS};
        (void)wj_candy(&job->layup, p, &clear);
        if (clear < 0.025 || !disc_holds(job->grid.core, PARTS, x, y)) continue;
        const char *got = json_paint(layup, p);
        assert_non_null(got);
        assert_string_equal(got, job->palette.candy[painted[i]].name);
        seen++;
    }
    assert_true(seen > 30000);
    cJSON_Delete(root);
    wrapped_free(&w);
}

static void blocks_in_the_json_name_their_sheets_and_rest(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    const Job *job = &w.bench.job;
    cJSON *root = json_of(job), *layup = cJSON_GetObjectItem(root, "layup");
    const cJSON *blocks = cJSON_GetObjectItem(layup, "blocks_list"),
                *wraps = cJSON_GetObjectItem(layup, "wraps_list");
    assert_int_equal(cJSON_GetArraySize(wraps), WJ_WRAPS);
    const cJSON *twice = cJSON_GetArrayItem(blocks, WJ_TWICE + 1),
                *round = cJSON_GetArrayItem(blocks, WJ_ROUND + 1);
    assert_string_equal(cJSON_GetObjectItem(twice, "kind")->valuestring, "wrapped");
    assert_true(json_true(twice, "round"));
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(twice, "outline")), DISC_CORNERS);
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(twice, "wraps")), 2);
    assert_string_equal(cJSON_GetObjectItem(round, "kind")->valuestring, "round");
    assert_false(json_true(round, "round"));
    int rest = cJSON_GetObjectItem(round, "rest")->valueint;
    const cJSON *rope = cJSON_GetArrayItem(cJSON_GetObjectItem(layup, "ropes_list"), rest - 1);
    assert_true(json_true(rope, "rest") && json_true(rope, "trim"));
    assert_string_equal(cJSON_GetObjectItem(rope, "number")->valuestring, "t1");
    const int block_of[WJ_WRAPS] = {WJ_SMALL, WJ_SMALL, WJ_WRAPPED, WJ_TWICE, WJ_TWICE, WJ_FINE_WRAPPED};
    for (int i = 0; i < WJ_WRAPS; i++)
        assert_int_equal(cJSON_GetObjectItem(cJSON_GetArrayItem(wraps, i), "block")->valueint,
                         block_of[i] + 1);
    near(cJSON_GetObjectItem(cJSON_GetArrayItem(wraps, 5), "thickness_mm")->valuedouble, 1.5, 1e-12);
    cJSON_Delete(root);
    wrapped_free(&w);
}

/* --- drawn true --- */

enum { PX = 14 }; /* a step */

typedef struct Ground3 {
    double r, g, b;
} Ground3;

/* The mean of a window of 12 px, twice the repeat of a hatch. */
static Ground3 mean_of(const unsigned char *data, int stride, double x, double y) {
    Ground3 sum = {0, 0, 0};
    for (int j = -6; j < 6; j++)
        for (int i = -6; i < 6; i++) {
            const unsigned char *p = data + (size_t)((int)y + j) * (size_t)stride + 4 * (size_t)((int)x + i);
            sum = (Ground3){sum.r + p[2] / 144.0, sum.g + p[1] / 144.0, sum.b + p[0] / 144.0};
        }
    return sum;
}

static double apart(Ground3 a, Ground3 b) {
    return fabs(a.r - b.r) + fabs(a.g - b.g) + fabs(a.b - b.b);
}

/* Of the candies' grounds, which lie in a row below, the nearest. */
static int nearest(const Ground3 *ground, Ground3 got) {
    int best = 0;
    for (int k = 1; k < WJ_CANDIES; k++)
        if (apart(ground[k], got) < apart(ground[best], got)) best = k;
    return best;
}

static void ropes_and_sheets_are_drawn_where_they_lie(void **state) {
    (void)state;
    WrappedJob w;
    int side = WJ_STEPS * PX, seen = 0;
    assert_true(wrapped_build(&w));
    Job *job = &w.bench.job;
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, side, side + 60);
    cairo_t *cr = cairo_create(surface);
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_paint(cr);
    View v = {cr, job, 0, 0, PX, false};
    Outline square = outline_of_box(0, 0, WJ_STEPS, WJ_STEPS);
    ropes_draw(&v, &square);
    for (int k = 0; k < WJ_CANDIES; k++) {
        cairo_rectangle(cr, k * 60, side, 60, 60);
        candy_fill(cr, job, &job->palette.candy[k], 0.1);
    }
    cairo_surface_flush(surface);
    const unsigned char *data = cairo_image_surface_get_data(surface);
    int stride = cairo_image_surface_get_stride(surface);
    Ground3 ground[WJ_CANDIES];
    for (int k = 0; k < WJ_CANDIES; k++) ground[k] = mean_of(data, stride, k * 60 + 30, side + 30);
    for (int j = 0; j < 4 * WJ_STEPS - 4; j++)
        for (int i = 0; i < 4 * WJ_STEPS - 4; i++) {
            double clear, x = 0.5 + 0.25 * i, y = 0.5 + 0.25 * j;
            int candy = wj_candy(&job->layup, (Point){x, y}, &clear);
            if (clear < 0.72 || hypot(x - 28, y - 28) > 27) continue;
            int got = nearest(ground, mean_of(data, stride, x * PX, y * PX));
            if (got != candy) fail_msg("candy %d at %.2f %.2f, not %d", got, x, y, candy);
            seen++;
        }
    assert_true(seen > 5000);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
    wrapped_free(&w);
}

/* Which rope or sheet the sample at a step belongs to. */
static int seen_at(const Satin *s, double x, double y) {
    return s->rope[(size_t)(y * SAMPLES) * (size_t)s->side + (size_t)(x * SAMPLES)];
}

static void sheets_have_streaks_of_their_own_that_run_round(void **state) {
    (void)state;
    WrappedJob w;
    Smooth smooth;
    Satin satin;
    Err err = {0};
    assert_true(wrapped_build(&w));
    Job *job = &w.bench.job;
    wj_face(job);
    assert_true(smooth_make(&job->face, job->palette.count, &smooth, &err));
    assert_true(satin_make(job, &smooth, &satin, &err));
    const int first = job->layup.ropes, rest = job->blocks.block[WJ_ROUND].rest;
    assert_int_equal(satin.grains, first + WJ_WRAPS + 2);
    assert_int_equal(seen_at(&satin, 38, 19), first + 4);
    assert_int_equal(seen_at(&satin, 38, 21), first + 3);
    assert_int_equal(seen_at(&satin, 27.5, 17.5), rest);
    assert_int_equal(seen_at(&satin, 16, 17), first + 2);
    assert_true(job->layup.rope[seen_at(&satin, 38, 28)].round);
    assert_true(satin.grain[first + 4].round && !satin.grain[rest].round);
    near((double)satin.grain[first + 4].x, 38 * SAMPLES, 1e-3);
    satin_free(&satin);
    smooth_free(&smooth);
    wrapped_free(&w);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_card_says_how_its_block_is_wrapped),
        cmocka_unit_test(items_of_round_blocks_are_told_by_their_diameter_and_mass),
        cmocka_unit_test(the_text_lists_what_is_wrapped_and_pressed_in),
        cmocka_unit_test(sheets_tell_each_wrap_and_the_round_rope),
        cmocka_unit_test(a_rest_is_told_with_the_numbers_of_its_copies),
        cmocka_unit_test(a_round_card_says_how_far_in_the_rope_stands),
        cmocka_unit_test(the_lists_have_a_row_for_each_sheet_and_rest),
        cmocka_unit_test(the_section_can_be_painted_from_the_json_alone),
        cmocka_unit_test(the_section_from_the_json_is_that_which_is_softened),
        cmocka_unit_test(blocks_in_the_json_name_their_sheets_and_rest),
        cmocka_unit_test(ropes_and_sheets_are_drawn_where_they_lie),
        cmocka_unit_test(sheets_have_streaks_of_their_own_that_run_round),
    };
    return cmocka_run_group_tests_name("wraps_told", tests, NULL, NULL);
}
