/* By which points parts are left out. SPDX-License-Identifier: MIT
 *
 * 1. The picture's own areas: connected pixels of one ink, as a point names them. Each belongs to the part or
 * hole that holds most of its samples on the core; what belongs to one that is left out is left out.
 * 2. A point in each: the pixel farthest from the area's rim, in whole percents of the picture if that keeps
 * half of the distance, so that it holds in the same picture of another size; else with one decimal or two.
 * O(pixels). */
#include "run/trial.h"

#include "base/components.h"
#include "base/distance.h"
#include "base/mem.h"
#include "inks/inks.h"
#include "parts/parts.h"

#include <math.h>
#include <stdlib.h>

typedef struct Search {
    const Job *job;
    int width, height; /* px */
    Areas areas;       /* on the core; owned */
    int *part_of;      /* [areas] index in judgement.part, -1 the open field; owned */
    int count;         /* areas of the picture */
    int32_t *area;     /* [pixels] area of the picture; owned */
    int *more;         /* [count] pixels of it that are left out, less those that are not; owned */
    uint8_t *rim;      /* [pixels] 1: beside another area; owned */
    int32_t *depth;    /* [pixels] squared distance from the rim; owned */
} Search;

/* --- 1 --- */

/* The area on the core at the middle of a pixel, -1 outside. */
static int core_area(const Search *s, int pixel) {
    const Frame *frame = &s->job->grid.frame;
    double half = s->job->grid.steps / 2.0, x = pixel % s->width + 0.5, y = pixel / s->width + 0.5;
    int u = (int)floor(((x - frame->centre_px.x) / frame->px_per_step + half) * SAMPLES);
    int v = (int)floor(((y - frame->centre_px.y) / frame->px_per_step + half) * SAMPLES);
    if (u < 0 || v < 0 || u >= s->areas.side || v >= s->areas.side) return -1;
    return s->areas.label[(size_t)v * s->areas.side + u];
}

static bool is_out(const Search *s, int area, uint64_t without) {
    int part = s->part_of[area];
    return part >= 0 && part < CHANGE_PARTS && (without >> part & 1);
}

static bool find_areas(Search *s, Err *err) {
    size_t total = (size_t)s->width * (size_t)s->height;
    s->area = mem_alloc(total, sizeof *s->area, err);
    if (!s->area || !areas_find(&s->job->grid, &s->areas, err)) return false;
    s->part_of = mem_alloc((size_t)s->areas.count, sizeof *s->part_of, err);
    s->count = ink_areas(s->job->inks, s->area);
    s->more = mem_alloc((size_t)s->count, sizeof *s->more, err);
    if (!s->part_of || !s->more) return false;
    int parts = 0;
    for (int i = 0; i < s->areas.count; i++) s->part_of[i] = s->areas.area[i].open ? -1 : parts++;
    return true;
}

static void count_out(Search *s, uint64_t without) {
    const InkMap *inks = s->job->inks;
    for (int i = 0; i < s->width * s->height; i++) {
        int area = core_area(s, i), candy = s->job->palette.of_ink[inks->label[i]];
        if (area >= 0 && s->areas.area[area].part.candy == candy)
            s->more[s->area[i]] += is_out(s, area, without) ? 1 : -1;
    }
}

/* --- 2 --- */

/* The distance of each pixel from the nearest that lies beside another area; the picture's edge is one. */
static bool measure_depth(Search *s, Err *err) {
    int w = s->width, h = s->height;
    s->rim = mem_alloc((size_t)w * (size_t)h, 1, err);
    s->depth = mem_alloc((size_t)w * (size_t)h, sizeof *s->depth, err);
    if (!s->rim || !s->depth) return false;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            int i = y * w + x, a = s->area[i];
            s->rim[i] = x == 0 || y == 0 || x == w - 1 || y == h - 1 || s->area[i - 1] != a ||
                        s->area[i + 1] != a || s->area[i - w] != a || s->area[i + w] != a;
        }
    return distance_transform(s->rim, w, h, s->depth, NULL, err);
}

/* The nearest point to the middle of a pixel, in steps of so many POINT_UNITs. */
static Spot round_spot(const Search *s, int pixel, int step) {
    double x = (pixel % s->width + 0.5) / s->width, y = (pixel / s->width + 0.5) / s->height;
    const double steps = 100.0 * POINT_UNIT / step;
    return (Spot){(int)floor(x * steps + 0.5) * step, (int)floor(y * steps + 0.5) * step};
}

static bool find_spot(const Search *s, int pixel, Spot *out) {
    for (int step = POINT_UNIT; step > 0; step /= 10) {
        *out = round_spot(s, pixel, step);
        int at = spot_pixel(s->width, s->height, out->x, out->y);
        bool last = step == 1;
        if (s->area[at] == s->area[pixel] && (last || 4 * s->depth[at] >= s->depth[pixel])) return true;
    }
    return false;
}

/* The deepest pixel of each area that is left out, in the order of the areas; false: there are too many. */
static bool list_deepest(const Search *s, int deepest[CHANGE_POINTS], int *count) {
    int named[CHANGE_POINTS];
    *count = 0;
    for (int i = 0; i < s->width * s->height; i++) {
        if (s->more[s->area[i]] <= 0) continue;
        int k = 0;
        while (k < *count && named[k] != s->area[i]) k++;
        if (k == CHANGE_POINTS) return false;
        if (k == *count) {
            named[(*count)++] = s->area[i];
            deepest[k] = i;
        }
        if (s->depth[i] > s->depth[deepest[k]]) deepest[k] = i;
    }
    return *count > 0;
}

static void search_free(Search *s) {
    areas_free(&s->areas);
    free(s->part_of);
    free(s->area);
    free(s->more);
    free(s->rim);
    free(s->depth);
}

bool change_points(const Job *job, Change *change, bool *can, Err *err) {
    Search s = {.job = job, .width = job->inks->width, .height = job->inks->height};
    int deepest[CHANGE_POINTS], count = 0;
    *can = true;
    change->points = 0;
    if (!change->without) return true;
    bool good = find_areas(&s, err);
    if (good) count_out(&s, change->without); /* 1 */
    good = good && measure_depth(&s, err);
    *can = good && list_deepest(&s, deepest, &count); /* 2 */
    for (int i = 0; *can && i < count; i++) *can = find_spot(&s, deepest[i], &change->point[i]);
    if (*can) change->points = count;
    search_free(&s);
    return good;
}
