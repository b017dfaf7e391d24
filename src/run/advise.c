/* What would make it better. SPDX-License-Identifier: MIT
 *
 * Each check that is not go has its ways of being mended (a table), the likeliest first; for each way the
 * least change is sought that makes the line go. All first ways are tried, then all second ones, so that the
 * budget goes to what most likely helps; lines that are no come before those that are a change, which get
 * nothing if a no stays.
 * 1. What takes a single run: candies dyed, more of them, inks joined; plainer detail; more hands; a warmer
 * box.
 * 2. Parts left out: outlines that were lost; crumbs that were; what is too thin to lay; all that was lost.
 * 3, 4. A larger piece, a larger order: larger.c.
 * Every change is verified by a run (trial.h), which also tells the verdict of the whole; no run, no advice.
 * If no single change mends the whole, the first changes of all lines are tried together. */
#include "run/advise.h"

#include "run/advisor.h"
#include "run/advise_size.h"
#include "run/sentence.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { SETS = 4, PARTS_MAX = 64 };

static const double left_share = 0.6;   /* of the main parts' area: less is another picture; chosen */
static const double match_go = 10;      /* CIEDE2000, as judged */
static const double warmth_known = 0.9; /* as judged */
static const double joining_max_c = 90; /* candy is workable from 70 to 90; common practice */

/* One change and no more: told if it mends the line. */
static bool offer(Advisor *a, const Change *change, Err *err) {
    bool good;
    Verdict whole;
    if (!try_change(a, change, &good, &whole, err)) return false;
    if (good) tell(a, change, whole, "");
    return true;
}

/* --- 2: parts left out --- */

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

/* Can the line be go without the set at all? Not while a lost part stays, or one that is too thin even for a
 * fine block. */
static bool may_help(const Advisor *a, uint64_t set) {
    const Judgement *j = &a->job->judgement;
    bool stroke = strcmp(a->check->name, "finest stroke") == 0,
         kept = strcmp(a->check->name, "parts and holes kept") == 0;
    double least = a->job->shop->least_strip_mm / a->job->cane.reduction, sample = sample_at_piece(a->job);
    for (int i = 0; i < j->parts; i++) {
        const Part *part = &j->part[i];
        if (part->speck || part->ring || (i < PARTS_MAX && (set >> i & 1))) continue;
        if (kept && !part->kept) return false;
        if (stroke && !part->hole && part->stroke_mm + sample < least / 2) return false;
    }
    return true;
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
        if (change.without == 0 || change.without == last || !may_help(a, change.without)) continue;
        last = change.without;
        if (!try_change(a, &change, &good, &whole, err)) return false;
        if (!good || (best.without && whole >= best_whole)) continue;
        best = change;
        best_whole = whole;
        if (whole == VERDICT_GO) break;
    }
    if (best.without) tell(a, &best, best_whole, "");
    a->note->all_go = best.without && best_whole == VERDICT_GO;
    return true;
}

/* --- 1: candies --- */

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

/* Colours far off may only want more candies. */
static bool advise_match(Advisor *a, Err *err) {
    return advise_colours(a, err) && (a->note->helped || advise_dye(a, err));
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

/* More candies; else dye one of the two, or join the smaller to the larger. */
static bool advise_apart(Advisor *a, Err *err) {
    int large, small;
    if (!advise_colours(a, err)) return false;
    nearest_pair(a->job, &large, &small);
    if (large < 0) return true;
    for (int i = 0; i < 2 && !a->note->helped; i++) {
        int ink = i == 0 ? small : large;
        Change dye = {.dyed = 1u << ink};
        if (!a->job->inks->ink[ink].transparent && !offer(a, &dye, err)) return false;
    }
    bool alike = !a->job->inks->ink[large].transparent && !a->job->inks->ink[small].transparent;
    Change join = {.joined = 1u + (unsigned)small, .into = (unsigned)large};
    return a->note->helped || !alike || offer(a, &join, err);
}

/* --- 1: ropes, hands, warmth --- */

static bool advise_plain(Advisor *a, Err *err) {
    Change plain = {.plain = true};
    return a->job->order.detail == DETAIL_PLAIN || offer(a, &plain, err);
}

/* As many people as the closed form asks for, up to twice the shop's. */
static bool advise_people(Advisor *a, Err *err) {
    int people = a->job->shop->people;
    Change change = {.people = (int)ceil(people * a->check->value / a->check->limit - 1e-9)};
    return change.people <= people || change.people > 2 * people || offer(a, &change, err);
}

/* A warmer box. The closed form of a thin rope: its time grows with the logarithm of how far the box and the
 * coldest workable candy are above the room. A tenth under is go, as judged. */
static bool advise_warmer(Advisor *a, Err *err) {
    const Shop *shop = a->job->shop;
    double now = log((shop->joining_c - shop->room_c) / (shop->working_c - shop->room_c)),
           times = warmth_known * a->check->limit / fmax(a->check->value, 1e-6);
    double guess = ceil(shop->room_c + (shop->working_c - shop->room_c) * exp(now * times) - 1e-9);
    for (int tries = 0; tries < 2 && guess + tries <= joining_max_c && !a->note->helped; tries++) {
        Change change = {.joining_c = guess + tries};
        if (change.joining_c > shop->joining_c && !offer(a, &change, err)) return false;
    }
    return true;
}

/* --- the lines --- */

typedef bool (*Way)(Advisor *a, Err *err);
enum { WAYS = 4 };

static const struct Line {
    const char *name;
    Way way[WAYS];
    const char *nothing; /* said where nothing helps; NULL: what a simpler drawing needs */
} lines[] = {
    {"finest stroke", {NULL, advise_without, advise_diameter, advise_pieces}, NULL},
    {"finest gap", {NULL, advise_without, advise_diameter, advise_pieces}, NULL},
    {"reading at 350 mm", {NULL, advise_without, advise_diameter, advise_pieces}, NULL},
    {"parts and holes kept", {NULL, advise_without, advise_diameter, advise_pieces}, NULL},
    {"likeness", {NULL, advise_without, advise_diameter, advise_pieces}, NULL},
    {"weakest main part", {NULL, advise_without, advise_diameter, advise_pieces}, NULL},
    {"touching inks kept apart",
     {advise_apart, NULL, NULL, NULL},
     "no candy helps; it takes colours that differ more where they touch"},
    {"worst colour match",
     {advise_match, NULL, NULL, NULL},
     "no candy helps; it takes colours nearer to those of the stock"},
    {"candies it would take",
     {advise_colours, NULL, NULL, NULL},
     "more candies do not help; it takes a drawing in fewer colours"},
    {"ropes made",
     {advise_plain, advise_without, NULL, NULL},
     "plainer detail does not help; it takes a drawing with fewer and larger shapes"},
    {"minutes",
     {advise_people, advise_plain, advise_without, NULL},
     "neither more people nor plainer detail help; it takes a drawing with fewer and larger shapes"},
    {"out of the warm box",
     {advise_warmer, advise_plain, NULL, NULL},
     "no box up to 90 °C helps; it takes a drawing without thin points and corners"},
};

static const struct Line *line_of(const Check *check) {
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        if (strcmp(lines[i].name, check->name) == 0) return &lines[i];
    return NULL;
}

/* The least strip in % of the logo's width. */
static double least_percent(const Job *job) {
    double width = 2 * job->inks->circle.r / job->grid.frame.px_per_step;
    return 100 * job->grid.least_steps / width;
}

/* What a designer can work with, and no claim that was not run. */
static void say_what_it_takes(const Advisor *a, Check *check, const Note *note) {
    const struct Line *line = line_of(check);
    if (note->helped || !line) return;
    if (line->nothing)
        (void)snprintf(check->advice, sizeof check->advice, "%s",
                       note->unknown ? strstr(line->nothing, "it takes") : line->nothing);
    else
        (void)snprintf(check->advice, sizeof check->advice,
                       "%sstrokes and gaps of %.0f %% of the logo's width",
                       note->size_failed ? "no piece up to 25 mm makes it go; it takes " : "it takes ",
                       ceil(least_percent(a->job)));
}

/* Way w of line i, if it still has one to try. */
static bool advise_line(Advisor *a, int i, int w, Err *err) {
    const struct Line *line = line_of(&a->job->judgement.check[i]);
    a->check = &a->job->judgement.check[i];
    a->note = &a->notes[i];
    int refused = a->trials.refused;
    if (line && line->way[w] && !a->note->all_go && !line->way[w](a, err)) return false;
    if (a->trials.refused > refused) a->note->unknown = true;
    return true;
}

/* Lines that are no: a line's ways in turn, until one line has none that helps: what is no stays so then, and
 * nothing is spent on the rest. */
static bool advise_no(Advisor *a, bool *mended, Err *err) {
    const Judgement *j = &a->job->judgement;
    for (int i = 0; i < j->checks && *mended; i++) {
        if (j->check[i].verdict != VERDICT_NO) continue;
        for (int w = 0; w < WAYS; w++)
            if (!advise_line(a, i, w, err)) return false;
        *mended = a->notes[i].helped;
    }
    return true;
}

/* Lines that are a change: the first ways of all, then the second ones. */
static bool advise_change(Advisor *a, Err *err) {
    const Judgement *j = &a->job->judgement;
    for (int w = 0; w < WAYS; w++)
        for (int i = 0; i < j->checks; i++)
            if (j->check[i].verdict == VERDICT_CHANGE && !advise_line(a, i, w, err)) return false;
    return true;
}

/* No change of ours takes shading out of a drawing. */
static bool is_hopeless(const Judgement *j) {
    for (int i = 0; i < j->checks; i++)
        if (strcmp(j->check[i].name, "shaded area") == 0 && j->check[i].verdict == VERDICT_NO) return true;
    return false;
}

static int count_lines(const Judgement *j) {
    int count = 0;
    for (int i = 0; i < j->checks; i++) count += j->check[i].verdict != VERDICT_GO;
    return count;
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

static bool advise_all(Advisor *a, Err *err) {
    Job *job = a->job;
    bool mended = !is_hopeless(&job->judgement);
    double kept_back = 0;
    if (!mended) return true;
    if (count_lines(&job->judgement) > 1) kept_back = trial_cost(job->cane.key.steps, job->palette.count);
    a->trials.budget -= kept_back;
    if (!advise_no(a, &mended, err) || (mended && !advise_change(a, err))) return false;
    for (int i = 0; i < job->judgement.checks; i++) {
        Check *check = &job->judgement.check[i];
        if (check->verdict == VERDICT_NO || (mended && check->verdict == VERDICT_CHANGE))
            say_what_it_takes(a, check, &a->notes[i]);
    }
    a->trials.budget += kept_back;
    return try_together(a, err);
}

bool advise(Job *job, double budget, int *runs, Err *err) {
    Judgement *j = &job->judgement;
    Advisor a = {.job = job, .best_verdict = j->verdict};
    if (runs) *runs = 0;
    if (j->verdict == VERDICT_GO) return true;
    if (!trials_new(job, budget, &a.trials, err)) return false;
    bool done = advise_all(&a, err);
    if (done) {
        Mending mending = {a.best, a.best_verdict, a.best_orders, ceil(least_percent(job))};
        write_sentence(job, &mending, j->sentence, sizeof j->sentence);
        if (runs) *runs = a.trials.runs;
    }
    trials_free(&a.trials);
    return done;
}
