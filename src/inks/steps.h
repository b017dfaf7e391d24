/* What the steps of find_inks share. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_STEPS_H
#define LOGOCANE_STEPS_H

#include "base/err.h"
#include "model/colour.h"
#include "model/ink.h"
#include "model/picture.h"

#include <stddef.h>
#include <string.h>

/* --- tint: colours with alpha, mixed and compared ---
 *
 * A tint is held premultiplied, twice: in linear light, and as encoded values (the sRGB bytes / 255).
 * Pictures that were averaged in linear light mix along the first, what most drawing programs and JPEG do
 * along the second. */

typedef struct Tint {
    float linear[4];  /* r g b alpha, premultiplied, linear light, 0..1 */
    float encoded[4]; /* the same, premultiplied sRGB values */
    float ok[4];      /* OKLab times alpha, and alpha: for nearest neighbours, cheap */
} Tint;

/* Tables that make a tint of a pixel without a power or a root. About 8 kB; fill once per call of a stage. */
typedef struct TintTables {
    float linear[256]; /* linear light of an sRGB byte */
    float root[2049];  /* cube root of i / 2048; dark values are rooted exactly */
} TintTables;

void tint_tables(TintTables *tables);

Tint tint_of_pixel(const TintTables *tables, const uint8_t rgba[4]);
Tint tint_of_linear(const float premultiplied[4]);
Tint tint_of_encoded(const float premultiplied[4]);

/* Over white, as it looks on paper. */
Rgb8 tint_rgb8(const Tint *tint);
bool tint_transparent(const Tint *tint); /* alpha under a half */

/* White, as of paper, also in a JPEG. */
bool is_paper(Rgb8 colour);

/* Squared distance in OKLab and alpha. */
float tint_near(const Tint *p, const Tint *q);

/* CIEDE2000; of see-through tints the larger of that over white and that over black. */
double tint_distance(const Tint *p, const Tint *q);

/* tint_distance(p, q) <= limit, 1 <= limit <= 10; most cases are told by tint_near alone (bounds measured,
 * see tint.c). */
bool tint_within(const Tint *p, const Tint *q, double limit);

/* Is p a mix of a and b, within CIEDE2000 `limit` of the straight line between them, in linear light or in
 * encoded values, or of the line that JPEG makes when it blurs hue more than lightness? Then *part is b's
 * part, 0..1, measured in linear light if `linear`, else in encoded values. */
bool tint_mix(const Tint *p, const Tint *a, const Tint *b, double limit, bool linear, double *part);

/* The same of three; *most is the index (0, 1, 2) of the one with the largest part. */
bool tint_mix3(const Tint *p, const Tint *const of[3], double limit, int *most);

/* --- histogram: of tints, and its main colours --- */

enum { SWATCHES_MAX = 64 }; /* fits a 64-bit set */

typedef struct Bin {
    int key;         /* 0..2^20 - 1: 5 bits each of red, green, blue, alpha */
    double weight;   /* of all its pixels, > 0 */
    double sum[4];   /* weight times premultiplied linear light */
    Tint mean;       /* of its pixels: filled by histogram_means */
    uint64_t around; /* the swatches seen around its pixels, as a set: filled by find_swatches */
    uint8_t swatch;  /* the nearest of some swatches: filled by histogram_nearest */
} Bin;

enum { KEY_PLANES = 32 };

/* Bins of 8 values a channel (premultiplied, alpha too), only those in use. */
typedef struct Histogram {
    size_t count, capacity;  /* bins in use; room for so many */
    Bin *bin;                /* [count]; owned */
    int32_t *at[KEY_PLANES]; /* [1 << 15] each, by the key's lowest bits, those of alpha: the bin of each key,
                                + 1; 0 = none; NULL = no such alpha; owned */
} Histogram;

/* A main colour: a heavy bin and what lies near it. */
typedef struct Swatches {
    int count;               /* 0..SWATCHES_MAX */
    Tint tint[SWATCHES_MAX]; /* [count] */
} Swatches;

/* An empty one (128 kB of keys, as much again for each other alpha). Fails with ERR_MEMORY. */
bool histogram_new(Histogram *out, Err *err) MUST_CHECK;
void histogram_free(Histogram *h);

/* Counts a pixel and returns its bin, which the next pixel counted may move. NULL where it fails, with
 * ERR_MEMORY. */
Bin *histogram_add(Histogram *h, const uint8_t rgba[4], const Tint *tint, double weight, Err *err) MUST_CHECK;

/* Adds to `found` the colours that hold at least `least` weight each, heaviest bin first: a bin not yet
 * taken, moved to the mean of what lies within CIEDE2000 3 of it, takes all within `reach` of that. Colours
 * within `reach` of one already in `found` add nothing. Stops when `found` is full. Fails with ERR_MEMORY. */
bool histogram_swatches(Histogram *h, double reach, double least, Swatches *found, Err *err) MUST_CHECK;

/* The index of the swatch nearest to the tint (OKLab); swatches->count > 0. */
int tint_nearest(const Tint *tint, const Swatches *swatches);

/* For each bin the nearest swatch (OKLab); then histogram_swatch tells a pixel's in constant time
 * (SWATCHES_MAX if its bin is not in use). */
void histogram_nearest(Histogram *h, const Swatches *swatches);
int histogram_swatch(const Histogram *h, const uint8_t rgba[4]);

/* The index of the bin of a pixel that was counted. */
size_t histogram_bin(const Histogram *h, const uint8_t rgba[4]);

/* Fills the means of all bins. histogram_swatches does so too. */
void histogram_means(Histogram *h);

/* --- labelling: which pixel is of which colour, and which only mixes two that meet --- */

#define SWATCH_REACH 6.0 /* CIEDE2000: colours no farther apart are one swatch */

/* Surest first: what is looked for around a pixel is of *at most* some kind. */
typedef enum PixelKind {
    PIXEL_FLAT,    /* like its four neighbours: labelled by the nearest colour */
    PIXEL_PURE,    /* at an edge, and of a colour that is flat near by */
    PIXEL_CLAIMED, /* only while labelling: at an edge, near to a colour that is not flat near by */
    PIXEL_MIX,     /* at an edge, a mix of colours that meet there */
    PIXEL_LOOSE    /* at an edge, none of these: votes for a colour of its own */
} PixelKind;

typedef struct Labelling {
    const Picture *picture; /* not owned */
    size_t pixels;          /* the picture's width * height */
    TintTables tables;
    Swatches swatches;   /* the colours that pixels are labelled with */
    Histogram histogram; /* all pixels, weighed by how flat they lie */
    uint8_t *rough; /* [height][width] 1000 x the largest step to a side neighbour (OKLab, alpha), at most
                       255; owned */
    uint8_t *label; /* [height][width] index of a swatch; owned */
    uint8_t *kind;  /* [height][width] PixelKind; owned */
    int answers;    /* edge pixels that were worked out so far, by labelling_label: what mixes cost */
    bool noisy;     /* they cost too much: no more mixes are sought; by labelling_label */
    size_t edges;
    int32_t *edge; /* [edges] the pixels that are not flat, in reading order; owned */
} Labelling;

/* Measures the picture: roughness, histogram, edge pixels; no swatches yet. Fails with ERR_MEMORY. Either way
 * free *out with labelling_free. */
bool labelling_measure(const Picture *picture, Labelling *out, Err *err) MUST_CHECK;

/* Labels every pixel with the swatches there are (at least one). Fails with ERR_MEMORY. */
bool labelling_label(Labelling *l, Err *err) MUST_CHECK;

/* The tint of a pixel. */
Tint labelling_tint(const Labelling *l, size_t pixel);

/* The swatches that are flat or pure within a few pixels, as a set. */
uint64_t labelling_around(const Labelling *l, size_t pixel);

void labelling_free(Labelling *l);

/* Are the two, r g b a, the same? */
static inline bool same_pixel(const uint8_t *p, const uint8_t *q) {
    return memcmp(p, q, 4) == 0;
}

/* Where the run of equal values that holds value[i] ends, at most `end`. */
static inline size_t run_end(const uint8_t *value, size_t i, size_t end) {
    enum { TOGETHER = 16 };
    size_t at = i + 1;
    while (at + TOGETHER <= end && memcmp(value + at, value + at - 1, TOGETHER) == 0) at += TOGETHER;
    while (at < end && value[at] == value[i]) at++;
    return at;
}

/* --- find_swatches: the main colours of a picture --- */

/* Finds the swatches of a measured picture and labels it with them: colours over SWATCH_REACH apart that hold
 * 0.3 % of the unmixed pixels each, heaviest first, then those that thin strokes voted for. At least one.
 * Fails with ERR_MEMORY. */
bool find_swatches(Labelling *l, Err *err) MUST_CHECK;

/* The fewest pixels that make an ink: 0.3 % of the unmixed ones. */
double swatches_least(const Labelling *l);

/* --- shading: gradients: colours that run into each other are one ink --- */

/* ink[height][width]: the swatch that is the ink of each pixel. Areas that meet without an edge on most of
 * their border are one shading, and its largest swatch is its ink; elsewhere the same swatch may be an ink of
 * its own. Fails with ERR_MEMORY. */
bool shading_inks(const Labelling *l, uint8_t *ink, Err *err) MUST_CHECK;

/* --- find_field: the background --- */

/* Which swatch is the background of the picture, whose pixels are of the swatches ink[height][width]; if it
 * is full-bleed, that with the most of its border. Fails with ERR_MEMORY; the outputs are then untouched. */
bool find_field(const Labelling *l, const uint8_t *ink, int *field, bool *full_bleed, Err *err) MUST_CHECK;

/* --- fit_picture: whole in the disc, or a disc out of it --- */

/* Sets map->circle, cropped and beyond, and the inks, shares and borders by them. Once for a map, whose
 * circle is that round its foreground. Fails with ERR_MEMORY; the map is then its caller's to free. */
bool fit_picture(InkMap *map, Fit fit, Err *err) MUST_CHECK;

/* The box of what is not field, and how many pixels of it are; w = 0 if there is nothing. */
Box foreground_box(const InkMap *map, double *pixels);

/* --- find_inks: the circle --- */

/* The smallest circle round the corners of what is not field in ink[h][w], px; round the picture if there is
 * nothing. Fails with ERR_MEMORY only. */
bool foreground_circle(const uint8_t *ink, int w, int h, int field, Circle *out, Err *err) MUST_CHECK;

/* --- count_inks: the order --- */

/* Puts the inks in the order of their shares, the largest first; of the same shares as they were. */
void order_inks(InkMap *map);

/* --- shaded_share: how much of a picture is shaded --- */

/* The share of what is not field that is shaded: pixels of a swatch that is only a shade of its ink, and
 * pixels over CIEDE2000 8 from their ink and over 3 px from an edge. ink[height][width]: the swatch that is
 * the ink of each pixel; `field`: that of the background, -1 = there is none. Shadow and glow on the field
 * count as well, and field over CIEDE2000 16 from its ink; light that changes slowly across it does not.
 * out->shaded is that share; out->deep the share that is over CIEDE2000 16 from its ink, and over 3 px from
 * an edge: what flattening would change for all to see; out->grain the share of what is shaded that differs
 * from its neighbours, as photographs do. Fails with ERR_MEMORY; *out is then untouched. */
bool shaded_share(const Labelling *l, const uint8_t *ink, int field, InkMap *out, Err *err) MUST_CHECK;

/* --- find_faint: what of the drawing lies within one ink --- */

/* Sets map->faint and faint_apart from the picture and the labels. */
void find_faint(const Picture *picture, InkMap *map);

/* --- crop_to_logo: a picture cropped to its logo, where that is small in a wide margin --- */

/* The smallest box round all that is not plain field, px; w = 0 if there is nothing. */
Box crop_box(const Picture *picture, const InkMap *map);

/* The part of the picture that holds all that is not plain field, with a margin of field round it; px. True
 * if it is at most half of the picture: there an ink can be small in the picture and not in the logo. False
 * for pictures that are full-bleed or of one colour. */
bool crop_find(const Picture *picture, const InkMap *map, Box *part);

/* A copy of the part. Fails with ERR_MEMORY; free it with picture_free. */
bool crop_take(const Picture *picture, Box part, Picture *out, Err *err) MUST_CHECK;

/* Brings the inks of a part back to the picture it was cut from: the rest is field. Fails with ERR_MEMORY. */
bool crop_undo(const Picture *picture, Box part, InkMap *map, Err *err) MUST_CHECK;

#endif
