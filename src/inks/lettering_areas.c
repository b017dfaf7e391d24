/* What the picture is made of: its areas, and which could be letters by their size. SPDX-License-Identifier:
 * MIT
 *
 * 1. Areas as ink_areas has them; their pixels, boxes, borders.
 * 2. Thickness: the distance of each pixel from the rim of its area.
 * 3. Shapes: areas inside the circle, neither too small to be told from a spot nor so large that they are the
 * drawing. How far each reaches in so many directions is its convex hull, near enough.
 * Cost: O(pixels), and the directions for each pixel at an end of its row in a shape. */
#include "inks/lettering.h"

#include "base/distance.h"
#include "base/mem.h"
#include "inks/inks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Of the circle's diameter. Chosen: a letter smaller than that is not read on any piece; a larger one is the
 * drawing. */
static const double least_high = 0.012, most_high = 0.45;

enum {
    SHAPE_PIXELS = 12,
    SHAPE_SIDE = 6,     /* px: a shape's longer side */
    SHAPES_MOST = 1500, /* more are noise or a pattern: none are looked at; */
    AREAS_MOST = 20000  /* nor of so many areas */
};

/* --- 1 --- */

static void grow_box(Box *box, int x, int y) {
    if (box->w == 0) *box = (Box){x, y, 1, 1};
    if (x < box->x) *box = (Box){x, box->y, box->x + box->w - x, box->h};
    if (x >= box->x + box->w) box->w = x + 1 - box->x;
    if (y >= box->y + box->h) box->h = y + 1 - box->y;
}

/* site[height][width]: 1 beside another area, or at the picture's edge. */
static void survey(InkAreas *a, uint8_t *rim) {
    const int w = a->map->width, h = a->map->height;
    const Circle c = a->map->circle;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            const size_t i = (size_t)y * (size_t)w + (size_t)x;
            const size_t beside[4] = {i - 1, i + 1, i - (size_t)w, i + (size_t)w};
            const bool inside[4] = {x > 0, x + 1 < w, y > 0, y + 1 < h};
            InkArea *area = &a->area[a->of[i]];
            area->ink = a->map->label[i];
            area->pixels++;
            area->middle.x += x + 0.5;
            area->middle.y += y + 0.5;
            grow_box(&area->box, x, y);
            for (int d = 0; d < 4; d++) {
                bool other = !inside[d] || a->of[beside[d]] != a->of[i];
                area->border += other;
                rim[i] |= other;
            }
            const double dx = x + 0.5 - c.x, dy = y + 0.5 - c.y;
            bool beyond =
                !inside[0] || !inside[1] || !inside[2] || !inside[3] || dx * dx + dy * dy > c.r * c.r;
            if (beyond && area->ink == a->map->field) area->open = true;
        }
    for (int k = 0; k < a->count; k++) {
        a->area[k].middle.x /= a->area[k].pixels;
        a->area[k].middle.y /= a->area[k].pixels;
    }
}

/* --- 2 --- */

static bool measure_thickness(InkAreas *a, const uint8_t *rim, Err *err) {
    const int w = a->map->width, h = a->map->height, limit = (int)ceil(a->thick_most) + 1;
    int32_t *depth = mem_alloc((size_t)w * (size_t)h, sizeof *depth, err);
    if (!depth || !distance_under(rim, w, h, limit, depth, err)) {
        free(depth);
        return false;
    }
    for (size_t i = 0; i < (size_t)w * (size_t)h; i++) {
        InkArea *area = &a->area[a->of[i]];
        if (depth[i] > area->thick) area->thick = depth[i];
    }
    for (int k = 0; k < a->count; k++) a->area[k].thick = 2 * fmin(sqrt(a->area[k].thick), limit) + 1;
    free(depth);
    return true;
}

/* --- 3 --- */

static bool can_be_shape(const InkAreas *a, const InkArea *area) {
    const Circle c = a->map->circle;
    const double x = area->middle.x - c.x, y = area->middle.y - c.y;
    const int side = area->box.w > area->box.h ? area->box.w : area->box.h;
    return !area->open && area->pixels >= SHAPE_PIXELS && side >= SHAPE_SIDE &&
           side >= least_high * 2 * c.r && side <= most_high * 2 * c.r && x * x + y * y <= c.r * c.r;
}

static void reach_out(Shape *shape, Point *hull, const Point way[REACHES], double x, double y, Point middle) {
    for (int d = 0; d < REACHES; d++) {
        double reach = (x - middle.x) * way[d].x + (y - middle.y) * way[d].y;
        if (reach <= shape->reach[d]) continue;
        shape->reach[d] = reach;
        hull[d] = (Point){x, y};
    }
}

/* Of each row of pixels only the ends can reach farthest; ground[shape][ink] counts what its border meets. */
static void measure_shapes(InkAreas *a, Point (*hull)[REACHES], int (*ground)[INKS_MAX]) {
    const int w = a->map->width, h = a->map->height;
    Point way[REACHES];
    for (int d = 0; d < REACHES; d++) way[d] = (Point){cos(2 * PI * d / REACHES), sin(2 * PI * d / REACHES)};
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            const size_t i = (size_t)y * (size_t)w + (size_t)x;
            const InkArea *area = &a->area[a->of[i]];
            if (area->letter < 0) continue;
            Shape *shape = &a->shape[area->letter];
            const size_t beside[4] = {i - 1, i + 1, i - (size_t)w, i + (size_t)w};
            const bool inside[4] = {x > 0, x + 1 < w, y > 0, y + 1 < h};
            bool end = false;
            for (int d = 0; d < 4; d++) {
                if (inside[d] && a->of[beside[d]] == a->of[i]) continue;
                if (d < 2) end = true;
                if (inside[d]) ground[area->letter][a->map->label[beside[d]]]++;
            }
            for (int k = 0; end && k < 4; k++)
                reach_out(shape, hull[area->letter], way, x + (k & 1), y + (k >> 1), area->middle);
        }
}

static void finish_shape(const InkAreas *a, Shape *shape, const Point hull[REACHES],
                         const int ground[INKS_MAX]) {
    const InkArea *area = &a->area[shape->area];
    for (int k = 1; k < a->map->count; k++)
        if (ground[k] > ground[shape->ground]) shape->ground = k;
    shape->grounded = (double)ground[shape->ground] / (area->border > 0 ? area->border : 1);
    shape->solid = area->pixels / fmax(polygon_area(hull, REACHES), 1);
}

static bool find_shapes(InkAreas *a, Err *err) {
    int found = 0;
    for (int k = 0; k < a->count; k++) a->area[k].letter = can_be_shape(a, &a->area[k]) ? found++ : -1;
    if (found > SHAPES_MOST || a->count > AREAS_MOST) {
        for (int k = 0; k < a->count; k++) a->area[k].letter = -1;
        found = 0;
    }
    a->shapes = found;
    a->shape = mem_alloc((size_t)found, sizeof *a->shape, err);
    Point(*hull)[REACHES] = a->shape ? mem_alloc((size_t)found, sizeof *hull, err) : NULL;
    int(*ground)[INKS_MAX] = hull ? mem_alloc((size_t)found, sizeof *ground, err) : NULL;
    for (int k = 0; ground && k < a->count; k++)
        if (a->area[k].letter >= 0) a->shape[a->area[k].letter].area = k;
    if (ground) measure_shapes(a, hull, ground);
    for (int s = 0; ground && s < found; s++) finish_shape(a, &a->shape[s], hull[s], ground[s]);
    bool good = ground != NULL;
    free(ground);
    free(hull);
    return good;
}

void lettering_areas_free(InkAreas *areas) {
    free(areas->of);
    free(areas->area);
    free(areas->shape);
    *areas = (InkAreas){0};
}

bool lettering_areas(const InkMap *map, InkAreas *out, Err *err) {
    const size_t total = (size_t)map->width * (size_t)map->height;
    InkAreas a = {.map = map, .thick_most = map->circle.r * most_high / 2};
    uint8_t *rim = mem_alloc(total, 1, err);
    a.of = rim ? mem_alloc(total, sizeof *a.of, err) : NULL;
    if (a.of) a.count = ink_areas(map, a.of);
    a.area = a.of ? mem_alloc((size_t)a.count, sizeof *a.area, err) : NULL;
    if (a.area) survey(&a, rim);
    bool good = a.area && measure_thickness(&a, rim, err) && find_shapes(&a, err);
    if (good) {
        *out = a;
        a = (InkAreas){0};
    }
    free(rim);
    lettering_areas_free(&a);
    return good;
}
