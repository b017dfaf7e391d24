/* Parts of stages that have files of their own. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PLAN_PARTS_H
#define LOGOCANE_PLAN_PARTS_H

#include "plan/plan.h"

#include <stddef.h>
#include <stdint.h>

/* --- named_candies --- */

/* The index of the candy of that name; -1 with ERR_USAGE, which names `option` and lists the stock, or those
 * that the name fits. */
int stock_named(const Stock *stock, const char *name, const char *option, Err *err);

/* Appends ", name" to the list, or "..." where it would grow past its room. */
void names_add(char *list, size_t size, const char *name);

/* --- dyes, of match_candy: what an ink may become --- */

enum { CHOICES_MAX = STOCK_MAX + 2 * INKS_MAX + 1 }; /* the stock; dyed for each ink; blends: wishes, field */

typedef struct Choices {
    int count, stock; /* the first so many are the stock; those behind are dyed, or blends */
    Candy candy[CHOICES_MAX];
} Choices;

/* The stock, and, where the shop dyes to order, a candy for each ink, by falling area, that no pulled candy
 * of the stock is within NEAR_COLOUR of, or that is another shade of one beside an ink that has it. */
void choices_list(const InkMap *inks, const Shop *shop, Choices *out);

/* The index of the choice that is dyed to this colour, as near as candy comes to it: the one that is there,
 * or a new one. It has a plain name that no other choice has. At most one for each ink. */
int dye_choice(Choices *choices, const Shop *shop, Rgb8 colour);

/* --- cheapest_candies, of match_candy: the exact cheapest way to give each ink a candy --- */

typedef struct Assignment {
    int inks, choices; /* 1..INKS_MAX, 1..CHOICES_MAX */
    int limit;         /* most different choices, `beyond` and `cooked` counted, 1..INKS_MAX */
    double colour[INKS_MAX][CHOICES_MAX];     /* cost of giving ink i choice c, >= 0 */
    double border[INKS_MAX][INKS_MAX];        /* weight of the border between two inks, symmetric, >= 0 */
    double apart[INKS_MAX][INKS_MAX];         /* how far apart the two should look, symmetric */
    double between[CHOICES_MAX][CHOICES_MAX]; /* how far apart two choices look, symmetric */
    double price[CHOICES_MAX];                /* of using a choice at all, >= 0 */
    int fixed[INKS_MAX];                      /* the choice an ink must take, or -1 */
    bool cooked[CHOICES_MAX];                 /* used whatever the inks take: a blend is made of it */
    int beyond;                               /* a choice that is used whatever the inks take, or -1 */
} Assignment;

/* Finds of_ink[0..inks) with the least
 *     sum colour[i][of_ink[i]] + sum of the price of each choice used + sum over i < j of border[i][j] *
 * max(0, apart[i][j] - between[of_ink[i]][of_ink[j]]) using at most `limit` different choices, `beyond` and
 * those cooked counted. Equal costs (to 1e-9): the first in the order of inks and choices. The fixed choices,
 * `beyond` and those cooked must not be more than `limit`. Returns the cost. */
double cheapest_candies(const Assignment *a, int of_ink[INKS_MAX]);

/* --- cheapest_answers, of match_candy: several ways --- */

typedef struct Answer {
    int of_ink[INKS_MAX]; /* choice of each ink */
    double cost;          /* as cheapest_candies has it */
} Answer;

/* The cheapest first; behind it the cheapest with a candy less, then those without one of its candies, by
 * cost; none much dearer than the first. Returns how many. */
int cheapest_answers(const Assignment *a, Answer out[PALETTES_MAX]);

/* --- choose_field, of match_candy --- */

/* The choice that is the field's, where a logo stands on transparency or white: the whitest of the stock. -1:
 * the logo does not, the shop has none, or a main part would be lost on it: then *barred is the choice that
 * the field must not be, else -1. */
int white_field(const InkMap *inks, const Choices *choices, int *barred);

/* --- wrap_wishes, of lay_up: closed outlines of the wanted face that a sheet could be --- */

enum { WRAP_WISHES_MAX = 16 };

/* A line of one candy all round something nearly convex. Filled by find_wrap_wishes. */
typedef struct WrapWish {
    Outline outline;  /* steps: of few corners, as a wrap's may be, inside the core; of a round one the square
                         about it */
    bool round;       /* it is the disc that touches the sides of its outline */
    int candy;        /* palette index */
    double thickness; /* steps, as it is wanted: from a fifth of a least strip to a little over one */
} WrapWish;

/* Finds them, the largest first, *count of them. A sheet so thick, or as thick as the least, fits inside
 * each. Whether it gains to lay one is not asked. Fails with ERR_MEMORY only. */
bool find_wrap_wishes(const Grid *grid, const LayKey *key, WrapWish out[WRAP_WISHES_MAX], int *count,
                      Err *err) MUST_CHECK;

/* Steps: the thinnest sheet that may be laid. */
static inline double least_sheet(const LayKey *key) {
    return key->sheet_steps > 0 ? key->sheet_steps : 1;
}

enum { ROUND_WISHES_MAX = 24 };

/* What of the wanted face could be a sheet, or something round. Filled by find_wishes. */
typedef struct Wishes {
    int wraps;
    WrapWish wrap[WRAP_WISHES_MAX]; /* the largest first */
    int discs;
    Circle disc[ROUND_WISHES_MAX]; /* steps; the largest first: areas of one candy, with all that lies in
                                      them, or what lies in another area, that are discs to a few per cent */
} Wishes;

/* The wrap wishes, and discs at least a least strip across. Fails with ERR_MEMORY only. */
bool find_wishes(const Grid *grid, const LayKey *key, Wishes *out, Err *err) MUST_CHECK;

/* --- of lay_up --- */

/* A rope with less than a quarter of a least strip squared inside the core is pressed in; at the core's edge
 * one with less than 0.6 of it: such a sliver, 8 x 2 mm, is not pulled. */
static inline bool is_trim(double area, double least, bool rim) {
    return area < (rim ? 0.6 : 0.25) * least * least;
}

/* A picture that is its own mirror image is laid up by its left or upper half. */
typedef enum Axis {
    AXIS_NONE,    /* all of it */
    AXIS_UPRIGHT, /* the left half; the axis is its right-hand side */
    AXIS_LEVEL    /* the upper half; the axis is its lower side */
} Axis;

enum { AXES = AXIS_LEVEL + 1 };

/* The slicing tree of upright, level and corner-to-corner cuts that minimises the sum of the leaves' costs +
 * lambda * ropes, exactly; lambda in cells. Every side is at least the least side (a grid narrower than that
 * is one strip). With an axis: of the block beside it and of what lies across it, the best of such pairs; the
 * square less the block's mirror image; the axis needs twice the least side. Fails with ERR_MEMORY only. */
bool lay_straight(const Grid *grid, Axis axis, double lambda, LayUp *out, Err *err) MUST_CHECK;

/* From where a picture is searched: the optimum of all of it, or, if it is its own mirror image about one
 * axis or both, of the half or halves. Filled by starts_lay. */
typedef struct Starts {
    double price;   /* of a rope, cells */
    LayUp of[AXES]; /* those not used are empty; owned */
    Wishes wishes;
} Starts;

/* Fails with ERR_MEMORY only. */
bool starts_lay(const Grid *grid, const LayKey *key, double price, Starts *out, Err *err) MUST_CHECK;
void starts_free(Starts *starts);

/* A tree with cuts at any slope, searched from those on: by cost + lambda * ropes, copies that come with a
 * block counting 0.15 of a rope, no worse than they are, if hands can form all of their ropes. A picture that
 * is its own mirror image stays it. Fails with ERR_MEMORY only. */
bool search_cuts(const Grid *grid, const LayKey *key, const Starts *starts, double lambda, LayUp *out,
                 Err *err) MUST_CHECK;

/* --- own_motions, of find_wrong_ways: how a block can be laid on its own place --- */

/* Laid end for end or not, then turned, then shifted, by any angle and length. */
typedef struct Rigid {
    bool mirrored;       /* first: left and right change places, x becomes -x */
    double cosine, sine; /* then: turned clockwise about the origin, as seen */
    Point shift;         /* then, steps */
} Rigid;

enum {
    CORE_CORNERS_MAX = 2 * OUTLINE_MAX,    /* corners of what the core's edge leaves of an outline */
    OWN_MOTIONS_MAX = 2 * CORE_CORNERS_MAX /* each corner to one of so many, end for end or not */
};

/* What of an outline lies inside the core; convex. Filled by core_shape. */
typedef struct CoreShape {
    int corners;                    /* 0: the core's whole disc, or nothing */
    Point corner[CORE_CORNERS_MAX]; /* clockwise as seen */
    bool arc[CORE_CORNERS_MAX];     /* the core's edge runs from this corner to the next, clockwise */
} CoreShape;

CoreShape core_shape(const Outline *outline, Circle core);

Point rigid_moved(Point p, const Rigid *motion);

/* What the motion moves to p. */
Point rigid_undone(Point p, const Rigid *motion);

/* The motions that lay what of the outline lies inside the core on itself, corner to corner, side to side and
 * arc to arc: first the one that changes nothing, then the turns, then those end for end. Returns how many.
 */
int own_motions(const Outline *outline, Circle core, Rigid out[OWN_MOTIONS_MAX]);

/* --- near_motions, of find_wrong_ways: how else hands can lay a block in its place --- */

enum {
    TURNS = 72, /* looked at: every 5 degrees, and between */
    NEAR_MOTIONS_MAX = 2 * TURNS
};

/* The motions, beside own_motions, that lay what of the outline lies inside the core on its own place as well
 * as they go, by any shift and a small turn either way, so that nowhere the two are farther apart than so
 * many steps: first the turns, then those end for end. Returns how many. */
int near_motions(const Outline *outline, Circle core, double apart, Rigid out[NEAR_MOTIONS_MAX]);

/* --- keep_areas, of soften: samples are given to candies by price, such that each candy keeps its area ---
 */

enum { BLOCK = 16 }; /* samples that are worked on at once, so that compilers use vector instructions */

typedef struct AreaPrices {
    int candies;
    int opens;            /* samples to be shared out */
    size_t room;          /* for so many, a multiple of BLOCK */
    float *value;         /* [candies][room] of the open samples, 0..1; of the caller, as the next */
    float *margin;        /* [room] scratch */
    int closed[INKS_MAX]; /* samples of each candy beside the open ones */
    int target[INKS_MAX]; /* what each candy should have of both; 0: any */
    float price[INKS_MAX];
} AreaPrices;

/* Gives each open sample to the candy with the largest value + price, the earliest of equals: given[opens].
 * The prices are such that every candy has its target, or as near as can be: they start from what they are,
 * and stay. */
void keep_areas(AreaPrices *prices, uint8_t *given);

#endif
