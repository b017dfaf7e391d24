/* The slicing tree as chains of items. SPDX-License-Identifier: MIT
 *
 * Input: the slicing tree. Output: instances of blocks, each a chain of ropes and other instances.
 * 1. A stretch of a chain is a node of the tree, and the cuts of the chain that bound it: one before it, one
 * behind it, or none at the chain's end. Its own cut joins the chain if it keeps clear of both and parts them
 * from each other: then it runs from one side of the chain to the other. Else the stretch is one item.
 * 2. The part that the cut before bounds comes first; where nothing bounds the stretch, either may: the chain
 * is turned round at the end.
 * 3. Each cut is taken in the sense in which the item before it lies on its right hand, as seen: down where
 * the order is from the left, to the left where it is from the top. The sum of the cuts tells which it is, so
 * a long join counts for more than a short one.
 * Invariant: joins_are_flat. Cost: O(nodes). */
#include "plan/instances.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct Flattener {
    const LayUp *layup;
    Instances out;
    Item *pending; /* [nodes + ropes] items of the chains that are being gathered, the innermost last; owned
                    */
    int pendings;
} Flattener;

static const Item nothing = {.index = -1};

/* Twice the area of the triangle a, b, p: over 0 if p lies to the right of the way from a to b, as seen. */
static double cross(Point a, Point b, Point p) {
    return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

static double dot(Point a, Point b, Point p) {
    return (b.x - a.x) * (p.x - a.x) + (b.y - a.y) * (p.y - a.y);
}

static Point along(Point a, Point b, double part) {
    return (Point){a.x + part * (b.x - a.x), a.y + part * (b.y - a.y)};
}

static double distance_to(Point p, Point a, Point b) {
    double length2 = dot(a, b, b);
    Point foot = along(a, b, length2 > 0 ? within(dot(a, b, p) / length2, 0, 1) : 0);
    return sqrt((p.x - foot.x) * (p.x - foot.x) + (p.y - foot.y) * (p.y - foot.y));
}

/* --- 1., 2. the chain --- */

static bool keeps_clear(const Point cut[2], const Point bound[2]) {
    return distance_to(cut[0], bound[0], bound[1]) > touching &&
           distance_to(cut[1], bound[0], bound[1]) > touching;
}

/* Of a cut that keeps clear of the bound. */
static bool bound_on_right(const Point cut[2], const Point bound[2]) {
    return cross(cut[0], cut[1], along(bound[0], bound[1], 0.5)) > 0;
}

/* `before` and `behind`: the two ends of a cut, or NULL. */
static bool cut_joins(const Point cut[2], const Point *before, const Point *behind) {
    if ((before && !keeps_clear(cut, before)) || (behind && !keeps_clear(cut, behind))) return false;
    return !before || !behind || bound_on_right(cut, before) != bound_on_right(cut, behind);
}

static Item flatten(Flattener *f, int node);

static void gather(Flattener *f, int node, const Node *whole, /* NOLINT(misc-no-recursion) */
                   const Point *before, const Point *behind) {
    const Node *n = &f->layup->node[node];
    if (n->kind != NODE_CUT || n->fine != whole->fine || !cut_joins(n->cut, before, behind)) {
        Item item = flatten(f, node);
        if (item.index >= 0) f->pending[f->pendings++] = item;
        return;
    }
    Point middle = outline_middle(&f->layup->node[n->first].outline);
    bool on_right = cross(n->cut[0], n->cut[1], middle) > 0, leads = true; /* the node's first part */
    if (before)
        leads = bound_on_right(n->cut, before) == on_right;
    else if (behind)
        leads = bound_on_right(n->cut, behind) != on_right;
    gather(f, leads ? n->first : n->second, whole, before, n->cut);
    int at = f->pendings;
    gather(f, leads ? n->second : n->first, whole, n->cut, behind);
    if (f->pendings > at) memcpy(f->pending[at].cut, n->cut, sizeof n->cut);
}

/* --- 3. its order --- */

static Point sum_of_cuts(const Item *item, int items) {
    Point sum = {0, 0};
    for (int i = 1; i < items; i++) {
        Point a = item[i].cut[0], b = item[i].cut[1];
        double sense = cross(a, b, outline_middle(&item[i - 1].outline)) > 0 ? 1 : -1;
        sum = (Point){sum.x + sense * (b.x - a.x), sum.y + sense * (b.y - a.y)};
    }
    return sum;
}

/* The cut that joined an item to the one before now joins it to the one behind, which keeps it. */
static void turn_round(Item *item, int items) {
    for (int i = 0, j = items - 1; i < j; i++, j--) {
        Item keep = item[i];
        item[i] = item[j];
        item[j] = keep;
    }
    for (int i = items - 1; i > 0; i--) memcpy(item[i].cut, item[i - 1].cut, sizeof item[i].cut);
    memset(item[0].cut, 0, sizeof item[0].cut);
}

static BlockKind put_in_order(Item *item, int items) {
    Point sum = sum_of_cuts(item, items);
    bool row = fabs(sum.y) >= fabs(sum.x) - touching;
    if (row ? sum.y < 0 : sum.x > 0) turn_round(item, items);
    return row ? BLOCK_ROW : BLOCK_STACK;
}

/* The chain of the pending items from `base` on. */
static Item new_instance(Flattener *f, const Node *node, int base) {
    Item *item = f->pending + base;
    int items = f->pendings - base;
    f->pendings = base;
    if (items == 0) return nothing;
    memset(item->cut, 0, sizeof item->cut);
    if (items == 1) return *item;
    Instance of = {.kind = put_in_order(item, items),
                   .fine = node->fine,
                   .outline = node->outline,
                   .first = f->out.items,
                   .items = items};
    memcpy(f->out.item + f->out.items, item, (size_t)items * sizeof *item);
    f->out.items += items;
    f->out.instance[f->out.count] = of;
    return (Item){.is_block = true, .index = f->out.count++, .outline = of.outline};
}

/* An instance of one item. */
static Item new_single(Flattener *f, Instance of, Item inside) {
    memset(inside.cut, 0, sizeof inside.cut);
    of.first = f->out.items;
    of.items = 1;
    f->out.item[f->out.items++] = inside;
    f->out.instance[f->out.count] = of;
    return (Item){.is_block = true, .index = f->out.count++, .outline = of.outline};
}

static Item flatten_wrapped(Flattener *f, const Node *n) { /* NOLINT(misc-no-recursion) */
    const Node *inside = &f->layup->node[n->first];
    Instance of = {.kind = BLOCK_WRAPPED, .fine = n->fine, .outline = n->outline};
    int within = n->first;
    if (inside->kind == NODE_WRAP) {
        of.wrap[of.wraps++] = inside->second;
        within = inside->first;
    }
    of.wrap[of.wraps++] = n->second;
    return new_single(f, of, flatten(f, within));
}

static Item flatten_round(Flattener *f, const Node *n) { /* NOLINT(misc-no-recursion) */
    Instance of = {.kind = BLOCK_ROUND, .fine = n->fine, .outline = n->outline, .rest = n->second};
    return new_single(f, of, flatten(f, n->first));
}

static Item flatten(Flattener *f, int node) { /* NOLINT(misc-no-recursion) */
    const Node *n = &f->layup->node[node];
    if (n->kind == NODE_EMPTY) return nothing;
    if (n->kind == NODE_ROPE) return (Item){.index = n->first, .outline = n->outline};
    if (n->kind == NODE_WRAP) return flatten_wrapped(f, n);
    if (n->kind == NODE_ROUND) return flatten_round(f, n);
    int base = f->pendings;
    gather(f, node, n, NULL, NULL);
    return new_instance(f, n, base);
}

bool instances_of(const LayUp *layup, Instances *out, Err *err) {
    Flattener f = {.layup = layup};
    size_t nodes = (size_t)layup->nodes, items = nodes + (size_t)layup->ropes;
    f.pending = mem_alloc(items, sizeof *f.pending, err);
    f.out.item = mem_alloc(items, sizeof *f.out.item, err);
    f.out.instance = mem_alloc(nodes, sizeof *f.out.instance, err);
    bool done = f.pending && f.out.item && f.out.instance;
    if (done) {
        f.out.root = flatten(&f, layup->nodes - 1);
        *out = f.out;
    } else {
        instances_free(&f.out);
    }
    free(f.pending);
    return done;
}

void instances_free(Instances *instances) {
    free(instances->instance);
    free(instances->item);
    *instances = (Instances){0};
}

/* --- what must hold --- */

/* Does nothing of the line from a to b lie inside the core? */
static bool outside(Point a, Point b, Circle core) {
    double length = sqrt(dot(a, b, b));
    return length <= touching || distance_to((Point){core.x, core.y}, a, b) >= core.r - touching;
}

/* Does the outline lie on one side of the cut, with a side that runs along all of it? */
static bool lies_along(const Outline *o, const Point cut[2], bool on_right, Circle core) {
    double length = sqrt(dot(cut[0], cut[1], cut[1])), low = length, high = 0;
    for (int i = 0; i < o->corners; i++) {
        double off = cross(cut[0], cut[1], o->corner[i]) / length;
        double at = dot(cut[0], cut[1], o->corner[i]) / length;
        if ((on_right ? off : -off) < -touching) return false;
        if (fabs(off) > touching) continue;
        low = fmin(low, at);
        high = fmax(high, at);
    }
    return low >= -touching && high <= length + touching &&
           outside(cut[0], along(cut[0], cut[1], low / length), core) &&
           outside(along(cut[0], cut[1], high / length), cut[1], core);
}

static bool on_edge(const Outline *o, Point p) {
    for (int i = 0; i < o->corners; i++)
        if (distance_to(p, o->corner[i], o->corner[(i + 1) % o->corners]) <= touching) return true;
    return false;
}

bool joins_are_flat(const Outline *block, const Item *item, int items, Circle core) {
    for (int i = 1; i < items; i++) {
        const Point *cut = item[i].cut;
        bool on_right = cross(cut[0], cut[1], outline_middle(&item[i - 1].outline)) > 0;
        if (!on_edge(block, cut[0]) || !on_edge(block, cut[1])) return false;
        if (!lies_along(&item[i - 1].outline, cut, on_right, core) ||
            !lies_along(&item[i].outline, cut, !on_right, core))
            return false;
    }
    return true;
}
