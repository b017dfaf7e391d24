/* The best lay-up of upright, level and corner-to-corner cuts. SPDX-License-Identifier: MIT
 *
 * Input: what each candy costs in each cell, and what a rope must be worth. Output: the slicing tree of least
 * cost + lambda * ropes, and its ropes. A slicing tree can always be built by hand: every join is of two flat
 * faces.
 * 1. The tables of all optima (slicing.h).
 * 2. The tree is read out from the whole square down. Which candidate gave an optimum is found again, not
 *    stored: nothing, strip, wedge pair, upright cut from the left, level cut from the top, fine block; ties
 *    go to the earlier.
 * 3. Each leaf becomes its ropes, with their exact areas inside the core.
 * 4. Of a picture that is its own mirror image about an axis: a block beside the axis, which is there twice,
 *    and what lies across it, wherever 2 cost(block) + lambda ropes(block) + cost + lambda ropes of the rest
 *    is least. The rest is the optimum, not yet its own mirror image.
 * Invariants: the leaves cover the square once and only once; every side is at least the least side; the cost
 * read out is the optimum of the table. */
#include "plan/plan_parts.h"

#include "base/mem.h"
#include "plan/slicing.h"

#include <assert.h>
#include <math.h>

typedef struct Reader {
    const Grid *grid;
    const Slicing *slicing;
    bool fine; /* reading the inside of a fine block */
    LayUp out; /* what is read so far; owned until it is handed over */
} Reader;

static const SlicingTable *table_of(const Reader *r) {
    return r->fine ? &r->slicing->fine : &r->slicing->coarse;
}

/* With room for any tree: no side of a leaf is under half a least side, a leaf holds two ropes at most, and
 * there are fewer cuts than ropes. */
static bool reader_new(const Grid *grid, const Slicing *slicing, Reader *out, Err *err) {
    Reader r = {.grid = grid, .slicing = slicing};
    size_t half = ((size_t)slicing->coarse.least + 1) / 2, steps = (size_t)grid->steps;
    size_t leaves = steps * steps / (half * half);
    r.out.lambda = (double)slicing->lambda / COST_ONE;
    r.out.node = mem_alloc(4 * leaves, sizeof *r.out.node, err);
    r.out.rope = r.out.node ? mem_alloc(2 * leaves, sizeof *r.out.rope, err) : NULL;
    if (!r.out.rope) {
        layup_free(&r.out);
        return false;
    }
    *out = r;
    return true;
}

/* Returns the node's index. */
static int add_node(Reader *r, Node node) {
    node.fine = r->fine;
    r->out.node[r->out.nodes] = node;
    return r->out.nodes++;
}

/* 3. Returns the rope's index, -1 if nothing of it lies inside the core. */
static int add_rope(Reader *r, Rope rope) {
    double whole = outline_area(&rope.outline), least = table_of(r)->least;
    rope.fine = r->fine;
    rope.area = outline_disc_area(&rope.outline, r->grid->core);
    if (rope.area <= 1e-12 * whole) return -1;
    rope.rim = rope.area < whole * (1 - 1e-9);
    rope.trim = is_trim(rope.area, least, rope.rim);
    if (!rope.trim) r->out.laid++;
    r->out.rope[r->out.ropes] = rope;
    return r->out.ropes++;
}

static Outline whole_box(Box b) {
    return outline_of_box(b.x, b.y, b.w, b.h);
}

/* A leaf becomes a rope, or nothing where nothing of it lies inside the core. */
static int read_rope(Reader *r, Rope rope) {
    int index = add_rope(r, rope);
    NodeKind kind = index < 0 ? NODE_EMPTY : NODE_ROPE;
    return add_node(r, (Node){.kind = kind, .outline = rope.outline, .first = index, .second = -1});
}

static int read_strip(Reader *r, Box box, int candy) {
    return read_rope(r, (Rope){.outline = whole_box(box), .candy = candy});
}

/* Joins two nodes along the cut from a to b. */
static int read_cut(Reader *r, Outline outline, Point a, Point b, int one, int other) {
    return add_node(r, node_of_cut(&outline, a, b, one, &r->out.node[one].outline, other));
}

static int read_wedges(Reader *r, Box box, WedgePair pair) {
    const Outline whole = whole_box(box);
    const Point *c = whole.corner; /* top left, top right, bottom right, bottom left */
    Rope left = {.candy = pair.left}, right = {.candy = pair.right};
    left.outline = pair.rising ? (Outline){3, {c[0], c[1], c[3]}} : (Outline){3, {c[0], c[2], c[3]}};
    right.outline = pair.rising ? (Outline){3, {c[1], c[2], c[3]}} : (Outline){3, {c[0], c[1], c[2]}};
    int first = read_rope(r, left), second = read_rope(r, right);
    return read_cut(r, whole, c[pair.rising ? 1 : 0], c[pair.rising ? 3 : 2], first, second);
}

/* Cuts b in two, `at` steps from the left or from the top. */
static void cut_box(Box b, bool upright, int at, Box *first, Box *second) {
    *first = upright ? (Box){b.x, b.y, at, b.h} : (Box){b.x, b.y, b.w, at};
    *second = upright ? (Box){b.x + at, b.y, b.w - at, b.h} : (Box){b.x, b.y + at, b.w, b.h - at};
}

/* The first cut, upright ones from the left, then level ones from the top, whose two parts make up `want`. */
static bool find_cut(const SlicingTable *t, Box b, int32_t want, Box *first, Box *second) {
    for (int axis = 0; axis < 2; axis++)
        for (int at = t->least; at <= (axis == 0 ? b.w : b.h) - t->least; at++) {
            cut_box(b, axis == 0, at, first, second);
            if (slicing_best(t, *first) + slicing_best(t, *second) == want) return true;
        }
    return false;
}

static int read_box(Reader *r, Box box);

/* Nothing else gives the optimum: it is a fine block. */
static int read_fine(Reader *r, Box box, int32_t want) { /* NOLINT(misc-no-recursion) */
    assert(!r->fine && slicing_can_be_fine(r->slicing, box) &&
           slicing_best(&r->slicing->fine, box) + FINE_ROPES * r->slicing->lambda == want);
    (void)want;
    r->fine = true;
    int node = read_box(r, box);
    r->fine = false;
    return node;
}

/* 2. Reads the best lay-up of the box; returns the node's index. Depth: at most 2 n / least. */
static int read_box(Reader *r, Box box) { /* NOLINT(misc-no-recursion) */
    const Slicing *s = r->slicing;
    const SlicingTable *t = table_of(r);
    if (box_outside_disc(box, s->core))
        return add_node(r, (Node){.kind = NODE_EMPTY, .outline = whole_box(box)});
    int32_t want = slicing_best(t, box);
    int candy = 0;
    int32_t strip = slicing_strip(s, box, &candy);
    if (strip + s->lambda == want) {
        r->out.cost += (double)strip / COST_ONE;
        return read_strip(r, box, candy);
    }
    WedgePair pair = slicing_wedges(s, box);
    if (pair.cost != INT32_MAX && pair.cost + 2 * s->lambda == want) {
        r->out.cost += (double)pair.cost / COST_ONE;
        return read_wedges(r, box, pair);
    }
    Box first = {0}, second = {0};
    if (!find_cut(t, box, want, &first, &second)) return read_fine(r, box, want);
    int one = read_box(r, first), other = read_box(r, second);
    Point end = {first.x + first.w, first.y + first.h}; /* of the cut, the lower or the right one */
    return read_cut(r, whole_box(box), (Point){second.x, second.y}, end, one, other);
}

static int read_first(Reader *r, Box box) {
    r->out.nodes = r->out.ropes = r->out.laid = 0;
    r->out.cost = 0;
    return read_box(r, box);
}

/* The steps from..to across the axis. */
static Box across(const Grid *grid, Axis axis, int from, int to) {
    int n = grid->steps;
    return axis == AXIS_UPRIGHT ? (Box){from, 0, to - from, n} : (Box){0, from, n, to - from};
}

/* 4. How far the block beside the axis reaches. */
static int find_fold(Reader *r, Axis axis) {
    const Grid *grid = r->grid;
    const SlicingTable *table = &r->slicing->coarse;
    double least = HUGE_VAL;
    int best = 0;
    for (int side = table->least; 2 * side <= grid->steps; side++) {
        int middle = grid->steps - 2 * side;
        if (middle > 0 && middle < table->least) continue;
        Box beside = across(grid, axis, 0, side);
        (void)read_first(r, beside);
        double cost = slicing_best(table, beside) + r->out.cost * COST_ONE;
        if (middle > 0) cost += slicing_best(table, across(grid, axis, side, side + middle));
        if (cost >= least) continue;
        least = cost;
        best = side;
    }
    return best;
}

/* The block beside the axis, and what lies across it. */
static void read_folded(Reader *r, Axis axis) {
    const int n = r->grid->steps, side = find_fold(r, axis);
    int beside = read_first(r, across(r->grid, axis, 0, side));
    if (2 * side == n) return;
    int middle = read_box(r, across(r->grid, axis, side, n - side));
    Point a = axis == AXIS_UPRIGHT ? (Point){side, 0} : (Point){0, side};
    Point b = axis == AXIS_UPRIGHT ? (Point){side, n} : (Point){n, side};
    (void)read_cut(r, whole_box(across(r->grid, axis, 0, n - side)), a, b, beside, middle);
}

bool lay_straight(const Grid *grid, Axis axis, double lambda, LayUp *out, Err *err) {
    Slicing slicing = {0};
    Reader r;
    if (!slicing_new(grid, &slicing, err)) return false;
    slicing_solve(&slicing, (int32_t)lround(fmin(lambda * COST_ONE, LAMBDA_MAX)));
    bool done = reader_new(grid, &slicing, &r, err);
    if (done && axis == AXIS_NONE) (void)read_box(&r, (Box){0, 0, grid->steps, grid->steps});
    if (done && axis != AXIS_NONE) read_folded(&r, axis);
    if (done) *out = r.out;
    slicing_free(&slicing);
    return done;
}
