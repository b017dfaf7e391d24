/* Checks of a logo's inks and their candies. SPDX-License-Identifier: MIT
 *
 * Limits are our own, chosen by eye over the quality set; docs/numbers.md lists them. */
#include "judge/checks.h"
#include "judge/judge.h"

#include <math.h>

static const double match_go = 10;   /* CIEDE2000 */
static const double match_far = 25;  /* CIEDE2000: another colour altogether */
static const double far_most = 0.2;  /* of what is drawn: more of it in other colours is another logo */
static const double white_near = 12; /* CIEDE2000: as match_candy has it, so near is white */
static const double joined_most =
    0.05; /* of the area: a larger ink that is joined is a colour that is wrong */
static const double apart_go = 20, apart_of_inks = 0.8, apart_change = 10, inks_alike = 15; /* CIEDE2000 */
static const double inks_same = 10.2; /* CIEDE2000: two inks so near that become one candy are no loss */
static const double drawn_by = 0.5;   /* of all borders: the drawing hangs on those, however near the inks */
static const double open_most = 0.1;  /* of what is drawn: so much may go with a field of its own colour */
static const double shaded_go = 5;    /* % */
static const double deep_go = 0.02, deep_change = 50;   /* % */
static const double smooth_most = 65, smooth_deep = 20; /* % shaded, and % deep: gradient all over */
static const double grain_most = 0.5;                   /* of what is shaded: more is a photograph */
static const double cuts_go = 3;                        /* places */

/* --- the drawing itself --- */

/* Shading near its candy's colour is left out and not missed: the sheen of a spade. Beyond, it is flattened,
 * which is to be asked; what strays far all over, or is grained as photographs are, is no drawing for candy.
 */
static void check_shaded(const Job *job, Judgement *j) {
    double percent = job->inks->shaded * 100, deep = job->inks->deep * 100;
    bool little = percent <= shaded_go, sheen = little || deep <= deep_go;
    bool photograph = !little && job->inks->grain > grain_most;
    bool all_over = deep > deep_change || (percent > smooth_most && deep > smooth_deep);
    Verdict verdict = photograph || all_over || (!little && j->parts == 0) ? VERDICT_NO
                      : sheen                                              ? VERDICT_GO
                                                                           : VERDICT_CHANGE;
    (void)check_add(j, CHECK_SHADED, percent, shaded_go, false, verdict);
}

/* The edge of the picture cuts through letters or the like: only the whole logo helps. */
static void check_cut(const Job *job, Judgement *j) {
    int cuts = job->inks->cuts;
    if (cuts > 0)
        (void)check_add(j, CHECK_CUT, cuts, cuts_go, false, cuts <= cuts_go ? VERDICT_GO : VERDICT_NO);
}

void check_drawing(const Job *job, Judgement *j) {
    check_shaded(job, j);
    check_cut(job, j);
}

/* --- its colours --- */

static void check_candies(const Job *job, Judgement *j) {
    int wanted = job->palette.wanted, most = job->order.colours;
    (void)check_add(j, CHECK_CANDIES, wanted, most, false, wanted <= most ? VERDICT_GO : VERDICT_CHANGE);
}

/* Is it a small ink that was joined with a larger one? That is told by the candies it would take. Inks come
 * by falling share. */
static bool is_joined(const Job *job, int ink) {
    bool joined = false;
    for (int i = 0; i < ink; i++) joined |= job->palette.of_ink[i] == job->palette.of_ink[ink];
    return joined && job->inks->ink[ink].share < joined_most;
}

/* How much of what is drawn comes in another colour altogether, 0..1. */
static double other_share(const Job *job) {
    double other = 0, drawn = 1 - job->inks->ink[job->inks->field].share;
    for (int i = 0; i < job->inks->count; i++)
        if (job->palette.delta_e[i] > match_far) other += job->inks->ink[i].share;
    return drawn > 0 ? other / drawn : 0;
}

static void check_match(const Job *job, Judgement *j) {
    double worst = 0;
    for (int i = 0; i < job->inks->count; i++)
        if (job->inks->ink[i].share >= JUDGED_SHARE && !is_joined(job, i))
            worst = fmax(worst, job->palette.delta_e[i]);
    Verdict verdict = at_most(worst, match_go, HUGE_VAL);
    if (verdict == VERDICT_CHANGE && other_share(job) > far_most) verdict = VERDICT_NO;
    (void)check_add(j, CHECK_MATCH, worst, match_go, false, verdict);
}

/* How far apart two touching inks are, and their candies. A transparent ink is like no other; on a white
 * field it is white paper, but for what is lost there. */
typedef struct Pair {
    double inks, candies, wanted;
    Verdict verdict;
} Pair;

/* Is some of the ink's shape lost on the field, and is it worth telling? */
static bool is_lost_on_field(const Job *job, int ink, OnField on) {
    double drawn = 1 - job->inks->ink[job->inks->field].share;
    return on == ON_FIELD_PARTLY && job->inks->open[ink] > open_most * drawn;
}

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
    pair.wanted =
        paper && is_lost_on_field(job, other, on) ? apart_go : fmin(apart_go, apart_of_inks * pair.inks);
    pair.verdict = at_least(pair.candies, pair.wanted, apart_change);
    bool small = fmin(p->share, q->share) < joined_most;
    if (pair.verdict == VERDICT_NO && (pair.inks <= inks_alike || small)) pair.verdict = VERDICT_CHANGE;
    const bool drawing = job->inks->border[a][b] > drawn_by;
    if (pair.inks <= inks_same && pair.wanted < apart_go && !drawing) pair.verdict = VERDICT_GO;
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
    if (any) (void)check_add(j, CHECK_APART, worst.candies, worst.wanted, true, worst.verdict);
}

void check_colours(const Job *job, Judgement *j) {
    check_apart(job, j);
    check_match(job, j);
    check_candies(job, j);
}
