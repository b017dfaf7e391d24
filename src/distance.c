/* The exact Euclidean distance transform. SPDX-License-Identifier: MIT
 *
 * 1. Down and up every column: the row of the nearest site in that column.
 * 2. Along every row: the lower envelope of the parabolas (x - q)^2 + f(q), one for each column q that has a
 * site, f(q) the squared vertical distance of step 1; then the envelope is read off.
 *
 * Felzenszwalb & Huttenlocher 2012, section 2.1 (one dimension) and 2.2 (two). We depart from it in that the
 * envelope is kept in whole numbers: its entries start at the first whole x where they are strictly the
 * lowest, so the answer is exact. Both steps work in place in an output array: besides the outputs, a few
 * rows are all the memory it takes. */
#include "distance.h"

#include "mem.h"

#include <assert.h>
#include <stdlib.h>

typedef struct Parabola {
    int column;  /* its lowest point */
    int row;     /* of the site */
    int32_t sum; /* f(column) + column^2 */
    int start;   /* first whole x where it is the envelope */
} Parabola;

/* Step 1: row[i] = the row of the nearest site in the column of pixel i, the upper of two; -1 if there is
 * none. */
static void scan_columns(const uint8_t *site, int width, int height, int32_t *row) {
    for (int y = 0; y < height; y++) {
        int32_t *here = row + (size_t)y * width;
        const uint8_t *is = site + (size_t)y * width;
        for (int x = 0; x < width; x++) here[x] = is[x] ? y : y > 0 ? here[x - width] : -1;
    }
    for (int y = height - 2; y >= 0; y--) {
        int32_t *here = row + (size_t)y * width;
        for (int x = 0; x < width; x++) {
            int32_t below = here[x + width];
            if (below > y && (here[x] < 0 || below - y < y - here[x])) here[x] = below;
        }
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

/* Step 2: the lower envelope over one row; returns the count of its parabolas. */
static int envelope(const int32_t *row, int width, int y, Parabola *hull) {
    int count = 0;
    for (int x = 0; x < width; x++) {
        if (row[x] < 0) continue;
        int32_t d = row[x] - y;
        Parabola q = {x, row[x], d * d + x * x, 0};
        while (count > 0) {
            q.start = overtakes(&hull[count - 1], &q);
            if (q.start > hull[count - 1].start) break;
            count--;
        }
        if (count == 0) q.start = 0;
        if (q.start < width) hull[count++] = q;
    }
    return count;
}

static void read_envelope(const Parabola *hull, int count, int width, int y, int32_t *squared,
                          int32_t *nearest) {
    for (int k = 0; k < count; k++) {
        int end = k + 1 < count ? hull[k + 1].start : width;
        int32_t dy = hull[k].row - y, index = hull[k].row * width + hull[k].column;
        for (int x = hull[k].start; x < end; x++) {
            int32_t dx = x - hull[k].column;
            if (squared) squared[x] = dx * dx + dy * dy;
            if (nearest) nearest[x] = index;
        }
    }
    for (int x = 0; count == 0 && x < width; x++) {
        if (squared) squared[x] = INT32_MAX;
        if (nearest) nearest[x] = -1;
    }
}

bool distance_transform(const uint8_t *site, int width, int height, int32_t *squared, int32_t *nearest,
                        Err *err) {
    assert(width >= 1 && height >= 1 && width <= DISTANCE_SIDE_MAX && height <= DISTANCE_SIDE_MAX);
    int32_t *row = squared ? squared : nearest;
    if (!row) return true;
    Parabola *hull = mem_alloc((size_t)width, sizeof *hull, err);
    if (!hull) return false;
    scan_columns(site, width, height, row);
    for (int y = 0; y < height; y++) {
        size_t at = (size_t)y * (size_t)width;
        int count = envelope(row + at, width, y, hull);
        read_envelope(hull, count, width, y, squared ? squared + at : NULL, nearest ? nearest + at : NULL);
    }
    free(hull);
    return true;
}
