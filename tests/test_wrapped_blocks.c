/* Tests of what becomes of sheets and round ropes: blocks, which way round, the painted face, what is fine.
 * SPDX-License-Identifier: MIT */
#include "plan/plan_parts.h"
#include "plan/instances.h"
#include "drawn_grid.h"
#include "random_tree.h"

#include <setjmp.h>
#include <stdarg.h>
#include <cmocka.h>

enum { N = 40, ROOM = 64 };

static const Circle core = {N / 2.0, N / 2.0, N}; /* holds the whole square */

static LayUp layup_new(void) {
    Err err = {0};
    LayUp t = tree_new(ROOM);
    t.wrap = mem_alloc(ROOM, sizeof *t.wrap, &err);
    assert_non_null(t.wrap);
    return t;
}

static int add_wrap(LayUp *t, const Outline *outer, bool round, double thickness, int candy, int inside) {
    const Node *node = &t->node[inside];
    t->wrap[t->wraps] = (Wrap){.outline = *outer,
                               .inner = node->outline,
                               .round = round,
                               .candy = candy,
                               .thickness = thickness,
                               .fine = node->fine};
    t->node[t->nodes] = (Node){NODE_WRAP, *outer, {{0, 0}, {0, 0}}, inside, t->wraps++, node->fine};
    return t->nodes++;
}

static Outline square_about(double x, double y, double r) {
    return outline_of_box(x - r, y - r, 2 * r, 2 * r);
}

/* A leaf with a round rope, radius r, in a sheet. */
static int add_round(LayUp *t, const Outline *leaf, Point at, double r, double thickness, int candy) {
    const Outline outer = square_about(at.x, at.y, r), inner = square_about(at.x, at.y, r - thickness);
    int rest = t->ropes;
    (void)tree_leaf(t, leaf, 0, core);
    t->nodes--;
    t->laid--;
    t->rope[rest].rest = t->rope[rest].trim = true;
    t->rope[rest].area -= PI * r * r;
    int rope = tree_leaf(t, &inner, 1, core);
    t->rope[rest + 1].round = true;
    t->rope[rest + 1].area = PI * (r - thickness) * (r - thickness);
    int wrap = add_wrap(t, &outer, true, thickness, candy, rope);
    t->node[t->nodes] = (Node){NODE_ROUND, *leaf, {{0, 0}, {0, 0}}, wrap, rest, false};
    return t->nodes++;
}

/* What lies in a box of 12 steps, x steps from the left, 14 from the top. */
typedef struct Filling {
    bool round;
    int left, right, sheet; /* candies */
    double thickness;
    double shift; /* of what is round */
} Filling;

static int add_part(LayUp *t, double x, const Filling *part) {
    const Outline outer = outline_of_box(x, 14, 12, 12);
    Outline inner, one, other;
    if (part->round)
        return add_round(t, &outer, (Point){x + 6 + part->shift, 20}, 4, part->thickness, part->sheet);
    assert_true(outline_inset(&outer, part->thickness, -1, &inner));
    Point a = {x + 6, 14 + part->thickness}, b = {x + 6, 26 - part->thickness};
    assert_true(tree_part(&inner, a, b, &one, &other));
    int before = tree_leaf(t, &one, tree_middle(&one).x < x + 6 ? part->left : part->right, core);
    int behind = tree_leaf(t, &other, tree_middle(&other).x < x + 6 ? part->left : part->right, core);
    return add_wrap(t, &outer, false, part->thickness, part->sheet,
                    tree_join(t, &inner, a, b, before, behind));
}

/* A field with a part on the left, one on the right. */
static LayUp two_parts(const Filling *left, const Filling *right) {
    LayUp t = layup_new();
    const double at[] = {4, 24};
    const Filling *part[] = {left, right};
    int half[2];
    for (int i = 0; i < 2; i++) {
        double x = i * N / 2.0, from = at[i], to = from + 12;
        Outline box = outline_of_box(x, 0, N / 2.0, 14), top = box;
        int above = tree_leaf(&t, &top, 0, core);
        box = outline_of_box(x, 14, from - x, 12);
        int before = tree_leaf(&t, &box, 0, core), inside = add_part(&t, from, part[i]);
        box = outline_of_box(to, 14, x + N / 2.0 - to, 12);
        int behind = tree_leaf(&t, &box, 0, core);
        box = outline_of_box(x, 14, to - x, 12);
        int row = tree_join(&t, &box, (Point){from, 14}, (Point){from, 26}, before, inside);
        box = outline_of_box(x, 14, N / 2.0, 12);
        row = tree_join(&t, &box, (Point){to, 14}, (Point){to, 26}, row, behind);
        box = outline_of_box(x, 26, N / 2.0, 14);
        int below = tree_leaf(&t, &box, 0, core);
        box = outline_of_box(x, 0, N / 2.0, 26);
        row = tree_join(&t, &box, (Point){x, 14}, (Point){x + N / 2.0, 14}, above, row);
        box = outline_of_box(x, 0, N / 2.0, N);
        half[i] = tree_join(&t, &box, (Point){x, 26}, (Point){x + N / 2.0, 26}, row, below);
    }
    Outline whole = outline_of_box(0, 0, N, N);
    (void)tree_join(&t, &whole, (Point){N / 2.0, 0}, (Point){N / 2.0, N}, half[0], half[1]);
    return t;
}

static Blocks blocks_of(const LayUp *t) {
    const Grid grid = {.steps = N, .least_steps = 4, .candies = 4, .core = core};
    Blocks blocks = {0};
    Err err = {0};
    assert_true(find_blocks(&grid, t, &blocks, &err));
    assert_true(find_wrong_ways(&grid, t, 0, &blocks, &err));
    return blocks;
}

/* The only block of that kind that is made so often; -1 if there are none, or several. */
static int block_of(const Blocks *blocks, BlockKind kind, int made) {
    int found = -1;
    for (int b = 0; b < blocks->blocks; b++) {
        if (blocks->block[b].kind != kind || blocks->block[b].made != made) continue;
        if (found >= 0) return -1;
        found = b;
    }
    return found;
}

/* --- blocks --- */

static void what_is_wrapped_is_a_block_of_one_item_in_its_sheets(void **state) {
    (void)state;
    const Filling part = {.left = 1, .right = 2, .sheet = 3, .thickness = 2},
                  other = {.left = 2, .right = 3, .sheet = 1, .thickness = 1};
    LayUp t = two_parts(&part, &other);
    Blocks blocks = blocks_of(&t);
    int wrapped = 0;
    for (int b = 0; b < blocks.blocks; b++) {
        const Block *block = &blocks.block[b];
        if (block->kind != BLOCK_WRAPPED) continue;
        wrapped++;
        assert_int_equal(block->items, 1);
        assert_int_equal(block->wraps, 1);
        const Item *item = &blocks.item[block->first_item];
        assert_true(item->is_block && item->index < b);
        assert_true(outline_same(&block->outline, &t.wrap[block->wrap[0]].outline, 0));
        assert_true(outline_same(&item->outline, &t.wrap[block->wrap[0]].inner, 0));
        assert_true(block->high.x - block->low.x == 12 && block->high.y - block->low.y == 12);
        assert_int_equal(blocks.block[item->index].items, 2);
    }
    assert_int_equal(wrapped, 2);
    for (int i = 0; i < t.ropes; i++) assert_false(blocks.copied[i]);
    blocks_free(&blocks);
    layup_free(&t);
}

static void equal_wrapped_blocks_are_one_also_mirrored(void **state) {
    (void)state;
    const Filling part = {.left = 1, .right = 2, .sheet = 3, .thickness = 2};
    const Filling mirrored = {.left = 2, .right = 1, .sheet = 3, .thickness = 2};
    const Filling *right[] = {&part, &mirrored};
    for (int i = 0; i < 2; i++) {
        LayUp t = two_parts(&part, right[i]);
        Blocks blocks = blocks_of(&t);
        int wrapped = block_of(&blocks, BLOCK_WRAPPED, 2);
        assert_true(wrapped >= 0);
        assert_int_equal(blocks.block[blocks.item[blocks.block[wrapped].first_item].index].made, 2);
        blocks_free(&blocks);
        layup_free(&t);
    }
}

static void blocks_in_other_sheets_are_others_what_is_inside_may_be_the_same(void **state) {
    (void)state;
    const Filling part = {.left = 1, .right = 2, .sheet = 3, .thickness = 2};
    Filling candy = part, thinner = part;
    candy.sheet = 1;
    thinner.thickness = 1.5;
    LayUp t = two_parts(&part, &candy), u = two_parts(&part, &thinner);
    Blocks blocks = blocks_of(&t);
    assert_int_equal(block_of(&blocks, BLOCK_WRAPPED, 2), -1);
    assert_true(block_of(&blocks, BLOCK_ROW, 2) >= 0);
    blocks_free(&blocks);
    blocks = blocks_of(&u);
    assert_int_equal(block_of(&blocks, BLOCK_WRAPPED, 2), -1);
    assert_int_equal(block_of(&blocks, BLOCK_ROW, 2), -1);
    blocks_free(&blocks);
    layup_free(&t);
    layup_free(&u);
}

static void what_is_round_is_one_block_wherever_it_lies_in_its_leaf(void **state) {
    (void)state;
    const Filling part = {.round = true, .sheet = 3, .thickness = 1.5};
    Filling shifted = part, mirrored = part, candy = part;
    shifted.shift = 0.5;
    mirrored.shift = -0.5;
    candy.sheet = 2;
    LayUp t = two_parts(&part, &part), u = two_parts(&part, &shifted), v = two_parts(&mirrored, &shifted),
          w = two_parts(&part, &candy);
    LayUp *all[] = {&t, &u, &v, &w};
    static const int leaf[] = {2, 1, 2, 1}, wrapped[] = {2, 2, 2, 1};
    for (int i = 0; i < 4; i++) {
        Blocks blocks = blocks_of(all[i]);
        bool one = leaf[i] == 2, same = wrapped[i] == 2;
        assert_int_equal(block_of(&blocks, BLOCK_ROUND, 2) >= 0, one);
        assert_int_equal(block_of(&blocks, BLOCK_WRAPPED, 2) >= 0, same);
        for (int b = 0; b < blocks.blocks; b++) {
            const Block *block = &blocks.block[b];
            if (block->kind != BLOCK_ROUND) continue;
            const Item *item = &blocks.item[block->first_item];
            assert_int_equal(block->items, 1);
            assert_true(item->is_block && all[i]->rope[block->rest].rest && !blocks.copied[block->rest]);
            assert_int_equal(blocks.block[item->index].kind, BLOCK_WRAPPED);
        }
        blocks_free(&blocks);
        layup_free(all[i]);
    }
}

static void two_sheets_round_a_rope_are_one_block(void **state) {
    (void)state;
    LayUp t = layup_new();
    const Outline rope = outline_of_box(16, 16, 8, 8), inner = outline_of_box(14, 14, 12, 12),
                  outer = outline_of_box(13, 13, 14, 14);
    int node = tree_leaf(&t, &rope, 1, core);
    node = add_wrap(&t, &inner, false, 2, 2, node);
    (void)add_wrap(&t, &outer, false, 1, 3, node);
    Blocks blocks = blocks_of(&t);
    assert_int_equal(blocks.blocks, 1);
    assert_int_equal(blocks.block[0].kind, BLOCK_WRAPPED);
    assert_int_equal(blocks.block[0].wraps, 2);
    assert_int_equal(blocks.block[0].wrap[0], 0);
    assert_int_equal(blocks.block[0].wrap[1], 1);
    assert_false(blocks.item[0].is_block);
    blocks_free(&blocks);
    layup_free(&t);
}

/* --- which way round --- */

static void a_round_rope_in_its_sheet_has_no_wrong_way_what_is_inside_a_square_one_decides(void **state) {
    (void)state;
    const Filling round = {.round = true, .sheet = 3, .thickness = 1.5},
                  two = {.left = 1, .right = 2, .sheet = 3, .thickness = 2},
                  plain = {.left = 1, .right = 1, .sheet = 3, .thickness = 2};
    LayUp t = two_parts(&round, &two), u = two_parts(&round, &plain);
    Blocks blocks = blocks_of(&t);
    for (int b = 0; b < blocks.blocks; b++) {
        const Block *block = &blocks.block[b];
        bool is_round = block->kind == BLOCK_ROUND || (block->wraps > 0 && t.wrap[block->wrap[0]].round);
        if (is_round) assert_false(block->turned_risk || block->mirrored_risk);
        if (block->kind == BLOCK_WRAPPED && !is_round) assert_true(block->turned_risk);
    }
    blocks_free(&blocks);
    blocks = blocks_of(&u);
    for (int b = 0; b < blocks.blocks; b++)
        if (blocks.block[b].kind == BLOCK_WRAPPED)
            assert_false(blocks.block[b].turned_risk || blocks.block[b].mirrored_risk);
    blocks_free(&blocks);
    layup_free(&t);
    layup_free(&u);
}

/* --- painted --- */

static void the_painted_face_shows_sheets_and_discs(void **state) {
    (void)state;
    enum { PARTS = 8 };
    const Filling round = {.round = true, .sheet = 3, .thickness = 1.5},
                  square = {.left = 1, .right = 2, .sheet = 3, .thickness = 2};
    static uint8_t candy[N * PARTS * N * PARTS];
    LayUp t = two_parts(&round, &square);
    layup_paint(&t, PARTS, N * PARTS, candy);
    for (int i = 0; i < N * PARTS * N * PARTS; i++) {
        double x = (i % (N * PARTS) + 0.5) / PARTS, y = (i / (N * PARTS) + 0.5) / PARTS;
        double r = sqrt((x - 10) * (x - 10) + (y - 20) * (y - 20)),
               in = inside_regular(4, 6, 0, x - 30, y - 20);
        int want = r < 2.5 ? 1 : r < 4 ? 3 : in < 0 ? 0 : in < 2 ? 3 : x < 30 ? 1 : 2;
        if (candy[i] != want) fail_msg("at %f, %f: candy %d, not %d", x, y, candy[i], want);
    }
    layup_free(&t);
}

/* --- fine --- */

static int square_rim(double x, double y) {
    double in = inside_regular(4, 12, 0, x, y);
    return in < 0 ? 0 : in < 2 ? 1 : 2;
}

/* How many points of the rim are said to be too fine. */
static int fine_points(const Grid *grid, const LayUp *layup) {
    FineMap map = {0};
    Err err = {0};
    int count = 0;
    assert_true(mark_fine(grid, layup, &map, &err));
    for (int i = 0; i < map.side * map.side; i++) count += map.fine[i] == FINE_STROKE;
    fine_map_free(&map);
    return count;
}

static void a_line_that_is_laid_as_a_sheet_is_not_too_fine(void **state) {
    (void)state;
    Grid grid = drawn_grid(N, 4, 3, square_rim);
    LayKey key = sheet_key(2);
    LayUp wrapped = {0}, none = {0};
    Starts starts = {0};
    Err err = {0};
    assert_true(starts_lay(&grid, &key, 0.8, &starts, &err));
    assert_true(search_cuts(&grid, &key, &starts, 2, &wrapped, &err));
    key.sheet_steps = N;
    assert_true(search_cuts(&grid, &key, &starts, 2, &none, &err));
    assert_true(wrapped.wraps == 1 && none.wraps == 0);
    assert_true(fine_points(&grid, &none) > 1000);
    assert_int_equal(fine_points(&grid, &wrapped), 0);
    starts_free(&starts);
    layup_free(&wrapped);
    layup_free(&none);
    grid_free(&grid);
}

static void sheets_in_fine_blocks_count_as_fine(void **state) {
    (void)state;
    static uint8_t fine[N * N];
    LayUp t = layup_new();
    const Outline rope = outline_of_box(16, 16, 8, 8), outer = outline_of_box(14, 14, 12, 12);
    int node = tree_leaf(&t, &rope, 1, core);
    t.node[node].fine = t.rope[0].fine = true;
    (void)add_wrap(&t, &outer, false, 2, 2, node);
    layup_fine(&t, core, 1, N, fine);
    for (int i = 0; i < N * N; i++) {
        int x = i % N, y = i / N;
        assert_int_equal(fine[i], x >= 14 && x < 26 && y >= 14 && y < 26);
    }
    layup_free(&t);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_wrapped_is_a_block_of_one_item_in_its_sheets),
        cmocka_unit_test(equal_wrapped_blocks_are_one_also_mirrored),
        cmocka_unit_test(blocks_in_other_sheets_are_others_what_is_inside_may_be_the_same),
        cmocka_unit_test(what_is_round_is_one_block_wherever_it_lies_in_its_leaf),
        cmocka_unit_test(two_sheets_round_a_rope_are_one_block),
        cmocka_unit_test(a_round_rope_in_its_sheet_has_no_wrong_way_what_is_inside_a_square_one_decides),
        cmocka_unit_test(the_painted_face_shows_sheets_and_discs),
        cmocka_unit_test(a_line_that_is_laid_as_a_sheet_is_not_too_fine),
        cmocka_unit_test(sheets_in_fine_blocks_count_as_fine),
    };
    return cmocka_run_group_tests_name("wrapped_blocks", tests, NULL, NULL);
}
