/* Strokes become lines. SPDX-License-Identifier: MIT
 *
 * 1. Distances to what is no ink, and local thickness.
 * 2. Pixels by rising distance: each goes unless that would part, open or close something, or it is one whose
 * own disc is 0.7 or more of the largest that covers it across. What is left is bands.
 * 3. The same again, keeping but the ends of lines. What is left is one pixel wide.
 * 4. Spurs: from each end along the line to where lines meet. */
#include "base/thin_lines.h"

#include "base/distance.h"
#include "base/mem.h"
#include "base/thickness.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double band_share = 0.7; /* chosen: corners of a right angle stay under it */
static const double spur_long = 0.4, serif_long = 1, serif_thick = 0.75; /* of the thickness; chosen */
static const double tip_thick = 0.85;                                    /* likewise */

typedef struct Thinner {
    int width, height;
    int32_t *squared; /* [height][width] squared distance to what is no ink; owned */
    float *thick;     /* [height][width] the caller's */
    uint8_t *line;    /* [height][width] the caller's */
    uint8_t *keep;    /* [height][width] 1: stays in step 2; scratch after that; owned */
    int32_t *order;   /* [count] pixels of ink by rising distance; owned */
    int count;
} Thinner;

/* The eight neighbours in a circle, from the right one on. */
static void look_round(const Thinner *t, int at, int n[8]) {
    const int w = t->width, by[8] = {1, 1 - w, -w, -w - 1, -1, w - 1, w, w + 1};
    for (int i = 0; i < 8; i++) n[i] = t->line[at + by[i]] != 0;
}

/* Could the pixel go without parting or opening anything? Yokoi's number for ink that is connected by
 * corners, too. */
static bool can_go(const int n[8]) {
    int number = 0;
    for (int i = 0; i < 8; i += 2) number += !n[i] && (n[i + 1] || n[(i + 2) % 8]);
    return number == 1;
}

static int count_round(const int n[8]) {
    int count = 0;
    for (int i = 0; i < 8; i++) count += n[i];
    return count;
}

/* How many lines leave from the pixel. */
static int count_ways(const int n[8]) {
    int ways = 0;
    for (int i = 0; i < 8; i++) ways += !n[i] && n[(i + 1) % 8];
    return ways;
}

/* 2. */
static void thin_to_bands(Thinner *t) {
    for (bool any = true; any;) {
        any = false;
        for (int i = 0; i < t->count; i++) {
            int at = t->order[i], n[8];
            if (!t->line[at] || t->keep[at]) continue;
            look_round(t, at, n);
            if (!can_go(n)) continue;
            t->line[at] = 0;
            any = true;
        }
    }
}

/* 3. One layer from one side: what has nothing there now. */
static bool peel(Thinner *t, int side) {
    bool any = false;
    for (int i = 0; i < t->count; i++) {
        int at = t->order[i], n[8];
        t->keep[at] = 0;
        if (!t->line[at]) continue;
        look_round(t, at, n);
        t->keep[at] = !n[side] && count_round(n) > 1;
    }
    for (int i = 0; i < t->count; i++) {
        int at = t->order[i], n[8];
        if (!t->keep[at]) continue;
        look_round(t, at, n);
        if (!can_go(n) || count_round(n) <= 1) continue;
        t->line[at] = 0;
        any = true;
    }
    return any;
}

/* From all four sides in turn: peeled from one alone, a stroke would be eaten up from its end. */
static void thin_to_lines(Thinner *t) {
    for (bool any = true; any;) {
        any = false;
        for (int side = 0; side < 8; side += 2) any = peel(t, 3 * side % 8) || any;
    }
}

/* --- 4 --- */

/* The next pixel of the line after `at`, which came from `from`; -1 if there is none. By sides first. */
static int next_on(const Thinner *t, int at, int from) {
    static const int turn[8] = {0, 2, 4, 6, 1, 3, 5, 7};
    const int w = t->width, by[8] = {1, 1 - w, -w, -w - 1, -1, w - 1, w, w + 1};
    for (int i = 0; i < 8; i++) {
        int to = at + by[turn[i]];
        if (to != from && t->line[to] == 1) return to;
    }
    return -1;
}

/* Follows the line from its end and marks the branch with 2 if it is a spur. */
static void mark_spur(Thinner *t, int end) {
    int n[8], at = end, from = -1, steps = 0;
    double sum = 0;
    for (; at >= 0; steps++) {
        look_round(t, at, n);
        if (count_ways(n) > 2) break;
        sum += (double)t->thick[at];
        int next = next_on(t, at, from);
        from = at;
        at = next;
        if (steps > t->width + t->height) return;
    }
    if (at < 0 || steps == 0) return; /* a line of its own */
    double thick = (double)t->thick[at];
    bool serif = sum / steps < serif_thick * thick && steps < serif_long * thick;
    if (steps >= spur_long * thick && !serif) return;
    for (int last = -1, here = end; here != at && here >= 0;) {
        int next = next_on(t, here, last);
        t->keep[here] = 2;
        last = here;
        here = next;
    }
}

/* As local_thickness has it. */
static double own_disc(const Thinner *t, int at) {
    return 2 * sqrt(t->squared[at]) - 0.5;
}

/* A line that runs on into a sharp corner ends where the ink begins to taper. */
static void cut_tip(Thinner *t, int end) {
    int n[8], at = end, from = -1;
    float most = 0;
    for (int steps = 0; at >= 0; steps++) { /* as far as half the thickness there */
        look_round(t, at, n);
        most = t->thick[at] > most ? t->thick[at] : most;
        if (count_ways(n) > 2 || (double)steps > (double)most) break;
        int next = next_on(t, at, from);
        from = at;
        at = next;
    }
    int left = t->count; /* a line may run into itself where no third one is seen to leave */
    for (int here = end, last = -1; here >= 0 && left-- > 0;) {
        if (own_disc(t, here) >= tip_thick * (double)most) break;
        look_round(t, here, n);
        if (count_ways(n) > 2) break;
        int next = next_on(t, here, last);
        t->keep[here] = 2;
        last = here;
        here = next;
    }
}

static void cut_ends(Thinner *t, void (*mark)(Thinner *t, int end)) {
    memset(t->keep, 0, (size_t)t->width * t->height);
    for (int i = 0; i < t->count; i++) {
        int n[8], at = t->order[i];
        if (!t->line[at]) continue;
        look_round(t, at, n);
        if (count_round(n) == 1) (*mark)(t, at);
    }
    for (int i = 0; i < t->count; i++)
        if (t->keep[t->order[i]] == 2) t->line[t->order[i]] = 0;
}

/* --- 1 --- */

/* By rising distance, then in reading order: a counting sort would need as many places as squares. */
typedef struct Place {
    int32_t squared, at;
} Place;

static int compare_places(const void *a, const void *b) {
    const Place *p = a, *q = b;
    if (p->squared != q->squared) return p->squared < q->squared ? -1 : 1;
    return p->at < q->at ? -1 : p->at > q->at;
}

static bool sort_pixels(Thinner *t, Err *err) {
    int count = 0, pixels = t->width * t->height;
    for (int i = 0; i < pixels; i++) count += t->line[i];
    Place *place = mem_alloc((size_t)count, sizeof *place, err);
    t->order = place ? mem_alloc((size_t)count, sizeof *t->order, err) : NULL;
    for (int i = 0; t->order && i < pixels; i++)
        if (t->line[i]) place[t->count++] = (Place){t->squared[i], i};
    if (t->order) qsort(place, (size_t)count, sizeof *place, compare_places);
    for (int i = 0; t->order && i < count; i++) t->order[i] = place[i].at;
    free(place);
    return t->order != NULL;
}

static bool measure_ink(Thinner *t, double cap, Err *err) {
    size_t pixels = (size_t)t->width * t->height;
    t->keep = mem_alloc(pixels, 1, err);
    t->squared = t->keep ? mem_alloc(pixels, sizeof *t->squared, err) : NULL;
    if (!t->squared) return false;
    for (size_t i = 0; i < pixels; i++) t->keep[i] = !t->line[i]; /* sites, for now */
    return distance_transform(t->keep, t->width, t->height, t->squared, NULL, err) &&
           local_thickness(t->keep, t->width, t->height, cap, t->thick, err);
}

/* The own disc is 2 d - 1/2 across, as local_thickness has it. */
static void keep_bands(Thinner *t) {
    for (int i = 0; i < t->count; i++) {
        int at = t->order[i];
        double least = (band_share * (double)t->thick[at] + 0.5) / 2;
        t->keep[at] = t->squared[at] >= least * least;
    }
}

bool thin_lines(const uint8_t *ink, int width, int height, double cap, uint8_t *line, float *thick,
                Err *err) {
    Thinner t = {.width = width, .height = height, .line = line, .thick = thick};
    for (size_t i = 0; i < (size_t)width * height; i++) line[i] = ink[i] != 0;
    bool done = measure_ink(&t, cap, err) && sort_pixels(&t, err); /* 1 */
    if (done) {
        keep_bands(&t);
        thin_to_bands(&t);       /* 2 */
        thin_to_lines(&t);       /* 3 */
        cut_ends(&t, mark_spur); /* 4 */
        thin_to_lines(&t);
        cut_ends(&t, cut_tip);
        for (size_t i = 0; i < (size_t)width * height; i++)
            if (!line[i]) thick[i] = 0;
    }
    free(t.keep);
    free(t.squared);
    free(t.order);
    return done;
}
