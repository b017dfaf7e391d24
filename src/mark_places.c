/* Judged parts -> numbered places. SPDX-License-Identifier: MIT
 *
 * 1. A part is at fault if it is lost, has run together with another, or is finer than a least strip (a ring:
 * than a least sheet); the gravest fault is told.
 * 2. Main parts come first, then by fault, then the larger, then in reading order; the first PLACES_MAX get
 * numbers. */
#include "mark_places.h"

#include "text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

typedef struct Candidate {
    const Part *part;
    int index;
    Fault fault;
} Candidate;

static double least_mm(const Job *job, const Part *part) {
    return (part->ring ? job->shop->least_sheet_mm : job->shop->least_strip_mm) / job->cane.reduction;
}

/* One sample is allowed for the measuring. */
static bool is_fine(const Job *job, const Part *part) {
    double sample_mm = job->cane.step_mm / SAMPLES / job->cane.reduction;
    return part->stroke_mm + sample_mm < least_mm(job, part);
}

static bool find_fault(const Job *job, const Part *part, Fault *out) {
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

/* "upper left", "middle": where a point of the face lies. */
static const char *where(Point p, double side) {
    static const char *const word[8] = {"right", "lower right", "bottom", "lower left",
                                        "left",  "upper left",  "top",    "upper right"};
    double x = p.x / side - 0.5, y = p.y / side - 0.5;
    if (hypot(x, y) < 0.10) return "middle";
    double eighth = atan2(y, x) / (PI / 4); /* clockwise from the right: y goes down */
    return word[((int)lround(eighth) + 8) % 8];
}

static void put_words(const Job *job, Place *place) {
    const Part *part = &job->judgement.part[place->part];
    const char *fault = place->fault == FAULT_LOST  ? "lost"
                        : place->fault == FAULT_RUN ? part->hole ? "has run out" : "runs into another part"
                        : part->hole                ? "too narrow"
                                                    : "too fine";
    char name[CANDY_NAME], finest[48] = "";
    text_fit(name, sizeof name, job->palette.candy[part->candy].name, 16);
    if (place->fault == FAULT_FINE) {
        char is[24], least[24];
        length_print(is, sizeof is, part->stroke_mm, job->order.units);
        length_print(least, sizeof least, least_mm(job, part), job->order.units);
        (void)snprintf(finest, sizeof finest, " (%.15s, hands need %.15s)", is, least);
    }
    (void)snprintf(place->words, sizeof place->words, "%s %s, %s: %s%s", name,
                   part->hole   ? "hole"
                   : part->ring ? "ring"
                                : "part",
                   where(part->middle, job->grid.wanted.side), fault, finest);
}

void mark_places(const Job *job, Places *out) {
    const Judgement *judgement = &job->judgement;
    Places places = {.count = 0};
    Candidate worst[PLACES_MAX];
    int found = 0;
    for (int i = 0; i < judgement->parts; i++) { /* 1 */
        Candidate c = {&judgement->part[i], i, FAULT_LOST};
        if (!find_fault(job, c.part, &c.fault)) continue;
        found++;
        int at = places.count < PLACES_MAX ? places.count++ : PLACES_MAX; /* 2: by insertion */
        for (; at > 0 && is_worse(&worst[at - 1], &c); at--)
            if (at < PLACES_MAX) worst[at] = worst[at - 1];
        if (at < PLACES_MAX) worst[at] = c;
    }
    places.more = found - places.count;
    for (int i = 0; i < places.count; i++) {
        places.place[i] = (Place){worst[i].index, worst[i].fault, worst[i].part->box, ""};
        put_words(job, &places.place[i]);
    }
    *out = places;
}
