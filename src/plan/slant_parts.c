/* A rope or block parted anew. SPDX-License-Identifier: MIT
 *
 * 1. Places round the outline, PLACES at most, evenly along each side from its corner on, with what lies left
 *    of the edge up to each: so the cost of both parts of a cut takes one walk along the cut.
 * 2. What all pairs of places on two sides cost, in a heap; in a half, of pairs that touch the axis those at
 *    right angles to it. Elsewhere pairs whose parts have too many corners, or are too thin by how far their
 *    ends lie off their sides, are left out: four in ten.
 * 3. The cheapest is taken whose parts hands can form: some five are looked at.
 * 4. Its ends are moved by half steps and more as long as that is cheaper.
 * 5. Each part is parted in the same way, where that is worth its ropes. Cost: PLACES^2 / 4 walks. */
#include "plan/slant.h"

#include <math.h>

enum { PLACES = 40 };

static const double off_slack = 1e-6; /* steps: more than rounding */

typedef struct Edge {
    const Tree *tree;
    const Outline *outline;
    bool fine;
    int axis;      /* the side on the axis, -1: none */
    double narrow; /* steps: no part may be thinner */
    int places;
    OutlinePlace place[PLACES];
    double off[PLACES][OUTLINE_MAX]; /* how far from the line of each side */
    WalkEnd end[PLACES];
    Costs left[PLACES];       /* of the edge from the first place to this one */
    Costs whole;              /* of all of it */
    Costs along[OUTLINE_MAX]; /* of each side */
} Edge;

static int side_after(const Outline *o, int side) {
    return side + 1 < o->corners ? side + 1 : 0;
}

/* 1. */
static void put_place(Edge *e, OutlinePlace place) {
    const Outline *o = e->outline;
    double *off = e->off[e->places];
    for (int i = 0; i < o->corners; i++) {
        const Point a = o->corner[i], b = outline_next(o, i), p = place.at;
        off[i] = ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / side_length(o, i);
    }
    e->end[e->places] = walk_end(&e->tree->table, place.at);
    e->place[e->places++] = place;
}

static void fill_places(Edge *e) {
    const CostTable *table = &e->tree->table;
    const Outline *o = e->outline;
    double round = 0;
    e->places = 0;
    for (int i = 0; i < o->corners; i++) round += side_length(o, i);
    double step = fmax(0.5, ceil(2 * round / (PLACES - o->corners)) / 2);
    for (int i = 0; i < o->corners; i++) {
        const OutlinePlace corner = {i, true, o->corner[i]};
        int more = (int)ceil((side_length(o, i) - 0.25) / step);
        for (int k = 0; k < more && e->places < PLACES; k++)
            put_place(e, k > 0 ? place_moved(o, corner, k * step) : corner);
        e->along[i] = (Costs){{{0}}};
        add_edge_costs(table, o->corner[i], outline_next(o, i), &e->along[i]);
    }
    e->left[0] = (Costs){{{0}}};
    for (int i = 0; i < e->places; i++) {
        bool last = i + 1 == e->places;
        Costs *next = last ? &e->whole : &e->left[i + 1];
        *next = e->left[i];
        add_walk_costs(table, &e->end[i], &e->end[last ? 0 : i + 1], next);
    }
}

/* What the two parts cost, each in its cheapest candy. */
static int32_t cost_of_pair(const Edge *e, int i, int j) {
    const CostTable *table = &e->tree->table;
    Costs after = {{{0}}}, before;
    int32_t a, b;
    add_walk_costs(table, &e->end[j], &e->end[i], &after);
    for (int g = 0; g < table->groups; g++) {
        after.group[g] += e->left[j].group[g] - e->left[i].group[g];
        before.group[g] = e->whole.group[g] - after.group[g];
    }
    (void)cheapest_candy(table, &after, &a);
    (void)cheapest_candy(table, &before, &b);
    return a + b;
}

/* What the part costs that lies clockwise from place a to place b, another side's; `cut`: what lies left
 * of the cut, which comes in with that sign. */
static int32_t cost_of_part(const Edge *e, const OutlinePlace *a, const OutlinePlace *b, const Costs *cut,
                            int sign) {
    const CostTable *table = &e->tree->table;
    const Outline *o = e->outline;
    Costs costs = {{{0}}};
    int32_t cost;
    int side = a->side;
    if (!a->corner) {
        add_edge_costs(table, a->at, outline_next(o, side), &costs);
        side = side_after(o, side);
    }
    for (; side != b->side; side = side_after(o, side))
        for (int g = 0; g < table->groups; g++) costs.group[g] += e->along[side].group[g];
    if (!b->corner) add_edge_costs(table, o->corner[side], b->at, &costs);
    for (int g = 0; g < table->groups; g++) costs.group[g] += sign * cut->group[g];
    (void)cheapest_candy(table, &costs, &cost);
    return cost;
}

static int32_t cost_of_cut(const Edge *e, const OutlinePlace end[2]) {
    Costs cut = {{{0}}};
    add_edge_costs(&e->tree->table, end[0].at, end[1].at, &cut);
    return cost_of_part(e, &end[0], &end[1], &cut, -1) + cost_of_part(e, &end[1], &end[0], &cut, 1);
}

/* Brings the ends of a cut level; false if there is no such cut. */
static bool level_cut(const Edge *e, OutlinePlace end[2]) {
    return (e->axis < 0 || level_end(e->tree, e->outline, end)) && end[0].side != end[1].side;
}

/* Could hands form both parts? */
static bool can_be_cut(const Edge *e, const BestCut *cut) {
    Outline before, after;
    return outline_cut(e->outline, cut->end[0], cut->end[1], &before, &after) &&
           can_be_rope(e->tree, &before, e->fine) && can_be_rope(e->tree, &after, e->fine);
}

static bool on_axis(const Edge *e, int place) {
    return e->place[place].side == e->axis && !e->place[place].corner;
}

/* False if hands could not form the part that lies clockwise from one place to the other, another side's. */
static bool could_be_rope(const Edge *e, int from, int to) {
    const OutlinePlace *a = &e->place[from], *b = &e->place[to];
    const int corners = e->outline->corners, ahead = b->side - a->side;
    const int between = (ahead < 0 ? ahead + corners : ahead) - b->corner;
    const int next = side_after(e->outline, a->side);
    if (between < 1 || between + 2 > e->tree->key->corners_most) return false;
    const bool before = e->off[from][next] >= e->narrow;
    if (between == 1) return before && e->off[to][a->side] >= e->narrow;
    return between > 2 || before || e->off[to][next] >= e->narrow;
}

/* --- pairs of places, the cheapest first, of equal ones the first --- */

typedef struct Pairs {
    int count;
    uint64_t key[PLACES * (PLACES + 1) / 2]; /* a heap: no key is above those at 2 i + 1 and 2 i + 2 */
} Pairs;

/* Second 0: to the axis; cost: 0 or more. */
static void put_pair(Pairs *p, int32_t cost, int first, int second) {
    p->key[p->count++] = (uint64_t)cost << 32 | (uint64_t)first << 16 | (uint64_t)second;
}

static void sink(Pairs *p, int at) {
    const uint64_t key = p->key[at];
    for (int below; below = 2 * at + 1, below < p->count; at = below) {
        if (below + 1 < p->count && p->key[below + 1] < p->key[below]) below++;
        if (p->key[below] >= key) break;
        p->key[at] = p->key[below];
    }
    p->key[at] = key;
}

static uint64_t take_first(Pairs *p) {
    const uint64_t first = p->key[0];
    p->key[0] = p->key[--p->count];
    if (p->count > 0) sink(p, 0);
    return first;
}

/* The ends of the cut that a pair stands for; false if there is none. */
static bool ends_of_pair(const Edge *e, int first, int second, OutlinePlace end[2]) {
    end[0] = e->place[first];
    end[1] = second > 0 ? e->place[second] : (OutlinePlace){e->axis, false, {0, 0}};
    return level_cut(e, end);
}

static bool is_at(const OutlinePlace *a, const OutlinePlace *b) {
    return a->at.x == b->at.x && a->at.y == b->at.y;
}

/* Of an outline on the axis: pairs whose cuts are level, or can be brought so. */
static void list_level_pairs(const Edge *e, Pairs *pairs, int first) {
    OutlinePlace end[2];
    if (e->place[first].side != e->axis && ends_of_pair(e, first, 0, end))
        put_pair(pairs, cost_of_cut(e, end), first, 0);
    for (int i = first + 1; i < e->places; i++) {
        if (e->place[first].side == e->place[i].side || on_axis(e, first) || on_axis(e, i)) continue;
        if (!ends_of_pair(e, first, i, end)) continue;
        const bool stays = is_at(&end[0], &e->place[first]) && is_at(&end[1], &e->place[i]);
        put_pair(pairs, stays ? cost_of_pair(e, first, i) : cost_of_cut(e, end), first, i);
    }
}

/* 2. */
static void list_pairs(const Edge *e, Pairs *pairs) {
    pairs->count = 0;
    for (int i = 0; i < e->places; i++) {
        if (e->axis >= 0) list_level_pairs(e, pairs, i);
        for (int j = i + 1; j < e->places && e->axis < 0; j++)
            if (e->place[i].side != e->place[j].side && could_be_rope(e, i, j) && could_be_rope(e, j, i))
                put_pair(pairs, cost_of_pair(e, i, j), i, j);
    }
    for (int i = pairs->count / 2; i-- > 0;) sink(pairs, i);
}

/* 3. */
static void take_cheapest(const Edge *e, Pairs *pairs, BestCut *best) {
    while (pairs->count > 0) {
        const uint64_t key = take_first(pairs);
        BestCut cut = {.cost = (int32_t)(key >> 32)};
        if (!ends_of_pair(e, (int)(key >> 16 & 0xffff), (int)(key & 0xffff), cut.end) || !can_be_cut(e, &cut))
            continue;
        *best = cut;
        return;
    }
}

/* 4. Until all ways to move them have been tried in vain. */
static void refine(const Edge *e, BestCut *best) {
    static const double by[] = {0.5, -0.5, 1, -1, 2, -2};
    enum { WAYS = 6 * 3 };
    for (int way = 0, vain = 0; vain < WAYS; vain++, way = (way + 1) % WAYS) {
        BestCut cut = *best;
        int which = way % 3; /* the one end, the other, or both the same way */
        if (which != 1) cut.end[0] = place_moved(e->outline, cut.end[0], by[way / 3]);
        if (which != 0) cut.end[1] = place_moved(e->outline, cut.end[1], (which == 2 ? -1 : 1) * by[way / 3]);
        if (!level_cut(e, cut.end)) continue;
        cut.cost = cost_of_cut(e, cut.end);
        if (cut.cost >= best->cost || !can_be_cut(e, &cut)) continue;
        *best = cut;
        vain = -1;
    }
}

static BestCut find_cut(const Tree *tree, const Outline *outline, bool fine) {
    BestCut best = {.cost = INT32_MAX};
    if (known_find(tree->known, outline, fine, &best)) return best;
    Edge e; /* 10 kB, and pairs 6: what is read of them is filled */
    Pairs pairs;
    e.tree = tree;
    e.outline = outline;
    e.fine = fine;
    e.axis = axis_side(tree, outline);
    e.narrow = tree->key->taper_least * (fine ? tree->fine_least : tree->least) - off_slack;
    fill_places(&e);
    list_pairs(&e, &pairs);
    take_cheapest(&e, &pairs, &best);
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

/* 5. */
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
