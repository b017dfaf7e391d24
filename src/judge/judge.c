/* The verdict. SPDX-License-Identifier: MIT
 *
 * 1. The softened face is compared with the wanted one, part by part.
 * 2. Each kind of check gets a value, the limit that *go* asks for, and a verdict. One that has nothing to
 * look at (no two inks touch; no parts) is left out.
 * 3. The worst check is the verdict.
 * Limits are our own, chosen, no source, unless marked; docs/numbers.md lists them. */
#include "judge/judge.h"

#include "base/mem.h"
#include "parts/parts.h"

#include <math.h>
#include <stdlib.h>

static const double match_go = 10;   /* CIEDE2000 */
static const double white_near = 12; /* CIEDE2000: as match_candy has it, so near is white */
static const double joined_most =
    0.05; /* of the area: a larger ink that is joined is a colour that is wrong */
static const double apart_go = 20, apart_of_inks = 0.8, apart_change = 10, inks_alike = 15; /* CIEDE2000 */
static const double shaded_go = 5, shaded_change = 20, deep_change = 10;                    /* % */
static const double fine_change = 0.5;                                                      /* least strips */
static const double ring_thickened = 0.5; /* least sheets: a ring up to twice as thick as drawn is the same */
static const double lines_go = 3.5, lines_change = 30; /* % */
static const double reading_go =
    0.33; /* mm at 350 mm: a fifth of the least character height, NUREG-0700 rev. 2 */
static const double reading_change = 0.1; /* mm at 350 mm: one arc minute, 20/20 */
static const double likeness_go = 0.80, likeness_change = 0.65;
static const double weakest_go = 0.70, weakest_change = 0.50;
static const double much_lost = 0.25;    /* of the area of all parts and holes */
static const double line_lost = 10;      /* parts, and over half of all: a line of small text */
static const double limit_change = 1.25; /* times the shop's limits */
static const double ropes_change =
    2;                            /* times: more ropes are work, to be paid for; what ends it is the time */
static const double slack = 1e-9; /* relative: a log sized to the limit is within it */

/* Adds a line; its verdict may make the whole worse. */
static Check *add(Judgement *j, CheckKind kind, double value, double limit, bool least, Verdict verdict) {
    Check *check = &j->check[j->checks++];
    *check = (Check){.kind = kind, .value = value, .limit = limit, .least = least, .verdict = verdict};
    if (verdict > j->verdict) j->verdict = verdict;
    return check;
}

static Verdict at_least(double value, double go, double change) {
    if (value >= go * (1 - slack)) return VERDICT_GO;
    return value >= change * (1 - slack) ? VERDICT_CHANGE : VERDICT_NO;
}

static Verdict at_most(double value, double go, double change) {
    if (value <= go * (1 + slack)) return VERDICT_GO;
    return value <= change * (1 + slack) ? VERDICT_CHANGE : VERDICT_NO;
}

/* --- colours --- */

static void check_candies(const Job *job, Judgement *j) {
    int wanted = job->palette.wanted, most = job->order.colours;
    (void)add(j, CHECK_CANDIES, wanted, most, false, wanted <= most ? VERDICT_GO : VERDICT_CHANGE);
}

/* Is it a small ink that was joined with a larger one? That is told by the candies it would take. Inks come
 * by falling share. */
static bool is_joined(const Job *job, int ink) {
    bool joined = false;
    for (int i = 0; i < ink; i++) joined |= job->palette.of_ink[i] == job->palette.of_ink[ink];
    return joined && job->inks->ink[ink].share < joined_most;
}

static void check_match(const Job *job, Judgement *j) {
    double worst = 0;
    for (int i = 0; i < job->inks->count; i++)
        if (job->inks->ink[i].share >= JUDGED_SHARE && !is_joined(job, i))
            worst = fmax(worst, job->palette.delta_e[i]);
    (void)add(j, CHECK_MATCH, worst, match_go, false, at_most(worst, match_go, HUGE_VAL));
}

/* How far apart two touching inks are, and their candies. A transparent ink is like no other; on a white
 * field it is white paper, but for what is lost there. */
typedef struct Pair {
    double inks, candies, wanted;
    Verdict verdict;
} Pair;

static Pair pair_of(const Job *job, int a, int b) {
    const Ink *p = &job->inks->ink[a], *q = &job->inks->ink[b];
    const Palette *palette = &job->palette;
    Rgb8 c = palette->candy[palette->of_ink[a]].srgb, d = palette->candy[palette->of_ink[b]].srgb;
    const Rgb8 white = {255, 255, 255};
    const int other = p->transparent ? b : a;
    const OnField on = ink_on_field(job->inks, other);
    bool clear = p->transparent || q->transparent;
    bool paper = clear && (p->transparent ? a : b) == job->inks->field && on != ON_FIELD_MISSED &&
                 delta_e00(rgb8_lab(palette->candy[palette->field].srgb), rgb8_lab(white)) < white_near;
    Lab from = rgb8_lab(p->transparent ? white : p->srgb), to = rgb8_lab(q->transparent ? white : q->srgb);
    Pair pair = {.inks = clear && !paper ? HUGE_VAL : delta_e00(from, to),
                 .candies = delta_e00(rgb8_lab(c), rgb8_lab(d))};
    pair.wanted = paper && on == ON_FIELD_PARTLY ? apart_go : fmin(apart_go, apart_of_inks * pair.inks);
    pair.verdict = at_least(pair.candies, pair.wanted, apart_change);
    if (pair.verdict == VERDICT_NO && pair.inks <= inks_alike) pair.verdict = VERDICT_CHANGE;
    return pair;
}

static void check_apart(const Job *job, Judgement *j) {
    Pair worst = {0};
    bool any = false;
    for (int a = 0; a < job->inks->count; a++)
        for (int b = a + 1; b < job->inks->count; b++) {
            if (job->inks->border[a][b] < JUDGED_SHARE) continue;
            Pair pair = pair_of(job, a, b);
            bool worse =
                pair.verdict > worst.verdict ||
                (pair.verdict == worst.verdict && pair.candies * worst.wanted < worst.candies * pair.wanted);
            if (!any || worse) worst = pair;
            any = true;
        }
    if (any) (void)add(j, CHECK_APART, worst.candies, worst.wanted, true, worst.verdict);
}

/* Shading near its candy's colour is left out and hardly missed, if that is all that flattening does, and
 * leaves something: gradients lie far from it, photographs want many candies. */
static void check_shaded(const Job *job, Judgement *j) {
    double percent = job->inks->shaded * 100, deep = job->inks->deep * 100;
    Verdict verdict = at_most(percent, shaded_go, shaded_change);
    bool mild = j->parts > 0 && deep <= deep_change && job->palette.wanted <= job->order.colours;
    if (verdict == VERDICT_NO && mild) verdict = VERDICT_CHANGE;
    (void)add(j, CHECK_SHADED, percent, shaded_go, false, verdict);
}

/* --- parts --- */

/* Below half the least is *no* where a main part was lost by it; else a change. One sample is allowed for the
 * measuring. */
static Verdict fine_verdict(const Job *job, double mm, double least, bool lost) {
    return at_least(mm + cane_sample_mm(&job->cane), least, lost ? fine_change * least : 0);
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
    if (any) add(j, CHECK_STROKE, value, limit, true, worst)->standing = STANDING_HABIT;
}

static double least_of(const Job *job, Gap gap) {
    return job->shop->least_strip_mm / job->cane.reduction / (gap.fine ? 2 : 1);
}

static void check_gaps(const Job *job, Gap gap, Gap gap_of_main, Judgement *j) {
    bool lost = false;
    for (int i = 0; i < j->parts; i++)
        lost = lost || (j->part[i].main && is_lost(&j->part[i]) && (j->part[i].hole || j->part[i].run_into));
    Verdict of_main = fine_verdict(job, gap_of_main.mm, least_of(job, gap_of_main), lost),
            of_all = fine_verdict(job, gap.mm, least_of(job, gap), false);
    if (gap.mm > 0)
        add(j, CHECK_GAP, gap.mm, least_of(job, gap), true, of_main > of_all ? of_main : of_all)->standing =
            STANDING_HABIT;
}

/* Lines that were left out, by how much they are missed, and those that come out thicker. */
static void check_lines(const Job *job, Judgement *j) {
    const Redrawn *redrawn = &job->grid.redrawn;
    if (redrawn->count == 0) return;
    double all = redrawn->left_out + judgement_scored(j);
    double percent = all > 0 ? 100 * (redrawn->missed + redrawn->thickened) / all : 0;
    (void)add(j, CHECK_LINES, percent, lines_go, false, at_most(percent, lines_go, lines_change));
}

static void check_reading(Judgement *j) {
    double finest = HUGE_VAL;
    for (int i = 0; i < j->parts; i++)
        if (!j->part[i].speck && j->part[i].kept) finest = fmin(finest, j->part[i].stroke_mm);
    if (finest < HUGE_VAL)
        add(j, CHECK_READING, finest, reading_go, true, at_least(finest, reading_go, reading_change))
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
    Verdict verdict = kept == scored ? VERDICT_GO : main_lost || most_lost ? VERDICT_NO : VERDICT_CHANGE;
    (void)add(j, CHECK_PARTS, kept, scored, true, verdict);
    (void)add(j, CHECK_LIKENESS, j->likeness, likeness_go, true,
              at_least(j->likeness, likeness_go, likeness_change));
    (void)add(j, CHECK_WEAKEST, weakest, weakest_go, true, at_least(weakest, weakest_go, weakest_change));
}

/* --- the shop --- */

static void check_limit(Judgement *j, CheckKind kind, double value, double limit, double change) {
    add(j, kind, value, limit, false, at_most(value, limit, change * limit))->standing = STANDING_HABIT;
}

/* The time: what one more pair of hands would bring within the shop's limit is only a change. */
static void check_shop(const Job *job, Judgement *j) {
    check_limit(j, CHECK_ROPES, job->bill.ropes_made, job->shop->ropes_max, ropes_change);
    double one_more = (job->shop->people + 1.0) / job->shop->people;
    check_limit(j, CHECK_MINUTES, job->bill.minutes, job->shop->working_minutes,
                fmax(limit_change, one_more));
    check_limit(j, CHECK_MASS, job->bill.log_mass_g / 1000, job->shop->log_mass_max_g / 1000, limit_change);
    check_limit(j, CHECK_DIAMETER, job->cane.log_diameter_mm, job->shop->log_diameter_max_mm, limit_change);
}

/* Does a rope stay warm for the time of a join? Rim ropes are left out: they are pressed against the warm
 * log. */
static void check_warmth(const Job *job, Judgement *j) {
    double seconds = HUGE_VAL, join = job->shop->minutes_join * 60;
    for (int i = 0; i < job->heat.ropes; i++)
        if (!job->bill.rope[i].rim) seconds = fmin(seconds, job->heat.rope[i].seconds);
    if (seconds == HUGE_VAL) return;
    add(j, CHECK_WARMTH, seconds, join, true, at_least(seconds, join * WARMTH_KNOWN, 0))->standing =
        STANDING_HABIT;
}

/* [samples][samples] 1 where a rope of a fine block lies; the caller frees it. NULL if there is no memory. */
static uint8_t *fine_samples(const Job *job, Err *err) {
    int side = job->grid.wanted.side;
    uint8_t *fine = mem_alloc((size_t)side * (size_t)side, 1, err);
    if (fine) layup_fine(&job->layup, job->grid.core, SAMPLES, side, fine);
    return fine;
}

bool judge(const Job *job, Judgement *out, Err *err) {
    Comparison c;
    uint8_t *fine = fine_samples(job, err);
    bool compared = fine && parts_compare(&job->grid, &job->face, fine, cane_sample_mm(&job->cane), &c, err);
    free(fine);
    if (!compared) return false;
    Judgement j = {.parts = c.parts, .part = c.part, .gap_mm = c.gap.mm}; /* 1 */
    check_shaded(job, &j);                                                /* 2 */
    check_strokes(job, &j);
    check_gaps(job, c.gap, c.gap_of_main, &j);
    check_lines(job, &j);
    check_reading(&j);
    check_apart(job, &j);
    check_match(job, &j);
    check_candies(job, &j);
    check_parts(job, &j);
    check_shop(job, &j);
    check_warmth(job, &j);
    *out = j; /* 3: add() kept the worst */
    return true;
}
