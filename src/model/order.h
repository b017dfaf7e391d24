/* Public. What is asked for: the options of one run. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_ORDER_H
#define LOGOCANE_ORDER_H

#include "base/err.h"
#include "base/units.h"
#include "model/candy.h"
#include "model/shop.h"

enum { JOB_NAME = 256, ORDER_DATE = 16, PIECES_MAX = 10000000, PIECE_LEAST_MM = 5, PIECE_MOST_MM = 60 };

typedef enum Detail { DETAIL_PLAIN, DETAIL_NORMAL, DETAIL_FINE } Detail;

/* Filled by options_parse. */
typedef struct InkWish {
    Rgb8 ink;               /* meant for the ink nearest to it, within CIEDE2000 10 */
    char candy[CANDY_NAME]; /* "dye": a candy dyed to the ink; "violet+2white": a blend */
} InkWish;

enum { POINT_UNIT = 100, POINTS_MAX = 64, EDITS_MAX = POINTS_MAX + INKS_MAX };

typedef enum EditKind {
    EDIT_LEAVE_OUT, /* the area that the point lies in: its ground goes to what is nearest */
    EDIT_LETTERING, /* all lettering is left out, and the picture closed up */
    EDIT_JOIN       /* an ink becomes another */
} EditKind;

/* A change of the logo itself, before it is matched. Filled by options_parse. */
typedef struct Edit {
    EditKind kind;
    bool with;      /* at once with the one before it; else in the picture that the one before it left */
    int x, y;       /* of a point: 1 / POINT_UNIT percent of the picture, from its left and its top */
    Rgb8 ink, into; /* of a join: each is meant for the ink nearest to it, as InkWish's */
} Edit;

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
    int edits;                            /* 0..EDITS_MAX */
    Edit edit[EDITS_MAX];                 /* in the order given */
    int people;                           /* laying up; 0 = as many as the shop has */
    double joining_c;                     /* of the warm box; 0 = as the shop has it */
    Units units;                          /* what text, CSV and sheets speak */
    char name[JOB_NAME];   /* job name, UTF-8; by command_run, from the file's name, if none is given */
    char date[ORDER_DATE]; /* by command_run: "2026-06-01", on the sheets; "" = undated */
    char valid_until[ORDER_DATE]; /* "2026-12-31": the offer's last day; "" = nothing is said */
    bool named;                   /* the name was given */
    bool quantity_asked;          /* pieces or mass were given; else they are the shop's usual number */
} Order;

/* The pixel, row by row, that a point of a picture of that size lies in. */
int spot_pixel(int width, int height, int x, int y);

enum { SPOT_TEXT = 24 };

/* A point as it is typed: "12:34.5". */
void spot_print(int x, int y, char out[SPOT_TEXT]);

/* A diameter as a command can tell it: where inches are spoken, rounded up to a thousandth of one. */
double diameter_typed(double mm, Units units);

enum { PEOPLE_MAX = 20, WARM_BOX_LEAST_C = 50, WARM_BOX_MOST_C = 110 }; /* as the shop's own keys */

/* The shop as the order has it: its people and its warm box, where the order names them. Fails with ERR_USAGE
 * if the box is no warmer than candy that can be worked; *out is then untouched. */
bool shop_for(const Shop *shop, const Order *order, Shop *out, Err *err) MUST_CHECK;

/* 1000 pieces of 16 x 14 mm, at most 4 candies, normal detail. */
Order order_default(void);

#endif
