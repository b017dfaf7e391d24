/* Letters made even, where that gains. SPDX-License-Identifier: MIT
 *
 * 1. The letters are redrawn by each wish; what comes out alike is one trial. If they have nearly all of
 * their features as they are, that is all.
 * 2. Each trial is laid up with straight cuts only, softened, judged and measured: the best FULL of them by
 * what their letters are worth, the bolder ones first, are laid up in full. Threads share the trials.
 * 3. The best of these, if no letter came out worse than as it was (but for a little, where the others gain
 * much), nor lost a counter in redrawing, and all of them together better, the verdict no worse. Else all
 * stays as it is.
 *
 * What a letter is worth: of its features, by their shares, those that are kept; one that is not counts what
 * is left of it, nothing if it ran together with another. Less of it where its area has not much in common
 * with the wanted one, half where another part has run into it. Cost: of FULL lay-ups, and half of one more.
 */
#include "run/even.h"

#include "base/mem.h"
#include "base/parallel.h"
#include "judge/judge.h"
#include "plan/plan.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* So much worse is an accident; or so much of what letters gain in the mean, if the letter is still worth so
 * much. Chosen. */
static const double letter_slack = 0.05, slack_share = 0.3, worth_least = 0.7;
static const double iou_none = 0.4, iou_full = 0.7; /* a letter with less in common is worth less; chosen */
static const double sure_gain = 0.03;               /* in the mean: less is an accident, too; chosen */
static const double read_least = 0.4;               /* in the mean: less is no word either way; chosen */
static const double enough = 0.97;                  /* in the mean: such letters stay as they are; chosen */
static const double bold_worth = 0.03; /* in the mean: a thinner letter must be worth so much more; chosen */

enum { FULL = 2 };

/* --- what a letter is worth --- */

/* The smallest part whose box holds the place; -1 if none does. */
static int part_at(const Job *job, int candy, Point place) {
    const Judgement *j = &job->judgement;
    int best = -1;
    double least = HUGE_VAL;
    for (int i = 0; i < j->parts; i++) {
        Box b = j->part[i].box;
        bool holds = place.x >= b.x && place.x < b.x + b.w && place.y >= b.y && place.y < b.y + b.h;
        double area = (double)b.w * b.h;
        if (!holds || j->part[i].candy != candy || area >= least) continue;
        best = i;
        least = area;
    }
    return best;
}

typedef struct LetterWorth {
    double worth; /* 0..1 */
    int counters;
} LetterWorth;

static double left_of(const Feature *f) {
    return f->run ? 0 : f->kept ? 1 : f->left;
}

static LetterWorth letter_worth(const Job *job, int candy, Point place) {
    const Features *f = &job->measures.features;
    int part = part_at(job, candy, place);
    double all = 0, left = 0;
    LetterWorth w = {0};
    if (part < 0) return w;
    for (int i = 0; i < f->count; i++) {
        if (f->feature[i].part != part) continue;
        w.counters += f->feature[i].kind == FEATURE_COUNTER;
        all += f->feature[i].share;
        left += f->feature[i].share * left_of(&f->feature[i]);
    }
    const Part *p = &job->judgement.part[part];
    w.worth = (all > 0 ? left / all : 1) * within((p->iou - iou_none) / (iou_full - iou_none), 0, 1);
    if (p->run_into) w.worth /= 2;
    return w;
}

/* Is what came of the letter no worse than it was, where all gain so much in the mean? */
static bool holds(double was, double is, double gain) {
    return is >= was - letter_slack || (is >= worth_least && is >= was - slack_share * gain);
}

LetterGain letters_compare(const Job *as_is, const Job *even, const EvenLetters *letters) {
    LetterGain gain = {.least = HUGE_VAL};
    LetterWorth was[EVEN_LETTERS_MAX], is[EVEN_LETTERS_MAX];
    for (int i = 0; i < letters->letters; i++) {
        const EvenLetter *letter = &letters->letter[i];
        int candy = letters->row[letter->row].candy;
        was[i] = letter_worth(as_is, candy, letter->was);
        is[i] = letter_worth(even, candy, letter->is);
        gain.was += was[i].worth / letters->letters;
        gain.is += is[i].worth / letters->letters;
        gain.least = fmin(gain.least, is[i].worth - was[i].worth);
    }
    gain.better = letters->letters > 0 && gain.is >= gain.was + sure_gain && gain.is >= read_least &&
                  even->judgement.verdict <= as_is->judgement.verdict;
    for (int i = 0; i < letters->letters; i++)
        gain.better = gain.better && is[i].counters >= was[i].counters &&
                      holds(was[i].worth, is[i].worth, gain.is - gain.was);
    return gain;
}

/* --- trying --- */

typedef struct Try {
    EvenLetters letters;
    uint8_t *made; /* [side][side] the redrawn face; owned */
    Job job;       /* laid up; owned */
    LetterGain gain;
} Try;

typedef struct Tries {
    const Job *job;
    Grid sent; /* letters as they were sent, all else as the job has it; owned */
    Job as_is; /* shallow: the job, judged and measured by the letters that were sent */
    bool full; /* laid up in full */
    int count;
    Try trial[EVEN_WISHES]; /* the boldest first */
} Tries;

static void tries_free(Tries *t) {
    grid_free(&t->sent);
    judgement_free(&t->as_is.judgement);
    measures_free(&t->as_is.measures);
    for (int i = 0; i < t->count; i++) {
        free(t->trial[i].made);
        job_free(&t->trial[i].job);
    }
    *t = (Tries){0};
}

/* 1. */
static bool redraw_all(Tries *t, Err *err) {
    const Face *wanted = &t->sent.wanted;
    const size_t samples = (size_t)wanted->side * wanted->side;
    for (int i = 0; i < EVEN_WISHES; i++) {
        const EvenWish wish = even_wish(i);
        Try *trial = &t->trial[t->count];
        trial->made = mem_alloc(samples, 1, err);
        if (!trial->made) return false;
        t->count++;
        memcpy(trial->made, wanted->candy, samples);
        if (!even_letters(&t->sent, &wish, trial->made, &trial->letters, err)) return false;
        bool new = trial->letters.rows > 0;
        for (int j = 0; j + 1 < t->count; j++)
            new = new &&memcmp(t->trial[j].made, trial->made, samples) != 0;
        if (new) continue;
        free(trial->made);
        *trial = (Try){0};
        t->count--;
    }
    return true;
}

/* 2. */
static bool lay_again(const Job *from, const uint8_t *made, bool full, Job *j, Err *err) {
    *j = (Job){.picture = from->picture, .inks = from->inks, .shop = from->shop, .order = from->order};
    j->palette = from->palette;
    j->cane = from->cane;
    memcpy(j->file, from->file, sizeof j->file);
    if (!frame_redrawn(&from->grid, &j->cane.key, made, &j->grid, err)) return false;
    j->grid.stop = from->stop;
    return cost_cells(&j->grid, err) &&
           (full ? lay_up : lay_up_straight)(&j->grid, &j->cane.key, &j->layup, err) &&
           (!full || find_blocks(&j->grid, &j->layup, &j->blocks, err)) &&
           soften(&j->grid, &j->layup, &j->cane.key, &j->face, err) &&
           mark_fine(&j->grid, &j->layup, &j->fine, err) && judge_job(j, err);
}

static bool do_try(void *context, int i, Err *err) {
    Tries *t = context;
    Try *trial = &t->trial[i];
    job_free(&trial->job);
    if (!is_wanted(t->job->stop, err)) return false;
    if (!lay_again(t->job, trial->made, t->full, &trial->job, err)) return false;
    trial->gain = letters_compare(&t->as_is, &trial->job, &trial->letters);
    return true;
}

/* The best ones come first, in their order; the others go. */
static void keep_best(Tries *t) {
    for (int kept = 0; kept < FULL && kept < t->count; kept++) {
        int best = kept;
        for (int i = kept + 1; i < t->count; i++)
            if (t->trial[i].gain.is > t->trial[best].gain.is + bold_worth) best = i;
        const Try first = t->trial[best];
        for (int i = best; i > kept; i--) t->trial[i] = t->trial[i - 1];
        t->trial[kept] = first;
    }
    for (; t->count > FULL; t->count--) {
        Try *trial = &t->trial[t->count - 1];
        free(trial->made);
        job_free(&trial->job);
    }
}

/* 3. -1: none is better than as it is. */
static int find_best(const Tries *t) {
    int best = -1;
    for (int i = 0; i < t->count; i++)
        if (t->trial[i].gain.better &&
            (best < 0 || t->trial[i].gain.is > t->trial[best].gain.is + bold_worth))
            best = i;
    return best;
}

static bool try_all(Tries *t, Err *err) {
    const Job *j = t->job;
    bool any;
    if (!any_letters(&j->grid, &any, err)) return false;
    if (!any) return true;
    if (!frame(j->inks, &j->palette, &j->cane.key, &t->sent, err) ||
        !redraw_but_letters(&t->sent, j->grid.redrawn.way, err) || !redraw_all(t, err)) /* 1 */
        return false;
    if (t->count == 0) return true;
    t->as_is = *t->job;
    t->as_is.grid.wanted = t->sent.wanted;
    t->as_is.bill = (Bill){0}; /* of an earlier lay-up, if there is one; so are the next */
    t->as_is.heat = (Heat){0};
    t->as_is.judgement = (Judgement){0};
    t->as_is.measures = (Measures){0};
    if (!judge_job(&t->as_is, err)) return false;
    if (letters_compare(&t->as_is, &t->as_is, &t->trial[0].letters).was >= enough) return true;
    if (!parallel_tasks(t->count, 0, do_try, t, err)) return false; /* 2 */
    keep_best(t);
    t->full = true;
    return parallel_tasks(t->count, 0, do_try, t, err);
}

bool even_best(const Job *job, Job *out, EvenLetters *letters, LetterGain *gain, Err *err) {
    Tries t = {.job = job};
    *out = (Job){0};
    *letters = (EvenLetters){0};
    *gain = (LetterGain){0};
    bool done = try_all(&t, err);
    int best = done && t.full ? find_best(&t) : -1;
    if (best >= 0) {
        *out = t.trial[best].job;
        out->grid.redrawn = t.sent.redrawn; /* without what was done to the letters instead */
        memcpy(out->grid.redrawn.worth, job->grid.redrawn.worth, sizeof out->grid.redrawn.worth);
        *letters = t.trial[best].letters;
        *gain = t.trial[best].gain;
        t.trial[best].job = (Job){0};
    }
    tries_free(&t);
    return done;
}
