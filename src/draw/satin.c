/* How candy looks where it is cut. SPDX-License-Identifier: MIT
 *
 * Pulled candy is full of fine air channels drawn out with it, folded over at every pull: a cut shows streaks
 * that run with the fold, each rope's and sheet's its own way (satin_ropes.c).
 *
 * Clear candy is looked into. Its light has come a way through it, so what is deep is darker and fuller than
 * what lies near a neighbour: the colour to the power of the way (Beer-Lambert), the stated colour at the
 * usual way. Light that falls in from above left gathers at the lower right of its inside.
 *
 * A blend has layers of its two candies besides (blend_look.c).
 *
 * The noise is two octaves, 1/130 and 1/390 of the piece across the streaks. All constants are chosen by eye.
 * Cost: O(samples). */
#include "draw/cut_end.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double across = 1 / 130.0,
                    along = 1 / 5.0;             /* of the log's diameter: a cell of the coarse octave */
static const double swirl = 0.02;                /* of the diameter: how far folds wander */
static const double streaks = 0.085;             /* of the light */
static const double sheen = 0.008;               /* of white: what shows on dark candy */
static const double shallow = 0.55, deep = 1.25; /* ways through clear candy, against the usual */
static const double gather = 0.38;               /* of the light, at a steep edge of clear candy */
static const double depth_sigma = 0.022;         /* of the diameter */

void satin_free(Satin *s) {
    free(s->grain);
    free(s->rope);
    free(s->other);
    free(s->share);
    free(s->depth);
    *s = (Satin){0};
}

/* --- noise --- */

uint32_t chance(uint32_t seed, uint32_t number) {
    uint32_t h = seed * 0x9e3779b9u ^ (number + 0x7f4a7c15u) * 0x85ebca6bu;
    h = (h ^ h >> 16) * 0x85ebca6bu;
    h = (h ^ h >> 13) * 0xc2b2ae35u;
    return h ^ h >> 16;
}

double chance_between(uint32_t seed, uint32_t number, double low, double high) {
    return low + (high - low) * (chance(seed, number) / 4294967296.0);
}

void noise_fill(Noise *noise, uint32_t seed) {
    for (uint32_t i = 0; i < NOISE_SIDE * NOISE_SIDE; i++)
        noise->value[i] = (float)chance_between(seed, i, -1, 1);
}

float noise_at(const Noise *noise, float x, float y) {
    /* Rounded down, but for whole negative numbers: there u or v is 1 in place of 0, which gives the same. */
    int ix = (int)x - (x < 0), iy = (int)y - (y < 0);
    float u = x - (float)ix, v = y - (float)iy;
    u = u * u * (3 - 2 * u);
    v = v * v * (3 - 2 * v);
    int x0 = ix & (NOISE_SIDE - 1), x1 = (ix + 1) & (NOISE_SIDE - 1);
    const float *upper = noise->value + (iy & (NOISE_SIDE - 1)) * NOISE_SIDE;
    const float *lower = noise->value + ((iy + 1) & (NOISE_SIDE - 1)) * NOISE_SIDE;
    float top = upper[x0] + u * (upper[x1] - upper[x0]), bottom = lower[x0] + u * (lower[x1] - lower[x0]);
    return top + v * (bottom - top);
}

/* --- clear candy --- */

static void fill_depths(const Candy *candy, Linear out[SATIN_DEPTHS]) {
    Linear c = rgb8_linear(candy->srgb);
    for (int i = 0; i < SATIN_DEPTHS; i++) {
        double way = shallow + (deep - shallow) * i / (SATIN_DEPTHS - 1);
        bool clear = candy->finish == FINISH_CLEAR;
        out[i] = clear ? (Linear){pow(c.r, way), pow(c.g, way), pow(c.b, way)} : c;
    }
}

static bool find_depths(const Smooth *smooth, Satin *s, Err *err) {
    size_t plane = (size_t)s->side * s->side;
    s->depth = mem_alloc(plane, sizeof *s->depth, err);
    float *scratch = mem_alloc((size_t)s->side, sizeof *scratch, err);
    bool good = s->depth && scratch;
    for (size_t i = 0; good && i < plane; i++) s->depth[i] = s->clear[smooth->top[i]] ? 1 : 0;
    if (good) smooth_blur(s->depth, s->side, depth_sigma * s->diameter, scratch);
    for (size_t i = 0; good && i < plane; i++) s->depth[i] = fminf(fmaxf(s->depth[i], 0), 1);
    free(scratch);
    return good;
}

bool satin_make(const Job *job, const Smooth *smooth, Satin *out, Err *err) {
    const Palette *p = &job->palette;
    bool any = false;
    *out = (Satin){.side = smooth->side};
    out->diameter = smooth->side * job->cane.log_diameter_mm / job->cane.core_diameter_mm;
    for (int i = 0; i < p->count; i++) {
        out->clear[i] = p->candy[i].finish == FINISH_CLEAR;
        any = any || out->clear[i];
        fill_depths(&p->candy[i], out->picture[i]);
    }
    for (int i = 0; i < p->jackets; i++) {
        out->jacket_clear[i] = p->jacket[i].finish == FINISH_CLEAR;
        fill_depths(&p->jacket[i], out->jacket[i]);
    }
    noise_fill(&out->noise, 20);
    blend_layers_make(job, out);
    if (satin_ropes_find(job, smooth, out, err) && (!any || find_depths(smooth, out, err))) return true;
    satin_free(out);
    return false;
}

/* --- the look --- */

Run run_at(const Satin *s, const Grain *g, double x, double y) {
    double dx = x - (double)g->x, dy = y - (double)g->y, u, v;
    if (g->round) {
        v = sqrt(dx * dx + dy * dy);
        u = fabs(atan2(dx, -dy)) / 2 * s->diameter; /* the same to the left and to the right: no seam */
    } else {
        u = dx * (double)g->along_x + dy * (double)g->along_y;
        v = dy * (double)g->along_x - dx * (double)g->along_y;
    }
    double length = along * s->diameter;
    v += swirl * s->diameter *
         (double)noise_at(&s->noise, (float)(u / length) + g->offset, (float)(v / length + 0.37));
    return (Run){u / length, v};
}

/* About -1..1 at a point in samples. */
static double streak_at(const Satin *s, const Grain *g, double x, double y, double pixel) {
    Run at = run_at(s, g, x, y);
    double cell = across * s->diameter;
    float offset = g->offset, run = (float)at.along, fold = (float)(at.across / cell);
    double coarse = (double)noise_at(&s->noise, run, fold + offset);
    double fade = within(cell / 3 / pixel - 1, 0, 1);
    if (fade <= 0) return 0.7 * coarse;
    return 0.7 * coarse + 0.3 * fade * (double)noise_at(&s->noise, 3 * run + 11, 3 * fold + offset + 5);
}

/* Streak and tone at a sample: those of its rope, and near a joint of the other one too. */
typedef struct Streak {
    double tone;   /* how much lighter, about 0 */
    double streak; /* about -1..1 */
} Streak;

static Streak streaks_at(const Satin *s, double x, double y, double pixel) {
    int ix = (int)within(x, 0, s->side - 1), iy = (int)within(y, 0, s->side - 1);
    size_t at = (size_t)iy * s->side + ix;
    const Grain *g = &s->grain[s->rope[at]];
    Streak own = {(double)g->tone, streak_at(s, g, x, y, pixel)};
    if (s->share[at] == 0) return own;
    g = &s->grain[s->other[at]];
    double w = s->share[at] / 256.0, streak = streak_at(s, g, x, y, pixel);
    return (Streak){own.tone + w * ((double)g->tone - own.tone), own.streak + w * (streak - own.streak)};
}

static Linear lighter(Linear c, double by) {
    return (Linear){c.r * by, c.g * by, c.b * by};
}

/* Satin: streaks in the candy's light and, less, in what its surface sends back. */
static Linear satin_of(Linear c, double tone, double streak) {
    double by = 1 + tone + streaks * streak, skin = sheen * within(streak, -0.5, 1);
    return (Linear){within(c.r * by + skin, 0, 2), within(c.g * by + skin, 0, 2),
                    within(c.b * by + skin, 0, 2)};
}

static Linear clear_at(const Linear table[SATIN_DEPTHS], double depth) {
    double at = depth * (SATIN_DEPTHS - 1);
    int i = at >= SATIN_DEPTHS - 2 ? SATIN_DEPTHS - 2 : (int)at;
    double w = at - i;
    return (Linear){table[i].r + w * (table[i + 1].r - table[i].r),
                    table[i].g + w * (table[i + 1].g - table[i].g),
                    table[i].b + w * (table[i + 1].b - table[i].b)};
}

static Linear clear_picture(const Satin *s, int candy, double x, double y, double pixel) {
    double depth = smooth_read(s->depth, s->side, x, y), reach = 0.012 * s->diameter;
    double slope = smooth_read(s->depth, s->side, x + 0.6 * reach, y + 0.8 * reach) -
                   smooth_read(s->depth, s->side, x - 0.6 * reach, y - 0.8 * reach);
    double inside = within(2 * depth - 1, 0, 1); /* the blur is 1/2 on a straight border */
    double light = 1 - gather * slope + 0.3 * streaks * streaks_at(s, x, y, 3 * pixel).streak;
    return lighter(clear_at(s->picture[candy], inside), within(light, 0.3, 2));
}

/* A blend's layers in the rope at a point. */
static Linear blend_picture(const Satin *s, int candy, double x, double y, double pixel) {
    int ix = (int)within(x, 0, s->side - 1), iy = (int)within(y, 0, s->side - 1);
    const Grain *g = &s->grain[s->rope[(size_t)iy * s->side + ix]];
    return blend_layers_at(s, &s->blend[candy], g, x, y, pixel);
}

Linear satin_picture(const Satin *s, int candy, double x, double y, double pixel) {
    if (s->clear[candy]) return clear_picture(s, candy, x, y, pixel);
    Streak streak = streaks_at(s, x, y, pixel);
    Linear c = s->picture[candy][0];
    if (s->blend[candy].streaked) c = blend_picture(s, candy, x, y, pixel);
    return satin_of(c, streak.tone, streak.streak);
}

Linear satin_jacket(const Satin *s, int jacket, double x, double y, double in_jacket, double pixel) {
    const Grain *g = &s->grain[s->grains - 1];
    if (!s->jacket_clear[jacket]) {
        const BlendLook *blend = &s->jacket_blend[jacket];
        Linear c = s->jacket[jacket][0];
        if (blend->streaked) c = blend_layers_at(s, blend, g, x, y, pixel);
        return satin_of(c, 0, streak_at(s, g, x, y, pixel));
    }
    double inside = within(in_jacket, 0, 1); /* a pixel's middle may lie a little beyond */
    return clear_at(s->jacket[jacket], 4 * inside * (1 - inside));
}
