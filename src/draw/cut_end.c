/* The cut end of a piece as light. SPDX-License-Identifier: MIT
 *
 * 1. Shapes: a pixel that can see one candy only is that candy's, else SUPER x SUPER points vote. The edges
 * of core and log are cut exactly (area of the pixel inside the disc), the stripes' edges by points. All
 * mixing is of linear light.
 * 2. Look: each candy's own (satin.c), a hairline of shade where two candies meet; lit, also a fall of light
 * from above left, a soft gloss and a rounded edge.
 * 3. Honesty: the look is measured on a lattice first, and each candy's light is scaled so that its mean is
 * the stated colour. Cost: a few points on border pixels, one look on the others.
 * 4. Bytes, with straight alpha. */
#include "draw/cut_end.h"

#include "base/mem.h"
#include "base/parallel.h"
#include "draw/draw.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

enum { SUPER = 4, PROBES = 160, INKS = INKS_MAX, MOST = INKS_MAX + JACKETS_MAX };

static const double fall = 0.055;   /* of the light, from the middle to the rim */
static const double through = 0.28; /* the same of what fell through clear candy: brightest far off */
static const double relief = 0.5, hairline = 0.10;           /* of the light, where candies meet */
static const double gloss_pulled = 0.05, gloss_clear = 0.11; /* of white */
static const double edge_width = 0.035;                      /* of the radius: the rounded edge */
static const double brim_width = 0.012; /* of the radius: the outermost line, which turns away */
static const double brim_px = 3;        /* but as wide as this at least */
static const double brim = 0.46;        /* of the light, which it lacks: so white shows on white */
static const double gain_least = 0.7, gain_most = 1.3;

/* Candies by number: those of the picture, from INKS on those of the jacket. */
typedef struct Painter {
    const Job *job;        /* not owned */
    CutLight light;        /* which is painted */
    Smooth smooth;         /* shapes; owned */
    Satin satin;           /* the look; owned */
    Circle log, core;      /* px */
    double samples_per_px; /* of the softened face */
    double brim;           /* of the radius: how wide the outermost line is */
    Linear gain[MOST];     /* factors that bring each candy's mean to the stated colour; 1 about */
} Painter;

/* What is seen in a pixel: candies and their shares, which add up to 1. */
typedef struct Mix {
    int count;          /* of candies */
    int candy[MOST];    /* their numbers */
    double share[MOST]; /* 0..1 */
} Mix;

static void mix_add(Mix *mix, int candy, double share) {
    int i = 0;
    while (i < mix->count && mix->candy[i] != candy) i++;
    if (i == mix->count) {
        mix->candy[i] = candy;
        mix->share[mix->count++] = 0;
    }
    mix->share[i] += share;
}

/* --- 1. shapes --- */

static double sample_x(const Painter *p, double x) {
    return (x - p->core.x + p->core.r) * p->samples_per_px;
}

static double sample_y(const Painter *p, double y) {
    return (y - p->core.y + p->core.r) * p->samples_per_px;
}

static void mix_picture(const Painter *p, int x, int y, double share, Mix *mix) {
    double size = p->samples_per_px, sx = sample_x(p, x), sy = sample_y(p, y);
    int flat = smooth_flat(&p->smooth, sx, sy, size);
    if (flat >= 0) {
        mix_add(mix, flat, share);
        return;
    }
    for (int i = 0; i < SUPER * SUPER; i++) {
        double px = sx + (i % SUPER + 0.5) * size / SUPER, py = sy + ((int)(i / SUPER) + 0.5) * size / SUPER;
        mix_add(mix, smooth_candy(&p->smooth, px, py), share / (SUPER * SUPER));
    }
}

double stripe_at(int stripes, double right, double up) {
    double turn = atan2(right, up) / (2 * PI);
    return (turn < 0 ? turn + 1 : turn) * stripes;
}

static double stripe_of(const Painter *p, double x, double y) {
    return stripe_at(p->job->palette.stripes, x - p->log.x, p->log.y - y);
}

static int stripe_candy(const Painter *p, double stripe) {
    const Palette *palette = &p->job->palette;
    return INKS + (int)stripe % palette->stripes % palette->jackets;
}

static void mix_jacket(const Painter *p, int x, int y, double share, Mix *mix) {
    const Palette *palette = &p->job->palette;
    if (palette->stripes <= 1 || palette->jackets <= 1) {
        mix_add(mix, INKS, share);
        return;
    }
    double stripe = stripe_of(p, x + 0.5, y + 0.5), off = fabs(stripe - nearbyint(stripe));
    double px_per_stripe = 2 * PI * hypot(x + 0.5 - p->log.x, y + 0.5 - p->log.y) / palette->stripes;
    if (off * px_per_stripe > 1) { /* no edge within the pixel: its half diagonal is 0.71 */
        mix_add(mix, stripe_candy(p, stripe), share);
        return;
    }
    for (int i = 0; i < SUPER * SUPER; i++) {
        double at = stripe_of(p, x + (i % SUPER + 0.5) / SUPER, y + ((int)(i / SUPER) + 0.5) / SUPER);
        mix_add(mix, stripe_candy(p, at), share / (SUPER * SUPER));
    }
}

/* How much of pixel (x, y) lies inside the disc, 0..1. */
static double inside(Circle disc, int x, int y) {
    double dx = x + 0.5 - disc.x, dy = y + 0.5 - disc.y, far = sqrt(dx * dx + dy * dy) - disc.r;
    if (far <= -0.75) return 1; /* the half diagonal is 0.71 */
    if (far >= 0.75) return 0;
    const Point p[4] = {{x, y}, {x + 1, y}, {x + 1, y + 1}, {x, y + 1}};
    return fmin(polygon_disc_area(p, 4, disc), 1);
}

/* --- 2. the look --- */

/* Light where candies meet: a hairline of shade, lighter on the side that faces the light. */
static double meeting(const Painter *p, double sx, double sy) {
    const Smooth *s = &p->smooth;
    double margin = smooth_read(s->margin, s->side, sx, sy);
    if (margin > 0.995) return 1;
    double reach = 1.2, slope = smooth_read(s->margin, s->side, sx + 0.6 * reach, sy + 0.8 * reach) -
                                smooth_read(s->margin, s->side, sx - 0.6 * reach, sy - 0.8 * reach);
    double shade = 1 - margin;
    return 1 + relief * 0.25 * slope - hairline * shade * shade;
}

/* A window's reflection, softened by the cut: 0..1 at a point in radii. */
static double window_at(double u, double v) {
    double a = u * 0.78 - v * 0.62 - 0.02,
           b = u * 0.62 + v * 0.78 + 0.44; /* along and across, off to the upper left */
    a /= 0.72;
    b /= 0.30;
    return smooth_step(1.25, 0.15, sqrt(a * a + b * b));
}

/* The light added and the factor on what the candy sends back, at a point in px. */
static void light_at(const Painter *p, double x, double y, bool clear, double *factor, double *window) {
    double u = (x - p->log.x) / p->log.r, v = (y - p->log.y) / p->log.r, r = sqrt(u * u + v * v);
    double facing = -(0.6 * u + 0.8 * v); /* 1 towards the light */
    *factor = 1 + (clear ? -through : fall) * facing;
    *window = window_at(u, v);
    if (r < 1 - edge_width) return;
    double tilt = smooth_step(1 - edge_width, 1, r), outermost = smooth_step(1 - p->brim, 1 - p->brim / 3, r);
    *factor *= (1 + tilt * (0.30 * facing / r - 0.10)) * (1 - brim * outermost);
    *window = (*window * (1 - tilt) + tilt * 1.6 * smooth_step(0.5, 1, facing / r)) * (1 - outermost);
}

static Linear look(const Painter *p, int candy, double x, double y, double pixel) {
    double sx = sample_x(p, x), sy = sample_y(p, y), factor = 1, window = 0,
           r = sqrt((x - p->log.x) * (x - p->log.x) + (y - p->log.y) * (y - p->log.y));
    Linear c = candy < INKS ? satin_picture(&p->satin, candy, sx, sy, pixel)
                            : satin_jacket(&p->satin, candy - INKS, sx, sy,
                                           (r - p->core.r) / (p->log.r - p->core.r), pixel);
    if (candy < INKS) factor = meeting(p, sx, sy);
    if (p->light == CUT_LIT) {
        bool clear = candy < INKS ? p->satin.clear[candy] : p->satin.jacket_clear[candy - INKS];
        double lit;
        light_at(p, x, y, clear, &lit, &window);
        factor *= lit;
        window *= clear ? gloss_clear : gloss_pulled;
    }
    return (Linear){c.r * factor + window, c.g * factor + window, c.b * factor + window};
}

/* --- 3. honesty --- */

static double gain_for(double stated, double mean) {
    return mean > 1e-9 ? fmin(fmax(stated / mean, gain_least), gain_most) : 1;
}

static void find_gains(Painter *p) {
    const Palette *palette = &p->job->palette;
    Linear sum[MOST] = {{0, 0, 0}};
    int count[MOST] = {0};
    double size = 2 * p->log.r / PROBES;
    for (int i = 0; i < PROBES * PROBES; i++) {
        double x = (i % PROBES + 0.5) * size, y = ((int)(i / PROBES) + 0.5) * size;
        double r = sqrt((x - p->log.x) * (x - p->log.x) + (y - p->log.y) * (y - p->log.y));
        if (r >= p->log.r) continue;
        int candy = r < p->core.r ? smooth_candy(&p->smooth, sample_x(p, x), sample_y(p, y))
                                  : stripe_candy(p, stripe_of(p, x, y));
        Linear c = look(p, candy, x, y, p->samples_per_px);
        sum[candy].r += c.r;
        sum[candy].g += c.g;
        sum[candy].b += c.b;
        count[candy]++;
    }
    for (int i = 0; i < MOST; i++) {
        p->gain[i] = (Linear){1, 1, 1};
        if (count[i] == 0) continue;
        Linear c = rgb8_linear(i < INKS ? palette->candy[i].srgb : palette->jacket[i - INKS].srgb);
        p->gain[i] = (Linear){gain_for(c.r, sum[i].r / count[i]), gain_for(c.g, sum[i].g / count[i]),
                              gain_for(c.b, sum[i].b / count[i])};
    }
}

static void paint_pixel(const Painter *p, int x, int y, float rgba[4]) {
    double in_log = inside(p->log, x, y), in_core = inside(p->core, x, y);
    if (in_log < 1e-9) return;
    Mix mix = {.count = 0};
    if (in_core > 0) mix_picture(p, x, y, in_core / in_log, &mix);
    if (in_core < in_log) mix_jacket(p, x, y, (in_log - in_core) / in_log, &mix);
    for (int i = 0; i < mix.count; i++) {
        int candy = mix.candy[i];
        double share = mix.share[i] * in_log;
        Linear c = look(p, candy, x + 0.5, y + 0.5, p->samples_per_px), gain = p->gain[candy];
        rgba[0] += (float)(share * c.r * gain.r);
        rgba[1] += (float)(share * c.g * gain.g);
        rgba[2] += (float)(share * c.b * gain.b);
    }
    rgba[3] = (float)in_log;
}

/* What one call paints: rows by several threads. */
typedef struct CutPainting {
    const Painter *painter; /* not owned */
    CutEnd end;             /* painted row by row */
} CutPainting;

static void paint_row(void *context, int y) {
    const CutPainting *painting = context;
    int side = painting->end.side;
    float *row = painting->end.rgba + 4 * (size_t)y * side;
    for (int x = 0; x < side; x++) paint_pixel(painting->painter, x, y, row + 4 * (size_t)x);
}

static bool painter_make(const Job *job, int side, CutLight light, Painter *p, Err *err) {
    double r = side / 2.0, core = r * job->cane.core_diameter_mm / job->cane.log_diameter_mm;
    *p = (Painter){.job = job, .light = light, .log = {r, r, r}, .core = {r, r, core}};
    p->samples_per_px = job->face.side / (2 * core);
    p->brim = fmax(brim_width, brim_px / r);
    if (!smooth_make(&job->face, job->palette.count, &p->smooth, err)) return false;
    if (!satin_make(job, &p->smooth, &p->satin, err)) {
        smooth_free(&p->smooth);
        return false;
    }
    find_gains(p);
    return true;
}

void cut_end_free(CutEnd *end) {
    free(end->rgba);
    *end = (CutEnd){0};
}

bool cut_end_paint(const Job *job, int side, CutLight light, CutEnd *out, Err *err) {
    assert(side > 0 && job->palette.count > 0 && job->palette.jackets > 0 && job->face.side > 1);
    Painter p;
    if (!painter_make(job, side, light, &p, err)) return false;
    CutPainting painting = {&p, {side, mem_alloc((size_t)side * side * 4, sizeof *out->rgba, err)}};
    bool good = painting.end.rgba != NULL;
    if (good) parallel_rows(side, 0, paint_row, &painting);
    smooth_free(&p.smooth);
    satin_free(&p.satin);
    if (good) *out = painting.end;
    return good;
}

/* --- 4. bytes --- */

void tone_fill(Tone *tone) {
    for (int i = 0; i <= TONES; i++) tone->byte[i] = (float)(255 * linear_to_srgb((double)i / TONES));
}

uint8_t tone_byte(const Tone *tone, float light) {
    float at = light > 0 ? light < 1 ? light * TONES : TONES : 0;
    return (uint8_t)(tone->byte[(int)(at + 0.5F)] + 0.5F);
}

bool draw_face(const Job *job, int side, Image *out, Err *err) {
    Image image = {0};
    CutEnd cut;
    if (!cut_end_paint(job, side, CUT_LIT, &cut, err)) return false;
    bool good = image_new(side, side, side / job->order.piece_diameter_mm, &image, err);
    Tone tone;
    tone_fill(&tone);
    size_t count = good ? (size_t)side * (size_t)side : 0;
    for (size_t i = 0; i < count; i++) {
        const float *from = cut.rgba + 4 * i;
        uint8_t *to = image.rgba + 4 * i;
        if (from[3] <= 0) continue;
        for (int c = 0; c < 3; c++) to[c] = tone_byte(&tone, from[c] / from[3]);
        to[3] = (uint8_t)(255 * from[3] + 0.5F);
    }
    cut_end_free(&cut);
    if (good) *out = image;
    return good;
}
