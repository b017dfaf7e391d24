/* Parts of even_letters that have files of their own. SPDX-License-Identifier: MIT
 *
 * A row of letters is worked on as a raster of its own, level, in samples of the face's size: x along the
 * row, y across it. Round the core's middle x is the way along the circle half-way up the letters, clockwise,
 * and y runs inwards. Points "from the row's middle" are measured from the middle of that raster. */
#ifndef LOGOCANE_LETTERS_H
#define LOGOCANE_LETTERS_H

#include "parts/parts.h"
#include "plan/plan.h"

/* How the row's raster lies on the face. */
typedef struct RowPlace {
    bool arc;      /* round `middle` */
    Point middle;  /* samples: of the row on the face; of an arc, of the core */
    double radius; /* samples: of an arc, half-way up the letters */
    double turn;   /* radians clockwise from the top: of an arc, where its middle is */
} RowPlace;

/* Where a sample of the face lies from the row's middle; and the other way. */
Point row_point(const RowPlace *place, double x, double y);
Point face_point(const RowPlace *place, double x, double y);

enum { ROW_LETTERS_MAX = 40 };

/* A row of letters, and the lines that its strokes run along. Free with letter_row_free. */
typedef struct LetterRow {
    RowPlace place;
    int candy;                 /* palette index: the letters' */
    int ground;                /* palette index: what they stand on */
    int letters;               /* 1..ROW_LETTERS_MAX, from the left */
    int32_t *letter;           /* [areas] 1 + the letter that each area of the face is of, 0 = none; owned */
    int width, height;         /* of the raster; even */
    double ink_wide, ink_high; /* samples: of all letters together */
    uint8_t *ink;              /* [height][width] 1 + the letter, 0 = none, as round the edge; owned */
    uint8_t *line;             /* [height][width] likewise, of the strokes' middle lines alone; owned */
    double stem;               /* samples: half of the lines are so thick or less */
} LetterRow;

void letter_row_free(LetterRow *row);

/* --- letter_row: a row from the face --- */

/* Row `index`, with what else of its candy stands over or under its letters: dots, accents. ink is NULL where
 * it is none to be redrawn: too many letters, or other candies among them. part_of[areas]: the part that each
 * area is, -1 = none. Fails with ERR_MEMORY only; *out is then empty. */
bool letter_row_find(const Areas *areas, const Rows *rows, const int32_t *part_of, int index, LetterRow *out,
                     Err *err) MUST_CHECK;

/* --- letter_lines: the lines of the letters' strokes --- */

/* Fills line and stem; thickness is measured up to `cap` samples. A letter without a line as long as it is
 * thick is a blob, and the row none of letters: *drawn is then false. Fails with ERR_MEMORY only. */
bool letter_lines_find(LetterRow *row, double cap, bool *drawn, Err *err) MUST_CHECK;

/* --- letter_stretch: where the lines go --- */

enum { ALONG, ACROSS, WAYS };

/* What the letters shall be, in samples. */
typedef struct LetterSize {
    double stem;       /* all strokes */
    double gap[WAYS];  /* counters and bays at least, and along the row what parts letters */
    double wide, high; /* the whole row, or more if it must be */
    double scale;      /* what is no gap that must be wider is made no narrower than so much of what it was */
    double taper;      /* times as wide as a gap is one that tapers to nothing, where it is widest */
} LetterSize;

/* Where columns and rows of the row's raster go. */
typedef struct Stretch {
    double *
        to[WAYS]; /* [width] and [height] samples from the row's middle, rising; the first owned, one block */
    double wide, high; /* samples: the whole row, strokes' halves included */
    int gaps;          /* counters and bays that count */
} Stretch;

/* Fails with ERR_MEMORY only; *out is then untouched. The caller frees out->to[ALONG]. */
bool letter_stretch(const LetterRow *row, const LetterSize *size, Stretch *out, Err *err) MUST_CHECK;

/* --- letter_pen: strokes along the lines --- */

/* The redrawn row, its middle where the row's is. */
typedef struct RowInk {
    int width, height;                               /* samples; even */
    uint8_t *ink;                                    /* [height][width] 1 + the letter, 0 = none; owned */
    Point was[ROW_LETTERS_MAX], is[ROW_LETTERS_MAX]; /* a place on a line of each letter, from the row's
                                                        middle: as it was, and here */
} RowInk;

/* Straight strokes along and across the row come to lie where their edges are whole steps, unless it is an
 * arc. Fails with ERR_MEMORY only; *out is then untouched. The caller frees out->ink. */
bool letter_pen(const LetterRow *row, const Stretch *stretch, const LetterSize *size, RowInk *out,
                Err *err) MUST_CHECK;

#endif
