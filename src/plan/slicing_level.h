/* What the table of best slicings is filled with: rows of numbers in wide registers. SPDX-License-Identifier:
 * MIT
 *
 * For slicing_fill and slicing_wedges only. */
#ifndef LOGOCANE_SLICING_LEVEL_H
#define LOGOCANE_SLICING_LEVEL_H

#include "plan/slicing.h"
#include "base/vectors.h"

#include <string.h>

/* Whole numbers give the same bytes in registers of any width. */
#ifdef WIDE_CLONES
enum { LANES_BYTES = 32 };
#else
enum { LANES_BYTES = 16 };
#endif
#define INLINE static inline __attribute__((always_inline))

/* Neighbouring places, worked on at once; Loose ones may start anywhere. */
typedef int32_t Lanes __attribute__((vector_size(LANES_BYTES)));
typedef int32_t Loose __attribute__((vector_size(LANES_BYTES), aligned(4), may_alias));
#define AT(p) (*(const Loose *)(p))

enum {
    FRACTION_BITS = 14,
    FRACTION = 1 << FRACTION_BITS,
    WEDGE_ASPECT = 4,
    BANDS = 4, /* of rows, for the bounds of wedge pairs */
    CUTS = 4,  /* level cuts a pass */
    LANES = sizeof(Lanes) / sizeof(int32_t),
    GROUP = 4,             /* registers of places whose upright cuts are tried together */
    SPARE = LANES * GROUP, /* numbers that may be read, never used, beyond the end of a row */
    ROW = 120,             /* a row of sums with its spare, in whole registers */
    THREADS_FROM = 40      /* steps: a smaller table is done before threads are up */
};

_Static_assert(ROW >= STEPS_MAX + 1 + SPARE && ROW % LANES == 0, "rows are read in whole registers");

/* Where the split of a w x h rectangle crosses row i (from the end where it starts at the left), at
 * mid-height: w (2 i + 1) / (2 h) = whole + part / FRACTION. */
typedef struct Crossing {
    int whole;
    int32_t part;
} Crossing;

static inline Crossing crossing(int w, int h, int i) {
    int twice = w * (2 * i + 1);
    return (Crossing){twice / (2 * h), (int32_t)((int64_t)(twice % (2 * h)) * FRACTION / (2 * h))};
}

/* In each band of rows: columns before `left` lie left of the split, columns from `right` on right of it. */
typedef struct Steps {
    int left[BANDS], right[BANDS];
} Steps;

/* The splits of all rectangles of one height, by width. */
typedef struct Plan {
    Crossing crossing[STEPS_MAX + 1][STEPS_MAX];
    Steps steps[STEPS_MAX + 1][2]; /* falling, rising */
} Plan;

typedef int32_t Spans[INKS_MAX + 1][ROW];

/* What all rectangles of one height and top share. */
typedef struct Level {
    const Slicing *s;
    const Table *t;
    const Plan *plan;
    int h, y;
    int outside_left, outside_right;
    int32_t *here; /* their triangle */
    Spans span;
    Spans band[BANDS];
} Level;

static inline const int32_t *sums(const Slicing *s, int candy, int y) {
    return s->sum + ((size_t)candy * (s->n + 1) + y) * (s->n + 1);
}

static inline const int32_t *prefixes(const Slicing *s, int candy, int y) {
    return s->prefix + ((size_t)candy * s->n + y) * (s->n + 1);
}

static inline const int32_t *costs(const Slicing *s, int candy, int y) {
    return s->cost + ((size_t)candy * s->n + y) * s->n;
}

static inline int32_t *triangle_at(const Table *t, int h, int y) {
    return t->best + (size_t)(t->side[h] + y) * t->stride;
}

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

INLINE void keep(int32_t *row, const Lanes *now, int places) {
    if (places >= LANES)
        *(Loose *)row = *now;
    else
        memcpy(row, now, (size_t)places * sizeof *row);
}

/* Fills in where the splits of all rectangles of height h run. */
void slicing_plan(const Table *table, int h, Plan *plan);

/* Lowers the row of width w (the level's places 0..n - w) to what wedge pairs cost, lambda included. */
void slicing_try_wedges(const Level *level, int w, int32_t *row);

#endif
