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
 * 4. Apart: what one candy costs in the other's place, min(dE00, 25) / 25: candies 25 apart are two colours
 * to any eye, as match_candy has it. Cost: O(samples). The limits: docs/numbers.md. */
#include "plan/plan.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double roundel_kept = 0.985, ring_share = 0.90; /* ours */
/* Of the band in a direction: an outline of a quarter of a sheet counts. */
static const double outline_share = 0.25;
static const double delta_cap = 25;

enum { DIRECTIONS = 256 };

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

/* --- 4. apart --- */

static void fill_apart(Grid *g, const Palette *palette) {
    for (int i = 0; i < g->candies; i++)
        for (int k = 0; k < g->candies; k++) {
            double e = delta_e00(rgb8_lab(palette->candy[i].srgb), rgb8_lab(palette->candy[k].srgb));
            g->apart[i][k] = fmin(e, delta_cap) / delta_cap;
        }
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
    fill_apart(&m.grid, palette);
    *out = m.grid;
    return true;
}

bool frame_redrawn(const Grid *grid, const LayKey *key, const uint8_t *wanted, Grid *out, Err *err) {
    size_t samples = (size_t)grid->wanted.side * grid->wanted.side;
    Maker m = {.grid = *grid};
    m.grid.rings = 0;
    m.grid.cost = NULL;
    m.grid.weight = NULL;
    m.grid.sent = (Face){grid->wanted.side, mem_alloc(samples, 1, err)};
    m.grid.wanted.candy = m.grid.sent.candy ? mem_alloc(samples, 1, err) : NULL;
    if (!m.grid.wanted.candy) {
        grid_free(&m.grid);
        return false;
    }
    memcpy(m.grid.sent.candy, face_as_sent(grid)->candy, samples);
    memcpy(m.grid.wanted.candy, wanted, samples);
    share_bands(&m);
    find_rings(&m, key->sheet_steps);
    *out = m.grid;
    return true;
}
