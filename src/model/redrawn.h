/* Public. What of a logo is redrawn for hands. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_REDRAWN_H
#define LOGOCANE_REDRAWN_H

#include "base/geom.h"
#include "model/even_letters.h"

/* How a picture may be redrawn. */
typedef enum RedrawWay {
    REDRAW_NOTHING,
    REDRAW_LINES,   /* lines that part what is apart by itself, or go round a sign, are left out but for those
                       that are almost ropes, and the others thickened */
    REDRAW_OUT,     /* the same, however thick they are */
    REDRAW_THICKER, /* all lines are thickened */
    REDRAW_WAYS
} RedrawWay;

typedef enum RedrawnHow {
    REDRAWN_KEPT,      /* as it was sent */
    REDRAWN_THICKENED, /* to what hands can just lay */
    REDRAWN_LEFT_OUT   /* its ground is its neighbours' */
} RedrawnHow;

/* A line: a thin area of one candy, or a thin limb of one. Filled by redraw. */
typedef struct RedrawnLine {
    RedrawnHow how;
    int candy;     /* palette index; the field's for a gap */
    bool text;     /* a letter of a line of text that is too small */
    bool limb;     /* part of an area that is thicker elsewhere */
    int samples;   /* its area as sent */
    double width;  /* mean, samples */
    double length; /* samples */
    bool outline;  /* it parts what is apart without it along most of its length, or is a frame */
    bool frame;    /* all of an area, round half of all else: a sign's rim */
    double parted; /* 0..1: along how much of its length its two sides are apart without it */
    double missed; /* 0..1: how much of it an eye misses, or finds otherwise */
    Box box;       /* samples, as sent */
    Point middle;  /* samples: one of its own that is near the middle of its area */
} RedrawnLine;

enum { REDRAWN_MAX = 16 };

/* Filled by redraw. */
typedef struct Redrawn {
    RedrawWay way;
    int found;                     /* lines, whatever became of them */
    int count, more;               /* lines told: not those kept; others */
    RedrawnLine line[REDRAWN_MAX]; /* the largest first */
    double worth[REDRAW_WAYS];     /* by redraw_best: what each way is worth; all 0: none was tried */
    EvenLetters even;              /* by even_best: letters that were made even */
    double left_out;  /* sum over the lines left out that are no specks of the root of their samples */
    double missed;    /* the same, each by how much it is missed */
    double thickened; /* likewise of those thickened, each by how much it is otherwise */
} Redrawn;

#endif
