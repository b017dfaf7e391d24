/* What each candy would cost in each cell. SPDX-License-Identifier: MIT
 *
 * Input: the grid with the face that hands should aim at. Output: costs and emphasis.
 * 1. Of candy k in a cell, the mean over its samples of how far the candy there is apart from k, each sample
 * weighed by a. clamp(least strip / t, 1, 2), t its thickness: thin strokes and gaps are thickened rather
 * than dropped, b. clamp((3 % / a)^0.2, 0.7, 1.6), a the share of the core that the part or hole nearest to
 * it holds: small parts are read as parts too, and likeness counts them by sqrt(a), c. 0.85 in the field: too
 * much of a part costs it less likeness than too little. Samples outside the laid-up core cost nothing. Cost:
 * O(samples * candies); the thicknesses of each candy, and the nearest parts, are tasks that threads share.
 * The limits: docs/numbers.md. */
#include "plan/plan.h"

#include "base/distance.h"
#include "base/mem.h"
#include "base/parallel.h"
#include "base/thickness.h"
#include "parts/parts.h"

#include <math.h>
#include <stdlib.h>

static const double emphasis_cap = 2, field_weight = 0.85;
static const double part_middling = 0.03, part_power = 0.2, part_least = 0.7, part_most = 1.6;

enum { THREADS_FROM = 320 /* samples a side: less is done before a thread is up */ };

typedef struct Weigher {
    const Grid *grid;
    size_t count;     /* samples */
    float *weight;    /* [count] the emphasis of each sample */
    Areas areas;      /* of the wanted raster; owned */
    int32_t *nearest; /* [count] the part or hole that is nearest to each sample */
} Weigher;

/* a. Sets the weight of the samples of candy k. */
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

/* b. */
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

/* b and c. */
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

static void fill_costs(Grid *g, float *weight) {
    int n = g->steps, side = g->wanted.side;
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

bool cost_cells(Grid *grid, Err *err) {
    size_t count = (size_t)grid->wanted.side * grid->wanted.side;
    Weigher w = {.grid = grid, .count = count};
    bool done = (w.nearest = mem_alloc(count, sizeof *w.nearest, err)) &&
                (w.weight = mem_alloc(count, sizeof *w.weight, err)) &&
                (grid->cost =
                     mem_alloc((size_t)grid->candies * grid->steps * grid->steps, sizeof *grid->cost, err)) &&
                emphasise(&w, err);
    if (done) fill_costs(grid, w.weight);
    areas_free(&w.areas);
    free(w.nearest);
    grid->weight = w.weight;
    return done;
}
