/* Tests of src/bench/weigh.c. SPDX-License-Identifier: MIT */
#include "plan/plan.h"
#include "base/mem.h"
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
    LayKey key = {.detail = DETAIL_NORMAL};
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
            double section = row->width_mm * row->height_mm * (row->shape == SHAPE_WEDGE ? 0.5 : 1);
            area += row->count * section;
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
                         fabs(row->width_mm - other->width_mm) < 0.005 &&
                         fabs(row->height_mm - other->height_mm) < 0.005);
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
        cmocka_unit_test(the_jacket_is_as_wide_as_the_log_is_round),
    };
    return cmocka_run_group_tests_name("weigh", tests, NULL, NULL);
}
