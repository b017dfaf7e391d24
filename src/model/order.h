/* Public. What is asked for: the options of one run. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_ORDER_H
#define LOGOCANE_ORDER_H

#include "base/units.h"
#include "model/candy.h"

enum { JOB_NAME = 256, ORDER_DATE = 16, PIECES_MAX = 10000000, PIECE_LEAST_MM = 5, PIECE_MOST_MM = 60 };

typedef enum Detail { DETAIL_PLAIN, DETAIL_NORMAL, DETAIL_FINE } Detail;

/* Filled by options_parse. */
typedef struct InkWish {
    Rgb8 ink;               /* meant for the ink nearest to it, within CIEDE2000 10 */
    char candy[CANDY_NAME]; /* "dye": a candy dyed to the ink; "violet+2white": a blend */
} InkWish;

/* Filled by options_parse, but for the names and the date that the command line does not give, and for piece,
 * pieces and jacket, which are then the shop's usual ones: by options_take_usual. A sweep and the advice run
 * a job again with another size, number or detail. */
typedef struct Order {
    long pieces;              /* 1..PIECES_MAX; with weight_g by job_run: as many as weigh so much */
    double weight_g;          /* mass ordered in place of pieces; 0 = pieces are ordered */
    double piece_diameter_mm; /* PIECE_LEAST_MM..PIECE_MOST_MM */
    double piece_length_mm;   /* 2..100 */
    int colours;              /* most candies in the picture, field included, 1..INKS_MAX */
    char field[CANDY_NAME];   /* candy of the background; "" = chosen */
    int wishes;               /* 0..INKS_MAX */
    InkWish wish[INKS_MAX];
    int jackets;                          /* 0 = the field's candy */
    char jacket[JACKETS_MAX][CANDY_NAME]; /* one "auto": the field's candy and the largest other one */
    int stripes;                          /* 0 = plain, or 12 if there are several jacket candies */
    Fit fit;                              /* how the picture is laid into the disc */
    int ropes_cap;                        /* most ropes laid; 0 = no cap */
    Detail detail;                        /* how much one more rope is worth */
    bool no_fine;                         /* no fine blocks */
    Units units;                          /* what text, CSV and sheets speak */
    char name[JOB_NAME];   /* job name, UTF-8; by command_run, from the file's name, if none is given */
    char date[ORDER_DATE]; /* by command_run: "2026-06-01", on the sheets; "" = undated */
    char valid_until[ORDER_DATE]; /* "2026-12-31": the offer's last day; "" = nothing is said */
    bool named;                   /* the name was given */
    bool quantity_asked;          /* pieces or mass were given; else they are the shop's usual number */
} Order;

/* 1000 pieces of 16 x 14 mm, at most 4 candies, normal detail. */
Order order_default(void);

#endif
