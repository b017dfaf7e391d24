/* The exact Euclidean distance transform. SPDX-License-Identifier: MIT
 *
 * 1. Down and up every column: the row of the nearest site in that column.
 * 2. Along every row: the lower envelope of the parabolas (x - q)^2 + f(q), one for each column q that has a
 * site, f(q) the squared vertical distance of step 1; then the envelope is read off.
 *
 * Felzenszwalb & Huttenlocher 2012, section 2.1 (one dimension) and 2.2 (two). We depart from it in that the
 * envelope is kept in whole numbers: its entries start at the first whole x where they are strictly the
 * lowest, so the answer is exact. And a row falls into gaps between sites: a parabola at height 0 is the
 * lowest on its far side, whatever lies beyond, so each gap is solved alone; one in which nothing is asked is
 * passed over, and so are columns whose nearest site is too far off. Both steps work in place in an output
 * array: besides the outputs, a few rows are all the memory it takes. */
#include "base/distance.h"

#include "base/mem.h"
#include "base/vectors.h"

#include <assert.h>
#include <stdlib.h>

typedef struct Parabola {
    int column;  /* its lowest point */
    int row;     /* of the site */
    int32_t sum; /* f(column) + column^2 */
    int start;   /* first whole x where it is the envelope */
} Parabola;

enum { NOWHERE = -(1 << 20) }; /* the row of no site: farther than any */

/* What is wanted of the transform. */
typedef struct Wish {
    int32_t *squared, *nearest; /* outputs; NULL = not wanted */
    const uint8_t *asked;       /* only where it is not 0; NULL = everywhere */
    int32_t limit;              /* only under this distance; 0 = any */
} Wish;

/* Step 1: row[i] = the row of the nearest site in the column of pixel i, the upper of two; NOWHERE if there
 * is none. */
WIDE static void scan_columns(const uint8_t *restrict site, int width, int height, int32_t *restrict row) {
    for (int x = 0; x < width; x++) row[x] = site[x] ? 0 : NOWHERE;
    for (int y = 1; y < height; y++) {
        const int32_t *restrict above = row + (size_t)(y - 1) * width;
        int32_t *restrict here = row + (size_t)y * width;
        const uint8_t *restrict is = site + (size_t)y * width;
        for (int x = 0; x < width; x++) here[x] = is[x] ? y : above[x];
    }
    for (int y = height - 2; y >= 0; y--) {
        int32_t *restrict here = row + (size_t)y * width;
        const int32_t *restrict below = row + (size_t)(y + 1) * width;
        for (int x = 0; x < width; x++)
            here[x] = ((below[x] > y) & (below[x] - y < y - here[x])) ? below[x] : here[x];
    }
}

/* The first whole x where parabola q, right of p, is strictly below p. */
static int overtakes(const Parabola *p, const Parabola *q) {
    int32_t above = q->sum - p->sum, apart = q->column - p->column;
    if (apart == 1) return (above - (above & 1)) / 2 + 1; /* most are neighbours: no division by a variable */
    int32_t quotient = above / (2 * apart);
    if (above % (2 * apart) < 0) quotient--; /* floor */
    return quotient + 1;
}

/* Step 2: the lower envelope over the gap from..to of a row; returns the count of its parabolas. The columns
 * on either side of the gap are sites. */
static int envelope(const int32_t *row, int width, int y, int from, int to, int32_t limit, Parabola *hull) {
    int count = 0;
    if (from > 0) hull[count++] = (Parabola){from - 1, y, (from - 1) * (from - 1), from};
    for (int x = from; x < to || (x == to && to < width); x++) {
        int32_t d = row[x] - y;
        if (row[x] < 0 || (limit > 0 && (d >= limit || d <= -limit))) continue;
        Parabola q = {x, row[x], d * d + x * x, 0};
        while (count > 0) {
            q.start = overtakes(&hull[count - 1], &q);
            if (q.start > hull[count - 1].start) break;
            count--;
        }
        if (count == 0) q.start = from;
        if (q.start < to) hull[count++] = q;
    }
    return count;
}

static void read_envelope(const Parabola *hull, int count, int width, int y, int from, int to,
                          int32_t *squared, int32_t *nearest) {
    for (int k = 0; k < count; k++) {
        int end = k + 1 < count ? hull[k + 1].start : to;
        int32_t dy = hull[k].row - y, index = hull[k].row * width + hull[k].column;
        for (int x = hull[k].start; x < end; x++) {
            int32_t dx = x - hull[k].column;
            if (squared) squared[x] = dx * dx + dy * dy;
            if (nearest) nearest[x] = index;
        }
    }
    for (int x = from; count == 0 && x < to; x++) {
        if (squared) squared[x] = INT32_MAX;
        if (nearest) nearest[x] = -1;
    }
}

static bool asks(const uint8_t *asked, int from, int to) {
    if (!asked) return true;
    for (int x = from; x < to; x++)
        if (asked[x]) return true;
    return false;
}

static void transform_row(const Wish *wish, const int32_t *row, int width, int y, Parabola *hull) {
    size_t at = (size_t)y * (size_t)width;
    int32_t *squared = wish->squared ? wish->squared + at : NULL,
            *nearest = wish->nearest ? wish->nearest + at : NULL;
    int x = 0;
    while (x < width) {
        for (; x < width && row[x] == y; x++) {
            if (nearest) nearest[x] = y * width + x; /* row may be either output */
            if (squared) squared[x] = 0;
        }
        int from = x;
        while (x < width && row[x] != y) x++;
        if (x == from) continue;
        int count = 0;
        if (asks(wish->asked ? wish->asked + at : NULL, from, x))
            count = envelope(row, width, y, from, x, wish->limit, hull);
        read_envelope(hull, count, width, y, from, x, squared, nearest);
    }
}

static bool transform(const uint8_t *site, int width, int height, const Wish *wish, Err *err) {
    assert(width >= 1 && height >= 1 && width <= DISTANCE_SIDE_MAX && height <= DISTANCE_SIDE_MAX);
    int32_t *row = wish->squared ? wish->squared : wish->nearest;
    if (!row) return true;
    Parabola *hull = mem_alloc((size_t)width + 1, sizeof *hull, err);
    if (!hull) return false;
    scan_columns(site, width, height, row);
    for (int y = 0; y < height; y++) transform_row(wish, row + (size_t)y * (size_t)width, width, y, hull);
    free(hull);
    return true;
}

bool distance_transform(const uint8_t *site, int width, int height, int32_t *squared, int32_t *nearest,
                        Err *err) {
    return transform(site, width, height, &(Wish){.squared = squared, .nearest = nearest}, err);
}

bool distance_under(const uint8_t *site, int width, int height, int limit, int32_t *squared, Err *err) {
    return transform(site, width, height, &(Wish){.squared = squared, .limit = limit}, err);
}

bool distance_nearest(const uint8_t *site, const uint8_t *asked, int width, int height, int32_t *nearest,
                      Err *err) {
    return transform(site, width, height, &(Wish){.nearest = nearest, .asked = asked}, err);
}
