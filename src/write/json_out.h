/* Building blocks of job.json. SPDX-License-Identifier: MIT
 *
 * An Out carries the one fact that matters until the tree is printed: whether memory ran out. cJSON takes
 * NULL for an object and gives NULL back, so nothing has to stop early. `put` adds to an object under a key,
 * `append` to an array. */
#ifndef LOGOCANE_WRITE_JSON_OUT_H
#define LOGOCANE_WRITE_JSON_OUT_H

#include "model/job.h"

#include <cjson/cJSON.h>

typedef struct Out {
    const Job *job; /* not owned */
    bool failed;    /* an allocation */
} Out;

void put_number(Out *out, cJSON *to, const char *key, double value);
void put_bool(Out *out, cJSON *to, const char *key, bool value);
void put_text(Out *out, cJSON *to, const char *key, const char *text); /* cleaned */
void put_colour(Out *out, cJSON *to, const char *key, Rgb8 c);
void put_corners(Out *out, cJSON *to, const char *key, const Outline *outline); /* [[x, y], ...] */

/* The same; if it is round the disc in that square, as a polygon of DISC_CORNERS corners. */
void put_section(Out *out, cJSON *to, const char *key, const Outline *outline, bool round);

/* Empty; what was added. */
cJSON *put_object(Out *out, cJSON *to, const char *key);
cJSON *put_array(Out *out, cJSON *to, const char *key);

/* Adds the item, owned, to the array; gives it back, NULL if that failed. */
cJSON *append(Out *out, cJSON *array, cJSON *item);
cJSON *append_object(Out *out, cJSON *array);
void append_text(Out *out, cJSON *array, const char *text); /* cleaned */
void append_number(Out *out, cJSON *array, double value);
void append_point(Out *out, cJSON *array, Point p); /* [x, y] */

const char *candy_name(const Out *out, int candy);

/* The objects "quote", with what it costs, and "work". */
void put_quote(Out *out, cJSON *to);
void put_work(Out *out, cJSON *to);

/* The object "layup": its ropes, their types, its blocks, sheets, pulls and rings. */
void put_layup(Out *out, cJSON *to);

#endif
