/* How a picture is best redrawn for hands. SPDX-License-Identifier: MIT
 *
 * Input: a job whose grid is framed. Output: the grid redrawn, and what each way was worth.
 * 1. Each way is tried coarsely (coarse.h), threads share them; of those that come to the same face the
 * first. Where all do, as they must without a line, nothing is tried.
 * 2. The worth of a way: likeness to the logo as sent, in which a line that is left out counts as a part that
 * is as like as it is not missed; and features kept; less what its ropes cost. The best is taken, of those as
 * good the first. Cost: less than half of a lay-up with its search. */
#include "run/choose_way.h"

#include "base/parallel.h"
#include "plan/plan.h"
#include "run/coarse.h"

#include <math.h>
#include <string.h>

static const double line_missed = 0.1;                          /* of any line that is left out; ours */
static const double features_worth = 0.05, rope_worth = 0.0007; /* ours, chosen by eye */

typedef struct Choosing {
    const Job *job;
    Job piece[REDRAW_WAYS]; /* framed and redrawn coarsely, then, of the tries, finished; owned */
    int tries;
    RedrawWay way[REDRAW_WAYS]; /* [tries] those whose faces differ */
    double worth[REDRAW_WAYS];
} Choosing;

/* Likeness to the logo as sent. */
static double likeness_of(const Judgement *judgement, const Redrawn *redrawn) {
    const double scored = judgement_scored(judgement), all = scored + redrawn->left_out;
    if (all <= 0) return 1;
    double missed = redrawn->missed + line_missed * redrawn->left_out;
    return (judgement->likeness * scored + redrawn->left_out - missed) / all;
}

static bool aim_way(void *context, int way, Err *err) {
    Choosing *c = context;
    const Job *from = c->job;
    Job *j = &c->piece[way];
    *j = (Job){.inks = from->inks, .shop = from->shop, .order = from->order, .palette = from->palette};
    j->cane = from->cane;
    return coarse_frame(j, err) && redraw(&j->grid, (RedrawWay)way, err);
}

static bool aim_other_way(void *context, int way, Err *err) {
    return way == REDRAW_LINES || aim_way(context, way, err);
}

/* Of ways that come to the same face, the first. */
static void list_tries(Choosing *c) {
    for (int i = 0; i < REDRAW_WAYS; i++) {
        const Face *face = &c->piece[i].grid.wanted;
        bool differs = true;
        for (int k = 0; k < c->tries; k++)
            differs &= memcmp(face->candy, c->piece[c->way[k]].grid.wanted.candy,
                              (size_t)face->side * (size_t)face->side) != 0;
        if (differs) c->way[c->tries++] = (RedrawWay)i;
    }
}

static bool try_way(void *context, int index, Err *err) {
    Choosing *c = context;
    const RedrawWay way = c->way[index];
    Job *j = &c->piece[way];
    if (!is_wanted(c->job->stop, err)) return false;
    if (!coarse_piece(j, way == REDRAW_NOTHING ? COARSE_LAID : COARSE_FREE, err)) return false;
    c->worth[way] = likeness_of(&j->judgement, &j->grid.redrawn) +
                    features_worth * j->measures.features.kept_share - rope_worth * j->layup.laid;
    return true;
}

/* -1: nothing is to be chosen, there are no lines. */
static bool find_best(Choosing *c, int *best, Err *err) {
    *best = -1;
    if (!aim_way(c, REDRAW_LINES, err)) return false;
    if (c->piece[REDRAW_LINES].grid.redrawn.found == 0) return true;
    if (!parallel_tasks(REDRAW_WAYS, 0, aim_other_way, c, err)) return false;
    list_tries(c);
    if (c->tries < 2) return true;
    if (!parallel_tasks(c->tries, 0, try_way, c, err)) return false;
    *best = (int)c->way[0];
    for (int i = 1; i < c->tries; i++)
        if (c->worth[c->way[i]] > c->worth[*best]) *best = (int)c->way[i];
    return true;
}

bool redraw_best(Job *job, Err *err) {
    Choosing c = {.job = job};
    int best;
    bool done = find_best(&c, &best, err);
    for (int i = 0; i < REDRAW_WAYS; i++) job_free(&c.piece[i]);
    if (!done || !redraw(&job->grid, best < 0 ? REDRAW_LINES : (RedrawWay)best, err)) return false;
    memcpy(job->grid.redrawn.worth, c.worth, sizeof c.worth);
    return true;
}
