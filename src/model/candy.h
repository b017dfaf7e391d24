/* Public. Candies: what the shop can make. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CANDY_H
#define LOGOCANE_CANDY_H

#include "model/colour.h"
#include "model/ink.h"

enum { CANDY_NAME = 48, STOCK_MAX = 64, JACKETS_MAX = 6, STRIPES_MAX = 48 };

typedef enum Finish {
    FINISH_CLEAR, /* not pulled, transparent */
    FINISH_PULLED /* aerated, opaque, satin */
} Finish;

/* One of the two candies of a blend: a pulled one of the stock. Filled by match_candy. */
typedef struct BlendPart {
    char name[CANDY_NAME];
    Rgb8 srgb;
    double density_g_ml;
    double dye_share; /* as Candy has it */
    int parts; /* of the mass, 1..BLEND_PARTS, the two without a common factor; 0 = the candy is no blend */
} BlendPart;

enum { BLEND = 2, BLEND_PARTS = 9 };

/* In the stock filled by shop_default or shop_file_open; in the palette filled by match_candy, which takes it
 * from the stock or dyes it. */
typedef struct Candy {
    char name[CANDY_NAME]; /* UTF-8, plain words, never empty */
    Finish finish;
    Rgb8 srgb;           /* how the cut face looks */
    double density_g_ml; /* cold, 0.8..1.8 */
    bool dyed;           /* to order, for this job; not from the stock */
    double dye_share;    /* colour of the candy's mass, the shop's own dose, 0..0.02; 0 = not given or dyed */
    BlendPart blend[BLEND]; /* {0} = no blend: see model/blend.h */
} Candy;

/* Filled by shop_default or shop_file_open. */
typedef struct Stock {
    int count; /* 1..STOCK_MAX */
    Candy candy[STOCK_MAX];
} Stock;

/* The candies of one job, and which ink became which. Later stages speak of candies by their index here.
 * Filled by match_candy. */
typedef struct Palette {
    int count; /* candies in the picture, field and blends included: 1..INKS_MAX */
    Candy candy[INKS_MAX];
    int field;                /* index of the field's candy */
    int inks;                 /* as InkMap.count */
    int of_ink[INKS_MAX];     /* ink -> candy index */
    double delta_e[INKS_MAX]; /* CIEDE2000 between ink and candy; 0 for the transparent ink */
    int wanted;  /* candies it would take with INKS_MAX allowed (inks under 0.5 % of the area left out); of
                    the stock alone, if those are fewer and the inks have near candies as it is; of
                    a blend its two */
    int jackets; /* jacket candies, 1..JACKETS_MAX */
    Candy jacket[JACKETS_MAX];
    int stripes; /* round the jacket, a multiple of jackets; 1 = plain */
} Palette;

/* The index of the candy of that name (ASCII case ignored; a name's start is enough if it fits one candy
 * only), -1 if none, -2 if several. */
int stock_find(const Stock *stock, const char *name);

/* "clear" or "pulled". */
const char *finish_name(Finish finish);

#endif
