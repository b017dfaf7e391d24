/* Blocks of a lay-up that are there more than once. SPDX-License-Identifier: MIT
 *
 * 1. The ropes below a node stand side by side in the lay-up's list, since it was read from the top down.
 * 2. Two nodes are equal if the ropes of one, laid one of the eight ways, are those of the other.
 * The start has neither sheets nor round ropes (a node that is one is never equal to another): of those that
 * the search lays find_blocks finds the equal ones.
 * 3. Larger blocks first; what lies inside a block that has copies, or is one, is left alone. Cost:
 * O(nodes^2) pairs, most of them told apart by the number of ropes or the box. */
#include "plan/slant.h"

#include <math.h>

enum { EQUAL_LEAST = 3 /* ropes; a copy of fewer saves next to nothing */ };

static const double alike = 1e-6; /* steps */

/* Of a node: its ropes, and its box. */
typedef struct NodeRopes {
    int from, to;
    Point low, high;
} NodeRopes;

static NodeRopes ropes_of(const LayUp *l, int index) { /* NOLINT(misc-no-recursion) */
    const Node *n = &l->node[index];
    NodeRopes r = {l->ropes, 0, n->outline.corner[0], n->outline.corner[0]};
    for (int i = 1; i < n->outline.corners; i++) {
        Point p = n->outline.corner[i];
        r.low = (Point){fmin(r.low.x, p.x), fmin(r.low.y, p.y)};
        r.high = (Point){fmax(r.high.x, p.x), fmax(r.high.y, p.y)};
    }
    if (n->kind == NODE_ROPE) {
        r.from = n->first;
        r.to = n->first + 1;
    }
    for (int side = 0; side < 2 && n->kind == NODE_CUT; side++) {
        NodeRopes below = ropes_of(l, side == 0 ? n->first : n->second);
        if (below.from >= below.to) continue;
        if (below.from < r.from) r.from = below.from;
        if (below.to > r.to) r.to = below.to;
    }
    return r;
}

static bool holds_rope(const LayUp *l, NodeRopes in, const Rope *rope, Motion motion) {
    Outline moved = outline_moved(&rope->outline, motion);
    for (int i = in.from; i < in.to; i++)
        if (l->rope[i].candy == rope->candy && outline_same(&l->rope[i].outline, &moved, alike)) return true;
    return false;
}

/* 2. */
static bool find_motion(const LayUp *l, NodeRopes a, NodeRopes b, Motion *out) {
    for (int i = 0; i < PLACEMENTS; i++) {
        Motion m = motion_in_place(placement(i), a.low, a.high);
        double w = a.high.x - a.low.x, h = a.high.y - a.low.y;
        if (m.way.turn % 2 == 1) {
            double swap = w;
            w = h;
            h = swap;
        }
        if (fabs(w - (b.high.x - b.low.x)) > alike || fabs(h - (b.high.y - b.low.y)) > alike) continue;
        m.shift = (Point){m.shift.x + b.low.x - a.low.x, m.shift.y + b.low.y - a.low.y};
        int same = 0;
        while (a.from + same < a.to && holds_rope(l, b, &l->rope[a.from + same], m)) same++;
        *out = m;
        if (a.from + same == a.to) return true;
    }
    return false;
}

/* A block of some ropes, inside the core and beside the axis. */
static bool can_be_copied(const Tree *t, const LayUp *l, int index, NodeRopes r) {
    if (l->node[index].kind != NODE_CUT || r.to - r.from < EQUAL_LEAST) return false;
    if (t->axis != AXIS_NONE && (t->axis == AXIS_UPRIGHT ? r.high.x : r.high.y) >= t->half) return false;
    for (int i = r.from; i < r.to; i++)
        if (l->rope[i].rim || l->rope[i].trim) return false;
    return true;
}

/* Marks the node and all below it as spoken for. */
static void settle_below(const LayUp *l, int index, NodeCopy *copy) { /* NOLINT(misc-no-recursion) */
    copy[index].of = index + l->nodes;
    if (l->node[index].kind != NODE_CUT) return;
    settle_below(l, l->node[index].first, copy);
    settle_below(l, l->node[index].second, copy);
}

static void find_copies_of(const Tree *t, const LayUp *l, int first, NodeRopes ropes, NodeCopy *copy) {
    bool any = false;
    for (int i = 0; i < first; i++) {
        if (copy[i].of >= 0 || l->node[i].fine != l->node[first].fine) continue;
        NodeRopes other = ropes_of(l, i);
        Motion motion;
        if (other.to - other.from != ropes.to - ropes.from || !can_be_copied(t, l, i, other)) continue;
        if (other.from < ropes.to && ropes.from < other.to) continue; /* one inside the other */
        if (!find_motion(l, ropes, other, &motion)) continue;
        settle_below(l, i, copy);
        copy[i] = (NodeCopy){first, motion};
        any = true;
    }
    if (!any) return;
    settle_below(l, first, copy);
    copy[first].of = first;
}

/* 3. A node comes before the one that holds it. */
void find_copies(const Tree *t, const LayUp *l, NodeCopy *copy) {
    for (int i = 0; i < l->nodes; i++) copy[i].of = -1;
    for (int i = l->nodes - 1; i >= 0; i--) {
        if (copy[i].of >= 0) continue;
        NodeRopes ropes = ropes_of(l, i);
        if (can_be_copied(t, l, i, ropes)) find_copies_of(t, l, i, ropes, copy);
    }
    for (int i = 0; i < l->nodes; i++)
        if (copy[i].of >= l->nodes) copy[i].of = -1;
}
