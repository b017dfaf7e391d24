/* What would come of it if something were changed. SPDX-License-Identifier: MIT */
#include "trial.h"

#include "redraw.h"
#include "size_cane.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double cost_cap = 6; /* a cap on ropes is found by laying up several times; measured */

static bool has_ink(const InkMap *inks, Rgb8 c) {
    for (int i = 0; i < inks->count; i++) {
        Rgb8 d = inks->ink[i].srgb;
        if (!inks->ink[i].transparent && c.r == d.r && c.g == d.g && c.b == d.b) return true;
    }
    return false;
}

/* Wishes for those of the job's inks that the redrawn map still has. False if there is no room for one more.
 */
static bool wish_dyed(const Job *job, unsigned dyed, const InkMap *redrawn, Order *order) {
    for (int i = 0; i < job->inks->count; i++) {
        if (!(dyed >> i & 1) || !has_ink(redrawn, job->inks->ink[i].srgb)) continue;
        if (order->wishes == INKS_MAX || job->inks->ink[i].transparent) return false;
        InkWish *wish = &order->wish[order->wishes++];
        wish->ink = job->inks->ink[i].srgb;
        (void)snprintf(wish->candy, sizeof wish->candy, "dye");
    }
    return true;
}

/* An order by mass whose pieces change is one by pieces: as many larger ones, or more. At the same mass the
 * log would be the same, and nothing finer. */
static Order changed_order(const Job *job, const Change *change) {
    Order changed = job->order, *order = &changed;
    if (change->diameter_mm > 0 || change->pieces > 0) order->weight_g = 0;
    if (change->diameter_mm > 0) order->piece_diameter_mm = change->diameter_mm;
    if (change->pieces > 0) order->pieces = change->pieces;
    if (change->colours > 0) order->colours = change->colours;
    if (change->ropes_cap > 0) order->ropes_cap = change->ropes_cap;
    if (change->plain) order->detail = DETAIL_PLAIN;
    return changed;
}

bool trial_cane(const Job *job, const Change *change, Cane *cane) {
    Order order = changed_order(job, change);
    Err err = {0};
    return size_cane(&order, &job->palette, job->shop, cane, &err);
}

static void read_outcome(const Judgement *judgement, Outcome *outcome) {
    outcome->verdict = judgement->verdict;
    outcome->checks = judgement->checks;
    for (int i = 0; i < judgement->checks; i++) {
        outcome->name[i] = judgement->check[i].name;
        outcome->check[i] = judgement->check[i].verdict;
    }
}

/* What is bad usage here is only a change that cannot be made. */
static bool run_changed(const Job *job, const Change *change, Trial *trial, Err *err) {
    Job other = {.picture = job->picture, .inks = job->inks, .shop = job->shop};
    InkMap inks = {0};
    other.order = changed_order(job, change);
    if (change->without || change->joined) {
        if (!redraw(job, change->without, (int)change->joined - 1, (int)change->into, &inks, err))
            return false;
        other.inks = &inks;
    }
    Err problem = {0};
    trial->can = wish_dyed(job, change->dyed, other.inks, &other.order) && job_run(&other, &problem);
    if (trial->can) read_outcome(&other.judgement, &trial->outcome);
    job_free(&other);
    inkmap_free(&inks);
    if (trial->can || problem.code != ERR_MEMORY) return true;
    *err = problem;
    return false;
}

static bool same(const Trial *a, const Trial *b) {
    const Change *p = &a->change, *q = &b->change;
    return a->steps == b->steps && a->least_steps == b->least_steps && p->diameter_mm == q->diameter_mm &&
           p->colours == q->colours && p->ropes_cap == q->ropes_cap && p->plain == q->plain &&
           p->dyed == q->dyed && p->without == q->without && p->joined == q->joined && p->into == q->into;
}

bool trial_run(Trials *t, const Change *change, const Outcome **outcome, Err *err) {
    Cane cane;
    *outcome = NULL;
    if (!trial_cane(t->job, change, &cane)) return true;
    Trial trial = {.change = *change, .steps = cane.steps, .least_steps = cane.least_steps};
    trial.change.pieces = 0;
    for (int i = 0; i < t->trials; i++)
        if (same(&t->trial[i], &trial)) {
            *outcome = t->trial[i].can ? &t->trial[i].outcome : NULL;
            return true;
        }
    double cost = pow((double)cane.steps / STEPS_MAX, 3) * (change->ropes_cap > 0 ? cost_cap : 1);
    if (cost > t->budget || t->trials == TRIALS_MAX) {
        t->refused++;
        return true;
    }
    if (!run_changed(t->job, change, &trial, err)) return false;
    t->budget -= cost;
    t->runs++;
    t->trial[t->trials++] = trial;
    if (trial.can) *outcome = &t->trial[t->trials - 1].outcome;
    return true;
}

Verdict outcome_check(const Outcome *outcome, const char *name) {
    for (int i = 0; i < outcome->checks; i++)
        if (strcmp(outcome->name[i], name) == 0) return outcome->check[i];
    return VERDICT_GO;
}
