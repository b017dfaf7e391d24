/* The counters, bays and arms of one part, as masks. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PARTS_FEATURE_MASKS_H
#define LOGOCANE_PARTS_FEATURE_MASKS_H

#include "parts/parts.h"

enum { POINT = 2 }; /* samples a point, each way */

/* How features are looked for, in points. */
typedef struct FeatureSizes {
    double least;    /* discs that are seen at all */
    double read;     /* ... and read */
    double gap_most; /* a disc so large fits into no counter or bay */
} FeatureSizes;

/* A part's window over the points. A mask is [box.h][box.w], 1 = in it. */
typedef struct FeatureMasks {
    Box box; /* points; with room round the part, it may reach beyond the core's square */
    size_t points;
    bool hole;      /* it holds together by its sides only, what is round it by corners too */
    uint8_t *own;   /* mask, given: the part in the logo */
    uint8_t *got;   /* mask, given: the part in the face */
    uint8_t *like;  /* mask, given: all of its candy in the logo */
    uint8_t *shown; /* mask, given: all of its candy in the face */
    uint8_t *gaps;  /* mask: its counters and bays in the logo, less what else is of its candy */
    uint8_t
        *left; /* mask: what lies within the part in the face and is not of its candy; if there are gaps */
    uint8_t *arms;  /* mask: its arms in the logo */
    uint8_t *wide;  /* mask: the caller's scratch */
    uint8_t *spare; /* mask: scratch */
    int32_t *label; /* [box.h][box.w] the caller's scratch */
    int32_t *other; /* [box.h][box.w] scratch */
    void *block;    /* owned: all of these */
} FeatureMasks;

/* Empty masks for a part with that box of samples. Fails with ERR_MEMORY only. */
bool masks_new(Box part, bool hole, const FeatureSizes *sizes, FeatureMasks *out, Err *err) MUST_CHECK;
void masks_free(FeatureMasks *m);

/* From what is given: gaps, left and arms. Fails with ERR_MEMORY only. */
bool masks_find(FeatureMasks *m, const FeatureSizes *sizes, Err *err) MUST_CHECK;

/* out = what lies within `mask`: its closing and all that this encloses, less the mask. Uses spare, other. */
bool masks_within(FeatureMasks *m, const FeatureSizes *sizes, const uint8_t *mask, uint8_t *out,
                  Err *err) MUST_CHECK;

/* Leaves of the mask what a disc so large covers. Uses spare. */
bool masks_open(FeatureMasks *m, uint8_t *mask, double across, Err *err) MUST_CHECK;

/* Numbers the connected areas of `mask`, or of what is not in it, in label[box.h][box.w]; -1 elsewhere. How
 * many. Of what is not in it, number 0 lies round it all. */
int masks_label(const FeatureMasks *m, const uint8_t *mask, int32_t *label);
int masks_label_rest(const FeatureMasks *m, const uint8_t *mask, int32_t *label);

#endif
