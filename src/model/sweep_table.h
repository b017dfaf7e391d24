/* Public. What a sweep looks at, and its rows. Every output prints these; none computes.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SWEEP_TABLE_H
#define LOGOCANE_SWEEP_TABLE_H

#include "model/image.h"
#include "model/judgement.h"
#include "model/order.h"

enum { SWEEP_MAX = 12 };

/* Filled by sweep_plan_parse or sweep_plan_default. */
typedef struct SweepPlan {
    int sizes;                     /* 1..SWEEP_MAX */
    double diameter_mm[SWEEP_MAX]; /* of a piece, PIECE_LEAST_MM..PIECE_MOST_MM, rising */
    int orders;                    /* 1..SWEEP_MAX */
    long pieces[SWEEP_MAX];        /* 1..PIECES_MAX, rising */
    bool usual_sizes;              /* nobody named any */
} SweepPlan;

/* 12, 14, 16, 18, 20, 22, 25 mm : 250, 500, 1000, 2000, 5000 pieces. */
SweepPlan sweep_plan_default(void);

/* Of a plan whose sizes are the usual ones: those where `units` are spoken. In inches 1/2, 9/16, 5/8, 11/16,
 * 3/4, 7/8 and 1. */
void sweep_plan_speak(SweepPlan *plan, Units units);

/* "14,16:500,1000": piece diameters : orders; a side that is left out is as in the default. Diameters in mm
 * unless they say in ("5/8in"). Lists are sorted. False, and *out untouched, on what cannot be read, is out
 * of range, is there twice or is one too many. */
bool sweep_plan_parse(const char *text, SweepPlan *out);

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
    double price;         /* of the whole order; 0 where it is no, or the shop has no prices */
    Image face;           /* small; empty if none was asked for; owned */
} SweepRow;

/* Filled by sweep. */
typedef struct SweepTable {
    const char *logo; /* its file's name; the job's */
    double piece_length_mm;
    Units units;
    bool prices;          /* the shop has some */
    const char *currency; /* "" = not given; the shop's */
    SweepPlan plan;
    int rows;      /* plan.sizes * plan.orders */
    SweepRow *row; /* sizes rising, the orders of one size rising; owned */
} SweepTable;

void sweep_table_free(SweepTable *table);

#endif
