/* Judged parts become numbered flaws. SPDX-License-Identifier: MIT
 *
 * 1. A part has a flaw if it is lost, is hardly as drawn, has run together with another, or is finer than a
 * least strip (a ring: than a least sheet; in fine blocks: than half of that); the gravest is told.
 * 2. Main parts come first, then by the kind of flaw, then the larger, then in reading order; the first
 * FLAWS_MAX get numbers.
 * 3. A ring round a large part would ring much that is right: of those only the spot is told that holds most
 * of the samples at fault.
 * 4. Behind them what is lost of the shapes of parts that are told of by none of these, the largest first;
 * then the lines that were redrawn; last where the logo's own colours hardly differ. */
#include "judge/checks.h"
#include "judge/judge.h"

#include <stdlib.h>

enum { LATTICE = 2 }; /* every second sample each way is looked at, and every second spot */

static const double large = 0.4, spot = 0.22, shape_spot = 0.12; /* of the core's diameter */
static const double lost_most = 0.2;                             /* IoU: of more the face shows something */
static const double shape_least = 0.02; /* of its part: smaller features are not pointed at */

typedef struct Candidate {
    const Part *part;
    int index;
    FlawKind kind;
} Candidate;

static double least_mm(const Job *job, const Part *part) {
    double least = part->ring ? job->shop->least_sheet_mm : job->shop->least_strip_mm;
    return (part->fine ? least / 2 : least) / job->cane.reduction;
}

/* What is fine is allowed one sample for the measuring. */
static bool find_kind(const Job *job, const Part *part, FlawKind *out) {
    *out = part->kept ? FLAW_FINE : part->run_into ? FLAW_RUN : part->iou < lost_most ? FLAW_LOST : FLAW_OFF;
    return !part->speck &&
           (!part->kept || part->stroke_mm + cane_sample_mm(&job->cane) < least_mm(job, part));
}

/* Is b the worse one? */
static bool is_worse(const Candidate *a, const Candidate *b) {
    if (a->part->main != b->part->main) return b->part->main;
    if (a->kind != b->kind) return b->kind < a->kind;
    if (a->part->samples != b->part->samples) return b->part->samples > a->part->samples;
    return b->index < a->index;
}

/* Is what is wrong with the part wrong at sample (x, y)? Of a part run into, what should not be it. */
static bool is_at_fault(const Job *job, const Part *part, FlawKind kind, int x, int y) {
    const Face *wanted = &job->grid.wanted;
    size_t at = (size_t)y * wanted->side + x;
    bool own = wanted->candy[at] == part->candy;
    if (kind == FLAW_FINE) return own && job->fine.fine[(size_t)(y / 2) * job->fine.side + x / 2] != FINE_NOT;
    bool shown = job->face.candy[at] == part->candy;
    return kind == FLAW_RUN && !part->hole ? !own && shown : own && !shown;
}

static int count_faults(const Job *job, const Part *part, FlawKind kind, Box box) {
    int count = 0;
    for (int y = box.y; y < box.y + box.h; y += LATTICE)
        for (int x = box.x; x < box.x + box.w; x += LATTICE) count += is_at_fault(job, part, kind, x, y);
    return count;
}

/* The spot of the part with most at fault; of several the first. */
static Box worst_spot(const Job *job, const Part *part, FlawKind kind) {
    int side = job->grid.wanted.side, most = -1, size = (int)(spot * side), stride = size / 8 + 1;
    Box whole = part->box, best = whole;
    if (whole.w <= large * side && whole.h <= large * side) return whole;
    int w = whole.w < size ? whole.w : size, h = whole.h < size ? whole.h : size;
    for (int y = whole.y; y + h <= whole.y + whole.h; y += stride)
        for (int x = whole.x; x + w <= whole.x + whole.w; x += stride) {
            Box box = {x, y, w, h};
            int count = count_faults(job, part, kind, box);
            if (count <= most) continue;
            most = count;
            best = box;
        }
    return best;
}

/* The spot of the line with most of it; of several the first. */
static Box spot_of_line(const Job *job, const RedrawnLine *line) {
    const int side = job->grid.wanted.side, size = (int)(spot * side);
    const bool wide = line->box.w > large * side, high = line->box.h > large * side;
    if (!wide && !high) return line->box;
    Box box = {(int)line->middle.x - size / 2, (int)line->middle.y - size / 2, size, size};
    if (!wide) box = (Box){line->box.x, box.y, line->box.w, size};
    if (!high) box = (Box){box.x, line->box.y, size, line->box.h};
    return box;
}

/* The next feature to be told of after `last`, by its share and then its place in the list; -1: none. */
static int next_shape(const Job *job, const Flaws *flaws, int last) {
    const Features *features = &job->measures.features;
    int best = -1;
    for (int i = 0; i < features->count; i++) {
        const Feature *f = &features->feature[i], *l = last < 0 ? NULL : &features->feature[last];
        bool told = f->kept || f->share < shape_least;
        for (int k = 0; k < flaws->count; k++)
            told = told || (flaws->flaw[k].kind != FLAW_SHAPE && flaws->flaw[k].part == f->part &&
                            flaws->flaw[k].kind != FLAW_FINE);
        bool behind = !l || f->share < l->share || (!(f->share > l->share) && i > last);
        if (!told && behind && (best < 0 || f->share > features->feature[best].share)) best = i;
    }
    return best;
}

/* 4: what shapes lose. */
static void number_shapes(const Job *job, Flaws *flaws) {
    const double side = job->grid.wanted.side, half = side / 2, sample = cane_sample_mm(&job->cane);
    const int size = (int)(shape_spot * side);
    for (int i = next_shape(job, flaws, -1); i >= 0; i = next_shape(job, flaws, i)) {
        const Feature *f = &job->measures.features.feature[i];
        if (flaws->count == FLAWS_MAX) {
            flaws->more++;
            continue;
        }
        Point at = {half + f->middle_mm.x / sample, half + f->middle_mm.y / sample};
        Flaw flaw = {.kind = FLAW_SHAPE, .part = f->part, .line = i};
        flaw.box = (Box){(int)at.x - size / 2, (int)at.y - size / 2, size, size};
        flaw.least_mm = least_mm(job, &job->judgement.part[f->part]);
        flaws->flaw[flaws->count++] = flaw;
    }
}

/* 4: lines take the numbers that are left, those that are missed first. */
static void number_lines(const Job *job, Flaws *flaws) {
    const Redrawn *redrawn = &job->grid.redrawn;
    for (int missed = 1; missed >= 0; missed--)
        for (int i = 0; i < redrawn->count; i++) {
            const RedrawnLine *line = &redrawn->line[i];
            if ((line->missed > 0) != missed) continue;
            if (flaws->count == FLAWS_MAX) {
                flaws->more++;
                continue;
            }
            Flaw flaw = {.kind = FLAW_LINE, .part = -1, .line = i, .box = spot_of_line(job, line)};
            flaw.least_mm = job->shop->least_strip_mm / job->cane.reduction;
            flaws->flaw[flaws->count++] = flaw;
        }
    flaws->more += redrawn->more;
}

/* 4: where the logo's own colours hardly differ. */
static void number_near(const Job *job, Flaws *flaws) {
    const int size = (int)(shape_spot * job->grid.wanted.side);
    Point at;
    if (!own_colours_spot(job, &at)) return;
    if (flaws->count == FLAWS_MAX) {
        flaws->more++;
        return;
    }
    Flaw flaw = {.kind = FLAW_OWN, .part = -1, .line = -1};
    flaw.box = (Box){(int)at.x - size / 2, (int)at.y - size / 2, size, size};
    flaws->flaw[flaws->count++] = flaw;
}

void find_flaws(const Job *job, Flaws *out) {
    const Judgement *judgement = &job->judgement;
    Flaws flaws = {.count = 0};
    Candidate worst[FLAWS_MAX];
    int found = 0;
    for (int i = 0; i < judgement->parts; i++) { /* 1 */
        Candidate c = {&judgement->part[i], i, FLAW_LOST};
        if (!find_kind(job, c.part, &c.kind)) continue;
        found++;
        int at = flaws.count < FLAWS_MAX ? flaws.count++ : FLAWS_MAX; /* 2: by insertion */
        for (; at > 0 && is_worse(&worst[at - 1], &c); at--)
            if (at < FLAWS_MAX) worst[at] = worst[at - 1];
        if (at < FLAWS_MAX) worst[at] = c;
    }
    flaws.more = found - flaws.count;
    for (int i = 0; i < flaws.count; i++) {
        const Candidate *c = &worst[i];
        Box box = worst_spot(job, c->part, c->kind); /* 3 */
        flaws.flaw[i] = (Flaw){c->kind, c->index, -1, box, least_mm(job, c->part)};
    }
    number_shapes(job, &flaws);
    number_lines(job, &flaws);
    number_near(job, &flaws);
    *out = flaws;
}
