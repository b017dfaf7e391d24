/* What is true of a job for its client. SPDX-License-Identifier: MIT */
#include "say/letter_facts.h"

#include "model/colour.h"
#include "say/verdict_words.h"

#include <math.h>
#include <stddef.h>

static const double told_share = 0.005; /* of an ink: less is not spoken of; ours */
static const double told_apart = 8; /* CIEDE2000: colours that differ less are the same to a client; ours */

static Verdict worst_of(const Judgement *j, CheckKind first, CheckKind last) {
    Verdict worst = VERDICT_GO;
    for (int i = 0; i < j->checks; i++) {
        const Check *check = &j->check[i];
        if (check->kind >= first && check->kind <= last && check->verdict > worst) worst = check->verdict;
    }
    return worst;
}

/* --- the proposal --- */

/* Is it no main part and no letter that is left out? */
static bool spares_the_logo(const Judgement *j, uint64_t without) {
    for (int i = 0; i < j->parts && i < CHANGE_PARTS; i++)
        if ((without >> i & 1) && (j->part[i].main || j->part[i].letter)) return false;
    return true;
}

static bool is_for_client(const Job *job, const Way *way) {
    const Change *c = &way->change;
    bool any = c->diameter_mm > 0 || c->pieces > 0 || c->colours > 0 || c->plain || c->dyed || c->without ||
               c->lettering > 0 || c->joined;
    return any && way->whole < job->judgement.verdict && spares_the_logo(&job->judgement, c->without);
}

const Way *letter_proposal(const Job *job) {
    const Judgement *j = &job->judgement;
    const Way *best = NULL;
    if (!j->advised) return NULL;
    if (is_for_client(job, &j->best)) return &j->best;
    for (int i = 0; i < j->checks; i++)
        for (int k = 0; k < j->check[i].ways; k++) {
            const Way *way = &j->check[i].way[k];
            if (is_for_client(job, way) && (!best || way->whole < best->whole)) best = way;
        }
    return best;
}

/* --- colours --- */

int ink_joined_with(const Job *job, int ink) {
    if (job->inks->ink[ink].transparent || job->inks->ink[ink].share < told_share) return -1;
    for (int i = 0; i < ink; i++) {
        if (job->palette.of_ink[i] != job->palette.of_ink[ink] || job->inks->ink[i].transparent) continue;
        double apart = delta_e00(rgb8_lab(job->inks->ink[i].srgb), rgb8_lab(job->inks->ink[ink].srgb));
        return apart >= told_apart ? i : -1;
    }
    return -1;
}

/* How the candy differs most from its ink; FACTS: not so that it is worth telling. */
static Fact difference_of(const Job *job, int ink) {
    const Ink *sent = &job->inks->ink[ink];
    if (sent->transparent || sent->share < told_share || job->palette.delta_e[ink] < told_apart ||
        ink_joined_with(job, ink) >= 0)
        return FACTS;
    Lab from = rgb8_lab(sent->srgb), to = rgb8_lab(job->palette.candy[job->palette.of_ink[ink]].srgb);
    double c0 = sqrt(from.a * from.a + from.b * from.b), c1 = sqrt(to.a * to.a + to.b * to.b);
    double lighter = to.l - from.l, stronger = (c1 - c0) / 2; /* an eye forgives chroma sooner */
    double a = to.a - from.a, b = to.b - from.b;
    double hue = sqrt(fmax(a * a + b * b - (c1 - c0) * (c1 - c0), 0));
    if (hue > fabs(lighter) && hue > fabs(stronger)) return FACT_SHIFTED;
    if (fabs(lighter) >= fabs(stronger)) return lighter > 0 ? FACT_LIGHTER : FACT_DARKER;
    return stronger > 0 ? FACT_STRONGER : FACT_PALER;
}

bool ink_differs(const Job *job, int ink, Fact how) {
    return difference_of(job, ink) == how;
}

/* --- the facts --- */

static uint64_t put(bool holds, Fact fact) {
    return holds ? (uint64_t)1 << fact : 0;
}

static uint64_t facts_of_offer(const Job *job) {
    const Shop *shop = job->shop;
    const Quote *q = &job->bill.quote;
    return put(job->order.named, FACT_NAMED) | put(shop->name[0] != 0, FACT_SHOP_NAMED) |
           put(shop->address[0] != 0, FACT_ADDRESS) | put(job->order.quantity_asked, FACT_QUANTITY) |
           put(job->cane.least_order, FACT_LEAST) | put(job->order.valid_until[0] != 0, FACT_VALID) |
           put(shop->price_candy_kg > 0 && shop->price_hour > 0 && q->price > 0, FACT_PRICE) |
           put(shop->price_least > 0 && shop_has_prices(shop), FACT_SMALLEST);
}

static uint64_t facts_of_edits(const Order *order) {
    uint64_t facts = 0;
    static const Fact of_kind[] = {
        [EDIT_LEAVE_OUT] = FACT_LEFT_OUT, [EDIT_LETTERING] = FACT_ALONE, [EDIT_JOIN] = FACT_MADE_ONE};
    for (int i = 0; i < order->edits; i++) facts |= put(true, of_kind[order->edit[i].kind]);
    return facts;
}

/* Two that are made as one are told as that. */
static bool hardly_differ(const Job *job) {
    const NearInks *near = &job->judgement.near;
    return near->border > 0 && job->palette.of_ink[near->one] != job->palette.of_ink[near->other];
}

/* A new kind of check that bears on one of these is named here. */
static uint64_t facts_of_checks(const Job *job) {
    const Judgement *j = &job->judgement;
    bool no = j->verdict == VERDICT_NO;
    Verdict fine = worst_of(j, CHECK_STROKE, CHECK_READING), parts = worst_of(j, CHECK_PARTS, CHECK_WEAKEST),
            shaded = worst_of(j, CHECK_SHADED, CHECK_SHADED), busy = worst_of(j, CHECK_ROPES, CHECK_MINUTES),
            colours = worst_of(j, CHECK_APART, CHECK_CANDIES);
    return put(no, FACT_NO) | put(fine || parts, FACT_FINE) | put(shaded != VERDICT_GO, FACT_SHADED) |
           put(shaded == VERDICT_NO, FACT_ALL_SHADED) | put(colours != VERDICT_GO, FACT_COLOURS_OFF) |
           put(busy == VERDICT_NO, FACT_BUSY) |
           put(worst_of(j, CHECK_CUT, CHECK_CUT) == VERDICT_NO, FACT_CUT) |
           put(worst_of(j, CHECK_OWN, CHECK_OWN) != VERDICT_GO, FACT_HARDLY) |
           put(hardly_differ(job), FACT_NEAR) |
           put(job->order.wishes > 0 || job->order.field[0] != 0, FACT_WISHED);
}

static uint64_t facts_of_lines(const Job *job) {
    const Redrawn *redrawn = &job->grid.redrawn;
    uint64_t facts = put(redrawn->even.rows > 0, FACT_LETTERS_ANEW);
    for (int i = 0; i < redrawn->count; i++) {
        const RedrawnLine *line = &redrawn->line[i];
        bool unseen = line_is_gap(job, line) && !line->text && line->missed <= 0;
        if (!unseen) facts |= put(true, line->how == REDRAWN_THICKENED ? FACT_LINES_THICK : FACT_LINES_OUT);
    }
    return facts;
}

static uint64_t facts_of_parts(const Job *job) {
    const Judgement *j = &job->judgement;
    const Features *features = &job->measures.features;
    uint64_t facts = 0;
    for (int i = 0; i < j->parts; i++) {
        const Part *part = &j->part[i];
        bool lost = !part->kept && !part->speck;
        facts |= put(lost && part->letter, FACT_LETTERS_LOST) |
                 put(lost && !part->letter && !part->main, FACT_SMALL_LOST);
    }
    for (int i = 0; i < features->count; i++) {
        const Feature *feature = &features->feature[i];
        bool letter = feature->part < j->parts && j->part[feature->part].letter;
        if (feature->kept) continue;
        facts |= put(letter, FACT_LETTERS_LOST) | put(!letter && feature->kind == FEATURE_ARM, FACT_TIPS) |
                 put(!letter && feature->kind != FEATURE_ARM, FACT_OPENINGS);
    }
    return facts;
}

static uint64_t facts_of_colours(const Job *job) {
    uint64_t facts = 0;
    for (int i = 0; i < job->inks->count; i++) {
        Fact how = difference_of(job, i);
        facts |= put(ink_joined_with(job, i) >= 0, FACT_JOINED);
        if (how != FACTS) facts |= put(true, how);
    }
    return facts;
}

static uint64_t facts_of_proposal(const Job *job) {
    const Way *way = letter_proposal(job);
    if (!way) return 0;
    const Change *c = &way->change;
    return put(true, FACT_PROPOSED) | put(c->diameter_mm > 0, FACT_LARGER) | put(c->pieces > 0, FACT_MORE) |
           put(c->without != 0, FACT_WITHOUT) | put(c->lettering > 0, FACT_UNLETTERED) |
           put(c->joined != 0, FACT_INTO_ONE) | put(c->dyed != 0, FACT_DYES) |
           put(c->colours > 0, FACT_FEWER) | put(c->plain, FACT_PLAIN) |
           put(way->whole == VERDICT_GO, FACT_WELL);
}

uint64_t letter_facts(const Job *job) {
    return facts_of_offer(job) | put(job->inks->cropped, FACT_CROPPED) | facts_of_edits(&job->order) |
           facts_of_checks(job) | facts_of_lines(job) | facts_of_parts(job) | facts_of_colours(job) |
           facts_of_proposal(job);
}
