/* Which rope or sheet is seen where, and which way its streaks run. SPDX-License-Identifier: MIT
 *
 * Each rope's streaks run their own way, near its longer side; chance comes from the rope's number, so the
 * same job looks the same. Those of sheets (round blocks, rings, the jacket) run round. Where ropes of one
 * candy meet, their streaks run into each other along a line that wavers: rolling has joined them.
 * Cost: O(samples). */
#include "draw/cut_end.h"

#include "base/mem.h"
#include "model/wrapped.h"

#include <math.h>
#include <stdlib.h>

enum { NO_ROPE = -1 };

static const double edge = 1e-6;       /* samples: so far from a middle it counts as running through it */
static const double rope_tone = 0.010; /* of the light */
static const double joint = 0.02, waver = 0.010; /* of the diameter: where ropes of one candy meet */

/* Which way the longest side of the narrowest strip that holds it runs: to the right, or straight down. */
static double long_way(const Outline *o) {
    int side = outline_width(o).side;
    Point a = o->corner[side], b = o->corner[(side + 1) % o->corners];
    double x = b.x - a.x, y = b.y - a.y;
    return x < 0 || (x == 0 && y < 0) ? atan2(-y, -x) : atan2(y, x);
}

static void box_of(const Outline *o, Point *low, Point *high) {
    *low = *high = o->corner[0];
    for (int i = 1; i < o->corners; i++) {
        Point p = o->corner[i];
        *low = (Point){fmin(low->x, p.x), fmin(low->y, p.y)};
        *high = (Point){fmax(high->x, p.x), fmax(high->y, p.y)};
    }
}

static void grain_of_rope(const Rope *rope, uint32_t number, Grain *out) {
    Point low, high;
    box_of(&rope->outline, &low, &high);
    double angle = long_way(&rope->outline) + chance_between(number, 1, -0.35, 0.35);
    *out = (Grain){.x = (float)((low.x + high.x) / 2 * SAMPLES),
                   .y = (float)((low.y + high.y) / 2 * SAMPLES),
                   .along_x = (float)cos(angle),
                   .along_y = (float)sin(angle),
                   .offset = (float)chance_between(number, 2, 0, NOISE_SIDE),
                   .tone = (float)chance_between(number, 3, -rope_tone, rope_tone)};
}

/* A sheet's run round its middle. */
static Grain grain_of_sheet(const Wrap *sheet, uint32_t number) {
    Point low, high;
    box_of(&sheet->outline, &low, &high);
    return (Grain){.x = (float)((low.x + high.x) / 2 * SAMPLES),
                   .y = (float)((low.y + high.y) / 2 * SAMPLES),
                   .offset = (float)chance_between(number, 2, 0, NOISE_SIDE),
                   .tone = (float)chance_between(number, 3, -rope_tone, rope_tone),
                   .round = true};
}

/* Of a row of samples those from `from` up to but not including `to`. */
typedef struct Span {
    int from, to;
} Span;

/* Those of row y that have their middle in the outline, or the disc in it, or on its edge. */
static Span row_of(const Outline *o, bool round, int y, int side) {
    double level = (y + 0.5) / SAMPLES, left = HUGE_VAL, right = -HUGE_VAL;
    for (int i = 0; i < o->corners && !round; i++) {
        Point a = o->corner[i], b = outline_next(o, i);
        if ((a.y < level && b.y < level) || (a.y > level && b.y > level)) continue;
        double x = a.y == b.y ? a.x : a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y);
        left = fmin(left, a.y == b.y ? fmin(a.x, b.x) : x);
        right = fmax(right, a.y == b.y ? fmax(a.x, b.x) : x);
    }
    if (round) {
        Circle disc = square_disc(o);
        double half2 = disc.r * disc.r - (level - disc.y) * (level - disc.y);
        left = half2 >= 0 ? disc.x - sqrt(half2) : left;
        right = half2 >= 0 ? disc.x + sqrt(half2) : right;
    }
    if (left > right) return (Span){0, 0};
    return (Span){(int)within(ceil(left * SAMPLES - 0.5 - edge), 0, side),
                  (int)within(floor(right * SAMPLES - 0.5 + edge) + 1, 0, side)};
}

/* Gives the samples of that candy in the outline the number, but for those inside `inner`, NULL if that is
 * nothing. */
static void place(const Smooth *smooth, const Outline *o, const Outline *inner, bool round, int candy,
                  int number, int16_t *rope) {
    int side = smooth->side;
    Point low, high;
    box_of(o, &low, &high);
    for (int y = (int)within(floor(low.y * SAMPLES), 0, side); y < side && y < high.y * SAMPLES; y++) {
        Span all = row_of(o, round, y, side), in = {0, 0};
        if (inner) in = row_of(inner, round, y, side);
        for (int x = all.from; x < all.to; x++) {
            size_t at = (size_t)y * side + x;
            if ((x < in.from || x >= in.to) && smooth->top[at] == candy) rope[at] = (int16_t)number;
        }
    }
}

/* A rest comes before what is round in it, which takes its place. */
static void place_ropes(const Job *job, const Smooth *smooth, int16_t *rope) {
    int side = smooth->side;
    const LayUp *layup = &job->layup;
    for (int i = 0; i < layup->ropes; i++) {
        const Rope *r = &layup->rope[i];
        place(smooth, &r->outline, NULL, r->round, r->candy, i, rope);
    }
    for (int i = 0; i < layup->wraps; i++) {
        const Wrap *w = &layup->wrap[i];
        place(smooth, &w->outline, &w->inner, w->round, w->candy, layup->ropes + i, rope);
    }
    for (int y = 0; job->grid.rings > 0 && y < side; y++)
        for (int x = 0; x < side; x++)
            if (!disc_holds(job->grid.core, SAMPLES, x, y))
                rope[(size_t)y * side + x] = (int16_t)(layup->ropes + layup->wraps);
}

/* Where rolling has moved a candy beyond its ropes, the nearest of its ropes goes on: breadth first. What no
 * rope reaches counts as ring. */
static void spread_ropes(const Smooth *smooth, int rest, int16_t *rope, int32_t *queue) {
    int side = smooth->side, total = side * side, head = 0, tail = 0;
    for (int i = 0; i < total; i++)
        if (rope[i] != NO_ROPE) queue[tail++] = i;
    for (; head < tail; head++) {
        int i = queue[head], x = i % side;
        const int next[4] = {x > 0 ? i - 1 : i, x + 1 < side ? i + 1 : i, i >= side ? i - side : i,
                             i + side < total ? i + side : i};
        for (int k = 0; k < 4; k++)
            if (rope[next[k]] == NO_ROPE && smooth->top[next[k]] == smooth->top[i]) {
                rope[next[k]] = rope[i];
                queue[tail++] = next[k];
            }
    }
    for (int i = 0; i < total; i++)
        if (rope[i] == NO_ROPE) rope[i] = (int16_t)rest;
}

/* Lets the joints waver: each sample takes the rope that a point near it has, if that is of its candy. */
static void waver_ropes(const Smooth *smooth, const Satin *s, const int16_t *from, int16_t *to) {
    float cell = (float)(0.05 * s->diameter), far = (float)(waver * s->diameter);
    for (int y = 0; y < s->side; y++)
        for (int x = 0; x < s->side; x++) {
            float u = (float)x / cell, v = (float)y / cell;
            int nx = x + (int)lrintf(far * noise_at(&s->noise, u, v)),
                ny = y + (int)lrintf(far * noise_at(&s->noise, u + 31, v + 57));
            size_t at = (size_t)y * s->side + x, near = (size_t)ny * s->side + nx;
            bool in = nx >= 0 && ny >= 0 && nx < s->side && ny < s->side;
            to[at] = in && smooth->top[near] == smooth->top[at] ? from[near] : from[at];
        }
}

/* Within `joint` of where two ropes of a candy meet, the other's streaks show through: half of all on the
 * joint, less farther off. Breadth first from all joints. */
static void find_joints(const Smooth *smooth, Satin *s, int32_t *queue) {
    int side = s->side, total = side * side, tail = 0, reach = (int)(joint * s->diameter);
    uint8_t *share = s->share;
    for (int i = 0; i < total; i++) {
        const int next[4] = {i % side > 0 ? i - 1 : i, i % side + 1 < side ? i + 1 : i,
                             i >= side ? i - side : i, i + side < total ? i + side : i};
        for (int k = 0; k < 4 && share[i] == 0; k++)
            if (s->rope[next[k]] != s->rope[i] && smooth->top[next[k]] == smooth->top[i]) {
                s->other[i] = s->rope[next[k]];
                share[i] = 128;
                queue[tail++] = i;
            }
    }
    int step = 128 / (reach + 1) + 1;
    for (int head = 0; head < tail; head++) {
        int i = queue[head];
        if (share[i] <= step) continue;
        const int next[4] = {i % side > 0 ? i - 1 : i, i % side + 1 < side ? i + 1 : i,
                             i >= side ? i - side : i, i + side < total ? i + side : i};
        for (int k = 0; k < 4; k++)
            if (share[next[k]] == 0 && s->rope[next[k]] == s->rope[i]) {
                s->other[next[k]] = s->other[i];
                share[next[k]] = (uint8_t)(share[i] - step);
                queue[tail++] = next[k];
            }
    }
}

bool satin_ropes_find(const Job *job, const Smooth *smooth, Satin *s, Err *err) {
    size_t plane = (size_t)s->side * s->side;
    int ropes = job->layup.ropes, rest = ropes + job->layup.wraps;
    s->grains = rest + 2;
    s->grain = mem_alloc((size_t)s->grains, sizeof *s->grain, err);
    s->rope = mem_alloc(plane, sizeof *s->rope, err);
    s->other = mem_alloc(plane, sizeof *s->other, err);
    s->share = mem_alloc(plane, 1, err);
    int32_t *queue = mem_alloc(plane, sizeof *queue, err);
    bool good = s->grain && s->rope && s->other && s->share && queue;
    if (good) {
        for (int i = 0; i < ropes; i++) grain_of_rope(&job->layup.rope[i], (uint32_t)i + 1, &s->grain[i]);
        for (int i = ropes; i < rest; i++)
            s->grain[i] = grain_of_sheet(&job->layup.wrap[i - ropes], (uint32_t)i + 1);
        for (int i = rest; i < s->grains; i++)
            s->grain[i] = (Grain){.x = (float)(s->side / 2.0),
                                  .y = (float)(s->side / 2.0),
                                  .offset = (float)(17 * (i - rest) + 3),
                                  .round = true};
        for (size_t i = 0; i < plane; i++) s->other[i] = NO_ROPE;
        place_ropes(job, smooth, s->other);
        spread_ropes(smooth, rest, s->other, queue);
        waver_ropes(smooth, s, s->other, s->rope);
        find_joints(smooth, s, queue);
    }
    free(queue);
    return good;
}
