/* The verdict. SPDX-License-Identifier: MIT
 *
 * 1. The softened face is compared with the wanted one, part by part.
 * 2. Each kind of check gets a value, the limit that *go* asks for, and a verdict. One that has nothing to
 * look at (no two inks touch; no parts) is left out.
 * 3. The worst check is the verdict.
 * Limits are our own, chosen, no source, unless marked; docs/numbers.md lists them. */
#include "judge/judge.h"

#include "base/mem.h"
#include "judge/checks.h"
#include "parts/parts.h"

#include <math.h>
#include <stdlib.h>

static const double fine_change = 0.5;    /* least strips */
static const double ring_thickened = 0.5; /* least sheets: a ring up to twice as thick as drawn is the same */
static const double lines_go = 3.5, lines_change = 50; /* % */
static const double fine_go =
    0.7; /* of what hands need: a third thinner comes out thicker, and nobody minds */
static const double reading_go =
    0.33; /* mm at 350 mm: a fifth of the least character height, NUREG-0700 rev. 2 */
static const double reading_change = 0.1; /* mm at 350 mm: one arc minute, 20/20 */
static const double likeness_go = 0.88, likeness_change = 0.80;
static const double weakest_go = 0.70, weakest_change = 0.50;
static const double much_lost = 0.25;    /* of the area of all parts and holes */
static const double line_lost = 10;      /* parts, and over half of all: a line of small text */
static const double crumbs_lost = 0.02;  /* of the area of all parts and holes: so much is not missed */
static const double limit_change = 1.25; /* times the shop's limits */
static const double ropes_go = 1.1;      /* times: a rope or two more are the shop's own matter */
static const double ropes_change =
    2;                            /* times: more ropes are work, to be paid for; what ends it is the time */
static const double slack = 1e-9; /* relative: a log sized to the limit is within it */

Check *check_add(Judgement *j, CheckKind kind, double value, double limit, bool least, Verdict verdict) {
    Check *check = &j->check[j->checks++];
    *check = (Check){.kind = kind, .value = value, .limit = limit, .least = least, .verdict = verdict};
    if (verdict > j->verdict) j->verdict = verdict;
    return check;
}

/* With the decimals that people read: what is printed as the limit is within it. */
static double printed(double value, double larger) {
    const double parts = larger >= 100 ? 1 : larger >= 10 ? 10 : larger >= 0.1 ? 100 : 1000;
    return isfinite(value) ? round(value * parts) : value;
}

Verdict at_least(double value, double go, double change) {
    const double larger = fmax(value, go);
    if (value >= go * (1 - slack) || printed(value, larger) >= printed(go, larger)) return VERDICT_GO;
    return value >= change * (1 - slack) ? VERDICT_CHANGE : VERDICT_NO;
}

Verdict at_most(double value, double go, double change) {
    const double larger = fmax(value, go);
    if (value <= go * (1 + slack) || printed(value, larger) <= printed(go, larger)) return VERDICT_GO;
    return value <= change * (1 + slack) ? VERDICT_CHANGE : VERDICT_NO;
}

/* --- parts --- */

/* What is a third too thin comes out thicker; below half the least is *no* where a main part was lost by it;
 * else a change. One sample is allowed for the measuring. */
static Verdict fine_verdict(const Job *job, double mm, double least, bool lost) {
    return at_least(mm + cane_sample_mm(&job->cane), least, lost ? fine_change / fine_go * least : 0);
}

/* Did the part not come out? Parts that touch but are else as drawn are a flaw, no loss. */
static bool is_lost(const Part *part) {
    return !part->kept && !(part->run_into && part->iou >= weakest_go);
}

/* Crumbs are what a picture can spare. Where a quarter of all that is drawn is lost, in lines of small text
 * say, what was lost was main, however small each part. */
static bool much_is_lost(const Judgement *j) {
    double all = 0, lost = 0;
    for (int i = 0; i < j->parts; i++) {
        const Part *part = &j->part[i];
        if (part->speck) continue;
        all += part->samples;
        if (is_lost(part)) lost += part->samples;
    }
    return lost > much_lost * all;
}

/* The stroke that is worst off: a rope wants a least strip; a ring, which is wrapped from a sheet and may be
 * thickened all round without harm, half a least sheet, and can always be had. Holes are gaps, but for rings.
 */
static void check_strokes(const Job *job, Judgement *j) {
    double value = 0, limit = 1;
    Verdict worst = VERDICT_GO;
    bool any = false, much = much_is_lost(j);
    for (int i = 0; i < j->parts; i++) {
        const Part *part = &j->part[i];
        if (part->speck || (part->hole && !part->ring)) continue;
        double least =
            (part->ring ? job->shop->least_sheet_mm : job->shop->least_strip_mm) / job->cane.reduction;
        least *= part->ring ? 1 : fine_go;
        if (part->fine) least /= 2;
        if (part->ring && part->kept) least *= ring_thickened;
        bool main = part->main || much;
        Verdict verdict = fine_verdict(job, part->stroke_mm, least, main && !part->ring && is_lost(part));
        bool worse = verdict > worst || (verdict == worst && part->stroke_mm * limit < value * least);
        if (any && !worse) continue;
        value = part->stroke_mm;
        limit = least;
        worst = verdict;
        any = true;
    }
    if (any) check_add(j, CHECK_STROKE, value, limit, true, worst)->standing = STANDING_HABIT;
}

static double least_of(const Job *job, Gap gap) {
    return fine_go * job->shop->least_strip_mm / job->cane.reduction / (gap.fine ? 2 : 1);
}

static void check_gaps(const Job *job, Gap gap, Gap gap_of_main, Judgement *j) {
    bool lost = false;
    for (int i = 0; i < j->parts; i++)
        lost = lost || (j->part[i].main && is_lost(&j->part[i]) && (j->part[i].hole || j->part[i].run_into));
    Verdict of_main = fine_verdict(job, gap_of_main.mm, least_of(job, gap_of_main), lost),
            of_all = fine_verdict(job, gap.mm, least_of(job, gap), false);
    if (gap.mm > 0)
        check_add(j, CHECK_GAP, gap.mm, least_of(job, gap), true, of_main > of_all ? of_main : of_all)
            ->standing = STANDING_HABIT;
}

/* Lines that were left out, by how much they are missed, and those that come out thicker. */
static void check_lines(const Job *job, Judgement *j) {
    const Redrawn *redrawn = &job->grid.redrawn;
    if (redrawn->count == 0) return;
    double all = redrawn->left_out + judgement_scored(j);
    double percent = all > 0 ? 100 * (redrawn->missed + redrawn->thickened) / all : 0;
    (void)check_add(j, CHECK_LINES, percent, lines_go, false, at_most(percent, lines_go, lines_change));
}

/* A sheet wrapped round is seen, however thin; nothing is read of it. One sample is allowed for the
 * measuring. */
static void check_reading(const Job *job, Judgement *j) {
    double finest = HUGE_VAL;
    for (int i = 0; i < j->parts; i++)
        if (!j->part[i].speck && j->part[i].kept && !j->part[i].ring)
            finest = fmin(finest, j->part[i].stroke_mm);
    if (finest < HUGE_VAL)
        check_add(j, CHECK_READING, finest, reading_go, true,
                  at_least(finest + cane_sample_mm(&job->cane), reading_go, reading_change))
            ->standing = STANDING_PUBLISHED;
}

/* Candies of which no sample of the logo as sent came out: their strokes are finer than the samples. A part
 * each. */
static int count_vanished(const Job *job) {
    bool seen[INKS_MAX] = {false};
    const Face *wanted = face_as_sent(&job->grid);
    for (size_t i = 0; i < (size_t)wanted->side * wanted->side; i++)
        if (wanted->candy[i] != OUTSIDE) seen[wanted->candy[i]] = true;
    int count = 0;
    for (int k = 0; k < job->palette.count; k++) count += !seen[k] && k != job->palette.field;
    return count;
}

/* Crumbs are not missed; parts that have run together are, however much alike. */
static bool crumbs_only(const Judgement *j) {
    double all = 0, spoilt = 0;
    for (int i = 0; i < j->parts; i++) {
        const Part *part = &j->part[i];
        if (part->speck) continue;
        all += part->samples;
        if (!part->kept) spoilt += part->main ? HUGE_VAL : part->samples;
    }
    return spoilt <= crumbs_lost * all;
}

/* Sums up likeness and the weakest main part, and counts what is kept. */
static void check_parts(const Job *job, Judgement *j) {
    double sum = 0, weight = 0, weakest = 1;
    int vanished = count_vanished(job), scored = vanished, lost = vanished, kept = 0;
    bool main_lost = much_is_lost(j) || (vanished > 0 && j->parts == 0);
    for (int i = 0; i < j->parts; i++) {
        const Part *part = &j->part[i];
        if (part->speck) continue;
        scored++;
        kept += part->kept;
        lost += is_lost(part);
        main_lost = main_lost || (part->main && is_lost(part));
        sum += sqrt(part->samples) * part->iou;
        weight += sqrt(part->samples);
        if (part->main) weakest = fmin(weakest, part->iou);
    }
    j->likeness = weight > 0 ? sum / weight : 1;
    j->weakest = weakest;
    int spoilt = scored - kept; /* those that have only run together, too */
    bool most_lost = lost == scored || (2 * spoilt > scored && spoilt >= line_lost);
    bool fine = kept == scored || (vanished == 0 && crumbs_only(j));
    Verdict verdict = fine ? VERDICT_GO : main_lost || most_lost ? VERDICT_NO : VERDICT_CHANGE;
    (void)check_add(j, CHECK_PARTS, kept, scored, true, verdict);
    (void)check_add(j, CHECK_LIKENESS, j->likeness, likeness_go, true,
                    at_least(j->likeness, likeness_go, likeness_change));
    (void)check_add(j, CHECK_WEAKEST, weakest, weakest_go, true,
                    at_least(weakest, weakest_go, weakest_change));
}

/* --- the shop --- */

/* What the shop puts right by itself is no change to a client: a *change* of it leaves the verdict. */
static void check_own(Judgement *j, CheckKind kind, double value, double limit, Verdict verdict) {
    const Verdict whole = j->verdict;
    Check *check = check_add(j, kind, value, limit, kind != CHECK_MINUTES, verdict);
    check->standing = STANDING_HABIT;
    check->own = verdict == VERDICT_CHANGE;
    if (check->own) j->verdict = whole;
}

static void check_limit(Judgement *j, CheckKind kind, double value, double limit, double change) {
    check_add(j, kind, value, limit, false, at_most(value, limit, change * limit))->standing = STANDING_HABIT;
}

/* The time: what one more pair of hands would bring within the shop's limit is the shop's own matter. */
static void check_shop(const Job *job, Judgement *j) {
    check_limit(j, CHECK_ROPES, job->bill.ropes_made, floor(ropes_go * job->shop->ropes_max + slack),
                ropes_change / ropes_go);
    double one_more = (job->shop->people + 1.0) / job->shop->people;
    check_own(j, CHECK_MINUTES, job->work.laying, job->shop->working_minutes,
              at_most(job->work.laying, job->shop->working_minutes,
                      fmax(limit_change, one_more) * job->shop->working_minutes));
    check_limit(j, CHECK_MASS, job->bill.log_mass_g / 1000, job->shop->log_mass_max_g / 1000, limit_change);
    check_limit(j, CHECK_DIAMETER, job->cane.log_diameter_mm, job->shop->log_diameter_max_mm, limit_change);
}

/* Does every rope, those of the rim too, stay warm for the time of a join? */
static void check_warmth(const Job *job, Judgement *j) {
    double seconds = HUGE_VAL, join = job->shop->minutes_join * 60;
    for (int i = 0; i < job->heat.ropes; i++) seconds = fmin(seconds, job->heat.rope[i].seconds);
    if (seconds == HUGE_VAL) return;
    check_own(j, CHECK_WARMTH, seconds, join, at_least(seconds, join * WARMTH_KNOWN, 0));
}

/* [samples][samples] 1 where a rope of a fine block lies; the caller frees it. NULL if there is no memory. */
static uint8_t *fine_samples(const Job *job, Err *err) {
    int side = job->grid.wanted.side;
    uint8_t *fine = mem_alloc((size_t)side * (size_t)side, 1, err);
    if (fine) layup_fine(&job->layup, job->grid.core, SAMPLES, side, fine);
    return fine;
}

/* The least strip in whole % of the logo's width; at least 1. */
static double least_percent(const Job *job) {
    double width = 2 * job->inks->circle.r / fmax(job->grid.frame.px_per_step, 1e-9);
    return fmax(ceil(100 * job->grid.least_steps / fmax(width, job->grid.least_steps)), 1);
}

bool judge(const Job *job, Judgement *out, Err *err) {
    Comparison c;
    uint8_t *fine = fine_samples(job, err);
    bool compared = fine && parts_compare(&job->grid, &job->face, fine, cane_sample_mm(&job->cane), &c, err);
    free(fine);
    if (!compared) return false;
    Judgement j = {.parts = c.parts, .part = c.part, .gap_mm = c.gap.mm}; /* 1 */
    check_drawing(job, &j);                                               /* 2 */
    check_own_colours(job, &j);
    check_strokes(job, &j);
    check_gaps(job, c.gap, c.gap_of_main, &j);
    check_lines(job, &j);
    check_reading(job, &j);
    check_colours(job, &j);
    check_parts(job, &j);
    check_shop(job, &j);
    check_warmth(job, &j);
    j.least_percent = least_percent(job);
    *out = j; /* 3: add() kept the worst */
    return true;
}
