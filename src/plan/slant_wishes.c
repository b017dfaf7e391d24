/* Wishes of the wanted face, fulfilled where that gains. SPDX-License-Identifier: MIT
 *
 * 1. The block that a wish is cut out of: the smallest that holds it, or one of the next round that.
 * 2. From each side of the wish on, both ways round, with and without what is there now: those WISH_WAYS that
 * make their block the least dearer before anything is searched, at most three times as dear.
 * 3. Each of those is searched inside by plain moves; the best one again, and then inside out as well. It is
 * kept if the block comes out cheaper with more sheets or round ropes in it than before.
 * 4. Discs that do not gain are tried again if others did, PASSES times in all: those of a row are alike. */
#include "plan/slant.h"

#include <math.h>

enum {
    PASSES = 2,
    WISH_TOPS = 3, /* blocks out of which a wish is cut: the smallest that holds it, and those round that */
    WISH_WAYS = 4  /* to begin, that are searched */
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

/* Cuts it out, searches inside by plain moves, if so wished, and takes all that back. False if it cannot be.
 */
static bool try_way(Tree *t, Starter *way, bool searched) {
    const int64_t sum = t->twig[way->top].sum;
    attempt_start(t);
    bool can = try_peel(t, way->top, &way->peel);
    if (can && searched) search_below(t, way->top, t->order + t->room);
    way->dearer = t->twig[way->top].sum - sum;
    attempt_undo(t);
    return can;
}

/* 2. */
static void rank_ways(Tree *t, int top, const Peel *peel, Starters *ways) {
    for (int bare = peel->bare; bare < 2; bare++)
        for (int i = 0; i < 2 * peel->outline->corners; i++) {
            Starter way = {.top = top, .peel = *peel};
            way.peel.first = i / 2;
            way.peel.back = i % 2;
            way.peel.bare = bare;
            if (try_way(t, &way, false) && way.dearer <= 2 * t->twig[top].sum) add_way(ways, &way);
        }
}

/* 1, 2, 3. False if there is no way. */
static bool best_way(Tree *t, const Peel *peel, Starter *out) {
    Starters ways = {.count = 0};
    int top = twig_holding(t, peel->outline, 0.5);
    for (int up = 0; up < WISH_TOPS && top >= 0; up++, top = t->twig[top].parent)
        if (t->twig[top].ropes > 0 && !t->twig[top].fine) rank_ways(t, top, peel, &ways);
    for (int i = 0; i < ways.count; i++) {
        Starter way = ways.way[i];
        if (try_way(t, &way, true) && (i == 0 || way.dearer < out->dearer)) *out = way;
    }
    return ways.count > 0;
}

/* Sheets and round ropes below the twig. */
static int count_wrapped(const Tree *t, int at) { /* NOLINT(misc-no-recursion) */
    const Twig *twig = &t->twig[at];
    int own = twig->sheets + (twig->round.disc.r > 0);
    return twig->first < 0 ? own : own + count_wrapped(t, twig->first) + count_wrapped(t, twig->second);
}

/* 3. */
static bool fulfil(Tree *t, const Peel *peel) {
    Starter best;
    if (!best_way(t, peel, &best)) return false;
    const int64_t sum = t->twig[best.top].sum;
    const int wrapped = count_wrapped(t, best.top);
    if ((double)best.dearer > wish_hope * (double)sum) return false;
    attempt_start(t);
    if (try_peel(t, best.top, &best.peel)) {
        search_below(t, best.top, t->order + t->room);
        search_rounds(t, best.top);
    }
    bool gains = t->twig[best.top].sum < sum && count_wrapped(t, best.top) > wrapped;
    if (gains)
        attempt_keep(t);
    else
        attempt_undo(t);
    return gains;
}

/* 4. */
bool fulfil_wishes(Tree *t) {
    bool done[WRAP_WISHES_MAX + ROUND_WISHES_MAX] = {false}, gained = true, any = false;
    const int wraps = t->wishes->wraps, discs = t->wishes->discs;
    Outline outline;
    Peel peel;
    for (int pass = 0; pass < PASSES && gained; pass++) {
        gained = false;
        for (int i = 0; i < wraps + discs; i++) {
            if (done[i]) continue;
            bool can =
                i < wraps ? peel_of_wrap(t, i, &outline, &peel) : peel_of_disc(t, i - wraps, &outline, &peel);
            bool gains = can && fulfil(t, &peel);
            done[i] = !can || gains || i < wraps;
            gained |= gains;
        }
        any |= gained;
    }
    return any;
}
