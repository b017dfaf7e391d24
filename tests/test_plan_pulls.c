/* Tests of src/bench/plan_pulls.c. SPDX-License-Identifier: MIT */
#include "bench_job.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static void near(double got, double want) {
    if (fabs(got - want) > 1e-9 * fabs(want)) fail_msg("got %.12g, want %.12g", got, want);
}

static Motif *const motifs[] = {motif_plain, motif_blob, motif_table, motif_squares};

enum { MOTIFS = sizeof motifs / sizeof *motifs };

static void pulls_make_the_ropes_made_and_their_mass(void **state) {
    (void)state;
    Shop shop = shop_default();
    shop.lost_share = 0;
    for (int m = 0; m < MOTIFS; m++) {
        BenchJob b;
        assert_true(bench_build(&b, 56, 8, motifs[m], DETAIL_FINE, &shop));
        const Bill *bill = &b.job.bill;
        for (int t = 0; t < bill->rope_types; t++) {
            int ropes = 0;
            double mass = 0;
            for (int i = 0; i < bill->pulls; i++) {
                if (bill->pull[i].type != t) continue;
                ropes += bill->pull[i].times * bill->pull[i].count;
                mass += bill->pull[i].times * bill->pull[i].mass_g;
            }
            assert_int_equal(ropes, bill->rope[t].made);
            near(mass, bill->rope[t].mass_g); /* nothing is lost in drawing here */
        }
        bench_free(&b);
    }
}

static void a_lump_holds_its_ropes_and_is_long_enough_to_draw(void **state) {
    (void)state;
    for (int m = 0; m < MOTIFS; m++) {
        BenchJob b;
        assert_true(bench_build(&b, 56, 8, motifs[m], DETAIL_FINE, NULL));
        assert_true(b.job.bill.pulls > 0);
        for (int i = 0; i < b.job.bill.pulls; i++) {
            const Pull *p = &b.job.bill.pull[i];
            const Candy *candy = &b.job.palette.candy[b.job.bill.rope[p->type].candy];
            double volume = p->lump_side_mm * p->lump_side_mm * p->lump_length_mm;
            near(volume * candy->density_g_ml / 1000, p->mass_g);
            assert_true(p->lump_length_mm >= 60 && p->lump_side_mm <= p->lump_length_mm * (1 + 1e-9));
            near(p->draw * p->lump_length_mm, p->total_length_mm);
            near(p->total_length_mm, p->count * p->length_each_mm);
            assert_true(p->count == 1 || p->total_length_mm <= 2000);
            double section = volume / p->total_length_mm;
            double listed = outline_area(&b.job.bill.rope[p->type].section) * p->scale * p->scale;
            assert_true(fabs(section - listed) < 0.01 * (p->width_mm + p->height_mm) * p->scale);
        }
        bench_free(&b);
    }
}

/* One type, `made` of them in a log of one block, 308 mm long, a bench of 2 m: 6 a pull. */
static void many_ropes_are_shared_out_evenly(void **state) {
    (void)state;
    enum { MADE = 20 };
    Err err = {0};
    Shop shop = shop_default();
    Palette palette = {.count = 1, .candy = {shop.stock.candy[0]}};
    Rope rope[MADE] = {{.type = 0}};
    Item item[MADE] = {{.index = 0}};
    for (int i = 0; i < MADE; i++) item[i].index = i;
    Block block = {.items = MADE, .builds = 1, .scale = 1, .length_mm = 308};
    Blocks blocks = {.blocks = 1, .block = &block, .items = MADE, .item = item};
    RopeRow row = {.width_mm = 6,
                   .height_mm = 6,
                   .count = MADE,
                   .made = MADE,
                   .length_each_mm = 308,
                   .mass_g = MADE * 36 * 0.308 * 1.3};
    Bill bill = {.rope_types = 1, .rope = &row};
    LayUp layup = {.ropes = MADE, .rope = rope};
    assert_true(plan_pulls(&palette, &shop, &layup, &blocks, &bill, &err));
    assert_int_equal(bill.pulls, 1); /* 20 = 4 * 5 */
    assert_int_equal(bill.pull[0].times, 4);
    assert_int_equal(bill.pull[0].count, 5);
    near(bill.pull[0].mass_g, 5 * 36 * 0.308 * 1.3);
    near(bill.pull[0].lump_length_mm, 60); /* 55.4 ml: a cube of 38 mm is too short */
    near(bill.pull[0].lump_side_mm, sqrt(36 * 5 * 308 / 60.0));
    near(bill.pull[0].draw, 5 * 308 / 60.0);
    free(bill.pull);
    block.items = 13; /* 13 = 5 + 4 + 4 */
    bill.pulls = 0;
    assert_true(plan_pulls(&palette, &shop, &layup, &blocks, &bill, &err));
    assert_int_equal(bill.pulls, 2);
    assert_int_equal(bill.pull[0].times, 1);
    assert_int_equal(bill.pull[0].count, 5);
    assert_int_equal(bill.pull[1].times, 2);
    assert_int_equal(bill.pull[1].count, 4);
    free(bill.pull);
}

/* Ends of blocks that are drawn out are pulled too, so they are weighed out. */
static void what_is_pulled_and_rolled_is_what_is_weighed_out(void **state) {
    (void)state;
    double ends_g = 0;
    for (int m = 0; m < 3; m++) {
        BenchJob b;
        assert_true(bench_build(&b, 64, 3, motifs[m], DETAIL_FINE, NULL));
        const Bill *bill = &b.job.bill;
        for (int k = 0; k < bill->materials; k++) {
            const MaterialRow *row = &bill->material[k];
            double got = 0;
            for (int i = 0; i < bill->pulls; i++)
                if (strcmp(b.job.palette.candy[bill->rope[bill->pull[i].type].candy].name, row->candy.name) ==
                    0)
                    got += bill->pull[i].times * bill->pull[i].mass_g;
            for (int i = 0; i < bill->wraps; i++)
                if (strcmp(bill->wrap[i].candy.name, row->candy.name) == 0) got += bill->wrap[i].made_g;
            if (fabs(got - row->mass_g - row->block_ends_g) > 1e-6 * got)
                fail_msg("%s: %.6f g is pulled and rolled, %.6f g weighed out", row->candy.name, got,
                         row->mass_g + row->block_ends_g);
            assert_true(fabs(row->with_spare_g - (row->mass_g + row->block_ends_g) * 1.05) < 1e-6);
            ends_g += row->block_ends_g;
        }
        bench_free(&b);
    }
    assert_true(ends_g > 10);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_pulled_and_rolled_is_what_is_weighed_out),
        cmocka_unit_test(pulls_make_the_ropes_made_and_their_mass),
        cmocka_unit_test(a_lump_holds_its_ropes_and_is_long_enough_to_draw),
        cmocka_unit_test(many_ropes_are_shared_out_evenly),
    };
    return cmocka_run_group_tests_name("plan_pulls", tests, NULL, NULL);
}
