/* Wishes of the wanted face, fulfilled where that gains. SPDX-License-Identifier: MIT
 *
 * 1. The block that a wish is cut out of: the smallest that holds it, or one of the next round that.
 * 2. From each side of the wish on, both ways round, with and without what is there now: those WISH_WAYS that
 * make their block the least dearer before anything is searched, at most three times as dear.
 * 3. Each of those is searched inside by plain moves, by threads on copies of the tree; the best one then
 * inside out as well. It is kept if the block comes out cheaper with more sheets or round ropes in it than
 * before.
 * 4. Discs that do not gain are tried again if others did, PASSES times in all: those of a row are alike.
 * After IN_VAIN that were searched for nothing no more are: a picture of discs costs no more than others. */
#include "plan/slant.h"

#include "base/parallel.h"

#include <math.h>

enum {
    PASSES = 2,
    WISH_TOPS = 3, /* blocks out of which a wish is cut: the smallest that holds it, and those round that */
    WISH_WAYS = 4, /* to begin, that are searched */
    IN_VAIN = 8
};

/* Of what a block costs: a wish that makes it dearer by more is not turned inside out; ours. */
static const double wish_hope = 0.4;

/* 1. The smallest twig that holds all corners, but for `off` steps. */
static int twig_holding(const Tree *t, const Outline *o, double off) {
    int at = t->root;
    for (;;) {
        const Twig *twig = &t->twig[at];
        if (twig->first < 0) return at;
        double before = 0, behind = 0, dx = twig->line[1].x - twig->line[0].x,
               dy = twig->line[1].y - twig->line[0].y, length = sqrt(dx * dx + dy * dy);
        for (int i = 0; i < o->corners; i++) {
            double side =
                (dx * (o->corner[i].y - twig->line[0].y) - dy * (o->corner[i].x - twig->line[0].x)) /
                length; /* over 0: first */
            before = fmax(before, side);
            behind = fmax(behind, -side);
        }
        if (behind <= off)
            at = twig->first;
        else if (before <= off)
            at = twig->second;
        else
            return at;
    }
}

/* A wish, cut out of a block in some way, and how much dearer that makes the block. */
typedef struct Starter {
    int top;
    Peel peel;
    int64_t dearer;
} Starter;

typedef struct Starters {
    int count;
    Starter way[WISH_WAYS]; /* the cheapest first */
} Starters;

/* Of ways that come out alike the first stays. */
static void add_way(Starters *ways, const Starter *way) {
    int at = 0;
    while (at < ways->count && ways->way[at].dearer < way->dearer) at++;
    if (at == WISH_WAYS || (at < ways->count && ways->way[at].dearer == way->dearer)) return;
    if (ways->count < WISH_WAYS) ways->count++;
    for (int i = ways->count - 1; i > at; i--) ways->way[i] = ways->way[i - 1];
    ways->way[at] = *way;
}

/* Cuts it out, on a copy of the tree. False if it cannot be. */
static bool try_way(const Tree *t, Tree *copy, Starter *way) {
    tree_become(copy, t);
    bool can = try_peel(copy, way->top, &way->peel);
    way->dearer = copy->twig[way->top].sum - t->twig[way->top].sum;
    return can;
}

/* 2. */
static void rank_ways(const Tree *t, Tree *copy, int top, const Peel *peel, Starters *ways) {
    for (int bare = peel->bare; bare < 2; bare++)
        for (int i = 0; i < 2 * peel->outline->corners; i++) {
            Starter way = {.top = top, .peel = *peel};
            way.peel.first = i / 2;
            way.peel.back = i % 2;
            way.peel.bare = bare;
            if (try_way(t, copy, &way) && way.dearer <= 2 * t->twig[top].sum) add_way(ways, &way);
        }
}

typedef struct Searching {
    const Tree *tree;
    Tree *copy; /* [WISH_WAYS]; not owned */
    Starters ways;
} Searching;

static void search_way(void *context, int i) {
    Searching *s = context;
    Starter *way = &s->ways.way[i];
    (void)try_way(s->tree, &s->copy[i], way); /* it can be: it was tried */
    search_below(&s->copy[i], way->top);
    way->dearer = s->copy[i].twig[way->top].sum - s->tree->twig[way->top].sum;
}

/* 1, 2, 3. The copy in which the best way is fulfilled; -1 if there is no way. */
static int best_way(const Tree *t, Copies *copies, const Peel *peel, Starter *out) {
    Searching s = {.tree = t, .copy = copies->tree};
    int top = twig_holding(t, peel->outline, 0.5), best = 0;
    for (int up = 0; up < WISH_TOPS && top >= 0; up++, top = t->twig[top].parent)
        if (t->twig[top].ropes > 0 && !t->twig[top].fine) rank_ways(t, &copies->was, top, peel, &s.ways);
    if (s.ways.count == 0) return -1;
    parallel_rows(s.ways.count, 0, search_way, &s);
    for (int i = 1; i < s.ways.count; i++)
        if (s.ways.way[i].dearer < s.ways.way[best].dearer) best = i;
    *out = s.ways.way[best];
    return best;
}

/* Sheets and round ropes below the twig. */
static int count_wrapped(const Tree *t, int at) { /* NOLINT(misc-no-recursion) */
    const Twig *twig = &t->twig[at];
    int own = twig->sheets + (twig->round.disc.r > 0);
    return twig->first < 0 ? own : own + count_wrapped(t, twig->first) + count_wrapped(t, twig->second);
}

/* 3. */
static bool fulfil(Tree *t, Copies *copies, const Peel *peel, int *in_vain) {
    Starter way;
    const int best = best_way(t, copies, peel, &way);
    if (best < 0) return false;
    ++*in_vain;
    const int64_t sum = t->twig[way.top].sum;
    const int wrapped = count_wrapped(t, way.top);
    if ((double)way.dearer > wish_hope * (double)sum) return false;
    tree_become(&copies->was, t);
    tree_become(t, &copies->tree[best]);
    search_rounds(t, copies->tree, way.top);
    bool gains = t->twig[way.top].sum < sum && count_wrapped(t, way.top) > wrapped;
    if (gains)
        --*in_vain;
    else
        tree_become(t, &copies->was);
    return gains;
}

/* 4. */
bool fulfil_wishes(Tree *t, Copies *copies) {
    bool done[WRAP_WISHES_MAX + ROUND_WISHES_MAX] = {false}, gained = true, any = false;
    const int wraps = t->wishes->wraps, discs = t->wishes->discs;
    int in_vain = 0;
    Outline outline;
    Peel peel;
    for (int pass = 0; pass < PASSES && gained; pass++) {
        gained = false;
        for (int i = 0; i < wraps + discs; i++) {
            if (done[i] || in_vain == IN_VAIN) continue;
            bool can =
                i < wraps ? peel_of_wrap(t, i, &outline, &peel) : peel_of_disc(t, i - wraps, &outline, &peel);
            bool gains = can && fulfil(t, copies, &peel, &in_vain);
            done[i] = !can || gains || i < wraps;
            gained |= gains;
        }
        any |= gained;
    }
    return any;
}
