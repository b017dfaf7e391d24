/* A larger piece, a larger order. SPDX-License-Identifier: MIT
 *
 * 1. A larger piece. First the closed form, where there is one: strokes, gaps and reading grow with the
 * diameter, the reduction hardly changes. If its run does not hold, or where there is none, the largest piece
 * is run and the whole millimetres are bisected. A diameter that mended another line is tried first, and kept
 * if it holds: the client needs one. If none mends a line of a no, but the largest makes the whole a change,
 * the least that does is told.
 * 2. A larger order, if a larger piece helps: of all hundreds of pieces the log is known in closed form, and
 *    the lay-up depends on its steps alone, so the search begins at the steps of the log that such pieces
 *    had. The orders whose steps do are told as intervals, since one log more makes each thinner. Both ends
 * of an interval were run. */
#include "run/advise_size.h"

#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { ORDERS = 100, HUNDRED = 100, INTERVALS_SHOWN = 2, ORDERS_TRIED = 3 };

static const double diameter_max_mm = 25; /* finished pieces are 8 to 25 mm across; common practice */

/* How many times larger the piece must be by the closed form; 0 where there is none. */
static double times_larger(const Advisor *a) {
    const Check *check = a->check;
    if (strcmp(check->unit, "mm") != 0 || !check->least) return 0;
    bool measured = check->source == SOURCE_HABIT; /* strokes and gaps: a sample is allowed for that */
    return (check->limit - (measured ? sample_at_piece(a->job) : 0)) / fmax(check->value, 1e-6);
}

/* Not even the largest piece makes it thick enough; of strokes and gaps, half counts in fine blocks. */
static bool size_cannot(const Advisor *a) {
    double times = times_larger(a) / (a->check->source == SOURCE_HABIT ? 2 : 1);
    return times * a->job->order.piece_diameter_mm > diameter_max_mm;
}

static int first_diameter(const Advisor *a, int low, int high) {
    double guess = ceil(times_larger(a) * a->job->order.piece_diameter_mm - 1e-9);
    if (a->diameter > low) return a->diameter;
    return guess > low && guess < high ? (int)guess : guess >= high ? high - 1 : low + (high - low) / 2;
}

/* Low does not mend the line, high does (or is beyond all): until they meet, or the budget ends. */
static bool search_diameter(Advisor *a, int low, int *high, Verdict *whole, Err *err) {
    int beyond = *high, at = first_diameter(a, low, beyond);
    bool known = a->diameter > low || times_larger(a) > 0; /* that less than `at` does not do */
    while (*high - low > 1) {
        int refused = a->trials.refused;
        Change change = {.diameter_mm = at};
        Verdict whole_at;
        bool good;
        if (!try_change(a, &change, &good, &whole_at, err)) return false;
        if (a->trials.refused > refused) return true;
        if (!good && at == beyond - 1) {
            a->note->size_failed = true;
            return true;
        }
        if (good) *whole = whole_at;
        *(good ? high : &low) = at;
        if (good && known) return true;
        known = false;
        at =
            *high == beyond ? beyond - 1 : low + (*high - low) / 2; /* the largest settles whether any does */
    }
    return true;
}

/* The largest piece does not mend the line, but it may make a no a change: then the least that does. */
static bool search_change(Advisor *a, int low, int largest, Err *err) {
    int high = largest + 1, refused = a->trials.refused;
    for (int at = largest; high - low > 1; at = low + (high - low) / 2) {
        Change change = {.diameter_mm = at};
        Verdict whole;
        bool good;
        if (!try_change(a, &change, &good, &whole, err)) return false;
        if (a->trials.refused > refused || (at == largest && whole == VERDICT_NO)) break;
        *(whole == VERDICT_NO ? &low : &high) = at;
    }
    if (high > largest) return true;
    Change change = {.diameter_mm = high};
    a->diameter = high;
    tell_change(a, &change);
    return true;
}

bool advise_diameter(Advisor *a, Err *err) {
    int largest = (int)diameter_max_mm, low = (int)floor(a->job->order.piece_diameter_mm + 1e-9),
        high = largest + 1;
    Verdict whole = VERDICT_NO;
    if (low >= largest) return true;
    a->note->size_failed = size_cannot(a);
    if (a->note->size_failed) return true;
    if (!search_diameter(a, low, &high, &whole, err)) return false;
    if (a->note->size_failed && a->job->judgement.verdict == VERDICT_NO)
        return search_change(a, low, largest, err);
    if (high > largest) return true;
    Change change = {.diameter_mm = high};
    a->diameter = a->note->diameter = high;
    a->note->diameter_whole = whole;
    tell(a, &change, whole, "");
    return true;
}

/* --- 2: a larger order --- */

/* All hundreds of pieces from the order on, and the steps of the log each gives. */
typedef struct Orders {
    int count;
    long pieces[ORDERS];
    int steps[ORDERS], least_steps[ORDERS];
    bool good[ORDERS];
} Orders;

static void list_orders(const Advisor *a, Orders *o) {
    long first = (a->job->order.pieces / HUNDRED + 1) * HUNDRED;
    o->count = 0;
    for (int i = 0; i < ORDERS; i++) {
        Change change = {.pieces = first + (long)i * HUNDRED};
        Cane cane;
        if (!trial_cane(a->job, &change, &cane) || cane.logs > 5) break;
        o->pieces[i] = change.pieces;
        o->steps[i] = cane.key.steps;
        o->least_steps[i] = cane.key.least_steps;
        o->good[i] = false;
        o->count++;
    }
}

/* The first order with at least so many steps; -1 if none. */
static int find_order(const Orders *o, int least_steps, int steps) {
    for (int i = 0; i < o->count; i++)
        if (o->least_steps[i] == least_steps && o->steps[i] >= steps) return i;
    return -1;
}

static bool try_order(Advisor *a, const Orders *o, int i, bool *good, Verdict *whole, Err *err) {
    Change change = {.pieces = o->pieces[i]};
    return try_change(a, &change, good, whole, err);
}

/* Marks the orders whose log has steps of the size that a larger piece's has, and as many as it takes: those
 * of the piece, or a few more; if they hold, a hundred pieces less are tried, too. */
static bool search_orders(Advisor *a, Orders *o, Err *err) {
    Change larger = {.diameter_mm = a->note->diameter};
    Cane cane;
    Verdict whole;
    if (!trial_cane(a->job, &larger, &cane)) return true;
    int size = cane.key.least_steps, at = find_order(o, size, cane.key.steps), least = -1;
    for (int tries = 0; at >= 0 && at < o->count && tries < ORDERS_TRIED; tries++) {
        int refused = a->trials.refused;
        bool good = false;
        if (o->least_steps[at] == size && !try_order(a, o, at, &good, &whole, err)) return false;
        if (a->trials.refused > refused || (!good && least >= 0)) break;
        if (good) least = o->steps[at];
        at += least >= 0 ? -1 : 1;
    }
    for (int i = 0; i < o->count && least >= 0; i++)
        o->good[i] = o->least_steps[i] == size && o->steps[i] >= least;
    return true;
}

/* "2 400 to 2 500, or 4 800 to 5 000": both ends were run, or are left out. */
static bool print_orders(Advisor *a, Orders *o, char *out, size_t size, long *first, Verdict *whole,
                         Err *err) {
    int shown = 0;
    out[0] = 0;
    for (int i = 0; i < o->count && shown < INTERVALS_SHOWN; i++) {
        if (!o->good[i]) continue;
        int end = i;
        while (end + 1 < o->count && o->good[end + 1]) end++;
        bool starts, ends;
        Verdict whole_start, whole_end;
        if (!try_order(a, o, i, &starts, &whole_start, err) || !try_order(a, o, end, &ends, &whole_end, err))
            return false;
        char from[32], to[32];
        text_number(from, sizeof from, (double)o->pieces[i], 0);
        text_number(to, sizeof to, (double)o->pieces[end], 0);
        size_t used = strlen(out);
        ends = ends && end > i;
        if (starts && (ends || end == i || shown == 0)) {
            if (shown++ == 0) {
                *first = o->pieces[i];
                *whole = whole_start;
            }
            if (whole_start > *whole) *whole = whole_start;
            if (ends && whole_end > *whole) *whole = whole_end;
            (void)snprintf(out + used, size - used, "%s%s%s%s", used > 0 ? ", or " : "", from,
                           ends ? " to " : "", ends ? to : "");
        }
        i = end;
    }
    return true;
}

bool advise_pieces(Advisor *a, Err *err) {
    Orders o;
    char text[96];
    Change change = {0};
    Verdict whole = VERDICT_NO;
    if (a->note->diameter == 0 || a->note->diameter_whole == VERDICT_NO) return true;
    list_orders(a, &o);
    if (!search_orders(a, &o, err)) return false;
    if (!print_orders(a, &o, text, sizeof text, &change.pieces, &whole, err)) return false;
    if (change.pieces > 0) tell(a, &change, whole, text);
    return true;
}
