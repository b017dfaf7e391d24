/* Blocks: how the ropes of a lay-up are joined. SPDX-License-Identifier: MIT
 *
 * Equal blocks, also turned or mirrored, are one Block, built once and cut into pieces; each use is an Item of the block
 * that holds it. */
#ifndef LOGOCANE_BLOCK_H
#define LOGOCANE_BLOCK_H

#include "placement.h"

typedef enum BlockKind {
    BLOCK_ROW,   /* side by side, from the left */
    BLOCK_STACK, /* one on another, from the top */
    BLOCK_PAIR   /* two wedges, corner to corner */
} BlockKind;

/* What goes into a block: a rope, or another block laid some way round. */
typedef struct Item {
    bool is_block;
    int index;     /* of the Block or of the Rope */
    Box slot;      /* steps, in the core's square: where it goes; both faces of a join are as long as the slot's side */
    Placement way; /* how a block is laid, against how it was built */
} Item;

typedef struct Block {
    BlockKind kind;
    Box box;             /* steps: its place in the core's square, as built (of its first use) */
    int first_item;      /* in Blocks.item */
    int items;           /* 2.. */
    int made;            /* uses in the log: it is built once for all of them */
    bool mirrored_risk;  /* it fits end for end, and no turn puts that right: the picture is spoilt */
    bool turned_risk;    /* it fits turned, and spoils the picture */
    bool looks_the_same; /* a wrong placement shows 98 % of the same section: easy to overlook */
} Block;

/* A use of a block: where in the log, and which way round. */
typedef struct BlockUse {
    int block;
    Box box;       /* steps */
    Placement way; /* against how the block was built */
} BlockUse;

typedef struct Blocks {
    int blocks;
    Block *block;  /* in build order: a block comes before the one that holds it; the log is the last; owned */
    int items;
    Item *item;    /* owned */
    int uses;
    BlockUse *use; /* every use in the log, by block; the first use of each is as it was built; owned */
    int joins;     /* joins made by hand: items - 1 of each block, built once */
    bool *copied;  /* [ropes of the lay-up]: lies in a second or later use, so no hand makes it; owned */
} Blocks;

void blocks_free(Blocks *blocks);

/* "row", "stack", "pair". */
const char *block_kind_name(BlockKind kind);

#endif
