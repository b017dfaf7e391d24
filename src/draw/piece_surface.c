/* The colour of a piece wherever a ray meets it. SPDX-License-Identifier: MIT
 *
 * Both ends read the one cut at (right, up) of the picture: seen from the other end that is its mirror image.
 * The side shows the stripes of the cut's edge, drawn out; through a clear jacket the edge of the core is
 * seen. */
#include "draw/scene.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static const double out_of_true = 0.035; /* radii, in the middle of the picture; none at its edge */
static const double streaks = 0.07;      /* of the light, along the side */
static const double folds_seen = 4;      /* of a blend: with more its streaks are half as strong, and so on */
static const double seen_through = 0.55; /* the way through a clear jacket, against that through the cut's */

void piece_surface_free(PieceSurface *surface) {
    free(surface->rgb);
    *surface = (PieceSurface){0};
}

/* The cut without its coverage; what lies beyond its edge takes the colour at the edge. */
static void fill_rgb(const CutEnd *cut, float *rgb) {
    double middle = cut->side / 2.0, most = middle - 1.5;
    for (int y = 0; y < cut->side; y++)
        for (int x = 0; x < cut->side; x++) {
            double dx = x + 0.5 - middle, dy = y + 0.5 - middle, r = sqrt(dx * dx + dy * dy),
                   by = r > most ? most / r : 1;
            int u = (int)(middle + dx * by), v = (int)(middle + dy * by);
            const float *from = cut->rgba + 4 * ((size_t)v * cut->side + u);
            float *to = rgb + 3 * ((size_t)y * cut->side + x);
            for (int c = 0; c < 3; c++) to[c] = from[3] > 0 ? from[c] / from[3] : 0;
        }
}

/* Pulled candy's streaks run along the side. */
static double streak_along(const Noise *noise, float round, double along) {
    return (double)noise_at(noise, round, (float)(along * 0.35)) * 0.6 +
           (double)noise_at(noise, round * 2.7F, (float)(along * 0.8)) * 0.4;
}

/* Heights of the streaks, wherever a piece may have them. */
static void fill_blends(const Job *job, PieceSurface *surface) {
    const Palette *p = &job->palette;
    enum { PROBED = 4096 };
    double streak[PROBED];
    for (uint32_t i = 0; i < PROBED; i++)
        streak[i] =
            streak_along(&surface->noise, (float)chance_between(3, i, 0, 166), chance_between(4, i, 0, 4));
    for (int i = 0; i < p->jackets; i++) {
        blend_look_make(&p->jacket[i], streak, PROBED, &surface->blend[i]);
        if (surface->blend[i].streaked)
            surface->blend_shown = fmin(1, pow(2, folds_seen - job->shop->blend_folds));
    }
}

bool piece_surface_new(const Job *job, int side, PieceSurface *out, Err *err) {
    const Palette *p = &job->palette;
    CutEnd cut;
    if (!cut_end_paint(job, side, CUT_FLAT, &cut, err)) return false;
    PieceSurface surface = {.side = side, .jackets = p->jackets, .stripes = p->stripes};
    surface.core = job->cane.core_diameter_mm / job->cane.log_diameter_mm;
    for (int i = 0; i < p->jackets; i++) {
        Linear c = rgb8_linear(p->jacket[i].srgb);
        surface.clear[i] = p->jacket[i].finish == FINISH_CLEAR;
        double way = surface.clear[i] ? seen_through : 1;
        surface.jacket[i] = (Linear){pow(c.r, way), pow(c.g, way), pow(c.b, way)};
    }
    noise_fill(&surface.noise, 77);
    fill_blends(job, &surface);
    surface.rgb = mem_alloc((size_t)side * side * 3, sizeof *surface.rgb, err);
    if (surface.rgb) fill_rgb(&cut, surface.rgb);
    cut_end_free(&cut);
    if (surface.rgb) *out = surface;
    return surface.rgb != NULL;
}

/* The cut at a point of the picture, in radii. */
static Linear cut_at(const PieceSurface *s, double right, double up) {
    double x = (right + 1) / 2 * s->side - 0.5, y = (1 - up) / 2 * s->side - 0.5;
    x = within(x, 0, s->side - 1.001);
    y = within(y, 0, s->side - 1.001);
    int ix = (int)x, iy = (int)y;
    float u = (float)(x - ix), v = (float)(y - iy), c[3];
    const float *p = s->rgb + 3 * ((size_t)iy * s->side + ix), *q = p + 3 * (size_t)s->side;
    for (int i = 0; i < 3; i++)
        c[i] = (1 - v) * ((1 - u) * p[i] + u * p[3 + i]) + v * ((1 - u) * q[i] + u * q[3 + i]);
    return (Linear){(double)c[0], (double)c[1], (double)c[2]};
}

/* The mean over the hits, all moved alike: a piece is out of true by little and slowly. */
static Linear end_colour(const PieceSurface *s, const Piece *piece, const Hit *hit, int hits) {
    double inside = 1 - hit->u * hit->u - hit->v * hit->v;
    inside = inside > 0 ? inside * out_of_true : 0;
    float shift = (float)(piece->number % 1000) * 0.37F;
    double du = inside * (double)noise_at(&s->noise, (float)(hit->u * 1.2) + shift, (float)(hit->v * 1.2));
    double dv =
        inside * (double)noise_at(&s->noise, (float)(hit->u * 1.2), (float)(hit->v * 1.2) + shift + 40);
    Linear sum = {0, 0, 0};
    for (int i = 0; i < hits; i++) {
        Linear c = cut_at(s, hit[i].u + du, hit[i].v + dv);
        sum = (Linear){sum.r + c.r, sum.g + c.g, sum.b + c.b};
    }
    return (Linear){sum.r / hits, sum.g / hits, sum.b / hits};
}

/* The jacket's stripe in a direction of the picture (right, up), as an index of the jacket's candies. */
static int stripe_of(const PieceSurface *surface, double right, double up) {
    if (surface->stripes <= 1 || surface->jackets <= 1) return 0;
    return (int)stripe_at(surface->stripes, right, up) % surface->stripes % surface->jackets;
}

static double side_streak(const PieceSurface *s, const Piece *piece, const Hit *hit) {
    float round = (float)(fabs(atan2(hit->u, hit->v)) * 22) + (float)(piece->number % 97);
    double along = hit->along * piece->length / piece->radius;
    return streak_along(&s->noise, round, along);
}

static Linear side_colour(const PieceSurface *s, const Piece *piece, const Hit *hit, int hits) {
    Linear sum = {0, 0, 0};
    double streak = side_streak(s, piece, hit), by = 1 + streaks * streak;
    int first = stripe_of(s, hit->u, hit->v), last = stripe_of(s, hit[hits - 1].u, hit[hits - 1].v);
    for (int i = 0; i < hits;
         i++) { /* hits between two on one stripe are on it too: no stripe is that thin */
        int candy = first == last ? first : stripe_of(s, hit[i].u, hit[i].v);
        Linear c = s->blend[candy].streaked ? blend_look_at(&s->blend[candy], streak, 0, s->blend_shown)
                                            : s->jacket[candy];
        double way = s->core * 0.95;
        Linear core = s->clear[candy] ? cut_at(s, hit[i].u * way, hit[i].v * way) : (Linear){by, by, by};
        sum = (Linear){sum.r + c.r * core.r, sum.g + c.g * core.g, sum.b + c.b * core.b};
    }
    return (Linear){sum.r / hits, sum.g / hits, sum.b / hits};
}

Linear piece_surface_colour(const PieceSurface *surface, const Piece *piece, const Hit *hit, int hits) {
    double tone = 1 + chance_between(piece->number, 9, -0.025, 0.015);
    Linear c = hit->surface == SURFACE_SIDE ? side_colour(surface, piece, hit, hits)
                                            : end_colour(surface, piece, hit, hits);
    return (Linear){c.r * tone, c.g * tone, c.b * tone};
}
