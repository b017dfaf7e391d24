/* What would come of it if something were changed. SPDX-License-Identifier: MIT
 *
 * 1. What was run before is remembered by its change.
 * 2. Sizes, hands and temperatures leave the candies as they are: the job is run again, if one of the two
 * that are kept has the lay-up already, in a moment.
 * 3. Anything else is a job of its own, of a redrawn logo where parts are left out or inks joined.
 * A run is paid for by its work, counted and not timed, so that the same is run on every machine. */
#include "run/trial.h"

#include "base/mem.h"
#include "inks/inks.h"
#include "plan/plan.h"
#include "run/run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Seconds of one core of a small server of 2024, by eight pictures: rather more than most take. Wraps and
 * letters may take two to three times as much. */
static const double lay_s = 3.0e-9;      /* for each steps^4, and candy */
static const double sample_s = 2.0e-6;   /* for each sample of the face, redrawing and all */
static const double judged_s = 0.3e-6;   /* for each sample, where the lay-up is kept */
static const double redrawn_s = 0.15e-6; /* for each pixel of a picture that is redrawn */

/* An order by mass whose pieces change is one by pieces: as many larger ones, or more. At the same mass the
 * log would be the same, and nothing finer. */
static Order sized_order(const Job *job, const Change *change) {
    Order changed = job->order, *order = &changed;
    if (change->diameter_mm > 0 || change->pieces > 0) order->weight_g = 0;
    if (change->diameter_mm > 0) order->piece_diameter_mm = diameter_typed(change->diameter_mm, order->units);
    if (change->pieces > 0) order->pieces = change->pieces;
    if (change->colours > 0) order->colours = change->colours;
    if (change->plain) order->detail = DETAIL_PLAIN;
    if (change->people > 0) order->people = change->people;
    if (change->joining_c > 0) order->joining_c = change->joining_c;
    return changed;
}

static bool add_edits(const Job *job, const Change *change, Order *order) {
    const int more = change->points + (change->lettering > 0) + (change->joined > 0);
    if (order->edits + more > EDITS_MAX) return false;
    for (int i = 0; i < change->points; i++)
        order->edit[order->edits++] =
            (Edit){.kind = EDIT_LEAVE_OUT, .with = i > 0, .x = change->point[i].x, .y = change->point[i].y};
    if (change->lettering > 0) order->edit[order->edits++] = (Edit){.kind = EDIT_LETTERING};
    if (change->joined)
        order->edit[order->edits++] = (Edit){.kind = EDIT_JOIN,
                                             .ink = job->inks->ink[change->joined - 1].srgb,
                                             .into = job->inks->ink[change->into].srgb};
    return true;
}

static bool is_wished(const Order *order, Rgb8 ink) {
    for (int i = 0; i < order->wishes; i++) {
        Rgb8 c = order->wish[i].ink;
        if (c.r == ink.r && c.g == ink.g && c.b == ink.b) return true;
    }
    return false;
}

static bool add_wishes(const Job *job, unsigned dyed, Order *order) {
    for (int i = 0; i < job->inks->count; i++) {
        if (!(dyed >> i & 1)) continue;
        if (order->wishes == INKS_MAX || job->inks->ink[i].transparent) return false;
        if (is_wished(order, job->inks->ink[i].srgb)) return false; /* an ink is not wished for twice */
        InkWish *wish = &order->wish[order->wishes++];
        wish->ink = job->inks->ink[i].srgb;
        (void)snprintf(wish->candy, sizeof wish->candy, "dye");
    }
    return true;
}

bool change_order(const Job *job, const Change *change, Order *order) {
    *order = sized_order(job, change);
    return add_edits(job, change, order) && add_wishes(job, change->dyed, order);
}

bool trial_cane(const Job *job, const Change *change, Cane *cane) {
    Order order = sized_order(job, change);
    Err err = {0};
    return size_cane(&order, &job->palette, job->shop, cane, &err);
}

static Outcome outcome_of(const Judgement *judgement) {
    Outcome outcome = {.verdict = judgement->verdict};
    for (int i = 0; i < judgement->checks; i++)
        outcome.check[judgement->check[i].kind] = judgement->check[i].verdict;
    return outcome;
}

/* --- 2 --- */

/* Does the change leave the candies as they are? */
static bool keeps_candies(const Change *c) {
    return c->colours == 0 && !c->plain && c->dyed == 0 && c->without == 0 && c->lettering <= 0 &&
           c->joined == 0;
}

static bool has_lay_up(const Sized *s, const LayKey *key) {
    return s->used > 0 && lay_key_compare(&s->job.cane.key, key) == 0;
}

/* The sized job with the lay-up of the key, else the one not used for longest. */
static Sized *find_sized(const Trials *t, const LayKey *key) {
    Sized *oldest = t->sized;
    for (int i = 0; i < SIZED; i++) {
        Sized *s = &t->sized[i];
        if (has_lay_up(s, key)) return s;
        if (s->used < oldest->used) oldest = s;
    }
    return oldest;
}

static bool run_sized(Trials *t, const Change *change, const LayKey *key, Outcome *out, Err *problem) {
    Sized *s = find_sized(t, key);
    Order order = sized_order(t->job, change);
    if (!shop_for(t->job->shop, &order, &s->shop, problem)) return false;
    if (s->used == 0)
        s->job =
            (Job){.picture = t->job->picture, .inks = t->job->inks, .shop = &s->shop, .stop = t->job->stop};
    s->job.order = order;
    s->job.palette = t->job->palette;
    bool can = job_run_again(&s->job, problem);
    s->used = can ? t->runs + 1 : 0; /* a job that failed is empty */
    if (can) *out = outcome_of(&s->job.judgement);
    return can;
}

/* --- 3 --- */

static bool has_ink(const InkMap *inks, Rgb8 c) {
    for (int i = 0; i < inks->count; i++) {
        Rgb8 d = inks->ink[i].srgb;
        if (!inks->ink[i].transparent && c.r == d.r && c.g == d.g && c.b == d.b) return true;
    }
    return false;
}

/* The inks that are left of a set. */
static unsigned dyes_left(const Job *job, unsigned dyed, const InkMap *redrawn) {
    for (int i = 0; i < job->inks->count; i++)
        if ((dyed >> i & 1) && !has_ink(redrawn, job->inks->ink[i].srgb)) dyed &= ~(1u << i);
    return dyed;
}

/* As the command would, but for the picture, which has the job's own edits already. */
static bool run_anew(const Job *job, Change *change, Outcome *out, Err *problem) {
    Shop shop;
    Order order;
    InkMap redrawn = {0};
    if (!change_order(job, change, &order)) return false;
    const int before = job->order.edits;
    if (!leave_out(job->inks, order.edit + before, order.edits - before, &redrawn, problem)) return false;
    change->dyed = dyes_left(job, change->dyed, &redrawn);
    Job other = {.picture = job->picture, .inks = &redrawn, .shop = &shop, .stop = job->stop};
    bool can = change_order(job, change, &other.order) && shop_for(job->shop, &other.order, &shop, problem) &&
               job_run(&other, problem);
    if (can) *out = outcome_of(&other.judgement);
    job_free(&other);
    inkmap_free(&redrawn);
    return can;
}

/* The points of what is left out come first: without them it cannot be asked for. */
static bool run_as_asked(Trials *t, const LayKey *key, Trial *trial, Err *problem) {
    Change change = trial->change;
    bool can;
    if (!change_points(t->job, &change, &can, problem) || !can) return false;
    can = keeps_candies(&change) ? run_sized(t, &change, key, &trial->outcome, problem)
                                 : run_anew(t->job, &change, &trial->outcome, problem);
    trial->outcome.change = change;
    return can;
}

/* What is bad usage here is only a change that cannot be made. */
static bool run_changed(Trials *t, const LayKey *key, Trial *trial, Err *err) {
    Err problem = {0};
    trial->can = run_as_asked(t, key, trial, &problem);
    if (trial->can || (problem.code != ERR_MEMORY && problem.code != ERR_STOPPED)) return true;
    *err = problem;
    return false;
}

/* --- what a run costs --- */

static double samples_of(int steps) {
    return (double)steps * SAMPLES * steps * SAMPLES;
}

double trial_cost(int steps, int candies) {
    return lay_s * candies * pow(steps, 4) + sample_s * samples_of(steps);
}

static double cost_of(const Trials *t, const Change *change, const LayKey *key) {
    const Job *job = t->job;
    bool kept = keeps_candies(change) && has_lay_up(find_sized(t, key), key);
    int candies = change->colours > job->palette.count ? change->colours : job->palette.count;
    bool edited = change->without || change->joined || change->lettering > 0;
    double redrawn = edited ? (double)job->inks->width * job->inks->height : 0;
    if (kept) return judged_s * samples_of(key->steps);
    return trial_cost(key->steps, candies) + redrawn_s * redrawn;
}

bool trial_run(Trials *t, const Change *change, const Outcome **outcome, Err *err) {
    Cane cane;
    *outcome = NULL;
    if (!trial_cane(t->job, change, &cane)) return true;
    for (int i = 0; i < t->trials; i++)
        if (change_same(&t->trial[i].change, change)) {
            *outcome = t->trial[i].can ? &t->trial[i].outcome : NULL;
            return true;
        }
    double cost = cost_of(t, change, &cane.key);
    if (cost > t->budget || t->trials == TRIALS_MAX) {
        t->refused++;
        return true;
    }
    Trial trial = {.change = *change};
    if (!run_changed(t, &cane.key, &trial, err)) return false;
    t->budget -= cost;
    t->runs++;
    t->trial[t->trials++] = trial;
    if (trial.can) *outcome = &t->trial[t->trials - 1].outcome;
    return true;
}

bool trials_new(const Job *job, double budget, Trials *out, Err *err) {
    Trials t = {.job = job, .budget = budget, .sized = mem_alloc(SIZED, sizeof *t.sized, err)};
    if (!t.sized) return false;
    *out = t;
    return true;
}

void trials_free(Trials *trials) {
    for (int i = 0; trials->sized && i < SIZED; i++) job_free(&trials->sized[i].job);
    free(trials->sized);
    *trials = (Trials){0};
}
