/* A histogram of tints and its main colours. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_HISTOGRAM_H
#define LOGOCANE_HISTOGRAM_H

#include "base/err.h"
#include "inks/tint.h"

#include <stddef.h>

enum { SWATCHES_MAX = 64 }; /* fits a 64-bit set */

typedef struct Bin {
    int key;         /* 0..2^20 - 1: 5 bits each of red, green, blue, alpha */
    double weight;   /* of all its pixels, > 0 */
    double sum[4];   /* weight times premultiplied linear light */
    Tint mean;       /* of its pixels: filled by histogram_means */
    uint64_t around; /* the swatches seen around its pixels, as a set: filled by find_thin_strokes */
    uint8_t swatch;  /* the nearest of some swatches: filled by histogram_nearest */
} Bin;

/* Bins of 8 values a channel (premultiplied, alpha too), only those in use. */
typedef struct Histogram {
    size_t count, capacity; /* bins in use; room for so many */
    Bin *bin;               /* [count]; owned */
    int32_t *at;            /* [1 << 20] the bin of each key, + 1; 0 = none; owned */
} Histogram;

/* A main colour: a heavy bin and what lies near it. */
typedef struct Swatches {
    int count;               /* 0..SWATCHES_MAX */
    Tint tint[SWATCHES_MAX]; /* [count] */
} Swatches;

/* An empty one (4 MB of keys). Fails with ERR_MEMORY. */
bool histogram_new(Histogram *out, Err *err) MUST_CHECK;
void histogram_free(Histogram *h);

/* Counts a pixel and returns its bin, which the next pixel counted may move. NULL where it fails, with
 * ERR_MEMORY. */
Bin *histogram_add(Histogram *h, const uint8_t rgba[4], const Tint *tint, double weight, Err *err) MUST_CHECK;

/* Adds to `found` the colours that hold at least `least` weight each, heaviest bin first: a bin not yet
 * taken, moved to the mean of what lies within CIEDE2000 3 of it, takes all within `reach` of that. Colours
 * within `reach` of one already in `found` add nothing. Stops when `found` is full. Fails with ERR_MEMORY. */
bool histogram_swatches(Histogram *h, double reach, double least, Swatches *found, Err *err) MUST_CHECK;

/* The index of the swatch nearest to the tint (OKLab); swatches->count > 0. */
int tint_nearest(const Tint *tint, const Swatches *swatches);

/* For each bin the nearest swatch (OKLab); then histogram_swatch tells a pixel's in constant time
 * (SWATCHES_MAX if its bin is not in use). */
void histogram_nearest(Histogram *h, const Swatches *swatches);
int histogram_swatch(const Histogram *h, const uint8_t rgba[4]);

/* The index of the bin of a pixel that was counted. */
size_t histogram_bin(const Histogram *h, const uint8_t rgba[4]);

/* Fills the means of all bins. histogram_swatches does so too. */
void histogram_means(Histogram *h);

#endif
