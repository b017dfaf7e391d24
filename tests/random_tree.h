/* Slicing trees with slanted cuts, made by hand or at random. SPDX-License-Identifier: MIT
 *
 * By hand: tree_new; tree_part cuts an outline in two; tree_leaf and tree_join make nodes, children first.
 * At random: random_tree. Each is freed with layup_free. */
#ifndef LOGOCANE_TESTS_RANDOM_TREE_H
#define LOGOCANE_TESTS_RANDOM_TREE_H

#include "model/layup.h"
#include "base/mem.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>

/* An empty lay-up with room for so many ropes. */
static inline LayUp tree_new(int ropes) {
    Err err = {0};
    LayUp t = {.node = mem_alloc((size_t)2 * ropes, sizeof *t.node, &err),
               .rope = mem_alloc((size_t)ropes, sizeof *t.rope, &err)};
    assert(t.node && t.rope);
    return t;
}

/* A leaf of that candy; empty where nothing of it lies inside the core. Returns the node's index. */
static inline int tree_leaf(LayUp *t, const Outline *outline, int candy, Circle core) {
    double whole = outline_area(outline), area = outline_disc_area(outline, core);
    bool empty = area <= 1e-12 * whole;
    Rope rope = {.outline = *outline, .candy = candy, .area = area};
    rope.rim = area < whole * (1 - 1e-9);
    t->node[t->nodes] = (Node){.kind = empty ? NODE_EMPTY : NODE_ROPE,
                               .outline = *outline,
                               .first = empty ? -1 : t->ropes,
                               .second = -1};
    if (!empty) {
        t->rope[t->ropes++] = rope;
        t->laid++;
    }
    return t->nodes++;
}

static inline Point tree_middle(const Outline *o) {
    Point m = {0, 0};
    for (int i = 0; i < o->corners; i++)
        m = (Point){m.x + o->corner[i].x / o->corners, m.y + o->corner[i].y / o->corners};
    return m;
}

/* Two nodes that fill the outline, joined along the cut from a to b, in the order that layup.h asks for.
 * Returns the node's index. */
static inline int tree_join(LayUp *t, const Outline *outline, Point a, Point b, int one, int other) {
    bool steep = fabs(b.y - a.y) >= fabs(b.x - a.x), swap = steep ? b.y < a.y : b.x < a.x;
    Point p = swap ? b : a, q = swap ? a : b, m = tree_middle(&t->node[one].outline);
    bool right = (q.x - p.x) * (m.y - p.y) > (q.y - p.y) * (m.x - p.x); /* of the way from p to q */
    t->node[t->nodes] = (Node){.kind = NODE_CUT,
                               .outline = *outline,
                               .cut = {p, q},
                               .first = right == steep ? one : other,
                               .second = right == steep ? other : one};
    return t->nodes++;
}

/* The place of a point that lies on the outline's edge. */
static inline OutlinePlace tree_place(const Outline *o, Point p) {
    OutlinePlace place = {-1, false, p};
    double least = HUGE_VAL;
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = o->corner[(i + 1) % o->corners];
        double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
        double along = within(((p.x - a.x) * dx + (p.y - a.y) * dy) / length2, 0, 1);
        double x = a.x + along * dx - p.x, y = a.y + along * dy - p.y, off = x * x + y * y;
        bool end = (p.x - b.x) * (p.x - b.x) + (p.y - b.y) * (p.y - b.y) < 1e-12;
        if (end || off >= least) continue;
        least = off;
        place.side = i;
        place.corner = (p.x - a.x) * (p.x - a.x) + (p.y - a.y) * (p.y - a.y) < 1e-12;
        if (place.corner) place.at = a;
    }
    return place;
}

/* Parts an outline by the line between two points of its edge: `before` lies to the left of the way from a to
 * b, as seen, `after` to the right. */
static inline bool tree_part(const Outline *o, Point a, Point b, Outline *before, Outline *after) {
    return outline_cut(o, tree_place(o, b), tree_place(o, a), before, after);
}

/* --- at random --- */

typedef struct RandomTree {
    LayUp out;
    Circle core;
    int candies;
    double least; /* no part is narrower */
    uint64_t seed;
} RandomTree;

static inline int random_below(uint64_t *seed, int count) {
    *seed = *seed * 6364136223846793005u + 1442695040888963407u; /* Knuth's MMIX generator */
    return (int)((*seed >> 33) % (uint64_t)count);
}

/* A whole or half number of steps along a side, from the corner it begins at. */
static inline OutlinePlace random_place(uint64_t *seed, const Outline *o) {
    int side = random_below(seed, o->corners);
    Point a = o->corner[side], b = o->corner[(side + 1) % o->corners];
    double length = sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
    int halves = random_below(seed, (int)ceil(2 * length - 0.25));
    double part = halves / 2.0 / length;
    return (OutlinePlace){side, halves == 0, {a.x + part * (b.x - a.x), a.y + part * (b.y - a.y)}};
}

/* False if no cut leaves both parts wide enough. */
static inline bool random_cut(RandomTree *t, const Outline *o, Point cut[2], Outline *one, Outline *other) {
    for (int tries = 0; tries < 40; tries++) {
        OutlinePlace a = random_place(&t->seed, o), b = random_place(&t->seed, o);
        cut[0] = a.at;
        cut[1] = b.at;
        if (outline_cut(o, a, b, one, other) && outline_width(one).width >= t->least &&
            outline_width(other).width >= t->least)
            return true;
    }
    return false;
}

static inline int random_node(RandomTree *t, Outline o, int leaves) { /* NOLINT(misc-no-recursion) */
    Outline one, other;
    Point cut[2];
    bool outside = outline_disc_area(&o, t->core) <= 1e-12 * outline_area(&o);
    if (leaves < 2 || outside || !random_cut(t, &o, cut, &one, &other))
        return tree_leaf(&t->out, &o, random_below(&t->seed, t->candies), t->core);
    int share = (int)(leaves * outline_area(&one) / outline_area(&o) + 0.5);
    share = share < 1 ? 1 : share > leaves - 1 ? leaves - 1 : share;
    int first = random_node(t, one, share), second = random_node(t, other, leaves - share);
    return tree_join(&t->out, &o, cut[0], cut[1], first, second);
}

/* A square of n steps round a core as wide, cut at random into at most so many leaves, none narrower than
 * `least` steps: each cut ends at whole or half steps along the sides of what it parts. */
static inline LayUp random_tree(int n, int leaves, int candies, double least, uint64_t seed) {
    RandomTree t = {.out = tree_new(leaves),
                    .core = {n / 2.0, n / 2.0, n / 2.0},
                    .candies = candies,
                    .least = least,
                    .seed = seed};
    (void)random_node(&t, outline_of_box(0, 0, n, n), leaves);
    return t.out;
}

#endif
