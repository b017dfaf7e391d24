/* Public. The shop: its limits, habits and stock, and the keys of its file. SPDX-License-Identifier: MIT
 *
 * The figure behind each field is the built-in one. Every one is common practice, no source, unless marked;
 * the shop knows better. All stand, with their ranges and sources, in docs/numbers.md. */
#ifndef LOGOCANE_SHOP_H
#define LOGOCANE_SHOP_H

#include "model/candy.h"
#include "model/far_colour.h"

#include <stddef.h>

enum { SHOP_WORD = 16, SHOP_TEXT = 164 };

/* Filled by shop_default, then by shop_file_open with what the shop file says; a run of the advice may have
 * more people or a warmer box. */
typedef struct Shop {
    double log_diameter_max_mm; /* 200; hand logs 80..200 */
    double log_diameter_min_mm; /* 80 */
    double log_length_min_mm;   /* 300 */
    double log_mass_max_g;      /* 12 000 */
    double least_strip_mm;      /* 6: thinnest rope that hands form and lay */
    double least_sheet_mm;      /* 3: thinnest ring */
    double sharpest_deg;        /* 14 degrees: sharpest corner of a rope's section */
    int corners_max;            /* 5 corners of a rope's section */
    double taper_share;         /* 0.70 of the least strip: least width of a wedge */
    double bench_length_mm;     /* 2000: a cane is cut to it before chopping */
    double lump_length_min_mm;  /* 60: least length of a lump to draw out */
    double block_width_max_mm;  /* 100: widest block built to be drawn down */
    double jacket_share;        /* 0.10 of the log's radius */
    double lost_share;          /* 0.12 of the log, in ends and starting */
    double spare_share;         /* 0.05 of each candy */
    int blend_folds;            /* 3, of a blend, which starts as two layers: each doubles them */
    double rounding;            /* 0.35 least strips: how far rolling rounds corners */
    int ropes_max;              /* 60 ropes made for a log */
    double minutes_rope;        /* 0.6 */
    double minutes_join;        /* 0.4 */
    double minutes_draw;        /* 1.5, drawing out a block */
    int people;                 /* 2 laying up */
    double working_minutes;     /* 40 */
    double kettle_g;            /* 6000 of candy: the largest boiling */
    double altitude_m;          /* 0: of the kitchen, above the sea */
    double sugar_share;         /* 0.70 of the dry sugars, the rest syrup solids */
    double syrup_solids;        /* 0.803 of glucose syrup of 43 degrees Baume */
    double moisture;            /* 0.025 of the cooked candy */
    double cook_c;              /* 149 at sea level */
    double water_share;         /* 0.30 of the sugar, to dissolve it; 0.25..0.35 */
    double acid_share;          /* of the candy; 0 = not given. The shop's own dose, as is flavour's */
    double flavour_share;       /* of the candy; 0 = not given */
    double joining_c;           /* 80: of the ropes in the warm box, when they are joined; workable 70..90 */
    double working_c;           /* 70: below it a rope is no longer joined; over room_c, under joining_c */
    double room_c;              /* 22 */
    bool dye_to_order;          /* true: where no candy of the stock is near an ink, a batch is dyed to it */
    CandyGamut dyed;            /* 10, 97, 80: what a dyed candy can be */
    double price_candy_kg;    /* of a kilogram of candy; 0 = not given: then no cost is worked out from it */
    double price_hour;        /* of an hour of one person's work; 0 = not given */
    double price_dyed_batch;  /* of dyeing a batch to order, beside its candy; 0 = not given */
    char currency[SHOP_WORD]; /* UTF-8, behind a price; "" = not given */
    char name[SHOP_TEXT];     /* UTF-8, of the shop, for the client; "" = not given */
    char address[SHOP_TEXT];  /* one line below the name: where it is, how to reach it; "" = not given */
    double piece_diameter_mm; /* 16: the usual piece, as Order has it */
    double piece_length_mm;   /* 14 */
    int pieces;               /* 1000: the usual order */
    char jacket[SHOP_TEXT];   /* the usual jacket, as --jacket takes it: "red, white"; "" = the field's */
    Stock stock;
} Shop;

/* The built-in shop: common practice, and a stock of 16 candies. */
Shop shop_default(void);

/* Does it give any price? Else no cost is worked out. */
bool shop_has_prices(const Shop *shop);

/* --- the keys of the shop file: one table for the reader, the printer and the manual --- */

/* What a key holds, and how it is written. */
typedef enum KeyKind {
    KEY_LENGTH, /* double, mm; written in mm, cm or in: 6 mm, 1/4 in */
    KEY_MASS,   /* double, g; written in kg, g, lb or oz, kg if bare */
    KEY_HEAT,   /* double, Celsius; written in C or F */
    KEY_SHARE,  /* double, 0..1; written in % */
    KEY_NUMBER, /* double, written as it is */
    KEY_WHOLE,  /* int */
    KEY_WORD,   /* char[SHOP_WORD] */
    KEY_TEXT,   /* char[SHOP_TEXT]: a line */
    KEY_YES     /* bool, written yes or no */
} KeyKind;

/* A row of the table, a constant: no stage fills it. */
typedef struct ShopKey {
    const char *section, *key; /* as the shop file has them */
    KeyKind kind;
    size_t offset;    /* of its field in Shop */
    const char *unit; /* as written: "mm", "kg", "%", "min"; "" = none. May be left out in the file. */
    double built_in;  /* in that unit; 1 = yes */
    double low, high; /* in that unit; of a word: its longest, bytes */
    const char
        *standing; /* where the built-in value comes from; "your own figure ...": 0 or "" means not given */
    const char *help; /* what it is */
} ShopKey;

enum { SHOP_KEYS_MAX = 64 };

/* The table, rows of one section together; *count rows, at most SHOP_KEYS_MAX. */
const ShopKey *shop_keys(int *count);

/* The key of that name in that section, NULL if there is none. */
const ShopKey *shop_key_find(const char *section, const char *key);

/* Sets the key's field of *shop to the built-in value. */
void shop_key_reset(const ShopKey *key, Shop *shop);

/* Reads `text` into the key's field of *shop; false, and *shop untouched, if it cannot be read or is out of
 * range. */
bool shop_key_read(const ShopKey *key, const char *text, Shop *shop);

/* The field's value as written in the file, with the fewest decimals that read back to the same value. */
void shop_key_print(const ShopKey *key, const Shop *shop, char *out, size_t size);

/* Is it a key without a built-in value, and not given? It is printed as a remark then. */
bool shop_key_empty(const ShopKey *key, const Shop *shop);

/* "3 to 20 mm", "at most 8 bytes of plain text", "yes or no": what the key takes. */
void shop_key_range(const ShopKey *key, char *out, size_t size);

#endif
