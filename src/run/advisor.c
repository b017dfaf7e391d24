/* One that gives advice. SPDX-License-Identifier: MIT */
#include "run/advisor.h"

#include "run/phrase.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

bool try_change(Advisor *a, const Change *change, bool *good, Verdict *whole, Err *err) {
    const Outcome *outcome;
    if (!trial_run(&a->trials, change, &outcome, err)) return false;
    *good = outcome && outcome_check(outcome, a->check->name) == VERDICT_GO &&
            outcome->verdict <= a->job->judgement.verdict;
    *whole = outcome ? outcome->verdict : VERDICT_NO;
    return true;
}

static void join_changes(Change *to, const Change *from) {
    if (to->pieces == 0) to->diameter_mm = fmax(to->diameter_mm, from->diameter_mm);
    if (to->diameter_mm <= 0 && from->pieces > to->pieces) to->pieces = from->pieces;
    if (from->colours > to->colours) to->colours = from->colours;
    if (from->people > to->people) to->people = from->people;
    to->joining_c = fmax(to->joining_c, from->joining_c);
    to->plain = to->plain || from->plain;
    to->dyed |= from->dyed;
    to->without |= from->without;
    if (to->joined == 0) {
        to->joined = from->joined;
        to->into = from->into;
    }
}

double sample_at_piece(const Job *job) {
    return job->cane.step_mm / SAMPLES / job->cane.reduction;
}

/* "without the red part: then all is go", behind what is told already. */
static void add_way(Advisor *a, const Change *change, Verdict whole, const char *orders, const char *then) {
    char phrase[280], line[320];
    Check *check = a->check;
    phrase_change(phrase, sizeof phrase, a->job, change, orders, false);
    (void)snprintf(line, sizeof line, "%s%s: %s", a->note->helped ? "; or " : "", phrase, then);
    size_t used = strlen(check->advice);
    if (used + strlen(line) < sizeof check->advice)
        (void)snprintf(check->advice + used, sizeof check->advice - used, "%s", line);
    if (!a->note->helped) join_changes(&a->together, change);
    a->note->helped = true;
    if (whole >= a->best_verdict) return;
    a->best = *change;
    a->best_verdict = whole;
    (void)snprintf(a->best_orders, sizeof a->best_orders, "%s", orders);
}

void tell(Advisor *a, const Change *change, Verdict whole, const char *orders) {
    static const char *const then[] = {"then all is go", "then this line is go, the whole a change",
                                       "then this line is go, the whole still no"};
    bool as_it_was = whole == VERDICT_CHANGE && a->job->judgement.verdict == VERDICT_CHANGE;
    add_way(a, change, whole, orders, as_it_was ? "then this line is go" : then[whole]);
}

void tell_change(Advisor *a, const Change *change) {
    add_way(a, change, VERDICT_CHANGE, "", "then the whole is a change");
}
