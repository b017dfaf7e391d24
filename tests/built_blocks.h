/* Blocks of lay-ups that are made by hand, at random, or drawn as text. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_BUILT_BLOCKS_H
#define LOGOCANE_TESTS_BUILT_BLOCKS_H

#include "plan/plan.h"
#include "random_tree.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

typedef struct Built {
    Grid grid;
    LayUp layup;
    Blocks blocks;
} Built;

/* Takes the lay-up over. Wrong ways: with edges so many steps off (0: a block fits its place as drawn only).
 */
static inline Built built_with(LayUp layup, int n, Circle core, double apart) {
    Err err = {0};
    Built b = {.grid = {.steps = n, .least_steps = 4, .candies = 3, .core = core}, .layup = layup};
    assert_true(find_blocks(&b.grid, &b.layup, &b.blocks, &err));
    assert_true(find_wrong_ways(&b.grid, &b.layup, apart, &b.blocks, &err));
    return b;
}

static inline Built built_of(LayUp layup, int n, Circle core) {
    return built_with(layup, n, core, 0);
}

static inline void built_free(Built *b) {
    grid_free(&b->grid);
    layup_free(&b->layup);
    blocks_free(&b->blocks);
}

/* Does the rope lie within the outline, but for its core's edge? Ropes lie in a block or beside it. */
static inline bool rope_in(const Rope *rope, const Outline *outline) {
    return outline_side(outline, tree_middle(&rope->outline)) >= 0;
}

/* Copies a node of `from`, and all below it, to where the motion takes it; returns the copy's index. */
static inline int tree_moved(LayUp *to, const LayUp *from, int index, /* NOLINT(misc-no-recursion) */
                             Motion motion, Circle core) {
    Node node = from->node[index];
    Outline outline = outline_moved(&node.outline, motion);
    int copy;
    if (node.kind == NODE_CUT) {
        int one = tree_moved(to, from, node.first, motion, core);
        int other = tree_moved(to, from, node.second, motion, core);
        copy = tree_join(to, &outline, point_moved(node.cut[0], motion), point_moved(node.cut[1], motion),
                         one, other);
    } else {
        copy = tree_leaf(to, &outline, node.kind == NODE_ROPE ? from->rope[node.first].candy : 0, core);
    }
    to->node[copy].fine = node.fine;
    return copy;
}

#endif
