/* Public. What the bench is told: the lists of ropes, wraps and materials, heat, recipe. Every output prints
 * these rows; none computes. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_BILL_H
#define LOGOCANE_BILL_H

#include "model/blend.h"
#include "model/layup.h"
#include "model/section.h"

/* A type of rope: ropes of one candy whose sections, turned and mirrored as they may be, lie on each other to
 * 1/100 mm are one row. Per log. Filled by weigh. */
typedef struct RopeRow {
    int candy;                  /* palette index */
    Shape shape;                /* of the section: a rim rope, whatever its outline, is listed as a strip,
                                   and so is what tapers by less than hands see */
    double width_mm, height_mm; /* of the section's box: along its base and across it; 1/100 mm */
    Outline section;            /* mm, to 1/100, laid as section.h says; of a round rope the square about it;
                                   of a rim rope: the least box of what
                                   lies inside the core, its shorter side, here upright, reduced so that
                                   width * height is the area inside; of what tapers by less than hands see: the
                                   plain strip, in tenths of mm */
    bool rim;                   /* the core's edge cuts it */
    int count;                  /* laid in the log */
    int made;                   /* that hands make */
    double length_each_mm;      /* of those laid: the log's length */
    double total_length_m;      /* of those laid */
    double mass_g;              /* of all `count` */
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

typedef enum WrapKind {
    WRAP_RING,
    WRAP_STRIPE,
    WRAP_TRIM,
    WRAP_BLOCK, /* sheets round blocks or round ropes */
    WRAP_REST   /* what is pressed in about something round */
} WrapKind;

/* Sheets: a ring, the jacket or its stripes, or all equal ones that blocks are wrapped in; or what is pressed
 * in, thickness and width 0: the trims of one candy together, or the rest about something round. Sheets round
 * blocks, and rests, as they are built: thicker, longer and fewer than in the log where their block is drawn
 * out and cut. Per log. Filled by weigh. */
typedef struct WrapRow {
    WrapKind kind;
    Candy candy;
    int count; /* sheets or trims of this row; times a rest is pressed in */
    double thickness_mm;
    double width_mm;  /* of one, round the middle of its thickness; stripes share it */
    double length_mm; /* of one: the log's, or the block's as built */
    double mass_g;    /* of all of it that is in the log */
    double made_g;    /* of all `count` as rolled or pressed in, with what the ends of blocks lose */
    int rest;         /* of a rest: the rope in the lay-up */
} WrapRow;

/* A candy of the job that is cooked, all logs. Filled by weigh. */
typedef struct MaterialRow {
    Candy candy;
    double share_of_log; /* of the section's area, 0..1 */
    double volume_ml;
    double mass_g;       /* lost ends included */
    double with_spare_g; /* what to cook: mass and ends of blocks, and the spare on top */
    double block_ends_g; /* what blocks that are drawn out lose at their ends: built, but not in the log */
} MaterialRow;

/* A blend of the job, all logs: its two candies are among the materials, which hold all of it. Filled by
 * weigh. */
typedef struct BlendRow {
    MaterialRow whole;
    double
        part_g[BLEND]; /* of each of the two: what to fold for one log, ends of blocks and spare included */
} BlendRow;

/* Under it a candy of the picture found no place in the lay-up: nobody cooks it. */
#define MATERIAL_LEAST_G 0.05

/* What the order comes to, all logs. Filled by weigh. */
typedef struct Quote {
    long spare_pieces; /* beyond the order: a least log gives more */
    double pieces_per_kg;
    double pieces_mass_g; /* of the pieces ordered */
    int batches;          /* coloured batches to cook: each candy for each log */
    int dyed;             /* of them dyed to order */
    double candy_cost;    /* spare included; 0 without the shop's price */
    double dye_cost;      /* of dyeing to order, beside the candy; 0 without the shop's price */
    double work_cost;     /* of laying up, all people; 0 without the shop's price */
} Quote;

enum {
    MATERIALS_MAX =
        INKS_MAX + BLEND * JACKETS_MAX, /* of the picture's blends too: they count among its candies */
    BLENDS_MAX = INKS_MAX + JACKETS_MAX
};

/* Filled by weigh, but for the pulls: plan_pulls. */
typedef struct Bill {
    int rope_types;
    RopeRow *rope; /* owned; index = Rope.type; by candy, whole before rim, shape, then largest first */
    int pulls;     /* by plan_pulls */
    Pull *pull;    /* by plan_pulls: owned; by type, thickest first */
    int wraps;
    WrapRow
        *wrap; /* owned; trims, rests and sheets round blocks by block, rings from the inside out, jacket */
    int materials;
    MaterialRow material[MATERIALS_MAX]; /* field first, then the picture's candies, then the jacket's own; in
                                            a blend's place its two */
    int blends;
    BlendRow blend[BLENDS_MAX]; /* in the same order */
    double log_mass_g;          /* one log */
    double piece_mass_g;        /* one piece */
    int ropes_made;             /* per log */
    int joins;                  /* made by hand, per log: items - 1 of each block, its sheets and its rest,
                                   each time it is built */
    double minutes;             /* to lay up a log, all hands' time divided by the people */
    Quote quote;
} Bill;

/* --- how long ropes, blocks and the log stay workable --- */

/* From the warm box: until its middle has fallen from the shop's joining to its working temperature in the
 * shop's room. Filled by cool. */
typedef struct Warmth {
    double diameter_mm;         /* of the round rope that cools alike: 4 * area / perimeter */
    double width_mm, height_mm; /* of the section itself, as it is made */
    double seconds;
} Warmth;

/* Ropes by what hands do with them. Whatever has a slant is one kind: all are pressed with a bar, and have an
 * edge thinner than the rest, which cools first. */
typedef enum RopeKind { KIND_STRIP, KIND_SLANTED, KIND_RIM, KIND_ROUND } RopeKind;

enum { ROPE_KINDS = KIND_ROUND + 1 };

/* Filled by cool. */
typedef struct Heat {
    int ropes;             /* as Bill.rope_types */
    Warmth *rope;          /* [ropes] by type: of its pulls the one that cools first; owned */
    int pulls;             /* as Bill.pulls */
    Warmth *pull;          /* [pulls] owned */
    int blocks;            /* as Blocks.blocks */
    Warmth *block;         /* [blocks] as built, if of the log's mean density; the last is the core; owned */
    Warmth log;            /* with its jacket */
    int first[ROPE_KINDS]; /* of each kind the type that cools first; -1 = none */
    double uneven_c;       /* a mismatch between two ropes */
    double uneven_ratio;   /* how many times softer the warmer is; the viscosities are not known so well */
} Heat;

/* --- the cook: what goes into the kettle, and how hot it gets. Computed from the shop's own numbers;
 * moisture, and so every mass here, is good to 1 % of the candy --- */

/* What so much candy takes. Filled by cook. */
typedef struct Weights {
    double candy_g; /* cooked */
    double sugar_g; /* dry */
    double syrup_g; /* glucose syrup, its water included */
    double water_g; /* to dissolve the sugar; it boils off */
    double acid_g;  /* 0: the shop gives no dose; likewise the next two */
    double flavour_g;
    double colour_g;
} Weights;

/* Filled by cook. */
typedef struct Recipe {
    int rows;                   /* as Bill.materials, in the same order */
    Weights row[MATERIALS_MAX]; /* of each candy, all logs, spare included */
    Weights whole;              /* of all candies */
    int boilings;         /* equal, each log's by themselves: cooked candy does not wait for the next log */
    Weights boiling;      /* one of them, before it is coloured: colour_g 0 */
    double water_boils_c; /* in the shop, at its altitude */
    double shift_c;       /* how much cooler than at sea level */
    double cook_c;        /* the shop's temperature at sea level less the shift */
    double cook_least_c;  /* the same with 1.3 times the shift: that of a thick syrup can be so much */
} Recipe;

static inline RopeKind rope_kind(const RopeRow *row) {
    if (row->rim) return KIND_RIM;
    return row->shape == SHAPE_STRIP ? KIND_STRIP : row->shape == SHAPE_ROUND ? KIND_ROUND : KIND_SLANTED;
}

/* Candy, dyeing to order and laying up, of all logs; 0 without the shop's prices. */
double quote_price(const Quote *quote);

void bill_free(Bill *bill);
void heat_free(Heat *heat);

#endif
