/* How much of the drawing shows: its borders. SPDX-License-Identifier: MIT
 *
 * Parts and likeness go by what the logo was matched to and redrawn as; what became one candy with what lies
 * round it, or was left out as a line, is in neither. An eye sees where colours meet.
 * 1. Where two inks of the logo as sent meet, a border as strong as they are far apart in CIELAB: nothing
 * under `weakest`, no more than `strongest`.
 * 2. Likewise where candies of the softened face meet.
 * 3. A border of the logo is kept as far as there is one as strong in the face within `near_strips` least
 * strips. The value: what is kept of all, by strength. A picture without borders keeps all. Cost: samples,
 * and for each on a border the samples near it: 5 to 30 ms. */
#include "judge/checks.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static const double weakest = 8, strongest = 40;      /* CIELAB distance; by the 65 labelled pictures */
static const double near_strips = 0.45;               /* of a least strip */
static const double drawn_go = 65, drawn_change = 35; /* %; by the 65 labelled pictures: decisions.md */

/* Borders as bytes: 0..255 for 0..strongest. */
typedef struct Strengths {
    uint8_t of[INKS_MAX][INKS_MAX];
} Strengths;

static uint8_t strength_of(Rgb8 one, Rgb8 other) {
    const Lab p = rgb8_lab(one), q = rgb8_lab(other);
    double apart = sqrt((p.l - q.l) * (p.l - q.l) + (p.a - q.a) * (p.a - q.a) + (p.b - q.b) * (p.b - q.b));
    return (uint8_t)(apart < weakest ? 0 : 255 * fmin(apart, strongest) / strongest);
}

/* What is transparent stands on the field's candy. */
static Strengths strengths_of_inks(const Job *job) {
    Strengths s = {0};
    const InkMap *inks = job->inks;
    const Rgb8 field = job->palette.candy[job->palette.field].srgb;
    for (int a = 0; a < inks->count; a++)
        for (int b = 0; b < inks->count; b++)
            s.of[a][b] = strength_of(inks->ink[a].transparent ? field : inks->ink[a].srgb,
                                     inks->ink[b].transparent ? field : inks->ink[b].srgb);
    return s;
}

static Strengths strengths_of_candies(const Palette *palette) {
    Strengths s = {0};
    for (int a = 0; a < palette->count; a++)
        for (int b = 0; b < palette->count; b++)
            s.of[a][b] = strength_of(palette->candy[a].srgb, palette->candy[b].srgb);
    return s;
}

/* The ink under a sample of the face; the field's beyond the picture. */
static int ink_at(const Job *job, int x, int y) {
    const InkMap *inks = job->inks;
    const Frame *frame = &job->grid.frame;
    const double half = job->face.side / 2.0, per_sample = frame->px_per_step / SAMPLES;
    double column = floor(frame->centre_px.x + (x + 0.5 - half) * per_sample);
    double row = floor(frame->centre_px.y + (y + 0.5 - half) * per_sample);
    if (column < 0 || row < 0 || column >= inks->width || row >= inks->height) return inks->field;
    return inks->label[(size_t)row * (size_t)inks->width + (size_t)column];
}

static bool inside(const Face *face, int x, int y) {
    return x >= 0 && y >= 0 && x < face->side && y < face->side &&
           face->candy[(size_t)y * (size_t)face->side + (size_t)x] != OUTSIDE;
}

/* [side][side]: how strong the border is between a sample and those right of it and below. */
static void mark_borders(const Job *job, uint8_t *logo, uint8_t *face) {
    const Face *f = &job->face;
    const Strengths inks = strengths_of_inks(job), candies = strengths_of_candies(&job->palette);
    for (int y = 0; y < f->side; y++)
        for (int x = 0; x < f->side; x++) {
            if (!inside(f, x, y)) continue;
            const size_t at = (size_t)y * (size_t)f->side + (size_t)x;
            const int ink = ink_at(job, x, y);
            for (int k = 0; k < 2; k++) {
                const int u = x + (k == 0), v = y + (k == 1);
                if (!inside(f, u, v)) continue;
                uint8_t sent = inks.of[ink][ink_at(job, u, v)];
                uint8_t came = candies.of[f->candy[at]][f->candy[(size_t)v * (size_t)f->side + (size_t)u]];
                if (sent > logo[at]) logo[at] = sent;
                if (came > face[at]) face[at] = came;
            }
        }
}

/* The strongest border within `reach` samples, but no more than `enough`. */
static int strongest_near(const uint8_t *face, int side, int x, int y, int reach, int enough) {
    int most = 0;
    for (int v = y - reach; v <= y + reach && most < enough; v++)
        for (int u = x - reach; u <= x + reach && most < enough; u++) {
            bool near = (u - x) * (u - x) + (v - y) * (v - y) <= reach * reach;
            if (!near || u < 0 || v < 0 || u >= side || v >= side) continue;
            int here = face[(size_t)v * (size_t)side + (size_t)u];
            if (here > most) most = here;
        }
    return most < enough ? most : enough;
}

bool check_drawn(const Job *job, Judgement *j, Err *err) {
    const int side = job->face.side, reach = (int)lround(near_strips * job->grid.least_steps * SAMPLES);
    const size_t samples = (size_t)side * (size_t)side;
    uint8_t *border = mem_alloc(2 * samples, 1, err); /* of the logo, then of the face */
    double all = 0, kept = 0;
    if (!border) return false;
    mark_borders(job, border, border + samples);
    for (int y = 0; y < side; y++)
        for (int x = 0; x < side; x++) {
            const int sent = border[(size_t)y * (size_t)side + (size_t)x];
            if (sent == 0) continue;
            all += sent;
            kept += strongest_near(border + samples, side, x, y, reach, sent);
        }
    free(border);
    const double share = all > 0 ? 100 * kept / all : 100;
    check_add(j, CHECK_DRAWN, share, drawn_go, true, at_least(share, drawn_go, drawn_change));
    return true;
}
