/* Numbers beside a drawing. SPDX-License-Identifier: MIT
 *
 * If two leads cross, exchanging their places shortens their sum (two sides of a triangle are longer than the
 * third, twice), so where no exchange shortens none cross. Each exchange shortens by `gain` at least: it
 * ends. */
#include "draw/bench_pages.h"

#include <assert.h>
#include <math.h>

static const double gain = 1e-6;

static double lead(Point a, Point b) {
    return hypot(a.x - b.x, a.y - b.y);
}

static bool is_taken(const int *place_of, int anchors, int place) {
    for (int i = 0; i < anchors; i++)
        if (place_of[i] == place) return true;
    return false;
}

/* The nearest place that no anchor before has. */
static int nearest_free(const Point *anchor, int at, const Point *place, int places, const int *place_of) {
    int best = -1;
    for (int p = 0; p < places; p++) {
        if (is_taken(place_of, at, p)) continue;
        if (best < 0 || lead(anchor[at], place[p]) < lead(anchor[at], place[best])) best = p;
    }
    return best;
}

/* Moves an anchor to a free place that is nearer. */
static bool move(const Point *anchor, int anchors, int i, const Point *place, int places, int *place_of) {
    bool moved = false;
    for (int p = 0; p < places; p++) {
        if (lead(anchor[i], place[p]) >= lead(anchor[i], place[place_of[i]]) - gain) continue;
        if (is_taken(place_of, anchors, p)) continue;
        place_of[i] = p;
        moved = true;
    }
    return moved;
}

static bool exchange(const Point *anchor, int i, int j, const Point *place, int *place_of) {
    Point a = anchor[i], b = anchor[j], p = place[place_of[i]], q = place[place_of[j]];
    if (lead(a, q) + lead(b, p) >= lead(a, p) + lead(b, q) - gain) return false;
    int held = place_of[i];
    place_of[i] = place_of[j];
    place_of[j] = held;
    return true;
}

void callouts_assign(const Point *anchor, int anchors, const Point *place, int places, int *place_of) {
    assert(anchors <= places);
    for (int i = 0; i < anchors; i++) place_of[i] = nearest_free(anchor, i, place, places, place_of);
    for (bool shorter = true; shorter;) {
        shorter = false;
        for (int i = 0; i < anchors; i++) {
            shorter |= move(anchor, anchors, i, place, places, place_of);
            for (int j = i + 1; j < anchors; j++) shorter |= exchange(anchor, i, j, place, place_of);
        }
    }
}
