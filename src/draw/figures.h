/* Lengths in figures beside a drawing. SPDX-License-Identifier: MIT
 *
 * All in pt, y down, from an origin of the drawing's own. A length along a side stands on a line of its own
 * outside, or, without one, beside the side; turned along it where there is room, else level. figures_settle
 * finds the places. */
#ifndef LOGOCANE_FIGURES_H
#define LOGOCANE_FIGURES_H

#include "base/units.h"
#include "model/job.h"
#include "model/outline.h"

#include <cairo.h>

enum { FIGURES_MAX = 96, FIGURE_TEXT = 32, GROUND_DOTS = 2400 };

typedef struct Figure {
    char text[FIGURE_TEXT]; /* the length, without its unit */
    bool bold;              /* it counts from foot[0]: a dot there on its line */
    int side;               /* of the outline; -1: along the disc's edge */
    bool lined;             /* it has a line of its own, from mark[0] to mark[1] */
    Point foot[2];          /* what it measures is between */
    Point mark[2];
    Point out;    /* of length 1: out of the drawing */
    Point at;     /* by figures_settle: the text's middle */
    double turn;  /* by figures_settle: of the text, clockwise */
    double width; /* by figures_settle: of the text */
} Figure;

typedef struct Figures {
    int count;
    Figure figure[FIGURES_MAX];
    Point low, high; /* the box of the drawing and, after figures_settle, of all figures */
    int strayed;     /* by figures_settle: figures that stand well off what they measure */
} Figures;

/* What is drawn already. */
typedef struct Ground {
    Outline outline; /* no figure stands inside it */
    Circle core;     /* but outside this one they may */
    Point middle;    /* inside both */
    int dots;
    Point dot[GROUND_DOTS]; /* of lines: no figure covers one; what is beyond the last is not heeded */
} Ground;

/* The outline's and the disc's lines, as far as each lies inside the other. */
void ground_start(Ground *ground, const Outline *outline, Circle core);
void ground_line(Ground *ground, Point from, Point to);

/* The part of a line inside the disc; false, and the points untouched, if there is none. */
bool line_clip(Circle disc, Point *from, Point *to);

double point_distance(Point a, Point b);

/* The point so much of the way from a to b. */
Point point_between(Point a, Point b, double share);

/* How far text that runs along this line is turned, clockwise: so that it reads from the left, or, along a
 * steep one, upwards. */
double turn_along(Point a, Point b);

/* A new figure of a length between two points along a side; NULL if there are too many, or it is nothing. */
Figure *figure_add(Figures *figures, const Ground *ground, int side, Point from, Point to, double mm,
                   Units units);

/* Gives the figure a line, so far out. */
void figure_line(Figure *figure, double off);

/* Gives every figure its place, first those that fit on their lines, and the box with them. */
void figures_settle(Ground *ground, Figures *figures);

/* With the origin at (x, y). */
void figures_draw(cairo_t *cr, const Figures *figures, double x, double y);

#endif
