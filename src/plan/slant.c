/* Cuts at any slope: the search. SPDX-License-Identifier: MIT
 *
 * Input: a lay-up with upright, level and corner-to-corner cuts, the exact optimum for some price of a rope.
 * Output: one that is no dearer, cost + lambda * ropes, whose cuts run at any slope between whole or half
 * steps along the sides of the block that each parts.
 * 1. The lay-up becomes a tree of cuts; each is kept as a line, so that it stays where it is when a cut above
 * it moves, and its ends slide along.
 * 2. The twigs of the tree are gone through, those inside first, and each move that gains is kept, until none
 * does: a. one or both ends of a cut slide by 1/2, 1, 2, 4 steps; b. a cut is taken away, what is on one side
 * of it grows over the other; c. a rope is parted by its best cut, and its parts again; d. so is a block of
 * up to ten ropes (plain detail: fourteen, and one cut deeper). Twigs round which nothing has changed since
 * all this was tried are passed over.
 * 3. e. Blocks of up to two dozen ropes are turned inside out: a cut up to four levels inside goes across all
 * of the block, the rest of the block stays on its two sides, and 2 is done inside it. If the block then is
 * no cheaper, all of that is left. After a round of them 2 is done again; ROUNDS such rounds. Threads try
 * several ahead, each on a copy of the tree (slant_copies.c); the first that gains is taken, those behind it
 * are tried again.
 *    (Of the start, what hands cannot form goes, and what is beside it grows. Where that spoils the picture,
 * it is searched once more with cuts beside such ropes moved by up to a least strip instead.)
 * 4. A picture that is its own mirror image (98 % of the core) is searched by its half (slant_outlines.c): it
 * stays one, and what lies beside the axis is built once. Of two axes the one that comes out cheaper.
 *    Where a closed outline could be a sheet, the whole is searched, too, and taken if it is a tenth cheaper:
 * a sheet that goes across the axis is not found by half.
 * 5. Blocks of the lay-up that are there more than once are searched together, their outlines held where they
 * are, so that they are built once; and apart, which is taken if it gains more than the ropes saved are
 * worth.
 * 6. When all this is done, sheets and round ropes: wishes of the wanted face, closed outlines and discs
 * (wrap_wishes.c), are cut out of the block that holds them, which is then searched anew, and kept where that
 * gains (slant_wishes.c); each twig is tried in a sheet (slant_wraps.c). If any of that gains, 2 and 3 again,
 * with sheets among the moves. So no lay-up is dearer than without them.
 *
 * Invariants: the leaves cover the square once and only once; every leaf can be formed by the key's limits;
 * the areas of two parts add up to the whole's. Nothing depends on threads or on chance. */
#include "plan/slant.h"

#include "base/parallel.h"
#include "plan/plan_parts.h"
#include "plan/slicing.h"

#include <math.h>
#include <stdatomic.h>

enum {
    SWEEPS = 40, /* at most; some 10 are needed */
    ROUNDS = 3,
    TURNED_MOST = 24,  /* ropes of a block that is turned inside out */
    TURNS_AHEAD = 128, /* ways to do so that are tried at once */
    TURNED_DEPTH = 4
};

static const double symmetric_share = 0.98; /* of the core; ours */
static const double wrapped_worth =
    0.9; /* of the halves' cost and ropes: for less symmetry is given up; ours */
static const double spoilt_times = 1.1; /* the start's cost and ropes; ours */

/* --- 2 --- */

/* The twigs below, those inside first; returns how many. */
static int list_twigs(const Tree *t, int at, int *list, int count) { /* NOLINT(misc-no-recursion) */
    if (t->twig[at].first >= 0) {
        count = list_twigs(t, t->twig[at].first, list, count);
        count = list_twigs(t, t->twig[at].second, list, count);
    }
    list[count++] = at;
    return count;
}

static bool is_below(const Tree *t, int at, int top) {
    while (at >= 0 && at != top) at = t->twig[at].parent;
    return at == top;
}

void search_below(Tree *t, int top) {
    int *list = t->order;
    for (int sweep = 0; sweep < SWEEPS; sweep++) {
        long start = t->move;
        int count = list_twigs(t, top, list, 0);
        for (int i = 0; i < count; i++) {
            Twig *twig = &t->twig[list[i]];
            if (is_stopped(t->grid->stop)) return;
            if (twig->spare || twig->tried >= twig->stirred || !is_below(t, list[i], top)) continue;
            long before = t->move;
            try_moves(t, list[i]);
            if (t->move == before) twig->tried = before;
        }
        if (t->move == start) break;
    }
}

/* --- 3 --- */

/* Cuts below the twig, `depth` levels down at most, level by level. */
static int list_cuts(const Tree *t, int top, int cut[2 << TURNED_DEPTH]) {
    int count = 1, done = 0;
    cut[0] = top;
    for (int level = 0; level < TURNED_DEPTH; level++)
        for (int end = count; done < end; done++) {
            const Twig *twig = &t->twig[cut[done]];
            if (t->twig[twig->first].first >= 0) cut[count++] = twig->first;
            if (t->twig[twig->second].first >= 0) cut[count++] = twig->second;
        }
    return count;
}

/* A block, and those of its cuts that have not been looked at. */
typedef struct Cursor {
    int block, cuts, next; /* cut[next..cuts - 1] */
    int cut[2 << TURNED_DEPTH];
} Cursor;

/* One way to turn a block inside out. */
typedef struct Turn {
    int block, inner;
    Cursor after; /* from where it goes on */
} Turn;

/* Each thread has a copy of the tree, and keeps it when a way gains: it takes none behind that one. */
typedef struct Turning {
    const Tree *tree;
    Tree *copy;              /* [TRIES]; not owned */
    atomic_bool used[TRIES]; /* of each copy */
    int turns;
    Turn turn[TURNS_AHEAD];
    int copy_of[TURNS_AHEAD]; /* of those that gain */
    atomic_int first;         /* of them; TURNS_AHEAD: there is none yet */
} Turning;

static bool can_turn(const Tree *t, int at, int top) {
    const Twig *twig = &t->twig[at];
    return !twig->spare && twig->first >= 0 && twig->ropes >= 2 && twig->ropes <= TURNED_MOST &&
           is_below(t, at, top);
}

/* The next way below the twig; false if there is none. */
static bool next_turn(const Tree *t, int top, Cursor *c, Turn *out) {
    for (;;) {
        while (c->next < c->cuts) {
            const int inner = c->cut[c->next++];
            const Twig *twig = &t->twig[inner];
            if (twig->spare || twig->first < 0 || inner == c->block || !is_below(t, inner, c->block))
                continue;
            *out = (Turn){c->block, inner, *c};
            return true;
        }
        do c->block++;
        while (c->block < t->twigs && !can_turn(t, c->block, top));
        if (c->block >= t->twigs) return false;
        c->cuts = list_cuts(t, c->block, c->cut);
        c->next = 1;
    }
}

static int take_copy(Turning *turning) {
    int i = 0;
    while (atomic_exchange(&turning->used[i], true)) i = (i + 1) % TRIES; /* no more threads than copies */
    return i;
}

static void try_turn(void *context, int i) {
    Turning *turning = context;
    const Turn *turn = &turning->turn[i];
    if (atomic_load(&turning->first) < i || is_stopped(turning->tree->grid->stop)) return;
    const int own = take_copy(turning);
    Tree *t = &turning->copy[own];
    tree_become(t, turning->tree);
    if (try_inside_out(t, turn->block, turn->inner)) search_below(t, turn->block);
    if (t->twig[turn->block].sum >= turning->tree->twig[turn->block].sum) {
        atomic_store(&turning->used[own], false);
        return;
    }
    turning->copy_of[i] = own;
    int first = atomic_load(&turning->first);
    while (i < first && !atomic_compare_exchange_weak(&turning->first, &first, i)) {
    }
}

/* Turns blocks below the twig inside out and searches again; false if nothing gained. */
static bool search_round(Tree *t, Tree copy[], int top) {
    Turning turning = {.tree = t, .copy = copy};
    Cursor cursor = {.block = -1};
    bool gained = false;
    do {
        for (int i = 0; i < TRIES; i++) atomic_store(&turning.used[i], false);
        atomic_store(&turning.first, TURNS_AHEAD);
        turning.turns = 0;
        while (turning.turns < TURNS_AHEAD && next_turn(t, top, &cursor, &turning.turn[turning.turns]))
            turning.turns++;
        parallel_rows(turning.turns, 0, try_turn, &turning);
        const int first = atomic_load(&turning.first);
        if (first == TURNS_AHEAD) continue;
        tree_become(t, &copy[turning.copy_of[first]]);
        cursor = turning.turn[first].after;
        gained = true;
    } while (turning.turns > 0);
    if (gained) search_below(t, top);
    return gained;
}

void search_rounds(Tree *t, Tree copy[], int top) {
    for (int round = 0; round < ROUNDS; round++)
        if (!search_round(t, copy, top)) break;
}

/* False if no twig is better in a sheet, and none with something round. */
static bool wrap_all(Tree *t) {
    const long start = t->move;
    int count = list_twigs(t, t->root, t->order, 0);
    for (int i = 0; i < count; i++)
        if (!t->twig[t->order[i]].spare && is_below(t, t->order[i], t->root)) try_wraps(t, t->order[i]);
    return t->move > start;
}

static void search(Tree *t, Copies *copies) {
    search_below(t, t->root);
    search_rounds(t, copies->tree, t->root);
    t->wrapping = true;
    bool gained = fulfil_wishes(t, copies);
    if (!wrap_all(t) && !gained) return;
    search_below(t, t->root);
    search_rounds(t, copies->tree, t->root);
}

/* --- 4 --- */

/* Lays what was taken over; false if that cannot be, or not with what is held. */
static bool tree_begin(Tree *t, const Outline *whole) {
    twig_save(t, t->root);
    if (!twig_mend(t, t->root, whole) || t->broken) return false;
    t->move = 1;
    for (int i = 0; i < t->twigs; i++) t->twig[i].stirred = 1;
    return true;
}

/* Are 98 % of the core's samples what lies across the axis? */
static bool is_symmetric(const Grid *grid, Axis axis) {
    const Face *w = &grid->wanted;
    long same = 0, all = 0;
    for (int y = 0; y < w->side; y++)
        for (int x = 0; x < w->side; x++) {
            uint8_t here = w->candy[(size_t)y * w->side + x];
            if (here == OUTSIDE) continue;
            int u = axis == AXIS_UPRIGHT ? w->side - 1 - x : x,
                v = axis == AXIS_UPRIGHT ? y : w->side - 1 - y;
            same += here == w->candy[(size_t)v * w->side + u];
            all++;
        }
    return (double)same >= symmetric_share * (double)all;
}

/* A tree, and what its cost and ropes come to; INT64_MAX: none, nothing could be laid. */
typedef struct Found {
    LayUp layup; /* owned */
    int64_t sum; /* in 1 / COST_ONE cells */
} Found;

/* Takes the cheaper one; the other is freed. */
static void take_cheaper(Found *best, Found *other) {
    bool better = other->sum < best->sum;
    layup_free(better ? &best->layup : &other->layup);
    if (better) *best = *other;
}

/* Searched from there on, equal blocks together or apart; nothing if they are to be together and there are
 * none. */
static bool search_from(const Grid *grid, const LayKey *key, Axis axis, const Starts *starts, int32_t lambda,
                        bool together, bool beside, Found *out, Err *err) {
    Tree t;
    Copies copies;
    bool done = true;
    if (!tree_new(grid, key, axis, &starts->of[axis], &starts->wishes, lambda, together, &t, err))
        return false;
    t.beside = beside;
    Outline whole = tree_outline(&t);
    *out = (Found){.sum = INT64_MAX};
    if ((!together || t.equals > 0) && tree_begin(&t, &whole)) {
        done = copies_new(&t, &copies, err);
        if (done) search(&t, &copies);
        if (done) copies_free(&copies);
        out->sum = t.twig[t.root].sum;
        done = done && tree_lay_out(&t, &out->layup, err);
    }
    tree_free(&t);
    return done;
}

bool starts_lay(const Grid *grid, const LayKey *key, double price, Starts *out, Err *err) {
    Starts s = {.price = price};
    bool done = find_wishes(grid, key, &s.wishes, err), half = false;
    for (int axis = AXIS_UPRIGHT; axis <= AXIS_LEVEL && done; axis++)
        if (grid->steps / 2 >= grid->least_steps && is_symmetric(grid, (Axis)axis)) {
            half = true;
            done = lay_straight(grid, (Axis)axis, price, &s.of[axis], err);
        }
    if (done && (!half || s.wishes.wraps > 0))
        done = lay_straight(grid, AXIS_NONE, price, &s.of[AXIS_NONE], err);
    if (done)
        *out = s;
    else
        starts_free(&s);
    return done;
}

void starts_free(Starts *starts) {
    for (int i = 0; i < AXES; i++) layup_free(&starts->of[i]);
    *starts = (Starts){0};
}

/* What hands cannot form of the start was dropped, and too much with it: it came out dearer than it was. */
static bool is_spoilt(const LayUp *start, int32_t price, int64_t sum) {
    double was = start->cost * COST_ONE + (double)price * start->laid;
    return start->nodes > 0 && (double)sum > spoilt_times * was;
}

enum { SEARCHES = 2 * AXES }; /* of each axis equal blocks together, then apart */

typedef struct Searching {
    const Grid *grid;
    const LayKey *key;
    const Starts *starts;
    int32_t price;
    Found found[SEARCHES]; /* owned */
} Searching;

static bool search_one(void *context, int i, Err *err) {
    Searching *s = context;
    s->found[i].sum = INT64_MAX;
    return s->starts->of[i / 2].nodes == 0 || search_from(s->grid, s->key, (Axis)(i / 2), s->starts, s->price,
                                                          i % 2 == 0, false, &s->found[i], err);
}

/* The cheapest of halves, unless that of the whole is to be taken; the others are freed. */
static Found take_best(Searching *s) {
    Found best = {.sum = INT64_MAX}, all = {.sum = INT64_MAX}; /* of halves; of the whole */
    for (int i = 0; i < SEARCHES; i++) take_cheaper(i / 2 == AXIS_NONE ? &all : &best, &s->found[i]);
    if (best.sum == INT64_MAX || (all.layup.wraps > 0 && (double)all.sum < wrapped_worth * (double)best.sum))
        take_cheaper(&best, &all);
    else
        layup_free(&all.layup);
    return best;
}

/* 4, 5. Threads share the searches. Where nothing could be laid, a grid narrower than the least strip, the
 * optimum stays. */
bool search_cuts(const Grid *grid, const LayKey *key, const Starts *starts, double lambda, LayUp *out,
                 Err *err) {
    const int32_t price = (int32_t)lround(fmin(lambda * COST_ONE, LAMBDA_MAX));
    Searching s = {.grid = grid, .key = key, .starts = starts, .price = price};
    if (!parallel_tasks(SEARCHES, 0, search_one, &s, err) || !is_wanted(grid->stop, err)) {
        for (int i = 0; i < SEARCHES; i++) layup_free(&s.found[i].layup);
        return false;
    }
    Found best = take_best(&s);
    const LayUp *whole = &starts->of[AXIS_NONE];
    if (best.sum < INT64_MAX && is_spoilt(whole, price, best.sum)) {
        Found found = {.sum = INT64_MAX};
        if (!search_from(grid, key, AXIS_NONE, starts, price, false, true, &found, err)) {
            layup_free(&best.layup);
            return false;
        }
        take_cheaper(&best, &found);
    }
    if (best.sum == INT64_MAX) return lay_straight(grid, AXIS_NONE, starts->price, out, err);
    *out = best.layup;
    return true;
}
