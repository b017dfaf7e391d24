/* Lines: what of a face is too thin for hands. SPDX-License-Identifier: MIT
 *
 * What the files of the stage redraw share; nothing for others. redraw.c has the method. */
#ifndef LOGOCANE_LINES_H
#define LOGOCANE_LINES_H

#include "base/err.h"
#include "model/grid.h"
#include "model/redrawn.h"
#include "parts/parts.h"

#include <stdint.h>

/* A line, and what is known of it. */
typedef struct Line {
    RedrawnLine told; /* `how`: by redraw */
    int area;         /* in Lines.areas: of which it is all or part */
    bool bridge;      /* a limb by which parts of its area hang together */
    bool shortish;    /* too short to be seen as a line */
} Line;

typedef struct Lines {
    const Grid *grid; /* not owned */
    int side;
    size_t count;     /* samples */
    double least;     /* the least strip, samples */
    Areas areas;      /* of the face as sent; owned, as are all */
    int texts;        /* lines of small text */
    int *text;        /* [areas] of which line of text it is a letter, or a hole in one: 1..texts; 0: none */
    bool *letter;     /* [areas] one of a row, whatever its size */
    uint8_t *in_line; /* [count] 0 or 1 */
    int32_t *label;   /* [count] the line of a sample, or -1 */
    int32_t *beside;  /* [count] of a sample in a line: what is beside it on the side that is nearer; -1 */
    int32_t *nearest; /* [count] the nearest sample in no line; -1: there is none */
    int lines;
    Line *line; /* [lines] in reading order */
} Lines;

/* Finds the lines of grid->wanted. Fails with ERR_MEMORY only; *out is then untouched. Free with lines_free.
 */
bool lines_find(const Grid *grid, Lines *out, Err *err) MUST_CHECK;
void lines_free(Lines *lines);

/* Part of finding lines: fills in lines->text and letter, from the areas and in_line, which then holds all of
 * them. Fails with ERR_MEMORY only. */
bool mark_small_text(Lines *lines, Err *err) MUST_CHECK;

/* The candy that is at the sample without any lines, and its area, -1: none. */
int ground_candy(const Lines *lines, size_t sample);
int ground_area(const Lines *lines, size_t sample);

/* Draws line `at` into made[count], as wide as hands can lay; false if that would run it into another line
 * that is there, or take most of an area beside it: nothing is drawn then. Fails with ERR_MEMORY only. */
bool thicken(const Lines *lines, int at, uint8_t *made, bool *drawn, Err *err) MUST_CHECK;

#endif
