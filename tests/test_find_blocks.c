/* Tests of src/plan/find_blocks.c and of what src/model/layup.c moves. SPDX-License-Identifier: MIT */
#include "plan/instances.h"
#include "built_blocks.h"
#include "wanted.h"

#include <stdlib.h>
#include <string.h>

/* A picture drawn as text, `scale` steps a letter, in the middle of a core of n steps: '.' and ' ' are field.
 */
static Built built_from(int n, int scale, const char *const *row, int rows) {
    Err err = {0};
    Built b = {.grid = {.steps = n, .least_steps = scale, .candies = 3, .core = {n / 2.0, n / 2.0, n / 2.0}}};
    int columns = (int)strlen(row[0]), left = (n - columns * scale) / 2, top = (n - rows * scale) / 2;
    b.grid.cost = mem_alloc((size_t)3 * n * n, sizeof *b.grid.cost, &err);
    for (int i = 0; i < 3 * n * n; i++) {
        int k = i / (n * n), x = i % n, y = i / n % n, u = (x - left) / scale, v = (y - top) / scale,
            candy = 0;
        if (x >= left && y >= top && u < columns && v < rows)
            candy = row[v][u] == '#' ? 1 : row[v][u] == 'o' ? 2 : 0;
        bool outside = box_outside_disc((Box){x, y, 1, 1}, b.grid.core);
        b.grid.cost[i] = outside || k == candy ? 0 : COST_ONE;
    }
    want_the_cheapest(&b.grid);
    LayKey key = lay_key(DETAIL_FINE, 0);
    assert_true(lay_up(&b.grid, &key, &b.layup, &err));
    assert_true(find_blocks(&b.grid, &b.layup, &b.blocks, &err));
    return b;
}

/* Columns from 6 on are at times, or always, the mirror image of those before. */
static Built build_thrown(int n, uint64_t seed, bool symmetric) {
    char text[12][13], *row[12];
    for (int y = 0; y < 12; y++) {
        for (int x = 0; x < 12; x++) {
            seed = seed * 6364136223846793005u + 1442695040888963407u;
            int u = x < 6 || (!symmetric && seed % 3 == 0) ? x : 11 - x;
            text[y][x] = ".#.o..#."[((seed >> 40) + (uint64_t)u * 7 + (uint64_t)y * 3) % 8];
            if (symmetric && x >= 6) text[y][x] = text[y][u];
        }
        text[y][12] = 0;
        row[y] = text[y];
    }
    return built_from(n, 3, (const char *const *)row, 12);
}

static Built random_build(int n, uint64_t seed) {
    return build_thrown(n, seed, false);
}

static void near(Point got, Point want) {
    if (fabs(got.x - want.x) > 1e-9 || fabs(got.y - want.y) > 1e-9)
        fail_msg("got %.12g, %.12g, want %.12g, %.12g", got.x, got.y, want.x, want.y);
}

static void motions_are_a_group_over_the_eight_placements(void **state) {
    (void)state;
    const Point a = {3, 1}, low = {2.5, 1}, high = {7, 9};
    for (int i = 0; i < PLACEMENTS; i++) {
        Motion one = {placement(i), {5, -2}}, there = motion_in_place(placement(i), low, high);
        near(point_moved(point_moved(a, one), motion_undone(one)), a);
        Point p = point_moved(low, there), q = point_moved(high, there);
        near((Point){fmin(p.x, q.x), fmin(p.y, q.y)}, low);
        for (int j = 0; j < PLACEMENTS; j++) {
            Motion two = {placement(j), {0.5, 7}};
            near(point_moved(point_moved(a, one), two), point_moved(a, motion_after(one, two)));
            Motion other = {placement(j), {5, -2}};
            Point at = point_moved(a, other), was = point_moved(a, one);
            assert_true((at.x == was.x && at.y == was.y) == (i == j));
        }
    }
    near(point_moved(a, (Motion){{false, 1}, {0, 0}}), (Point){-1, 3}); /* clockwise, y down */
    near(point_moved(a, (Motion){{true, 0}, {0, 0}}), (Point){-3, 1});
}

/* --- what holds for all lay-ups --- */

/* Items of blocks touch along whole sides, blocks inside lie where their motions take them, and come first.
 */
static void check_items(const Built *b) {
    for (int i = 0; i < b->blocks.blocks; i++) {
        const Block *block = &b->blocks.block[i];
        const Item *item = b->blocks.item + block->first_item;
        assert_true(block->items >= 2);
        assert_true(joins_are_flat(&block->outline, item, block->items, b->grid.core));
        for (int j = 0; j < block->items; j++) {
            if (!item[j].is_block) continue;
            assert_true(item[j].index < i);
            Outline moved = outline_moved(&b->blocks.block[item[j].index].outline, item[j].motion);
            assert_true(outline_same(&moved, &item[j].outline, touching));
        }
    }
}

/* One rope of the lay-up, that was not there yet, lies where the motion takes this one. */
static void check_rope(const Built *b, const Rope *rope, Motion motion, bool *there) {
    Outline moved = outline_moved(&rope->outline, motion);
    for (int i = 0; i < b->layup.ropes; i++) {
        const Rope *other = &b->layup.rope[i];
        if (there[i] || other->candy != rope->candy || !outline_same(&moved, &other->outline, touching))
            continue;
        assert_true(fabs(other->area - rope->area) < 1e-4 && other->fine == rope->fine);
        there[i] = true;
        return;
    }
    fail_msg("no rope lies where a block has one");
}

/* Lays the block, and all in it, as a builder would, from items and their motions alone. */
static void lay_block(const Built *b, int index, Motion motion, bool *there, int *uses) {
    const Block *block = &b->blocks.block[index];
    bool listed = false;
    for (int i = 0; i < b->blocks.uses && !listed; i++) {
        BlockUse use = b->blocks.use[i];
        Point at = {motion.shift.x - use.motion.shift.x, motion.shift.y - use.motion.shift.y};
        listed = use.block == index && use.motion.way.mirrored == motion.way.mirrored &&
                 use.motion.way.turn == motion.way.turn && fabs(at.x) + fabs(at.y) < touching;
    }
    assert_true(listed);
    ++*uses;
    for (int i = block->first_item; i < block->first_item + block->items; i++) {
        Item item = b->blocks.item[i];
        if (item.is_block)
            lay_block(b, item.index, motion_after(item.motion, motion), there, uses);
        else
            check_rope(b, &b->layup.rope[item.index], motion, there);
    }
}

static void check_log(const Built *b) {
    bool *there = calloc((size_t)b->layup.ropes, sizeof *there);
    int uses = 0, made = 0;
    lay_block(b, b->blocks.blocks - 1, (Motion){{0}, {0, 0}}, there, &uses);
    for (int i = 0; i < b->layup.ropes; i++) assert_true(there[i]);
    free(there);
    for (int i = 0; i < b->blocks.blocks; i++) made += b->blocks.block[i].made;
    assert_int_equal(uses, b->blocks.uses);
    assert_int_equal(made, b->blocks.uses);
}

/* Each rope is an item of one block, or is copied; the first use of a block is where it was built. */
static int check_uses(const Built *b) {
    int *items = calloc((size_t)b->layup.ropes, sizeof *items), copies = 0;
    for (int i = 0; i < b->blocks.items; i++)
        if (!b->blocks.item[i].is_block) items[b->blocks.item[i].index]++;
    for (int i = 0; i < b->layup.ropes; i++) {
        assert_int_equal(items[i], !b->blocks.copied[i]);
        copies += b->blocks.copied[i];
    }
    for (int i = 0; i < b->blocks.uses; i++) {
        BlockUse use = b->blocks.use[i];
        if (i > 0 && b->blocks.use[i - 1].block == use.block) continue;
        assert_false(use.motion.way.mirrored || use.motion.way.turn);
        assert_true(use.motion.shift.x == 0 && use.motion.shift.y == 0);
    }
    free(items);
    return copies;
}

static void the_log_can_be_built_from_the_blocks_alone(void **state) {
    (void)state;
    int copies = 0;
    for (uint64_t seed = 1; seed < 40; seed++) {
        Built b = random_build(38 + (int)seed % 9, seed);
        check_items(&b);
        check_log(&b);
        copies += check_uses(&b);
        built_free(&b);
    }
    assert_true(copies > 20);
}

static void a_log_of_slanted_cuts_can_be_built_from_the_blocks_alone(void **state) {
    (void)state;
    for (uint64_t seed = 1; seed < 200; seed++) {
        const int n = 40 + (int)seed % 30;
        Built b = built_of(random_tree(n, 50, 3, 1, seed), n, (Circle){n / 2.0, n / 2.0, n / 2.0});
        check_items(&b);
        check_log(&b);
        (void)check_uses(&b);
        built_free(&b);
    }
}

/* The mirror image of a random half is laid beside it, across an upright axis. */
static LayUp folded_tree(int n, uint64_t seed, Circle core) {
    RandomTree half = {.out = tree_new(80), .core = core, .candies = 3, .least = 1, .seed = seed};
    Outline left = outline_of_box(0, 0, n / 2.0, n), square = outline_of_box(0, 0, n, n);
    int one = random_node(&half, left, 25);
    Motion mirror = motion_in_place((Placement){true, 0}, (Point){0, 0}, (Point){n, n});
    int other = tree_moved(&half.out, &half.out, one, mirror, core);
    tree_join(&half.out, &square, (Point){n / 2.0, 0}, (Point){n / 2.0, n}, one, other);
    return half.out;
}

/* A straight rope's section is cut by the rim as the block's was, so the core comes to lie on itself. */
static void a_copy_is_cut_by_the_rim_as_the_block_was(void **state) {
    (void)state;
    int cut = 0;
    for (uint64_t seed = 1; seed < 80; seed++) {
        const int n = 44 + (int)seed % 8;
        const Circle core = {n / 2.0, n / 2.0, n / 2.0};
        Built b = seed % 2 ? build_thrown(n, seed, true) : built_of(folded_tree(n, seed, core), n, core);
        check_items(&b);
        check_log(&b);
        for (int i = 0; i < b.blocks.uses; i++) {
            BlockUse use = b.blocks.use[i];
            const Outline *outline = &b.blocks.block[use.block].outline;
            bool rim = false;
            for (int r = 0; r < b.layup.ropes; r++)
                rim = rim || (b.layup.rope[r].rim && rope_in(&b.layup.rope[r], outline));
            if (!rim) continue;
            near(point_moved((Point){core.x, core.y}, use.motion), (Point){core.x, core.y});
            cut += use.motion.way.mirrored || use.motion.way.turn;
        }
        built_free(&b);
    }
    assert_true(cut > 40);
}

static void equal_blocks_are_built_once(void **state) {
    (void)state;
    static const char *const twins[] = {"............", ".###....###.", ".#........#.", ".##......##.",
                                        ".#........#.", ".#........#.", "............"};
    Built b = built_from(64, 4, twins, 7);
    int copies = 0, made = 0;
    for (int i = 0; i < b.layup.ropes; i++) copies += b.blocks.copied[i];
    for (int i = 0; i < b.blocks.uses; i++) made += b.blocks.use[i].motion.way.mirrored;
    assert_true(copies >= 6);
    assert_true(made >= 1);
    int uses = 0;
    for (int i = 0; i < b.blocks.blocks; i++) uses += b.blocks.block[i].made;
    assert_int_equal(uses, b.blocks.uses);
    built_free(&b);
}

/* A square of slanted cuts is laid all eight ways, in two rows of four, as fine blocks, so that none of its
 * cuts joins the rows; returns how many ropes it holds. */
static int lay_all_ways(RandomTree *t, int tile) {
    Outline first = outline_of_box(0, 0, tile, tile);
    int row[2] = {-1, -1}, original = random_node(t, first, 8), ropes = t->out.ropes;
    for (int i = 0; i < PLACEMENTS; i++) {
        const int x = tile * (i % 4), y = i < 4 ? 0 : tile, line = row[i / 4];
        Motion motion = motion_in_place(placement(i), (Point){0, 0}, (Point){tile, tile});
        motion.shift = (Point){motion.shift.x + x, motion.shift.y + y};
        int node = i == 0 ? original : tree_moved(&t->out, &t->out, original, motion, t->core);
        Outline both = outline_of_box(0, y, x + tile, tile);
        t->out.node[node].fine = true;
        if (x > 0) node = tree_join(&t->out, &both, (Point){x, y}, (Point){x, y + tile}, line, node);
        row[i / 4] = node;
    }
    Outline all = outline_of_box(0, 0, 4 * tile, 2 * tile);
    tree_join(&t->out, &all, (Point){0, tile}, (Point){4 * tile, tile}, row[0], row[1]);
    return ropes;
}

static void a_block_is_found_in_all_eight_placements(void **state) {
    (void)state;
    enum { TILE = 16, SIDE = 4 * TILE };
    const Circle core = {SIDE / 2.0, SIDE / 2.0, SIDE}; /* holds the whole square */
    for (uint64_t seed = 1; seed < 30; seed++) {
        RandomTree t = {.out = tree_new(64), .core = core, .candies = 3, .least = 1, .seed = seed};
        int ropes = lay_all_ways(&t, TILE), made[PLACEMENTS] = {0}, copies = 0, tile = -1;
        Built b = built_of(t.out, SIDE, core);
        check_items(&b);
        check_log(&b);
        Outline first = outline_of_box(0, 0, TILE, TILE);
        for (int i = 0; i < b.blocks.uses; i++) {
            BlockUse use = b.blocks.use[i];
            Outline at = outline_moved(&b.blocks.block[use.block].outline, use.motion);
            if (outline_same(&at, &first, touching)) tile = use.block;
        }
        assert_true(tile >= 0);
        assert_int_equal(b.blocks.block[tile].made, 8);
        for (int i = 0; i < b.blocks.uses; i++) {
            Placement way = b.blocks.use[i].motion.way;
            if (b.blocks.use[i].block == tile) made[way.mirrored * 4 + way.turn]++;
        }
        for (int i = 0; i < PLACEMENTS; i++) assert_int_equal(made[i], 1);
        for (int i = 0; i < b.layup.ropes; i++) copies += b.blocks.copied[i];
        assert_true(copies >= 7 * ropes);
        built_free(&b);
    }
}

/* A square of two ropes, and another beside it, one of whose ropes is wider by so much; both are kept apart
 * from the row by being fine, or one of them by its cut. */
static void check_two(double wider, bool both_fine, int blocks) {
    enum { TILE = 16 };
    const Circle core = {TILE, TILE / 2.0, 2 * TILE};
    LayUp t = tree_new(4);
    int node[2];
    for (int i = 0; i < 2; i++) {
        double x = TILE * i;
        Outline tile = outline_of_box(x, 0, TILE, TILE), upper, lower;
        Point a = {x, 4}, b = {x + TILE, 7 + i * wider};
        assert_true(tree_part(&tile, a, b, &upper, &lower));
        int one = tree_leaf(&t, &upper, 0, core), other = tree_leaf(&t, &lower, 1, core);
        node[i] = tree_join(&t, &tile, a, b, one, other);
        t.node[node[i]].fine = i == 0 || both_fine;
    }
    Outline both = outline_of_box(0, 0, 2 * TILE, TILE);
    tree_join(&t, &both, (Point){TILE, 0}, (Point){TILE, TILE}, node[0], node[1]);
    Built b = built_of(t, 2 * TILE, core);
    assert_int_equal(b.blocks.blocks, blocks);
    assert_int_equal(b.blocks.block[0].made, blocks == 2 ? 2 : 1);
    built_free(&b);
}

static void blocks_that_differ_a_little_are_two(void **state) {
    (void)state;
    check_two(0, true, 2);
    check_two(1e-9, true, 2); /* rounding */
    check_two(1e-5, true, 3);
    check_two(0.5, true, 3);
    check_two(0, false, 3); /* one is fine */
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(motions_are_a_group_over_the_eight_placements),
        cmocka_unit_test(the_log_can_be_built_from_the_blocks_alone),
        cmocka_unit_test(a_log_of_slanted_cuts_can_be_built_from_the_blocks_alone),
        cmocka_unit_test(a_copy_is_cut_by_the_rim_as_the_block_was),
        cmocka_unit_test(equal_blocks_are_built_once),
        cmocka_unit_test(a_block_is_found_in_all_eight_placements),
        cmocka_unit_test(blocks_that_differ_a_little_are_two),
    };
    return cmocka_run_group_tests_name("find_blocks", tests, NULL, NULL);
}
