/* The drawing without its lettering. SPDX-License-Identifier: MIT
 *
 * Many logos are a drawing and a name. Letters are the finest of it, and often all that stands between it and
 * candy; a maker then offers the drawing by itself. It is another picture, so it is the last that is offered
 * of each check; but it is run first, since the budget is mostly gone in the end: one run more, of logos that
 * have lettering only. */
#include "run/advisor.h"

#include "inks/inks.h"

#include <math.h>

enum { SIZES = 2 /* runs of larger pieces */ };

static Change without_lettering(const Advisor *a) {
    return (Change){.lettering = a->lettering};
}

bool advise_find_lettering(Advisor *a, Err *err) {
    const double budget = a->trials.budget;
    const Outcome *outcome;
    a->lettering = 0;
    if (budget <= 0) return true;
    if (!find_lettering(a->job->inks, &a->lettering, err)) return false;
    const Change change = without_lettering(a);
    if (a->lettering <= 0) return true;
    if (!trial_run(&a->trials, &change, &outcome, err)) return false;
    a->trials.budget = budget;
    return true;
}

bool advise_lettering(Advisor *a, Err *err) {
    Way way = {.change = without_lettering(a)};
    if (a->lettering <= 0) return true;
    if (!try_way(a, &way, err)) return false;
    const bool better = a->job->judgement.verdict == VERDICT_NO && way.whole < VERDICT_NO;
    if (way.mends || better) add_way(a, &way);
    return true;
}

bool advise_lettering_size(Advisor *a, Err *err) {
    const double step = advise_step_mm(a);
    const Job *job = a->job;
    const int largest = advise_largest_steps(a);
    int low = (int)floor(job->order.piece_diameter_mm / step + 1e-9), high = largest + 1;
    if (a->lettering <= 0 || a->best.whole == VERDICT_GO || job->judgement.verdict != VERDICT_NO) return true;
    a->trials.budget += SIZES * trial_cost(job->cane.key.steps, job->palette.count);
    for (int at = largest; low < largest && high - low > 1; at = low + (high - low) / 2) {
        Change change = without_lettering(a);
        const Outcome *outcome;
        change.diameter_mm = at * step;
        if (!trial_run(&a->trials, &change, &outcome, err)) return false;
        const bool go = outcome && outcome->verdict == VERDICT_GO;
        if (!go && (!outcome || at == largest)) break;
        *(go ? &high : &low) = at;
    }
    if (high > largest) return true;
    a->best = (Way){.change = without_lettering(a), .mends = true, .whole = VERDICT_GO};
    a->best.change.diameter_mm = high * step;
    return true;
}
