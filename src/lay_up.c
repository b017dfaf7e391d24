/* The cells become ropes. SPDX-License-Identifier: MIT
 *
 * Input: what each candy costs in each cell. Output: the slicing tree of least cost + lambda * ropes, and its ropes.
 * A slicing tree can always be built by hand: every join is of two flat faces.
 * 1. The table of all optima (slicing.h).
 * 2. With a cap on ropes: lambda is bisected, since ropes fall as lambda grows.
 * 3. The tree is read out from the whole square down. Which candidate gave an optimum is found again, not stored: nothing,
 *    strip, wedge pair, upright cut from the left, level cut from the top; ties go to the earlier.
 * 4. Each leaf becomes its ropes, with their exact areas inside the core.
 * Invariants: the leaves cover the square once and only once; every side is at least the least side; the cost read out is
 * the optimum of the table. */
#include "lay_up.h"

#include "mem.h"
#include "slicing.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* What one more rope must be worth, in least strips squared (design 5; a prototype's balance of ropes and likeness). */
static const double lambda_strips[] = {[DETAIL_PLAIN] = 0.3, [DETAIL_NORMAL] = 0.1, [DETAIL_FINE] = 0.1 / 3};

static const double trim_strips = 0.25; /* of a least strip squared: a leaf with less inside the core is pressed in */

typedef struct Reader {
    const Grid *grid;
    const Slicing *table;
    LayUp out;
    size_t node_room, rope_room;
} Reader;

static int add_node(Reader *r, Node node, Err *err) {
    Node *grown = mem_grow(r->out.node, &r->node_room, (size_t)r->out.nodes + 1, sizeof node, err);
    if (!grown) return -1;
    r->out.node = grown;
    grown[r->out.nodes] = node;
    return r->out.nodes++;
}

/* 4. Adds a rope; *index is its place, -1 if nothing of it lies inside the core. */
static bool add_rope(Reader *r, Rope rope, int *index, Err *err) {
    Point corner[4];
    int corners = rope_outline(&rope, corner);
    double whole = polygon_area(corner, corners), least = r->table->least;
    rope.area = polygon_disc_area(corner, corners, r->grid->core);
    *index = -1;
    if (rope.area <= 1e-12 * whole) return true;
    rope.rim = rope.area < whole * (1 - 1e-9);
    rope.trim = rope.area < trim_strips * least * least;
    Rope *grown = mem_grow(r->out.rope, &r->rope_room, (size_t)r->out.ropes + 1, sizeof rope, err);
    if (!grown) return false;
    r->out.rope = grown;
    grown[r->out.ropes] = rope;
    *index = r->out.ropes++;
    if (!rope.trim) r->out.laid++;
    return true;
}

static int read_strip(Reader *r, Box box, int candy, Err *err) {
    Node node = {NODE_STRIP, box, -1, -1};
    if (!add_rope(r, (Rope){.box = box, .candy = candy}, &node.first, err)) return -1;
    return add_node(r, node, err);
}

static int read_wedges(Reader *r, Box box, WedgePair pair, Err *err) {
    Node node = {NODE_WEDGES, box, -1, -1};
    Rope left = {.box = box, .candy = pair.left, .shape = SHAPE_WEDGE};
    Rope right = {.box = box, .candy = pair.right, .shape = SHAPE_WEDGE};
    left.corner = pair.rising ? CORNER_TL : CORNER_BL;
    right.corner = pair.rising ? CORNER_BR : CORNER_TR;
    if (!add_rope(r, left, &node.first, err) || !add_rope(r, right, &node.second, err)) return -1;
    return add_node(r, node, err);
}

/* The first cut, upright ones from the left, then level ones from the top, whose two parts make up `want`. */
static bool find_cut(const Slicing *t, Box b, int32_t want, Box *first, Box *second) {
    for (int w = t->least; w <= b.w - t->least; w++) {
        *first = (Box){b.x, b.y, w, b.h};
        *second = (Box){b.x + w, b.y, b.w - w, b.h};
        if (slicing_best(t, *first) + slicing_best(t, *second) == want) return true;
    }
    for (int h = t->least; h <= b.h - t->least; h++) {
        *first = (Box){b.x, b.y, b.w, h};
        *second = (Box){b.x, b.y + h, b.w, b.h - h};
        if (slicing_best(t, *first) + slicing_best(t, *second) == want) return true;
    }
    return false;
}

/* 3. Returns the node's index, -1 when memory is out. Depth: at most 2 n / least. */
static int read_box(Reader *r, Box box, Err *err) { /* NOLINT(misc-no-recursion) */
    const Slicing *t = r->table;
    if (box_outside_disc(box, t->core)) return add_node(r, (Node){NODE_EMPTY, box, -1, -1}, err);
    int32_t want = slicing_best(t, box);
    int candy = 0;
    int32_t strip = slicing_strip(t, box, &candy);
    if (strip + t->lambda == want) {
        r->out.cost += (double)strip / COST_ONE;
        return read_strip(r, box, candy, err);
    }
    WedgePair pair = slicing_wedges(t, box);
    if (pair.cost != INT32_MAX && pair.cost + 2 * t->lambda == want) {
        r->out.cost += (double)pair.cost / COST_ONE;
        return read_wedges(r, box, pair, err);
    }
    Box first = {0}, second = {0};
    bool found = find_cut(t, box, want, &first, &second);
    assert(found);
    (void)found;
    Node node = {first.h == box.h ? NODE_ROW : NODE_STACK, box, -1, -1};
    node.first = read_box(r, first, err);
    node.second = node.first < 0 ? -1 : read_box(r, second, err);
    return node.second < 0 ? -1 : add_node(r, node, err);
}

static bool read_out(const Grid *grid, const Slicing *table, LayUp *out, Err *err) {
    Reader r = {.grid = grid, .table = table};
    r.out.lambda = (double)table->lambda / COST_ONE;
    if (read_box(&r, (Box){0, 0, grid->steps, grid->steps}, err) < 0) {
        layup_free(&r.out);
        return false;
    }
    *out = r.out;
    return true;
}

static bool solve(const Grid *grid, Slicing *table, int32_t lambda, LayUp *out, Err *err) {
    slicing_solve(table, lambda);
    return read_out(grid, table, out, err);
}

/* 2. The least lambda (to 1 %) at which at most `cap` ropes are laid. */
static bool solve_capped(const Grid *grid, Slicing *table, int32_t lambda, int cap, LayUp *out, Err *err) {
    LayUp best = {0};
    double low = lambda, high = LAMBDA_MAX;
    if (!solve(grid, table, lambda, &best, err)) return false;
    if (best.laid > cap) {
        layup_free(&best);
        if (!solve(grid, table, LAMBDA_MAX, &best, err)) return false;
    } else {
        high = low;
    }
    while (high > low * 1.01) {
        LayUp trial = {0};
        double middle = sqrt(low * high);
        if (!solve(grid, table, (int32_t)middle, &trial, err)) {
            layup_free(&best);
            return false;
        }
        bool fits = trial.laid <= cap;
        layup_free(fits ? &best : &trial);
        if (fits) best = trial;
        *(fits ? &high : &low) = middle;
    }
    *out = best;
    return true;
}

bool lay_up(const Grid *grid, const Order *order, LayUp *out, Err *err) {
    Slicing table = {0};
    LayUp layup = {0};
    if (!slicing_new(grid, &table, err)) return false;
    double strip = table.least, lambda = lambda_strips[order->detail] * strip * strip * COST_ONE;
    bool done = order->ropes_cap > 0
                    ? solve_capped(grid, &table, (int32_t)lround(lambda), order->ropes_cap, &layup, err)
                    : solve(grid, &table, (int32_t)lround(lambda), &layup, err);
    slicing_free(&table);
    if (done) *out = layup;
    return done;
}
