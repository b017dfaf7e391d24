/* A larger piece, a larger order. SPDX-License-Identifier: MIT
 *
 * 1. A larger piece, in whole millimetres, or in steps of 0.05 in where inches are spoken. First the closed
 * form, where there is one: strokes, gaps and reading grow with the diameter, the reduction hardly changes; a
 * step less is run, too. If its run does not hold, or where there is none, the largest piece is run and the
 * steps are bisected. A diameter that mended another check is tried first, and kept if it holds: the client
 * needs one. If none mends a check of a no, but the largest makes the whole a change, the least that does is
 * the way.
 * 2. A larger order, if a larger piece helps: of all hundreds of pieces the log is known in closed form, and
 *    a lay-up mostly depends on its steps, so the search begins at the steps of the log that such pieces had.
 * The first orders whose logs have as many are run, each hundred; those that mend the check are told as
 * ranges. There may be more of them. */
#include "run/advisor.h"

#include <math.h>

enum {
    ORDERS = 100,
    HUNDRED = 100,
    ORDERS_TRIED = 3, /* to find how many steps it takes */
    RANGES_TRIED = 12 /* hundreds in the ranges of a check: so much is left for other checks */
};

double advise_step_mm(const Advisor *a) {
    return a->job->order.units == UNITS_IN ? MM_PER_IN / 20 : 1;
}

int advise_largest_steps(const Advisor *a) {
    bool inches = a->job->order.units == UNITS_IN;
    return (int)lround((inches ? ADVISED_PIECE_IN * MM_PER_IN : ADVISED_PIECE_MM) / advise_step_mm(a));
}

/* How many times larger the piece must be by the closed form; 0 where there is none. */
static double times_larger(const Advisor *a) {
    const Check *check = a->check;
    if (check->kind != CHECK_STROKE && check->kind != CHECK_GAP && check->kind != CHECK_READING) return 0;
    bool measured = check->standing == STANDING_HABIT; /* strokes and gaps: a sample is allowed for that */
    return (check->limit - (measured ? cane_sample_mm(&a->job->cane) : 0)) / fmax(check->value, 1e-6);
}

/* Not even the largest piece makes it thick enough; of strokes and gaps, half counts in fine blocks. */
static bool size_cannot(const Advisor *a) {
    double times = times_larger(a) / (a->check->standing == STANDING_HABIT ? 2 : 1);
    return times * a->job->order.piece_diameter_mm > advise_largest_steps(a) * advise_step_mm(a);
}

static int first_diameter(const Advisor *a, int low, int high) {
    double guess = ceil(times_larger(a) * a->job->order.piece_diameter_mm / advise_step_mm(a) - 1e-9);
    if (a->diameter > low) return a->diameter;
    return guess > low && guess < high ? (int)guess : guess >= high ? high - 1 : low + (high - low) / 2;
}

/* Low does not mend the check, high does (or is beyond all): until they meet, or the budget ends. */
static bool search_diameter(Advisor *a, int low, int *high, Verdict *whole, Err *err) {
    int beyond = *high, at = first_diameter(a, low, beyond);
    bool known = a->diameter > low || times_larger(a) > 0; /* that less than `at` hardly does */
    while (*high - low > 1) {
        int refused = a->trials.refused;
        Way way = {.change = {.diameter_mm = at * advise_step_mm(a)}};
        if (!try_way(a, &way, err)) return false;
        if (a->trials.refused > refused) return true;
        if (!way.mends && at == beyond - 1) {
            a->note->size_failed = true;
            return true;
        }
        if (way.mends) *whole = way.whole;
        *(way.mends ? high : &low) = at;
        at = *high == beyond      ? beyond - 1 /* the largest settles whether any does */
             : way.mends && known ? *high - 1  /* what a step less does settles it as a rule */
                                  : low + (*high - low) / 2;
        known = false;
    }
    return true;
}

/* The largest piece does not mend the check, but it may make a no a change: then the least that does. */
static bool search_change(Advisor *a, int low, int largest, Err *err) {
    int high = largest + 1, refused = a->trials.refused;
    for (int at = largest; high - low > 1; at = low + (high - low) / 2) {
        Way way = {.change = {.diameter_mm = at * advise_step_mm(a)}};
        if (!try_way(a, &way, err)) return false;
        if (a->trials.refused > refused || (at == largest && way.whole == VERDICT_NO)) break;
        *(way.whole == VERDICT_NO ? &low : &high) = at;
    }
    if (high > largest) return true;
    a->diameter = high;
    add_way(a, &(Way){.change = {.diameter_mm = high * advise_step_mm(a)}, .whole = VERDICT_CHANGE});
    return true;
}

bool advise_diameter(Advisor *a, Err *err) {
    int largest = advise_largest_steps(a),
        low = (int)floor(a->job->order.piece_diameter_mm / advise_step_mm(a) + 1e-9), high = largest + 1;
    Verdict whole = VERDICT_NO;
    if (low >= largest) return true;
    a->note->size_failed = size_cannot(a);
    if (a->note->size_failed) return true;
    if (!search_diameter(a, low, &high, &whole, err)) return false;
    if (a->note->size_failed && a->job->judgement.verdict == VERDICT_NO)
        return search_change(a, low, largest, err);
    if (high > largest) return true;
    a->diameter = a->note->diameter = high;
    a->note->diameter_whole = whole;
    add_way(a, &(Way){.change = {.diameter_mm = high * advise_step_mm(a)}, .mends = true, .whole = whole});
    return true;
}

/* --- 2: a larger order --- */

/* All hundreds of pieces from the order on. */
typedef struct Orders {
    int count;
    long pieces[ORDERS];
    LayKey key[ORDERS]; /* of the lay-up of each */
} Orders;

static void list_orders(const Advisor *a, Orders *o) {
    long first = (a->job->order.pieces / HUNDRED + 1) * HUNDRED;
    o->count = 0;
    for (int i = 0; i < ORDERS; i++) {
        Change change = {.pieces = first + (long)i * HUNDRED};
        Cane cane;
        if (!trial_cane(a->job, &change, &cane) || cane.logs > 5) break;
        o->pieces[i] = change.pieces;
        o->key[i] = cane.key;
        o->count++;
    }
}

/* Has the order's log steps of that size, and so many at least? */
static bool has_steps(const Orders *o, int i, int least_steps, int steps) {
    return o->key[i].least_steps == least_steps && o->key[i].steps >= steps;
}

static bool try_order(Advisor *a, const Orders *o, int i, Way *way, Err *err) {
    *way = (Way){.change = {.pieces = o->pieces[i]}};
    return try_way(a, way, err);
}

/* How many steps, of the size that a larger piece's log has, it takes: those of the piece, or a few more; if
 * they hold, a hundred pieces less are tried, too. *least = 0: none was found. */
static bool search_orders(Advisor *a, const Orders *o, const LayKey *larger, int *least, Err *err) {
    int at = 0;
    *least = 0;
    while (at < o->count && !has_steps(o, at, larger->least_steps, larger->steps)) at++;
    for (int tries = 0; at >= 0 && at < o->count && tries < ORDERS_TRIED; tries++) {
        int refused = a->trials.refused;
        Way way = {.mends = false};
        if (o->key[at].least_steps == larger->least_steps && !try_order(a, o, at, &way, err)) return false;
        if (a->trials.refused > refused || (!way.mends && *least > 0)) break;
        if (way.mends) *least = o->key[at].steps;
        at += *least > 0 ? -1 : 1;
    }
    return true;
}

/* Adds an order that mends the check: to the last range, if it is the next hundred, else as a new one. False
 * if there is no room for one. */
static bool add_order(Way *out, const Way *order) {
    long pieces = order->change.pieces;
    PieceRange *last = out->ranges > 0 ? &out->range[out->ranges - 1] : NULL;
    if (last && last->to + HUNDRED == pieces) {
        last->to = pieces;
    } else {
        if (out->ranges == RANGES_MAX) return false;
        if (out->ranges == 0) *out = (Way){.change = order->change, .mends = true};
        out->range[out->ranges++] = (PieceRange){pieces, pieces};
    }
    if (order->whole > out->whole) out->whole = order->whole;
    return true;
}

bool advise_pieces(Advisor *a, Err *err) {
    Orders o;
    Cane larger;
    Way way = {.ranges = 0};
    int least, tried = 0;
    if (a->note->diameter == 0 || a->note->diameter_whole == VERDICT_NO) return true;
    if (!trial_cane(a->job, &(Change){.diameter_mm = a->note->diameter * advise_step_mm(a)}, &larger))
        return true;
    list_orders(a, &o);
    if (!search_orders(a, &o, &larger.key, &least, err)) return false;
    int refused = a->trials.refused;
    for (int i = 0; i < o.count && least > 0 && tried < RANGES_TRIED; i++) {
        Way order;
        if (!has_steps(&o, i, larger.key.least_steps, least)) continue;
        if (!try_order(a, &o, i, &order, err)) return false;
        tried++;
        if (a->trials.refused > refused || (order.mends && !add_order(&way, &order))) break;
    }
    if (way.ranges > 0) add_way(a, &way);
    return true;
}
