/* A job laid up with slanted cuts, for tests of what draws and tells them: each block is parted by the cut,
 * between whole steps of its sides, that leaves its parts purest. No optimum, but every slope occurs.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_SLANTED_JOB_H
#define LOGOCANE_TESTS_SLANTED_JOB_H

#include "bench_job.h"
#include "random_tree.h"

/* The candy at a point of the square, 0..1 each way. */
typedef int Figurine(double x, double y);

enum { SLANTED_CANDIES = 4, SLANTED_ROPES = 60, SLANTED_GAP = 2 };

typedef struct Slanter {
    LayUp *out;
    Circle core;
    const LayKey *key;
    Figurine *figurine;
    int steps;
} Slanter;

/* How mixed an outline is: of its samples, two steps apart, how many two drawn by chance differ in candy.
 * Also the commonest candy. */
static inline double slanted_mix(const Slanter *s, const Outline *o, int *candy) {
    int count[SLANTED_CANDIES] = {0}, all = 0;
    for (int y = 1; y < s->steps; y += 2)
        for (int x = 1; x < s->steps; x += 2) {
            Point p = {x, y};
            if (hypot(p.x - s->core.x, p.y - s->core.y) > s->core.r || outline_side(o, p) < 0) continue;
            count[s->figurine(p.x / s->steps, p.y / s->steps)]++;
            all++;
        }
    *candy = 0;
    for (int k = 1; k < SLANTED_CANDIES; k++)
        if (count[k] > count[*candy]) *candy = k;
    double same = 0;
    for (int k = 0; k < SLANTED_CANDIES; k++) same += (double)count[k] * count[k];
    return all > 0 ? all - same / all : 0;
}

/* Whole steps along all sides, from their first corners. */
static inline int slanted_places(const Outline *o, OutlinePlace place[4 * STEPS_MAX]) {
    int places = 0;
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = o->corner[(i + 1) % o->corners];
        double length = hypot(b.x - a.x, b.y - a.y);
        for (double at = 0; at < length - 0.5 && places < 4 * STEPS_MAX; at += SLANTED_GAP)
            place[places++] = (OutlinePlace){
                i, at == 0, {a.x + (b.x - a.x) * at / length, a.y + (b.y - a.y) * at / length}};
    }
    return places;
}

static inline bool slanted_good(const Slanter *s, const Outline *o) {
    Outline whole = *o;
    if (whole.corners > 6 || outline_width(o).width < 4) return false;
    LayKey key = *s->key;
    key.corners_most = 6;
    return outline_can_be_formed(&whole, &key, 4);
}

static inline int slanted_node(Slanter *s, Outline o, int ropes) { /* NOLINT(misc-no-recursion) */
    OutlinePlace place[4 * STEPS_MAX];
    Outline one, other, best_one = {0}, best_other = {0};
    int candy, ignored, places = slanted_places(&o, place);
    double mix = slanted_mix(s, &o, &candy), best = mix - 1e-9;
    Point cut[2] = {{0}};
    for (int a = 0; a < places && mix > 2 && ropes > 1; a++)
        for (int b = a + 1; b < places; b++) {
            if (!outline_cut(&o, place[a], place[b], &one, &other) || !slanted_good(s, &one) ||
                !slanted_good(s, &other))
                continue;
            double now = slanted_mix(s, &one, &ignored) + slanted_mix(s, &other, &ignored);
            if (now >= best) continue;
            best = now;
            best_one = one;
            best_other = other;
            cut[0] = place[a].at;
            cut[1] = place[b].at;
        }
    if (best_one.corners == 0) return tree_leaf(s->out, &o, candy, s->core);
    int first = slanted_node(s, best_one, ropes / 2), second = slanted_node(s, best_other, ropes / 2);
    return tree_join(s->out, &o, cut[0], cut[1], first, second);
}

static inline int slanted_crescent(double x, double y) {
    bool moon = hypot(x - 0.5, y - 0.5) < 0.33 && hypot(x - 0.62, y - 0.44) > 0.26;
    return moon ? 1 : hypot(x - 0.68, y - 0.4) < 0.08 ? 2 : 0;
}

static inline int slanted_flag(double x, double y) {
    if (x < 0.2 || x > 0.8 || y < 0.28 || y > 0.72) return 0;
    double off = (x - 0.2) * 0.44 / 0.6 + (y - 0.28) - 0.44;
    return off < -0.09 ? 1 : off > 0.09 ? 2 : 3;
}

static inline int slanted_leaf(double x, double y) {
    double u = (x + y - 1) / 1.4142, v = (y - x) / 1.4142;
    bool leaf = hypot(u, v - 0.25) < 0.42 && hypot(u, v + 0.25) < 0.42;
    if (leaf) return fabs(v) < 0.028 ? 2 : 1;
    return fabs(v) < 0.03 && u > 0 && u < 0.44 ? 2 : 0;
}

/* Like bench_build. Only the steps along which find_blocks goes know of candies, so the grid's costs are
 * those of one candy everywhere. */
static inline bool slanted_build(BenchJob *b, int n, Figurine *figurine) {
    bench_start(b, n, SLANTED_CANDIES, motif_plain, NULL);
    Job *j = &b->job;
    LayUp *t = &j->layup;
    *t = tree_new(SLANTED_ROPES);
    Slanter s = {t, j->grid.core, &j->cane.key, figurine, n};
    (void)slanted_node(&s, outline_of_box(0, 0, n, n), SLANTED_ROPES);
    for (int i = 0; i < t->ropes; i++) {
        t->rope[i].trim = t->rope[i].area < 4;
        t->laid -= t->rope[i].trim;
    }
    return bench_finish(b);
}

#endif
