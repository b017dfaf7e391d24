/* A job with wraps and round ropes, laid up and parted into blocks by hand: two equal small blocks of a rope
 * in a sheet; a block of three ropes in a sheet; a round rope in two round sheets, the rest of its block
 * pressed in round it; a wrapped block inside a fine block; plain ropes round them. SPDX-License-Identifier:
 * MIT */
#ifndef LOGOCANE_TESTS_WRAPPED_JOB_H
#define LOGOCANE_TESTS_WRAPPED_JOB_H

#include "bench_job.h"
#include "model/wrapped.h"

/* Its blocks, in build order. */
enum {
    WJ_SMALL,        /* the rope in a sheet, used twice */
    WJ_THREE,        /* three ropes */
    WJ_WRAPPED,      /* in a sheet */
    WJ_TWICE,        /* the round rope in two sheets */
    WJ_ROUND,        /* and the rest round it */
    WJ_PAIR,         /* two fine ropes */
    WJ_FINE_WRAPPED, /* in a fine sheet */
    WJ_FINE,         /* the fine block */
    WJ_UPPER,
    WJ_MIDDLE,
    WJ_LOWER,
    WJ_LOG,
    WJ_BLOCKS
};

enum { WJ_STEPS = 56, WJ_CANDIES = 4, WJ_ROPES = 24, WJ_ITEMS = 40, WJ_WRAPS = 6, WJ_USES = WJ_BLOCKS + 2 };

typedef struct WrappedJob {
    BenchJob bench;
    int node[WJ_BLOCKS]; /* of each block */
} WrappedJob;

static inline Outline wj_box(double left, double top, double right, double bottom) {
    return outline_of_box(left, top, right - left, bottom - top);
}

static inline int wj_leaf(WrappedJob *w, Outline o, int candy) {
    return tree_leaf(&w->bench.job.layup, &o, candy, w->bench.job.grid.core);
}

/* --- nodes --- */

static inline int wj_disc(WrappedJob *w, Outline square, int candy) {
    LayUp *t = &w->bench.job.layup;
    int node = wj_leaf(w, square, candy);
    Rope *rope = &t->rope[t->node[node].first];
    double r = square_disc(&square).r;
    rope->round = true;
    rope->area = PI * r * r;
    return node;
}

static inline int wj_wrap(WrappedJob *w, int inside, Outline outline, int candy, double thickness,
                          bool round) {
    LayUp *t = &w->bench.job.layup;
    t->wrap[t->wraps] = (Wrap){.outline = outline,
                               .inner = t->node[inside].outline,
                               .round = round,
                               .candy = candy,
                               .thickness = thickness,
                               .fine = t->node[inside].fine};
    t->node[t->nodes] = (Node){.kind = NODE_WRAP,
                               .outline = outline,
                               .first = inside,
                               .second = t->wraps++,
                               .fine = t->node[inside].fine};
    return t->nodes++;
}

/* The rest comes before what is round in it. */
static inline int wj_rest(WrappedJob *w, Outline outline, int candy) {
    LayUp *t = &w->bench.job.layup;
    int node = wj_leaf(w, outline, candy), rope = t->node[node].first;
    t->rope[rope].rest = t->rope[rope].trim = true;
    t->laid--;
    t->nodes--; /* its node is that of the block */
    return rope;
}

static inline int wj_round(WrappedJob *w, int inside, int rest) {
    LayUp *t = &w->bench.job.layup;
    Outline disc = t->node[inside].outline;
    double r = square_disc(&disc).r;
    t->rope[rest].area -= PI * r * r;
    t->node[t->nodes] =
        (Node){.kind = NODE_ROUND, .outline = t->rope[rest].outline, .first = inside, .second = rest};
    return t->nodes++;
}

static inline int wj_join(WrappedJob *w, Outline o, double ax, double ay, double bx, double by, int one,
                          int other) {
    return tree_join(&w->bench.job.layup, &o, (Point){ax, ay}, (Point){bx, by}, one, other);
}

static inline int wj_fine(WrappedJob *w, int node) {
    LayUp *t = &w->bench.job.layup;
    t->node[node].fine = true;
    if (t->node[node].kind == NODE_ROPE) t->rope[t->node[node].first].fine = true;
    return node;
}

/* --- blocks --- */

static inline Block *wj_block(WrappedJob *w, BlockKind kind, int node) {
    Blocks *all = &w->bench.job.blocks;
    const LayUp *t = &w->bench.job.layup;
    Block *b = &all->block[all->blocks];
    w->node[all->blocks++] = node;
    *b = (Block){.kind = kind,
                 .outline = t->node[node].outline,
                 .first_item = all->items,
                 .made = 1,
                 .fine = t->node[node].fine};
    (void)outline_disc_box(&b->outline, w->bench.job.grid.core, &b->low, &b->high);
    return b;
}

/* A node that is a rope, or that of a block which was made before; laid so many steps to the right of where
 * that was built, behind a cut from (ax, ay) to (bx, by). */
static inline void wj_item(WrappedJob *w, Block *b, int node, double ax, double ay, double bx, double by,
                           double right) {
    Blocks *all = &w->bench.job.blocks;
    const Node *n = &w->bench.job.layup.node[node];
    Item *item = &all->item[all->items++];
    *item = (Item){.outline = n->outline, .cut = {{ax, ay}, {bx, by}}, .index = n->first};
    item->motion.shift.x = right;
    item->outline = outline_moved(&n->outline, item->motion);
    for (int i = 0; i < all->blocks - 1; i++) {
        if (w->node[i] != node) continue;
        item->is_block = true;
        item->index = i;
    }
    b->items++;
}

/* A rope in a sheet, from `left` on; returns the sheet's node. */
static inline int wj_small(WrappedJob *w, double left, int *inner) {
    *inner = wj_leaf(w, wj_box(left + 2, 8, left + 8, 14), 2);
    return wj_wrap(w, *inner, wj_box(left, 6, left + 10, 16), 1, 2, false);
}

/* Each of these lays a row of the log and makes what it holds into blocks; returns the row's node, and those
 * of its items in item[]. */
static inline int wj_upper(WrappedJob *w, int item[4]) {
    int inner, ignored;
    item[0] = wj_leaf(w, wj_box(0, 6, 18, 16), 0);
    item[1] = wj_small(w, 18, &inner);
    item[2] = wj_small(w, 28, &ignored);
    item[3] = wj_leaf(w, wj_box(38, 6, 56, 16), 0);
    Block *b = wj_block(w, BLOCK_WRAPPED, item[1]);
    b->made = 2;
    b->wraps = 1;
    wj_item(w, b, inner, 0, 0, 0, 0, 0);
    int two = wj_join(w, wj_box(0, 6, 28, 16), 18, 6, 18, 16, item[0], item[1]);
    int three = wj_join(w, wj_box(0, 6, 38, 16), 28, 6, 28, 16, two, item[2]);
    return wj_join(w, wj_box(0, 6, 56, 16), 38, 6, 38, 16, three, item[3]);
}

/* Three ropes in a sheet. */
static inline int wj_three(WrappedJob *w) {
    const Outline taper = {4, {{8, 18}, {24, 18}, {24, 26}, {8, 22}}},
                  lower = {4, {{8, 22}, {24, 26}, {24, 32}, {8, 32}}};
    int one = wj_leaf(w, taper, 2), two = wj_leaf(w, lower, 3);
    int both = wj_join(w, wj_box(8, 18, 24, 32), 8, 22, 24, 26, one, two);
    int three = wj_leaf(w, wj_box(8, 32, 24, 38), 2);
    int all = wj_join(w, wj_box(8, 18, 24, 38), 8, 32, 24, 32, both, three);
    Block *b = wj_block(w, BLOCK_STACK, all);
    wj_item(w, b, one, 0, 0, 0, 0, 0);
    wj_item(w, b, two, 8, 22, 24, 26, 0);
    wj_item(w, b, three, 8, 32, 24, 32, 0);
    int wrapped = wj_wrap(w, all, wj_box(6, 16, 26, 40), 1, 2, false);
    b = wj_block(w, BLOCK_WRAPPED, wrapped);
    b->wraps = 1;
    b->wrap[0] = 2;
    wj_item(w, b, all, 0, 0, 0, 0, 0);
    return wrapped;
}

/* A round rope in two sheets, the rest round it. */
static inline int wj_target(WrappedJob *w) {
    int rest = wj_rest(w, wj_box(26, 16, 50, 40), 3);
    int disc = wj_disc(w, wj_box(32, 22, 44, 34), 2);
    int once = wj_wrap(w, disc, wj_box(30, 20, 46, 36), 0, 2, true);
    int twice = wj_wrap(w, once, wj_box(28, 18, 48, 38), 1, 2, true);
    Block *b = wj_block(w, BLOCK_WRAPPED, twice);
    b->wraps = 2;
    b->wrap[0] = 3;
    b->wrap[1] = 4;
    wj_item(w, b, disc, 0, 0, 0, 0, 0);
    int round = wj_round(w, twice, rest);
    b = wj_block(w, BLOCK_ROUND, round);
    b->rest = rest;
    wj_item(w, b, twice, 0, 0, 0, 0, 0);
    return round;
}

static inline int wj_middle(WrappedJob *w, int item[4]) {
    item[0] = wj_leaf(w, wj_box(0, 16, 6, 40), 0);
    item[1] = wj_three(w);
    item[2] = wj_target(w);
    item[3] = wj_leaf(w, wj_box(50, 16, 56, 40), 0);
    int two = wj_join(w, wj_box(0, 16, 26, 40), 6, 16, 6, 40, item[0], item[1]);
    int three = wj_join(w, wj_box(0, 16, 50, 40), 26, 16, 26, 40, two, item[2]);
    return wj_join(w, wj_box(0, 16, 56, 40), 50, 16, 50, 40, three, item[3]);
}

/* Two fine ropes in a fine sheet. */
static inline int wj_fine_wrapped(WrappedJob *w) {
    int one = wj_fine(w, wj_leaf(w, wj_box(25, 41, 33, 46), 2));
    int two = wj_fine(w, wj_leaf(w, wj_box(25, 46, 33, 51), 3));
    int pair = wj_fine(w, wj_join(w, wj_box(25, 41, 33, 51), 25, 46, 33, 46, one, two));
    Block *b = wj_block(w, BLOCK_STACK, pair);
    wj_item(w, b, one, 0, 0, 0, 0, 0);
    wj_item(w, b, two, 25, 46, 33, 46, 0);
    int wrapped = wj_wrap(w, pair, wj_box(24, 40, 34, 52), 0, 1, false);
    b = wj_block(w, BLOCK_WRAPPED, wrapped);
    b->wraps = 1;
    b->wrap[0] = 5;
    wj_item(w, b, pair, 0, 0, 0, 0, 0);
    return wrapped;
}

static inline int wj_lower(WrappedJob *w, int item[3]) {
    item[0] = wj_leaf(w, wj_box(0, 40, 20, 52), 0);
    int one = wj_fine(w, wj_leaf(w, wj_box(20, 40, 24, 52), 1));
    int wrapped = wj_fine_wrapped(w);
    int last = wj_fine(w, wj_leaf(w, wj_box(34, 40, 36, 52), 1));
    int two = wj_fine(w, wj_join(w, wj_box(20, 40, 34, 52), 24, 40, 24, 52, one, wrapped));
    item[1] = wj_fine(w, wj_join(w, wj_box(20, 40, 36, 52), 34, 40, 34, 52, two, last));
    Block *b = wj_block(w, BLOCK_ROW, item[1]);
    wj_item(w, b, one, 0, 0, 0, 0, 0);
    wj_item(w, b, wrapped, 24, 40, 24, 52, 0);
    wj_item(w, b, last, 34, 40, 34, 52, 0);
    item[2] = wj_leaf(w, wj_box(36, 40, 56, 52), 0);
    two = wj_join(w, wj_box(0, 40, 36, 52), 20, 40, 20, 52, item[0], item[1]);
    return wj_join(w, wj_box(0, 40, 56, 52), 36, 40, 36, 52, two, item[2]);
}

static inline void wj_rows(WrappedJob *w, int item[5]) {
    int up[4], mid[4], low[3];
    item[0] = wj_leaf(w, wj_box(0, 0, 56, 6), 0);
    item[1] = wj_upper(w, up);
    item[2] = wj_middle(w, mid);
    item[3] = wj_lower(w, low);
    item[4] = wj_leaf(w, wj_box(0, 52, 56, 56), 0);
    Block *b = wj_block(w, BLOCK_ROW, item[1]);
    wj_item(w, b, up[0], 0, 0, 0, 0, 0);
    wj_item(w, b, up[1], 18, 6, 18, 16, 0);
    wj_item(w, b, up[1], 28, 6, 28, 16, 10);
    wj_item(w, b, up[3], 38, 6, 38, 16, 0);
    b = wj_block(w, BLOCK_ROW, item[2]);
    wj_item(w, b, mid[0], 0, 0, 0, 0, 0);
    wj_item(w, b, mid[1], 6, 16, 6, 40, 0);
    wj_item(w, b, mid[2], 26, 16, 26, 40, 0);
    wj_item(w, b, mid[3], 50, 16, 50, 40, 0);
    b = wj_block(w, BLOCK_ROW, item[3]);
    wj_item(w, b, low[0], 0, 0, 0, 0, 0);
    wj_item(w, b, low[1], 20, 40, 20, 52, 0);
    wj_item(w, b, low[2], 36, 40, 36, 52, 0);
}

/* The tree, and with its blocks all that is built. */
static inline void wj_lay(WrappedJob *w) {
    int item[5];
    wj_rows(w, item);
    int two = wj_join(w, wj_box(0, 0, 56, 16), 0, 6, 56, 6, item[0], item[1]);
    int three = wj_join(w, wj_box(0, 0, 56, 40), 0, 16, 56, 16, two, item[2]);
    int four = wj_join(w, wj_box(0, 0, 56, 52), 0, 40, 56, 40, three, item[3]);
    Block *b = wj_block(w, BLOCK_STACK, wj_join(w, wj_box(0, 0, 56, 56), 0, 52, 56, 52, four, item[4]));
    const double top[5] = {0, 6, 16, 40, 52};
    for (int i = 0; i < 5; i++) wj_item(w, b, item[i], 0, top[i], 56, top[i], 0);
    const LayUp *t = &w->bench.job.layup;
    const Outline copy = wj_box(28, 6, 38, 16);
    for (int i = 0; i < t->ropes; i++)
        w->bench.job.blocks.copied[i] = outline_side(&copy, outline_middle(&t->rope[i].outline)) > 0;
}

/* Like bench_build. */
static inline bool wrapped_build(WrappedJob *w) {
    Err err = {0};
    memset(w, 0, sizeof *w);
    bench_start(&w->bench, WJ_STEPS, WJ_CANDIES, motif_plain, NULL);
    w->bench.job.palette.candy[1] = w->bench.shop.stock.candy[1];
    w->bench.job.layup = tree_new(WJ_ROPES);
    w->bench.job.layup.wrap = mem_alloc(WJ_WRAPS, sizeof(Wrap), &err);
    Blocks *all = &w->bench.job.blocks;
    all->block = mem_alloc(WJ_BLOCKS, sizeof *all->block, &err);
    all->item = mem_alloc(WJ_ITEMS, sizeof *all->item, &err);
    all->use = mem_alloc(WJ_USES, sizeof *all->use, &err);
    all->copied = mem_alloc(WJ_ROPES, sizeof *all->copied, &err);
    wj_lay(w);
    assert(all->blocks == WJ_BLOCKS && all->items <= WJ_ITEMS);
    for (int b = 0; b < WJ_BLOCKS; b++) {
        all->use[all->uses++].block = b;
        if (b == WJ_SMALL) all->use[all->uses++] = (BlockUse){b, {.shift = {10, 0}}};
    }
    return bench_reckon(&w->bench);
}

/* How far inside the outline, or, if it is round, the disc in it, the point lies; under 0 outside. */
static inline double wj_depth(const Outline *o, bool round, Point p) {
    Circle disc = square_disc(o);
    if (round) return disc.r - hypot(p.x - disc.x, p.y - disc.y);
    double in = HUGE_VAL;
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = outline_next(o, i);
        double right = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
        in = fmin(in, right / hypot(b.x - a.x, b.y - a.y));
    }
    return in;
}

/* The candy at a point of the square, by the tree, and how far the nearest border in it is, at most 1 step;
 * -1: nothing lies there. */
static inline int wj_candy(const LayUp *t, Point p, double *clear) {
    int n = t->nodes - 1;
    *clear = 1;
    for (;;) {
        const Node *node = &t->node[n];
        bool round = node->kind == NODE_ROUND || (node->kind == NODE_WRAP && t->wrap[node->second].round);
        if (node->kind == NODE_EMPTY) return -1;
        if (node->kind == NODE_ROPE) return t->rope[node->first].candy;
        if (node->kind == NODE_CUT) {
            Point a = node->cut[0], b = node->cut[1];
            bool steep = fabs(b.y - a.y) >= fabs(b.x - a.x);
            double right =
                ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / hypot(b.x - a.x, b.y - a.y);
            *clear = fmin(*clear, fabs(right));
            n = (steep ? right > 0 : right < 0) ? node->first : node->second;
            continue;
        }
        double in = wj_depth(&t->node[node->first].outline, round, p);
        *clear = fmin(*clear, fabs(in));
        if (in > 0)
            n = node->first;
        else
            return node->kind == NODE_WRAP ? t->wrap[node->second].candy : t->rope[node->second].candy;
    }
}

/* The section as the job's face, not softened. */
static inline void wj_face(Job *job) {
    Err err = {0};
    const int side = WJ_STEPS * SAMPLES;
    job->face = (Face){side, mem_alloc((size_t)side * side, 1, &err)};
    for (int i = 0; i < side * side; i++) {
        double clear;
        int x = i % side, y = i / side;
        Point p = {(x + 0.5) / SAMPLES, (y + 0.5) / SAMPLES};
        bool in = disc_holds(job->grid.core, SAMPLES, x, y);
        job->face.candy[i] = (uint8_t)(in ? wj_candy(&job->layup, p, &clear) : OUTSIDE);
    }
}

static inline void wrapped_free(WrappedJob *w) {
    bench_free(&w->bench);
}

#endif
