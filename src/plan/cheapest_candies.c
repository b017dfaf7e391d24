/* The exact cheapest way to give each ink a candy: branch and bound. SPDX-License-Identifier: MIT
 *
 * 1. Inks are taken in turn (fixed ones first); price[depth][i][c] is what choice c would add for ink i,
 * borders with the inks taken so far included. Prices only rise with depth.
 * 2. Two lower bounds for the inks still to take, m new choices being left:
 *    a. each takes its cheapest choice (of the used ones if m = 0);
 *    b. each takes its cheapest used choice, less what m new choices can save. What a set of new choices
 * saves is submodular, so m of them save at most the sum of the m largest single savings, each less the
 * choice's price (Nemhauser, Wolsey &
 * Fisher, Math. Programming 14 (1978), section 4: the same bound for plant location). Borders among the inks
 * still to take are left out: they cost nothing or more.
 * 3. A first search goes by price and finds the least cost; a second, in the order of inks and choices and
 * held to that cost, finds the first solution that has it.
 *
 * Invariant: a node is left only if its bound reaches the best cost known less EQUAL. */
#include "plan/plan_parts.h"

#include <math.h>
#include <string.h>

#define EQUAL 1e-9

typedef struct Search {
    const Assignment *a;
    int order[INKS_MAX];                           /* inks in the order they are taken */
    double price[INKS_MAX][INKS_MAX][CHOICES_MAX]; /* by depth */
    int taken[INKS_MAX];                           /* choice of each ink taken so far */
    int uses[CHOICES_MAX];                         /* how many inks (and `beyond`, a blend) use it */
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

/* Prices at depth + 1, once ink j took choice d: of the inks still to take, so that the last depth has none.
 */
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

/* What bounds the inks from some depth on, by the prices at `depth`. */
typedef struct Rest {
    int room;                   /* new choices left */
    double any_sum;             /* bound a */
    double used_sum;            /* each its cheapest used choice; HUGE_VAL if none is used yet */
    double saving[CHOICES_MAX]; /* of each choice, were it opened, its price not counted */
    double top[INKS_MAX];       /* largest savings less prices, `room` of them */
    double top_sum;
} Rest;

static void sum_prices(const Search *s, int depth, int i, Rest *r) {
    const Assignment *a = s->a;
    const double *price = s->price[depth][i];
    double any = HUGE_VAL, used = HUGE_VAL;
    if (a->fixed[i] >= 0) {
        any = used = price[a->fixed[i]];
    } else {
        for (int c = 0; c < a->choices; c++) {
            if (price[c] < any) any = price[c];
            if (s->uses[c] && price[c] < used) used = price[c];
        }
        for (int c = 0; c < a->choices && s->different > 0; c++)
            if (price[c] < used) r->saving[c] += used - price[c];
    }
    r->any_sum += any;
    r->used_sum += used;
}

static void rest_of(const Search *s, int depth, int from, Rest *r) {
    *r = (Rest){.room = s->a->limit - s->different};
    for (int k = from; k < s->a->inks; k++) sum_prices(s, depth, s->order[k], r);
    int count = 0;
    for (int c = 0; c < s->a->choices && r->room > 0; c++) {
        int at = count < r->room ? count++ : r->room;
        double left = fmax(0, r->saving[c] - s->a->price[c]);
        for (; at > 0 && r->top[at - 1] < left; at--)
            if (at < r->room) r->top[at] = r->top[at - 1];
        if (at < r->room) r->top[at] = left;
    }
    for (int m = 0; m < count; m++) r->top_sum += r->top[m];
}

/* Step 2. */
static double bound(const Rest *r) {
    return fmax(r->any_sum, r->used_sum < HUGE_VAL ? r->used_sum - r->top_sum : 0);
}

/* The same, were choice c opened, and paid for: it takes one of the places, its own or the last one's. */
static double bound_with(const Rest *r, int c, double price) {
    if (r->used_sum >= HUGE_VAL) return r->any_sum;
    double least_top = r->top[r->room - 1], left = fmax(0, r->saving[c] - price);
    double saved = r->top_sum - fmax(left, least_top) + r->saving[c];
    return fmax(r->any_sum, r->used_sum - saved);
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
    Rest rest, next;
    rest_of(s, depth, depth + 1, &rest);
    for (int n = 0; n < count && !(s->first && s->found); n++) {
        int c = list[n];
        double price = s->uses[c] ? 0 : a->price[c];
        double now = cost + s->price[depth][i][c] + price, limit = s->best - EQUAL;
        if (!s->uses[c] && rest.room <= 0) continue;
        if (now + (s->uses[c] ? bound(&rest) : bound_with(&rest, c, price)) >= limit) continue;
        use(s, c, 1);
        s->taken[i] = c;
        raise_prices(s, depth, i, c);
        rest_of(s, depth + 1, depth + 1, &next);
        if (now + bound(&next) < limit) search(s, depth + 1, now);
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

double cheapest_candies(const Assignment *a, int of_ink[INKS_MAX]) {
    Search s = {.a = a, .best = HUGE_VAL};
    memcpy(s.price[0], a->colour, sizeof a->colour);
    order_inks(&s);
    double paid = a->beyond >= 0 ? a->price[a->beyond] : 0;
    if (a->beyond >= 0) use(&s, a->beyond, 1);
    for (int c = 0; c < a->choices; c++) {
        if (!a->cooked[c]) continue;
        if (!s.uses[c]) paid += a->price[c];
        use(&s, c, 1);
    }
    search(&s, 0, paid);
    double least = s.best;
    s.best = least + 2 * EQUAL;
    s.first = true;
    s.found = false;
    search(&s, 0, paid);
    memcpy(of_ink, s.answer, sizeof s.answer);
    return least;
}
