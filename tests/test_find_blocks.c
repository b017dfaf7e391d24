/* Tests of src/plan/find_blocks.c, src/plan/way_round.c and src/model/layup.c. SPDX-License-Identifier: MIT
 */
#include "plan/plan.h"
#include "base/mem.h"
#include "wanted.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <stdint.h>
#include <cmocka.h>

typedef struct Built {
    Grid grid;
    LayUp layup;
    Blocks blocks;
} Built;

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
    LayKey key = {.detail = DETAIL_FINE};
    assert_true(lay_up(&b.grid, &key, &b.layup, &err));
    assert_true(find_blocks(&b.grid, &b.layup, &b.blocks, &err));
    return b;
}

static void built_free(Built *b) {
    grid_free(&b->grid);
    layup_free(&b->layup);
    blocks_free(&b->blocks);
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

static Placement placement_undone(Placement way) {
    return way.mirrored ? way : (Placement){false, (4 - way.turn) % 4};
}

static void placements_are_a_group_of_eight(void **state) {
    (void)state;
    Box outer = {10, 20, 7, 4}, inner = {11, 22, 2, 1};
    for (int i = 0; i < PLACEMENTS; i++) {
        Placement way = placement(i), undo = placement_undone(way);
        Box placed = box_placed(inner, outer, way);
        Box around = way.turn % 2 ? (Box){10, 20, 4, 7} : outer, back = box_placed(placed, around, undo);
        assert_memory_equal(&back, &inner, sizeof back);
        for (int corner = 0; corner < 4; corner++)
            assert_int_equal(corner_placed(corner_placed((Corner)corner, way), undo), corner);
        for (int j = 0; j < PLACEMENTS; j++) {
            Placement both = placement_after(way, placement(j));
            Box one = box_placed(inner, outer, both), two = box_placed(placed, around, placement(j));
            assert_memory_equal(&one, &two, sizeof one);
        }
    }
    assert_int_equal(corner_placed(CORNER_TL, (Placement){false, 1}), CORNER_TR);
    assert_int_equal(corner_placed(CORNER_TL, (Placement){true, 0}), CORNER_TR);
}

/* The slot is as high as the row, or what is missing above and below lies outside the core. */
static bool fills_height(const Grid *grid, Box slot, Box row) {
    Box above = {slot.x, row.y, slot.w, slot.y - row.y}, below = {slot.x, slot.y + slot.h, slot.w, 0};
    below.h = row.y + row.h - below.y;
    return above.h >= 0 && below.h >= 0 && (above.h == 0 || box_outside_disc(above, grid->core)) &&
           (below.h == 0 || box_outside_disc(below, grid->core));
}

static bool fills_width(const Grid *grid, Box slot, Box stack) {
    return fills_height(grid, (Box){slot.y, slot.x, slot.h, slot.w},
                        (Box){stack.y, stack.x, stack.h, stack.w});
}

/* In a row all slots are as high as the row, in a stack as wide as the stack, and they follow one another. */
static void every_join_is_two_flat_faces_of_equal_length(void **state) {
    (void)state;
    for (uint64_t seed = 1; seed < 30; seed++) {
        Built b = random_build(38 + (int)seed % 9, seed);
        for (int i = 0; i < b.blocks.blocks; i++) {
            const Block *block = &b.blocks.block[i];
            assert_true(block->items >= 2);
            for (int j = block->first_item; j < block->first_item + block->items; j++) {
                Box slot = b.blocks.item[j].slot,
                    before = j > block->first_item ? b.blocks.item[j - 1].slot : slot;
                if (block->kind == BLOCK_ROW) assert_true(fills_height(&b.grid, slot, block->box));
                if (block->kind == BLOCK_STACK) assert_true(fills_width(&b.grid, slot, block->box));
                if (block->kind == BLOCK_PAIR) assert_memory_equal(&slot, &block->box, sizeof slot);
                if (j == block->first_item || block->kind == BLOCK_PAIR) continue;
                assert_true(block->kind == BLOCK_ROW ? slot.x >= before.x + before.w
                                                     : slot.y >= before.y + before.h);
                assert_false(b.blocks.item[j].is_block && b.blocks.item[j].index >= i);
            }
        }
        built_free(&b);
    }
}

/* Paints the log from the blocks alone, following items and placements, as a builder would. */
static void paint_block(const Built *b, int index, Box at, Placement way, int *cell) {
    const Block *block = &b->blocks.block[index];
    for (int i = block->first_item; i < block->first_item + block->items; i++) {
        Item item = b->blocks.item[i];
        Box slot = box_placed(item.slot, block->box, way);
        slot.x += at.x - block->box.x;
        slot.y += at.y - block->box.y;
        if (item.is_block) {
            paint_block(b, item.index, slot, placement_after(item.way, way), cell);
            continue;
        }
        const Rope *rope = &b->layup.rope[item.index];
        Corner corner = corner_placed(rope->corner, way);
        for (int y = slot.y; y < slot.y + slot.h; y++)
            for (int x = slot.x; x < slot.x + slot.w; x++)
                cell[y * b->grid.steps + x] +=
                    rope->shape == SHAPE_STRIP ? 1000 + rope->candy : 500 + 50 * (int)corner + rope->candy;
    }
}

static void the_log_can_be_built_from_the_blocks_alone(void **state) {
    (void)state;
    int copies = 0;
    for (uint64_t seed = 1; seed < 40; seed++) {
        Built b = random_build(40 + (int)seed % 8, seed);
        int n = b.grid.steps, *got = calloc((size_t)n * n, sizeof *got),
            *want = calloc((size_t)n * n, sizeof *want);
        int root = b.blocks.blocks - 1;
        paint_block(&b, root, b.blocks.block[root].box, (Placement){0}, got);
        for (int i = 0; i < b.layup.ropes; i++) {
            const Rope *rope = &b.layup.rope[i];
            for (int y = rope->box.y; y < rope->box.y + rope->box.h; y++)
                for (int x = rope->box.x; x < rope->box.x + rope->box.w; x++)
                    want[y * n + x] += rope->shape == SHAPE_STRIP
                                           ? 1000 + rope->candy
                                           : 500 + 50 * (int)rope->corner + rope->candy;
            copies += b.blocks.copied[i];
        }
        assert_memory_equal(got, want, sizeof *got * (size_t)n * n);
        free(got);
        free(want);
        built_free(&b);
    }
    assert_true(copies > 20);
}

/* A straight rope's section is cut by the rim as the block's was, so the core lies about both alike. */
static void a_copy_is_cut_by_the_rim_as_the_block_was(void **state) {
    (void)state;
    int cut = 0;
    for (uint64_t seed = 1; seed < 40; seed++) {
        Built b = build_thrown(44 + (int)seed % 8, seed, true);
        for (int i = 0; i < b.blocks.uses; i++) {
            BlockUse use = b.blocks.use[i];
            Box box = b.blocks.block[use.block].box, square = {0, 0, b.grid.steps, b.grid.steps};
            Box placed = box_placed(square, box, use.way); /* the core's square, laid with the block */
            bool rim = false;
            for (int r = 0; r < b.layup.ropes; r++) {
                Box rope = b.layup.rope[r].box;
                rim = rim || (b.layup.rope[r].rim && rope.x >= box.x && rope.y >= box.y &&
                              rope.x + rope.w <= box.x + box.w && rope.y + rope.h <= box.y + box.h);
            }
            if (!rim) continue;
            assert_int_equal(placed.x + use.box.x - box.x, 0);
            assert_int_equal(placed.y + use.box.y - box.y, 0);
            cut += use.way.mirrored || use.way.turn;
        }
        built_free(&b);
    }
    assert_true(cut > 3);
}

static void equal_blocks_are_built_once(void **state) {
    (void)state;
    static const char *const twins[] = {"............", ".###....###.", ".#........#.", ".##......##.",
                                        ".#........#.", ".#........#.", "............"};
    Built b = built_from(64, 4, twins, 7);
    int copies = 0, made = 0;
    for (int i = 0; i < b.layup.ropes; i++) copies += b.blocks.copied[i];
    for (int i = 0; i < b.blocks.uses; i++) made += b.blocks.use[i].way.mirrored;
    assert_true(copies >= 6);
    assert_true(made >= 1);
    int uses = 0;
    for (int i = 0; i < b.blocks.blocks; i++) uses += b.blocks.block[i].made;
    assert_int_equal(uses, b.blocks.uses);
    built_free(&b);
}

/* --- Which way round: letters of 4 x 5 or 5 x 5 or more squares, each a block beside others --- */

typedef struct Letter {
    const char *row[7];
    bool mirrored, turned;
} Letter;

typedef struct Tree {
    LayUp layup;
    int scale, left, top;
} Tree;

static int add(Tree *t, Node node) {
    t->layup.node[t->layup.nodes] = node;
    return t->layup.nodes++;
}

/* Columns from..to of the text as a stack of rows of one strip a character; returns the node. */
static int lay_text(Tree *t, const char *const *row, int from, int to) {
    int stack = -1, s = t->scale;
    for (int y = 0; y < 7; y++) {
        int line = -1;
        for (int x = from; x < to; x++) {
            Box box = {t->left + x * s, t->top + y * s, s, s};
            int candy = row[y][x] == '#' ? 1 : row[y][x] == 'o' ? 2 : 0;
            t->layup.rope[t->layup.ropes] = (Rope){.box = box, .candy = candy, .area = s * s};
            int strip = add(t, (Node){NODE_STRIP, box, t->layup.ropes++, -1, false});
            Box both = {t->left + from * s, box.y, (x - from + 1) * s, s};
            line = x == from ? strip : add(t, (Node){NODE_ROW, both, line, strip, false});
        }
        Box all = {t->left + from * s, t->top, (to - from) * s, (y + 1) * s};
        stack = y == 0 ? line : add(t, (Node){NODE_STACK, all, stack, line, false});
    }
    return stack;
}

/* The letter, its first `columns` columns, is a block beside a sign that no turn and no mirror leaves as it
 * is. */
static Built letter_beside_sign(const char *const *row, int columns) {
    Err err = {0};
    enum { N = 80, SIGN = 11, CELLS = 7 * (7 + SIGN) };
    int all = columns + SIGN;
    Tree t = {.scale = 4, .left = (N - all * 4) / 2, .top = (N - 7 * 4) / 2};
    t.layup.node = mem_alloc(4 * CELLS, sizeof(Node), &err);
    t.layup.rope = mem_alloc(CELLS, sizeof(Rope), &err);
    int letter = lay_text(&t, row, 0, columns), sign = lay_text(&t, row, columns, all);
    (void)add(&t, (Node){NODE_ROW, {t.left, t.top, all * 4, 28}, letter, sign, false});
    Built b = {.grid = {.steps = N, .least_steps = 4, .candies = 3, .core = {N / 2.0, N / 2.0, N / 2.0}}};
    b.layup = t.layup;
    assert_true(find_blocks(&b.grid, &b.layup, &b.blocks, &err));
    return b;
}

static const Block *letter_block(const Built *b, int columns) {
    Box want = {(80 - (columns + 11) * 4) / 2, 26, columns * 4, 28};
    for (int i = 0; i < b->blocks.uses; i++)
        if (memcmp(&b->blocks.use[i].box, &want, sizeof want) == 0)
            return &b->blocks.block[b->blocks.use[i].block];
    return NULL;
}

/* What the four placements of a slot that is no square show of a letter: as it is, turned by a half, end for
 * end (left and right change places), end for end and turned by a half (top and bottom change places). */
static unsigned harmless_placements(const char *const *row) {
    unsigned same = 15;
    for (int y = 0; y < 7; y++)
        for (int x = 0; x < 5; x++) {
            if (row[y][x] != row[6 - y][4 - x]) same &= ~2u;
            if (row[y][x] != row[y][4 - x]) same &= ~4u;
            if (row[y][x] != row[6 - y][x]) same &= ~8u;
        }
    return same;
}

/* The block of the letter in its log, to be asked for its risks. */
static void check_letter(char name, const char *const *letter, int columns, bool mirrored, bool turned) {
    char text[7][24];
    const char *row[7];
    for (int y = 0; y < 7; y++) {
        (void)snprintf(text[y], sizeof text[y], "%s.oo.%s", letter[y],
                       y == 0   ? "ooooooo"
                       : y == 3 ? "oooo..."
                                : "oo.....");
        row[y] = text[y];
    }
    Built b = letter_beside_sign(row, columns);
    const Block *block = letter_block(&b, columns);
    if (!block)
        fail_msg("%c: the letter is no block of its own", name);
    else if (block->mirrored_risk != mirrored || block->turned_risk != turned)
        fail_msg("%c: mirrored %d, turned %d", name, block->mirrored_risk, block->turned_risk);
    built_free(&b);
}

static void letters_are_known_to_be_at_risk_or_not(void **state) {
    (void)state;
    static const struct {
        char name;
        Letter letter;
    } rows[] = {
        {'A', {{".###.", "#...#", "#...#", "#####", "#...#", "#...#", "#...#"}, false, true}},
        {'B', {{"####.", "#...#", "#...#", "####.", "#...#", "#...#", "####."}, false, true}},
        {'C', {{".####", "#....", "#....", "#....", "#....", "#....", ".####"}, false, true}},
        {'D', {{"####.", "#...#", "#...#", "#...#", "#...#", "#...#", "####."}, false, true}},
        {'E', {{"#####", "#....", "#....", "####.", "#....", "#....", "#####"}, false, true}},
        {'H', {{"#...#", "#...#", "#...#", "#####", "#...#", "#...#", "#...#"}, false, false}},
        {'I', {{"#####", "..#..", "..#..", "..#..", "..#..", "..#..", "#####"}, false, false}},
        {'K', {{"#...#", "#..#.", "#.#..", "##...", "#.#..", "#..#.", "#...#"}, false, true}},
        {'M', {{"#...#", "##.##", "#.#.#", "#...#", "#...#", "#...#", "#...#"}, false, true}},
        {'O', {{".###.", "#...#", "#...#", "#...#", "#...#", "#...#", ".###."}, false, false}},
        {'T', {{"#####", "..#..", "..#..", "..#..", "..#..", "..#..", "..#.."}, false, true}},
        {'U', {{"#...#", "#...#", "#...#", "#...#", "#...#", "#...#", ".###."}, false, true}},
        {'V', {{"#...#", "#...#", "#...#", "#...#", ".#.#.", ".#.#.", "..#.."}, false, true}},
        {'W', {{"#...#", "#...#", "#...#", "#...#", "#.#.#", "##.##", "#...#"}, false, true}},
        {'X', {{"#...#", ".#.#.", ".#.#.", "..#..", ".#.#.", ".#.#.", "#...#"}, false, false}},
        {'Y', {{"#...#", ".#.#.", ".#.#.", "..#..", "..#..", "..#..", "..#.."}, false, true}},
        {'F', {{"#####", "#....", "#....", "####.", "#....", "#....", "#...."}, true, true}},
        {'G', {{".####", "#....", "#....", "#.###", "#...#", "#...#", ".####"}, true, true}},
        {'J', {{"..###", "...#.", "...#.", "...#.", "...#.", "#..#.", ".##.."}, true, true}},
        {'L', {{"#....", "#....", "#....", "#....", "#....", "#....", "#####"}, true, true}},
        {'N', {{"#...#", "##..#", "##..#", "#.#.#", "#..##", "#..##", "#...#"}, true, false}},
        {'P', {{"####.", "#...#", "#...#", "####.", "#....", "#....", "#...."}, true, true}},
        {'Q', {{".###.", "#...#", "#...#", "#...#", "#.#.#", "#..#.", ".##.#"}, true, true}},
        {'R', {{"####.", "#...#", "#...#", "####.", "#.#..", "#..#.", "#...#"}, true, true}},
        {'S', {{".####", "#....", "#....", ".###.", "....#", "....#", "####."}, true, false}},
        {'Z', {{"#####", "....#", "...#.", "..#..", ".#...", "#....", "#####"}, true, false}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_letter(rows[i].name, rows[i].letter.row, 5, rows[i].letter.mirrored, rows[i].letter.turned);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        static const struct {
            const char *letters;
            unsigned same;
        } classes[] = {{"HIOX", 15}, {"AMTUVWY", 1 + 4}, {"BCDEK", 1 + 8}, {"NSZ", 1 + 2}, {"FGJLPQR", 1}};
        unsigned same = harmless_placements(rows[i].letter.row), want = 0;
        for (size_t c = 0; c < sizeof classes / sizeof *classes; c++)
            if (strchr(classes[c].letters, rows[i].name)) want = classes[c].same;
        if (same != want) fail_msg("%c keeps its look in %u, not %u", rows[i].name, same, want);
        assert_int_equal(rows[i].letter.mirrored, (same & 12) == 0);
        assert_int_equal(rows[i].letter.turned, !(same & 2));
    }
}

/* Their own mirror images about the diagonal if they are drawn so, in a square slot, which four more
 * placements fit.
 */
static void l_and_q_can_be_put_right_by_a_quarter_turn_if_their_diagonal_is_exact(void **state) {
    (void)state;
    static const char *const l[] = {"#......", "#......", "#......", "#......",
                                    "#......", "#......", "#######"};
    static const char *const bent[] = {"#......", "#......", "#......", "#......",
                                       "#......", "#......", "######."};
    static const char *const q[] = {"..###..", ".#...#.", "#.....#", "#.....#",
                                    "#...#.#", ".#...#.", "..###.#"};
    static const char *const tail[] = {"..###..", ".#...#.", "#.....#", "#.....#",
                                       "#...#.#", ".#...#.", "..###.."};
    check_letter('L', l, 7, false, true);
    check_letter('l', bent, 7, true, true);
    check_letter('Q', q, 7, false, true);
    check_letter('q', tail, 7, false, true);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(placements_are_a_group_of_eight),
        cmocka_unit_test(every_join_is_two_flat_faces_of_equal_length),
        cmocka_unit_test(the_log_can_be_built_from_the_blocks_alone),
        cmocka_unit_test(a_copy_is_cut_by_the_rim_as_the_block_was),
        cmocka_unit_test(equal_blocks_are_built_once),
        cmocka_unit_test(letters_are_known_to_be_at_risk_or_not),
        cmocka_unit_test(l_and_q_can_be_put_right_by_a_quarter_turn_if_their_diagonal_is_exact),
    };
    return cmocka_run_group_tests_name("find_blocks", tests, NULL, NULL);
}
