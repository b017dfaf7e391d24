/* A logo with something left out. SPDX-License-Identifier: MIT
 *
 * 1. The picture's own areas: connected pixels of one candy. Each belongs to the part that holds most of its
 * samples on the core, so that a part is left out to the pixel.
 * 2. What is left out takes the ink of the nearest pixel that stays: a line between two colours is shared out
 * between them, a hole is filled. 3. Shares and borders anew; inks numbered anew. O(pixels). */
#include "run/trial.h"

#include "inks/inks.h"
#include "parts/parts.h"
#include "base/components.h"
#include "base/distance.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct Redrawing {
    const Job *job;
    const InkMap *from;
    int total;      /* pixels */
    Areas areas;    /* on the core; owned */
    int *part_of;   /* [areas] index in judgement.part, -1 the open field; owned */
    int32_t *label; /* [pixels] area of the picture; owned */
    uint8_t *stays; /* [pixels]; owned */
} Redrawing;

/* --- 1 --- */

/* The area on the core at the middle of a pixel, -1 outside. */
static int area_at(const Redrawing *r, int x, int y) {
    const Frame *frame = &r->job->grid.frame;
    double half = r->job->grid.steps / 2.0;
    int u = (int)floor(((x + 0.5 - frame->centre_px.x) / frame->px_per_step + half) * SAMPLES);
    int v = (int)floor(((y + 0.5 - frame->centre_px.y) / frame->px_per_step + half) * SAMPLES);
    if (u < 0 || v < 0 || u >= r->areas.side || v >= r->areas.side) return -1;
    return r->areas.label[(size_t)v * r->areas.side + u];
}

/* Is the area of the core left out? */
static bool is_out(const Redrawing *r, int area, uint64_t without) {
    int part = area < 0 ? -1 : r->part_of[area];
    return part >= 0 && part < CHANGE_PARTS && (without >> part & 1);
}

static bool find_areas(Redrawing *r, int *count, Err *err) {
    uint8_t ways[256];
    memset(ways, 8, sizeof ways);
    ways[r->job->palette.field] = 4;
    r->stays = mem_alloc((size_t)r->total, 1, err);
    r->label = mem_alloc((size_t)r->total, sizeof *r->label, err);
    if (!r->stays || !r->label || !areas_find(&r->job->grid, &r->areas, err)) return false;
    r->part_of = mem_alloc((size_t)r->areas.count, sizeof *r->part_of, err);
    if (!r->part_of) return false;
    int parts = 0;
    for (int i = 0; i < r->areas.count; i++) r->part_of[i] = r->areas.area[i].open ? -1 : parts++;
    for (int i = 0; i < r->total; i++) r->stays[i] = (uint8_t)r->job->palette.of_ink[r->from->label[i]];
    *count = components(r->stays, r->from->width, r->from->height, ways, r->label);
    return true;
}

/* stays[] = 0 where a pixel's area has more of its pixels in what is left out than not. */
static bool mark_out(Redrawing *r, uint64_t without, Err *err) {
    int count;
    if (!find_areas(r, &count, err)) return false;
    int *more = mem_alloc((size_t)count, sizeof *more, err);
    if (!more) return false;
    for (int i = 0; i < r->total; i++) {
        int area = area_at(r, i % r->from->width, i / r->from->width);
        bool same = area >= 0 && r->areas.area[area].part.candy == r->stays[i];
        if (same) more[r->label[i]] += is_out(r, area, without) ? 1 : -1;
    }
    for (int i = 0; i < r->total; i++) r->stays[i] = more[r->label[i]] <= 0;
    free(more);
    return true;
}

/* --- 2 --- */

static bool leave_parts_out(const Job *job, uint64_t without, uint8_t *ink, Err *err) {
    Redrawing r = {.job = job, .from = job->inks, .total = job->inks->width * job->inks->height};
    bool good = mark_out(&r, without, err) &&
                distance_transform(r.stays, r.from->width, r.from->height, NULL, r.label, err);
    for (int i = 0; good && i < r.total; i++)
        if (r.label[i] >= 0) ink[i] = r.from->label[r.label[i]];
    areas_free(&r.areas);
    free(r.part_of);
    free(r.label);
    free(r.stays);
    return good;
}

/* --- 3 --- */

/* Drops the inks that no pixel has. */
static void number_inks(InkMap *map) {
    bool used[INKS_MAX] = {false};
    int number[INKS_MAX] = {0}, count = 0, total = map->width * map->height;
    used[map->field] = true;
    for (int i = 0; i < total; i++) used[map->label[i]] = true;
    for (int i = 0; i < map->count; i++)
        if (used[i]) {
            map->ink[count] = map->ink[i];
            number[i] = count++;
        }
    for (int i = 0; i < total; i++) map->label[i] = (uint8_t)number[map->label[i]];
    map->field = number[map->field];
    map->count = count;
}

bool leave_out(const Job *job, uint64_t without, int joined, int into, InkMap *out, Err *err) {
    InkMap map = *job->inks;
    size_t total = (size_t)map.width * (size_t)map.height;
    map.label = mem_alloc(total, 1, err);
    if (!map.label) return false;
    memcpy(map.label, job->inks->label, total);
    bool good = !without || leave_parts_out(job, without, map.label, err); /* 1, 2 */
    for (size_t i = 0; i < total; i++)
        if (map.label[i] == joined) map.label[i] = (uint8_t)into;
    if (joined == map.field) map.field = into;
    if (good) number_inks(&map); /* 3 */
    good = good && count_inks(&map, err);
    if (good)
        *out = map;
    else
        free(map.label);
    return good;
}
