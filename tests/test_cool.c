/* Tests of src/bench/cool.c. SPDX-License-Identifier: MIT */
#include "bench/bench.h"

#include "bench_job.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <time.h>
#include <cmocka.h>

static void near(double got, double want, double share) {
    if (!(fabs(got - want) <= share * fabs(want))) fail_msg("got %.9g, want %.9g", got, want);
}

/* A hand-made list: four types, two of them of a rim, three pulls. */
typedef struct List {
    Palette palette;
    Cane cane;
    Shop shop;
    Blocks blocks;
    Block block[1];
    RopeRow row[4];
    Pull pull[3];
    Bill bill;
} List;

static RopeRow strip(int candy, double w, double h, bool rim) {
    Outline section = {4, {{0, h}, {0, 0}, {w, 0}, {w, h}}};
    return (RopeRow){.candy = candy, .width_mm = w, .height_mm = h, .section = section, .rim = rim};
}

/* l must stay where it is. Candy 0 is clear, candy 1 pulled. */
static Heat cooled(List *l) {
    Err err = {0};
    Heat heat = {0};
    l->shop = shop_default();
    l->palette = (Palette){.count = 2, .candy = {l->shop.stock.candy[14], l->shop.stock.candy[0]}};
    l->cane = (Cane){.logs = 1, .log_diameter_mm = 100, .log_length_mm = 300, .step_mm = 1.5};
    l->cane.volume_ml = PI / 4 * 100 * 100 * 300 / 1000;
    l->row[0] = strip(0, 6, 6, false);
    l->row[1] = strip(1, 6, 6, false);
    l->row[2] = strip(0, 12, 9, false);
    l->row[2].shape = SHAPE_WEDGE;
    l->row[2].section = (Outline){3, {{0, 9}, {0, 0}, {12, 9}}};
    l->row[3] = strip(0, 8, 2, true);
    l->pull[0] = (Pull){.type = 1, .scale = 2};
    l->pull[1] = (Pull){.type = 1, .scale = 1.5};
    l->pull[2] = (Pull){.type = 2, .scale = 1};
    l->bill = (Bill){.rope_types = 4, .rope = l->row, .pulls = 3, .pull = l->pull};
    l->bill.log_mass_g = l->cane.volume_ml * 1.35;
    l->block[0] = (Block){.scale = 2, .low = {2, 3}, .high = {12, 13}};
    l->blocks = (Blocks){.blocks = 1, .block = l->block};
    assert_true(cool(&l->palette, &l->cane, &l->shop, &l->blocks, &l->bill, &heat, &err));
    return heat;
}

static void sections_count_by_four_areas_over_the_perimeter(void **state) {
    (void)state;
    List l;
    Heat h = cooled(&l);
    near(h.rope[0].diameter_mm, 6, 1e-12);             /* a square as its own circle */
    near(h.pull[0].diameter_mm, 12, 1e-12);            /* twice as thick as in the log */
    near(h.rope[1].diameter_mm, 9, 1e-12);             /* of its pulls the thinner */
    near(h.rope[2].diameter_mm, 4 * 54.0 / 36, 1e-12); /* 9, 12, 15 */
    near(h.rope[3].diameter_mm, 3.2, 1e-12);
    near(h.block[0].diameter_mm, 30, 1e-12);
    near(h.log.diameter_mm, 100, 0);
    assert_int_equal(h.first[KIND_STRIP], 0);
    assert_int_equal(h.first[KIND_SLANTED], 2);
    assert_int_equal(h.first[KIND_RIM], 3);
    near(h.rope[1].height_mm, 9, 1e-12);
    heat_free(&h);
}

/* Worked out by hand: 12 on top, 24 below, 8 high, its sides 10 long. */
static void of_a_slanted_section_area_and_perimeter_are_its_own(void **state) {
    (void)state;
    List l;
    Heat h = cooled(&l);
    heat_free(&h);
    Err err = {0};
    l.row[2].shape = SHAPE_TAPERED;
    l.row[2].width_mm = 24;
    l.row[2].height_mm = 8;
    l.row[2].section = (Outline){4, {{0, 8}, {6, 0}, {18, 0}, {24, 8}}};
    l.pull[2].scale = 2;
    assert_true(cool(&l.palette, &l.cane, &l.shop, &l.blocks, &l.bill, &h, &err));
    near(h.rope[2].diameter_mm, 2 * 4 * 144.0 / 56, 1e-12);
    near(h.rope[2].width_mm, 48, 0);
    assert_int_equal(h.first[KIND_SLANTED], 2);
    heat_free(&h);
}

/* Clear and pulled candy: what cylinder_seconds, which is tested against the series, gives for their
 * properties. Pulled: of 1.30 g/ml 2/15 is air, so conductivity * 0.8. */
static void times_are_those_of_the_cylinder(void **state) {
    (void)state;
    List l;
    Heat h = cooled(&l);
    Cylinder clear = {0.003, 0.297, 1500 * 1720, 80, 22, 0},
             pulled = {0.0045, 0.297 * 0.8, 1300 * 1720, 80, 22, 0};
    near(h.rope[0].seconds, cylinder_seconds(&clear, 70), 1e-9);
    near(h.rope[1].seconds, cylinder_seconds(&pulled, 70), 1e-9);
    heat_free(&h);
}

/* Worked out beforehand: a rope of 6 mm falls from 80 to 70 C in about 0.7 min (without a gradient); the
 * log's core stays hot for an hour. */
static void thin_ropes_have_a_minute_and_the_log_an_hour(void **state) {
    (void)state;
    List l;
    Heat h = cooled(&l);
    assert_true(h.rope[0].seconds > 0.7 * 60 && h.rope[0].seconds < 1 * 60);
    assert_true(h.log.seconds > 50 * 60 && h.log.seconds < 80 * 60);
    assert_true(h.block[0].seconds > h.rope[2].seconds && h.block[0].seconds < h.log.seconds);
    heat_free(&h);
}

/* Williams-Landel-Ferry, worked out beforehand at 80 C, glass at 40 C: 3.4 times for 5 degrees. */
static void five_degrees_make_candy_three_times_softer(void **state) {
    (void)state;
    List l;
    Heat h = cooled(&l);
    near(h.uneven_c, 5, 0);
    near(h.uneven_ratio, 3.4, 0.02);
    heat_free(&h);
}

/* From lay_up on: every rope type and block gets a time. It takes 5 ms; twenty times as long is let pass, for
 * sanitizers. */
static void a_whole_lay_up_is_cooled_in_a_moment(void **state) {
    (void)state;
    Motif *const motifs[] = {motif_plain, motif_blob, motif_table, motif_squares};
    for (int m = 0; m < 4; m++) {
        BenchJob b;
        Err err = {0};
        Heat heat = {0};
        double least = 1e9;
        assert_true(bench_build(&b, 56, 8, motifs[m], DETAIL_FINE, NULL));
        for (int round = 0; round < 5; round++) {
            heat_free(&heat);
            clock_t start = clock();
            assert_true(
                cool(&b.job.palette, &b.job.cane, b.job.shop, &b.job.blocks, &b.job.bill, &heat, &err));
            least = fmin(least, (double)(clock() - start) / CLOCKS_PER_SEC);
        }
        assert_int_equal(heat.ropes, b.job.bill.rope_types);
        for (int i = 0; i < heat.ropes; i++)
            assert_true(heat.rope[i].seconds >= 5 && heat.rope[i].seconds <= heat.log.seconds);
        for (int i = 0; i < heat.blocks; i++) assert_true(heat.block[i].seconds > 10);
        for (int i = 0; i < heat.ropes; i++) {
            const RopeRow *row = &b.job.bill.rope[i];
            int kind = rope_kind(row);
            assert_true(heat.first[kind] >= 0 && heat.rope[heat.first[kind]].seconds <= heat.rope[i].seconds);
        }
        assert_true(least < 0.1);
        heat_free(&heat);
        bench_free(&b);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(sections_count_by_four_areas_over_the_perimeter),
                                       cmocka_unit_test(of_a_slanted_section_area_and_perimeter_are_its_own),
                                       cmocka_unit_test(times_are_those_of_the_cylinder),
                                       cmocka_unit_test(thin_ropes_have_a_minute_and_the_log_an_hour),
                                       cmocka_unit_test(five_degrees_make_candy_three_times_softer),
                                       cmocka_unit_test(a_whole_lay_up_is_cooled_in_a_moment)};
    return cmocka_run_group_tests_name("cool", tests, NULL, NULL);
}
