/* What the steps of find_lettering share. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_LETTERING_H
#define LOGOCANE_LETTERING_H

#include "base/err.h"
#include "model/ink.h"

#include <stdbool.h>
#include <stdint.h>

/* --- lettering_areas: what the picture is made of --- */

enum { REACHES = 64 }; /* directions: every 5.6 degrees, clockwise from the right */

/* A connected area of one ink, as ink_areas numbers them. */
typedef struct InkArea {
    int ink;
    bool open;    /* field that goes on beyond circle or picture */
    int pixels;   /* in it */
    int border;   /* sides of its pixels that meet other areas */
    Box box;      /* px */
    Point middle; /* px */
    double thick; /* px: the widest disc in it, up to twice `thick_most` of its InkAreas */
    int letter;   /* index of its Shape; -1 = it can be no letter */
} InkArea;

/* What could be a letter by its size. */
typedef struct Shape {
    int area;
    int ground;            /* the ink that most of its border meets */
    double grounded;       /* 0..1: so much does */
    double solid;          /* 0..1: of its convex hull that it fills */
    double reach[REACHES]; /* px from its middle to its farthest point in that direction */
} Shape;

typedef struct InkAreas {
    const InkMap *map; /* not owned */
    int32_t *of;       /* [height][width] area of each pixel; owned */
    int count;
    InkArea *area; /* [count]; owned */
    int shapes;
    Shape *shape;      /* [shapes], in the order of their areas; owned */
    double thick_most; /* px */
} InkAreas;

/* Fails with ERR_MEMORY only; *out is then untouched. Free with lettering_areas_free. */
bool lettering_areas(const InkMap *map, InkAreas *out, Err *err) MUST_CHECK;
void lettering_areas_free(InkAreas *areas);

/* --- lettering_lines: parts that stand on one line, as letters do --- */

/* The line that a row stands along: straight, or round a middle. */
typedef struct WriteLine {
    bool round;
    Point middle; /* px: of the circle; of a straight one any point of it */
    double turn;  /* radians clockwise from level: of a straight one */
} WriteLine;

/* Where a shape stands: along the line, and across it, upwards or away from the middle; px. Round a middle
 * `left` and `right` are measured at the shape's own distance. */
typedef struct Stand {
    double at;          /* along: px, or radians clockwise from the top */
    double left, right; /* px beside `at` that it reaches, both >= 0 */
    double low, high;   /* px across */
} Stand;

Stand stand_of(const WriteLine *line, Point middle, const Shape *shape);

/* How far two stand apart along the line, px; under 0: they overlap. */
double stands_apart(const WriteLine *line, const Stand *a, const Stand *b);

typedef struct WriteRow {
    WriteLine line;
    double low, high; /* px across: of most of its letters */
    double stroke;    /* px: how thick they are, in the mean */
    int ink, ground;
    int letters;
} WriteRow;

/* Does it go round the middle of the circle? */
bool goes_round(const WriteRow *row, Circle circle);

enum { WRITE_ROWS_MAX = 24 };

/* Filled by lettering_rows. */
typedef struct WriteRows {
    int count;
    WriteRow row[WRITE_ROWS_MAX];
    int8_t *of; /* [shapes] the row that each stands in, -1 = none; owned */
} WriteRows;

/* The rows that are lettering. Fails with ERR_MEMORY only; *out is then untouched. The caller frees out->of.
 */
bool lettering_rows(const InkAreas *areas, WriteRows *out, Err *err) MUST_CHECK;

/* --- lettering_looks: is it lettering? --- */

/* How a line came to be looked at: the less likely it is that drawings stand on it, the surer. */
typedef enum LineKind {
    LINE_GIVEN,  /* level, or round the middle of the picture */
    LINE_SOUGHT, /* through shapes, whatever they are */
    LINE_KNOWN   /* other lettering stands on it */
} LineKind;

/* Fills in the row's low, high, stroke and letters. `member`: its shapes, `count` of them. False where they
 * may be something else: what is not sure is no lettering. Changes nothing then. */
bool looks_lettered(const InkAreas *areas, const int *member, int count, LineKind kind, WriteRow *row);

/* Where a place lies on the picture: `at` as a Stand's, px to its right, px across. */
Point place_at(const WriteLine *line, double at, double right, double across);

/* px: the mean thickness of an area of strokes: twice its pixels, of the length of its border, which the
 * sides of pixels overrate by 1.2. */
double stroke_of(const InkArea *area);

/* Could it be a letter in a row so high? */
bool is_stroke(const InkAreas *areas, const Shape *shape, double high);

/* --- lettering_set: all that goes with it --- */

/* Filled by lettering_set. */
typedef struct Lettering {
    InkAreas areas; /* owned */
    WriteRows rows; /* owned */
    uint8_t *out;   /* [areas.count] 1 + the row that it goes with, 0 = it stays; owned */
    int letters;    /* and whatever else goes with them; 0 = there is no lettering */
    bool drawing;   /* something stays beside it that is a drawing */
    double share;   /* 0..1: of all that is drawn, what goes */
} Lettering;

/* The lettering of a picture: letters; what stands in their rows, dots, dashes; what lies in them; outlines
 * round them; a plate that carries nothing else. Fails with ERR_MEMORY only; *out is then untouched. Free
 * with lettering_free. */
bool lettering_set(const InkMap *map, Lettering *out, Err *err) MUST_CHECK;
void lettering_free(Lettering *lettering);

/* --- leave_lettering_out: the picture without it --- */

/* What goes takes the ink of the nearest pixel that stays; then the picture is closed up: the circle is that
 * of what stays, or a ring that only carried the lettering becomes a thin one. Fails with ERR_USAGE if there
 * is no lettering, or nothing beside it, and with ERR_MEMORY; *map is then its caller's to free. */
bool leave_lettering_out(InkMap *map, Err *err) MUST_CHECK;

#endif
