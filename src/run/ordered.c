/* A job with all that the command asks for; one with the first proposal taken. SPDX-License-Identifier: MIT
 */
#include "run/run.h"

#include "inks/inks.h"
#include "run/choose.h"
#include "run/trial.h"
#include "say/verdict_words.h"

#include <string.h>

bool ordered_new(const Job *named, Ordered *out, Err *err) {
    const Order *order = &named->order;
    *out = (Ordered){.job = *named};
    if (!shop_for(named->shop, order, &out->shop, err) ||
        !leave_out(named->inks, order->edit, order->edits, &out->inks, err)) {
        *out = (Ordered){0};
        return false;
    }
    out->job.inks = &out->inks;
    out->job.shop = &out->shop;
    return true;
}

void ordered_free(Ordered *ordered) {
    job_free(&ordered->job);
    inkmap_free(&ordered->inks);
    *ordered = (Ordered){0};
}

/* The job that was run becomes that of the other order. */
static bool reorder(const Job *named, Ordered *ordered, Err *err) {
    Job *job = &ordered->job;
    if (!shop_for(named->shop, &named->order, &ordered->shop, err)) return false;
    job->order = named->order;
    job->typed = named->typed;
    job->stop = named->stop;
    job->advised = named->advised;
    memcpy(job->file, named->file, sizeof job->file);
    return job_run_again(job, err);
}

bool ordered_again(const Job *named, Ordered *ordered, Err *err) {
    bool again = choice_stays(&ordered->job, &named->order);
    if (!again) ordered_free(ordered);
    bool good = again ? reorder(named, ordered, err)
                      : ordered_new(named, ordered, err) && job_run(&ordered->job, err);
    if (!good) ordered_free(ordered);
    return good;
}

bool advised_take(const Job *named, const Job *job, Ordered *out, bool *taken, Err *err) {
    const Judgement *judgement = &job->judgement;
    const Way *best = &judgement->best;
    Job other = *named;
    Advised *advised = &other.advised;
    *taken = false;
    if (!judgement->advised || best->whole >= judgement->verdict) return true;
    if (!command_words(job, &best->change, advised->options, sizeof advised->options) ||
        !change_order(job, &best->change, &other.order))
        return true;
    advised->taken = true;
    advised->from = judgement->verdict;
    if (!ordered_new(&other, out, err)) return false;
    if (!job_run(&out->job, err)) {
        ordered_free(out);
        return false;
    }
    *taken = true;
    return true;
}
