/* The tree becomes blocks to build. SPDX-License-Identifier: MIT
 *
 * Input: the slicing tree with its ropes. Output: unique blocks in build order, and every use of each.
 * 1. The tree is flattened into instances, one for each block as it lies in the log: instances.c.
 * 2. Two instances are equal if their ropes and sheets, laid one of the eight ways, are the same: candy,
 * outline, place, and what the core's rim leaves of them. Counts, outlines and areas are compared first: they
 * part nearly all.
 * 3. From the log down, each instance that equals a block already built is one more use of it; else its own
 * blocks are built first, the picture before the field (common practice), then it is a block of its own.
 * 4. All uses are read off by following the blocks from the log down.
 * Invariants: every rope that is not `copied` is an item of one block; a block comes before the one that
 * holds it; joins_are_flat. Cost: O(instances^2 * ropes), some 60 and 150, of which nearly all is saved by
 * 2. */
#include "plan/plan_parts.h"

#include "base/mem.h"
#include "plan/instances.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Steps^2. Areas of ropes whose corners lie `touching` from each other differ by less: no rope's outline is
 * longer than 1000 steps. */
static const double same_area = 1e-3;

/* A rope of an instance, or a sheet. */
typedef struct Held {
    int candy;   /* palette index */
    double area; /* steps^2, of its outline, whole even where the core's edge cuts it */
    int rope;    /* index in LayUp.rope; of a sheet in LayUp.wrap, behind all ropes */
} Held;

/* What an instance holds, however deep. */
typedef struct Content {
    int first, parts;   /* in Finder.part */
    double field_share; /* of its area inside the core, 0..1 */
    double area;        /* steps^2, of its outline */
    bool rim;           /* the core's edge cuts some of it */
} Content;

typedef struct Finder {
    const Grid *grid;
    const LayUp *layup;
    Instances all;    /* owned */
    Content *content; /* [instances] owned */
    Held *part;       /* of each instance, by candy and area; owned */
    int parts;
    Item *pending; /* [items] items of blocks that are being built, the innermost last; owned */
    int pendings;
    int *built; /* [blocks] the instance that each block was built from; owned */
    Blocks out; /* owned until it is handed over */
} Finder;

/* --- 2. equal or not --- */

static int compare_parts(const void *p, const void *q) {
    const Held *a = p, *b = q;
    if (a->candy != b->candy) return a->candy < b->candy ? -1 : 1;
    if (a->area != b->area) return a->area < b->area ? -1 : 1;
    return a->rope < b->rope ? -1 : a->rope > b->rope;
}

static int count_parts(const Instances *all, const Instance *of) { /* NOLINT(misc-no-recursion) */
    int count = of->wraps + (of->kind == BLOCK_ROUND);
    for (int i = of->first; i < of->first + of->items; i++)
        count += all->item[i].is_block ? count_parts(all, &all->instance[all->item[i].index]) : 1;
    return count;
}

/* Areas inside the core: of the background's candy, and of all. */
typedef struct Areas {
    double field, inside;
} Areas;

static void add_part(Finder *f, Held part, double area, Areas *areas) {
    f->part[f->parts++] = part;
    areas->inside += area;
    if (part.candy == f->grid->field) areas->field += area;
}

static void add_rope(Finder *f, int index, Content *content, Areas *areas) {
    const Rope *rope = &f->layup->rope[index];
    content->rim |= rope->rim;
    add_part(f, (Held){rope->candy, outline_area(&rope->outline), index}, rope->area, areas);
}

static void add_parts(Finder *f, const Instance *of, Content *content, /* NOLINT(misc-no-recursion) */
                      Areas *areas) {
    for (int i = of->first; i < of->first + of->items; i++) {
        Item item = f->all.item[i];
        if (item.is_block)
            add_parts(f, &f->all.instance[item.index], content, areas);
        else
            add_rope(f, item.index, content, areas);
    }
    if (of->kind == BLOCK_ROUND) add_rope(f, of->rest, content, areas);
    for (int i = 0; i < of->wraps; i++) {
        const Wrap *wrap = &f->layup->wrap[of->wrap[i]];
        double whole = outline_area(&wrap->outline), share = wrap->round ? PI / 4 : 1;
        Held part = {wrap->candy, whole, f->layup->ropes + of->wrap[i]};
        add_part(f, part, share * (whole - outline_area(&wrap->inner)), areas);
    }
}

static bool list_contents(Finder *f, Err *err) {
    size_t total = 0;
    for (int i = 0; i < f->all.count; i++) total += (size_t)count_parts(&f->all, &f->all.instance[i]);
    f->part = mem_alloc(total, sizeof *f->part, err);
    if (!f->part) return false;
    for (int i = 0; i < f->all.count; i++) {
        const Instance *of = &f->all.instance[i];
        Content *content = &f->content[i];
        Areas areas = {0, 0};
        content->first = f->parts;
        content->area = outline_area(&of->outline);
        add_parts(f, of, content, &areas);
        content->parts = f->parts - content->first;
        content->field_share = areas.inside > 0 ? areas.field / areas.inside : 0;
        qsort(f->part + content->first, (size_t)content->parts, sizeof *f->part, compare_parts);
    }
    return true;
}

/* What no motion changes. */
static bool may_be_equal(const Finder *f, int a, int b) {
    const Content *one = &f->content[a], *other = &f->content[b];
    const Instance *of = f->all.instance;
    if (one->parts != other->parts || one->rim != other->rim || of[a].fine != of[b].fine ||
        of[a].outline.corners != of[b].outline.corners || fabs(one->area - other->area) > same_area)
        return false;
    for (int i = 0; i < one->parts; i++) {
        Held p = f->part[one->first + i], q = f->part[other->first + i];
        if (p.candy != q.candy || fabs(p.area - q.area) > same_area) return false;
    }
    return true;
}

static Point top_left(const Outline *o) {
    Point low = o->corner[0];
    for (int i = 1; i < o->corners; i++)
        low = (Point){fmin(low.x, o->corner[i].x), fmin(low.y, o->corner[i].y)};
    return low;
}

/* Lays `from` that way, its box's top left corner on that of the box of `to`. */
static Motion motion_between(const Outline *from, const Outline *to, Placement way) {
    const Motion turn = {way, {0, 0}};
    Outline turned = outline_moved(from, turn);
    Point a = top_left(&turned), b = top_left(to);
    return (Motion){way, {b.x - a.x, b.y - a.y}};
}

static bool same_rope(const Rope *a, const Rope *b, Motion motion) {
    Outline moved = outline_moved(&a->outline, motion);
    return a->fine == b->fine && a->rim == b->rim && a->round == b->round && a->rest == b->rest &&
           outline_same(&moved, &b->outline, touching);
}

static bool same_wrap(const Wrap *a, const Wrap *b, Motion motion) {
    Outline outer = outline_moved(&a->outline, motion), inner = outline_moved(&a->inner, motion);
    return a->fine == b->fine && a->round == b->round && outline_same(&outer, &b->outline, touching) &&
           outline_same(&inner, &b->inner, touching);
}

/* Of two parts of one instance none are found equal to the same part of another: ropes do not overlap, but
 * for what is round and what is pressed in about it. */
static bool find_part(const Finder *f, Held part, const Content *among, Motion motion) {
    const LayUp *l = f->layup;
    for (int i = 0; i < among->parts; i++) {
        Held other = f->part[among->first + i];
        bool sheet = part.rope >= l->ropes;
        if (other.candy != part.candy || fabs(other.area - part.area) > same_area ||
            (other.rope >= l->ropes) != sheet)
            continue;
        if (sheet ? same_wrap(&l->wrap[part.rope - l->ropes], &l->wrap[other.rope - l->ropes], motion)
                  : same_rope(&l->rope[part.rope], &l->rope[other.rope], motion))
            return true;
    }
    return false;
}

/* Is instance `b` what `a` shows after that motion? If the core's edge cuts it, then it must cut both alike:
 * the core must come to lie on itself. */
static bool equal_after(const Finder *f, int a, int b, Motion motion) {
    const Content *one = &f->content[a], *other = &f->content[b];
    Outline moved = outline_moved(&f->all.instance[a].outline, motion);
    Point centre = {f->grid->core.x, f->grid->core.y}, at = point_moved(centre, motion);
    if (!outline_same(&moved, &f->all.instance[b].outline, touching)) return false;
    if (one->rim && (fabs(at.x - centre.x) > touching || fabs(at.y - centre.y) > touching)) return false;
    for (int i = 0; i < one->parts; i++)
        if (!find_part(f, f->part[one->first + i], other, motion)) return false;
    return true;
}

/* The first block that the instance equals, and where that goes; index -1 if there is none. */
static Item find_equal(const Finder *f, int index) {
    for (int b = 0; b < f->out.blocks; b++) {
        if (!may_be_equal(f, f->built[b], index)) continue;
        for (int way = 0; way < PLACEMENTS; way++) {
            const Outline *from = &f->all.instance[f->built[b]].outline;
            Motion motion = motion_between(from, &f->all.instance[index].outline, placement(way));
            if (equal_after(f, f->built[b], index, motion))
                return (Item){.is_block = true, .index = b, .motion = motion};
        }
    }
    return (Item){.index = -1};
}

/* --- 3. blocks and their uses --- */

static Item build(Finder *f, int index);

/* Builds the blocks among the items, those with most of the picture in them first. */
static void build_items(Finder *f, const Instance *of, Item *item) { /* NOLINT(misc-no-recursion) */
    for (int i = 0; i < of->items; i++) item[i].index = -1;          /* to be done */
    for (int round = 0; round < of->items; round++) {
        int next = -1;
        double least = 2;
        for (int i = 0; i < of->items; i++) {
            Item from = f->all.item[of->first + i];
            double share = from.is_block ? f->content[from.index].field_share : 1.5;
            if (item[i].index >= 0 || share >= least) continue;
            next = i;
            least = share;
        }
        item[next] = f->all.item[of->first + next];
        if (item[next].is_block) {
            Item built = build(f, item[next].index);
            item[next].index = built.index;
            item[next].motion = built.motion;
        } else {
            f->out.copied[item[next].index] = false;
        }
    }
}

/* What the core's edge leaves of the block's items; an item that lies outside adds nothing. Of what is
 * wrapped, or has something round in it, its own. */
static void inner_box(const Finder *f, const Instance *of, Block *block) {
    block->low = (Point){HUGE_VAL, HUGE_VAL};
    block->high = (Point){-HUGE_VAL, -HUGE_VAL};
    bool whole = of->wraps > 0 || of->kind == BLOCK_ROUND;
    for (int i = of->first; i < of->first + of->items; i++) {
        Point low, high;
        if (!outline_disc_box(whole ? &of->outline : &f->all.item[i].outline, f->grid->core, &low, &high))
            continue;
        block->low = (Point){fmin(block->low.x, low.x), fmin(block->low.y, low.y)};
        block->high = (Point){fmax(block->high.x, high.x), fmax(block->high.y, high.y)};
    }
}

static Item build(Finder *f, int index) { /* NOLINT(misc-no-recursion) */
    const Instance *of = &f->all.instance[index];
    Item equal = find_equal(f, index), *item = f->pending + f->pendings;
    if (equal.index >= 0) return equal;
    f->pendings += of->items;
    build_items(f, of, item);
    f->pendings -= of->items;
    assert(joins_are_flat(&of->outline, item, of->items, f->grid->core));
    Block *block = &f->out.block[f->out.blocks];
    *block = (Block){.kind = of->kind,
                     .fine = of->fine,
                     .outline = of->outline,
                     .first_item = f->out.items,
                     .items = of->items,
                     .wraps = of->wraps,
                     .rest = of->rest};
    memcpy(block->wrap, of->wrap, sizeof block->wrap);
    if (of->kind == BLOCK_ROUND) f->out.copied[of->rest] = false;
    inner_box(f, of, block);
    memcpy(f->out.item + f->out.items, item, (size_t)of->items * sizeof *item);
    f->out.items += of->items;
    f->built[f->out.blocks] = index;
    return (Item){.is_block = true, .index = f->out.blocks++};
}

/* --- 4. every use --- */

static void follow(Finder *f, BlockUse use) { /* NOLINT(misc-no-recursion) */
    Block *block = &f->out.block[use.block];
    block->made++;
    f->out.use[f->out.uses++] = use;
    for (int i = block->first_item; i < block->first_item + block->items; i++) {
        Item item = f->out.item[i];
        if (item.is_block)
            follow(f, (BlockUse){.block = item.index, .motion = motion_after(item.motion, use.motion)});
    }
}

/* By block; the one as it was built first, then by placement, from the top, from the left. */
static int compare_uses(const void *p, const void *q) {
    const BlockUse *a = p, *b = q;
    Point at = a->motion.shift, to = b->motion.shift;
    int turn_a = a->motion.way.mirrored * 4 + a->motion.way.turn;
    int turn_b = b->motion.way.mirrored * 4 + b->motion.way.turn;
    bool built_a = turn_a == 0 && at.x == 0 && at.y == 0, built_b = turn_b == 0 && to.x == 0 && to.y == 0;
    if (a->block != b->block) return a->block < b->block ? -1 : 1;
    if (turn_a != turn_b) return turn_a - turn_b;
    if (built_a != built_b) return built_a ? -1 : 1;
    if (at.y != to.y) return at.y < to.y ? -1 : 1;
    return at.x < to.x ? -1 : at.x > to.x;
}

static bool find(Finder *f, Err *err) {
    size_t nodes = (size_t)f->layup->nodes, ropes = (size_t)f->layup->ropes;
    if (!instances_of(f->layup, &f->all, err)) return false;
    size_t instances = (size_t)f->all.count, items = (size_t)f->all.items;
    if (!(f->content = mem_alloc(instances, sizeof *f->content, err)) ||
        !(f->pending = mem_alloc(items, sizeof *f->pending, err)) ||
        !(f->built = mem_alloc(instances, sizeof *f->built, err)) ||
        !(f->out.block = mem_alloc(instances, sizeof *f->out.block, err)) ||
        !(f->out.item = mem_alloc(items, sizeof *f->out.item, err)) ||
        !(f->out.use = mem_alloc(nodes, sizeof *f->out.use, err)) ||
        !(f->out.copied = mem_alloc(ropes, sizeof *f->out.copied, err)))
        return false;
    if (!f->all.root.is_block) return true;
    if (!list_contents(f, err)) return false;
    memset(f->out.copied, true, ropes);
    (void)build(f, f->all.root.index);
    follow(f, (BlockUse){.block = f->out.blocks - 1});
    qsort(f->out.use, (size_t)f->out.uses, sizeof *f->out.use, compare_uses);
    return true;
}

bool find_blocks(const Grid *grid, const LayUp *layup, Blocks *out, Err *err) {
    Finder f = {.grid = grid, .layup = layup};
    bool done = find(&f, err);
    instances_free(&f.all);
    free(f.content);
    free(f.part);
    free(f.pending);
    free(f.built);
    if (done)
        *out = f.out;
    else
        blocks_free(&f.out);
    return done;
}
