/* Tests of src/draw/cut_figures.c and src/draw/figures.c. SPDX-License-Identifier: MIT */
#include "draw/bench_pages.h"

#include "slanted_job.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

/* A block of two ropes; steps of 1.5 mm. */
typedef struct Case {
    Outline outline;
    Circle core;
    Point cut[2];
    double scale;
    Units units;
    const char *want; /* cuts with a *, then sides */
} Case;

static const Outline strip = {4, {{0, 0}, {40, 0}, {40, 20}, {0, 20}}};
static const Outline square = {4, {{0, 0}, {40, 0}, {40, 40}, {0, 40}}};
static const Outline taper = {4, {{0, 0}, {30, 0}, {40, 20}, {0, 20}}};
static const Outline clipped = {5, {{0, 0}, {40, 0}, {40, 20}, {0.1, 20}, {0, 19.9}}};
static const Circle far = {20, 10, 100};

static void check(const Case *c) {
    Job job = {.cane.step_mm = 1.5, .grid.core = c->core, .order.units = c->units};
    bool steep = fabs(c->cut[1].y - c->cut[0].y) >= fabs(c->cut[1].x - c->cut[0].x);
    Item item[2] = {{.index = 0}, {.index = 1, .cut = {c->cut[0], c->cut[1]}}};
    Block block = {
        .kind = steep ? BLOCK_ROW : BLOCK_STACK, .outline = c->outline, .items = 2, .scale = c->scale};
    Figures figures;
    char got[200] = "";
    job.blocks.item = item;
    assert_true(outline_disc_box(&block.outline, c->core, &block.low, &block.high));
    cut_figures(&job, &block, 5, &figures);
    for (int i = 0; i < figures.count; i++) {
        strcat(got, i > 0 ? " " : "");
        strcat(got, figures.figure[i].text);
        strcat(got, figures.figure[i].bold ? "*" : "");
    }
    assert_string_equal(got, c->want);
}

static void each_end_of_a_cut_is_measured_along_its_side_from_a_corner(void **state) {
    (void)state;
    const Case cases[] = {
        {strip, far, {{12, 0}, {16, 20}}, 1, UNITS_MM, "18* 24*"},
        {strip, far, {{30, 0}, {24, 20}}, 1, UNITS_MM, "15* 24*"},
        {strip, far, {{12, 0}, {16, 20}}, 2, UNITS_MM, "36* 48*"},
        {strip, far, {{12, 0}, {16, 20}}, 1, UNITS_IN, "23/32* 15/16*"},
        {strip, far, {{0, 4}, {40, 14}}, 1, UNITS_MM, "6* 9*"},
        /* what the items' sizes say, and what is in a corner, needs no measure */
        {strip, far, {{12, 0}, {12, 20}}, 1, UNITS_MM, ""},
        {strip, far, {{0, 6}, {40, 6}}, 1, UNITS_MM, ""},
        {strip, far, {{0, 0}, {16, 20}}, 1, UNITS_MM, "24*"},
        /* nor does what is 0.15 mm off a corner, nor a side of 0.21 mm: hands form neither */
        {strip, far, {{0.1, 0}, {16, 20}}, 1, UNITS_MM, "24*"},
        {clipped, far, {{12, 0}, {16, 20}}, 1, UNITS_MM, "18* 23.9* 59.9 29.9"},
        {clipped, far, {{12, 0}, {16, 20}}, 2, UNITS_MM, "36* 47.7* 119.7 0.4 59.7"}, /* built larger they do
                                                                                       */
        /* of what is no rectangle also the sides, but for its width and height */
        {taper, far, {{12, 0}, {12, 20}}, 1, UNITS_MM, "18* 18* 45 33.5"},
        /* the core's edge takes the upper corners: measured from where it meets the side, 10.83 */
        {strip, {20, 20, 22}, {{14, 0}, {20, 20}}, 1, UNITS_MM, "4.7* 30*"},
        /* only the lower right corner: below the measure is from the left one, though that is farther */
        {strip, {0, 0, 42}, {{34, 0}, {36, 20}}, 1, UNITS_MM, "9* 54*"},
        /* the upper end is beyond the core's edge, at (6.74, 3.71); the edge meets the top at 13.60 */
        {strip, {20, 20, 21}, {{6, 0}, {10, 20}}, 1, UNITS_MM, "11.7* 15*"},
        /* a whole disc: of the square round it, from 5 to 35, which the cut meets at 12.5 and 15.5 */
        {square, {20, 20, 20}, {{12, 0}, {16, 40}}, 1, UNITS_MM, "18* 24*"},
        {square, {20, 20, 15}, {{12, 0}, {16, 40}}, 1, UNITS_MM, "11.3* 15.8*"},
        {square, {20, 20, 15}, {{0, 12}, {40, 12}}, 1, UNITS_MM, ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) check(&cases[i]);
}

/* Of two measures from one corner the longer one's line is farther out. */
static void measures_from_one_corner_have_lines_side_by_side(void **state) {
    (void)state;
    Job job = {.cane.step_mm = 1.5, .grid.core = far};
    Item item[3] = {
        {.index = 0}, {.index = 1, .cut = {{6, 0}, {8, 20}}}, {.index = 2, .cut = {{16, 0}, {14, 20}}}};
    Block block = {.outline = strip, .items = 3, .scale = 1, .high = {40, 20}};
    Figures f;
    job.blocks.item = item;
    cut_figures(&job, &block, 5, &f);
    assert_int_equal(f.count, 4);
    assert_string_equal(f.figure[0].text, "9");
    assert_string_equal(f.figure[2].text, "24");
    assert_true(f.figure[2].mark[0].y < f.figure[0].mark[0].y - 10 && f.figure[0].mark[0].y < -5);
    assert_true(f.figure[3].mark[0].y > f.figure[1].mark[0].y + 10 && f.figure[1].mark[0].y > 105);
}

/* Does a straight line along a side of either text part the two? */
static bool are_apart(const Figure *f, const Figure *g) {
    for (int k = 0; k < 4; k++) {
        double turn = (k < 2 ? f : g)->turn + (k % 2) * PI / 2, reach = 0;
        const Figure *both[2] = {f, g};
        for (int i = 0; i < 2; i++)
            reach +=
                fabs(cos(both[i]->turn - turn)) * both[i]->width / 2 + fabs(sin(both[i]->turn - turn)) * 5;
        if (fabs((f->at.x - g->at.x) * cos(turn) + (f->at.y - g->at.y) * sin(turn)) > reach) return true;
    }
    return false;
}

static void no_figure_covers_another(void **state) {
    (void)state;
    Figurine *const figurine[] = {slanted_crescent, slanted_flag, slanted_leaf};
    int all = 0;
    for (int k = 0; k < 3; k++) {
        BenchJob b;
        assert_true(slanted_build(&b, 48, figurine[k]));
        for (int i = 0; i < b.job.blocks.blocks; i++) {
            Figures f;
            cut_figures(&b.job, &b.job.blocks.block[i], 1.5 * PT_PER_MM, &f);
            all += f.count;
            for (int g = 0; g < f.count; g++)
                for (int h = 0; h < g; h++)
                    if (!are_apart(&f.figure[g], &f.figure[h]))
                        fail_msg("%d, block %d: %s and %s", k, i + 1, f.figure[g].text, f.figure[h].text);
        }
        bench_free(&b);
    }
    assert_true(all > 60);
}

static void figures_of_a_drawing_that_is_too_small_stray(void **state) {
    (void)state;
    Figurine *const figurine[] = {slanted_crescent, slanted_flag, slanted_leaf};
    int large = 0, small = 0;
    for (int k = 0; k < 3; k++) {
        BenchJob b;
        Figures f;
        assert_true(slanted_build(&b, 48, figurine[k]));
        for (int i = 0; i < b.job.blocks.blocks; i++) {
            cut_figures(&b.job, &b.job.blocks.block[i], 6 * PT_PER_MM, &f);
            large += f.strayed;
            cut_figures(&b.job, &b.job.blocks.block[i], 0.3 * PT_PER_MM, &f);
            small += f.strayed;
        }
        bench_free(&b);
    }
    if (small < 5 || large > 0) fail_msg("%d small, %d large", small, large);
}

/* On the edge of what of its place lies inside the core, however the block is turned. */
static void a_blocks_nick_goes_with_it(void **state) {
    (void)state;
    BenchJob b;
    int turned = 0;
    assert_true(bench_build(&b, 64, 3, motif_table, DETAIL_NORMAL, NULL));
    Circle core = b.job.grid.core;
    for (int i = 0; i < b.job.blocks.items; i++) {
        const Item *item = &b.job.blocks.item[i];
        if (!item->is_block) continue;
        Nick nick = block_nick(&b.job, &b.job.blocks.block[item->index]);
        Point at = point_moved(nick.tip, item->motion);
        double off = hypot(at.x - core.x, at.y - core.y) - core.r;
        assert_true(off < 1e-9 && (off > -1e-9 || outline_side(&item->outline, at) == 0));
        turned += item->motion.way.mirrored || item->motion.way.turn;
    }
    assert_true(turned > 0);
    bench_free(&b);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_end_of_a_cut_is_measured_along_its_side_from_a_corner),
        cmocka_unit_test(measures_from_one_corner_have_lines_side_by_side),
        cmocka_unit_test(no_figure_covers_another),
        cmocka_unit_test(figures_of_a_drawing_that_is_too_small_stray),
        cmocka_unit_test(a_blocks_nick_goes_with_it),
    };
    return cmocka_run_group_tests_name("cut_figures", tests, NULL, NULL);
}
