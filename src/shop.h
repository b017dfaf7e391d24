/* The shop: its limits, habits and stock. SPDX-License-Identifier: MIT
 *
 * Every number here is common practice, no source, unless marked; the shop knows better. */
#ifndef LOGOCANE_SHOP_H
#define LOGOCANE_SHOP_H

#include "candy.h"

enum { SHOP_WORD = 16 };

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
    double price_candy_kg;      /* of a kilogram of candy; 0 = not given: then no cost is worked out from it */
    double price_hour;          /* of an hour of one person's work; 0 = not given */
    char currency[SHOP_WORD];   /* UTF-8, behind a price; "" = not given */
    Stock stock;
} Shop;

/* The built-in shop: the defaults of trade.md and a stock of 16 candies. */
Shop shop_default(void);

#endif
