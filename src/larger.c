/* A larger piece, a larger order. SPDX-License-Identifier: MIT
 *
 * 1. A larger piece: first what mended the line before; else the closed form where there is one (stroke, gap
 *    and reading grow with the diameter, the reduction hardly changes), else the largest; then bisection over
 *    whole millimetres.
 * 2. A larger order, if a larger piece helps: of all hundreds of pieces the log is known in closed form, and
 *    the lay-up depends on its steps alone, so the search begins at the steps of the log that such pieces
 *    had. The orders whose steps do are told as intervals, since one log more makes each thinner. Both ends
 * of an interval were run. */
#include "larger.h"

#include "text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { ORDERS = 100, HUNDRED = 100, INTERVALS_SHOWN = 2, STEPS_DOWN = 3 };

static const double diameter_max_mm = 25; /* finished pieces are 8 to 25 mm across; common practice */

/* The diameter that the closed form asks for, in whole mm; the largest where there is none. */
static int guess_diameter(const Advisor *a) {
    double now = a->job->order.piece_diameter_mm, times = a->check->limit / fmax(a->check->value, 1e-6);
    bool grows = strcmp(a->check->unit, "mm") == 0 && a->check->least;
    return grows && now * times < diameter_max_mm ? (int)ceil(now * times - 1e-9) : (int)diameter_max_mm;
}

/* low does not mend the line, high does (or is beyond all). */
bool advise_diameter(Advisor *a, Err *err) {
    int largest = (int)diameter_max_mm, low = (int)floor(a->job->order.piece_diameter_mm + 1e-9),
        high = largest + 1, at = a->diameter > low ? a->diameter : guess_diameter(a);
    Verdict whole = VERDICT_NO, whole_at;
    for (int tries = 0; high - low > 1; tries++) {
        int refused = a->trials.refused;
        if (at <= low || at >= high) at = low + (high - low) / 2;
        Change change = {.diameter_mm = at};
        bool good;
        if (!try_change(a, &change, &good, &whole_at, err)) return false;
        if (a->trials.refused > refused) return true; /* what was found is not known to be the least */
        if (!good && at == largest) a->size_failed = true;
        if (!good && at == largest) return true;
        if (good) whole = whole_at;
        *(good ? &high : &low) = at;
        /* a guess is near: if it held, the next smaller; if not, the largest settles whether any does */
        at = high > largest                         ? largest
             : tries < STEPS_DOWN && high < largest ? high - 1
                                                    : low + (high - low) / 2;
    }
    if (high > largest) return true;
    Change change = {.diameter_mm = high};
    a->diameter = a->found_diameter = high;
    a->diameter_whole = whole;
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
        o->steps[i] = cane.steps;
        o->least_steps[i] = cane.least_steps;
        o->good[i] = false;
        o->count++;
    }
}

/* The order with the fewest steps above `above`, or (if most) with the most below; -1 if none. */
static int find_order(const Orders *o, int least_steps, int above, int below, bool most) {
    int best = -1;
    for (int i = 0; i < o->count; i++) {
        if (o->least_steps[i] != least_steps || o->steps[i] <= above || o->steps[i] >= below) continue;
        if (best < 0 || (most ? o->steps[i] > o->steps[best] : o->steps[i] < o->steps[best])) best = i;
    }
    return best;
}

static bool try_order(Advisor *a, const Orders *o, int i, bool *good, Verdict *whole, Err *err) {
    Change change = {.pieces = o->pieces[i]};
    return try_change(a, &change, good, whole, err);
}

/* Marks the orders whose log has steps of the size that a larger piece's has and mends the line: from the
 * fewest steps that do. */
static bool search_orders(Advisor *a, Orders *o, Err *err) {
    Change larger = {.diameter_mm = a->found_diameter};
    Cane cane;
    bool good;
    Verdict whole;
    if (!trial_cane(a->job, &larger, &cane)) return true;
    int size = cane.least_steps, now = size == a->job->cane.least_steps ? a->job->cane.steps : 0;
    int low = now, high = STEPS_MAX + 1, at = find_order(o, size, cane.steps - 1, high, false);
    while (at >= 0) { /* low does not mend it, high does */
        int refused = a->trials.refused;
        if (!try_order(a, o, at, &good, &whole, err)) return false;
        if (a->trials.refused > refused) return true;
        *(good ? &high : &low) = o->steps[at];
        at = find_order(o, size, low, high, good); /* the bound is near: step by step */
    }
    for (int i = 0; i < o->count; i++) o->good[i] = o->least_steps[i] == size && o->steps[i] >= high;
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
    if (a->found_diameter == 0 || a->diameter_whole == VERDICT_NO) return true;
    list_orders(a, &o);
    if (!search_orders(a, &o, err)) return false;
    if (!print_orders(a, &o, text, sizeof text, &change.pieces, &whole, err)) return false;
    if (change.pieces > 0) tell(a, &change, whole, text);
    return true;
}
