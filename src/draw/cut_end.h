/* The cut end of a piece as light. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_CUT_END_H
#define LOGOCANE_CUT_END_H

#include "model/job.h"

/* --- smooth: the softened face without its raster's stairs --- */

/* Between samples the candies' blurred indicators are read bilinearly, and the largest wins: borders without
 * stairs, where the raster has them to a tenth of a sample. */
typedef struct Smooth {
    int side; /* samples */
    int candies;
    float *value;  /* [candies][side][side]; owned */
    uint8_t *top;  /* [side][side] the candy with the largest value; owned */
    float *margin; /* [side][side] how much larger than the next, 0 (on a border)..1 (inside); owned */
} Smooth;

/* Fails with ERR_MEMORY only; *out is then untouched. */
bool smooth_make(const Face *face, int candies, Smooth *out, Err *err) MUST_CHECK;
void smooth_free(Smooth *smooth);

/* The candy that wins at a point in samples: value (x, y) belongs to the middle of sample (x, y), 0.5 on. */
int smooth_candy(const Smooth *smooth, double x, double y);

/* The one candy of the square of `size` samples from (x, y) on, -1 if there may be several. */
int smooth_flat(const Smooth *smooth, double x, double y, double size);

/* A plane [side][side] of the same raster, read bilinearly at a point in samples. */
double smooth_read(const float *plane, int side, double x, double y);

/* The kernel of one pass of box blurs repeated thrice: about a Gaussian of that many samples (1..), in place.
 * Scratch: [side] floats. */
void smooth_blur(float *plane, int side, double sigma, float *scratch);

/* --- noise with a seed of its own --- */

enum { NOISE_SIDE = 128 }; /* a power of two */

/* A lattice of chance values that repeats after NOISE_SIDE cells each way. */
typedef struct Noise {
    float value[NOISE_SIDE * NOISE_SIDE]; /* -1..1, mean about 0 */
} Noise;

/* A number that looks like chance, from two numbers (a finalizer of xor-shifts and products). */
uint32_t chance(uint32_t seed, uint32_t number);

/* The same as a number low..high (high left out). */
double chance_between(uint32_t seed, uint32_t number, double low, double high);

void noise_fill(Noise *noise, uint32_t seed);

/* The noise at a point, in cells of the lattice, -1..1; smooth (cubic between the lattice points). |x|, |y| <
 * 1e6. */
float noise_at(const Noise *noise, float x, float y);

/* --- satin: how candy looks where it is cut: pulled candy's satin streaks, clear candy's depth --- */

enum { SATIN_DEPTHS = 33, LOOK = 33 };

/* The streaks of one rope, seeded from its number. */
typedef struct Grain {
    float x, y;             /* where they start, in samples */
    float along_x, along_y; /* which way they run, of length 1 */
    float offset;           /* cells of the noise */
    float tone;             /* how much lighter all of it is, about 0 */
    bool round;             /* they run round (x, y): sheets */
} Grain;

/* The layers of a blend, seen as streaks: shades between its two candies, as even mixtures have them
 * (model/blend.h). */
typedef struct BlendLook {
    bool streaked;      /* false: no blend, the rest is not filled */
    double level;       /* of the layers' height: above it is the second candy */
    Linear stated;      /* the blend's own colour, which is the mean */
    Linear light[LOOK]; /* from the first candy's layers to the second's */
} BlendLook;

/* For layers of such heights, of which `count` are given, so that either candy has its share of the area and
 * the mean of all is the stated colour. */
void blend_look_make(const Candy *candy, const double *height, int count, BlendLook *out);

/* The light of a layer; `blur`, how much of the height falls into a pixel; `shown`, 0..1, how much of the
 * layers can be seen: at 0 the stated colour. */
Linear blend_look_at(const BlendLook *look, double height, double blur, double shown);

/* The look of one face. */
typedef struct Satin {
    int side;        /* samples */
    double diameter; /* of the log, in samples */
    int grains;      /* ropes and sheets of the lay-up, and 2 */
    Grain *grain;    /* by rope, then by sheet of the lay-up; the last two: rings and jacket; owned */
    int16_t *rope;   /* [side][side] index into grain; owned */
    int16_t *other;  /* [side][side] where `share` is over 0: the rope of the same candy next to it; owned */
    uint8_t *share;  /* [side][side] how much of that one shows, 1 / 256; 128 at most; owned */
    float *depth;    /* [side][side] how far inside clear candy, 0..1; NULL if there is none; owned */
    bool clear[INKS_MAX], jacket_clear[JACKETS_MAX]; /* else pulled */
    Linear picture[INKS_MAX][SATIN_DEPTHS];          /* by depth; pulled candy is the same at all */
    Linear jacket[JACKETS_MAX][SATIN_DEPTHS];        /* likewise */
    BlendLook blend[INKS_MAX], jacket_blend[JACKETS_MAX];
    double layers; /* samples: a pair of a blend's layers; 0 if there is none */
    Noise noise;
} Satin;

/* Fails with ERR_MEMORY only; *out is then empty. */
bool satin_make(const Job *job, const Smooth *smooth, Satin *out, Err *err) MUST_CHECK;
void satin_free(Satin *satin);

/* Which rope, sheet or ring each sample belongs to, and how their streaks run: fills grain, rope, other and
 * share. Fails with ERR_MEMORY only; what it has filled is then satin_free's. */
bool satin_ropes_find(const Job *job, const Smooth *smooth, Satin *satin, Err *err) MUST_CHECK;

/* A point as the streaks of a rope run. */
typedef struct Run {
    double along;  /* in cells of the coarse octave */
    double across; /* samples */
} Run;

Run run_at(const Satin *satin, const Grain *grain, double x, double y);

/* Fills what blends need, of the palette's candies and the jacket's; by the noise, which must be there. */
void blend_layers_make(const Job *job, Satin *satin);

/* The light of a blend at a point in samples, in layers that run as the grain does. */
Linear blend_layers_at(const Satin *satin, const BlendLook *look, const Grain *grain, double x, double y,
                       double pixel);

/* The light that candy `candy` of the picture sends back at a point in samples; `pixel` is the size of what
 * is looked at: streaks finer than that are left out. */
Linear satin_picture(const Satin *satin, int candy, double x, double y, double pixel);

/* The same of jacket candy `jacket`, at a point in samples; `in_jacket`: 0 at the core's edge, 1 outside. */
Linear satin_jacket(const Satin *satin, int jacket, double x, double y, double in_jacket, double pixel);

/* --- cut_end --- */

enum { TONES = 16384 };

/* Linear light to sRGB bytes, fast: the transfer function by table, never a tenth of a byte off before
 * rounding. */
typedef struct Tone {
    float byte[TONES + 1];
} Tone;

void tone_fill(Tone *tone);

/* The byte of a light, which is clamped to 0..1. */
uint8_t tone_byte(const Tone *tone, float light);

typedef enum CutLight {
    CUT_FLAT, /* even light from everywhere: what scene.c adds its own light to */
    CUT_LIT   /* light from above left, a soft gloss, a rounded edge */
} CutLight;

/* Squares of light over the piece's face, edge to edge; outside it nothing. */
typedef struct CutEnd {
    int side;    /* px */
    float *rgba; /* [side][side][4] linear light times coverage, coverage; owned */
} CutEnd;

/* The softened face in its jacket. Each candy's mean over the area it shows is its stated colour, as far as a
 * change of its light by a quarter reaches. Fails with ERR_MEMORY only; *out is then untouched. */
bool cut_end_paint(const Job *job, int side, CutLight light, CutEnd *out, Err *err) MUST_CHECK;
void cut_end_free(CutEnd *end);

/* Where a direction from the middle lies among the jacket's stripes: 0..stripes, from 12 o'clock clockwise.
 */
double stripe_at(int stripes, double right, double up);

#endif
