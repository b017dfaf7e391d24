/* Building blocks of job.json. SPDX-License-Identifier: MIT */
#include "write/json_out.h"

#include "base/text.h"
#include "model/wrapped.h"

void put_number(Out *out, cJSON *to, const char *key, double value) {
    if (!cJSON_AddNumberToObject(to, key, value)) out->failed = true;
}

void put_bool(Out *out, cJSON *to, const char *key, bool value) {
    if (!cJSON_AddBoolToObject(to, key, value)) out->failed = true;
}

void put_text(Out *out, cJSON *to, const char *key, const char *text) {
    char clean[512];
    text_clean(clean, sizeof clean, text);
    if (!cJSON_AddStringToObject(to, key, clean)) out->failed = true;
}

void put_colour(Out *out, cJSON *to, const char *key, Rgb8 c) {
    char text[RGB8_CODE];
    rgb8_code(c, text);
    put_text(out, to, key, text);
}

cJSON *put_object(Out *out, cJSON *to, const char *key) {
    cJSON *object = cJSON_AddObjectToObject(to, key);
    if (!object) out->failed = true;
    return object;
}

cJSON *put_array(Out *out, cJSON *to, const char *key) {
    cJSON *array = cJSON_AddArrayToObject(to, key);
    if (!array) out->failed = true;
    return array;
}

cJSON *append(Out *out, cJSON *array, cJSON *item) {
    if (item && array && cJSON_AddItemToArray(array, item)) return item;
    cJSON_Delete(item);
    out->failed = true;
    return NULL;
}

cJSON *append_object(Out *out, cJSON *array) {
    return append(out, array, cJSON_CreateObject());
}

void append_text(Out *out, cJSON *array, const char *text) {
    char clean[512];
    text_clean(clean, sizeof clean, text);
    (void)append(out, array, cJSON_CreateString(clean));
}

void append_number(Out *out, cJSON *array, double value) {
    (void)append(out, array, cJSON_CreateNumber(value));
}

void append_point(Out *out, cJSON *array, Point p) {
    cJSON *point = append(out, array, cJSON_CreateArray());
    append_number(out, point, p.x + 0.0); /* no "-0" */
    append_number(out, point, p.y + 0.0);
}

void put_corners(Out *out, cJSON *to, const char *key, const Outline *outline) {
    cJSON *corners = put_array(out, to, key);
    for (int i = 0; i < outline->corners; i++) append_point(out, corners, outline->corner[i]);
}

void put_section(Out *out, cJSON *to, const char *key, const Outline *outline, bool round) {
    if (!round) {
        put_corners(out, to, key, outline);
        return;
    }
    Point corner[DISC_CORNERS];
    cJSON *corners = put_array(out, to, key);
    disc_corners(square_disc(outline), corner);
    for (int i = 0; i < DISC_CORNERS; i++) append_point(out, corners, corner[i]);
}

const char *candy_name(const Out *out, int candy) {
    return out->job->palette.candy[candy].name;
}
