/* How candy looks where it is cut: pulled candy's satin streaks, clear candy's depth.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_SATIN_H
#define LOGOCANE_SATIN_H

#include "model/job.h"
#include "draw/noise.h"
#include "draw/smooth.h"

enum { SATIN_DEPTHS = 33 };

/* The streaks of one rope, seeded from its number. */
typedef struct Grain {
    float x, y;             /* where they start, in samples */
    float along_x, along_y; /* which way they run, of length 1 */
    float offset;           /* cells of the noise */
    float tone;             /* how much lighter all of it is, about 0 */
    bool round;             /* they run round (x, y): sheets */
} Grain;

/* The look of one face. */
typedef struct Satin {
    int side;        /* samples */
    double diameter; /* of the log, in samples */
    int grains;      /* ropes of the lay-up and 2 */
    Grain *grain;    /* by rope of the lay-up; the last two: rings and jacket; owned */
    int16_t *rope;   /* [side][side] index into grain; owned */
    int16_t *other;  /* [side][side] where `share` is over 0: the rope of the same candy next to it; owned */
    uint8_t *share;  /* [side][side] how much of that one shows, 1 / 256; 128 at most; owned */
    float *depth;    /* [side][side] how far inside clear candy, 0..1; NULL if there is none; owned */
    bool clear[INKS_MAX], jacket_clear[JACKETS_MAX]; /* else pulled */
    Linear picture[INKS_MAX][SATIN_DEPTHS];          /* by depth; pulled candy is the same at all */
    Linear jacket[JACKETS_MAX][SATIN_DEPTHS];        /* likewise */
    Noise noise;
} Satin;

/* Fails with ERR_MEMORY only; *out is then empty. */
bool satin_make(const Job *job, const Smooth *smooth, Satin *out, Err *err) MUST_CHECK;
void satin_free(Satin *satin);

/* The light that candy `candy` of the picture sends back at a point in samples; `pixel` is the size of what
 * is looked at: streaks finer than that are left out. */
Linear satin_picture(const Satin *satin, int candy, double x, double y, double pixel);

/* The same of jacket candy `jacket`, at a point in samples; `in_jacket`: 0 at the core's edge, 1 outside. */
Linear satin_jacket(const Satin *satin, int jacket, double x, double y, double in_jacket, double pixel);

#endif
