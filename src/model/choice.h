/* Public. Which palettes were tried, and which was taken. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CHOICE_H
#define LOGOCANE_CHOICE_H

#include "model/candy.h"
#include "model/judgement.h"

enum { PALETTES_MAX = 5 };

/* Palettes that could do, the cheapest by area and borders first. Filled by match_candies. */
typedef struct Palettes {
    int count; /* 1..PALETTES_MAX */
    Palette palette[PALETTES_MAX];
    double lacking[PALETTES_MAX]; /* CIEDE2000, mean over the borders of touching inks: how much nearer to
                                     each other their candies are than they should */
} Palettes;

/* What decided against a palette. */
typedef enum Loss {
    LOSS_NONE,     /* it was taken */
    LOSS_VERDICT,  /* its verdict is worse */
    LOSS_LIKENESS, /* its finished piece is less like its picture */
    LOSS_COLOUR,   /* its piece is farther from the logo's colours, or they run together */
    LOSS_BATCHES   /* it takes more candies */
} Loss;

/* Filled by choose_palette. */
typedef struct Tried {
    Palette palette;
    Verdict verdict; /* of what the piece looks like, at the size that palettes are tried at */
    double likeness; /* 0..1, at that size */
    double features; /* 0..1, share of the features kept, likewise */
    double colour;   /* 0..1: how far the piece is from the logo's colours, mean over its inks by the root of
                        their areas, of 25: two   colours to any eye */
    double contrast; /* 0..1: what touching inks lack of being apart, of 25 */
    double loud;     /* CIELAB chroma of a field that is not the logo's own */
    double
        worth; /* 0.4 likeness + 0.05 features - colour - 0.5 contrast - 0.003 loud - 0.01 for each candy */
    Loss loss;
} Tried;

/* Filled by choose_palette. */
typedef struct Choice {
    int count; /* 0: nothing had to be chosen, there was one palette */
    Tried tried[PALETTES_MAX];
    int taken;     /* index */
    int runner_up; /* index of one that is nearly as good; -1: none */
} Choice;

#endif
