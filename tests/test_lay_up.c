/* Tests of src/plan/lay_up.c, lay_straight.c and slicing.c, and of src/model/layup.c.
 * SPDX-License-Identifier: MIT */
#include "plan/plan_parts.h"
#include "base/mem.h"
#include "plan/slicing.h"
#include "random_tree.h"
#include "letter_grid.h"
#include "wanted.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <stdint.h>
#include <cmocka.h>

static uint64_t next_random(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return *state >> 33;
}

/* A grid of random costs; `flat` of 4 cells cost nothing in one candy, so that ties and large ropes occur. */
static Grid random_grid(int n, int least, int candies, uint64_t seed) {
    Err err = {0};
    Grid grid = {.steps = n, .least_steps = least, .candies = candies, .core = {n / 2.0, n / 2.0, n / 2.0}};
    grid.cost = mem_alloc((size_t)candies * n * n, sizeof *grid.cost, &err);
    assert_non_null(grid.cost);
    for (int y = 0; y < n; y++)
        for (int x = 0; x < n; x++) {
            if (box_outside_disc((Box){x, y, 1, 1}, grid.core)) continue;
            int right = (int)(next_random(&seed) % candies);
            bool flat = next_random(&seed) % 4 != 0;
            for (int k = 0; k < candies; k++) {
                int32_t cost =
                    flat ? (k == right ? 0 : COST_ONE) : (int32_t)(next_random(&seed) % (2 * COST_ONE));
                grid.cost[(k * n + y) * n + x] = cost;
            }
        }
    want_the_cheapest(&grid);
    return grid;
}

/* A grid with a picture in it: concentric shapes of three candies, so that lay-ups look like real ones. */
static Grid picture_grid(int n, int least) {
    Grid grid = random_grid(n, least, 3, 1);
    for (int y = 0; y < n; y++)
        for (int x = 0; x < n; x++)
            for (int k = 0; k < 3; k++) {
                double u = (x + 0.5) / n - 0.5, v = (y + 0.5) / n - 0.5;
                int candy = fabs(u) + fabs(v) < 0.3 ? 1 : u * u + (v - 0.2) * (v - 0.2) < 0.04 ? 2 : 0;
                bool inside = !box_outside_disc((Box){x, y, 1, 1}, grid.core);
                grid.cost[(k * n + y) * n + x] = inside && k != candy ? COST_ONE : 0;
            }
    want_the_cheapest(&grid);
    return grid;
}

/* A letter with a slanted foot, a cell a step, drawn twice; once with a blot. */
static bool is_letter(int x, int y) {
    bool stem = x < 4, arm = y < 4 || (y >= 8 && y < 12 && x < 9), foot = y >= 16 && x < y - 9;
    return x >= 0 && y >= 0 && x < 12 && y < 20 && (stem || arm || foot);
}

static Grid letters_grid(int n, int first, int second) {
    Grid grid = random_grid(n, 4, 2, 1);
    for (int i = 0; i < 2 * n * n; i++) {
        int k = i / (n * n), x = i % n, y = i / n % n;
        int candy = is_letter(x - first, y - 18) || is_letter(x - second, y - 18);
        bool inside = !box_outside_disc((Box){x, y, 1, 1}, grid.core);
        grid.cost[i] = inside && k != candy ? COST_ONE : 0;
        bool blot = x >= second + 4 && x < second + 5 && y >= 31 && y < 34; /* beside the second one's stem */
        if (blot) grid.cost[i] = k == 1 ? COST_ONE / 8 : COST_ONE / 2;
    }
    want_the_cheapest(&grid);
    return grid;
}

/* --- The recurrence written down as plainly as it can be: the reference --- */

static int32_t plain_left(const Grid *g, int k, Box b, bool rising) {
    int64_t sum = 0;
    for (int i = 0; i < b.h; i++) {
        int row = rising ? b.h - 1 - i : i, twice = b.w * (2 * row + 1), whole = twice / (2 * b.h);
        const int32_t *cost = g->cost + (k * g->steps + b.y + i) * g->steps + b.x;
        for (int x = 0; x < whole; x++) sum += cost[x];
        int64_t part = (int64_t)(twice % (2 * b.h)) * 16384 / (2 * b.h);
        sum += cost[whole] * part / 16384;
    }
    return (int32_t)sum;
}

static int32_t plain_area(const Grid *g, int k, Box b) {
    int32_t sum = 0;
    for (int y = b.y; y < b.y + b.h; y++)
        for (int x = b.x; x < b.x + b.w; x++) sum += g->cost[(k * g->steps + y) * g->steps + x];
    return sum;
}

static int32_t smaller(int32_t a, int32_t b) {
    return a < b ? a : b;
}

static int32_t plain_wedges(const Grid *g, Box b) {
    int32_t best = INT32_MAX;
    if (b.w > 4 * b.h || b.h > 4 * b.w) return best;
    for (int rising = 0; rising < 2; rising++) {
        int32_t left = INT32_MAX, right = INT32_MAX;
        for (int k = 0; k < g->candies; k++) {
            int32_t part = plain_left(g, k, b, rising);
            left = smaller(left, part);
            right = smaller(right, plain_area(g, k, b) - part);
        }
        best = smaller(best, left + right);
    }
    return best;
}

typedef struct Plain {
    const Grid *grid;
    int32_t lambda;
    int32_t *memo[2]; /* coarse, fine: [y][x][h][w], -1 = not yet */
} Plain;

static int32_t plain_best(Plain *p, bool fine, Box b);

static int32_t plain_cuts(Plain *p, bool fine, Box b, int32_t best) {
    int least = fine ? (p->grid->least_steps + 1) / 2 : p->grid->least_steps;
    for (int w = least; w <= b.w - least; w++)
        best = smaller(best, plain_best(p, fine, (Box){b.x, b.y, w, b.h}) +
                                 plain_best(p, fine, (Box){b.x + w, b.y, b.w - w, b.h}));
    for (int h = least; h <= b.h - least; h++)
        best = smaller(best, plain_best(p, fine, (Box){b.x, b.y, b.w, h}) +
                                 plain_best(p, fine, (Box){b.x, b.y + h, b.w, b.h - h}));
    return best;
}

static int32_t plain_best(Plain *p, bool fine, Box b) {
    int n = p->grid->steps;
    int32_t *memo = p->memo[fine] + (((size_t)b.y * n + b.x) * (n + 1) + b.h) * (n + 1) + b.w;
    if (*memo >= 0) return *memo;
    if (box_outside_disc(b, p->grid->core)) return *memo = 0;
    int32_t best = INT32_MAX;
    for (int k = 0; k < p->grid->candies; k++) best = smaller(best, plain_area(p->grid, k, b) + p->lambda);
    int32_t wedges = plain_wedges(p->grid, b);
    if (wedges != INT32_MAX) best = smaller(best, wedges + 2 * p->lambda);
    best = plain_cuts(p, fine, b, best);
    if (!fine && b.w <= p->grid->fine_most && b.h <= p->grid->fine_most && p->grid->least_steps > 1)
        best = smaller(best, plain_best(p, true, b) + 3 * p->lambda);
    return *memo = best;
}

static int32_t plain_optimum(const Grid *grid, int32_t lambda) {
    size_t n = (size_t)grid->steps, count = n * n * (n + 1) * (n + 1);
    Plain plain = {grid, lambda, {malloc(count * sizeof(int32_t)), malloc(count * sizeof(int32_t))}};
    for (int i = 0; i < 2; i++) {
        assert_non_null(plain.memo[i]);
        memset(plain.memo[i], 0xFF, count * sizeof(int32_t));
    }
    int32_t best = plain_best(&plain, false, (Box){0, 0, grid->steps, grid->steps});
    free(plain.memo[0]);
    free(plain.memo[1]);
    return best;
}

static int32_t fast_optimum(const Grid *grid, int32_t lambda) {
    Slicing table = {0};
    Err err = {0};
    assert_true(slicing_new(grid, &table, &err));
    slicing_solve(&table, lambda);
    int32_t best = slicing_best(&table.coarse, (Box){0, 0, grid->steps, grid->steps});
    slicing_free(&table);
    return best;
}

static void the_optimum_equals_brute_force_on_small_grids(void **state) {
    (void)state;
    for (int round = 0; round < 400; round++) {
        int n = 1 + round % 6, least = 1 + round % 2, candies = 2 + round % 2;
        Grid grid = random_grid(n, least < n ? least : n, candies, (uint64_t)round + 1);
        int32_t lambda = (int32_t)(round % 5) * COST_ONE / 3;
        assert_int_equal(fast_optimum(&grid, lambda), plain_optimum(&grid, lambda));
        grid_free(&grid);
    }
}

static void the_optimum_equals_the_plain_recurrence_on_larger_grids(void **state) {
    (void)state;
    for (int round = 0; round < 8; round++) {
        Grid grid = random_grid(11 + round, 2 + round % 3, 2 + round % 4, (uint64_t)round + 77);
        assert_int_equal(fast_optimum(&grid, COST_ONE), plain_optimum(&grid, COST_ONE));
        grid_free(&grid);
    }
}

static void the_optimum_with_fine_blocks_equals_the_plain_recurrence(void **state) {
    (void)state;
    int better = 0;
    for (int round = 0; round < 60; round++) {
        int n = 6 + round % 9, least = 2 + round % 3;
        Grid grid = random_grid(n, least, 2 + round % 3, (uint64_t)round + 400);
        int32_t lambda = (int32_t)(round % 4) * COST_ONE / 8, coarse = fast_optimum(&grid, lambda);
        grid.fine_most = least + round % (n - least + 1);
        int32_t fine = fast_optimum(&grid, lambda);
        assert_int_equal(fine, plain_optimum(&grid, lambda));
        better += fine < coarse;
        grid_free(&grid);
    }
    assert_true(better > 20);
}

/* Large enough for threads, whole registers of places and what is left over of them. */
static void the_optimum_of_a_grid_of_many_steps_equals_the_plain_recurrence(void **state) {
    (void)state;
    Grid grid = picture_grid(43, 4);
    grid.fine_most = 14;
    for (int i = 0; i < 60; i++) grid.cost[i * 83] += COST_ONE / 8; /* no two places alike */
    assert_int_equal(fast_optimum(&grid, COST_ONE), plain_optimum(&grid, COST_ONE));
    grid_free(&grid);
}

static LayUp laid_up(const Grid *grid, Detail detail, int cap) {
    LayKey key = lay_key(detail, cap);
    LayUp layup = {0};
    Err err = {0};
    assert_true(lay_up(grid, &key, &layup, &err));
    return layup;
}

/* The optimum over upright, level and corner-to-corner cuts; a rope is worth so many least strips squared. */
static LayUp straight(const Grid *grid, double worth) {
    double strip = grid->least_steps < grid->steps ? grid->least_steps : grid->steps;
    LayUp layup = {0};
    Err err = {0};
    assert_true(lay_straight(grid, AXIS_NONE, worth * strip * strip, &layup, &err));
    return layup;
}

/* A strip, or the half of a box beside its diagonal. */
typedef struct Straight {
    Box box;
    bool wedge, rising, left; /* the diagonal rises to the right; the half to the left of it */
} Straight;

static bool has_corner(const Outline *o, int x, int y) {
    for (int i = 0; i < o->corners; i++)
        if (o->corner[i].x == x && o->corner[i].y == y) return true;
    return false;
}

static Straight straight_of(const Outline *o) {
    double left = HUGE_VAL, top = HUGE_VAL, right = 0, bottom = 0;
    for (int i = 0; i < o->corners; i++) {
        left = fmin(left, o->corner[i].x);
        right = fmax(right, o->corner[i].x);
        top = fmin(top, o->corner[i].y);
        bottom = fmax(bottom, o->corner[i].y);
    }
    Box b = {(int)left, (int)top, (int)right - (int)left, (int)bottom - (int)top};
    bool tl = has_corner(o, b.x, b.y), tr = has_corner(o, b.x + b.w, b.y);
    bool bl = has_corner(o, b.x, b.y + b.h), br = has_corner(o, b.x + b.w, b.y + b.h);
    assert_int_equal(tl + tr + bl + br, o->corners); /* whole steps, and no corner elsewhere */
    return (Straight){b, o->corners == 3, !tl || !br, tl && bl};
}

static double painted_cost(const Grid *grid, const LayUp *layup) {
    double cost = 0;
    for (int i = 0; i < layup->ropes; i++) {
        Straight s = straight_of(&layup->rope[i].outline);
        int candy = layup->rope[i].candy;
        int32_t left = plain_left(grid, candy, s.box, s.rising), whole = plain_area(grid, candy, s.box);
        cost += !s.wedge ? whole : s.left ? left : whole - left;
    }
    return cost / COST_ONE;
}

/* Ropes that pay lambda. So do wedges beyond the rim, for the cells at their split. */
typedef struct Paying {
    int ropes, beyond; /* leaves that pay, and those of them that are empty */
    int fine;          /* fine blocks */
} Paying;

static void count_paying(const LayUp *layup, int index, bool fine,
                         Paying *sum) { /* NOLINT(misc-no-recursion) */
    const Node *node = &layup->node[index];
    bool empty = node->kind == NODE_EMPTY;
    sum->fine += node->fine && !fine;
    if (node->kind == NODE_CUT) {
        count_paying(layup, node->first, node->fine, sum);
        count_paying(layup, node->second, node->fine, sum);
    } else if (!empty || node->outline.corners == 3) {
        sum->ropes++;
        sum->beyond += empty;
    }
}

static void the_tree_read_out_costs_what_the_table_says(void **state) {
    (void)state;
    int whole = 0, fine = 0;
    for (int round = 0; round < 20; round++) {
        Grid grid = random_grid(20 + round, 3, 3, (uint64_t)round + 5);
        grid.fine_most = round % 2 ? 12 : 0;
        LayUp layup = straight(&grid, 0.05);
        int32_t lambda = (int32_t)lround(layup.lambda * COST_ONE);
        Paying paying = {0};
        count_paying(&layup, layup.nodes - 1, false, &paying);
        assert_int_equal(paying.ropes - paying.beyond, layup.ropes);
        fine += paying.fine > 0;
        assert_true(painted_cost(&grid, &layup) < layup.cost + 1e-9);
        if (paying.beyond == 0) {
            assert_true(fabs(painted_cost(&grid, &layup) - layup.cost) < 1e-9);
            whole++;
        }
        double want = fast_optimum(&grid, lambda), leaves = paying.ropes + FINE_ROPES * paying.fine;
        assert_true(fabs(layup.cost * COST_ONE + leaves * lambda - want) < 0.5);
        layup_free(&layup);
        grid_free(&grid);
    }
    assert_true(whole > 5 && fine > 5);
}

/* Leaves lie over the middle of each half step once; those of a line between two wedges twice. */
static void ropes_cover_the_core_once_and_only_once(void **state) {
    (void)state;
    for (int round = 0; round < 20; round++) {
        int n = 16 + 2 * round;
        Grid grid = round % 2 ? random_grid(n, 4, 3, (uint64_t)round) : picture_grid(n, 4);
        if (round % 3 == 0) grid.core.r -= 2; /* as with rings */
        LayUp layup = straight(&grid, 0.044);
        double area = 0, square = 0;
        for (int i = 0; i < layup.ropes; i++) {
            Box box = straight_of(&layup.rope[i].outline).box;
            area += layup.rope[i].area;
            assert_true(box.w >= 4 && box.h >= 4);
        }
        assert_true(fabs(area - PI * grid.core.r * grid.core.r) < 1e-9);
        for (int i = 0; i < layup.nodes; i++)
            if (layup.node[i].kind != NODE_CUT) square += outline_area(&layup.node[i].outline);
        assert_true(fabs(square - n * n) < 1e-9);
        for (int at = 0; at < 4 * n * n; at++) {
            Point p = {(at % (2 * n) + 0.5) / 2, (at / (2 * n) + 0.5) / 2};
            int inside = 0, edge = 0;
            for (int i = 0; i < layup.nodes; i++) {
                if (layup.node[i].kind == NODE_CUT) continue;
                int side = outline_side(&layup.node[i].outline, p);
                inside += side > 0;
                edge += side == 0;
            }
            assert_true(inside == 1 ? edge == 0 : inside == 0 && edge >= 2);
        }
        layup_free(&layup);
        grid_free(&grid);
    }
}

static void ropes_fall_as_lambda_grows(void **state) {
    (void)state;
    Grid grid = random_grid(48, 4, 3, 9);
    LayUp fine = laid_up(&grid, DETAIL_FINE, 0), normal = laid_up(&grid, DETAIL_NORMAL, 0);
    LayUp plain = laid_up(&grid, DETAIL_PLAIN, 0);
    assert_true(fine.nodes > normal.nodes && normal.nodes > plain.nodes);
    assert_true(fine.cost <= normal.cost && normal.cost <= plain.cost);
    layup_free(&fine);
    layup_free(&normal);
    layup_free(&plain);
    grid_free(&grid);
}

static void a_cap_on_ropes_is_kept(void **state) {
    (void)state;
    Grid grid = picture_grid(40, 4);
    LayUp open = laid_up(&grid, DETAIL_NORMAL, 0);
    assert_true(open.laid > 6);
    for (int cap = 1; cap <= open.laid + 1; cap += 3) {
        LayUp layup = laid_up(&grid, DETAIL_NORMAL, cap);
        assert_true(layup.laid <= cap);
        assert_true(layup.cost >= open.cost);
        layup_free(&layup);
    }
    layup_free(&open);
    grid_free(&grid);
}

static void a_mirrored_picture_costs_the_same(void **state) {
    (void)state;
    Grid grid = random_grid(24, 3, 3, 3), mirrored = random_grid(24, 3, 3, 3);
    for (int row = 0; row < 3 * 24; row++)
        for (int x = 0; x < 24; x++) mirrored.cost[row * 24 + x] = grid.cost[row * 24 + 23 - x];
    int32_t a = fast_optimum(&grid, COST_ONE), b = fast_optimum(&mirrored, COST_ONE);
    assert_true(abs(a - b) <=
                24 * 24); /* the shared cell of a split is rounded down on the left: 1 / COST_ONE a row */
    grid_free(&grid);
    grid_free(&mirrored);
}

static Outline twin_of(const Outline *o, int n) {
    return outline_moved(o, (Motion){{.mirrored = true}, {n, 0}});
}

/* The mirror image of rope r about the upright axis is among the ropes. */
static bool has_twin(const LayUp *layup, const Rope *r, int n) {
    Outline twin = twin_of(&r->outline, n);
    for (int i = 0; i < layup->ropes; i++)
        if (layup->rope[i].candy == r->candy && outline_same(&layup->rope[i].outline, &twin, 1e-9))
            return true;
    return false;
}

/* A block that lies wholly beside the axis lies beyond it too, from the same building. Returns how many. */
static int check_twin_blocks(const Blocks *blocks, int n) {
    int beside = 0;
    for (int i = 0; i < blocks->uses; i++) {
        const BlockUse *use = &blocks->use[i];
        Outline o = outline_moved(&blocks->block[use->block].outline, use->motion), twin = twin_of(&o, n);
        bool left = true, found = false;
        for (int k = 0; k < o.corners; k++) left &= o.corner[k].x <= n / 2.0;
        for (int j = 0; left && j < blocks->uses && !found; j++) {
            Outline other = outline_moved(&blocks->block[use->block].outline, blocks->use[j].motion);
            found = blocks->use[j].block == use->block && outline_same(&other, &twin, 1e-9);
        }
        if (left && !found) fail_msg("n %d: block %d is built for one side only", n, use->block);
        beside += left;
    }
    return beside;
}

static void a_symmetric_picture_is_laid_up_symmetrically(void **state) {
    (void)state;
    int beside = 0;
    for (int n = 40; n < 64; n += 5) {
        Grid grid = picture_grid(n, 4);
        LayUp layup = laid_up(&grid, DETAIL_NORMAL, 0);
        Blocks blocks = {0};
        Err err = {0};
        for (int i = 0; i < layup.ropes; i++)
            if (!has_twin(&layup, &layup.rope[i], n)) fail_msg("n %d: rope %d has no twin", n, i);
        assert_true(find_blocks(&grid, &layup, &blocks, &err));
        beside += check_twin_blocks(&blocks, n);
        blocks_free(&blocks);
        layup_free(&layup);
        grid_free(&grid);
    }
    assert_true(beside >= 5);
}

static void a_letter_that_occurs_twice_is_built_once(void **state) {
    (void)state;
    Grid grid = letters_grid(56, 12, 32);
    LayUp layup = laid_up(&grid, DETAIL_NORMAL, 0);
    Blocks blocks = {0};
    Err err = {0};
    int twice = 0, slanted = 0;
    assert_true(find_blocks(&grid, &layup, &blocks, &err));
    for (int i = 0; i < blocks.blocks; i++)
        if (blocks.block[i].made == 2 && blocks.block[i].items >= 2) twice++;
    for (int i = 0; i < layup.ropes; i++) slanted += outline_shape(&layup.rope[i].outline) != SHAPE_STRIP;
    assert_true(twice > 0);
    assert_true(slanted > 0);
    blocks_free(&blocks);
    layup_free(&layup);
    grid_free(&grid);
}

/* The four sides of the square on its corner. */
static void slanted_edges_are_laid_with_slanted_cuts(void **state) {
    (void)state;
    Grid grid = picture_grid(64, 4);
    LayUp best = straight(&grid, 0.132), layup = laid_up(&grid, DETAIL_NORMAL, 0);
    int wedges = 0;
    for (int i = 0; i < best.ropes; i++) wedges += outline_shape(&best.rope[i].outline) == SHAPE_WEDGE;
    assert_true(wedges >= 8);
    assert_true(layup.cost + layup.lambda * layup.ropes < best.cost + best.lambda * best.ropes);
    layup_free(&best);
    layup_free(&layup);
    grid_free(&grid);
}

static void a_grid_under_the_least_side_is_one_strip(void **state) {
    (void)state;
    Grid grid = random_grid(3, 4, 2, 1);
    LayUp layup = laid_up(&grid, DETAIL_NORMAL, 0);
    assert_int_equal(layup.ropes, 1);
    assert_int_equal(straight_of(&layup.rope[0].outline).box.w, 3);
    layup_free(&layup);
    grid_free(&grid);
}

/* --- the geometry of ropes --- */

static void a_point_is_fine_where_its_middle_lies_in_a_fine_rope(void **state) {
    (void)state;
    for (uint64_t seed = 1; seed < 12; seed++) {
        const int n = 12 + 3 * (int)seed, parts = seed % 2 ? 8 : 4, side = n * parts;
        const Circle core = {n / 2.0, n / 2.0, n / 2.0};
        LayUp tree = random_tree(n, 30, 2, 1, seed);
        uint8_t *fine = malloc((size_t)side * (size_t)side);
        int fine_points = 0;
        assert_non_null(fine);
        for (int i = 0; i < tree.ropes; i++) tree.rope[i].fine = tree.rope[i].candy == 1;
        layup_fine(&tree, core, parts, side, fine);
        for (int i = 0; i < side * side; i++) {
            if (!disc_holds(core, parts, i % side, i / side)) continue;
            Point p = {(i % side + 0.5) / parts, (i / side + 0.5) / parts};
            bool want = false;
            for (int k = 0; k < tree.ropes && !want; k++)
                want = tree.rope[k].fine && outline_side(&tree.rope[k].outline, p) >= 0;
            assert_int_equal(fine[i], want);
            fine_points += want;
        }
        assert_true(fine_points > 0);
        free(fine);
        layup_free(&tree);
    }
}

/* The optimum has ropes at the rim that no hand can form. To drop them took all of the word with them: it
 * does not fit into a larger fine block. */
static void a_word_in_a_ring_is_no_slab(void **state) {
    (void)state;
    static WordGrid w;
    Err err = {0};
    LayKey key = lay_key(DETAIL_NORMAL, 0);
    key.steps = WORD_STEPS;
    key.least_steps = 4;
    key.sheet_steps = 2;
    Grid grid;
    LayUp straight, slanted;
    word_field(&w);
    word_draw(&w, "BREB", 16, 20);
    word_ring(&w, 20);
    w.grid.candies = 2;
    w.grid.fine_most = 33;
    w.grid.apart[0][1] = w.grid.apart[1][0] = 1;
    assert_true(frame_redrawn(&w.grid, &key, w.candy, &grid, &err) && cost_cells(&grid, &err));
    assert_true(lay_up_straight(&grid, &key, &straight, &err));
    assert_true(lay_up(&grid, &key, &slanted, &err));
    double was = straight.cost + straight.lambda * straight.laid;
    assert_true(slanted.cost + straight.lambda * slanted.laid < 1.1 * was);
    layup_free(&straight);
    layup_free(&slanted);
    grid_free(&grid);
}

/* In half points all is whole: squares of distances, and that of the radius, which is never met. */
static void a_disc_holds_the_points_nearer_than_its_radius(void **state) {
    (void)state;
    for (int n = 1; n < 20; n++)
        for (int ring = 0; ring < n / 2; ring++)
            for (int parts = 3; parts <= 8; parts += 5)
                for (int i = 0; i < n * parts * n * parts; i++) {
                    int x = i % (n * parts), y = i / (n * parts), r = (n - 2 * ring) * parts;
                    int across = 2 * x + 1 - n * parts, down = 2 * y + 1 - n * parts;
                    int square = across * across + down * down;
                    Circle core = {n / 2.0, n / 2.0, n / 2.0 - ring};
                    assert_int_not_equal(square, r * r);
                    assert_int_equal(disc_holds(core, parts, x, y), square < r * r);
                }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_optimum_equals_brute_force_on_small_grids),
        cmocka_unit_test(the_optimum_equals_the_plain_recurrence_on_larger_grids),
        cmocka_unit_test(the_optimum_with_fine_blocks_equals_the_plain_recurrence),
        cmocka_unit_test(the_optimum_of_a_grid_of_many_steps_equals_the_plain_recurrence),
        cmocka_unit_test(the_tree_read_out_costs_what_the_table_says),
        cmocka_unit_test(ropes_cover_the_core_once_and_only_once),
        cmocka_unit_test(ropes_fall_as_lambda_grows),
        cmocka_unit_test(a_cap_on_ropes_is_kept),
        cmocka_unit_test(a_mirrored_picture_costs_the_same),
        cmocka_unit_test(a_symmetric_picture_is_laid_up_symmetrically),
        cmocka_unit_test(a_letter_that_occurs_twice_is_built_once),
        cmocka_unit_test(slanted_edges_are_laid_with_slanted_cuts),
        cmocka_unit_test(a_grid_under_the_least_side_is_one_strip),
        cmocka_unit_test(a_point_is_fine_where_its_middle_lies_in_a_fine_rope),
        cmocka_unit_test(a_word_in_a_ring_is_no_slab),
        cmocka_unit_test(a_disc_holds_the_points_nearer_than_its_radius),
    };
    return cmocka_run_group_tests_name("lay_up", tests, NULL, NULL);
}
