/* What holds for every lay-up of a grid by a key. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_LAID_H
#define LOGOCANE_TESTS_LAID_H

#include "job_properties.h"

static inline bool fits_fine(const Grid *grid, const Outline *o) {
    double left = HUGE_VAL, top = HUGE_VAL, right = 0, bottom = 0;
    for (int i = 0; i < o->corners; i++) {
        left = fmin(left, o->corner[i].x), right = fmax(right, o->corner[i].x);
        top = fmin(top, o->corner[i].y), bottom = fmax(bottom, o->corner[i].y);
    }
    return fmax(right - left, bottom - top) <= grid->fine_most + 1e-9;
}

/* What is fine is whole blocks, none larger than can be drawn down. */
static inline void check_fine(const Grid *grid, const LayUp *layup) {
    for (int i = 0; i < layup->nodes; i++) {
        const Node *node = &layup->node[i];
        assert(!node->fine || fits_fine(grid, &node->outline));
        if (node->kind == NODE_CUT && node->fine)
            assert(layup->node[node->first].fine && layup->node[node->second].fine);
        if (node->kind == NODE_WRAP || node->kind == NODE_ROUND)
            assert(layup->node[node->first].fine == node->fine);
        if (node->kind == NODE_ROPE) assert(layup->rope[node->first].fine == node->fine);
    }
}

static inline void check_laid(const Grid *grid, const LayKey *key, const LayUp *layup) {
    double area = 0;
    Job job = {.grid = *grid, .layup = *layup, .cane.key = *key, .palette.count = grid->candies};
    check_cover(&job);
    check_ropes(&job);
    check_fine(grid, layup);
    for (int i = 0; i < layup->nodes; i++) { /* each leaf, with what is round in it, and each sheet */
        const Node *node = &layup->node[i];
        double own = outline_area(&node->outline);
        if (node->kind == NODE_EMPTY || node->kind == NODE_ROUND) area += own;
        if (node->kind == NODE_ROPE && !layup->rope[node->first].round) area += own;
        if (node->kind == NODE_WRAP && !layup->wrap[node->second].round)
            area += own - outline_area(&layup->node[node->first].outline);
    }
    assert(fabs(area - grid->steps * grid->steps) < 1e-9);
}

#endif
