/* The areas of a logo on the core. SPDX-License-Identifier: MIT */
#include "parts/parts.h"

#include "base/components.h"
#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

/* docs/numbers.md tells of these. */
static const double speck_share = 0.0015, main_share = 0.03, ring_share = 0.9;

bool areas_inside(const Areas *areas, int x, int y) {
    const int side = areas->side;
    if (x == 0 || y == 0 || x == side - 1 || y == side - 1) return false;
    const int32_t *label = areas->label + (size_t)y * side + x;
    return label[-1] == *label && label[1] == *label && label[-side] == *label && label[side] == *label;
}

bool areas_inside_round(const Areas *areas, int x, int y, Point from, Point to) {
    const double near2 = 4; /* samples: one step to a neighbour leads no farther than 2 */
    if (from.x * from.x + from.y * from.y < near2 || !areas_inside(areas, x, y)) return false;
    const double along = from.x * to.x + from.y * to.y, off = from.x * to.y - from.y * to.x;
    return along > 0 || off * off > near2 * (to.x * to.x + to.y * to.y);
}

bool areas_in_rings(const Grid *grid, int x, int y) {
    return grid->rings > 0 && !disc_holds(grid->core, SAMPLES, x, y);
}

static bool on_the_edge(const Areas *w, int x, int y) {
    if (x == 0 || y == 0 || x == w->side - 1 || y == w->side - 1) return true;
    const uint8_t *at = w->grid->wanted.candy + (size_t)y * w->side + x;
    return at[-1] == OUTSIDE || at[1] == OUTSIDE || at[-w->side] == OUTSIDE || at[w->side] == OUTSIDE;
}

/* Adds sample (x, y), which lies in the core, to its area. Samples come row by row. */
static void take_sample(Areas *w, int x, int y) {
    size_t i = (size_t)y * w->side + x;
    FaceArea *area = &w->area[w->label[i]];
    Part *part = &area->part;
    if (part->samples == 0) {
        part->candy = w->grid->wanted.candy[i];
        part->hole = part->candy == w->grid->field;
        part->box = (Box){x, y, 1, 1};
    }
    Box *box = &part->box; /* the top never moves */
    if (x < box->x) {
        box->w += box->x - x;
        box->x = x;
    }
    if (x >= box->x + box->w) box->w = x + 1 - box->x;
    box->h = y + 1 - box->y;
    part->samples++;
    part->middle.x += x + 0.5;
    part->middle.y += y + 0.5;
    area->in_rings += areas_in_rings(w->grid, x, y);
    if (part->hole && on_the_edge(w, x, y)) area->open = true;
}

/* Where specks are half of what is drawn, as in a hair-fine script that the sampling broke up, they are the
 * drawing and no specks. */
static void size_areas(Areas *w) {
    int core = 0, all = 0, specks = 0; /* samples */
    for (int y = 0; y < w->side; y++)
        for (int x = 0; x < w->side; x++) {
            if (w->grid->wanted.candy[(size_t)y * w->side + x] == OUTSIDE) continue;
            core++;
            take_sample(w, x, y);
        }
    for (int i = 0; i < w->count; i++) {
        Part *part = &w->area[i].part;
        part->middle.x /= part->samples;
        part->middle.y /= part->samples;
        part->speck = part->samples < speck_share * core;
        part->ring = w->area[i].in_rings >= ring_share * part->samples;
        if (w->area[i].open) continue;
        all += part->samples;
        if (part->speck) specks += part->samples;
    }
    for (int i = 0; i < w->count; i++) {
        Part *part = &w->area[i].part;
        part->speck = part->speck && 2 * specks < all;
        part->main = !w->area[i].open && !part->speck && part->samples >= main_share * all;
    }
}

void areas_free(Areas *areas) {
    free(areas->label);
    free(areas->area);
    *areas = (Areas){0};
}

bool areas_find(const Grid *grid, Areas *out, Err *err) {
    Areas w = {.grid = grid, .side = grid->wanted.side};
    uint8_t ways[256];
    memset(ways, 8, sizeof ways);
    ways[grid->field] = 4;
    ways[OUTSIDE] = 0;
    w.label = mem_alloc((size_t)w.side * (size_t)w.side, sizeof *w.label, err);
    if (!w.label) return false;
    w.count = components(grid->wanted.candy, w.side, w.side, ways, w.label);
    w.area = mem_alloc((size_t)w.count, sizeof *w.area, err);
    if (!w.area) {
        areas_free(&w);
        return false;
    }
    size_areas(&w);
    *out = w;
    return true;
}
