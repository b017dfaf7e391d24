/* Tests of src/write/write_answer.c and in_memory.c: both lines are read back with cJSON.
 * SPDX-License-Identifier: MIT */
#include "write/write.h"

#include "app/options.h"
#include "base/text.h"
#include "draw/draw.h"
#include "say/answer.h"
#include "dotted_logo.h"
#include "write/files.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <png.h>

/* The line, one only, as JSON; to be deleted. */
static cJSON *read_line(bool (*write)(const Job *job, FILE *file, Err *err), const char *stage) {
    char *text = sample_print(&logo.job, write), *again = sample_print(&logo.job, write);
    assert_non_null(text);
    assert_string_equal(text, again); /* the same bytes each time */
    assert_ptr_equal(strchr(text, '\n'), text + strlen(text) - 1);
    cJSON *root = cJSON_Parse(text);
    assert_non_null(root);
    assert_string_equal(cJSON_GetObjectItem(root, "stage")->valuestring, stage);
    free(again);
    free(text);
    return root;
}

static cJSON *of(const cJSON *object, const char *key) {
    cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    if (!item) fail_msg("no %s", key);
    return item;
}

/* The bytes behind base64; to be freed. Fails on what is none. */
static uint8_t *decoded(const char *text, size_t *size) {
    static const char digit[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    const size_t length = strlen(text),
                 padding = strspn(text + length - 2, "=") ? strlen(strchr(text, '=')) : 0;
    uint8_t *bytes = malloc(length);
    uint32_t held = 0;
    assert_non_null(bytes);
    assert_int_equal(length % 4, 0);
    *size = 0;
    for (size_t i = 0; i < length; i++) {
        const char *at = text[i] == '=' ? digit : strchr(digit, text[i]);
        assert_non_null(at);
        held = held << 6 | (uint32_t)(at - digit);
        if (i % 4 != 3) continue;
        for (int k = 2; k >= 0; k--) bytes[(*size)++] = (uint8_t)(held >> (8 * k));
    }
    *size -= padding;
    return bytes;
}

/* The pixels of the PNG under "png"; to be freed. */
static uint8_t *pixels_of(const cJSON *picture, int width, int height) {
    size_t size;
    uint8_t *png = decoded(of(picture, "png")->valuestring, &size);
    uint8_t *rgba = malloc((size_t)width * (size_t)height * 4);
    png_image reader = {.version = PNG_IMAGE_VERSION};
    assert_true(png_image_begin_read_from_memory(&reader, png, size));
    assert_int_equal(reader.width, width);
    assert_int_equal(reader.height, height);
    reader.format = PNG_FORMAT_RGBA;
    assert_true(png_image_finish_read(&reader, NULL, rgba, 0, NULL));
    free(png);
    return rgba;
}

static void rows_match(const cJSON *root) {
    Answer answer;
    answer_fill(&logo.job, 0, 0, &answer);
    assert_int_equal(cJSON_GetArraySize(of(root, "rows")), answer.rows);
    for (int i = 0; i < answer.rows; i++) {
        const cJSON *row = cJSON_GetArrayItem(of(root, "rows"), i);
        assert_string_equal(of(row, "label")->valuestring, answer.row[i].label);
        assert_string_equal(of(row, "text")->valuestring, answer.row[i].text);
    }
}

static void the_first_line_tells_the_job(void **state) {
    (void)state;
    cJSON *root = read_line(write_answer_drawn, "drawn");
    const Job *job = &logo.job;
    assert_string_equal(of(root, "verdict")->valuestring, verdict_name(job->judgement.verdict));
    assert_string_equal(of(root, "headline")->valuestring, "NO: two dots.png cannot be built like this");
    assert_string_equal(of(root, "command")->valuestring, "logocane -n 500 --no-fine 'two dots.png'");
    assert_string_equal(of(root, "name")->valuestring, "dots");
    assert_int_equal(cJSON_GetArraySize(of(root, "checks")), job->judgement.checks);
    assert_int_equal(cJSON_GetArraySize(of(root, "inks")), job->inks->count);
    assert_int_equal(of(root, "ropes")->valueint, job->bill.ropes_made);
    assert_true(cJSON_IsNull(of(root, "price")));
    const cJSON *ink = cJSON_GetArrayItem(of(root, "inks"), 0);
    assert_string_equal(of(ink, "srgb")->valuestring, "#C8202C");
    assert_string_equal(of(ink, "made")->valuestring, "stock");
    rows_match(root);
    cJSON_Delete(root);
    logo.shop.price_hour = 20;
    logo.job.bill.quote.price = 231;
    strcpy(logo.shop.currency, "EUR");
    root = read_line(write_answer_drawn, "drawn");
    assert_string_equal(of(root, "price")->valuestring, "231.00 EUR");
    logo.shop.price_hour = 0;
    cJSON_Delete(root);
}

static void its_pictures_are_those_that_are_drawn(void **state) {
    (void)state;
    Err err = {0};
    cJSON *root = read_line(write_answer_drawn, "drawn");
    Image face = {0};
    assert_true(draw_face(&logo.job, 640, &face, &err));
    uint8_t *rgba = pixels_of(of(root, "face"), 640, 640);
    assert_memory_equal(rgba, face.rgba, (size_t)640 * 640 * 4);
    free(rgba);
    image_free(&face);
    rgba = pixels_of(of(root, "logo"), SIDE, SIDE); /* a small one is not enlarged */
    assert_memory_equal(rgba, logo.picture.rgba, (size_t)SIDE * SIDE * 4);
    free(rgba);
    cJSON_Delete(root);
}

static void where_the_logo_is_transparent_it_lies_on_the_candy_that_stands_there(void **state) {
    (void)state;
    Candy *candy = &logo.job.palette.candy[logo.job.palette.of_ink[logo.job.inks->field]];
    Ink *ink = &logo.inks.ink[logo.job.inks->field];
    const Candy was = *candy;
    cJSON *root = read_line(write_answer_drawn, "drawn");
    assert_false(cJSON_IsTrue(of(of(root, "logo"), "clear")));
    assert_true(cJSON_IsNull(of(of(root, "logo"), "ground")));
    cJSON_Delete(root);
    ink->transparent = true;
    candy->srgb = (Rgb8){10, 120, 30};
    logo.picture.rgba[3] = 0;
    root = read_line(write_answer_drawn, "drawn");
    assert_string_equal(of(of(root, "logo"), "ground")->valuestring, candy->name);
    uint8_t *rgba = pixels_of(of(root, "logo"), SIDE, SIDE);
    assert_memory_equal(rgba, ((const uint8_t[]){10, 120, 30, 255}), 4);
    assert_memory_equal(rgba + 4, logo.picture.rgba + 4, 4);
    free(rgba);
    cJSON_Delete(root);
    ink->transparent = false; /* the margin of a picture that was cropped */
    root = read_line(write_answer_drawn, "drawn");
    assert_true(cJSON_IsTrue(of(of(root, "logo"), "clear")));
    assert_true(cJSON_IsNull(of(of(root, "logo"), "ground")));
    rgba = pixels_of(of(root, "logo"), SIDE, SIDE);
    assert_true(rgba[0] == rgba[1] && rgba[1] == rgba[2] && rgba[0] > 150 && rgba[0] < 230); /* grey */
    logo.picture.rgba[3] = 255;
    *candy = was;
    free(rgba);
    cJSON_Delete(root);
}

/* At a place on the logo and on the face there is the same: of this one a red dot. */
static void its_places_lie_on_what_they_name(void **state) {
    (void)state;
    cJSON *root = read_line(write_answer_drawn, "drawn");
    const cJSON *places = of(root, "places");
    assert_int_equal(cJSON_GetArraySize(places), logo.job.flaws.count);
    assert_true(logo.job.flaws.count >= 2);
    for (int i = 0; i < logo.job.flaws.count; i++) {
        const cJSON *place = cJSON_GetArrayItem(places, i), *at = of(place, "logo"), *on = of(place, "face");
        char words[FLAW_TEXT];
        flaw_print(&logo.job, &logo.job.flaws.flaw[i], words);
        assert_int_equal(of(place, "number")->valueint, i + 1);
        assert_string_equal(of(place, "text")->valuestring, words);
        double x = at->child->valuedouble, y = at->child->next->valuedouble;
        double u = on->child->valuedouble, v = on->child->next->valuedouble;
        const uint8_t *pixel = logo.picture.rgba + 4 * ((int)(y * SIDE) * SIDE + (int)(x * SIDE));
        assert_int_equal(pixel[1], red.g);
        assert_true(fabs(fabs(x * 2 - 1) - 0.82) < 0.02 && fabs(y - 0.5) < 0.02);
        const double core = logo.job.cane.core_diameter_mm / logo.job.cane.log_diameter_mm;
        const Point middle = logo.job.judgement.part[logo.job.flaws.flaw[i].part].middle;
        assert_true(fabs((u - 0.5) / core + 0.5 - middle.x / logo.job.grid.wanted.side) < 0.01);
        assert_true((u < 0.5) == (x < 0.5) && fabs(v - 0.5) < 0.02);
        assert_true(hypot(u - 0.5, v - 0.5) + of(place, "radius")->valuedouble < 0.6);
    }
    cJSON_Delete(root);
}

static void what_lies_beyond_the_logo_has_no_place_on_it(void **state) {
    (void)state;
    const Point was = logo.job.grid.frame.centre_px;
    logo.job.grid.frame.centre_px.x = -1e4;
    cJSON *root = read_line(write_answer_drawn, "drawn");
    assert_true(cJSON_IsNull(of(cJSON_GetArrayItem(of(root, "places"), 0), "logo")));
    logo.job.grid.frame.centre_px = was;
    cJSON_Delete(root);
}

/* The options of a proposal, asked for behind those that were asked for, give what it promises. */
static void the_options_of_the_advice_give_what_it_promises(void **state) {
    (void)state;
    char word[2 * CHANGE_OPTIONS][PAIR_VALUE + 8], *argv[2 * CHANGE_OPTIONS + 8];
    char program[] = "logocane", number[] = "-n500", no_fine[] = "--no-fine", file[] = "logo.png";
    int argc = 0;
    Err err = {0};
    cJSON *root = read_line(write_answer_advised, "advised");
    const cJSON *best = cJSON_GetArrayItem(of(root, "advice"), 0);
    assert_string_equal(of(best, "whole")->valuestring, "go");
    assert_non_null(strstr(of(best, "text")->valuestring, ": then all is go"));
    argv[argc++] = program, argv[argc++] = number, argv[argc++] = no_fine;
    assert_true(cJSON_GetArraySize(of(best, "options")) > 0);
    for (const cJSON *pair = of(best, "options")->child; pair; pair = pair->next, argc++) {
        (void)snprintf(word[argc], sizeof word[argc], "--%s=%s", of(pair, "name")->valuestring,
                       of(pair, "value")->valuestring);
        argv[argc] = word[argc];
    }
    argv[argc++] = file;
    Options options;
    if (!options_parse(argc, argv, &options, &err)) fail_msg("%s", err.msg);
    Job named = {.picture = &logo.picture, .inks = &logo.inks, .shop = &logo.shop, .order = options.order};
    Ordered own;
    assert_true(ordered_new(&named, &own, &err) && job_run(&own.job, &err));
    assert_int_equal(own.job.judgement.verdict, VERDICT_GO);
    ordered_free(&own);
    cJSON_Delete(root);
}

static void the_second_line_has_rows_and_letter(void **state) {
    (void)state;
    cJSON *root = read_line(write_answer_advised, "advised");
    char *letter = sample_print(&logo.job, write_letter);
    assert_string_equal(of(root, "letter")->valuestring, letter);
    rows_match(root);
    free(letter);
    cJSON_Delete(root);
}

/* Whatever a client's file is called, the line is valid UTF-8 and steers nothing. */
static void hostile_names_are_cleaned(void **state) {
    (void)state;
    strcpy(logo.job.file, "a\"\\<\033[31m\xff\n.png");
    strcpy(logo.job.order.name, "\xe2\x80\xae\x07 <b>");
    char *text = sample_print(&logo.job, write_answer_drawn);
    text[strlen(text) - 1] = 0;
    assert_true(text_valid(text));
    cJSON *root = cJSON_Parse(text);
    assert_string_equal(of(root, "name")->valuestring, "?? <b>");
    assert_non_null(strstr(of(root, "headline")->valuestring, "a\"\\<?[31m??.png"));
    assert_true(cJSON_IsNull(of(root, "command")));
    strcpy(logo.job.file, "two dots.png");
    cJSON_Delete(root);
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_first_line_tells_the_job),
        cmocka_unit_test(its_pictures_are_those_that_are_drawn),
        cmocka_unit_test(where_the_logo_is_transparent_it_lies_on_the_candy_that_stands_there),
        cmocka_unit_test(its_places_lie_on_what_they_name),
        cmocka_unit_test(what_lies_beyond_the_logo_has_no_place_on_it),
        cmocka_unit_test(the_options_of_the_advice_give_what_it_promises),
        cmocka_unit_test(the_second_line_has_rows_and_letter),
        cmocka_unit_test(hostile_names_are_cleaned),
    };
    return cmocka_run_group_tests(tests, fill_logo, empty_logo);
}
