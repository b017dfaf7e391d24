/* Piece sizes and orders, side by side. SPDX-License-Identifier: MIT
 *
 * 1. The first row is run in full: it finds the candies, which depend on neither size nor order.
 * 2. Each row's cane is sized, which is cheap: it tells the key of the lay-up.
 * 3. The rows are run in the order of these keys, as the same job run again: so each lay-up is worked out
 * once. Cost: a full run for each key that occurs. */
#include "run/run.h"

#include "draw/draw.h"
#include "base/mem.h"
#include "plan/plan.h"

#include <stdlib.h>

typedef struct Turn {
    int row;
    LayKey key;
} Turn;

static int compare_turns(const void *p, const void *q) {
    const Turn *a = p, *b = q;
    int order = lay_key_compare(&a->key, &b->key);
    return order ? order : (a->row > b->row) - (a->row < b->row);
}

static void set_order(const SweepTable *table, int row, Order *order) {
    order->piece_diameter_mm = table->row[row].diameter_mm;
    order->pieces = table->row[row].pieces;
}

/* 2. */
static bool plan_turns(const Job *job, const SweepTable *table, Turn *turn, Err *err) {
    Order order = job->order;
    for (int i = 0; i < table->rows; i++) {
        Cane cane;
        set_order(table, i, &order);
        if (!size_cane(&order, &job->palette, job->shop, &cane, err)) return false;
        turn[i] = (Turn){i, cane.key};
    }
    qsort(turn, (size_t)table->rows, sizeof *turn, compare_turns);
    return true;
}

static void fill_row(const Job *job, SweepRow *row) {
    row->given = job->cane.pieces;
    row->verdict = job->judgement.verdict;
    row->cause = judgement_cause(&job->judgement);
    row->likeness = job->judgement.likeness;
    row->weakest = job->judgement.weakest;
    row->ropes_made = job->bill.ropes_made;
    row->logs = job->cane.logs;
    row->log_diameter_mm = job->cane.log_diameter_mm;
    row->log_length_mm = job->cane.log_length_mm;
    row->log_mass_g = job->bill.log_mass_g;
    row->pieces_mass_g = job->bill.quote.pieces_mass_g;
    row->price = row->verdict == VERDICT_NO ? 0 : job->bill.quote.price;
}

/* 3. */
static bool run_turns(Job *job, SweepTable *table, const Turn *turn, int face_side, SweepProgress *progress,
                      void *user, Err *err) {
    for (int i = 0; i < table->rows; i++) {
        SweepRow *row = &table->row[turn[i].row];
        set_order(table, turn[i].row, &job->order);
        if (!job_run_again(job, err)) return false;
        fill_row(job, row);
        if (face_side > 0 && !draw_face(job, face_side, &row->face, err)) return false;
        if (progress) progress(user, table, turn[i].row, i + 1);
    }
    return true;
}

bool sweep(Job *job, const SweepPlan *plan, int face_side, SweepProgress *progress, void *user,
           SweepTable *out, Err *err) {
    SweepTable table = {.logo = job->file,
                        .piece_length_mm = job->order.piece_length_mm,
                        .units = job->order.units,
                        .prices = shop_has_prices(job->shop),
                        .currency = job->shop->currency,
                        .plan = *plan,
                        .rows = plan->sizes * plan->orders};
    table.row = mem_alloc((size_t)table.rows, sizeof *table.row, err);
    Turn *turn = mem_alloc((size_t)table.rows, sizeof *turn, err);
    bool good = table.row && turn;
    if (!table.row) table.rows = 0;
    for (int i = 0; i < table.rows; i++) {
        table.row[i].diameter_mm = plan->diameter_mm[i / plan->orders];
        table.row[i].pieces = plan->pieces[i % plan->orders];
    }
    if (good) set_order(&table, 0, &job->order);
    good = good && job_run(job, err) && plan_turns(job, &table, turn, err) &&
           run_turns(job, &table, turn, face_side, progress, user, err);
    free(turn);
    if (good)
        *out = table;
    else
        sweep_table_free(&table);
    return good;
}
