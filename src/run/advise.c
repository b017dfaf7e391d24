/* What would make it better. SPDX-License-Identifier: MIT
 *
 * Each check that is not go has its remedies (a table), the likeliest first; of each the least change is
 * sought that makes the check go. All first remedies are tried, then all second ones, so that the budget goes
 * to what most likely helps; checks that are no come before those that are a change, which get nothing if a
 * no stays.
 * 1. What takes a single run: candies dyed, more of them, inks joined; plainer detail; more hands; a warmer
 * box.
 * 2. Parts left out: crumbs that were lost; what is too thin to lay. Never a main part, never a letter.
 * 3, 4. A larger piece, a larger order: advise_size.c.
 * 5. Last of all the drawing without its lettering, all of it: advise_lettering.c.
 * Every way is verified by a run (trial.h), which also tells the verdict of the whole; no run, no advice. If
 * no single change mends the whole, the first changes of all checks are tried together. */
#include "run/run.h"

#include "judge/judge.h"
#include "parts/parts.h"
#include "run/advisor.h"

#include <math.h>
#include <stddef.h>

enum { SETS = 2 }; /* of parts left out, the second bolder */

static const double left_share = 0.6; /* of the main parts' area: less is another picture; chosen */

bool try_way(Advisor *a, Way *way, Err *err) {
    const Outcome *outcome;
    if (!trial_run(&a->trials, &way->change, &outcome, err)) return false;
    if (outcome) way->change = outcome->change;
    way->whole = outcome ? outcome->verdict : VERDICT_NO;
    way->mends = outcome && outcome->check[a->check->kind] == VERDICT_GO &&
                 outcome->verdict <= a->job->judgement.verdict;
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
    to->lettering = fmax(to->lettering, from->lettering);
    if (to->joined == 0) {
        to->joined = from->joined;
        to->into = from->into;
    }
}

void add_way(Advisor *a, const Way *way) {
    Check *check = a->check;
    if (check->ways == WAYS_MAX) return;
    if (check->ways == 0) join_changes(&a->together, &way->change);
    check->way[check->ways++] = *way;
    if (way->whole < a->best.whole) a->best = *way;
}

/* One change and no more: a way out if it mends the check. */
static bool offer(Advisor *a, const Change *change, Err *err) {
    Way way = {.change = *change};
    if (!try_way(a, &way, err)) return false;
    if (way.mends) add_way(a, &way);
    return true;
}

/* --- 2: parts left out --- */

static bool too_thin(const Advisor *a, const Part *part) {
    return part->stroke_mm < a->job->shop->least_strip_mm / a->job->cane.reduction * 0.98;
}

/* Which of the judgement's first parts are letters: in rows of three or more, large enough to be read. */
static bool find_letters(const Job *job, uint64_t *letters, Err *err) {
    const Judgement *j = &job->judgement;
    Areas areas;
    Rows rows;
    *letters = 0;
    if (!areas_find(&job->grid, &areas, err)) return false;
    bool good = rows_find(&areas, j->part, j->parts, LETTER_MM / cane_sample_mm(&job->cane), &rows, err);
    for (int i = 0; good && i < j->parts && i < CHANGE_PARTS; i++)
        if (rows.of[i] >= 0 && rows.row[rows.of[i]].kind != ROW_PAIR) *letters |= (uint64_t)1 << i;
    if (good) rows_free(&rows);
    areas_free(&areas);
    return good;
}

/* Set k of the parts to leave out: crumbs that were lost; or all that are too thin, too. 0 = none, or too
 * much. Never a main part, nor a letter: the drawing is not read without them. */
static uint64_t part_set(const Advisor *a, int k) {
    const Judgement *j = &a->job->judgement;
    uint64_t set = 0;
    double all = 0, out = 0;
    for (int i = 0; i < j->parts && i < CHANGE_PARTS; i++) {
        const Part *part = &j->part[i];
        if (part->speck || part->ring) continue;
        bool letter = a->letters >> i & 1;
        bool take = !part->main && !letter && (!part->kept || (k >= 1 && too_thin(a, part)));
        if (take) set |= (uint64_t)1 << i;
        if (!part->hole) all += part->samples;
        if (!part->hole && take) out += part->samples;
    }
    return out <= (1 - left_share) * all ? set : 0;
}

/* Can the check be go without the set at all? Not while a lost part stays, or one that is too thin even for a
 * fine block. */
static bool may_help(const Advisor *a, uint64_t set) {
    const Judgement *j = &a->job->judgement;
    bool stroke = a->check->kind == CHECK_STROKE, kept = a->check->kind == CHECK_PARTS;
    double least = a->job->shop->least_strip_mm / a->job->cane.reduction,
           sample = cane_sample_mm(&a->job->cane);
    for (int i = 0; i < j->parts; i++) {
        const Part *part = &j->part[i];
        if (part->speck || part->ring || (i < CHANGE_PARTS && (set >> i & 1))) continue;
        if (kept && !part->kept) return false;
        if (stroke && !part->hole && part->stroke_mm + sample < least / 2) return false;
    }
    return true;
}

/* The first set that mends the check, unless a bolder one makes the whole better. */
static bool advise_without(Advisor *a, Err *err) {
    Way best = {.whole = VERDICT_NO};
    uint64_t last = 0;
    for (int k = 0; k < SETS && !(best.mends && best.whole == VERDICT_GO); k++) {
        Way way = {.change = {.without = part_set(a, k)}};
        if (way.change.without == 0 || way.change.without == last || !may_help(a, way.change.without))
            continue;
        last = way.change.without;
        if (!try_way(a, &way, err)) return false;
        if (way.mends && (!best.mends || way.whole < best.whole)) best = way;
    }
    if (best.mends) add_way(a, &best);
    a->note->all_go = best.mends && best.whole == VERDICT_GO;
    return true;
}

/* --- 1: candies --- */

static bool advise_dye(Advisor *a, Err *err) {
    Change change = {0};
    for (int i = 0; i < a->job->inks->count; i++)
        if (a->job->palette.delta_e[i] > a->check->limit && a->job->inks->ink[i].share >= JUDGED_SHARE)
            change.dyed |= 1u << i;
    return change.dyed == 0 || offer(a, &change, err);
}

static bool advise_colours(Advisor *a, Err *err) {
    Change change = {.colours = a->job->palette.wanted};
    return change.colours <= a->job->order.colours || offer(a, &change, err);
}

/* Colours far off may only want more candies. */
static bool advise_match(Advisor *a, Err *err) {
    return advise_colours(a, err) && (a->check->ways > 0 || advise_dye(a, err));
}

/* The pair of touching inks whose candies lie nearest for what they should. */
static void nearest_pair(const Job *job, int *one, int *other) {
    double least = HUGE_VAL;
    *one = *other = -1;
    for (int i = 0; i < job->inks->count; i++)
        for (int k = i + 1; k < job->inks->count; k++) {
            if (job->inks->border[i][k] < JUDGED_SHARE) continue;
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
    for (int i = 0; i < 2 && a->check->ways == 0; i++) {
        int ink = i == 0 ? small : large;
        Change dye = {.dyed = 1u << ink};
        if (!a->job->inks->ink[ink].transparent && !offer(a, &dye, err)) return false;
    }
    bool alike = !a->job->inks->ink[large].transparent && !a->job->inks->ink[small].transparent;
    Change join = {.joined = 1u + (unsigned)small, .into = (unsigned)large};
    return a->check->ways > 0 || !alike || offer(a, &join, err);
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
    return change.people <= people || change.people > 2 * people || change.people > PEOPLE_MAX ||
           offer(a, &change, err);
}

/* A warmer box. The closed form of a thin rope: its time grows with the logarithm of how far the box and the
 * coldest workable candy are above the room. A tenth under is go, as judged. */
static bool advise_warmer(Advisor *a, Err *err) {
    const Shop *shop = a->job->shop;
    double now = log((shop->joining_c - shop->room_c) / (shop->working_c - shop->room_c)),
           times = WARMTH_KNOWN * a->check->limit / fmax(a->check->value, 1e-6);
    double guess = ceil(shop->room_c + (shop->working_c - shop->room_c) * exp(now * times) - 1e-9);
    for (int tries = 0; tries < 2 && guess + tries <= ADVISED_JOINING_C && a->check->ways == 0; tries++) {
        Change change = {.joining_c = guess + tries};
        if (change.joining_c > shop->joining_c && !offer(a, &change, err)) return false;
    }
    return true;
}

/* --- the checks --- */

/* Looks for one way out of a check, or several that are alike, and adds what it finds. */
typedef bool Remedy(Advisor *a, Err *err);

enum { REMEDIES = 4 };

/* The likeliest first; NULL: none at this turn. Shading, and a log's mass and diameter, have none. */
static Remedy *const remedy[CHECKS_MAX][REMEDIES] = {
    [CHECK_STROKE] = {NULL, advise_without, advise_diameter, advise_pieces},
    [CHECK_GAP] = {NULL, advise_without, advise_diameter, advise_pieces},
    [CHECK_LINES] = {NULL, NULL, advise_diameter, advise_pieces},
    [CHECK_READING] = {NULL, advise_without, advise_diameter, advise_pieces},
    [CHECK_PARTS] = {NULL, advise_without, advise_diameter, advise_pieces},
    [CHECK_SHAPES] = {NULL, NULL, advise_diameter, advise_pieces},
    [CHECK_DRAWN] = {NULL, NULL, advise_diameter, advise_pieces},
    [CHECK_LETTERS] = {NULL, NULL, advise_diameter, advise_pieces},
    [CHECK_BLOTCH] = {NULL, NULL, advise_diameter, advise_pieces},
    [CHECK_LIKENESS] = {NULL, advise_without, advise_diameter, advise_pieces},
    [CHECK_WEAKEST] = {NULL, advise_without, advise_diameter, advise_pieces},
    [CHECK_APART] = {advise_apart},
    [CHECK_MATCH] = {advise_match},
    [CHECK_CANDIES] = {advise_colours},
    [CHECK_ROPES] = {advise_plain, advise_without},
    [CHECK_MINUTES] = {advise_people, advise_plain, advise_without},
    [CHECK_WARMTH] = {advise_warmer, advise_plain},
};

/* The remedy of check i at a turn, if it still needs one. */
static bool advise_check(Advisor *a, int i, int turn, Err *err) {
    a->check = &a->job->judgement.check[i];
    a->note = &a->notes[i];
    Remedy *look = remedy[a->check->kind][turn];
    int refused = a->trials.refused;
    if (look && !a->note->all_go && !look(a, err)) return false;
    if (a->trials.refused > refused) a->note->unknown = true;
    return true;
}

/* Checks that are no: all remedies of one in turn, until one check has none that helps: what is no stays so
 * then, and nothing is spent on the rest. */
static bool advise_no(Advisor *a, bool *mended, Err *err) {
    const Judgement *j = &a->job->judgement;
    for (int i = 0; i < j->checks && *mended; i++) {
        if (j->check[i].verdict != VERDICT_NO) continue;
        for (int turn = 0; turn < REMEDIES; turn++)
            if (!advise_check(a, i, turn, err)) return false;
        if (!advise_lettering(a, err)) return false;
        *mended = j->check[i].ways > 0;
    }
    return true;
}

/* Checks that are a change: the first remedies of all, then the second ones. */
static bool advise_change(Advisor *a, Err *err) {
    Judgement *j = &a->job->judgement;
    for (int turn = 0; turn < REMEDIES; turn++)
        for (int i = 0; i < j->checks; i++)
            if (j->check[i].verdict == VERDICT_CHANGE && !advise_check(a, i, turn, err)) return false;
    for (int i = 0; i < j->checks; i++) {
        a->check = &j->check[i];
        if (j->check[i].verdict == VERDICT_CHANGE && !advise_lettering(a, err)) return false;
    }
    return true;
}

/* Of checks that are fine by size only a failed size is sure; of others, that no run was refused. */
static void note_outlook(Check *check, const Note *note) {
    Remedy *const *of_kind = remedy[check->kind];
    bool by_size = of_kind[2] == advise_diameter;
    if (check->ways > 0 || !(of_kind[0] || of_kind[1] || by_size)) return;
    check->outlook = (by_size ? note->size_failed : !note->unknown) ? OUTLOOK_ONLY_REDRAW : OUTLOOK_REDRAW;
}

/* No change of ours takes shading out of a drawing. */
static bool is_hopeless(const Judgement *j) {
    for (int i = 0; i < j->checks; i++)
        if (j->check[i].kind == CHECK_SHADED && j->check[i].verdict == VERDICT_NO) return true;
    return false;
}

static int count_checks(const Judgement *j) {
    int count = 0;
    for (int i = 0; i < j->checks; i++) count += j->check[i].verdict != VERDICT_GO;
    return count;
}

/* All first changes at once, if no single one makes the whole go; then without the lettering, too. */
static bool try_together(Advisor *a, Err *err) {
    const Outcome *outcome;
    for (int k = 0; k < (a->lettering > 0 ? 2 : 1); k++) {
        if (a->best.whole == VERDICT_GO) return true;
        if (k > 0) a->together.lettering = a->lettering;
        if (!trial_run(&a->trials, &a->together, &outcome, err)) return false;
        if (outcome && outcome->verdict < a->best.whole)
            a->best = (Way){.change = outcome->change, .mends = true, .whole = outcome->verdict};
    }
    return true;
}

static bool advise_all(Advisor *a, Err *err) {
    Job *job = a->job;
    bool mended = !is_hopeless(&job->judgement);
    double kept_back = 0; /* for the run of all together */
    if (!mended) return true;
    if (count_checks(&job->judgement) > 1) kept_back = trial_cost(job->cane.key.steps, job->palette.count);
    a->trials.budget -= kept_back;
    if (!advise_no(a, &mended, err) || (mended && !advise_change(a, err))) return false;
    for (int i = 0; i < job->judgement.checks; i++) {
        Check *check = &job->judgement.check[i];
        if (check->verdict == VERDICT_NO || (mended && check->verdict == VERDICT_CHANGE))
            note_outlook(check, &a->notes[i]);
    }
    a->trials.budget += kept_back;
    return advise_lettering_size(a, err) && try_together(a, err);
}

/* Is there something that the shop puts right by itself? */
static bool has_own(const Judgement *j) {
    bool own = false;
    for (int i = 0; i < j->checks; i++) own = own || j->check[i].own;
    return own;
}

bool advise(Job *job, double budget, int *runs, Err *err) {
    Judgement *j = &job->judgement;
    Advisor a = {.job = job, .best = {.whole = j->verdict}};
    if (runs) *runs = 0;
    if (j->verdict == VERDICT_GO && !has_own(j)) return true;
    if (!trials_new(job, budget, &a.trials, err)) return false;
    bool done = find_letters(job, &a.letters, err) && (is_hopeless(j) || advise_find_lettering(&a, err)) &&
                advise_all(&a, err);
    if (done) {
        j->advised = true;
        j->best = a.best;
        if (runs) *runs = a.trials.runs;
    }
    trials_free(&a.trials);
    return done;
}
