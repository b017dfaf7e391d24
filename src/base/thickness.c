/* How thick an area is at each of its pixels. SPDX-License-Identifier: MIT
 *
 * 1. d = distance from each pixel to the nearest site.
 * 2. Pixels within cap / 2 of one with d >= cap / 2 are as thick as asked: one more distance transform.
 * 3. The rest lie in strokes thinner than cap: every disc that no neighbour's disc holds is painted, largest
 * wins. */
#include "base/thickness.h"

#include "base/distance.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* A disc about a pixel centre that reaches to distance d of a site's centre is 2 d - 1/2 across: the border
 * lies half a pixel before the site, and a pixel covers half of one beyond its centre, less a quarter each
 * side on average. */
static double diameter(int32_t squared) {
    return 2 * sqrt(squared) - 0.5;
}

typedef struct Discs {
    int width, height;
    const int32_t *squared; /* [height][width] d^2: of the disc about each pixel; not owned */
    double reach;           /* d at which a disc is as thick as asked */
    float *thick;           /* [height][width] output; not owned */
} Discs;

/* Does a neighbour's disc (nearly) hold the disc of pixel (x, y)? */
static bool held(const Discs *f, int x, int y) {
    double d = sqrt(f->squared[y * f->width + x]);
    for (int v = y - 1; v <= y + 1; v++)
        for (int u = x - 1; u <= x + 1; u++) {
            if (u < 0 || v < 0 || u >= f->width || v >= f->height) continue;
            double gain = sqrt(f->squared[v * f->width + u]) - d, apart = u != x && v != y ? 1.41421356 : 1;
            if (gain >= 0.95 * apart) return true;
        }
    return false;
}

static void paint(const Discs *f, int x, int y) {
    int32_t squared = f->squared[y * f->width + x];
    int r = (int)sqrt(squared);
    float value = (float)diameter(squared);
    for (int v = y - r < 0 ? 0 : y - r; v <= y + r && v < f->height; v++) {
        int rest = squared - (v - y) * (v - y); /* columns u with (u - x)^2 < rest */
        if (rest <= 0) continue;
        int half = (int)ceil(sqrt(rest)) - 1, from = x - half < 0 ? 0 : x - half;
        int to = x + half < f->width ? x + half : f->width - 1;
        float *row = f->thick + (size_t)v * f->width;
        for (int u = from; u <= to; u++) row[u] = row[u] < value ? value : row[u];
    }
}

/* 2. Marks what the thick discs cover. */
static bool cover_thick(const Discs *f, double cap, Err *err) {
    size_t count = (size_t)f->width * f->height;
    uint8_t *wide = mem_alloc(count, 1, err);
    int32_t *away = wide ? mem_alloc(count, sizeof *away, err) : NULL;
    bool done = false;
    if (!away) goto done;
    const double reach2 = f->reach * f->reach;
    for (size_t i = 0; i < count; i++) wide[i] = f->squared[i] >= reach2;
    if (!distance_under(wide, f->width, f->height, (int)ceil(f->reach), away, err)) goto done;
    for (size_t i = 0; i < count; i++)
        if (f->squared[i] > 0 && away[i] < reach2) f->thick[i] = (float)cap;
    done = true;
done:
    free(wide);
    free(away);
    return done;
}

bool local_thickness(const uint8_t *site, int width, int height, double cap, float *thick, Err *err) {
    size_t count = (size_t)width * height;
    int32_t *squared = mem_alloc(count, sizeof *squared, err);
    if (!squared) return false;
    Discs f = {width, height, squared, (cap + 0.5) / 2, thick};
    bool done = distance_under(site, width, height, (int)ceil(f.reach) + 2, squared, err);
    const double reach2 = f.reach * f.reach;
    for (size_t i = 0; i < count; i++) { /* at least its own disc covers a pixel */
        thick[i] = 0;
        if (done && squared[i] > 0) thick[i] = (float)(squared[i] < reach2 ? diameter(squared[i]) : cap);
    }
    done = done && cover_thick(&f, cap, err);
    for (int y = 0; done && y < height; y++)
        for (int x = 0; x < width; x++) {
            size_t i = (size_t)y * width + x;
            bool thin = squared[i] > 0 && thick[i] < (float)cap;
            if (thin && squared[i] < reach2 && !held(&f, x, y)) paint(&f, x, y);
        }
    free(squared);
    return done;
}
