/* The answer of the page: two lines of JSON. SPDX-License-Identifier: MIT
 *
 * What is drawn is told before what helps is looked for, so that it is seen at once. */
#include "write/write.h"

#include "base/parallel.h"
#include "base/text.h"
#include "draw/draw.h"
#include "say/answer.h"
#include "write/files.h"
#include "write/in_memory.h"
#include "write/json_out.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { PICTURE_SIDE = 640 }; /* px: of the face; at most of the logo */

/* Text that is clean, or is made of such; longer than put_text holds. */
static void put_long(Out *out, cJSON *to, const char *key, const char *text) {
    if (!text || !cJSON_AddStringToObject(to, key, text)) out->failed = true;
}

static void put_null(Out *out, cJSON *to, const char *key) {
    if (!cJSON_AddNullToObject(to, key)) out->failed = true;
}

/* A share, or a length on the piece in mm, to 1 / 10 000. */
static double rounded(double value) {
    return round(value * 1e4) / 1e4 + 0.0;
}

static void append_shares(Out *out, cJSON *to, const char *key, double x, double y) {
    append_number(out, put_array(out, to, key), rounded(x));
    append_number(out, cJSON_GetObjectItemCaseSensitive(to, key), rounded(y));
}

static void put_headline(Out *out, cJSON *to) {
    char line[LOG_LINE];
    headline_words(out->job, 0, line);
    put_text(out, to, "verdict", verdict_name(out->job->judgement.verdict));
    put_long(out, to, "headline", line);
}

static void put_rows(Out *out, cJSON *to) {
    Answer answer;
    cJSON *rows = put_array(out, to, "rows");
    answer_fill(out->job, 0, 0, &answer);
    for (int i = 0; i < answer.rows; i++) {
        cJSON *row = append_object(out, rows);
        text_clean(answer.row[i].text, LOG_LINE, answer.row[i].text);
        put_text(out, row, "label", answer.row[i].label);
        put_long(out, row, "text", answer.row[i].text);
    }
}

static void put_checks(Out *out, cJSON *to) {
    const Judgement *judgement = &out->job->judgement;
    const Units units = out->job->order.units;
    char words[CHECK_TEXT];
    cJSON *list = put_array(out, to, "checks");
    for (int i = 0; i < judgement->checks; i++) {
        const Check *check = &judgement->check[i];
        cJSON *object = append_object(out, list);
        check_words(check, units, words);
        put_text(out, object, "name", check_name(check->kind, units));
        put_text(out, object, "verdict", verdict_name(check->verdict));
        put_bool(out, object, "own", check->own);
        put_text(out, object, "text", words);
    }
}

/* --- pictures --- */

typedef struct Drawn {
    const Job *job;
    int width[2], height[2];
    char *png[2]; /* of the logo, of the face, as base64; owned */
} Drawn;

static bool draw_one(void *context, int i, Err *err) {
    Drawn *drawn = context;
    Image image = {0};
    if (!(i == 0 ? draw_logo : draw_face)(drawn->job, PICTURE_SIDE, &image, err)) return false;
    drawn->png[i] = png_base64(&image, err);
    drawn->width[i] = image.width;
    drawn->height[i] = image.height;
    image_free(&image);
    return drawn->png[i] != NULL;
}

static void put_pictures(Out *out, cJSON *to, const Drawn *drawn) {
    cJSON *logo = put_object(out, to, "logo"), *face = put_object(out, to, "face");
    put_long(out, logo, "png", drawn->png[0]);
    put_number(out, logo, "width", drawn->width[0]);
    put_number(out, logo, "height", drawn->height[0]);
    const LogoGround ground = logo_ground(out->job);
    put_bool(out, logo, "clear", ground.clear);
    if (ground.candy)
        put_text(out, logo, "ground", ground.candy->name);
    else
        put_null(out, logo, "ground");
    put_long(out, face, "png", drawn->png[1]);
    put_number(out, face, "side", PICTURE_SIDE);
    put_number(out, face, "span_mm", rounded(out->job->order.piece_diameter_mm));
}

static bool draw_pictures(Out *out, cJSON *to, Err *err) {
    Drawn drawn = {.job = out->job};
    bool good = parallel_tasks(2, 0, draw_one, &drawn, err);
    if (good) put_pictures(out, to, &drawn);
    free(drawn.png[0]);
    free(drawn.png[1]);
    return good;
}

/* What does not come out, numbered as in check.png. */
static void put_places(Out *out, cJSON *to) {
    const Job *job = out->job;
    const Circle disc = log_on_logo(job);
    const double width = job->picture->width, height = job->picture->height;
    char words[FLAW_TEXT];
    cJSON *list = put_array(out, to, "places");
    for (int i = 0; i < job->flaws.count; i++) {
        const FlawRing ring = flaw_ring(job, i);
        const double radius = fmax(ring.w, ring.h) / 2;
        const double x = (disc.x + (ring.middle.x - 0.5) * 2 * disc.r) / width,
                     y = (disc.y + (ring.middle.y - 0.5) * 2 * disc.r) / height;
        cJSON *place = append_object(out, list);
        put_number(out, place, "number", i + 1);
        if (x < 0 || x > 1 || y < 0 || y > 1)
            put_null(out, place, "logo");
        else
            append_shares(out, place, "logo", x, y);
        append_shares(out, place, "face", ring.middle.x, ring.middle.y);
        put_number(out, place, "radius", rounded(radius));
        put_number(out, place, "logo_radius", rounded(radius * 2 * disc.r / width));
        flaw_print(job, &job->flaws.flaw[i], words);
        put_text(out, place, "text", words);
    }
    put_number(out, to, "more_places", job->flaws.more);
}

/* --- candies --- */

static void put_inks(Out *out, cJSON *to) {
    const InkMap *inks = out->job->inks;
    char words[INK_TEXT];
    cJSON *list = put_array(out, to, "inks");
    for (int i = 0; i < inks->count; i++) {
        const Candy *candy = &out->job->palette.candy[out->job->palette.of_ink[i]];
        cJSON *ink = append_object(out, list);
        if (inks->ink[i].transparent)
            put_null(out, ink, "srgb");
        else
            put_colour(out, ink, "srgb", inks->ink[i].srgb);
        put_number(out, ink, "share", rounded(inks->ink[i].share));
        put_text(out, ink, "candy", candy->name);
        put_colour(out, ink, "candy_srgb", candy->srgb);
        put_text(out, ink, "made", made_name(candy));
        put_bool(out, ink, "field", i == inks->field);
        ink_candy_words(out->job, i, words);
        put_text(out, ink, "text", words);
    }
}

static void put_jacket(Out *out, cJSON *to) {
    const Palette *palette = &out->job->palette;
    cJSON *jacket = put_object(out, to, "jacket"), *list = put_array(out, jacket, "candies");
    for (int i = 0; i < palette->jackets; i++) append_text(out, list, palette->jacket[i].name);
    put_number(out, jacket, "stripes", palette->stripes);
}

/* The command that asks for the same; of a piped logo its name is not known. */
static void put_command(Out *out, cJSON *to) {
    const Job *job = out->job;
    char logo[2 * sizeof job->file] = "", command[COMMAND_TEXT];
    if (job->file[0] == '-') text_append(logo, sizeof logo, "-- ");
    text_append_word(logo, sizeof logo, job->file);
    const bool can = strcmp(job->file, "-") != 0 && strlen(logo) + 1 < sizeof logo &&
                     command_whole(job, NULL, NULL, logo, command);
    if (can)
        put_long(out, to, "command", command);
    else
        put_null(out, to, "command");
}

static void put_figures(Out *out, cJSON *to) {
    const Job *job = out->job;
    char price[64];
    put_number(out, to, "ropes", job->bill.ropes_made);
    put_number(out, to, "minutes", round(job->work.laying));
    price_total_words(job, price);
    if (price[0])
        put_text(out, to, "price", price);
    else
        put_null(out, to, "price");
    put_text(out, to, "name", job->order.name);
}

/* --- what helps --- */

static void put_options(Out *out, cJSON *to, const Change *change) {
    ChangeOptions options = {0};
    cJSON *list = put_array(out, to, "options");
    if (!change_options(out->job, change, &options)) return;
    for (int i = 0; i < options.pairs; i++) {
        cJSON *pair = append_object(out, list);
        put_text(out, pair, "name", options.pair[i].name);
        put_text(out, pair, "value", options.pair[i].value);
    }
}

static void put_advice(Out *out, cJSON *to) {
    AnswerWay way[ANSWER_WAYS];
    cJSON *list = put_array(out, to, "advice");
    int count = answer_ways(out->job, way);
    for (int i = 0; i < count; i++) {
        cJSON *advice = append_object(out, list);
        text_clean(way[i].text, sizeof way[i].text, way[i].text);
        put_long(out, advice, "text", way[i].text);
        put_text(out, advice, "whole", verdict_name(way[i].way->whole));
        put_options(out, advice, &way[i].way->change);
    }
}

static bool put_letter(Out *out, cJSON *to, Err *err) {
    char *letter = written(out->job, write_letter, err);
    if (!letter) return false;
    put_long(out, to, "letter", letter);
    free(letter);
    return true;
}

/* --- the lines --- */

/* Prints the tree, and frees it, as a line if all went well. */
static bool print_line(Out *out, cJSON *root, bool good, FILE *file, Err *err) {
    char *text = good && !out->failed ? cJSON_PrintUnformatted(root) : NULL;
    cJSON_Delete(root);
    if (!good) return false;
    if (!text) return err_set(err, ERR_MEMORY, "out of memory for the answer; close other programs");
    fputs(text, file);
    fputc('\n', file);
    cJSON_free(text);
    return true;
}

bool write_answer_drawn(const Job *job, FILE *file, Err *err) {
    Out out = {.job = job};
    cJSON *root = cJSON_CreateObject();
    put_text(&out, root, "stage", "drawn");
    put_headline(&out, root);
    put_rows(&out, root);
    put_checks(&out, root);
    bool good = draw_pictures(&out, root, err);
    put_places(&out, root);
    put_inks(&out, root);
    put_jacket(&out, root);
    put_figures(&out, root);
    put_command(&out, root);
    return print_line(&out, root, good, file, err);
}

bool write_answer_advised(const Job *job, FILE *file, Err *err) {
    Out out = {.job = job};
    cJSON *root = cJSON_CreateObject();
    put_text(&out, root, "stage", "advised");
    put_rows(&out, root);
    put_advice(&out, root);
    bool good = put_letter(&out, root, err);
    return print_line(&out, root, good, file, err);
}
