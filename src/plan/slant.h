/* The search over cuts at any slope: its tree, what outlines cost, its moves. SPDX-License-Identifier: MIT
 *
 * What the files slant*.c share; nothing for others. slant.c has the method. */
#ifndef LOGOCANE_SLANT_H
#define LOGOCANE_SLANT_H

#include "base/err.h"
#include "model/grid.h"
#include "model/ink.h"
#include "model/layup.h"
#include "plan/plan_parts.h"

#include <stddef.h>
#include <stdint.h>

/* --- slant_costs: what an outline costs in each candy --- */

enum {
    POINTS = 4, /* points a step, each way, at which costs are summed */
    SIDE_BY_SIDE = 4,
    TALL = 4, /* rows of points whose sums stand together: 64 bytes of four candies, as a line of the cache */
    GROUPS_MAX = (INKS_MAX + SIDE_BY_SIDE - 1) / SIDE_BY_SIDE
};

/* What four candies cost. */
typedef int32_t Four __attribute__((vector_size(16)));

/* What every candy costs, in 1 / COST_ONE cells; those beyond the last are 0. */
typedef struct Costs {
    Four group[GROUPS_MAX];
} Costs;

typedef struct CostTable {
    int candies, groups; /* of four candies */
    int wide, high;      /* points */
    Four *before;        /* [high / TALL, rounded up][wide + 1][TALL][groups]: sums along each row; owned */
} CostTable;

/* Of a half: what both halves cost together. */
bool cost_table_new(const Grid *grid, Axis axis, CostTable *out, Err *err) MUST_CHECK;
void cost_table_free(CostTable *table);

/* An end of a straight line. */
typedef struct WalkEnd {
    Point at;    /* steps */
    int row;     /* the first row of points whose middles are not above it, 0..high */
    double into; /* steps down to these */
} WalkEnd;

WalkEnd walk_end(const CostTable *table, Point at);

/* Adds to *sum what lies left of the straight line from a to b: with a sign, so that the sum round an
 * outline, clockwise, is what each candy costs inside it. */
void add_walk_costs(const CostTable *table, const WalkEnd *a, const WalkEnd *b, Costs *sum);

/* The same between places that are not ends of several lines. */
void add_edge_costs(const CostTable *table, Point a, Point b, Costs *sum);

/* The same round the outline. */
void add_outline_costs(const CostTable *table, const Outline *outline, Costs *sum);

/* What the disc costs, its points those whose middles lie in it. Of a half only what lies in that. */
void add_disc_costs(const CostTable *table, Circle disc, Costs *sum);

/* The cheapest of the candies, the first of equal ones, and what it costs. */
int cheapest_candy(const CostTable *table, const Costs *costs, int32_t *cost);

/* --- slant_tree: the tree that is searched --- */

enum { SHEETS_MAX = 2 };

typedef struct Sheet {
    uint8_t halves; /* its thickness, half steps */
    uint8_t candy;
} Sheet;

/* Something round in a leaf: a rope, perhaps in sheets. */
typedef struct RoundPart {
    Circle disc; /* steps: all of it; r 0: nothing is */
    int sheets;
    Sheet sheet[SHEETS_MAX]; /* outermost first */
    uint8_t candy;           /* of the rope */
} RoundPart;

typedef struct Twig {
    int parent, first, second; /* indexes, -1: none; a leaf has no first */
    Outline outline;           /* with its sheets */
    int sheets;                /* it is wrapped in so many, all round */
    Sheet sheet[SHEETS_MAX];   /* outermost first */
    RoundPart round;           /* of a leaf */
    Point line[2]; /* of a cut: where it is wanted; what lies clockwise from line[1] to line[0] is first */
    OutlinePlace end[2]; /* where it runs: whole or half steps along the sides from a corner */
    int32_t cost;        /* of all leaves below, in 1 / COST_ONE cells */
    int64_t sum;         /* cost and the price of all ropes below */
    int ropes;           /* below, with their mirror images; those wholly outside the core do not count */
    int candy;           /* of a leaf */
    int copied;          /* inside a block that is there more than once: which of Tree.equal; -1: none */
    int copy;            /* a leaf that stands for a copy of such a block: which of Tree.copy; -1: none */
    bool held;           /* such a block, or its copy: its outline stays, and it is not given back */
    bool empty;          /* a leaf outside the core */
    bool fine;           /* in a fine block */
    bool changed;        /* by a move: to be laid again even if its outline stays */
    bool spare;          /* not in use; chained by parent */
    long saved;          /* the last trial that wrote it down */
    long stirred;        /* the last move that changed it or what lies round it */
    long tried;          /* the last move after which all moves of it were tried in vain */
} Twig;

/* What twigs were before something was done to them. */
typedef struct Journal {
    int count;
    struct SavedTwig {
        int index;
        Twig twig;
    } * save;         /* [room]; owned */
    int spare, twigs; /* of the tree, likewise */
    long number;      /* of the trial */
} Journal;

/* A block that is there more than once: the first of its kind is searched, for all of them together. */
typedef struct EqualBlock {
    int twig;          /* the first */
    int copies, first; /* the others, in Tree.copy */
} EqualBlock;

/* Where another one lies. */
typedef struct BlockCopy {
    int equal;     /* whose copy it is: in Tree.equal */
    Motion motion; /* from the first to this one */
} BlockCopy;

/* The best cut of an outline. */
typedef struct BestCut {
    int32_t cost; /* of both parts, without their ropes; INT32_MAX: none was found */
    OutlinePlace end[2];
} BestCut;

typedef struct KnownCuts KnownCuts; /* slant_known.c */

typedef struct Tree {
    const Grid *grid;
    const LayKey *key;
    Axis axis;
    double half;              /* steps: where the axis is */
    CostTable table;          /* owned */
    KnownCuts *known;         /* owned */
    double least, fine_least; /* steps: the least strip; that of fine blocks */
    const Wishes *wishes;     /* what of the wanted face could be wrapped, or round */
    int32_t lambda;           /* what a rope must be worth, in 1 / COST_ONE cells */
    int anew_most;            /* ropes of a block that is parted anew */
    int anew_deep;            /* cuts in a row, when a rope or block is parted anew */
    int root;
    int twigs, room;
    Twig *twig; /* [room]; owned */
    int spare;  /* the first of those not in use, -1: none */
    int *order; /* [room] scratch: twigs in the order in which they are tried; owned */
    Journal trial;
    bool broken;   /* the trial gave back what is held */
    bool wrapping; /* sheets and what is round are among the moves */
    int equals;
    EqualBlock *equal; /* owned */
    BlockCopy *copy;   /* owned */
    long move;         /* number of the last move that gained */
    bool beside;       /* where the start is laid: a leaf that cannot be gets room, rather than be dropped */
} Tree;

/* The lay-up of the square or of a half as a tree; nothing is laid yet. `together`: equal blocks stay equal.
 */
bool tree_new(const Grid *grid, const LayKey *key, Axis axis, const LayUp *from, const Wishes *wishes,
              int32_t lambda, bool together, Tree *out, Err *err) MUST_CHECK;
void tree_free(Tree *tree);

/* The tree as a lay-up, its mirror image included. */
bool tree_lay_out(const Tree *tree, LayUp *out, Err *err) MUST_CHECK;

/* A trial: twigs are changed (each is to be saved before, the topmost first), the topmost of them is laid
 * again, and then the trial is kept or taken back. */
void trial_start(Tree *tree);
void twig_save(Tree *tree, int at);
void trial_undo(Tree *tree);
void trial_keep(Tree *tree);

/* A leaf for the trial, fine as its parent is; -1 if there is no room. */
int twig_new(Tree *tree, int parent);

/* Gives the twig and all below it back. */
void twig_drop(Tree *tree, int at);

/* Makes the twig a cut along the line. */
void twig_set_cut(Tree *tree, int at, const Point line[2], int first, int second);

/* Makes the twig what the other one is, which goes with whatever else is below the twig. */
void twig_become(Tree *tree, int at, int other);

/* Is the leaf in a fine block, or one by itself? Of a fine block of one rope that needs none there is but the
 * rope. */
bool leaf_is_fine(const Tree *tree, const Twig *leaf);

/* Lays the twig and all below it into the outline; false if hands could not form that. */
bool twig_lay(Tree *tree, int at, const Outline *outline);

/* --- slant_sheets: sheets and what is round --- */

/* What a sheet must be worth, in ropes; and that something is round: a round rope is rolled, and what lies
 * about it is pressed in. Ours, measured over the open set. */
static const double sheet_price = 1.5, round_price = 1;
/* Least strips: what is left of a leaf about something round is nowhere thinner, but at the core's edge. */
static const double rest_least = 0.5;

/* The twig's outline, if it is that one, what its first sheet leaves of it, and its second;
 * skin[twig->sheets] is where what is inside the twig lies. False if hands could not lay such sheets round
 * it: its corners are too sharp, a side goes, it reaches beyond the core, or they are too thin. */
bool twig_skins(const Tree *tree, const Twig *twig, const Outline *outline, Outline skin[SHEETS_MAX + 1]);

/* The last of them. */
bool twig_inside(const Tree *tree, const Twig *twig, const Outline *outline, Outline *inside);

/* Steps: the thinnest sheet of the twig. */
double twig_least_sheet(const Tree *tree, const Twig *twig);

/* What the sheets cost, each in its cheapest candy, which it gets, with their price; added to the twig's. */
void add_sheets(const Tree *tree, Twig *twig, const Outline skin[SHEETS_MAX + 1]);

/* Could what is round lie in a leaf of that inside? */
bool round_fits(const Tree *tree, const Twig *leaf, const Outline *inside);

/* Lays it: leaf->cost, leaf->candy and the candies of what is round. `costs`: of all that lies inside.
 * Returns what it is worth in ropes beside the leaf itself. */
double lay_round(const Tree *tree, Twig *leaf, const Costs *costs);

/* What an outline, or a disc, of the twig costs, all copies of it together. */
void add_all_costs(const Tree *tree, const Twig *twig, const Outline *outline, Costs *sum);

/* What a rope of the twig is worth: with its mirror image it is two, unless that comes with a block; copies
 * count a little. */
double ropes_worth(const Tree *tree, const Twig *twig);

/* --- slant_equal: blocks of a lay-up that are there more than once --- */

/* Which node of the lay-up is a copy of which. */
typedef struct NodeCopy {
    int of;        /* index of the first of its kind; itself: it has copies; -1: neither */
    Motion motion; /* from the first to this one */
} NodeCopy;

/* copy[from->nodes]: of blocks of some ropes, none of them cut by the rim, none inside another one, none that
 * touches the axis or lies beyond it. */
void find_copies(const Tree *tree, const LayUp *from, NodeCopy *copy);

/* --- slant_outlines: places, halves --- */

/* The two places, whole or half steps from a corner, nearest to where the line from line[0] to line[1]
 * meets the outline; false if it does not. */
bool line_meets(const Outline *outline, const Point line[2], OutlinePlace place[2]);

/* The same, the end on the axis brought level. */
bool line_places(const Tree *tree, const Outline *outline, const Point line[2], OutlinePlace place[2]);

/* The place so far on from another, clockwise, at a whole or half step. */
OutlinePlace place_moved(const Outline *outline, OutlinePlace from, double by);

/* A cut that ends on the axis goes on in its mirror image, straight: the end is brought level with the other
 * one. So does a side at right angles to the axis: an end on it is brought to a whole or half step from its
 * outer corner. False if that is beyond the side. */
bool level_end(const Tree *tree, const Outline *outline, OutlinePlace end[2]);

/* From corner `side` to the next. */
double side_length(const Outline *outline, int side);

/* The square, or the half of it. */
Outline tree_outline(const Tree *tree);

Point point_mirrored(const Tree *tree, Point p);
bool is_on_axis(const Tree *tree, Point p);

/* The side that lies on the axis, -1: none. */
int axis_side(const Tree *tree, const Outline *outline);

/* The outline and, beyond the axis, the mirror image of another: both have a side on the axis, the same. */
Outline outline_mirrored(const Tree *tree, const Outline *outline, const Outline *other);

/* Could the outline, with its mirror image if it touches the axis, be a rope? */
bool can_be_rope(const Tree *tree, const Outline *outline, bool fine);

/* Does the outline lie on that side of the line which is called first? */
bool lies_first(const Outline *outline, const Point line[2]);

/* --- slant_known: best cuts that were found before --- */

/* Shared by a tree and its copies, whose threads may use it at once. NULL if memory has run out. */
KnownCuts *known_new(Err *err) MUST_CHECK;
void known_free(KnownCuts *known);

/* Is it known? Something is forgotten now and then: what is known is what would be found. */
bool known_find(KnownCuts *known, const Outline *outline, bool fine, BestCut *out);
void known_put(KnownCuts *known, const Outline *outline, bool fine, const BestCut *cut);

/* --- slant_parts: a rope or block parted anew --- */

/* Makes the twig a leaf, or cuts it and what comes of it by the best cut, as often as `depth`, where that is
 * cheaper; its outline stays. False if hands could form neither. Part of a trial. */
bool twig_part(Tree *tree, int at, int depth);

/* --- slant_moves --- */

/* Lays what is below the twig into the outline. Of two parts of which hands could form but one, that one
 * grows over the other; two of which they could form neither are parted anew. False if that does not help.
 * Part of a trial. */
bool twig_mend(Tree *tree, int at, const Outline *outline);

/* Tries all moves of the twig; each that gains is kept. */
void try_moves(Tree *tree, int at);

/* Tries to turn the block round: first the cut that is now inside it, then the rest. */
bool try_inside_out(Tree *tree, int at, int inner);

/* A copy of what of the twig lies in the outline; -1 without room, or if something held is in it, or if a cut
 * cannot be made in the outline: `rough`: then a leaf is put there. Part of a trial. */
int copy_within(Tree *tree, int from, int parent, const Outline *outline, bool rough);

/* Keeps the trial of one twig if that gains, else takes it back. */
bool settle(Tree *tree, int at, bool laid);

/* --- slant_wraps: moves with sheets and what is round --- */

/* Tries to wrap the twig, to change its sheets or what is round in it, and to be without. */
void try_wraps(Tree *tree, int at);

/* One way to cut a wish of the wanted face out of a block: its sides one after another, and what is then in
 * the middle wrapped, or something round. */
typedef struct Peel {
    const Outline *outline; /* the wish */
    int first;              /* the side that is cut first */
    bool back;              /* then the one before it, else the next */
    bool bare;              /* nothing of what was there stays in the middle */
    int sheets;
    Sheet sheet[SHEETS_MAX];
    RoundPart round;
} Peel;

/* How a wish could be fulfilled, but for `first` and `back`; its outline, or the half of it that is searched,
 * is put into *outline. False if it could not, or not by itself. */
bool peel_of_wrap(const Tree *tree, int wish, Outline *outline, Peel *out);
bool peel_of_disc(const Tree *tree, int wish, Outline *outline, Peel *out);

/* Makes the twig such a block; false if that cannot be. A trial of its own, kept whether it gains or not. */
bool try_peel(Tree *tree, int at, const Peel *peel);

/* --- slant_copies: several things tried at once --- */

enum { TRIES = 8 }; /* as many as there are threads at most (parallel.h) */

/* Trees like another one, for threads to try something on; what of it never changes is that tree's own. */
typedef struct Copies {
    Tree tree[TRIES];
    Tree was; /* what the tree was before something was done to it */
} Copies;

bool copies_new(const Tree *tree, Copies *out, Err *err) MUST_CHECK;
void copies_free(Copies *copies);

/* Makes a tree what the other one is: of a tree and its copies any two. */
void tree_become(Tree *to, const Tree *from);

/* --- slant_wishes --- */

/* Fulfils what wishes of the wanted face gain; false if none does. */
bool fulfil_wishes(Tree *tree, Copies *copies);

/* --- slant --- */

/* Tries all moves below the twig until none gains. */
void search_below(Tree *tree, int top);

/* Turns blocks below the twig inside out, and searches again, until nothing gains or for some rounds. `copy`:
 * [TRIES] copies of the tree. */
void search_rounds(Tree *tree, Tree copy[], int top);

#endif
