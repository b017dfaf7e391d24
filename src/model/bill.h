/* Public. The lists: ropes, wraps, materials. Every output prints these rows; none computes.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_BILL_H
#define LOGOCANE_BILL_H

#include "model/candy.h"
#include "model/layup.h"

/* A type of rope: equal ropes are one row. Per log. Filled by weigh. */
typedef struct RopeRow {
    int candy;                  /* palette index */
    Shape shape;                /* a rim wedge is listed as a strip */
    double width_mm, height_mm; /* of its section; of a rim rope: the box of what lies inside the core, its
                                   shorter side reduced so that width * height is the clipped area */
    bool rim;
    int count;             /* laid in the log */
    int made;              /* that hands make */
    double length_each_mm; /* of those laid: the log's length */
    double total_length_m; /* of those laid */
    double mass_g;         /* of all `count` */
} RopeRow;

/* One pull: a lump drawn out once and cut into ropes of one type and thickness. Per log. Filled by
 * plan_pulls. */
typedef struct Pull {
    int type;     /* index of the RopeRow */
    double scale; /* the ropes' sides against those in the log: thicker in a block that is drawn out */
    double width_mm, height_mm;          /* of the ropes' section when drawn */
    int times;                           /* lumps made and drawn like this */
    int count;                           /* ropes cut from one lump */
    double length_each_mm;               /* of a rope */
    double total_length_mm;              /* of one pull: count * length_each_mm */
    double mass_g;                       /* of one lump */
    double lump_side_mm, lump_length_mm; /* a stocky block, side x side x length, of that volume */
    double draw;                         /* total length / the lump's length */
} Pull;

typedef enum WrapKind { WRAP_RING, WRAP_STRIPE, WRAP_TRIM } WrapKind;

/* A sheet: a ring, the jacket or its stripes; or the trims of one candy together (thickness and width 0). Per
 * log. Filled by weigh. */
typedef struct WrapRow {
    WrapKind kind;
    Candy candy;
    int count; /* sheets or trims of this row */
    double thickness_mm;
    double width_mm;  /* of one: pi * middle diameter, for stripes divided by the stripes */
    double length_mm; /* the log's */
    double mass_g;    /* of all `count` */
} WrapRow;

/* A candy of the job, all logs. Filled by weigh. */
typedef struct MaterialRow {
    Candy candy;
    double share_of_log; /* of the section's area, 0..1 */
    double volume_ml;
    double mass_g;       /* lost ends included */
    double with_spare_g; /* what to cook: mass and ends of blocks, and the spare on top */
    double block_ends_g; /* what blocks that are drawn out lose at their ends: built, but not in the log */
} MaterialRow;

/* Under it a candy of the picture found no place in the lay-up: nobody cooks it. */
#define MATERIAL_LEAST_G 0.05

/* What the order comes to, all logs. Filled by weigh. */
typedef struct Quote {
    long spare_pieces; /* beyond the order: a least log gives more */
    double pieces_per_kg;
    double pieces_mass_g; /* of the pieces ordered */
    int batches;          /* coloured batches to cook: each candy for each log */
    double candy_cost;    /* spare included; 0 without the shop's price */
    double work_cost;     /* of laying up, all people; 0 without the shop's price */
} Quote;

enum { WRAPS_MAX = 8 + JACKETS_MAX + INKS_MAX, MATERIALS_MAX = INKS_MAX + JACKETS_MAX };

/* Filled by weigh, but for the pulls: plan_pulls. */
typedef struct Bill {
    int rope_types;
    RopeRow *rope; /* owned; index = Rope.type; by candy, then largest area first */
    int pulls;     /* by plan_pulls */
    Pull *pull;    /* by plan_pulls: owned; by type, thickest first */
    int wraps;
    WrapRow wrap[WRAPS_MAX]; /* trims, rings from the inside out, jacket */
    int materials;
    MaterialRow material[MATERIALS_MAX]; /* field first, then the picture's candies, then the jacket's own */
    double log_mass_g;                   /* one log */
    double piece_mass_g;                 /* one piece */
    int ropes_made;                      /* per log */
    int joins;      /* made by hand, per log: items - 1 of each block, each time it is built */
    double minutes; /* to lay up a log, all hands' time divided by the people */
    Quote quote;
} Bill;

void bill_free(Bill *bill);

#endif
