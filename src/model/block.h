/* Public. Blocks: how the ropes of a lay-up are joined. SPDX-License-Identifier: MIT
 *
 * Equal blocks, also turned or mirrored, are one Block, built once and cut into pieces; each use is an Item
 * of the block that holds it. */
#ifndef LOGOCANE_BLOCK_H
#define LOGOCANE_BLOCK_H

#include "model/layup.h"

typedef enum BlockKind {
    BLOCK_ROW,     /* side by side, from the left: its joins run down rather than across */
    BLOCK_STACK,   /* one on another, from the top */
    BLOCK_WRAPPED, /* one rope or block in a sheet or two */
    BLOCK_ROUND    /* one round rope, or one that is wrapped, and the rest of the block pressed in round it */
} BlockKind;

/* How a block that is needed more than once comes to be. */
typedef enum BuildWay {
    BUILD_ONCE,    /* it is needed once */
    BUILD_THICKER, /* built thicker, drawn out, cut */
    BUILD_LONGER,  /* built longer, cut */
    BUILD_FINE,    /* built at twice the size or more, drawn down, cut */
    BUILD_EACH     /* built as often as it is needed: it can be made neither thicker nor longer */
} BuildWay;

/* What goes into a block: a rope, or another block laid some way round. Filled by find_blocks. */
typedef struct Item {
    bool is_block;
    int index;       /* of the Block or of the Rope */
    Outline outline; /* steps, in the core's square: the place it fills, whole even where the core's edge cuts
                        it */
    Point cut[2];    /* steps: of all but the first, the two ends of the join to the item before it, on the
                        block's outline; the upper end first, of a flat one the left one */
    Motion motion;   /* of a block: from where it was built to its place in the block that holds it */
} Item;

/* Filled by find_blocks: what it is; by find_wrong_ways: the risks; by plan_builds: how it is built. */
typedef struct Block {
    BlockKind kind;
    Outline outline;    /* steps: where it lies in the core's square, as built (of its first use) */
    int first_item;     /* in Blocks.item */
    int items;          /* 2..; of a wrapped or round one 1 */
    int wraps;          /* of a wrapped one, 1 or 2; else 0 */
    int wrap[2];        /* in LayUp.wrap, the inner one first */
    int rest;           /* of a round one: the rope that is pressed in round it */
    int made;           /* uses in the log */
    bool mirrored_risk; /* by find_wrong_ways: it goes in end for end, and no turn puts that right: the
                           picture is spoilt */
    bool turned_risk;   /* by find_wrong_ways: it goes in turned, by whatever angle, and spoils the picture */
    bool looks_the_same; /* by find_wrong_ways: a wrong placement shows 98 % of the same section: easy to
                            overlook */
    bool fine;  /* finer inside than the least strip: built at least twice as thick, then drawn down */
    Point low;  /* steps: top left of the box of what of it lies inside the core, where it was built: of what
                   hands build */
    Point high; /* steps: bottom right of that box */
    BuildWay way;     /* by plan_builds */
    int builds;       /* by plan_builds: times hands build it: 1, or `pieces` if each is built */
    int pieces;       /* by plan_builds: cut from all builds; what the blocks that hold it, as they are built,
                         take of it */
    double scale;     /* by plan_builds: its sides as built against those in the log, >= 1 */
    double length_mm; /* by plan_builds: of one build */
    double piece_mm;  /* by plan_builds: of each piece cut from it; the longest, if they differ */
} Block;

/* A use of a block: where in the log, and which way round. Filled by find_blocks. */
typedef struct BlockUse {
    int block;     /* index in Blocks.block */
    Motion motion; /* from where the block was built to where this use lies */
} BlockUse;

/* Filled by find_blocks, but for what find_wrong_ways and plan_builds fill of each Block. */
typedef struct Blocks {
    int blocks;
    Block *block; /* in build order: a block comes before the one that holds it; the log is the last; owned */
    int items;
    Item *item; /* owned */
    int uses;
    BlockUse *use; /* every use in the log, by block; the first use of each is as it was built; owned */
    bool *copied;  /* [ropes of the lay-up]: lies in a second or later use; owned */
} Blocks;

/* Joins that hands make of it each time it is built: its sheets, and the rest about something round, are
 * some. */
static inline int block_joins(const Block *block) {
    return block->items - 1 + block->wraps + (block->kind == BLOCK_ROUND);
}

/* Is it built thicker than it is laid, and drawn out? */
static inline bool block_is_drawn(const Block *block) {
    return block->way == BUILD_THICKER || block->way == BUILD_FINE;
}

void blocks_free(Blocks *blocks);

#endif
