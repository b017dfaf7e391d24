/* Public. The shop: its limits, habits and stock. SPDX-License-Identifier: MIT
 *
 * The figure behind each field is the built-in one. Every one is common practice, no source, unless marked;
 * the shop knows better. All stand, with their ranges and sources, in docs/numbers.md. */
#ifndef LOGOCANE_SHOP_H
#define LOGOCANE_SHOP_H

#include "model/candy.h"

enum { SHOP_WORD = 16 };

/* Filled by shop_default, then by shop_file_open with what the shop file says; a run of the advice may have
 * more people or a warmer box. */
typedef struct Shop {
    double log_diameter_max_mm; /* 200; hand logs 80..200 */
    double log_diameter_min_mm; /* 80 */
    double log_length_min_mm;   /* 300 */
    double log_mass_max_g;      /* 12 000 */
    double least_strip_mm;      /* 6: thinnest rope that hands form and lay */
    double least_sheet_mm;      /* 3: thinnest ring */
    double bench_length_mm;     /* 2000: a cane is cut to it before chopping */
    double lump_length_min_mm;  /* 60: least length of a lump to draw out */
    double block_width_max_mm;  /* 100: widest block built to be drawn down */
    double jacket_share;        /* 0.10 of the log's radius */
    double lost_share;          /* 0.12 of the log, in ends and starting */
    double spare_share;         /* 0.05 of each candy */
    double rounding;            /* 0.35 least strips: how far rolling rounds corners */
    int ropes_max;              /* 60 ropes made for a log */
    double minutes_rope;        /* 0.6 */
    double minutes_join;        /* 0.4 */
    double minutes_draw;        /* 1.5, drawing out a block */
    int people;                 /* 2 laying up */
    double working_minutes;     /* 40 */
    double kettle_g; /* 6000 of candy: the largest boiling; books of 1885 and 1911 have hand batches of 5.4 to
                        6.8 kg */
    double altitude_m;        /* 0: of the kitchen, above the sea */
    double sugar_share;       /* 0.70 of the dry sugars, the rest syrup solids; 0.3..0.8: Hartel, The
                                 Manufacturing Confectioner, Sept 2012, fig. 1 */
    double syrup_solids;      /* 0.803 of glucose syrup of 43 degrees Baume, 0.795..0.81: Corn Refiners
                                 Association, from memory */
    double moisture;          /* 0.025 of the cooked candy, 0.01..0.04: Hartel 2012 */
    double cook_c;            /* 149 at sea level, 145..152: Hartel 2012 */
    double water_share;       /* 0.30 of the sugar, to dissolve it; 0.25..0.35 */
    double acid_share;        /* of the candy; 0 = not given. The shop's own dose, as is flavour's */
    double flavour_share;     /* of the candy; 0 = not given */
    double joining_c;         /* 80: of the ropes in the warm box, when they are joined; workable 70..90 */
    double working_c;         /* 70: below it a rope is no longer joined; over room_c, under joining_c */
    double room_c;            /* 22 */
    double price_candy_kg;    /* of a kilogram of candy; 0 = not given: then no cost is worked out from it */
    double price_hour;        /* of an hour of one person's work; 0 = not given */
    char currency[SHOP_WORD]; /* UTF-8, behind a price; "" = not given */
    Stock stock;
} Shop;

/* The built-in shop: common practice, and a stock of 16 candies. */
Shop shop_default(void);

#endif
