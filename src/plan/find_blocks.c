/* The tree becomes blocks to build. SPDX-License-Identifier: MIT
 *
 * Input: the slicing tree with its ropes. Output: unique blocks in build order, and every use of each.
 * 1. The tree is flattened into instances, one for each block as it lies in the log: a row in a row is one
 * row, a stack in a stack one stack; what lies outside the core drops out, and what holds one thing only is
 * that thing.
 * 2. Two instances are equal if their ropes, laid one of the eight ways, are the same: candy, shape, place,
 * and what the core's rim leaves of them.
 * 3. From the log down, each instance that equals a block already built is one more use of it; else its own
 * blocks are built first, the picture before the field (common practice), then it is a block of its own.
 * 4. All uses are read off by following the blocks from the log down.
 * 5. Which blocks could be laid in the wrong way round: way_round.c.
 * Invariants: every rope that is not `copied` is an item of one block; a block comes before the one that
 * holds it. Cost: O(instances^2 * ropes), some 40 and 60.
 *
 * For whoever gives blocks and ropes other outlines than boxes and halves of boxes, these rely on them:
 * - RopePrint tells a rope by its box and the corner of its right angle, and equal_when turns both. A polygon
 * needs a form of its own in which equal outlines have equal numbers: corners in MILLI, from the first one
 * on, one way round. Prints are sorted, so two of a block must never compare as equal.
 * - A placement fits (placement_fits) if the box fits; the outline must then fit as well.
 * - gather takes cuts of one kind for parallel: a row is several parts side by side. Slanted cuts are not.
 * - Item.slot and BlockUse.box are boxes: follow moves an item within its holder by them, and joins_are_flat
 * and inner_box ask them what touches and what lies inside the core. */
#include "plan/plan_parts.h"

#include "base/mem.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A rope as one of the eight ways shows it, in whole numbers without gaps: equal ropes have equal bytes.
 * Places in 1 / MILLI step, from the top left corner of the block. */
typedef struct RopePrint {
    Box box;    /* the leaf */
    Box centre; /* w = h = 0: of the core, if the rim cuts the rope, for then it cuts both alike; else {0} */
    int candy;  /* palette index */
    int shape;  /* a Shape */
    int corner; /* a Corner */
    int rim;    /* 1: the rim cuts it */
} RopePrint;

typedef struct Instance {
    BlockKind kind;
    bool fine;               /* a fine block, or inside one */
    Box box;                 /* steps */
    int first, items;        /* in Finder.item: ropes, or instances */
    int first_print, prints; /* in Finder.print: a rope counts in every instance that holds it */
    double field_share;      /* of its area, 0..1 */
} Instance;

typedef struct Finder {
    const Grid *grid;
    const LayUp *layup;
    Instance *instance; /* those inside before the one that holds them; owned */
    Item *item;         /* of instances: is_block means an instance; owned */
    RopePrint *print;   /* of each instance, sorted; owned */
    RopePrint *scratch; /* [ropes] one instance laid another way; owned */
    int instances, items, prints;
    int *built; /* [blocks] the instance that each block was built from; owned */
    Blocks out; /* owned until it is handed over */
} Finder;

enum { MILLI = 1000 };

/* --- 1. instances --- */

static const Item nothing = {.index = -1};

static Item flatten(Finder *f, int node);

/* Gathers the items of a row or stack from a node of the tree; nodes of the same kind are gone through,
 * but a fine block stays one. */
static int gather(Finder *f, int node, const Node *whole, Item *item) { /* NOLINT(misc-no-recursion) */
    const Node *n = &f->layup->node[node];
    if (n->kind == whole->kind && n->fine == whole->fine) {
        int count = gather(f, n->first, whole, item);
        return count + gather(f, n->second, whole, item + count);
    }
    item[0] = flatten(f, node);
    return item[0].index >= 0;
}

static Item new_instance(Finder *f, const Node *node, BlockKind kind, const Item *item, int items) {
    if (items == 0) return nothing;
    if (items == 1) return item[0];
    Instance *of = &f->instance[f->instances];
    *of = (Instance){.kind = kind, .fine = node->fine, .box = node->box, .first = f->items, .items = items};
    for (int i = 0; i < items; i++) of->prints += item[i].is_block ? f->instance[item[i].index].prints : 1;
    memcpy(f->item + f->items, item, (size_t)items * sizeof *item);
    f->items += items;
    return (Item){true, f->instances++, node->box, {0}};
}

/* Instances inside come before the one that holds them. */
static Item flatten(Finder *f, int node) { /* NOLINT(misc-no-recursion) */
    const Node *n = &f->layup->node[node];
    Item item[STEPS_MAX];
    if (n->kind == NODE_EMPTY) return nothing;
    if (n->kind == NODE_STRIP) return (Item){false, n->first, n->box, {0}};
    if (n->kind == NODE_WEDGES) {
        int count = 0;
        if (n->first >= 0) item[count++] = (Item){false, n->first, n->box, {0}};
        if (n->second >= 0) item[count++] = (Item){false, n->second, n->box, {0}};
        return new_instance(f, n, BLOCK_PAIR, item, count);
    }
    int count = gather(f, node, n, item);
    return new_instance(f, n, n->kind == NODE_ROW ? BLOCK_ROW : BLOCK_STACK, item, count);
}

/* --- 2. equal or not --- */

static Box milli(double x, double y, double w, double h) {
    return (Box){(int)lround(x * MILLI), (int)lround(y * MILLI), (int)lround(w * MILLI),
                 (int)lround(h * MILLI)};
}

static RopePrint print_of(const Finder *f, const Rope *rope, Box block) {
    Circle core = f->grid->core;
    RopePrint p = {
        .candy = rope->candy, .shape = (int)rope->shape, .corner = (int)rope->corner, .rim = rope->rim};
    p.box = milli(rope->box.x - block.x, rope->box.y - block.y, rope->box.w, rope->box.h);
    if (rope->rim) p.centre = milli(core.x - block.x, core.y - block.y, 0, 0);
    return p;
}

static void print_instance(Finder *f, const Instance *of, Box block, double *field, double *all) {
    for (int i = of->first; i < of->first + of->items; i++) { /* NOLINT(misc-no-recursion) */
        if (f->item[i].is_block) {
            print_instance(f, &f->instance[f->item[i].index], block, field, all);
            continue;
        }
        const Rope *rope = &f->layup->rope[f->item[i].index];
        f->print[f->prints++] = print_of(f, rope, block);
        *all += rope->area;
        if (rope->candy == f->grid->field) *field += rope->area;
    }
}

/* Any order will do in which different prints differ. */
static int compare_prints(const void *p, const void *q) {
    return memcmp(p, q, sizeof(RopePrint));
}

/* Is `b` what `a` shows when laid that way? */
static bool equal_when(const Finder *f, const Instance *a, const Instance *b, Placement way) {
    bool upright = way.turn % 2 == 0;
    if (a->prints != b->prints || a->fine != b->fine || (upright ? a->box.w : a->box.h) != b->box.w ||
        (upright ? a->box.h : a->box.w) != b->box.h)
        return false;
    Box outer = {0, 0, a->box.w * MILLI, a->box.h * MILLI};
    for (int i = 0; i < a->prints; i++) {
        RopePrint p = f->print[a->first_print + i];
        p.box = box_placed(p.box, outer, way);
        if (p.rim) p.centre = box_placed(p.centre, outer, way);
        if (p.shape == SHAPE_WEDGE) p.corner = (int)corner_placed((Corner)p.corner, way);
        f->scratch[i] = p;
    }
    qsort(f->scratch, (size_t)a->prints, sizeof *f->scratch, compare_prints);
    return memcmp(f->scratch, f->print + b->first_print, (size_t)a->prints * sizeof *f->print) == 0;
}

static bool print_all(Finder *f, Err *err) {
    int total = 0;
    for (int i = 0; i < f->instances; i++) total += f->instance[i].prints;
    f->print = mem_alloc((size_t)total, sizeof *f->print, err);
    f->scratch = f->print ? mem_alloc((size_t)f->layup->ropes, sizeof *f->scratch, err) : NULL;
    if (!f->scratch) return false;
    for (int i = 0; i < f->instances; i++) {
        Instance *of = &f->instance[i];
        double field = 0, all = 0;
        of->first_print = f->prints;
        print_instance(f, of, of->box, &field, &all);
        of->field_share = all > 0 ? field / all : 0;
        qsort(f->print + of->first_print, (size_t)of->prints, sizeof *f->print, compare_prints);
    }
    return true;
}

/* --- 3. blocks and their uses --- */

static Item build(Finder *f, int index);

/* Builds the blocks among the items, those with most of the picture in them first. */
static void build_items(Finder *f, const Instance *of, Item *item) { /* NOLINT(misc-no-recursion) */
    bool done[STEPS_MAX] = {false};
    for (int round = 0; round < of->items; round++) {
        int next = -1;
        double least = 2;
        for (int i = 0; i < of->items; i++) {
            Item from = f->item[of->first + i];
            double share = from.is_block ? f->instance[from.index].field_share : 1.5;
            if (done[i] || share >= least) continue;
            next = i;
            least = share;
        }
        done[next] = true;
        item[next] = f->item[of->first + next];
        if (item[next].is_block) {
            Item built = build(f, item[next].index);
            item[next].index = built.index;
            item[next].way = built.way;
        } else {
            f->out.copied[item[next].index] = false;
        }
    }
}

/* What the core's edge leaves of the block's items; an item that lies outside adds nothing. */
static void inner_box(const Finder *f, const Instance *of, Block *block) {
    block->low = (Point){block->box.x + block->box.w, block->box.y + block->box.h};
    block->high = (Point){block->box.x, block->box.y};
    for (int i = of->first; i < of->first + of->items; i++) {
        Box s = f->item[i].slot;
        const Point corner[4] = {{s.x, s.y}, {s.x + s.w, s.y}, {s.x + s.w, s.y + s.h}, {s.x, s.y + s.h}};
        Point low, high;
        if (!polygon_disc_box(corner, 4, f->grid->core, &low, &high)) continue;
        block->low = (Point){fmin(block->low.x, low.x), fmin(block->low.y, low.y)};
        block->high = (Point){fmax(block->high.x, high.x), fmax(block->high.y, high.y)};
    }
}

/* Is the slot as high as the block (in a row; in a stack as wide), but for what lies outside the core? */
static bool fills(const Finder *f, Box slot, Box all, bool row) {
    Box before =
        row ? (Box){slot.x, all.y, slot.w, slot.y - all.y} : (Box){all.x, slot.y, slot.x - all.x, slot.h};
    int end = row ? slot.y + slot.h : slot.x + slot.w;
    Box behind = row ? (Box){slot.x, end, slot.w, all.y + all.h - end}
                     : (Box){end, slot.y, all.x + all.w - end, slot.h};
    bool first = before.w <= 0 || before.h <= 0 || box_outside_disc(before, f->grid->core);
    return first && (behind.w <= 0 || behind.h <= 0 || box_outside_disc(behind, f->grid->core));
}

/* Is every join one of two flat faces of equal length? Items of a row are as high as it, those of a stack as
 * wide, but for what lies outside the core, and follow one another; two wedges share a box. */
static bool joins_are_flat(const Finder *f, const Instance *of, const Item *item) {
    for (int i = 0; i < of->items; i++) {
        Box slot = item[i].slot, before = item[i > 0 ? i - 1 : 0].slot;
        bool row = of->kind == BLOCK_ROW;
        if (of->kind == BLOCK_PAIR && memcmp(&slot, &of->box, sizeof slot) != 0) return false;
        if (of->kind == BLOCK_PAIR) continue;
        if (!fills(f, slot, of->box, row)) return false;
        if (i > 0 && (row ? slot.x < before.x + before.w : slot.y < before.y + before.h)) return false;
    }
    return true;
}

static Item build(Finder *f, int index) { /* NOLINT(misc-no-recursion) */
    const Instance *of = &f->instance[index];
    for (int b = 0; b < f->out.blocks; b++)
        for (int way = 0; way < PLACEMENTS; way++)
            if (equal_when(f, &f->instance[f->built[b]], of, placement(way)))
                return (Item){true, b, of->box, placement(way)};
    Item item[STEPS_MAX];
    build_items(f, of, item);
    bool flat = joins_are_flat(f, of, item);
    assert(flat), (void)flat;
    Block *block = &f->out.block[f->out.blocks];
    *block = (Block){
        .kind = of->kind, .fine = of->fine, .box = of->box, .first_item = f->out.items, .items = of->items};
    inner_box(f, of, block);
    memcpy(f->out.item + f->out.items, item, (size_t)of->items * sizeof *item);
    f->out.items += of->items;
    f->built[f->out.blocks] = index;
    return (Item){true, f->out.blocks++, of->box, {0}};
}

/* --- 4. every use --- */

static void follow(Finder *f, BlockUse use) { /* NOLINT(misc-no-recursion) */
    Block *block = &f->out.block[use.block];
    block->made++;
    f->out.use[f->out.uses++] = use;
    for (int i = block->first_item; i < block->first_item + block->items; i++) {
        Item item = f->out.item[i];
        if (!item.is_block) continue;
        Box box = box_placed(item.slot, block->box, use.way);
        box.x += use.box.x - block->box.x;
        box.y += use.box.y - block->box.y;
        follow(f, (BlockUse){item.index, box, placement_after(item.way, use.way)});
    }
}

static int compare_boxes(Box a, Box b) {
    if (a.y != b.y) return a.y < b.y ? -1 : 1;
    if (a.x != b.x) return a.x < b.x ? -1 : 1;
    if (a.h != b.h) return a.h < b.h ? -1 : 1;
    return a.w < b.w ? -1 : a.w > b.w;
}

/* By block; the one as it was built first. */
static int compare_uses(const void *p, const void *q) {
    const BlockUse *a = p, *b = q;
    if (a->block != b->block) return a->block < b->block ? -1 : 1;
    int turn_a = a->way.mirrored * 4 + a->way.turn, turn_b = b->way.mirrored * 4 + b->way.turn;
    return turn_a != turn_b ? turn_a - turn_b : compare_boxes(a->box, b->box);
}

static bool find(Finder *f, Err *err) {
    size_t nodes = (size_t)f->layup->nodes, ropes = (size_t)f->layup->ropes;
    if (!(f->instance = mem_alloc(nodes, sizeof *f->instance, err)) ||
        !(f->item = mem_alloc(nodes + ropes, sizeof *f->item, err)) ||
        !(f->built = mem_alloc(nodes, sizeof *f->built, err)) ||
        !(f->out.block = mem_alloc(nodes, sizeof *f->out.block, err)) ||
        !(f->out.item = mem_alloc(nodes + ropes, sizeof *f->out.item, err)) ||
        !(f->out.use = mem_alloc(nodes, sizeof *f->out.use, err)) ||
        !(f->out.copied = mem_alloc(ropes, sizeof *f->out.copied, err)))
        return false;
    Item root = flatten(f, f->layup->nodes - 1);
    if (!root.is_block) return true;
    if (!print_all(f, err)) return false;
    memset(f->out.copied, true, ropes);
    (void)build(f, root.index);
    follow(f, (BlockUse){f->out.blocks - 1, f->instance[root.index].box, {0}});
    qsort(f->out.use, (size_t)f->out.uses, sizeof *f->out.use, compare_uses);
    return find_wrong_ways(f->grid, f->layup, &f->out, err);
}

bool find_blocks(const Grid *grid, const LayUp *layup, Blocks *out, Err *err) {
    Finder f = {.grid = grid, .layup = layup};
    bool done = find(&f, err);
    free(f.instance);
    free(f.item);
    free(f.print);
    free(f.scratch);
    free(f.built);
    if (done)
        *out = f.out;
    else
        blocks_free(&f.out);
    return done;
}
