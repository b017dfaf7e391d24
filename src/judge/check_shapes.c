/* Checks of what people see of a shape. SPDX-License-Identifier: MIT
 *
 * Limits are our own, chosen by eye over every second picture of the quality set; docs/numbers.md lists them.
 */
#include "judge/checks.h"
#include "judge/judge.h"

#include <math.h>

#define LETTERS_LEAST 3 /* with holes, inlets or tips */

static const double shapes_go = 95, shapes_change = 60; /* % of what parts are told by */
static const double plain_share = 0.2;  /* of a part: what a plain shape without features is told by */
static const double letter_lost = 0.05; /* of a letter: so much of its inlets is missed */
static const double blotch_go = 0.8, blotch_change = 2; /* least strips: as wide as a rope is wrong */

/* A letter whose hole fills up is another letter; of its inlets it can spare little. Its tips it can: a
 * serif, the end of a brush's stroke. */
static bool letter_spoilt(const Features *features, int part) {
    double lost = 0;
    for (int i = 0; i < features->count; i++) {
        const Feature *f = &features->feature[i];
        if (f->part != part || f->kept) continue;
        if (f->kind == FEATURE_COUNTER) return true;
        if (f->kind == FEATURE_BAY) lost += f->share;
    }
    return lost > letter_lost;
}

/* One letter that is spoilt may be guessed from the others; of two the word is lost. Two alone are no word:
 * they may be wheels. */
static void check_letters(const Features *features, Judgement *j) {
    int letters = 0, kept = 0;
    for (int i = 0; i < features->count; i++) {
        const Feature *f = &features->feature[i];
        bool first = i == 0 || features->feature[i - 1].part != f->part;
        if (!f->letter || !first) continue;
        letters++;
        kept += !letter_spoilt(features, f->part);
    }
    const bool word = letters >= LETTERS_LEAST && kept + 1 < letters;
    Verdict verdict = kept == letters ? VERDICT_GO : word ? VERDICT_NO : VERDICT_CHANGE;
    if (letters > 0) (void)check_add(j, CHECK_LETTERS, kept, letters, true, verdict);
}

static void check_blotch(const Job *job, const Difference *difference, Judgement *j) {
    double strip = job->shop->least_strip_mm / job->cane.reduction;
    (void)check_add(j, CHECK_BLOTCH, difference->across_mm, blotch_go * strip, false,
                    at_most(difference->across_mm, blotch_go * strip, blotch_change * strip));
}

/* A part is told by its features, a plain one by what it is; a larger part weighs more. So the nick in a
 * small disc is little, and the filled holes of a B are all of it. */
static double shapes_percent(const Features *features, const Judgement *j) {
    double all = 0, gone = 0;
    int at = 0;
    for (int i = 0; i < j->parts; i++) {
        const Part *part = &j->part[i];
        const int first = at;
        double share = 0, lost = 0;
        for (; at < features->count && features->feature[at].part == i; at++) {
            share += features->feature[at].share;
            if (!features->feature[at].kept) lost += features->feature[at].share;
        }
        if (at == first && (!part->main || part->ring || part->speck)) continue;
        all += sqrt(part->samples) * fmax(share, plain_share);
        gone += sqrt(part->samples) * lost;
    }
    return all > 0 ? 100 * (1 - gone / all) : 100;
}

void judge_shapes(const Job *job, const Measures *measures, Judgement *j) {
    const Features *features = &measures->features;
    double percent = shapes_percent(features, j);
    if (features->count > 0)
        (void)check_add(j, CHECK_SHAPES, percent, shapes_go, true,
                        at_least(percent, shapes_go, shapes_change));
    check_letters(features, j);
    check_blotch(job, &measures->difference, j);
}

bool judge_job(Job *job, Err *err) {
    if (!judge(job, &job->judgement, err) || !measure(job, &job->measures, err)) return false;
    judge_shapes(job, &job->measures, &job->judgement);
    return check_drawn(job, &job->judgement, err);
}
