/* The picture without its lettering, closed up. SPDX-License-Identifier: MIT
 *
 * 1. What goes takes the ink of the nearest pixel that stays.
 * 2. Lettering that goes round the middle, with nothing but rings beyond it: what lies beyond its inner edge
 * goes, too, so that of a ring that carried it a thin one is left. On paper or transparency such a ring is
 * none: then the drawing lies by its own circle.
 * 3. Else the circle is that of what stays, unless the picture is a disc or fills its frame.
 * Cost: O(pixels). */
#include "inks/lettering.h"

#include "base/distance.h"
#include "base/mem.h"
#include "inks/inks.h"
#include "inks/steps.h"

#include <math.h>
#include <stdlib.h>

enum { BANDS = 16, DIRECTIONS = 256 };

static const double inner_least = 0.3;  /* of the radius: further in it goes round nothing; ours */
static const double ring_left = 0.12;   /* of the new radius: so much of a ring is left; ours */
static const double rings_least = 0.94; /* of a band: two inks hold it, where there are but rings; ours */

/* --- 1 --- */

static bool fill_out(InkMap *map, const Lettering *l, Err *err) {
    const size_t total = (size_t)map->width * (size_t)map->height;
    uint8_t *stays = mem_alloc(total, 1, err);
    int32_t *nearest = stays ? mem_alloc(total, sizeof *nearest, err) : NULL;
    for (size_t i = 0; nearest && i < total; i++) stays[i] = l->out[l->areas.of[i]] == 0;
    bool good = nearest && distance_transform(stays, map->width, map->height, NULL, nearest, err);
    for (size_t i = 0; good && i < total; i++)
        if (!stays[i]) map->label[i] = map->label[nearest[i]];
    free(nearest);
    free(stays);
    return good;
}

/* --- 2 --- */

/* The ink at a place; the field beyond the picture. */
static int ink_at(const InkMap *map, double x, double y) {
    if (x < 0 || y < 0 || x >= map->width || y >= map->height) return map->field;
    return map->label[(size_t)y * (size_t)map->width + (size_t)x];
}

/* How often each ink lies at a distance from the middle. */
static void count_round(const InkMap *map, double r, int count[INKS_MAX]) {
    for (int k = 0; k < INKS_MAX; k++) count[k] = 0;
    for (int d = 0; d < DIRECTIONS; d++) {
        const double angle = 2 * PI * d / DIRECTIONS;
        count[ink_at(map, map->circle.x + r * cos(angle), map->circle.y + r * sin(angle))]++;
    }
}

/* From `inner` to the circle there are only rings. */
static bool only_rings(const InkMap *map, double inner) {
    for (int b = 0; b < BANDS; b++) {
        int count[INKS_MAX], first = 0, second = 0;
        count_round(map, inner + (map->circle.r - inner) * (b + 0.5) / BANDS, count);
        for (int k = 0; k < map->count; k++) {
            if (count[k] > first) {
                second = first;
                first = count[k];
            } else if (count[k] > second) {
                second = count[k];
            }
        }
        if (first + second < rings_least * DIRECTIONS) return false;
    }
    return true;
}

/* Where the lettering begins that goes round the middle; 0: not all of it does. */
static double inner_edge(const InkMap *map, const Lettering *l) {
    double inner = map->circle.r;
    for (int r = 0; r < l->rows.count; r++) {
        if (!goes_round(&l->rows.row[r], map->circle)) return 0;
        inner = fmin(inner, l->rows.row[r].low);
    }
    return inner;
}

/* How far in the ground goes on from there. */
static double ring_inner(const InkMap *map, double inner, int ground) {
    int count[INKS_MAX];
    for (double r = inner; r > 0; r--) {
        count_round(map, r, count);
        if (2 * count[ground] < DIRECTIONS) return r;
    }
    return 0;
}

/* The rest goes to the ground, which is the field from now on. */
static void cut_round(InkMap *map, double r, int ground) {
    for (int y = 0; y < map->height; y++)
        for (int x = 0; x < map->width; x++) {
            double dx = x + 0.5 - map->circle.x, dy = y + 0.5 - map->circle.y;
            if (dx * dx + dy * dy > r * r)
                map->label[(size_t)y * (size_t)map->width + (size_t)x] = (uint8_t)ground;
        }
    map->field = ground;
}

static bool close_ring(InkMap *map, const Lettering *l, bool *closed, Err *err) {
    const double inner = inner_edge(map, l);
    const int ground = l->rows.row[0].ground;
    *closed = inner > inner_least * map->circle.r && inner < map->circle.r && !map->cropped &&
              !map->full_bleed && !map->beyond && only_rings(map, inner);
    if (!*closed) return true;
    const bool paper = map->ink[ground].transparent || is_paper(map->ink[ground].srgb);
    const double ring = ring_inner(map, inner, ground);
    const double r = fmin(map->circle.r, fmax(inner, ring / (1 - ring_left)));
    cut_round(map, r, ground);
    map->roundel = map->roundel && !paper;
    if (map->roundel) {
        map->circle.r = r;
        return true;
    }
    return foreground_circle(map->label, map->width, map->height, map->field, &map->circle, err);
}

bool leave_lettering_out(InkMap *map, Err *err) {
    Lettering l;
    bool closed, good;
    if (!lettering_set(map, &l, err)) return false;
    if (l.letters == 0)
        good = err_set(err, ERR_USAGE,
                       "--leave-out lettering: no lettering is found in the logo; name a point of each part");
    else if (!l.drawing)
        good = err_set(err, ERR_USAGE, "--leave-out lettering: no drawing is found beside it");
    else
        good = fill_out(map, &l, err) && close_ring(map, &l, &closed, err);
    if (good && !closed && !map->roundel && !map->cropped && !map->full_bleed && !map->beyond)
        good = foreground_circle(map->label, map->width, map->height, map->field, &map->circle, err);
    if (good) map->lettering = l.share;
    lettering_free(&l);
    return good;
}

bool find_lettering(const InkMap *map, double *share, Err *err) {
    Lettering l;
    if (!lettering_set(map, &l, err)) return false;
    *share = l.letters > 0 && l.drawing ? l.share : 0;
    lettering_free(&l);
    return true;
}
