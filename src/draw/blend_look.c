/* How a blend's layers look. SPDX-License-Identifier: MIT
 *
 * Two candies that are folded together lie in layers, thinner with each folding; where they are cut these
 * are streaks. Light spreads farther inside candy than they are thick, so none has the candy's own colour:
 * each is a mixture with `bleed` of the mean in it.
 * 1. Where a layer's height is over a level, it is the second candy's, with a short way between; the level
 * is such that the second candy has its share of the volume. 2. The colours are those of even mixtures
 * (model/blend.h). 3. They are brought to the stated colour in the mean of the heights given. 4. In a rope
 * there are 2^folds pairs of layers, as even as folding makes them, but for what moves them and makes them
 * thicker here and thinner there; what is finer than a pixel is smoothed, then left out. All constants are
 * chosen by eye. Cost: a few milliseconds, then O(samples). */
#include "draw/cut_end.h"

#include "model/blend.h"

#include <math.h>

static const double bleed = 0.25;  /* of the mean in each layer */
static const double soft = 0.16;   /* of the layers' height: the way from one candy to the other */
static const double layers_mm = 8; /* a rope of usual thickness, at the log: it holds all layers of a blend */
static const double uneven = 0.45; /* of a pair of layers: how far they are out of place */
static const double swell = 0.7;   /* of their height: how much thicker and thinner they are */
static const double rise = 4;      /* of the height, over a pair: up from -1 to 1, and down */

/* How much of a layer of that height is the second candy's, 0..1. */
static double second_of(double height, double level, double blur) {
    double way = fmax(soft, blur) / 2;
    return smooth_step(level - way, level + way, height);
}

/* 1. The more, the lower the level: halving. */
static double level_for(double share, const double *height, int count) {
    double low = -2, high = 2;
    for (int step = 0; step < 40; step++) {
        double level = (low + high) / 2, sum = 0;
        for (int i = 0; i < count; i++) sum += second_of(height[i], level, 0);
        if (sum > share * count)
            low = level;
        else
            high = level;
    }
    return (low + high) / 2;
}

static Linear between(Linear a, Linear b, double w) {
    return (Linear){a.r + w * (b.r - a.r), a.g + w * (b.g - a.g), a.b + w * (b.b - a.b)};
}

static Linear light_of(const BlendLook *look, double height, double blur) {
    double at = second_of(height, look->level, blur) * (LOOK - 1);
    int i = at >= LOOK - 2 ? LOOK - 2 : (int)at;
    return between(look->light[i], look->light[i + 1], at - i);
}

/* 3. */
static void keep_mean(BlendLook *look, const double *height, int count) {
    Linear sum = {0, 0, 0};
    for (int i = 0; i < count; i++) {
        Linear c = light_of(look, height[i], 0);
        sum = (Linear){sum.r + c.r, sum.g + c.g, sum.b + c.b};
    }
    for (int i = 0; i < LOOK; i++) {
        Linear *c = &look->light[i];
        *c = (Linear){c->r * look->stated.r * count / sum.r, c->g * look->stated.g * count / sum.g,
                      c->b * look->stated.b * count / sum.b};
    }
}

void blend_look_make(const Candy *candy, const double *height, int count, BlendLook *out) {
    *out = (BlendLook){.streaked = candy_is_blend(candy)};
    if (!out->streaked) return;
    Linear first = rgb8_linear(candy->blend[0].srgb), second = rgb8_linear(candy->blend[1].srgb);
    double share = blend_volume_share(candy, 1);
    out->level = level_for(share, height, count);
    out->stated = rgb8_linear(candy->srgb);
    for (int i = 0; i < LOOK; i++) { /* 2 */
        double of_second = bleed * share + (1 - bleed) * i / (LOOK - 1);
        out->light[i] = blend_light(first, second, of_second);
    }
    keep_mean(out, height, count);
}

Linear blend_look_at(const BlendLook *look, double height, double blur, double shown) {
    return between(look->stated, light_of(look, height, blur), shown);
}

/* --- 4 --- */

/* About -1..1. */
static double height_at(const Satin *s, const Grain *g, double x, double y) {
    Run at = run_at(s, g, x, y);
    float run = (float)at.along, pair = (float)(at.across / s->layers);
    double moved = uneven * (double)noise_at(&s->noise, run + g->offset, pair * 0.6F + 23);
    double turn = (double)pair + (double)g->offset + moved;
    double thicker = swell * (double)noise_at(&s->noise, 2 * run + g->offset + 7, pair * 0.9F);
    return rise * fabs(turn - floor(turn) - 0.5) - 1 + thicker;
}

static bool any_blend(const Palette *p) {
    bool any = false;
    for (int i = 0; i < p->count; i++) any |= candy_is_blend(&p->candy[i]);
    for (int i = 0; i < p->jackets; i++) any |= candy_is_blend(&p->jacket[i]);
    return any;
}

/* By heights of the layers wherever a rope may have them. */
void blend_layers_make(const Job *job, Satin *s) {
    enum { PROBED = 4096 };
    const Palette *p = &job->palette;
    const Grain g = {.along_x = 1};
    double height[PROBED], far = NOISE_SIDE * s->diameter;
    if (!any_blend(p)) return;
    s->layers = layers_mm / pow(2, job->shop->blend_folds) / job->cane.log_diameter_mm * s->diameter;
    for (uint32_t i = 0; i < PROBED; i++)
        height[i] = height_at(s, &g, chance_between(1, i, 0, far), chance_between(2, i, 0, far));
    for (int i = 0; i < p->count; i++) blend_look_make(&p->candy[i], height, PROBED, &s->blend[i]);
    for (int i = 0; i < p->jackets; i++) blend_look_make(&p->jacket[i], height, PROBED, &s->jacket_blend[i]);
}

Linear blend_layers_at(const Satin *s, const BlendLook *look, const Grain *g, double x, double y,
                       double pixel) {
    double shown = within(s->layers / pixel / 2 - 0.5, 0, 1);
    return blend_look_at(look, height_at(s, g, x, y), rise * pixel / s->layers, shown);
}
