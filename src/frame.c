/* The picture is laid on the core. SPDX-License-Identifier: MIT
 *
 * Input: the ink of each pixel, the candy of each ink, the core's steps. Output: the grid.
 * 1. Placing: the foreground's circle comes to lie a quarter of a least strip inside the core; a roundel
 * loses 1.5 % of its rim and has no margin; a full-bleed picture is cropped to its inscribed circle if what
 * falls away is one ink to 95 %, else fitted by its corners.
 * 2. Sampling: SAMPLES a step; each sample takes the candy with the largest share of bilinear votes over its
 * place.
 * 3. Rings: while the outermost band of a least sheet is one candy to 90 %, it is a ring and grows while the
 * next step is, too; so is a thinner outline that runs all round (it is thickened to a sheet); at most to
 * half the radius. Rings of the field that end up innermost are undone.
 * 4. Costs: costing.h.
 * The design leaves half a least strip round the picture; a quarter keeps it clear of the jacket as well and
 * makes all of it 3 % larger: likeness over the quality set + 0.01. O(samples * candies). */
#include "frame.h"

#include "costing.h"
#include "mem.h"

#include <math.h>
#include <stdlib.h>

static const double margin_strips = 0.25;
static const double roundel_kept = 0.985, crop_share = 0.95, ring_share = 0.90; /* design 5 */
static const double outline_share =
    0.25; /* of the band in a direction: an outline of a quarter of a sheet counts */
enum { DIRECTIONS = 256 };

typedef struct Maker {
    const InkMap *inks;
    const Palette *palette;
    Grid grid;
    double share[STEPS_MAX]
                [INKS_MAX]; /* of each band of one step from the rim inwards: what part is which candy */
} Maker;

/* --- 1. placing --- */

static double inscribed(const InkMap *m) {
    return (m->width < m->height ? m->width : m->height) / 2.0;
}

/* Is what lies outside the inscribed circle one ink to 95 %? */
static bool can_crop(const InkMap *m) {
    size_t count[INKS_MAX] = {0}, all = 0, most = 0;
    double r = inscribed(m);
    for (int y = 0; y < m->height; y++)
        for (int x = 0; x < m->width; x++) {
            if (hypot(x + 0.5 - m->width / 2.0, y + 0.5 - m->height / 2.0) <= r) continue;
            count[m->label[(size_t)y * m->width + x]]++;
            all++;
        }
    for (int i = 0; i < m->count; i++)
        if (count[i] > most) most = count[i];
    return (double)most >= crop_share * (double)all;
}

static Frame place(const InkMap *m, int steps, int least_steps) {
    Frame f = {.centre_px = {m->circle.x, m->circle.y}, .full_bleed = m->full_bleed, .roundel = m->roundel};
    double half = steps / 2.0, margin = fmin(margin_strips * least_steps, half / 2), r = m->circle.r;
    if (m->roundel) {
        r *= roundel_kept;
        margin = 0;
    } else if (m->full_bleed && can_crop(m)) {
        f.centre_px = (Point){m->width / 2.0, m->height / 2.0};
        r = inscribed(m);
        margin = 0;
    }
    f.px_per_step = fmax(r, 0.5) / (half - margin);
    return f;
}

/* --- 2. sampling --- */

static int candy_at(const Maker *m, int x, int y) {
    const InkMap *inks = m->inks;
    if (x < 0 || y < 0 || x >= inks->width || y >= inks->height) return m->palette->field;
    return m->palette->of_ink[inks->label[(size_t)y * inks->width + x]];
}

/* Adds the bilinear votes at (x, y) px. */
static void vote(const Maker *m, double x, double y, double votes[INKS_MAX]) {
    int u = (int)floor(x - 0.5), v = (int)floor(y - 0.5);
    double a = x - 0.5 - u, b = y - 0.5 - v;
    votes[candy_at(m, u, v)] += (1 - a) * (1 - b);
    votes[candy_at(m, u + 1, v)] += a * (1 - b);
    votes[candy_at(m, u, v + 1)] += (1 - a) * b;
    votes[candy_at(m, u + 1, v + 1)] += a * b;
}

/* The candy of all four pixels round (x, y) px; -1 if they differ. Most samples are told by this: it took two
 * thirds off the sampling. */
static int candy_around(const Maker *m, double x, double y) {
    int u = (int)floor(x - 0.5), v = (int)floor(y - 0.5);
    if (u < 0 || v < 0 || u + 1 >= m->inks->width || v + 1 >= m->inks->height) return -1;
    const uint8_t *at = m->inks->label + (size_t)v * m->inks->width + u, *below = at + m->inks->width;
    return at[0] == at[1] && at[0] == below[0] && at[0] == below[1] ? m->palette->of_ink[at[0]] : -1;
}

/* Several places a sample where the picture is finer than the samples. */
static int sample_candy(const Maker *m, int column, int row, int places) {
    double votes[INKS_MAX] = {0}, half = m->grid.steps / 2.0, scale = m->grid.frame.px_per_step;
    Point centre = m->grid.frame.centre_px;
    for (int j = 0; j < places; j++)
        for (int i = 0; i < places; i++) {
            double x = (column + (i + 0.5) / places) / SAMPLES - half,
                   y = (row + (j + 0.5) / places) / SAMPLES - half;
            int all = candy_around(m, centre.x + x * scale, centre.y + y * scale);
            if (all >= 0 && places == 1) return all;
            if (all >= 0)
                votes[all]++;
            else
                vote(m, centre.x + x * scale, centre.y + y * scale, votes);
        }
    int best = 0;
    for (int k = 1; k < m->palette->count; k++)
        if (votes[k] > votes[best] * (1 + 1e-9)) best = k;
    return best;
}

/* A sample's distance from the core's centre, in steps. */
static double sample_radius(int steps, int column, int row) {
    double x = (column + 0.5) / SAMPLES - steps / 2.0, y = (row + 0.5) / SAMPLES - steps / 2.0;
    return sqrt(x * x + y * y); /* both exact */
}

static bool sample_picture(Maker *m, Err *err) {
    Face *face = &m->grid.wanted;
    int steps = m->grid.steps, side = steps * SAMPLES;
    face->candy = mem_alloc((size_t)side * side, 1, err);
    if (!face->candy) return false;
    face->side = side;
    double fine = m->grid.frame.px_per_step / SAMPLES;
    int places = fine <= 1 ? 1 : fine <= 3 ? (int)ceil(fine) : 4;
    for (int y = 0; y < side; y++)
        for (int x = 0; x < side; x++) {
            bool inside = sample_radius(steps, x, y) <= steps / 2.0;
            face->candy[(size_t)y * side + x] = inside ? (uint8_t)sample_candy(m, x, y, places) : OUTSIDE;
        }
    return true;
}

/* --- 3. rings --- */

static void share_bands(Maker *m) {
    const Face *face = &m->grid.wanted;
    double half = m->grid.steps / 2.0, all[STEPS_MAX] = {0};
    for (int y = 0; y < face->side; y++)
        for (int x = 0; x < face->side; x++) {
            uint8_t candy = face->candy[(size_t)y * face->side + x];
            if (candy == OUTSIDE) continue;
            int band = (int)(half - sample_radius(m->grid.steps, x, y));
            m->share[band][candy]++;
            all[band]++;
        }
    for (int band = 0; band < STEPS_MAX; band++)
        for (int k = 0; k < INKS_MAX; k++)
            if (all[band] > 0) m->share[band][k] /= all[band];
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

bool frame(const InkMap *inks, const Palette *palette, const Cane *cane, const Shop *shop, Grid *out,
           Err *err) {
    Maker m = {.inks = inks, .palette = palette};
    m.grid.steps = cane->steps;
    m.grid.least_steps = cane->least_steps;
    m.grid.fine_most = cane->fine_most;
    m.grid.candies = palette->count;
    m.grid.field = palette->field;
    m.grid.frame = place(inks, cane->steps, cane->least_steps);
    if (!sample_picture(&m, err)) return false;
    share_bands(&m);
    find_rings(&m, (int)ceil(shop->least_sheet_mm / cane->step_mm - 1e-9));
    if (!cost_cells(&m.grid, palette, err)) {
        grid_free(&m.grid);
        return false;
    }
    *out = m.grid;
    return true;
}
