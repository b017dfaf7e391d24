/* Public. The rows of a sweep. Every output prints these; none computes. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SWEEP_TABLE_H
#define LOGOCANE_SWEEP_TABLE_H

#include "model/image.h"
#include "model/judgement.h"
#include "model/order.h"
#include "model/sweep_plan.h"

/* One piece size and one order. Filled by sweep. */
typedef struct SweepRow {
    double diameter_mm; /* of a piece */
    long pieces;        /* ordered */
    long given;         /* that the logs give: more if the order is under the least log */
    Verdict verdict;
    CheckKind cause;          /* the first check of that verdict, where it is not go */
    double likeness, weakest; /* 0..1 */
    int ropes_made;           /* per log */
    int logs;
    double log_diameter_mm, log_length_mm;
    double log_mass_g;    /* of one log */
    double pieces_mass_g; /* of the pieces ordered */
    Image face;           /* small; empty if none was asked for; owned */
} SweepRow;

/* Filled by sweep. */
typedef struct SweepTable {
    const char *logo; /* its file's name; the job's */
    double piece_length_mm;
    Units units;
    SweepPlan plan;
    int rows;      /* plan.sizes * plan.orders */
    SweepRow *row; /* sizes rising, the orders of one size rising; owned */
} SweepTable;

void sweep_table_free(SweepTable *table);

#endif
