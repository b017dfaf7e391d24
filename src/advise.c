/* What would make it better. SPDX-License-Identifier: MIT
 *
 * Each check that is not go, the worst first, has its ways of being mended (a table); for each way the least
 * change is sought that makes the line go:
 * 1. Parts left out: outlines that were lost; crumbs that were; what is too thin to lay; all that was lost.
 * 2, 3. A larger piece, a larger order: larger.c.
 * 4. Candies: dyed, more of them, inks joined. 5. Ropes: plainer detail, a cap.
 * Every change is verified by a run (trial.h), which also tells the verdict of the whole; no run, no advice.
 * If no single change mends the whole, the first changes of all lines are tried together. */
#include "advise.h"

#include "advisor.h"
#include "larger.h"
#include "sentence.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { SETS = 4, PARTS_MAX = 64 };

static const double left_share = 0.6; /* of the main parts' area: less is another picture; chosen */
static const double kept_back = 1;    /* of the budget, for the last run */
static const double match_go = 10;    /* CIEDE2000, as judged */

/* One change and no more: told if it mends the line. */
static bool offer(Advisor *a, const Change *change, Err *err) {
    bool good;
    Verdict whole;
    if (!try_change(a, change, &good, &whole, err)) return false;
    if (good) tell(a, change, whole, "");
    return true;
}

/* --- 1: parts left out --- */

static bool too_thin(const Advisor *a, const Part *part) {
    return part->stroke_mm < a->job->shop->least_strip_mm / a->job->cane.reduction * 0.98;
}

/* Set k of the parts to leave out, each at least as bold as the one before; 0 = none, or too much. */
static uint64_t part_set(const Advisor *a, int k) {
    const Judgement *j = &a->job->judgement;
    uint64_t set = 0;
    double all = 0, out = 0;
    for (int i = 0; i < j->parts && i < PARTS_MAX; i++) {
        const Part *part = &j->part[i];
        bool small = part->outline || !part->main;
        if (part->speck || part->ring) continue;
        bool take = (part->outline && !part->kept) || (k >= 1 && small && !part->kept) ||
                    (k >= 2 && small && too_thin(a, part)) || (k >= 3 && !part->kept);
        if (take) set |= (uint64_t)1 << i;
        if (!part->hole && !part->outline) all += part->samples;
        if (!part->hole && !part->outline && take) out += part->samples;
    }
    return out <= (1 - left_share) * all ? set : 0;
}

/* The first set that mends the line, unless a bolder one mends more. */
static bool advise_without(Advisor *a, Err *err) {
    Change best = {0};
    Verdict best_whole = VERDICT_NO;
    uint64_t last = 0;
    for (int k = 0; k < SETS; k++) {
        Change change = {.without = part_set(a, k)};
        bool good;
        Verdict whole;
        if (change.without == 0 || change.without == last) continue;
        last = change.without;
        if (!try_change(a, &change, &good, &whole, err)) return false;
        if (!good || (best.without && whole >= best_whole)) continue;
        best = change;
        best_whole = whole;
        if (whole == VERDICT_GO) break;
    }
    if (best.without) tell(a, &best, best_whole, "");
    a->all_go = best.without && best_whole == VERDICT_GO;
    return true;
}

/* --- 4: candies --- */

static bool advise_dye(Advisor *a, Err *err) {
    Change change = {0};
    for (int i = 0; i < a->job->inks->count; i++)
        if (a->job->palette.delta_e[i] > match_go && a->job->inks->ink[i].share >= 0.005)
            change.dyed |= 1u << i;
    return change.dyed == 0 || offer(a, &change, err);
}

static bool advise_colours(Advisor *a, Err *err) {
    Change change = {.colours = a->job->palette.wanted};
    return change.colours <= a->job->order.colours || offer(a, &change, err);
}

/* The pair of touching inks whose candies lie nearest for what they should. */
static void nearest_pair(const Job *job, int *one, int *other) {
    double least = HUGE_VAL;
    *one = *other = -1;
    for (int i = 0; i < job->inks->count; i++)
        for (int k = i + 1; k < job->inks->count; k++) {
            if (job->inks->border[i][k] < 0.005) continue;
            Rgb8 p = job->palette.candy[job->palette.of_ink[i]].srgb,
                 q = job->palette.candy[job->palette.of_ink[k]].srgb;
            double apart = delta_e00(rgb8_lab(p), rgb8_lab(q));
            if (apart >= least) continue;
            least = apart;
            *one = i;
            *other = k;
        }
}

/* Dye one of the two, or join the smaller to the larger. */
static bool advise_pair(Advisor *a, Err *err) {
    int large, small;
    nearest_pair(a->job, &large, &small);
    if (large < 0) return true;
    for (int i = 0; i < 2 && !a->helped; i++) {
        int ink = i == 0 ? small : large;
        Change dye = {.dyed = 1u << ink};
        if (!a->job->inks->ink[ink].transparent && !offer(a, &dye, err)) return false;
    }
    bool alike = !a->job->inks->ink[large].transparent && !a->job->inks->ink[small].transparent;
    Change join = {.joined = 1u + (unsigned)small, .into = (unsigned)large};
    return !alike || offer(a, &join, err);
}

/* --- 5: ropes --- */

static bool advise_ropes(Advisor *a, Err *err) {
    Change plain = {.plain = true};
    if (a->job->order.detail != DETAIL_PLAIN && !offer(a, &plain, err)) return false;
    if (a->helped) return true;
    int cap = (int)(a->job->layup.laid * 0.95 * a->check->limit / fmax(a->check->value, 1));
    Change capped = {.ropes_cap = cap};
    return cap < 2 || offer(a, &capped, err);
}

/* --- the lines --- */

typedef bool (*Way)(Advisor *a, Err *err);
enum { WAYS = 3 };

static const struct Line {
    const char *name;
    Way way[WAYS];
} lines[] = {
    {"finest stroke", {advise_without, advise_diameter, advise_pieces}},
    {"finest gap", {advise_without, advise_diameter, advise_pieces}},
    {"reading at 350 mm", {advise_without, advise_diameter, advise_pieces}},
    {"parts and holes kept", {advise_without, advise_diameter, advise_pieces}},
    {"likeness", {advise_without, advise_diameter, advise_pieces}},
    {"weakest main part", {advise_without, advise_diameter, advise_pieces}},
    {"touching inks kept apart", {advise_pair, advise_colours, NULL}},
    {"worst colour match", {advise_dye, NULL, NULL}},
    {"candies it would take", {advise_colours, NULL, NULL}},
    {"ropes made", {advise_ropes, advise_without, NULL}},
    {"minutes", {advise_ropes, advise_without, NULL}},
};

/* The least strip in % of the logo's width. */
static double least_percent(const Job *job) {
    double width = 2 * job->inks->circle.r / job->grid.frame.px_per_step;
    return 100 * job->grid.least_steps / width;
}

static bool is_one_of(const char *name, const char *const *list, int count) {
    for (int i = 0; i < count; i++)
        if (strcmp(name, list[i]) == 0) return true;
    return false;
}

/* Says so where nothing was found, and only claims what was run. */
static void say_nothing_helps(Advisor *a, bool spent) {
    static const char *const fine[] = {"finest stroke", "finest gap", "parts and holes kept", "likeness",
                                       "weakest main part"},
                             *const colour[] = {"touching inks kept apart", "worst colour match"},
                             *const work[] = {"ropes made", "minutes"};
    Check *check = a->check;
    char *out = check->advice;
    size_t size = sizeof check->advice;
    if (a->helped) return;
    if (is_one_of(check->name, fine, 5))
        (void)snprintf(out, size, "%sa simpler drawing, no stroke or gap under %.0f %% of its width",
                       a->size_failed ? "no piece up to 25 mm helps; it takes " : "it takes ",
                       ceil(least_percent(a->job)));
    else if (spent)
        (void)snprintf(out, size, "not looked into: the runs for advice were spent on the lines above");
    else if (is_one_of(check->name, colour, 2))
        (void)snprintf(out, size, "no candy helps; it takes other colours in the drawing");
    else if (is_one_of(check->name, work, 2))
        (void)snprintf(out, size, "plainer detail does not help; it takes a simpler drawing");
}

static bool advise_line(Advisor *a, Check *check, Err *err) {
    a->check = check;
    a->helped = a->all_go = false;
    a->size_failed = false;
    a->found_diameter = 0;
    int refused = a->trials.refused;
    if (a->unmended && check->verdict != VERDICT_NO) {
        (void)snprintf(check->advice, sizeof check->advice, "what is no comes first");
        return true;
    }
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        for (int w = 0; w < WAYS && !a->all_go && strcmp(lines[i].name, check->name) == 0; w++)
            if (lines[i].way[w] && !lines[i].way[w](a, err)) return false;
    a->unmended = a->unmended || (!a->helped && check->verdict == VERDICT_NO);
    say_nothing_helps(a, a->trials.refused > refused);
    return true;
}

/* All first changes at once, if no single one makes the whole go. */
static bool try_together(Advisor *a, Err *err) {
    const Outcome *outcome;
    if (a->best_verdict == VERDICT_GO) return true;
    if (!trial_run(&a->trials, &a->together, &outcome, err)) return false;
    if (!outcome || outcome->verdict >= a->best_verdict) return true;
    a->best = a->together;
    a->best_verdict = outcome->verdict;
    a->best_orders[0] = 0;
    return true;
}

bool advise(Job *job, double budget, int *runs, Err *err) {
    Judgement *j = &job->judgement;
    Advisor a = {
        .job = job, .trials = {.job = job, .budget = budget - kept_back}, .best_verdict = j->verdict};
    if (runs) *runs = 0;
    if (j->verdict == VERDICT_GO) return true;
    bool hopeless = false; /* no change of ours takes shading out of a drawing */
    for (int i = 0; i < j->checks; i++)
        if (strcmp(j->check[i].name, "shaded area") == 0 && j->check[i].verdict == VERDICT_NO)
            hopeless = true;
    for (Verdict v = VERDICT_NO; v > VERDICT_GO && !hopeless; v--)
        for (int i = 0; i < j->checks; i++)
            if (j->check[i].verdict == v && !advise_line(&a, &j->check[i], err)) return false;
    a.trials.budget += kept_back;
    if (!hopeless && !try_together(&a, err)) return false;
    Mending mending = {a.best, a.best_verdict, a.best_orders, ceil(least_percent(job))};
    write_sentence(job, &mending, j->sentence, sizeof j->sentence);
    if (runs) *runs = a.trials.runs;
    return true;
}
