/* The slicing tree as chains of items: instances of blocks. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PLAN_INSTANCES_H
#define LOGOCANE_PLAN_INSTANCES_H

#include "base/err.h"
#include "model/block.h"

/* A block as it lies in the log. */
typedef struct Instance {
    BlockKind kind;
    bool fine;          /* a fine block, or inside one */
    Outline outline;    /* steps; whole, even where the core's edge cuts it */
    int first, items;   /* in Instances.item: ropes, or instances; of a wrapped or round one 1 */
    int wraps, wrap[2]; /* of a wrapped one: in LayUp.wrap, the inner one first */
    int rest;           /* of a round one: the rope that is pressed in round it */
} Instance;

typedef struct Instances {
    int count;
    Instance *instance; /* [count] those inside before the one that holds them; owned */
    int items;
    Item *item; /* [items] is_block means an instance; without motions; owned */
    Item root;  /* index -1: the log is empty; a rope: it has no blocks */
} Instances;

/* Two instances or ropes touch where their corners are no farther apart than so, steps: far over what
 * rounding leaves, far under what hands see. */
static const double touching = 1e-6;

/* Flattens the slicing tree. A chain is items in order, each joined to the one before by one straight cut
 * across the whole block: a cut within a part belongs to the chain if its ends lie on the outline of the
 * block and on no other cut of the chain, if it parts the cuts on both sides of it from each other, and if
 * its part is as fine as the block. What lies outside the core drops out, and what holds one thing only is
 * that thing. What is wrapped, in one sheet or two, is an instance with one item, and so is what is round in
 * a rope. A chain is a row, in order from the left, if its cuts, laid end to end, all in one sense, reach at
 * least as far down as across; else a stack, from the top. */
bool instances_of(const LayUp *layup, Instances *out, Err *err) MUST_CHECK;

void instances_free(Instances *instances);

/* Is each join of the block one whole straight side of both items, and does it run across the whole block?
 * What lies outside the core is not asked for. */
bool joins_are_flat(const Outline *block, const Item *item, int items, Circle core);

#endif
