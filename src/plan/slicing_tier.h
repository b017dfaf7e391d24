/* One tier of the table of slicing.h, and the split of a rectangle into wedges. SPDX-License-Identifier: MIT
 *
 * What the files slicing*.c share; nothing for others. A tier holds its rectangles place by place, x beside x
 * + 1: LANES of them are worked on at once. Whole numbers give the same bytes in registers of any width. */
#ifndef LOGOCANE_SLICING_TIER_H
#define LOGOCANE_SLICING_TIER_H

#include "plan/slicing.h"
#include "base/vectors.h"

#include <string.h>

/* --- registers of neighbouring places --- */

#ifdef WIDE_CLONES
enum { LANES_BYTES = 32 };
#else
enum { LANES_BYTES = 16 };
#endif
#define INLINE static inline __attribute__((always_inline))

typedef int32_t Lanes __attribute__((vector_size(LANES_BYTES)));
/* The same anywhere in memory: it need not start at a multiple of its size. */
typedef int32_t LooseLanes __attribute__((vector_size(LANES_BYTES), aligned(4), may_alias));
#define LANES_AT(p) (*(const LooseLanes *)(p))

enum {
    LANES = sizeof(Lanes) / sizeof(int32_t),
    GROUP = 4,             /* registers of places whose upright cuts are tried together */
    SPARE = LANES * GROUP, /* numbers that may be read, never used, beyond the end of a row */
    SUMS_ROOM = 120        /* a row of sums with its spare, in whole registers */
};

_Static_assert(SUMS_ROOM >= STEPS_MAX + 1 + SPARE && SUMS_ROOM % LANES == 0,
               "rows are read in whole registers");

INLINE void take_less(Lanes *least, const Lanes *other) {
    Lanes less = *other < *least;
    *least = (*other & less) | (*least & ~less);
}

INLINE bool any_below(const Lanes *a, const Lanes *b) {
    Lanes below = *a < *b;
    uint64_t half[sizeof(Lanes) / 8], any = 0;
    memcpy(half, &below, sizeof half);
    for (size_t i = 0; i < sizeof half / sizeof *half; i++) any |= half[i];
    return any != 0;
}

/* Writes the first `places` of the register, or all of it if they are more. */
INLINE void put_lanes(int32_t *row, const Lanes *now, int places) {
    if (places >= LANES)
        *(LooseLanes *)row = *now;
    else
        memcpy(row, now, (size_t)places * sizeof *row);
}

/* --- rows of the sums and of the table --- */

static inline const int32_t *sum_row(const Slicing *s, int candy, int y) {
    return s->sum + ((size_t)candy * (s->n + 1) + y) * (s->n + 1);
}

static inline const int32_t *prefix_row(const Slicing *s, int candy, int y) {
    return s->prefix + ((size_t)candy * s->n + y) * (s->n + 1);
}

static inline const int32_t *cost_row(const Slicing *s, int candy, int y) {
    return s->cost + ((size_t)candy * s->n + y) * s->n;
}

static inline int32_t *tier_at(const SlicingTable *t, int h, int y) {
    return t->best + (size_t)(t->side[h] + y) * t->stride;
}

/* --- where the split of a rectangle into two wedges runs ---
 *
 * It meets each row of cells at the row's mid-height, in one cell. What lies left of that cell is the left
 * wedge's, what lies right of it the right one's, and the cell is shared between them:
 *
 *     falling, 3 x 2 steps      row 0: whole 0, part 3/4      | 3/4 |     |     |
 *                               row 1: whole 2, part 1/4      |  1  |  1  | 1/4 |      of the left wedge
 *
 * A rising split has the same cells, the rows in reverse order. */

enum {
    FRACTION_BITS = 14,
    FRACTION = 1 << FRACTION_BITS,
    WEDGE_ASPECT = 4, /* a side at most so many times the other */
    BANDS = 4         /* of rows, for the bounds of wedge pairs */
};

typedef struct SplitCell {
    int whole;    /* cells of the row left of it */
    int32_t part; /* of it that lies left of the split, in 1 / FRACTION */
} SplitCell;

/* The cell met in row i of a falling split of w x h: w (2 i + 1) / (2 h) = whole + part / FRACTION. */
static inline SplitCell split_cell(int w, int h, int i) {
    int twice = w * (2 * i + 1);
    return (SplitCell){twice / (2 * h), (int32_t)((int64_t)(twice % (2 * h)) * FRACTION / (2 * h))};
}

/* The first row of a band; of a height under BANDS some are empty. */
static inline int band_start(int h, int band) {
    return h * band / BANDS;
}

/* In each band of rows: columns before `left` lie left of the split in all of its rows, columns from `right`
 * on right of it. Both make a staircase beside the split. */
typedef struct Staircase {
    int left[BANDS], right[BANDS];
} Staircase;

/* The splits of all rectangles of one height, by their width. */
typedef struct Splits {
    SplitCell cell[STEPS_MAX + 1][STEPS_MAX]; /* [width][row], falling */
    Staircase stairs[STEPS_MAX + 1][2];       /* [width]: falling, rising */
} Splits;

/* Fills in the splits of all rectangles of height h that wedges may have. */
void slicing_run_splits(const SlicingTable *table, int h, Splits *splits);

/* --- a tier --- */

/* [k][x]: what candy k costs in columns 0..x - 1 of some rows; [candies]: the cheapest candy of each cell. */
typedef int32_t ColumnSums[INKS_MAX + 1][SUMS_ROOM];

/* All rectangles of one height and top. */
typedef struct Tier {
    const Slicing *s;
    const SlicingTable *t; /* one of its two */
    const Splits *splits;  /* of height h */
    int h, y;
    int outside_left, outside_right; /* columns before the one and from the other on lie outside the core */
    int32_t *best;                   /* its triangle in the table, row w at t->side[w] */
    ColumnSums all, band[BANDS];     /* over all of its rows; over each band of them */
} Tier;

/* Lowers the row of width w (places 0..n - w) to what wedge pairs cost, lambda included. */
void slicing_try_wedges(const Tier *tier, int w, int32_t *row);

#endif
