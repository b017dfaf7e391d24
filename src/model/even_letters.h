/* Public. What was done to letters that stand in a row. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_EVEN_LETTERS_H
#define LOGOCANE_EVEN_LETTERS_H

#include "base/geom.h"

#include <stdbool.h>

enum { EVEN_ROWS_MAX = 8, EVEN_LETTERS_MAX = 96 /* of all rows */ };

/* What letters are made to be. A value: whoever has letters made even says it. */
typedef struct EvenWish {
    double stem; /* least strips: how thick strokes are, to a whole step; 0: as thick as they are, if that is
                    a least strip or more */
    double gap;  /* least strips: counters, bays and what parts letters, from left to right, at least */
    double gap_high; /* least strips: counters and bays from top to bottom, at least */
    double grow; /* times as wide and as high as it was is a row that has the room, unless it must be more */
} EvenWish;

/* A row that was redrawn. Filled by even_letters. */
typedef struct EvenRow {
    bool arc;                      /* its letters stand round the core's middle */
    int letters;                   /* parts in it; dots and accents not counted */
    int candy;                     /* palette index */
    double stem_was, stem;         /* samples: how thick strokes were, in the middle, and are */
    double gap, gap_high;          /* samples: what is left between strokes at least */
    double times_wide, times_high; /* its size in what it was */
} EvenRow;

/* A letter that was redrawn. Filled by even_letters. */
typedef struct EvenLetter {
    int row;       /* index of its row */
    Point was, is; /* samples: a place within it, in the face as it was, and redrawn */
} EvenLetter;

/* Filled by even_letters. */
typedef struct EvenLetters {
    int rows;
    EvenRow row[EVEN_ROWS_MAX];
    int letters;
    EvenLetter letter[EVEN_LETTERS_MAX]; /* row by row, from the left, or clockwise */
} EvenLetters;

#endif
