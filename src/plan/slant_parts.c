/* A rope or block parted anew. SPDX-License-Identifier: MIT
 *
 * 1. Places round the outline, PLACES at most, evenly along each side from its corner on, with what lies left
 *    of the edge up to each: so the cost of both parts of a cut takes one walk along the cut.
 * 2. Of all pairs of places on two sides the cheapest whose parts hands can form; in a half, of pairs that
 *    touch the axis those at right angles to it.
 * 3. Its ends are moved by half steps and more as long as that is cheaper.
 * 4. Each part is parted in the same way, where that is worth its ropes. Cost: PLACES^2 / 2 walks. */
#include "plan/slant.h"

#include <math.h>

enum { PLACES = 40 };

typedef struct Edge {
    const Tree *tree;
    const Outline *outline;
    bool fine;
    int axis; /* the side on the axis, -1: none */
    int places;
    OutlinePlace place[PLACES];
    Costs left[PLACES]; /* of the edge from the first place to this one */
    Costs whole;        /* of all of it */
} Edge;

/* 1. */
static void fill_places(Edge *e) {
    const Outline *o = e->outline;
    double round = 0;
    for (int i = 0; i < o->corners; i++) round += side_length(o, i);
    double step = fmax(0.5, ceil(2 * round / (PLACES - o->corners)) / 2);
    for (int i = 0; i < o->corners; i++) {
        const OutlinePlace corner = {i, true, o->corner[i]};
        int more = (int)ceil((side_length(o, i) - 0.25) / step);
        for (int k = 0; k < more && e->places < PLACES; k++)
            e->place[e->places++] = k > 0 ? place_moved(o, corner, k * step) : corner;
    }
    for (int i = 0; i < e->places; i++) {
        bool last = i + 1 == e->places;
        Costs *next = last ? &e->whole : &e->left[i + 1];
        *next = e->left[i];
        add_edge_costs(&e->tree->table, e->place[i].at, e->place[last ? 0 : i + 1].at, next);
    }
}

/* What the two parts cost, each in its cheapest candy. */
static int32_t cost_of_pair(const Edge *e, int i, int j) {
    const CostTable *table = &e->tree->table;
    Costs after = {{{0}}}, before;
    int32_t a, b;
    add_edge_costs(table, e->place[j].at, e->place[i].at, &after);
    for (int g = 0; g < table->groups; g++) {
        after.group[g] += e->left[j].group[g] - e->left[i].group[g];
        before.group[g] = e->whole.group[g] - after.group[g];
    }
    (void)cheapest_candy(table, &after, &a);
    (void)cheapest_candy(table, &before, &b);
    return a + b;
}

static int32_t cost_of(const Edge *e, const Outline *o) {
    Costs costs = {{{0}}};
    int32_t cost;
    add_outline_costs(&e->tree->table, o, &costs);
    (void)cheapest_candy(&e->tree->table, &costs, &cost);
    return cost;
}

/* Takes the cut if it is cheaper than the best and its parts can be formed. A cost under 0 is still to be
 * found. */
static void try_cut(const Edge *e, OutlinePlace a, OutlinePlace b, int32_t cost, BestCut *best) {
    OutlinePlace end[2] = {a, b};
    Outline before, after;
    if (!level_end(e->tree, e->outline, end) || !outline_cut(e->outline, end[0], end[1], &before, &after))
        return;
    bool moved =
        end[0].at.x != a.at.x || end[0].at.y != a.at.y || end[1].at.x != b.at.x || end[1].at.y != b.at.y;
    if (cost < 0 || moved) cost = cost_of(e, &before) + cost_of(e, &after);
    if (cost >= best->cost) return;
    if (!can_be_rope(e->tree, &before, e->fine) || !can_be_rope(e->tree, &after, e->fine)) return;
    *best = (BestCut){cost, {end[0], end[1]}};
}

static bool on_axis(const Edge *e, int place) {
    return e->place[place].side == e->axis && !e->place[place].corner;
}

/* 2. */
static void try_pairs(const Edge *e, BestCut *best) {
    for (int i = 0; i < e->places; i++) {
        if (e->axis >= 0 && e->place[i].side != e->axis)
            try_cut(e, e->place[i], (OutlinePlace){e->axis, false, {0, 0}}, -1, best);
        for (int j = i + 1; j < e->places; j++) {
            if (e->place[i].side == e->place[j].side || on_axis(e, i) || on_axis(e, j)) continue;
            int32_t cost = cost_of_pair(e, i, j);
            if (cost < best->cost) try_cut(e, e->place[i], e->place[j], cost, best);
        }
    }
}

/* 3. */
static void refine(const Edge *e, BestCut *best) {
    static const double by[] = {0.5, -0.5, 1, -1, 2, -2};
    for (int32_t was = INT32_MAX; best->cost < was;) {
        was = best->cost;
        for (int i = 0; i < 6 * 3; i++) {
            OutlinePlace a = best->end[0], b = best->end[1];
            int which = i % 3; /* the one end, the other, or both the same way */
            if (which != 1) a = place_moved(e->outline, a, by[i / 3]);
            if (which != 0) b = place_moved(e->outline, b, which == 2 ? -by[i / 3] : by[i / 3]);
            try_cut(e, a, b, -1, best);
        }
    }
}

static BestCut find_cut(const Tree *tree, const Outline *outline, bool fine) {
    Edge e = {.tree = tree, .outline = outline, .fine = fine, .axis = axis_side(tree, outline)};
    BestCut best = {.cost = INT32_MAX};
    if (known_find(tree->known, outline, fine, &best)) return best;
    fill_places(&e);
    try_pairs(&e, &best);
    if (best.cost < INT32_MAX) refine(&e, &best);
    known_put(tree->known, outline, fine, &best);
    return best;
}

/* Makes it a leaf again; what it was parted into is given back. */
static void make_leaf(Tree *t, int at) {
    if (t->twig[at].first >= 0) {
        twig_drop(t, t->twig[at].first);
        twig_drop(t, t->twig[at].second);
    }
    t->twig[at].first = t->twig[at].second = -1;
    t->twig[at].round = (RoundPart){.sheets = 0};
    t->twig[at].changed = true;
}

/* Cuts the leaf, and its parts further; false if that cannot be. */
static bool cut_leaf(Tree *t, int at, int depth) { /* NOLINT(misc-no-recursion) */
    const Outline outline = t->twig[at].outline;
    Outline inside;
    if (!twig_inside(t, &t->twig[at], &outline, &inside)) return false;
    BestCut cut = find_cut(t, &inside, t->twig[at].fine);
    if (cut.cost == INT32_MAX || t->room < t->twigs + 2) return false;
    const Point line[2] = {cut.end[0].at, cut.end[1].at};
    int first = twig_new(t, at), second = twig_new(t, at);
    twig_set_cut(t, at, line, first, second);
    if (!twig_lay(t, at, &outline)) return false;
    if (depth == 1) return true;
    if (!twig_part(t, first, depth - 1) || !twig_part(t, second, depth - 1)) return false;
    t->twig[at].changed = true;
    return twig_lay(t, at, &outline);
}

/* 4. */
bool twig_part(Tree *t, int at, int depth) { /* NOLINT(misc-no-recursion) */
    const Outline outline = t->twig[at].outline;
    make_leaf(t, at);
    bool leaf = twig_lay(t, at, &outline);
    const Twig whole = t->twig[at];
    if (leaf && (whole.empty || depth == 0 || whole.sum <= 2 * (int64_t)t->lambda)) return true;
    if (cut_leaf(t, at, depth) && (!leaf || t->twig[at].sum < whole.sum)) return true;
    make_leaf(t, at);
    t->twig[at] = whole;
    return leaf;
}
