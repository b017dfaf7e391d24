/* What of a drawing lies within one ink. SPDX-License-Identifier: MIT
 *
 * Colours within SWATCH_REACH of each other are one ink, so a letter in a grey that is hardly one is no part
 * of the logo any more. It is told by its edges:
 * 1. Along each row and column two pixels that are alike, up to SOFT that are not, and two that are alike
 * again, all of one ink, are a faint edge where the two sides are apart as far as such colours can be. Grain
 * has no two pixels alike, and a gradient no such step.
 * 2. Beside them all places where two inks meet are counted.
 * Cost: O(pixels); a colour difference each at edges that are new to their row. */
#include "inks/steps.h"

#include <math.h>

#define SOFT 2 /* px: of an edge that was averaged */

/* CIEDE2000. Flat areas side by side that differ by less are one to an eye; by more, they are of one ink for
 * another reason: a hairline that was given to what lies round it, the corners outside a roundel. */
static const double seen = 2;
static const double one_ink = 1.5 * SWATCH_REACH;

typedef struct Edges {
    double apart;       /* CIEDE2000, summed over faint edges */
    double faint, inks; /* how many edges there are of each kind */
} Edges;

/* One row or column. */
typedef struct Walk {
    const uint8_t *rgba;  /* its first pixel */
    const uint8_t *label; /* likewise */
    size_t step;          /* pixels from one to the next */
    int length;
} Walk;

/* The two sides of the edge seen last: most edges repeat it. */
typedef struct Memo {
    uint8_t from[4], to[4];
    double apart;
} Memo;

static Rgb8 over_white(const uint8_t p[4]) {
    uint8_t c[3];
    for (int i = 0; i < 3; i++) c[i] = (uint8_t)((p[i] * p[3] + 255 * (255 - p[3]) + 127) / 255);
    return (Rgb8){c[0], c[1], c[2]};
}

static double apart(const uint8_t *from, const uint8_t *to, Memo *memo) {
    if (!same_pixel(from, memo->from) || !same_pixel(to, memo->to)) {
        memcpy(memo->from, from, 4);
        memcpy(memo->to, to, 4);
        memo->apart = delta_e00(rgb8_lab(over_white(from)), rgb8_lab(over_white(to)));
    }
    return memo->apart;
}

/* Pixel x is the last of two that are alike: how many pixels on are the next two, 0 if there are none. */
static int next_pair(const Walk *w, int x) {
    const uint8_t *at = w->rgba + 4 * (size_t)x * w->step;
    const size_t next = 4 * w->step;
    if (same_pixel(at, at + next)) return 0;
    for (int far = 1; far <= SOFT + 1 && x + far + 1 < w->length; far++) {
        if (w->label[(size_t)(x + far) * w->step] != w->label[(size_t)x * w->step]) return 0;
        if (same_pixel(at + (size_t)far * next, at + (size_t)(far + 1) * next)) return far;
    }
    return 0;
}

static void walk(const Walk *w, Edges *edges, Memo *memo) {
    const size_t next = 4 * w->step;
    for (int x = 0; x + 1 < w->length; x++) {
        const uint8_t *at = w->rgba + (size_t)x * next;
        if (w->label[(size_t)x * w->step] != w->label[(size_t)(x + 1) * w->step]) edges->inks++;
        if (x == 0 || !same_pixel(at - next, at)) continue;
        int far = next_pair(w, x);
        if (far == 0) continue;
        double between = apart(at, at + (size_t)far * next, memo);
        if (between < seen || between > one_ink) continue;
        edges->apart += between;
        edges->faint++;
    }
}

void find_faint(const Picture *picture, InkMap *map) {
    const size_t w = (size_t)picture->width, h = (size_t)picture->height;
    Edges edges = {0};
    Memo memo = {{0}, {0}, 0};
    for (size_t y = 0; y < h; y++)
        walk(&(Walk){picture->rgba + 4 * y * w, map->label + y * w, 1, (int)w}, &edges, &memo);
    for (size_t x = 0; x < w; x++)
        walk(&(Walk){picture->rgba + 4 * x, map->label + x, w, (int)h}, &edges, &memo);
    map->faint = edges.faint > 0 ? edges.faint / (edges.faint + edges.inks) : 0;
    map->faint_apart = edges.faint > 0 ? edges.apart / edges.faint : 0;
}
