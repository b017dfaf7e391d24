/* Tests of src/bench/plan_builds.c. SPDX-License-Identifier: MIT */
#include "bench_job.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static void near(double got, double want) {
    if (fabs(got - want) > 1e-9 * fabs(want)) fail_msg("got %.12g, want %.12g", got, want);
}

enum { COPIES_MAX = 20 };

/* Block 1 of that width, taken `copies` times by block 2, which is taken `holders` times by the log. */
typedef struct Tree {
    Block block[3];
    Item item[2 * COPIES_MAX];
    Blocks blocks;
} Tree;

static const Cane cane = {.logs = 1, .log_length_mm = 300, .step_mm = 1.5, .key = {.steps = 80}};

static void plan(Tree *t, int width_mm, int copies, int holder_mm, int holders, const Shop *shop) {
    memset(t, 0, sizeof *t);
    for (int i = 0; i < copies; i++) t->item[i] = (Item){.is_block = true, .index = 0};
    for (int i = 0; i < holders; i++) t->item[copies + i] = (Item){.is_block = true, .index = 1};
    t->block[0].high = (Point){4, width_mm / 1.5};
    t->block[1] = (Block){.high = {holder_mm / 1.5, 4}, .items = copies};
    t->block[2] = (Block){.high = {80, 80}, .first_item = copies, .items = holders};
    t->blocks = (Blocks){.blocks = 3, .block = t->block, .items = copies + holders, .item = t->item};
    plan_builds(&cane, shop, &t->blocks);
}

static void a_block_needed_once_is_built_as_it_lies(void **state) {
    (void)state;
    Shop shop = shop_default();
    Tree t;
    plan(&t, 60, 1, 60, 1, &shop);
    for (int i = 0; i < 3; i++) {
        assert_int_equal(t.block[i].way, BUILD_ONCE);
        assert_int_equal(t.block[i].builds, 1);
        assert_int_equal(t.block[i].pieces, 1);
        near(t.block[i].scale, 1);
        near(t.block[i].length_mm, 300);
    }
}

static void a_block_needed_twice_is_built_thicker_and_drawn_out(void **state) {
    (void)state;
    Shop shop = shop_default();
    Tree t;
    plan(&t, 60, 2, 60, 1, &shop);
    assert_int_equal(t.block[0].way, BUILD_THICKER);
    assert_int_equal(t.block[0].builds, 1);
    assert_int_equal(t.block[0].pieces, 2);
    near(t.block[0].scale, sqrt(2));
    near(t.block[0].length_mm, 300 / 0.88); /* the ends are lost: 12 % */
    near(t.block[0].piece_mm, 300);
}

static void a_block_too_wide_to_be_thicker_is_built_longer(void **state) {
    (void)state;
    Shop shop = shop_default();
    Tree t;
    plan(&t, 72, 2, 72, 1, &shop); /* 72 sqrt(2) = 102 mm, over 100 */
    assert_int_equal(t.block[0].way, BUILD_LONGER);
    near(t.block[0].scale, 1);
    near(t.block[0].length_mm, 600);
    plan(&t, 69, 2, 69, 1, &shop); /* 97.6 mm */
    assert_int_equal(t.block[0].way, BUILD_THICKER);
    shop.lump_length_min_mm = 400;
    plan(&t, 69, 2, 69, 1, &shop); /* 341 mm is too short to be drawn out in this shop */
    assert_int_equal(t.block[0].way, BUILD_LONGER);
}

static void what_lies_inside_the_core_is_as_wide_as_its_box_is_long(void **state) {
    (void)state;
    Shop shop = shop_default();
    Tree t;
    plan(&t, 60, 2, 60, 1, &shop);
    assert_int_equal(t.block[0].way, BUILD_THICKER);
    t.block[0].outline = outline_of_box(0, 0, 80, 80); /* whole: most of it lies outside the core */
    plan_builds(&cane, &shop, &t.blocks);
    assert_int_equal(t.block[0].way, BUILD_THICKER);
    t.block[0].low = (Point){8, 30};
    t.block[0].high = (Point){8 + 72 / 1.5, 34}; /* 72 sqrt(2) = 102 mm */
    plan_builds(&cane, &shop, &t.blocks);
    assert_int_equal(t.block[0].way, BUILD_LONGER);
}

static void a_block_neither_thicker_nor_longer_is_built_each_time(void **state) {
    (void)state;
    Shop shop = shop_default();
    Tree t;
    plan(&t, 72, 6, 72, 1, &shop);
    assert_int_equal(t.block[0].way, BUILD_LONGER); /* 1.8 m on a bench of 2 m */
    plan(&t, 72, 7, 72, 1, &shop);
    assert_int_equal(t.block[0].way, BUILD_EACH);
    assert_int_equal(t.block[0].builds, 7);
    near(t.block[0].length_mm, 300);
    near(t.block[0].scale, 1);
}

static void a_block_in_a_thicker_one_is_as_thick(void **state) {
    (void)state;
    Shop shop = shop_default();
    Tree t;
    plan(&t, 30, 1, 60, 2, &shop);
    assert_int_equal(t.block[1].way, BUILD_THICKER);
    assert_int_equal(t.block[0].way, BUILD_ONCE);
    near(t.block[0].scale, sqrt(2));
    near(t.block[0].length_mm, 300 / 0.88);
    plan(&t, 30, 3, 60, 2, &shop); /* 3 pieces, each of them sqrt(2) thick */
    assert_int_equal(t.block[0].pieces, 3);
    near(t.block[0].scale, sqrt(6));
    near(t.block[0].length_mm, 300 / 0.88 / 0.88);
}

static void what_is_built_each_time_needs_its_blocks_each_time(void **state) {
    (void)state;
    Shop shop = shop_default();
    Tree t;
    plan(&t, 72, 2, 72, 7, &shop);
    assert_int_equal(t.block[1].builds, 7);
    assert_int_equal(t.block[0].pieces, 14);
    assert_int_equal(t.block[0].builds, 14);
}

static void the_volume_built_is_that_of_the_uses(void **state) {
    (void)state;
    Shop shop = shop_default();
    shop.lost_share = 0;
    Motif *const motifs[] = {motif_blob, motif_table, motif_squares};
    int copied = 0;
    for (int m = 0; m < 6; m++) {
        BenchJob b;
        assert_true(bench_build(&b, m < 3 ? 56 : 64, 8, motifs[m % 3], DETAIL_FINE, &shop));
        const Blocks *blocks = &b.job.blocks;
        for (int i = 0; i < blocks->blocks; i++) {
            const Block *block = &blocks->block[i];
            near(block->builds * pow(block->scale, 2) * block->length_mm, block->made * 308.0);
            assert_true(block->scale >= 1);
            copied += block->way != BUILD_ONCE;
        }
        bench_free(&b);
    }
    assert_true(copied > 2);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_block_needed_once_is_built_as_it_lies),
        cmocka_unit_test(a_block_needed_twice_is_built_thicker_and_drawn_out),
        cmocka_unit_test(a_block_too_wide_to_be_thicker_is_built_longer),
        cmocka_unit_test(what_lies_inside_the_core_is_as_wide_as_its_box_is_long),
        cmocka_unit_test(a_block_neither_thicker_nor_longer_is_built_each_time),
        cmocka_unit_test(a_block_in_a_thicker_one_is_as_thick),
        cmocka_unit_test(what_is_built_each_time_needs_its_blocks_each_time),
        cmocka_unit_test(the_volume_built_is_that_of_the_uses),
    };
    return cmocka_run_group_tests_name("plan_builds", tests, NULL, NULL);
}
