/* Tests of src/plan/instances.c. SPDX-License-Identifier: MIT */
#include "plan/instances.h"
#include "random_tree.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { SIDE = 40, CUTS_MAX = 4 };

static const Circle wide = {SIDE / 2.0, SIDE / 2.0, SIDE}; /* a core that holds the whole square */

/* Cuts across a square that do not meet, each to the right of the one before on the way from its first end to
 * its second. */
typedef struct Cuts {
    int count;
    Point end[CUTS_MAX][2];
} Cuts;

/* Parts the outline by the cuts from..to, that number `at` first, then each half by its middle one. Rope i
 * has candy i. */
static int lay_cuts(LayUp *t, const Outline *o, const Cuts *cuts, int from, int to, int at) {
    Outline before, after;
    if (from == to) return tree_leaf(t, o, from, wide);
    const Point *cut = cuts->end[at];
    assert_true(tree_part(o, cut[0], cut[1], &before, &after));
    int one = lay_cuts(t, &before, cuts, from, at, (from + at) / 2);
    int other = lay_cuts(t, &after, cuts, at + 1, to, (at + 1 + to) / 2);
    return tree_join(t, o, cut[0], cut[1], one, other);
}

static Instances instances_from(LayUp *t) {
    Instances out;
    Err err = {0};
    assert_true(instances_of(t, &out, &err));
    return out;
}

static bool same_point(Point a, Point b) {
    return fabs(a.x - b.x) < 1e-9 && fabs(a.y - b.y) < 1e-9;
}

/* One chain, its items in the order of the cuts or, if turned round, the other way, whichever cut the tree
 * made first. */
static void check_chain(const Cuts *cuts, BlockKind kind, bool turned) {
    Outline square = outline_of_box(0, 0, SIDE, SIDE);
    for (int first = 0; first < cuts->count; first++) {
        LayUp t = tree_new(CUTS_MAX + 1);
        lay_cuts(&t, &square, cuts, 0, cuts->count, first);
        Instances got = instances_from(&t);
        assert_int_equal(got.count, 1);
        assert_int_equal(got.instance[0].items, cuts->count + 1);
        assert_int_equal(got.instance[0].kind, kind);
        assert_true(joins_are_flat(&square, got.item, got.items, wide));
        for (int i = 0; i <= cuts->count; i++) {
            int want = turned ? cuts->count - i : i;
            assert_int_equal(t.rope[got.item[i].index].candy, want);
            if (i == 0) continue;
            const Point *cut = cuts->end[turned ? want : i - 1], *join = got.item[i].cut;
            assert_true((same_point(cut[0], join[0]) && same_point(cut[1], join[1])) ||
                        (same_point(cut[0], join[1]) && same_point(cut[1], join[0])));
        }
        instances_free(&got);
        layup_free(&t);
    }
}

static void cuts_side_by_side_are_a_row_at_any_slope(void **state) {
    (void)state;
    const Cuts parallel = {3, {{{15, 40}, {5, 0}}, {{25, 40}, {15, 0}}, {{35, 40}, {25, 0}}}};
    const Cuts fan = {3, {{{10, 40}, {2, 0}}, {{15, 40}, {20, 0}}, {{20, 40}, {40, 3}}}};
    const Cuts level = {2, {{{0, 10}, {40, 12}}, {{0, 30}, {40, 20}}}};
    check_chain(&parallel, BLOCK_ROW, false);
    check_chain(&fan, BLOCK_ROW, false);
    check_chain(&level, BLOCK_STACK, false);
}

/* The last cut is steep: of it alone, what comes first would be the corner to its left. */
static void a_steep_cut_in_a_stack_keeps_the_order_from_the_top(void **state) {
    (void)state;
    const Cuts fan = {3, {{{0, 5}, {40, 2}}, {{0, 8}, {40, 20}}, {{0, 12}, {20, 40}}}};
    check_chain(&fan, BLOCK_STACK, false);
    /* seen in a mirror, and given from the bottom */
    const Cuts upward = {3, {{{40, 12}, {20, 40}}, {{40, 8}, {0, 20}}, {{40, 5}, {0, 2}}}};
    check_chain(&upward, BLOCK_STACK, true);
}

static void a_cut_that_ends_on_another_parts_a_block_of_its_own(void **state) {
    (void)state;
    Outline square = outline_of_box(0, 0, SIDE, SIDE), left, right, upper, lower;
    LayUp t = tree_new(3);
    Point a = {25, 40}, b = {15, 0}, c = {20, 20}, d = {40, 25}; /* c on the way from a to b */
    assert_true(tree_part(&square, a, b, &left, &right));
    assert_true(tree_part(&right, c, d, &upper, &lower));
    int one = tree_leaf(&t, &left, 0, wide), two = tree_leaf(&t, &upper, 1, wide),
        three = tree_leaf(&t, &lower, 2, wide);
    int stack = tree_join(&t, &right, c, d, two, three);
    tree_join(&t, &square, a, b, one, stack);
    Instances got = instances_from(&t);
    assert_int_equal(got.count, 2);
    assert_int_equal(got.instance[0].kind, BLOCK_STACK);
    assert_int_equal(got.instance[1].kind, BLOCK_ROW);
    assert_true(got.item[got.instance[1].first + 1].is_block);
    /* what the three would be as one chain is no chain of whole sides */
    Item chain[3] = {got.item[got.instance[1].first], got.item[0], got.item[1]};
    memcpy(chain[1].cut, got.item[got.instance[1].first + 1].cut, sizeof chain[1].cut);
    assert_false(joins_are_flat(&square, chain, 3, wide));
    instances_free(&got);
    layup_free(&t);
}

/* Two of the corners and what lies between are a chain; what lies between is the middle and the third corner.
 */
static void three_corners_cut_off_a_middle_are_no_chain_of_four(void **state) {
    (void)state;
    const Point cut[3][2] = {{{0, 12}, {10, 0}}, {{30, 0}, {40, 15}}, {{40, 28}, {25, 40}}};
    for (int first = 0; first < 3; first++) {
        LayUp t = tree_new(4);
        Outline rest[4] = {outline_of_box(0, 0, SIDE, SIDE)}, corner;
        int leaf[3];
        for (int i = 0; i < 3; i++) {
            const Point *c = cut[(first + i) % 3];
            assert_true(tree_part(&rest[i], c[0], c[1], &corner, &rest[i + 1]));
            leaf[i] = tree_leaf(&t, &corner, i, wide);
        }
        int node = tree_leaf(&t, &rest[3], 3, wide);
        for (int i = 2; i >= 0; i--) {
            const Point *c = cut[(first + i) % 3];
            node = tree_join(&t, &rest[i], c[0], c[1], node, leaf[i]);
        }
        Instances got = instances_from(&t);
        assert_int_equal(got.count, 2);
        assert_int_equal(got.instance[0].items, 2);
        assert_int_equal(got.instance[1].items, 3);
        assert_true(got.item[got.instance[1].first + 1].is_block);
        instances_free(&got);
        layup_free(&t);
    }
}

/* Its cut meets the corners of its place, where the cuts on both sides of it end too. */
static void a_pair_of_wedges_between_strips_is_a_block_of_its_own(void **state) {
    (void)state;
    LayUp t = tree_new(3);
    Outline square = outline_of_box(0, 0, SIDE, SIDE), left, right, one, other;
    assert_true(tree_part(&square, (Point){15, 40}, (Point){15, 0}, &left, &right));
    assert_true(tree_part(&right, (Point){15, 40}, (Point){40, 0}, &one, &other));
    int strip = tree_leaf(&t, &left, 0, wide), first = tree_leaf(&t, &one, 1, wide),
        second = tree_leaf(&t, &other, 2, wide);
    int pair = tree_join(&t, &right, (Point){15, 40}, (Point){40, 0}, first, second);
    tree_join(&t, &square, (Point){15, 40}, (Point){15, 0}, strip, pair);
    Instances got = instances_from(&t);
    assert_int_equal(got.count, 2);
    assert_int_equal(got.instance[0].kind, BLOCK_ROW);
    assert_int_equal(t.rope[got.item[got.instance[0].first].index].candy, 1);
    instances_free(&got);
    layup_free(&t);
}

static void a_fine_stretch_of_a_chain_stays_a_block(void **state) {
    (void)state;
    const Cuts cuts = {3, {{{10, 40}, {2, 0}}, {{15, 40}, {20, 0}}, {{20, 40}, {40, 3}}}};
    Outline square = outline_of_box(0, 0, SIDE, SIDE);
    LayUp t = tree_new(4);
    lay_cuts(&t, &square, &cuts, 0, 3, 0);
    for (int i = 0; i < t.nodes - 1; i++) t.node[i].fine = t.node[i].kind == NODE_CUT || t.node[i].first > 0;
    Instances got = instances_from(&t);
    assert_int_equal(got.count, 2);
    assert_true(got.instance[0].fine);
    assert_int_equal(got.instance[0].items, 3);
    assert_false(got.instance[1].fine);
    assert_int_equal(got.instance[1].items, 2);
    instances_free(&got);
    layup_free(&t);
}

static void what_lies_outside_the_core_drops_out(void **state) {
    (void)state;
    const Circle core = {SIDE / 2.0, SIDE / 2.0, SIDE / 2.0};
    Outline square = outline_of_box(0, 0, SIDE, SIDE), corner, rest, one, other;
    LayUp t = tree_new(3);
    assert_true(tree_part(&square, (Point){0, 8}, (Point){8, 0}, &corner, &rest));
    assert_true(tree_part(&rest, (Point){25, 40}, (Point){15, 0}, &one, &other));
    int empty = tree_leaf(&t, &corner, 0, core);
    assert_int_equal(t.node[empty].kind, NODE_EMPTY);
    int left = tree_leaf(&t, &one, 1, core), right = tree_leaf(&t, &other, 2, core);
    int row = tree_join(&t, &rest, (Point){25, 40}, (Point){15, 0}, left, right);
    tree_join(&t, &square, (Point){0, 8}, (Point){8, 0}, empty, row);
    Instances got = instances_from(&t);
    assert_int_equal(got.count, 1);
    assert_int_equal(got.instance[0].items, 2);
    assert_int_equal(got.item[0].index, 0);
    assert_true(got.item[0].cut[0].x == 0 && got.item[0].cut[1].x == 0);
    instances_free(&got);
    layup_free(&t);
}

static void count_ropes(const Instances *got, Item item, int *count) {
    if (!item.is_block) {
        count[item.index]++;
        return;
    }
    const Instance *of = &got->instance[item.index];
    for (int i = of->first; i < of->first + of->items; i++) count_ropes(got, got->item[i], count);
}

static void any_tree_becomes_chains_that_hold_each_rope_once(void **state) {
    (void)state;
    int longest = 0, nested = 0;
    for (uint64_t seed = 1; seed < 400; seed++) {
        const int n = 40 + (int)seed % 30;
        const Circle core = {n / 2.0, n / 2.0, n / 2.0};
        LayUp t = random_tree(n, 60, 3, 1, seed);
        Instances got = instances_from(&t);
        int *count = calloc((size_t)t.ropes, sizeof *count);
        count_ropes(&got, got.root, count);
        for (int i = 0; i < t.ropes; i++) assert_int_equal(count[i], 1);
        for (int i = 0; i < got.count; i++) {
            const Instance *of = &got.instance[i];
            assert_true(of->items >= 2);
            assert_true(joins_are_flat(&of->outline, got.item + of->first, of->items, core));
            if (of->items > longest) longest = of->items;
            for (int j = of->first; j < of->first + of->items; j++) {
                assert_true(!got.item[j].is_block || got.item[j].index < i);
                nested += got.item[j].is_block;
            }
        }
        free(count);
        instances_free(&got);
        layup_free(&t);
    }
    assert_true(longest > 4 && nested > 1000);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cuts_side_by_side_are_a_row_at_any_slope),
        cmocka_unit_test(a_steep_cut_in_a_stack_keeps_the_order_from_the_top),
        cmocka_unit_test(a_cut_that_ends_on_another_parts_a_block_of_its_own),
        cmocka_unit_test(three_corners_cut_off_a_middle_are_no_chain_of_four),
        cmocka_unit_test(a_pair_of_wedges_between_strips_is_a_block_of_its_own),
        cmocka_unit_test(a_fine_stretch_of_a_chain_stays_a_block),
        cmocka_unit_test(what_lies_outside_the_core_drops_out),
        cmocka_unit_test(any_tree_becomes_chains_that_hold_each_rope_once),
    };
    return cmocka_run_group_tests_name("instances", tests, NULL, NULL);
}
