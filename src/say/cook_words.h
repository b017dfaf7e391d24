/* Public. What the kitchen is told: the cook and the heat. SPDX-License-Identifier: MIT
 *
 * Text and sheets print the same. Every figure says where it comes from: a publication, the shop's
 * habit, or computed from such. */
#ifndef LOGOCANE_COOK_WORDS_H
#define LOGOCANE_COOK_WORDS_H

#include "say/log_words.h"

enum { COOK_LINE = 400, COOK_CELLS = 7 };

/* A cell in the row of a candy, or of all. */
typedef struct CookCell {
    const char *name; /* of its column; a constant string */
    double g;
    bool dose; /* weighed on a small scale: in grams, in all units */
} CookCell;

/* The cells that the cook's table has for these weights: candy, sugar, syrup, water, and those doses that the
 * shop gives. Returns how many; the same for all rows of a job. */
int cook_cells(const Job *job, const Weights *weights, CookCell out[COOK_CELLS]);

/* A dose under 1 kg: "0.25 g", "45.0 g". */
void dose_print(double g, char out[32]);

/* A row of the cook's table. */
typedef struct CookRow {
    const char *name;       /* of the candy; "all"; "a boiling" */
    const Candy *candy;     /* not owned; NULL of the last two */
    const Weights *weights; /* not owned */
} CookRow;

enum { COOK_ROWS = MATERIALS_MAX + 2 };

/* Lists the candies that are cooked, then all of them and one of several boilings. Returns how many. */
int cook_rows(const Job *job, CookRow out[COOK_ROWS]);

typedef struct CookWords {
    char source[COOK_LINE];      /* what the masses are computed from */
    char boilings[COOK_LINE];    /* how many, and how much each */
    char temperature[COOK_LINE]; /* how hot */
    char thick[COOK_LINE];       /* how little of it may do for thick syrup; "" at sea level */
} CookWords;

void cook_words(const Job *job, CookWords *out);

/* How many batches are coloured; what is cooked for the ends of blocks, "" if nothing. */
void batches_words(const Job *job, Form form, char out[COOK_LINE]);
void block_ends_words(const Job *job, Form form, char out[COOK_LINE]);

/* How long ropes and the log stay workable. */
typedef struct HeatWords {
    char terms[COOK_LINE];  /* what the times are */
    char strips[COOK_LINE]; /* by thickness; "" if there are none */
    char wedges[COOK_LINE]; /* likewise */
    char rest[COOK_LINE];   /* rim ropes, the log */
    char uneven[COOK_LINE]; /* what a difference in warmth does */
} HeatWords;

void heat_words(const Job *job, HeatWords *out);

#endif
