/* Judged parts -> numbered places. SPDX-License-Identifier: MIT
 *
 * 1. A part is at fault if it is lost, has run together with another, or is finer than a least strip (a ring:
 * than a least sheet; in fine blocks: than half of that); the gravest fault is told.
 * 2. Main parts come first, then by fault, then the larger, then in reading order; the first FLAWS_MAX get
 * numbers.
 * 3. A ring round a large part would ring much that is right: of those only the spot is told that holds most
 * of the samples at fault. */
#include "judge/find_flaws.h"

#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { LATTICE = 2 }; /* every second sample each way is looked at, and every second spot */

static const double large = 0.4, spot = 0.22; /* of the core's diameter */

typedef struct Candidate {
    const Part *part;
    int index;
    FlawKind fault;
} Candidate;

static double least_mm(const Job *job, const Part *part) {
    double least = part->ring ? job->shop->least_sheet_mm : job->shop->least_strip_mm;
    return (part->fine ? least / 2 : least) / job->cane.reduction;
}

/* One sample is allowed for the measuring. */
static bool is_fine(const Job *job, const Part *part) {
    return part->stroke_mm + cane_sample_mm(&job->cane) < least_mm(job, part);
}

static bool find_fault(const Job *job, const Part *part, FlawKind *out) {
    if (part->speck) return false;
    if (!part->kept) {
        *out = part->run_into ? FAULT_RUN : FAULT_LOST;
        return true;
    }
    *out = FAULT_FINE;
    return is_fine(job, part);
}

/* Is b the worse one? */
static bool is_worse(const Candidate *a, const Candidate *b) {
    if (a->part->main != b->part->main) return b->part->main;
    if (a->fault != b->fault) return b->fault < a->fault;
    if (a->part->samples != b->part->samples) return b->part->samples > a->part->samples;
    return b->index < a->index;
}

/* Is what is wrong with the part wrong at sample (x, y)? Of a part run into, what should not be it. */
static bool is_at_fault(const Job *job, const Part *part, FlawKind fault, int x, int y) {
    const Face *wanted = &job->grid.wanted;
    size_t at = (size_t)y * wanted->side + x;
    bool own = wanted->candy[at] == part->candy;
    if (fault == FAULT_FINE)
        return own && job->fine.fine[(size_t)(y / 2) * job->fine.side + x / 2] != FINE_NOT;
    bool shown = job->face.candy[at] == part->candy;
    return fault == FAULT_RUN && !part->hole ? !own && shown : own && !shown;
}

static int count_faults(const Job *job, const Part *part, FlawKind fault, Box box) {
    int count = 0;
    for (int y = box.y; y < box.y + box.h; y += LATTICE)
        for (int x = box.x; x < box.x + box.w; x += LATTICE) count += is_at_fault(job, part, fault, x, y);
    return count;
}

/* The spot of the part with most at fault; of several the first. */
static Box worst_spot(const Job *job, const Part *part, FlawKind fault) {
    int side = job->grid.wanted.side, most = -1, size = (int)(spot * side), stride = size / 8 + 1;
    Box whole = part->box, best = whole;
    if (whole.w <= large * side && whole.h <= large * side) return whole;
    int w = whole.w < size ? whole.w : size, h = whole.h < size ? whole.h : size;
    for (int y = whole.y; y + h <= whole.y + whole.h; y += stride)
        for (int x = whole.x; x + w <= whole.x + whole.w; x += stride) {
            Box box = {x, y, w, h};
            int count = count_faults(job, part, fault, box);
            if (count <= most) continue;
            most = count;
            best = box;
        }
    return best;
}

static void put_words(const Job *job, Flaw *place) {
    const Part *part = &job->judgement.part[place->part];
    const char *fault = place->fault == FAULT_LOST  ? "lost"
                        : place->fault == FAULT_RUN ? part->hole ? "has run out" : "runs into another part"
                        : part->hole                ? "too narrow"
                                                    : "too fine";
    char name[CANDY_NAME], finest[48] = "";
    Point middle = part->middle;
    if (place->box.w < part->box.w || place->box.h < part->box.h) /* only a spot is ringed */
        middle = (Point){place->box.x + place->box.w / 2.0, place->box.y + place->box.h / 2.0};
    text_fit(name, sizeof name, job->palette.candy[part->candy].name, 16);
    if (place->fault == FAULT_FINE) {
        char is[24], least[24];
        stroke_print(is, sizeof is, part->stroke_mm, job->order.units);
        stroke_print(least, sizeof least, least_mm(job, part), job->order.units);
        (void)snprintf(finest, sizeof finest, " (%.15s, hands need %.15s)", is, least);
    }
    (void)snprintf(place->words, sizeof place->words, "%s %s, %s: %s%s", name,
                   part->hole   ? "hole"
                   : part->ring ? "ring"
                                : "part",
                   face_where(middle, job->grid.wanted.side), fault, finest);
}

void find_flaws(const Job *job, Flaws *out) {
    const Judgement *judgement = &job->judgement;
    Flaws places = {.count = 0};
    Candidate worst[FLAWS_MAX];
    int found = 0;
    for (int i = 0; i < judgement->parts; i++) { /* 1 */
        Candidate c = {&judgement->part[i], i, FAULT_LOST};
        if (!find_fault(job, c.part, &c.fault)) continue;
        found++;
        int at = places.count < FLAWS_MAX ? places.count++ : FLAWS_MAX; /* 2: by insertion */
        for (; at > 0 && is_worse(&worst[at - 1], &c); at--)
            if (at < FLAWS_MAX) worst[at] = worst[at - 1];
        if (at < FLAWS_MAX) worst[at] = c;
    }
    places.more = found - places.count;
    for (int i = 0; i < places.count; i++) {
        Box box = worst_spot(job, worst[i].part, worst[i].fault); /* 3 */
        places.place[i] = (Flaw){worst[i].index, worst[i].fault, box, ""};
        put_words(job, &places.place[i]);
    }
    *out = places;
}
