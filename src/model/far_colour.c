/* Colours that lie far apart, and colours that candy can have. SPDX-License-Identifier: MIT
 *
 * Both work in OKLab (Björn Ottosson, "A perceptual color space for image processing", 2020), in which a hue
 * stays the same hue when it gets paler: in CIELAB a paler pure blue is violet.
 *
 * colour_cost: 1. CIEDE2000; up to NEAR_COLOUR that is all.
 * 2. Beyond, the far difference counts in full from NEAR_COLOUR + FADE on, less before, so that there is no
 * jump. It is the root of the sum of four squares: difference of lightness, of chroma, of hue (the chord
 * between the two hues, of a circle of radius 1, and from 60 degrees on its cube), and of being coloured at
 * all: so a neighbour's hue is better than none, and none better than one from across. How far a colour is
 * seen as coloured runs from 0 at the chroma NEUTRAL to 1 at COLOURED, smoothly; hues count as far as both
 * are. The weights and the two bounds were found by eye over the table of tests/test_far_colour.c.
 *
 * colour_bounded: chroma and lightness are halved in on (HALVINGS times), at one hue of OKLab. */
#include "model/far_colour.h"

#include <math.h>

#define FADE 5.0       /* CIEDE2000 */
#define LIGHTNESS 60.0 /* weights, of OKLab's units: per 1 of lightness */
#define CHROMA 30.0    /* per 1 of chroma */
#define HUE 25.0       /* per length of the chord */
#define TINTED 50.0    /* from a neutral to a hue */
#define NEUTRAL 0.04   /* chroma of OKLab; a slate blue is a grey still */
#define COLOURED 0.06  /* likewise; the darkest greens are green */

enum { HALVINGS = 40 };

typedef struct Ok {
    double l, a, b; /* OKLab, D65: l 0..1 */
} Ok;

/* The author's direct matrices, from linear sRGB and back. */
static Ok linear_ok(Linear c) {
    double l = cbrt(0.4122214708 * c.r + 0.5363325363 * c.g + 0.0514459929 * c.b),
           m = cbrt(0.2119034982 * c.r + 0.6806995451 * c.g + 0.1073969566 * c.b),
           s = cbrt(0.0883024619 * c.r + 0.2817188376 * c.g + 0.6299787005 * c.b);
    return (Ok){0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
                1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
                0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

static Linear ok_linear(Ok c) {
    double l = c.l + 0.3963377774 * c.a + 0.2158037573 * c.b,
           m = c.l - 0.1055613458 * c.a - 0.0638541728 * c.b,
           s = c.l - 0.0894841775 * c.a - 1.2914855480 * c.b;
    l *= l * l, m *= m * m, s *= s * s;
    return (Linear){4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
                    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
                    -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s};
}

/* --- how far --- */

static double chroma_of(Ok c) {
    return sqrt(c.a * c.a + c.b * c.b);
}

static double tinted(double chroma) {
    double t = fmin(fmax((chroma - NEUTRAL) / (COLOURED - NEUTRAL), 0), 1);
    return t * t * (3 - 2 * t);
}

static double far_difference(Ok p, Ok q) {
    double pc = chroma_of(p), qc = chroma_of(q), pt = tinted(pc), qt = tinted(qc), chord2 = 0;
    if (pt > 0 && qt > 0) chord2 = fmax(0, 2 - 2 * (p.a * q.a + p.b * q.b) / (pc * qc));
    double light = LIGHTNESS * (p.l - q.l), strong = CHROMA * (pc - qc), coloured = TINTED * (pt - qt),
           hue2 = HUE * HUE * chord2 * fmax(1, chord2 * chord2) * (pt * qt);
    return sqrt(light * light + strong * strong + coloured * coloured + hue2);
}

double colour_cost(Rgb8 p, Rgb8 q) {
    double near = delta_e00(rgb8_lab(p), rgb8_lab(q));
    if (near <= NEAR_COLOUR) return near;
    double far = far_difference(linear_ok(rgb8_linear(p)), linear_ok(rgb8_linear(q)));
    return NEAR_COLOUR + fmin(1, (near - NEAR_COLOUR) / FADE) * far;
}

/* --- what candy can be --- */

/* Of the same hue, `strength` times the chroma, with this L*: lightness rises with OKLab's. */
static Ok with_lightness(Ok c, double strength, double lightness) {
    double low = 0, high = 1.1; /* a strong colour as light as white lies beyond 1 */
    Ok out = {0, c.a * strength, c.b * strength};
    for (int i = 0; i < HALVINGS; i++) {
        out.l = (low + high) / 2;
        if (linear_lab(ok_linear(out)).l < lightness)
            low = out.l;
        else
            high = out.l;
    }
    return out;
}

static double lab_chroma(Ok c) {
    Lab lab = linear_lab(ok_linear(c));
    return sqrt(lab.a * lab.a + lab.b * lab.b);
}

Rgb8 colour_bounded(Rgb8 colour, const CandyGamut *gamut) {
    Lab lab = rgb8_lab(colour);
    double lightness = fmin(fmax(lab.l, gamut->darkest), gamut->lightest);
    if (lightness == lab.l && sqrt(lab.a * lab.a + lab.b * lab.b) <= gamut->chroma) return colour;
    Ok ok = linear_ok(rgb8_linear(colour));
    double low = 0, high = 1;
    if (lab_chroma(with_lightness(ok, 1, lightness)) <= gamut->chroma) low = 1;
    for (int i = 0; i < HALVINGS && low < 1; i++) {
        double middle = (low + high) / 2;
        if (lab_chroma(with_lightness(ok, middle, lightness)) <= gamut->chroma)
            low = middle;
        else
            high = middle;
    }
    return linear_rgb8(ok_linear(with_lightness(ok, low, lightness)));
}
