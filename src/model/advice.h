/* What could be changed about a job, and the verdict that it would lead to. SPDX-License-Identifier: MIT
 *
 * Data only: say/ makes English of it, and nothing reads that back. */
#ifndef LOGOCANE_ADVICE_H
#define LOGOCANE_ADVICE_H

#include <stdbool.h>
#include <stdint.h>

typedef enum Verdict { VERDICT_GO, VERDICT_CHANGE, VERDICT_NO } Verdict;

enum { CHANGE_PARTS = 64 }; /* parts and holes that `without` can name: the first of the judgement's */

/* What is changed; zero: nothing. Filled by advise, as are all of these. */
typedef struct Change {
    double diameter_mm; /* of the piece; 0 = as ordered */
    long pieces;        /* 0 = as ordered */
    int colours;        /* most candies; 0 = as ordered */
    bool plain;         /* plainer detail */
    int people;         /* laying up; 0 = as many as the shop has */
    double joining_c;   /* of the warm box; 0 = as the shop has it */
    unsigned dyed;      /* set of the job's inks that get a candy dyed to them */
    uint64_t without;   /* set of parts and holes of the job's judgement that are left out */
    unsigned joined;    /* 0, or 1 + the ink that becomes ... */
    unsigned into;      /* ... this one */
} Change;

bool change_same(const Change *a, const Change *b);

/* Filled by advise_pieces. */
typedef struct PieceRange {
    long from, to; /* pieces, both included */
} PieceRange;

enum { RANGES_MAX = 2, WAYS_MAX = 4 };

/* A way out, which was run. Filled by advise. */
typedef struct Way {
    Change change;
    int ranges; /* of orders that do as change.pieces does; 0 = no others are known */
    PieceRange range[RANGES_MAX];
    bool mends;    /* the check for which it is meant is go with it */
    Verdict whole; /* of the job with it */
} Way;

/* Where no way out of a check was found. */
typedef enum Outlook {
    OUTLOOK_UNKNOWN,    /* nothing was looked for */
    OUTLOOK_REDRAW,     /* another drawing would do; what else might was not tried to the end */
    OUTLOOK_ONLY_REDRAW /* only another drawing would: all else was tried */
} Outlook;

#endif
