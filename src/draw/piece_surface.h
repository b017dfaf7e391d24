/* The colour of a piece wherever a ray meets it. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PIECE_SURFACE_H
#define LOGOCANE_PIECE_SURFACE_H

#include "draw/ray.h"
#include "draw/cut_end.h"

typedef struct PieceSurface {
    int side;    /* px of the cut */
    float *rgb;  /* [side][side][3] linear light of the cut, carried on a little beyond its edge; owned */
    double core; /* the core's share of the radius */
    int jackets, stripes;       /* as in the palette */
    Linear jacket[JACKETS_MAX]; /* a clear one's: what it lets through of the core's light */
    bool clear[JACKETS_MAX];    /* of the jacket's candies */
    Noise noise;                /* what makes each piece a little different */
} PieceSurface;

/* `side`: px of the cut, about twice what a piece will measure. Fails with ERR_MEMORY only; *out is then
 * untouched. */
bool piece_surface_new(const Job *job, int side, PieceSurface *out, Err *err) MUST_CHECK;
void piece_surface_free(PieceSurface *surface);

/* The light that comes back of white light: the mean at `hits` (1 or more) places near each other, all on one
 * surface. Every piece is a little out of true in its own way. */
Linear piece_surface_colour(const PieceSurface *surface, const Piece *piece, const Hit *hit, int hits);

/* The jacket's stripe in a direction of the picture (right, up), as an index of the jacket's candies. */
int piece_surface_stripe(const PieceSurface *surface, double right, double up);

#endif
