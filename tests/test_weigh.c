/* Tests of src/bench/weigh.c. SPDX-License-Identifier: MIT */
#include "plan/plan.h"
#include "base/mem.h"
#include "model/section.h"
#include "random_tree.h"
#include "wanted.h"
#include "bench/bench.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <stdint.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

typedef struct Log {
    Palette palette;
    Cane cane;
    Grid grid;
    Shop shop;
    LayUp layup;
    Blocks blocks;
    Bill bill;
} Log;

static void weigh_log(Log *log) {
    Err err = {0};
    Order order = order_default();
    bill_free(&log->bill);
    assert_true(weigh(&order, &log->palette, &log->cane, &log->grid, &log->shop, &log->blocks, &log->layup,
                      &log->bill, &err));
}

/* A log 64 steps of 1.5 mm across with a blob and a bar on it, one ring, a jacket of two candies. */
static Log made_log(double ring_steps) {
    Err err = {0};
    Log log = {.shop = shop_default()};
    const Candy *stock = log.shop.stock.candy;
    log.palette = (Palette){.count = 3,
                            .candy = {stock[0], stock[2], stock[14]},
                            .jackets = 2,
                            .jacket = {stock[0], stock[4]},
                            .stripes = 8};
    log.cane = (Cane){.logs = 2,
                      .pieces = 1800,
                      .log_diameter_mm = 96 / 0.9,
                      .core_diameter_mm = 96,
                      .log_length_mm = 310,
                      .step_mm = 1.5,
                      .key = {.steps = 64, .least_steps = 4}};
    log.cane.volume_ml = PI / 4 * pow(log.cane.log_diameter_mm, 2) * 310 / 1000;
    log.grid = (Grid){.steps = 64, .least_steps = 4, .candies = 3, .core = {32, 32, 32 - ring_steps}};
    if (ring_steps > 0) {
        log.grid.rings = 1;
        log.grid.ring[0] = (Ring){1, 32, 32 - ring_steps};
    }
    log.grid.cost = mem_alloc(3 * 64 * 64, sizeof *log.grid.cost, &err);
    for (int i = 0; i < 3 * 64 * 64; i++) {
        int k = i / 4096, x = i % 64, y = i / 64 % 64;
        int candy = hypot(x - 24, y - 30) < 12 ? 1 : x > 40 && x < 50 && y > 6 ? 2 : 0;
        bool outside = box_outside_disc((Box){x, y, 1, 1}, log.grid.core);
        log.grid.cost[i] = outside || k == candy ? 0 : COST_ONE;
    }
    want_the_cheapest(&log.grid);
    LayKey key = lay_key(DETAIL_NORMAL, 0);
    assert_true(lay_up(&log.grid, &key, &log.layup, &err));
    assert_true(find_blocks(&log.grid, &log.layup, &log.blocks, &err));
    weigh_log(&log);
    return log;
}

static void log_free(Log *log) {
    grid_free(&log->grid);
    layup_free(&log->layup);
    blocks_free(&log->blocks);
    bill_free(&log->bill);
}

static void ropes_trims_and_rings_add_up_to_the_core(void **state) {
    (void)state;
    for (int ring = 0; ring < 5; ring += 4) {
        Log log = made_log(ring);
        double mass[3] = {0}, want[3] = {0}, area = 0;
        for (int i = 0; i < log.bill.rope_types; i++) {
            const RopeRow *row = &log.bill.rope[i];
            mass[row->candy] += row->mass_g;
            area += row->count * outline_area(&row->section);
        }
        for (int i = 0; i < log.bill.wraps; i++)
            for (int k = 0; k < 3; k++)
                if (log.bill.wrap[i].kind != WRAP_STRIPE && log.bill.wrap[i].candy.density_g_ml > 0 &&
                    log.bill.wrap[i].candy.srgb.g == log.palette.candy[k].srgb.g)
                    mass[k] += log.bill.wrap[i].mass_g;
        for (int i = 0; i < log.layup.ropes; i++)
            want[log.layup.rope[i].candy] += log.layup.rope[i].area * 2.25 * 0.310 *
                                             log.palette.candy[log.layup.rope[i].candy].density_g_ml;
        if (ring) want[1] += PI * (32 * 32 - 28 * 28) * 2.25 * 0.310 * log.palette.candy[1].density_g_ml;
        double trims = 0, all = 0;
        for (int i = 0; i < log.layup.ropes; i++) {
            trims += log.layup.rope[i].trim ? log.layup.rope[i].area * 2.25 : 0;
            all += log.layup.rope[i].area * 2.25;
        }
        for (int k = 0; k < 3; k++) near(mass[k], want[k], 1e-9 * want[k]);
        near(area, all - trims, 0.01 * log.layup.ropes * 50); /* the list's sizes are rounded to 1/100 mm */
        near(all, PI * pow(48 - 1.5 * ring, 2), 1e-6);
        log_free(&log);
    }
}

static void materials_add_up_to_the_logs(void **state) {
    (void)state;
    Log log = made_log(4);
    double share = 0, volume = 0, mass = 0;
    for (int i = 0; i < log.bill.materials; i++) {
        const MaterialRow *row = &log.bill.material[i];
        share += row->share_of_log;
        volume += row->volume_ml;
        mass += row->mass_g;
        near(row->with_spare_g, row->mass_g * 1.05, 1e-9);
        near(row->mass_g, row->volume_ml * row->candy.density_g_ml, 1e-9);
    }
    assert_int_equal(log.bill.materials, 4); /* three of the picture, and the jacket's red */
    near(share, 1, 1e-9);
    near(volume, log.cane.volume_ml * 2, 1e-6);
    near(mass, log.bill.log_mass_g * 2, 1e-6);
    near(log.bill.piece_mass_g * 1800, mass * 0.88, 1e-6);
    log_free(&log);
}

static void equal_ropes_are_one_type(void **state) {
    (void)state;
    Log log = made_log(0);
    int count = 0;
    for (int i = 0; i < log.bill.rope_types; i++) {
        const RopeRow *row = &log.bill.rope[i];
        count += row->count;
        assert_true(row->width_mm >= row->height_mm && row->count > 0);
        for (int j = 0; j < i; j++) {
            const RopeRow *other = &log.bill.rope[j];
            assert_false(row->candy == other->candy && row->shape == other->shape && row->rim == other->rim &&
                         outline_same(&row->section, &other->section, 0.005));
        }
    }
    assert_int_equal(count, log.layup.laid);
    int made = 0;
    for (int i = 0; i < log.bill.rope_types; i++) made += log.bill.rope[i].made;
    assert_int_equal(made, log.bill.ropes_made);
    for (int i = 0; i < log.layup.ropes; i++) {
        const Rope *rope = &log.layup.rope[i];
        assert_true(rope->trim ? rope->type == -1 : log.bill.rope[rope->type].candy == rope->candy);
    }
    log_free(&log);
}

/* The log with another lay-up in it, without blocks; takes the lay-up over. */
static void lay_anew(Log *log, LayUp layup) {
    blocks_free(&log->blocks);
    layup_free(&log->layup);
    log->layup = layup;
    weigh_log(log);
}

/* Turned by any angle, perhaps mirrored. */
static Outline moved_at_random(const Outline *o, uint64_t *seed) {
    double turn = random_below(seed, 100000) / 100000.0 * 7, c = cos(turn), s = sin(turn);
    bool mirrored = random_below(seed, 2);
    int first = random_below(seed, o->corners);
    Outline out = {.corners = o->corners};
    for (int i = 0; i < o->corners; i++) {
        Point p = o->corner[(first + (mirrored ? o->corners - i : i)) % o->corners];
        if (mirrored) p.x = -p.x;
        out.corner[i] = (Point){p.x * c - p.y * s + 11, p.x * s + p.y * c + 3};
    }
    return out;
}

/* Every sixth rope is one of six sections, no two of which lie on each other, turned and mirrored as it
 * comes; the last two differ by 0.02 steps, that is 0.03 mm, in one side. */
static void ropes_that_can_be_laid_on_each_other_are_one_type(void **state) {
    (void)state;
    static const Outline kind[] = {{4, {{0, 0}, {8, 0}, {8, 5}, {0, 5}}},
                                   {3, {{0, 0}, {8, 0}, {3, 5}}},
                                   {3, {{0, 0}, {8, 0}, {0, 5}}},
                                   {4, {{0, 0}, {8, 0}, {9.5, 5}, {-1, 5}}},
                                   {5, {{0, 0}, {8, 0}, {8, 3}, {6, 5}, {0, 5}}},
                                   {5, {{0, 0}, {8, 0}, {8, 3}, {6.02, 5}, {0, 5}}}};
    enum { KINDS = sizeof kind / sizeof *kind, ROPES = 40 * KINDS };
    Log log = made_log(0);
    LayUp layup = tree_new(ROPES);
    uint64_t seed = 3;
    for (int i = 0; i < ROPES; i++) {
        Outline outline = moved_at_random(&kind[i % KINDS], &seed);
        layup.rope[layup.ropes++] = (Rope){.outline = outline, .area = outline_area(&outline)};
    }
    lay_anew(&log, layup);
    assert_int_equal(log.bill.rope_types, KINDS);
    for (int i = 0; i < ROPES; i++) assert_int_equal(log.layup.rope[i].type, log.layup.rope[i % KINDS].type);
    for (int i = 0; i < KINDS; i++) {
        const RopeRow *row = &log.bill.rope[i];
        assert_int_equal(row->count, 40);
        assert_true(
            i == 0 || row[-1].shape < row->shape ||
            (row[-1].shape == row->shape && outline_area(&row[-1].section) >= outline_area(&row->section)));
    }
    const RopeRow *strip = &log.bill.rope[0];
    near(strip->width_mm, 12, 0);
    near(strip->height_mm, 7.5, 0);
    assert_int_equal(strip->shape, SHAPE_STRIP);
    assert_int_equal(log.bill.rope[KINDS - 1].shape, SHAPE_CORNER_CUT);
    log_free(&log);
}

static double area_of_ropes(const Log *log) {
    double area = 0;
    for (int i = 0; i < log->layup.ropes; i++) area += log->layup.rope[i].area * 2.25;
    return area;
}

/* Weighs ropes with these outlines, in mm, of one candy; returns how many types they are. */
static int rows_of(Log *log, const Outline *mm, int ropes) {
    LayUp layup = tree_new(ropes);
    for (int i = 0; i < ropes; i++) {
        Outline outline = section_scaled(&mm[i], 1 / 1.5);
        layup.rope[layup.ropes++] = (Rope){.outline = outline, .area = outline_area(&outline)};
    }
    lay_anew(log, layup);
    return log->bill.rope_types;
}

/* Of 48 x 20 mm: the first tapers by 0.5 mm on one side, the second by 0.4 mm on both, the third leans by 0.5
 * mm, the fourth stands on end and tapers by 0.4 mm; with the fifth, which is a strip, they are one type. */
static void a_taper_that_no_hand_sees_is_a_plain_strip(void **state) {
    (void)state;
    static const Outline like[] = {{4, {{0, 0}, {47.75, 0}, {48.25, 20}, {0, 20}}},
                                   {4, {{0.2, 0}, {47.8, 0}, {48.2, 20}, {-0.2, 20}}},
                                   {4, {{0, 0}, {48, 0}, {48.5, 20}, {0.5, 20}}},
                                   {4, {{0, 0}, {20.2, 0}, {19.8, 48}, {0, 48}}},
                                   {4, {{0, 0}, {48, 0}, {48, 20}, {0, 20}}}};
    Log log = made_log(0);
    assert_int_equal(rows_of(&log, like, 5), 1);
    const RopeRow *row = log.bill.rope;
    assert_int_equal(row->shape, SHAPE_STRIP);
    assert_int_equal(row->count, 5);
    near(row->width_mm, 48, 1e-9);
    near(row->height_mm, 20, 1e-9);
    near(row->mass_g, area_of_ropes(&log) * 0.310 * log.palette.candy[0].density_g_ml, 1e-9 * row->mass_g);
    log_free(&log);
}

/* Corners 0.35 mm from a rectangle's; and what is no taper at all keeps its own sides to 1/100 mm. */
static void a_taper_that_is_seen_is_told(void **state) {
    (void)state;
    static const Outline seen[] = {{4, {{0, 0}, {47.65, 0}, {48.35, 20}, {0, 20}}},
                                   {4, {{0, 0}, {40.04, 0}, {40.04, 10.03}, {0, 10.03}}},
                                   {3, {{0, 0}, {30, 0}, {0, 0.5}}}};
    Log log = made_log(0);
    assert_int_equal(rows_of(&log, seen, 3), 3);
    const RopeRow *row = log.bill.rope;
    assert_int_equal(row[0].shape, SHAPE_STRIP);
    near(row[0].width_mm, 40.04, 1e-9);
    near(row[0].height_mm, 10.03, 1e-9);
    assert_int_equal(row[1].shape, SHAPE_WEDGE);
    assert_int_equal(row[2].shape, SHAPE_TAPERED);
    log_free(&log);
}

/* Rounding both sides of the first, 30.1 x 2.46 mm but for its taper, would make it 1.6 % larger; of the
 * second, which is nearly square, the side rounded is the shorter then. */
static void a_strip_is_rounded_but_keeps_its_area(void **state) {
    (void)state;
    static const Outline thin[] = {{4, {{0, 0}, {30, 0}, {30.2, 2.46}, {0, 2.46}}},
                                   {4, {{0, 0}, {2.94, 0}, {3.14, 3.03}, {0, 3.03}}}};
    Log log = made_log(0);
    assert_int_equal(rows_of(&log, thin, 2), 2);
    near(log.bill.rope[0].width_mm, 30.1, 1e-9);
    near(log.bill.rope[0].height_mm, 2.46, 1e-9);
    near(log.bill.rope[1].width_mm, 3.07, 1e-9);
    near(log.bill.rope[1].height_mm, 3, 1e-9);
    log_free(&log);
}

/* Of slanted lay-ups at random. */
static void a_section_has_the_area_of_its_ropes(void **state) {
    (void)state;
    Log log = made_log(0);
    int slanted = 0, rims = 0;
    for (uint64_t seed = 1; seed <= 30; seed++) {
        lay_anew(&log, random_tree(64, 60, 3, 4, seed));
        double mass = 0, want = 0;
        for (int i = 0; i < log.layup.ropes; i++) {
            const Rope *rope = &log.layup.rope[i];
            const RopeRow *row = &log.bill.rope[rope->type];
            bool told_as_strip = row->shape != outline_shape(&rope->outline) && !rope->rim;
            double off =
                fmax(0.011 * section_perimeter(&row->section), told_as_strip * 0.015 * rope->area * 2.25);
            near(outline_area(&row->section), rope->area * 2.25, off);
            assert_true(row->candy == rope->candy && row->rim == rope->rim);
            assert_int_equal(row->shape, outline_shape(&row->section));
            near(row->width_mm, section_wide(&row->section), 0);
            near(row->height_mm, section_high(&row->section), 0);
            if (rope->rim)
                assert_true(row->shape == SHAPE_STRIP && row->width_mm >= row->height_mm);
            else
                assert_true(!told_as_strip || (row->shape == SHAPE_STRIP && rope->outline.corners == 4));
            want += rope->area * 2.25 * 0.310 * log.palette.candy[rope->candy].density_g_ml;
            slanted += row->shape != SHAPE_STRIP;
            rims += row->rim;
        }
        for (int i = 0; i < log.bill.rope_types; i++) mass += log.bill.rope[i].mass_g;
        near(mass, want, 1e-9 * want);
        near(area_of_ropes(&log), PI * 48 * 48, 1e-6);
    }
    assert_true(slanted > 200 && rims > 200);
    log_free(&log);
}

/* A rim rope that lies aslant is listed by the least box of what is inside the core: that of a strip 8 steps
 * wide, cut off by the rim, is 8 wide whichever way it lies. */
static void a_rim_rope_is_as_wide_as_it_is_aslant(void **state) {
    (void)state;
    Log log = made_log(0);
    for (int turn = 0; turn < 20; turn++) {
        double c = cos(turn * 0.31), s = sin(turn * 0.31);
        const Point at[] = {{4, -40}, {12, -40}, {12, -20}, {4, -20}};
        LayUp layup = tree_new(1);
        Rope rope = {.outline = {.corners = 4}, .rim = true};
        for (int i = 0; i < 4; i++)
            rope.outline.corner[i] = (Point){32 + at[i].x * c - at[i].y * s, 32 + at[i].x * s + at[i].y * c};
        rope.area = outline_disc_area(&rope.outline, log.grid.core);
        layup.rope[layup.ropes++] = rope;
        lay_anew(&log, layup);
        double deep = (sqrt(32 * 32 - 4 * 4) - 20) * 1.5; /* of the box: over 8 steps */
        near(log.bill.rope[0].width_mm, deep, 0.0051);
        near(log.bill.rope[0].height_mm, rope.area * 2.25 / deep, 0.0051);
    }
    log_free(&log);
}

static void the_jacket_is_as_wide_as_the_log_is_round(void **state) {
    (void)state;
    Log log = made_log(0);
    double width = 0, area = 0;
    for (int i = 0; i < log.bill.wraps; i++) {
        const WrapRow *row = &log.bill.wrap[i];
        if (row->kind != WRAP_STRIPE) continue;
        assert_int_equal(row->count, 4);
        width += row->count * row->width_mm;
        area += row->count * row->width_mm * row->thickness_mm;
    }
    near(width, PI * (96 + 96 / 0.9) / 2, 1e-9);
    near(area, PI / 4 * (pow(96 / 0.9, 2) - 96 * 96), 1e-9);
    log_free(&log);
}

static void a_candy_without_a_place_in_the_lay_up_is_not_cooked(void **state) {
    (void)state;
    Log log = made_log(0);
    int batches = log.bill.quote.batches;
    assert_int_equal(batches, 2 * log.bill.materials); /* two logs */
    log.palette.candy[log.palette.count++] = log.shop.stock.candy[9];
    weigh_log(&log);
    assert_int_equal(log.bill.materials, 5);
    assert_int_equal(log.bill.quote.batches, batches);
    log_free(&log);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ropes_trims_and_rings_add_up_to_the_core),
        cmocka_unit_test(materials_add_up_to_the_logs),
        cmocka_unit_test(equal_ropes_are_one_type),
        cmocka_unit_test(a_candy_without_a_place_in_the_lay_up_is_not_cooked),
        cmocka_unit_test(ropes_that_can_be_laid_on_each_other_are_one_type),
        cmocka_unit_test(a_taper_that_no_hand_sees_is_a_plain_strip),
        cmocka_unit_test(a_taper_that_is_seen_is_told),
        cmocka_unit_test(a_strip_is_rounded_but_keeps_its_area),
        cmocka_unit_test(a_section_has_the_area_of_its_ropes),
        cmocka_unit_test(a_rim_rope_is_as_wide_as_it_is_aslant),
        cmocka_unit_test(the_jacket_is_as_wide_as_the_log_is_round),
    };
    return cmocka_run_group_tests_name("weigh", tests, NULL, NULL);
}
