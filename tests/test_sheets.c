/* Tests of src/bench/sheets.c, and of what weigh, plan_pulls and cool make of sheets and round ropes.
 * SPDX-License-Identifier: MIT */
#include "wrapped_job.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (fabs(got - want) > limit) fail_msg("got %.12g, want %.12g", got, want);
}

/* The row of the first sheet round that block; the second, if it has two. */
static const WrapRow *sheet(const WrappedJob *w, int block, int number) {
    const Job *job = &w->bench.job;
    return &job->bill.wrap[job->layup.wrap[job->blocks.block[block].wrap[number]].row];
}

static void all_masses_add_up_to_the_log(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    const Job *job = &w.bench.job;
    double listed = 0, cooked = 0;
    for (int i = 0; i < job->bill.rope_types; i++) listed += job->bill.rope[i].mass_g;
    for (int i = 0; i < job->bill.wraps; i++) listed += job->bill.wrap[i].mass_g;
    for (int i = 0; i < job->bill.materials; i++) cooked += job->bill.material[i].mass_g;
    near(listed, job->bill.log_mass_g, 1e-9 * listed);
    near(cooked, job->bill.log_mass_g, 1e-9 * listed);
    wrapped_free(&w);
}

/* Trims are left out: there are none. */
static void what_is_pulled_rolled_and_pressed_in_is_what_is_weighed_out(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    const Bill *bill = &w.bench.job.bill;
    double ends_g = 0;
    for (int k = 0; k < bill->materials; k++) {
        const MaterialRow *row = &bill->material[k];
        double got = 0;
        for (int i = 0; i < bill->pulls; i++)
            if (strcmp(w.bench.job.palette.candy[bill->rope[bill->pull[i].type].candy].name,
                       row->candy.name) == 0)
                got += bill->pull[i].times * bill->pull[i].mass_g;
        for (int i = 0; i < bill->wraps; i++)
            if (strcmp(bill->wrap[i].candy.name, row->candy.name) == 0) got += bill->wrap[i].made_g;
        near(got, row->mass_g + row->block_ends_g, 1e-9 * got);
        ends_g += row->block_ends_g;
    }
    assert_true(ends_g > 10);
    wrapped_free(&w);
}

static void a_sheet_is_rolled_as_its_block_is_built(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    const Job *job = &w.bench.job;
    const WrapRow *row = sheet(&w, WJ_WRAPPED, 0);
    near(row->thickness_mm, 3, 1e-9);
    near(row->width_mm, 1.5 * (2 * 18 + 2 * 22), 1e-9);
    near(row->length_mm, job->cane.log_length_mm, 1e-9);
    assert_int_equal(row->count, 1);
    row = sheet(&w, WJ_TWICE, 0);
    near(row->width_mm, PI * 2 * 7 * 1.5, 1e-9);
    row = sheet(&w, WJ_TWICE, 1);
    near(row->width_mm, PI * 2 * 9 * 1.5, 1e-9);
    for (int i = 0; i < job->bill.wraps; i++) {
        row = &job->bill.wrap[i];
        if (row->kind != WRAP_BLOCK) continue;
        near(row->count * row->thickness_mm * row->width_mm * row->length_mm / 1000 * row->candy.density_g_ml,
             row->made_g, 1e-9 * row->made_g);
    }
    wrapped_free(&w);
}

static void a_sheet_in_a_fine_block_is_laid_twice_as_thick(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    const WrapRow *row = sheet(&w, WJ_FINE_WRAPPED, 0);
    assert_true(w.bench.job.blocks.block[WJ_FINE].way == BUILD_FINE);
    near(row->thickness_mm, 3, 1e-9); /* half of it lies in the log */
    near(row->width_mm, 2 * 1.5 * 40, 1e-9);
    assert_true(row->made_g > row->mass_g * 1.05); /* the ends of what is drawn down */
    wrapped_free(&w);
}

static void a_sheet_round_a_block_that_is_copied_is_rolled_once(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    const Job *job = &w.bench.job;
    const Block *block = &job->blocks.block[WJ_SMALL];
    const WrapRow *row = sheet(&w, WJ_SMALL, 0);
    assert_int_equal(block->way, BUILD_THICKER);
    assert_int_equal(row->count, 1);
    near(row->thickness_mm, 3 * block->scale, 1e-9);
    near(row->mass_g, 2 * 64 * 2.25 * 0.308 * row->candy.density_g_ml, 1e-9 * row->mass_g);
    assert_int_equal(job->layup.wrap[0].block, WJ_SMALL);
    assert_int_equal(job->layup.wrap[1].block, WJ_SMALL);
    assert_int_equal(job->layup.wrap[1].row, job->layup.wrap[0].row);
    wrapped_free(&w);
}

static void equal_sheets_are_one_row(void **state) {
    (void)state;
    WrappedJob w;
    Err err = {0};
    assert_true(wrapped_build(&w));
    Job *job = &w.bench.job;
    int rows = job->bill.wraps;
    Wrap *outer = &job->layup.wrap[4], *other = &job->layup.wrap[2];
    double was = wrap_area(other); /* make the sheet round the three ropes as long as the outer round one */
    other->outline.corner[1].x = other->outline.corner[2].x +=
        wrap_length(outer) / 2 - wrap_length(other) / 2;
    other->inner.corner[1].x = other->inner.corner[2].x = other->outline.corner[1].x - 2;
    assert_true(wrap_area(other) != was);
    job->blocks.block[WJ_WRAPPED].outline = other->outline;
    bill_free(&job->bill);
    assert_true(weigh(&job->order, &job->palette, &job->cane, &job->grid, job->shop, &job->blocks,
                      &job->layup, &job->bill, &err));
    assert_int_equal(job->bill.wraps, rows - 1);
    assert_int_equal(other->row, outer->row);
    assert_int_equal(job->bill.wrap[other->row].count, 2);
    assert_int_equal(other->block, WJ_WRAPPED);
    assert_int_equal(outer->block, WJ_TWICE);
    wrapped_free(&w);
}

static void a_rest_is_listed_by_its_block_and_is_no_rope(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    const Job *job = &w.bench.job;
    int rests = 0, types = 0;
    for (int i = 0; i < job->bill.wraps; i++) {
        const WrapRow *row = &job->bill.wrap[i];
        if (row->kind != WRAP_REST) continue;
        rests++;
        assert_int_equal(row->rest, job->blocks.block[WJ_ROUND].rest);
        near(row->mass_g, (576 - PI * 100) * 2.25 * 0.308 * row->candy.density_g_ml, 1e-9 * row->mass_g);
        near(row->made_g, row->mass_g, 1e-9 * row->mass_g);
        assert_int_equal(row->count, 1);
    }
    assert_int_equal(rests, 1);
    const Rope *rest = &job->layup.rope[job->blocks.block[WJ_ROUND].rest];
    assert_int_equal(rest->type, -1);
    assert_int_equal(rest->serial, 1);
    for (int i = 0; i < job->bill.rope_types; i++) types += job->bill.rope[i].count;
    assert_int_equal(types, job->layup.laid);
    wrapped_free(&w);
}

static void a_round_rope_equals_round_ones_only(void **state) {
    (void)state;
    WrappedJob w;
    Err err = {0};
    assert_true(wrapped_build(&w));
    Job *job = &w.bench.job;
    int round = -1, types = job->bill.rope_types;
    for (int i = 0; i < job->layup.ropes; i++)
        if (job->layup.rope[i].round) round = i;
    const RopeRow *row = &job->bill.rope[job->layup.rope[round].type];
    assert_int_equal(row->shape, SHAPE_ROUND);
    assert_int_equal(rope_kind(row), KIND_ROUND);
    near(row->width_mm, 18, 1e-9);
    near(row->height_mm, 18, 1e-9);
    near(row->mass_g, PI * 81 * 0.308 * job->palette.candy[row->candy].density_g_ml, 1e-9 * row->mass_g);
    job->layup.rope[round].round = false; /* a square rope of that size is another type than before */
    Rope *plain = &job->layup.rope[1];
    plain->candy = job->layup.rope[round].candy;
    plain->outline = job->layup.rope[round].outline;
    plain->rim = false;
    bill_free(&job->bill);
    assert_true(weigh(&job->order, &job->palette, &job->cane, &job->grid, job->shop, &job->blocks,
                      &job->layup, &job->bill, &err));
    assert_int_equal(plain->type, job->layup.rope[round].type);
    job->layup.rope[round].round = true;
    bill_free(&job->bill);
    assert_true(weigh(&job->order, &job->palette, &job->cane, &job->grid, job->shop, &job->blocks,
                      &job->layup, &job->bill, &err));
    assert_int_not_equal(plain->type, job->layup.rope[round].type);
    assert_true(types > 0);
    wrapped_free(&w);
}

static void sheets_and_rests_are_joins(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    const Job *job = &w.bench.job;
    int joins = 0;
    for (int b = 0; b < WJ_BLOCKS; b++) {
        assert_int_equal(job->blocks.block[b].builds, 1);
        joins += job->blocks.block[b].items - 1;
    }
    assert_int_equal(job->bill.joins, joins + 5 + 1);            /* sheets; the rest */
    assert_int_equal(job->bill.ropes_made, job->layup.laid - 1); /* the small block is copied */
    wrapped_free(&w);
}

/* As the square about it does. */
static void a_round_rope_cools_as_its_diameter_says(void **state) {
    (void)state;
    WrappedJob w;
    assert_true(wrapped_build(&w));
    const Job *job = &w.bench.job;
    const int type = job->heat.first[KIND_ROUND];
    assert_true(type >= 0);
    near(job->heat.rope[type].diameter_mm, job->bill.rope[type].width_mm, 1e-9);
    near(job->heat.block[WJ_TWICE].diameter_mm, 30, 1e-9);
    wrapped_free(&w);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_masses_add_up_to_the_log),
        cmocka_unit_test(what_is_pulled_rolled_and_pressed_in_is_what_is_weighed_out),
        cmocka_unit_test(a_sheet_is_rolled_as_its_block_is_built),
        cmocka_unit_test(a_sheet_in_a_fine_block_is_laid_twice_as_thick),
        cmocka_unit_test(a_sheet_round_a_block_that_is_copied_is_rolled_once),
        cmocka_unit_test(equal_sheets_are_one_row),
        cmocka_unit_test(a_rest_is_listed_by_its_block_and_is_no_rope),
        cmocka_unit_test(a_round_rope_equals_round_ones_only),
        cmocka_unit_test(sheets_and_rests_are_joins),
        cmocka_unit_test(a_round_rope_cools_as_its_diameter_says),
    };
    return cmocka_run_group_tests_name("sheets", tests, NULL, NULL);
}
