/* The picture is laid on the core. SPDX-License-Identifier: MIT
 *
 * Input: the ink of each pixel, the candy of each ink, the core's steps. Output: the grid.
 * 1. Placing: the circle comes to lie as far inside the core as the key says, clear of the jacket; a disc
 * that was cropped out of its picture fills the core, as does a roundel, which loses 1.5 % of its rim.
 * 2. Sampling: SAMPLES a step; each sample takes the candy with the largest share of bilinear votes over its
 * place.
 * 3. Rings: while the outermost band of a least sheet is one candy to 90 %, it is a ring and grows while the
 * next step is, too; so is a thinner outline that runs all round (it is thickened to a sheet); at most to
 * half the radius. Rings of the field that end up innermost are undone.
 * 4. Costs: of candy k in a cell, the mean over its samples of min(dE00(candy there, k), 25) / 25, each
 * sample weighed by a. clamp(least strip / t, 1, 2), t its thickness: thin strokes and gaps are thickened
 * rather than dropped, b. clamp((3 % / a)^0.2, 0.7, 1.6), a the share of the core that the part or hole
 * nearest to it holds: small parts are read as parts too, and likeness counts them by sqrt(a), c. 0.85 in the
 * field: too much of a part costs it less likeness than too little. Candies 25 apart are two colours to any
 * eye, as match_candy has it. Samples outside the laid-up core cost nothing. Cost: O(samples * candies); the
 * thicknesses of each candy, and the nearest parts, are tasks that threads share. The limits:
 * docs/numbers.md. */
#include "plan/plan.h"

#include "base/distance.h"
#include "base/mem.h"
#include "base/parallel.h"
#include "base/thickness.h"
#include "parts/parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double roundel_kept = 0.985, ring_share = 0.90; /* ours */
/* Of the band in a direction: an outline of a quarter of a sheet counts. */
static const double outline_share = 0.25;
static const double delta_cap = 25, emphasis_cap = 2, field_weight = 0.85;
static const double part_middling = 0.03, part_power = 0.2, part_least = 0.7, part_most = 1.6;

enum { DIRECTIONS = 256, THREADS_FROM = 320 /* samples a side: less is done before a thread is up */ };

typedef struct Maker {
    const InkMap *inks;
    const Palette *palette;
    Grid grid; /* what is made; owned until it is handed over */
    /* Of each band of one step, from the rim inwards: what part of it is which candy, 0..1. */
    double share[STEPS_MAX][INKS_MAX];
} Maker;

/* --- 1. placing --- */

static Frame place(const InkMap *m, const LayKey *key) {
    Frame f = {.centre_px = {m->circle.x, m->circle.y},
               .full_bleed = m->full_bleed,
               .roundel = m->roundel,
               .cropped = m->cropped};
    double half = key->steps / 2.0, margin = fmin(key->margin * key->least_steps, half / 2), r = m->circle.r;
    if (m->roundel) r *= roundel_kept;
    if (m->roundel || m->cropped) margin = 0;
    f.px_per_step = fmax(r, 0.5) / (half - margin);
    return f;
}

/* --- 2. sampling --- */

static int candy_at(const Maker *m, int x, int y) {
    const InkMap *inks = m->inks;
    if (x < 0 || y < 0 || x >= inks->width || y >= inks->height) return m->palette->field;
    return m->palette->of_ink[inks->label[(size_t)y * inks->width + x]];
}

/* Where a place lies among the pixels of a row or a column. */
typedef struct PixelPlace {
    int pixel;   /* the last whose middle is not beyond it; may lie outside the picture */
    double part; /* of the way from that middle to the next */
} PixelPlace;

/* The places of all columns, or rows, of samples: `places` each. */
static void fill_places(const Maker *m, double centre_px, int places, PixelPlace *out) {
    double half = m->grid.steps / 2.0;
    for (int i = 0; i < m->grid.steps * SAMPLES * places; i++) {
        double at = (i / places + (i % places + 0.5) / places) / SAMPLES - half; /* steps */
        double px = centre_px + at * m->grid.frame.px_per_step;
        int pixel = (int)floor(px - 0.5);
        out[i] = (PixelPlace){pixel, px - 0.5 - pixel};
    }
}

/* Adds the bilinear votes at a place. */
static void vote(const Maker *m, PixelPlace x, PixelPlace y, double votes[INKS_MAX]) {
    double a = x.part, b = y.part;
    votes[candy_at(m, x.pixel, y.pixel)] += (1 - a) * (1 - b);
    votes[candy_at(m, x.pixel + 1, y.pixel)] += a * (1 - b);
    votes[candy_at(m, x.pixel, y.pixel + 1)] += (1 - a) * b;
    votes[candy_at(m, x.pixel + 1, y.pixel + 1)] += a * b;
}

/* The candy of all pixels from (x0, y0) to (x1, y1); -1 if their inks differ. Most samples are told by
 * this, without a vote. */
static int candy_around(const Maker *m, int x0, int y0, int x1, int y1) {
    if (x0 < 0 || y0 < 0 || x1 >= m->inks->width || y1 >= m->inks->height) return -1;
    const uint8_t *row = m->inks->label + (size_t)y0 * m->inks->width;
    uint8_t ink = row[x0];
    for (int y = y0; y <= y1; y++, row += m->inks->width)
        for (int x = x0; x <= x1; x++)
            if (row[x] != ink) return -1;
    return m->palette->of_ink[ink];
}

/* The candy with the largest share of the votes at all pairs of places. */
static int elect_candy(const Maker *m, const PixelPlace *x, const PixelPlace *y, int places) {
    double votes[INKS_MAX] = {0};
    for (int j = 0; j < places; j++)
        for (int i = 0; i < places; i++) {
            int all = candy_around(m, x[i].pixel, y[j].pixel, x[i].pixel + 1, y[j].pixel + 1);
            if (all >= 0)
                votes[all]++;
            else
                vote(m, x[i], y[j], votes);
        }
    int best = 0;
    for (int k = 1; k < m->palette->count; k++)
        if (votes[k] > votes[best] * (1 + 1e-9)) best = k;
    return best;
}

/* Square of a sample's distance from the core's centre, in half samples: a whole number. The core's radius is
 * `side` of them. */
static int sample_square(int side, int column, int row) {
    int x = 2 * column + 1 - side, y = 2 * row + 1 - side;
    return x * x + y * y;
}

static void sample_row(const Maker *m, const PixelPlace *x, const PixelPlace *y, int places, int row,
                       uint8_t *candy) {
    int side = m->grid.wanted.side, last = places - 1;
    for (int column = 0; column < side; column++, x += places) {
        if (sample_square(side, column, row) > side * side) {
            candy[column] = OUTSIDE;
            continue;
        }
        int all = candy_around(m, x[0].pixel, y[0].pixel, x[last].pixel + 1, y[last].pixel + 1);
        candy[column] = (uint8_t)(all >= 0 ? all : elect_candy(m, x, y, places));
    }
}

/* Several places a sample where the picture is finer than the samples. */
static bool sample_picture(Maker *m, Err *err) {
    Face *face = &m->grid.wanted;
    int side = m->grid.steps * SAMPLES;
    double fine = m->grid.frame.px_per_step / SAMPLES;
    int places = fine <= 1 ? 1 : fine <= 3 ? (int)ceil(fine) : 4;
    size_t along = (size_t)side * places;
    PixelPlace *place = mem_alloc(2 * along, sizeof *place, err);
    face->candy = place ? mem_alloc((size_t)side * side, 1, err) : NULL;
    if (face->candy) {
        face->side = side;
        fill_places(m, m->grid.frame.centre_px.x, places, place);
        fill_places(m, m->grid.frame.centre_px.y, places, place + along);
        for (int y = 0; y < side; y++)
            sample_row(m, place, place + along + (size_t)y * places, places, y,
                       face->candy + (size_t)y * side);
    }
    free(place);
    return face->candy != NULL;
}

/* --- 3. rings --- */

/* From one sample to the next the band changes by one at most, or not at all. */
static void share_bands(Maker *m) {
    const Face *face = &m->grid.wanted;
    const int side = face->side, band_width = 2 * SAMPLES; /* half samples */
    int count[STEPS_MAX][INKS_MAX] = {{0}}, band = 0;
    for (int i = 0; i < side * side; i++) {
        if (face->candy[i] == OUTSIDE) continue;
        int square = sample_square(side, i % side, i / side);
        while (square > (side - band * band_width) * (side - band * band_width)) band--;
        for (int in; in = side - (band + 1) * band_width, in >= 0 && square <= in * in;) band++;
        count[band][face->candy[i]]++;
    }
    for (band = 0; band < STEPS_MAX; band++) {
        int all = 0;
        for (int k = 0; k < INKS_MAX; k++) all += count[band][k];
        for (int k = 0; k < INKS_MAX && all > 0; k++) m->share[band][k] = (double)count[band][k] / all;
    }
}

/* In how many of the directions candy k holds outline_share of the band from..from + sheet. */
static int directions_held(const Maker *m, int k, int from, int sheet) {
    const Face *face = &m->grid.wanted;
    double half = m->grid.steps / 2.0;
    int held = 0, samples = sheet * SAMPLES;
    for (int d = 0; d < DIRECTIONS; d++) {
        double angle = 2 * PI * d / DIRECTIONS;
        int hits = 0;
        for (int i = 0; i < samples; i++) {
            double r = half - from - (i + 0.5) / SAMPLES;
            int x = (int)((half + r * cos(angle)) * SAMPLES), y = (int)((half + r * sin(angle)) * SAMPLES);
            hits += face->candy[(size_t)y * face->side + x] == k;
        }
        held += hits >= outline_share * samples;
    }
    return held;
}

/* The candy that makes the band a ring, -1 if none. */
static int ring_candy(const Maker *m, int from, int sheet) {
    for (int k = 0; k < m->grid.candies; k++) {
        double share = 0;
        for (int band = from; band < from + sheet; band++) share += m->share[band][k] / sheet;
        if (share >= ring_share) return k;
    }
    for (int k = 0; k < m->grid.candies; k++)
        if (k != m->grid.field && directions_held(m, k, from, sheet) >= ring_share * DIRECTIONS) return k;
    return -1;
}

static void find_rings(Maker *m, int sheet) {
    Grid *g = &m->grid;
    double half = g->steps / 2.0;
    int at = 0;
    while (g->rings < RINGS_MAX && at + sheet <= half / 2) {
        int k = ring_candy(m, at, sheet), to = at + sheet;
        if (k < 0) break;
        while (to + 1 <= half / 2 && m->share[to][k] >= ring_share) to++;
        bool same = g->rings > 0 && g->ring[g->rings - 1].candy == k;
        if (!same) g->ring[g->rings++] = (Ring){k, half - at, 0};
        g->ring[g->rings - 1].inner = half - to;
        at = to;
    }
    while (g->rings > 0 && g->ring[g->rings - 1].candy == g->field) g->rings--;
    g->core = (Circle){half, half, g->rings > 0 ? g->ring[g->rings - 1].inner : half};
}

/* --- 4. costs --- */

typedef struct Weigher {
    const Grid *grid;
    size_t count;     /* samples */
    float *weight;    /* [count] the emphasis of each sample */
    Areas areas;      /* of the wanted raster; owned */
    int32_t *nearest; /* [count] the part or hole that is nearest to each sample */
} Weigher;

/* 4a. Sets the weight of the samples of candy k. */
static bool emphasise_thin(const Weigher *w, int k, Err *err) {
    const Grid *g = w->grid;
    double least = (double)g->least_steps * SAMPLES;
    uint8_t *site = mem_alloc(w->count, sizeof *site, err);
    float *thick = site ? mem_alloc(w->count, sizeof *thick, err) : NULL;
    for (size_t i = 0; thick && i < w->count; i++) {
        uint8_t candy = g->wanted.candy[i];
        site[i] = candy != k && !(k == g->field && candy == OUTSIDE); /* the field goes on beyond the rim */
    }
    bool done = thick && local_thickness(site, g->wanted.side, g->wanted.side, least, thick, err);
    for (size_t i = 0; done && i < w->count; i++)
        if (g->wanted.candy[i] == k)
            w->weight[i] = (float)fmin(fmax(least / fmax((double)thick[i], 1), 1), emphasis_cap);
    free(site);
    free(thick);
    return done;
}

/* 4b. */
static bool find_nearest(Weigher *w, Err *err) {
    int side = w->grid->wanted.side;
    uint8_t *site = mem_alloc(w->count, sizeof *site, err);
    bool done = site && areas_find(w->grid, &w->areas, err);
    for (size_t i = 0; done && i < w->count; i++)
        site[i] = w->areas.label[i] >= 0 && !w->areas.area[w->areas.label[i]].open;
    done = done && distance_transform(site, side, side, NULL, w->nearest, err);
    free(site);
    return done;
}

static bool do_task(void *context, int task, Err *err) {
    return task == 0 ? find_nearest(context, err) : emphasise_thin(context, task - 1, err);
}

static double part_weight(const Part *part, double core) {
    if (part->speck) return part_least;
    return fmin(fmax(pow(part_middling * core / part->samples, part_power), part_least), part_most);
}

/* 4b and 4c. */
static bool emphasise_parts(Weigher *w, Err *err) {
    const Areas *areas = &w->areas;
    double *part = mem_alloc((size_t)areas->count, sizeof *part, err), core = 0;
    if (!part) return false;
    for (int i = 0; i < areas->count; i++) core += areas->area[i].part.samples;
    for (int i = 0; i < areas->count; i++) part[i] = part_weight(&areas->area[i].part, core);
    for (size_t i = 0; i < w->count; i++) {
        if (w->grid->wanted.candy[i] == w->grid->field) w->weight[i] *= (float)field_weight;
        if (areas->label[i] < 0 || w->nearest[i] < 0) continue;
        w->weight[i] *= (float)part[areas->label[w->nearest[i]]];
    }
    free(part);
    return true;
}

static bool emphasise(Weigher *w, Err *err) {
    int threads = w->grid->wanted.side < THREADS_FROM ? 1 : 0;
    return parallel_tasks(w->grid->candies + 1, threads, do_task, w, err) && emphasise_parts(w, err);
}

static void fill_costs(Grid *g, const Palette *palette, float *weight) {
    int n = g->steps, side = g->wanted.side;
    for (int i = 0; i < g->candies; i++)
        for (int k = 0; k < g->candies; k++) {
            double e = delta_e00(rgb8_lab(palette->candy[i].srgb), rgb8_lab(palette->candy[k].srgb));
            g->apart[i][k] = fmin(e, delta_cap) / delta_cap;
        }
    for (int cell = 0; cell < n * n; cell++) {
        double held[INKS_MAX] = {0}; /* emphasised samples of each candy in the cell */
        int left = cell % n * SAMPLES, top = cell / n * SAMPLES;
        for (int y = top; y < top + SAMPLES; y++)
            for (int x = left; x < left + SAMPLES; x++) {
                uint8_t candy = g->wanted.candy[(size_t)y * side + x];
                float *here = weight + (size_t)y * side + x;
                if (candy != OUTSIDE && disc_holds(g->core, SAMPLES, x, y))
                    held[candy] += (double)*here;
                else
                    *here = 0;
            }
        for (int k = 0; k < g->candies; k++) {
            double cost = 0;
            for (int i = 0; i < g->candies; i++) cost += held[i] * g->apart[i][k];
            g->cost[(size_t)k * n * n + cell] = (int32_t)lround(cost / (SAMPLES * SAMPLES) * COST_ONE);
        }
    }
}

/* Fills grid->cost and grid->weight; they may be set after a failure, and are the grid's to free. */
static bool cost_cells(Grid *grid, const Palette *palette, Err *err) {
    size_t count = (size_t)grid->wanted.side * grid->wanted.side;
    Weigher w = {.grid = grid, .count = count};
    bool done = (w.nearest = mem_alloc(count, sizeof *w.nearest, err)) &&
                (w.weight = mem_alloc(count, sizeof *w.weight, err)) &&
                (grid->cost =
                     mem_alloc((size_t)grid->candies * grid->steps * grid->steps, sizeof *grid->cost, err)) &&
                emphasise(&w, err);
    if (done) fill_costs(grid, palette, w.weight);
    areas_free(&w.areas);
    free(w.nearest);
    grid->weight = w.weight;
    return done;
}

bool frame(const InkMap *inks, const Palette *palette, const LayKey *key, Grid *out, Err *err) {
    Maker m = {.inks = inks, .palette = palette};
    m.grid.steps = key->steps;
    m.grid.least_steps = key->least_steps;
    m.grid.fine_most = key->fine_most;
    m.grid.candies = palette->count;
    m.grid.field = palette->field;
    m.grid.frame = place(inks, key);
    if (!sample_picture(&m, err)) return false;
    share_bands(&m);
    find_rings(&m, key->sheet_steps);
    if (!cost_cells(&m.grid, palette, err)) {
        grid_free(&m.grid);
        return false;
    }
    *out = m.grid;
    return true;
}

bool frame_redrawn(const Grid *grid, const Palette *palette, const LayKey *key, const uint8_t *wanted,
                   Grid *out, Err *err) {
    size_t samples = (size_t)grid->wanted.side * grid->wanted.side;
    Maker m = {.palette = palette, .grid = *grid};
    m.grid.rings = 0;
    m.grid.cost = NULL;
    m.grid.weight = NULL;
    m.grid.wanted.candy = mem_alloc(samples, 1, err);
    if (!m.grid.wanted.candy) return false;
    memcpy(m.grid.wanted.candy, wanted, samples);
    share_bands(&m);
    find_rings(&m, key->sheet_steps);
    if (!cost_cells(&m.grid, palette, err)) {
        grid_free(&m.grid);
        return false;
    }
    *out = m.grid;
    return true;
}
