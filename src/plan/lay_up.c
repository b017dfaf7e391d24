/* The cells become ropes. SPDX-License-Identifier: MIT
 *
 * Input: what each candy costs in each cell. Output: the slicing tree of least cost + lambda * ropes, and its
 * ropes. A slicing tree can always be built by hand: every join is of two flat faces.
 * 1. The tables of all optima (slicing.h).
 * 2. With a cap on ropes: lambda is bisected, since ropes fall as lambda grows.
 * 3. The tree is read out from the whole square down. Which candidate gave an optimum is found again, not
 * stored: nothing, strip, wedge pair, upright cut from the left, level cut from the top, fine block; ties go
 * to the earlier.
 * 4. Each leaf becomes its ropes, with their exact areas inside the core.
 * 5. A picture that is its own mirror image (98 % of the core), about either axis, is folded: laid up as a
 * block at one side + a middle + the same block turned end for end, if 2 cost(block) + cost(middle) + lambda
 * (ropes(block) + ropes(middle) + 1) is no more than the optimum; the middle is empty or at least the least
 * strip.
 * Invariants: the leaves cover the square once and only once; every side is at least the least side; the cost
 * read out is the optimum of the table.
 *
 * For whoever searches on from this optimum with other outlines: the prefix sums of slicing.h give the cost
 * of any outline row by row, as slicing_wedges does for halves of boxes; the areas of step 4 are exact for
 * any polygon. The leaves' boxes, cut by the disc, cover the core. */
#include "plan/plan.h"

#include "base/mem.h"
#include "plan/slicing.h"

#include <assert.h>
#include <limits.h>
#include <math.h>

/* What one more rope must be worth, in least strips squared; ours, measured with `make quality`. */
static const double lambda_strips[] = {[DETAIL_PLAIN] = 0.3, [DETAIL_NORMAL] = 0.1, [DETAIL_FINE] = 0.1 / 3};

static const double symmetric_share = 0.98; /* of the core; ours */
/* Of a least strip squared: a leaf with less inside the core is pressed in. */
static const double trim_strips = 0.25;

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
 * there are fewer joins than leaves. */
static bool reader_new(const Grid *grid, const Slicing *slicing, Reader *out, Err *err) {
    Reader r = {.grid = grid, .slicing = slicing};
    size_t half = ((size_t)slicing->coarse.least + 1) / 2, steps = (size_t)grid->steps;
    size_t leaves = steps * steps / (half * half);
    r.out.lambda = (double)slicing->lambda / COST_ONE;
    r.out.node = mem_alloc(2 * leaves, sizeof *r.out.node, err);
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

/* 4. Returns the rope's index, -1 if nothing of it lies inside the core. */
static int add_rope(Reader *r, Rope rope) {
    Point corner[4];
    int corners = rope_outline(&rope, corner);
    double whole = polygon_area(corner, corners), least = table_of(r)->least;
    rope.fine = r->fine;
    rope.area = polygon_disc_area(corner, corners, r->grid->core);
    if (rope.area <= 1e-12 * whole) return -1;
    rope.rim = rope.area < whole * (1 - 1e-9);
    rope.trim = rope.area < trim_strips * least * least;
    if (!rope.trim) r->out.laid++;
    r->out.rope[r->out.ropes] = rope;
    return r->out.ropes++;
}

static int read_strip(Reader *r, Box box, int candy) {
    int rope = add_rope(r, (Rope){.box = box, .candy = candy});
    return add_node(r, (Node){.kind = NODE_STRIP, .box = box, .first = rope, .second = -1});
}

static int read_wedges(Reader *r, Box box, WedgePair pair) {
    Node node = {.kind = NODE_WEDGES, .box = box};
    Rope left = {.box = box, .candy = pair.left, .shape = SHAPE_WEDGE};
    Rope right = {.box = box, .candy = pair.right, .shape = SHAPE_WEDGE};
    left.corner = pair.rising ? CORNER_TL : CORNER_BL;
    right.corner = pair.rising ? CORNER_BR : CORNER_TR;
    node.first = add_rope(r, left);
    node.second = add_rope(r, right);
    return add_node(r, node);
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

/* 3. Reads the best lay-up of the box; returns the node's index. Depth: at most 2 n / least. */
static int read_box(Reader *r, Box box) { /* NOLINT(misc-no-recursion) */
    const Slicing *s = r->slicing;
    const SlicingTable *t = table_of(r);
    if (box_outside_disc(box, s->core)) return add_node(r, (Node){.kind = NODE_EMPTY, .box = box});
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
    Node node = {.kind = first.h == box.h ? NODE_ROW : NODE_STACK, .box = box};
    node.first = read_box(r, first);
    node.second = read_box(r, second);
    return add_node(r, node);
}

static int read_first(Reader *r, Box box) {
    r->out.nodes = r->out.ropes = r->out.laid = 0;
    r->out.cost = 0;
    return read_box(r, box);
}

/* 5. Copies the node and all below it as the mirror image across the axis shows them; returns the copy's
 * index. */
static int copy_mirrored(Reader *r, int from, bool upright) { /* NOLINT(misc-no-recursion) */
    Node node = r->out.node[from];
    r->fine = node.fine;
    const Box square = {0, 0, r->grid->steps, r->grid->steps};
    const Placement way = {true, upright ? 0 : 2}; /* left and right change places; or top and bottom */
    node.box = box_placed(node.box, square, way);
    if (node.kind == NODE_STRIP || node.kind == NODE_WEDGES) {
        int *const end[2] = {&node.first, &node.second};
        for (int i = 0; i < 2; i++) {
            if (*end[i] < 0) continue;
            Rope rope = r->out.rope[*end[i]];
            rope.box = node.box;
            if (rope.shape == SHAPE_WEDGE) rope.corner = corner_placed(rope.corner, way);
            *end[i] = add_rope(r, rope);
        }
    } else if (node.kind != NODE_EMPTY) {
        bool swapped = upright == (node.kind == NODE_ROW);
        int first = swapped ? node.second : node.first, second = swapped ? node.first : node.second;
        node.first = copy_mirrored(r, first, upright);
        node.second = copy_mirrored(r, second, upright);
    }
    r->fine = node.fine; /* its children may have changed it */
    int copy = add_node(r, node);
    r->fine = false;
    return copy;
}

typedef struct Fold {
    bool found, upright; /* an upright axis: left and right are the same */
    int side;            /* steps of the block that is built once */
} Fold;

static Box folded_box(const Grid *grid, Fold fold, int from, int to) {
    int n = grid->steps;
    return fold.upright ? (Box){from, 0, to - from, n} : (Box){0, from, n, to - from};
}

static int join(Reader *r, Fold fold, int first, int second) {
    Box a = r->out.node[first].box, b = r->out.node[second].box;
    Box box = fold.upright ? (Box){a.x, a.y, a.w + b.w, a.h} : (Box){a.x, a.y, a.w, a.h + b.h};
    NodeKind kind = fold.upright ? NODE_ROW : NODE_STACK;
    return add_node(r, (Node){.kind = kind, .box = box, .first = first, .second = second});
}

static void read_folded(Reader *r, Fold fold) {
    int n = r->grid->steps;
    int block = read_first(r, folded_box(r->grid, fold, 0, fold.side));
    r->out.cost *= 2;
    int before = block; /* all that comes before the block's mirror image */
    if (n > 2 * fold.side)
        before = join(r, fold, block, read_box(r, folded_box(r->grid, fold, fold.side, n - fold.side)));
    join(r, fold, before, copy_mirrored(r, block, fold.upright));
}

/* Are 98 % of the core's samples what lies across the axis? */
static bool is_symmetric(const Grid *grid, bool upright) {
    const Face *w = &grid->wanted;
    long same = 0, all = 0;
    for (int y = 0; y < w->side; y++)
        for (int x = 0; x < w->side; x++) {
            uint8_t here = w->candy[(size_t)y * w->side + x];
            if (here == OUTSIDE) continue;
            int u = upright ? w->side - 1 - x : x, v = upright ? y : w->side - 1 - y;
            same += here == w->candy[(size_t)v * w->side + u];
            all++;
        }
    return (double)same >= symmetric_share * (double)all;
}

/* The cheapest way to fold the lay-up about the axis, if it is no dearer than *limit, which is lowered to it.
 * `block` is read into, for what its leaves cost. */
static void try_folds(Reader *block, Fold try, double *limit, Fold *best) {
    const Grid *grid = block->grid;
    const SlicingTable *table = &block->slicing->coarse;
    for (try.side = table->least; 2 * try.side <= grid->steps; try.side++) {
        int middle = grid->steps - 2 * try.side;
        if (middle > 0 && middle < table->least) continue;
        Box box = folded_box(grid, try, 0, try.side);
        (void)read_first(block, box);
        double cost = slicing_best(table, box) + block->out.cost * COST_ONE + block->slicing->lambda;
        if (middle > 0) cost += slicing_best(table, folded_box(grid, try, try.side, grid->steps - try.side));
        if (cost > *limit || (best->found && cost == *limit)) continue;
        *limit = cost;
        *best = try;
    }
}

static Fold find_fold(Reader *block) {
    Fold best = {0};
    const int n = block->grid->steps;
    double limit = slicing_best(&block->slicing->coarse, (Box){0, 0, n, n});
    for (int axis = 0; axis < 2; axis++) {
        Fold try = {.found = true, .upright = axis == 0};
        if (is_symmetric(block->grid, try.upright)) try_folds(block, try, &limit, &best);
    }
    return best;
}

static bool solve(const Grid *grid, Slicing *slicing, int32_t lambda, LayUp *out, Err *err) {
    Reader r;
    slicing_solve(slicing, lambda);
    if (!reader_new(grid, slicing, &r, err)) return false;
    Fold fold = find_fold(&r);
    if (fold.found)
        read_folded(&r, fold);
    else
        (void)read_first(&r, (Box){0, 0, grid->steps, grid->steps});
    *out = r.out;
    return true;
}

/* 2. The least lambda (to 1 %) at which at most `cap` ropes are laid. */
static bool solve_capped(const Grid *grid, Slicing *slicing, int32_t lambda, int cap, LayUp *out, Err *err) {
    LayUp best = {0};
    double too_low = lambda, enough = LAMBDA_MAX;
    if (!solve(grid, slicing, lambda, &best, err)) return false;
    if (best.laid <= cap) {
        *out = best;
        return true;
    }
    layup_free(&best);
    if (!solve(grid, slicing, LAMBDA_MAX, &best, err)) return false;
    while (enough > too_low * 1.01) {
        LayUp trial = {0};
        double middle = sqrt(too_low * enough);
        if (!solve(grid, slicing, (int32_t)middle, &trial, err)) {
            layup_free(&best);
            return false;
        }
        bool fits = trial.laid <= cap;
        layup_free(fits ? &best : &trial);
        if (fits) best = trial;
        *(fits ? &enough : &too_low) = middle;
    }
    *out = best;
    return true;
}

bool lay_up(const Grid *grid, const LayKey *key, LayUp *out, Err *err) {
    Slicing slicing = {0};
    if (!slicing_new(grid, &slicing, err)) return false;
    double strip = slicing.coarse.least, lambda = lambda_strips[key->detail] * strip * strip * COST_ONE;
    int cap = key->ropes_cap > 0 ? key->ropes_cap : INT_MAX;
    bool done = solve_capped(grid, &slicing, (int32_t)lround(lambda), cap, out, err);
    slicing_free(&slicing);
    return done;
}
