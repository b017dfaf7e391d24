/* Face as sent and lay-up -> what of it is finer than hands lay. SPDX-License-Identifier: MIT
 *
 * 1. Every second sample each way is looked at: it is for the eye, and four times as fast.
 * 2. Of each candy: where the largest disc inside it that covers a point is thinner than hands lay there (a
 * least strip, half of one in a fine block, a sheet as thick as it is) by more than one point. The field goes
 * on beyond the core.
 * 3. A corner is no stroke: what lies within a quarter of a least strip of where its candy is thick enough is
 * left out (the tip of a right angle is 0.21 of it off). Cost: two distance transforms and local thickness
 * for each candy, on a quarter of the samples. */
#include "plan/plan.h"

#include "base/distance.h"
#include "base/mem.h"
#include "base/thickness.h"
#include "model/wrapped.h"

#include <math.h>
#include <stdlib.h>

enum { EVERY = 2 };

static const double corner = 0.25; /* least strips */

typedef struct Marker {
    const Grid *grid;
    int side;        /* points inside */
    int room;        /* points round them, for the discs of a gap along the rim */
    uint8_t *site;   /* [side + 2 room][side + 2 room] owned */
    float *thick;    /* likewise */
    float *least;    /* [side + 2 room][side + 2 room] the least strip there, in points; owned */
    int32_t *square; /* likewise */
} Marker;

/* The candy at a point of the scratch; the field beyond the core. */
static int candy_at(const Marker *m, int x, int y) {
    int side = m->grid->wanted.side, u = (x - m->room) * EVERY, v = (y - m->room) * EVERY;
    if (u < 0 || v < 0 || u >= side || v >= side) return m->grid->field;
    int candy = face_as_sent(m->grid)->candy[(size_t)v * side + u];
    return candy == OUTSIDE ? m->grid->field : candy;
}

/* Where a sheet lies hands lay lines as thin as it is. */
static void fill_sheet(const Wrap *wrap, Marker *m) {
    const int wide = m->side + 2 * m->room, points = SAMPLES / EVERY;
    const Circle disc = square_disc(&wrap->outline); /* of a round one */
    const double inner = disc.r - wrap->thickness;
    const float least = (float)(wrap->thickness * points);
    for (int y = 0; y < m->side; y++)
        for (int x = 0; x < m->side; x++) {
            Point p = {(x + 0.5) / points, (y + 0.5) / points};
            double r2 = (p.x - disc.x) * (p.x - disc.x) + (p.y - disc.y) * (p.y - disc.y);
            bool within = wrap->round
                              ? r2 <= disc.r * disc.r && r2 >= inner * inner
                              : outline_side(&wrap->outline, p) >= 0 && outline_side(&wrap->inner, p) <= 0;
            float *at = &m->least[(size_t)(y + m->room) * wide + x + m->room];
            if (within && least < *at) *at = least;
        }
}

/* What hands lay at each point: in the ropes of fine blocks half a least strip. */
static void fill_least(const LayUp *layup, Marker *m) {
    const Grid *grid = m->grid;
    const int wide = m->side + 2 * m->room, points = SAMPLES / EVERY;
    float least = (float)(m->grid->least_steps * points);
    for (int i = 0; i < wide * wide; i++) m->least[i] = least;
    layup_fine(layup, grid->core, points, m->side, m->site); /* which is free yet */
    for (int y = 0; y < m->side; y++)
        for (int x = 0; x < m->side; x++)
            if (m->site[(size_t)y * m->side + x])
                m->least[(size_t)(y + m->room) * wide + x + m->room] = least / 2;
    for (int i = 0; i < layup->wraps; i++) fill_sheet(&layup->wrap[i], m);
}

static bool mark_candy(Marker *m, int candy, uint8_t *fine, Err *err) {
    int wide = m->side + 2 * m->room;
    double cap = (double)m->grid->least_steps * SAMPLES / EVERY;
    for (int i = 0; i < wide * wide; i++) m->site[i] = candy_at(m, i % wide, i / wide) != candy;
    if (!local_thickness(m->site, wide, wide, cap, m->thick, err)) return false; /* 2 */
    for (int i = 0; i < wide * wide; i++) m->site[i] = m->thick[i] + 1 >= m->least[i];
    if (!distance_transform(m->site, wide, wide, m->square, NULL, err)) return false; /* 3 */
    for (int y = m->room; y < m->room + m->side; y++)
        for (int x = m->room; x < m->room + m->side; x++) {
            size_t i = (size_t)y * wide + x;
            double near = corner * (double)m->least[i];
            if (m->thick[i] <= 0 || m->site[i] || m->square[i] <= near * near) continue;
            if (disc_holds(m->grid->core, SAMPLES, (x - m->room) * EVERY, (y - m->room) * EVERY))
                fine[(size_t)(y - m->room) * m->side + x - m->room] =
                    candy == m->grid->field ? FINE_GAP : FINE_STROKE;
        }
    return true;
}

bool mark_fine(const Grid *grid, const LayUp *layup, FineMap *out, Err *err) {
    Marker m = {.grid = grid, .side = (grid->wanted.side + EVERY - 1) / EVERY}; /* 1 */
    m.room = grid->least_steps * SAMPLES / EVERY / 2 + 1;
    size_t wide = (size_t)m.side + 2 * (size_t)m.room;
    FineMap map = {m.side, mem_alloc((size_t)m.side * m.side, 1, err)};
    m.site = mem_alloc(wide * wide, 1, err);
    m.thick = mem_alloc(wide * wide, sizeof *m.thick, err);
    m.least = mem_alloc(wide * wide, sizeof *m.least, err);
    m.square = mem_alloc(wide * wide, sizeof *m.square, err);
    bool done = map.fine && m.site && m.thick && m.least && m.square;
    if (done) fill_least(layup, &m);
    for (int k = 0; done && k < grid->candies; k++) done = mark_candy(&m, k, map.fine, err);
    free(m.site);
    free(m.thick);
    free(m.least);
    free(m.square);
    if (done)
        *out = map;
    else
        fine_map_free(&map);
    return done;
}
