/* Checks of what people see of a shape. SPDX-License-Identifier: MIT
 *
 * Limits are our own, chosen by eye over every second picture of the quality set; docs/numbers.md lists them.
 */
#include "judge/checks.h"
#include "judge/judge.h"

#include "base/mem.h"

#include <stdlib.h>

static const double shapes_go = 95, shapes_change = 50; /* % of the features, by their shares */
static const double letter_lost = 0.05;                 /* of a letter: so much of its features is missed */
static const double blotch_go = 0.8, blotch_change = 2; /* least strips: as wide as a rope is wrong */

/* A letter whose hole fills up is another letter; of arms and inlets it can spare little. */
static bool letter_spoilt(const Features *features, int part) {
    double lost = 0;
    for (int i = 0; i < features->count; i++) {
        const Feature *f = &features->feature[i];
        if (f->part != part || f->kept) continue;
        if (f->kind == FEATURE_COUNTER) return true;
        lost += f->share;
    }
    return lost > letter_lost;
}

/* One letter that is spoilt may be guessed from the others; of two the word is lost. Letters that are gone,
 * or have run together, are spoilt as well. */
static void check_letters(const Features *features, Judgement *j) {
    int letters = 0, kept = 0;
    for (int i = 0; i < features->count; i++) {
        const Feature *f = &features->feature[i];
        bool first = i == 0 || features->feature[i - 1].part != f->part;
        if (!f->letter || !first) continue;
        letters++;
        kept += j->part[f->part].kept && !letter_spoilt(features, f->part);
    }
    Verdict verdict = kept == letters ? VERDICT_GO : kept + 1 == letters ? VERDICT_CHANGE : VERDICT_NO;
    if (letters > 0) (void)check_add(j, CHECK_LETTERS, kept, letters, true, verdict);
}

static void check_blotch(const Job *job, const Difference *difference, Judgement *j) {
    double strip = job->shop->least_strip_mm / job->cane.reduction;
    (void)check_add(j, CHECK_BLOTCH, difference->across_mm, blotch_go * strip, false,
                    at_most(difference->across_mm, blotch_go * strip, blotch_change * strip));
}

void judge_shapes(const Job *job, const Measures *measures, Judgement *j) {
    const Features *features = &measures->features;
    double percent = 100 * features->kept_share;
    if (features->count > 0)
        (void)check_add(j, CHECK_SHAPES, percent, shapes_go, true,
                        at_least(percent, shapes_go, shapes_change));
    check_letters(features, j);
    check_blotch(job, &measures->difference, j);
}

bool judge_job(Job *job, Err *err) {
    if (!judge(job, &job->judgement, err) || !measure(job, &job->measures, err)) return false;
    judge_shapes(job, &job->measures, &job->judgement);
    return true;
}
