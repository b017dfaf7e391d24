/* Public. The inks of a logo and where they are. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_INK_H
#define LOGOCANE_INK_H

#include "model/colour.h"
#include "base/geom.h"

enum { INKS_MAX = 12 };

/* How a picture is laid into the disc. */
typedef enum Fit {
    FIT_AUTO, /* a picture without a background as a disc out of it where that keeps what it shows */
    FIT_CROP, /* as a disc out of it */
    FIT_WHOLE /* all of it, on a background */
} Fit;

/* Filled by find_inks. */
typedef struct Ink {
    Rgb8 srgb;        /* its colour; {0} if transparent */
    bool transparent; /* the logo's transparent part is an ink of its own */
    double share;     /* of what is inside the circle, 0..1 */
} Ink;

enum { GONE_MAX = 64 };

/* A part or a hole that is left out. Filled by leave_out. */
typedef struct Gone {
    Ink ink;   /* its own; its share is not told */
    bool hole; /* it was field */
    Box box;   /* px */
} Gone;

/* Filled by find_inks, but for the last ones: by leave_out. */
typedef struct InkMap {
    int width, height; /* px, as the Picture's */
    int count;         /* inks, 1..INKS_MAX, largest share first */
    Ink ink[INKS_MAX];
    double border[INKS_MAX][INKS_MAX]; /* share of all ink borders inside the circle; symmetric, 0 on the
                                          diagonal; sums to 1 over i < j if there is any border */
    int field;                         /* the ink that is the background, 0..count - 1 */
    double across[INKS_MAX][INKS_MAX]; /* how often two meet across lines too thin to be built, as a share of
                                          all ink borders; symmetric, 0 on the diagonal */
    bool
        full_bleed; /* the picture fills its rectangle, several inks reach its border: it has no background */
    bool roundel;   /* the logo is a disc by itself: a badge, a coin */
    bool cropped;   /* what lies outside the circle is left out */
    bool beyond;    /* the field is what lies round the picture: a transparent ink that no pixel has */
    Circle circle;  /* px: what comes on the core. The disc that is cropped to; else the smallest circle
                       round the foreground (not field), round a picture that is full-bleed or has no
                       foreground to its corners */
    double shaded;  /* share of what is not field that is gradient, shadow, photograph; 0..1 */
    double deep;    /* share of what is not field that is shaded by over CIEDE2000 16: not to be flattened
                       without being missed; 0..shaded */
    double grain;   /* share of what is shaded that is grained, as photographs are; 0..1 */
    double faint;   /* of all edges in the picture those between colours that are one ink: 0..1 */
    double faint_apart; /* CIEDE2000: how far apart such colours are, in the mean; 0 if there are none */
    int cuts; /* by find_edges: how often two inks, neither of them the field, meet on the side of the picture
                 where they do so most: it cuts through the drawing; 0 of one that has no background */
    double open[INKS_MAX]; /* by find_edges: share of what is inside the circle, as areas of the ink that meet
                              the field along much of their border; 0 of the field */
    uint8_t *label;        /* [height][width], ink index; owned */
    int gones; /* 0..GONE_MAX, by leave_out, as the next two: parts that were left out by points */
    Gone gone[GONE_MAX];
    double lettering; /* of what was drawn, the lettering that was left out: 0..1; 0 = none was */
} InkMap;

#define INK_NEAR 10.0 /* CIEDE2000; a colour that is named is meant for an ink this near */

/* The ink nearest to a colour that is named, of those that are not transparent; -1: none is near. */
int ink_nearest(const InkMap *map, Rgb8 named);

void inkmap_free(InkMap *map);

/* How much of the ink's border meets the field, 0..1; of a large one also across a line too thin to be built.
 */
double ink_at_field(const InkMap *map, int ink);

/* What becomes of an ink on a field of its own colour. */
typedef enum OnField {
    ON_FIELD_SEEN,   /* others hold its shape, or it goes round them, as the edge of a badge does */
    ON_FIELD_PARTLY, /* some of its shape is lost */
    ON_FIELD_MISSED  /* it is gone */
} OnField;

/* Of a picture that fills its rectangle, whose edge is its shape, less is missed. */
OnField ink_on_field(const InkMap *map, int ink);

#endif
