/* How a picture is best redrawn for hands. SPDX-License-Identifier: MIT
 *
 * Input: a job whose grid is framed. Output: the grid redrawn, and what each way was worth.
 * 1. Each way is tried coarsely (coarse.h), threads share them. Where no line is found nothing is tried.
 * 2. The worth of a way: likeness to the logo as sent, in which a line that is left out counts as a part that
 * is as like as it is not missed; and features kept; less what its ropes cost. The best is taken, of those as
 * good the first. Cost: less than half of a lay-up with its search. */
#include "run/choose_way.h"

#include "base/parallel.h"
#include "plan/plan.h"
#include "run/coarse.h"

#include <math.h>

static const double line_missed = 0.1;                          /* of any line that is left out; ours */
static const double features_worth = 0.05, rope_worth = 0.0007; /* ours, chosen by eye */

typedef struct Choosing {
    const Job *job;
    double worth[REDRAW_WAYS];
} Choosing;

/* Likeness to the logo as sent. */
static double likeness_of(const Judgement *judgement, const Redrawn *redrawn) {
    double scored = 0;
    for (int i = 0; i < judgement->parts; i++)
        if (!judgement->part[i].speck) scored += sqrt((double)judgement->part[i].samples);
    double all = scored + redrawn->left_out;
    if (all <= 0) return 1;
    double missed = redrawn->missed + line_missed * redrawn->left_out;
    return (judgement->likeness * scored + redrawn->left_out - missed) / all;
}

static bool try_way(void *context, int way, Err *err) {
    Choosing *c = context;
    const Job *from = c->job;
    Job j = {.inks = from->inks, .shop = from->shop, .order = from->order, .palette = from->palette};
    j.cane = from->cane;
    CoarseHand hand = way == REDRAW_NOTHING ? COARSE_LAID : COARSE_FREE;
    bool done = coarse_piece(&j, (RedrawWay)way, hand, err);
    if (done)
        c->worth[way] = likeness_of(&j.judgement, &j.grid.redrawn) +
                        features_worth * j.measures.features.kept_share - rope_worth * j.layup.laid;
    job_free(&j);
    return done;
}

bool redraw_best(Job *job, Err *err) {
    Choosing c = {.job = job};
    int best = REDRAW_NOTHING;
    if (!parallel_tasks(REDRAW_WAYS, 0, try_way, &c, err)) return false;
    for (int i = 1; i < REDRAW_WAYS; i++)
        if (c.worth[i] > c.worth[best]) best = i;
    if (!redraw(&job->grid, (RedrawWay)best, err)) return false;
    for (int i = 0; i < REDRAW_WAYS; i++) job->grid.redrawn.worth[i] = c.worth[i];
    return true;
}
