/* The exact cheapest way to give each ink a candy: branch and bound. SPDX-License-Identifier: MIT
 *
 * 1. Inks are taken in turn (fixed ones first); price[depth][i][c] is what choice c would add for ink i,
 * borders with the inks taken so far included. Prices only rise with depth.
 * 2. Two lower bounds for the inks still to take, m new choices being left:
 *    a. each takes its cheapest choice (of the used ones if m = 0);
 *    b. each takes its cheapest used choice, less what m new choices can save. What a set of new choices
 * saves is submodular, so m of them save at most the sum of the m largest single savings (Nemhauser, Wolsey &
 * Fisher, Math. Programming 14 (1978), section 4: the same bound for plant location). Borders among the inks
 * still to take are left out: they cost nothing or more.
 * 3. A first search goes by price and finds the least cost; a second, in the order of inks and choices and
 * held to that cost, finds the first solution that has it.
 *
 * Invariant: a node is left only if its bound reaches the best cost known less EQUAL. */
#include "assign.h"

#include <math.h>
#include <string.h>

#define EQUAL 1e-9

typedef struct Search {
    const Assignment *a;
    int order[INKS_MAX];                               /* inks in the order they are taken */
    double price[INKS_MAX + 1][INKS_MAX][CHOICES_MAX]; /* by depth */
    int taken[INKS_MAX];                               /* choice of each ink taken so far */
    int uses[CHOICES_MAX];                             /* how many inks (and `beyond`) use it */
    int different;
    bool first; /* second search: stop at the first solution */
    bool found;
    double best;
    int answer[INKS_MAX];
} Search;

static double border_cost(const Assignment *a, int i, int c, int j, int d) {
    double lacking = a->apart[i][j] - a->between[c][d];
    return lacking > 0 ? a->border[i][j] * lacking : 0;
}

/* Prices at depth + 1, once ink j took choice d. */
static void raise_prices(Search *s, int depth, int j, int d) {
    const Assignment *a = s->a;
    for (int k = depth + 1; k < a->inks; k++) {
        int i = s->order[k];
        double *to = s->price[depth + 1][i];
        memcpy(to, s->price[depth][i], sizeof s->price[depth][i]);
        if (a->border[i][j] <= 0) continue;
        for (int c = 0; c < a->choices; c++) to[c] += border_cost(a, i, c, j, d);
    }
}

/* The sum of the m largest of v[0..count); m is small. */
static double sum_of_largest(double *v, int count, int m) {
    double sum = 0;
    for (; m > 0; m--) {
        int at = 0;
        for (int i = 1; i < count; i++)
            if (v[i] > v[at]) at = i;
        sum += v[at];
        v[at] = 0;
    }
    return sum;
}

/* Step 2, for the inks from `depth` on. */
static double bound(const Search *s, int depth) {
    const Assignment *a = s->a;
    int room = a->limit - s->different;
    double any_sum = 0, used_sum = 0, saving[CHOICES_MAX] = {0};
    for (int k = depth; k < a->inks; k++) {
        int i = s->order[k];
        const double *price = s->price[depth][i];
        double any = HUGE_VAL, used = HUGE_VAL;
        if (a->fixed[i] >= 0) {
            any = used = price[a->fixed[i]];
        } else {
            for (int c = 0; c < a->choices; c++) {
                if (price[c] < any) any = price[c];
                if (s->uses[c] && price[c] < used) used = price[c];
            }
            for (int c = 0; c < a->choices && room > 0 && s->different > 0; c++)
                if (price[c] < used) saving[c] += used - price[c];
        }
        any_sum += any;
        used_sum += used;
    }
    if (room <= 0) return used_sum;
    if (s->different == 0) return any_sum;
    return fmax(any_sum, used_sum - sum_of_largest(saving, a->choices, room));
}

static void use(Search *s, int c, int by) {
    if (s->uses[c] == 0) s->different++;
    s->uses[c] += by;
    if (s->uses[c] == 0) s->different--;
}

/* The choices of ink i in the order they are tried; returns how many. */
static int list_choices(const Search *s, int depth, int i, int list[CHOICES_MAX]) {
    if (s->a->fixed[i] >= 0) {
        list[0] = s->a->fixed[i];
        return 1;
    }
    const double *price = s->price[depth][i];
    int count = 0;
    for (int c = 0; c < s->a->choices; c++) {
        int at = count++;
        for (; !s->first && at > 0 && price[list[at - 1]] > price[c]; at--) list[at] = list[at - 1];
        list[at] = c;
    }
    return count;
}

static void search(Search *s, int depth, double cost) {
    const Assignment *a = s->a;
    if (depth == a->inks) {
        s->found = true;
        s->best = cost;
        memcpy(s->answer, s->taken, sizeof s->answer);
        return;
    }
    int i = s->order[depth], list[CHOICES_MAX];
    int count = list_choices(s, depth, i, list);
    for (int n = 0; n < count && !(s->first && s->found); n++) {
        int c = list[n];
        double now = cost + s->price[depth][i][c];
        if (now >= s->best - EQUAL || (!s->uses[c] && s->different >= a->limit)) continue;
        use(s, c, 1);
        s->taken[i] = c;
        raise_prices(s, depth, i, c);
        if (now + bound(s, depth + 1) < s->best - EQUAL) search(s, depth + 1, now);
        use(s, c, -1);
    }
}

/* Fixed inks first, so that their candies and borders count from the start; the rest in their own order. */
static void order_inks(Search *s) {
    int count = 0;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < s->a->inks; i++)
            if ((s->a->fixed[i] >= 0) == (pass == 0)) s->order[count++] = i;
}

double assign(const Assignment *a, int of_ink[INKS_MAX]) {
    Search s = {.a = a, .best = HUGE_VAL};
    memcpy(s.price[0], a->colour, sizeof a->colour);
    order_inks(&s);
    if (a->beyond >= 0) use(&s, a->beyond, 1);
    search(&s, 0, 0);
    double least = s.best;
    s.best = least + 2 * EQUAL;
    s.first = true;
    s.found = false;
    search(&s, 0, 0);
    memcpy(of_ink, s.answer, sizeof s.answer);
    return least;
}
