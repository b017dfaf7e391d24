/* Pieces scattered on a table and photographed. SPDX-License-Identifier: MIT
 *
 * x to the right, y away from the viewer, z up; the table is z = 0. Lengths in mm. */
#ifndef LOGOCANE_SCENE_H
#define LOGOCANE_SCENE_H

#include "draw/cut_end.h"
#include "model/image.h"

/* --- ray: pieces in space, and rays that meet them --- */

typedef struct Vec {
    double x, y, z; /* mm, or without unit: a direction */
} Vec;

static inline Vec vec_add(Vec a, Vec b) {
    return (Vec){a.x + b.x, a.y + b.y, a.z + b.z};
}
static inline Vec vec_scale(Vec a, double by) {
    return (Vec){a.x * by, a.y * by, a.z * by};
}
static inline Vec vec_minus(Vec a, Vec b) {
    return (Vec){a.x - b.x, a.y - b.y, a.z - b.z};
}
static inline double vec_dot(Vec a, Vec b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
static inline Vec vec_cross(Vec a, Vec b) {
    return (Vec){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
Vec vec_unit(Vec a);

/* A round piece: the picture is the same all along it, so the end at +axis shows it as drawn and the end at
 * -axis shows its mirror image, as in candy. */
typedef struct Piece {
    Vec middle;            /* of the cylinder */
    Vec axis;              /* unit: towards the end that shows the picture the right way round */
    Vec right, up;         /* unit: of the picture; right, up and axis are a right-handed frame */
    double radius, length; /* mm */
    bool standing;         /* on one end; else it lies */
    unsigned number;       /* seed of how it differs from the others */
} Piece;

typedef enum Surface { SURFACE_NONE, SURFACE_PICTURE_END, SURFACE_OTHER_END, SURFACE_SIDE } Surface;

typedef struct Hit {
    double t; /* along the ray */
    Surface surface;
    double u, v;  /* where in the picture, in radii: u right, v up; u^2 + v^2 = 1 on the side */
    double along; /* -1..1 from the other end to the picture's */
    Vec normal;   /* of the bare cylinder, outwards */
} Hit;

/* Where the ray from + t * way, t > 0, meets the piece first; false if nowhere. `way` need not be of
 * length 1. */
bool ray_meets_piece(const Piece *piece, Vec from, Vec way, Hit *out);

/* --- scatter: where the pieces lie --- */

enum { SCATTER_MAX = 26 };

typedef struct Scatter {
    int count;
    Piece piece[SCATTER_MAX]; /* on or over the table, none in another */
    double width, depth;      /* mm: of the part of the table they lie on, about (0, 0) */
} Scatter;

/* Some two dozen pieces of about that size (each its own, by a few hundredths, never over 1.03 times). Most
 * stand, more with the picture up than with its mirror image, turned by less than a right angle; some lie.
 * Pieces over twice as long as thick all lie, one end towards the viewer; under half as long none do.
 * `aspect` is depth over width. The same arguments give the same pieces. */
void scatter(double diameter_mm, double length_mm, double aspect, unsigned seed, Scatter *out);

/* --- daylight: soft light over the table, and the shade that pieces give --- */

/* What reaches a point of the table: of the sky and of the window, 0..1 each. */
typedef struct Shade {
    float sky, window;
} Shade;

typedef struct Daylight {
    const Scatter *scatter;             /* not owned */
    double left, front;                 /* mm: of the map's corner */
    double cell;                        /* mm */
    int width, depth;                   /* cells */
    Shade *shade;                       /* [depth][width] for z = 0; owned */
    int nears[SCATTER_MAX];             /* how many pieces may keep the window from each piece */
    int near[SCATTER_MAX][SCATTER_MAX]; /* which: indexes of pieces */
} Daylight;

/* Maps the shade that all pieces throw on the table, `cells` a diameter, with that many threads
 * (parallel.h). Fails with ERR_MEMORY only; *out is then untouched. */
bool daylight_make(const Scatter *scatter, double cells, int threads, Daylight *out, Err *err) MUST_CHECK;
void daylight_free(Daylight *light);

/* The shade at a point of the table; nothing shades what lies off the map. */
Shade daylight_table(const Daylight *light, double x, double y);

/* The table's colour at a point: its own, and the shade. */
Linear daylight_ground(const Daylight *light, double x, double y);

/* What a point sends to the eye: `light` times its surface's colour, and white `gloss`. */
typedef struct Lit {
    double light, gloss;
} Lit;

/* Of a point of piece `index`: `hit` is where on it, `eye` the unit way from it to the eye. */
Lit daylight_piece(const Daylight *light, int index, const Hit *hit, Vec point, Vec eye);

/* --- piece_surface: the colour of a piece wherever a ray meets it --- */

typedef struct PieceSurface {
    int side;    /* px of the cut */
    float *rgb;  /* [side][side][3] linear light of the cut, carried on a little beyond its edge; owned */
    double core; /* the core's share of the radius */
    int jackets, stripes;         /* as in the palette */
    Linear jacket[JACKETS_MAX];   /* a clear one's: what it lets through of the core's light */
    bool clear[JACKETS_MAX];      /* of the jacket's candies */
    BlendLook blend[JACKETS_MAX]; /* likewise */
    double blend_shown;           /* how much of a blend's streaks can be seen, 0..1 */
    Noise noise;                  /* what makes each piece a little different */
} PieceSurface;

/* `side`: px of the cut, about twice what a piece will measure. Fails with ERR_MEMORY only; *out is then
 * untouched. */
bool piece_surface_new(const Job *job, int side, PieceSurface *out, Err *err) MUST_CHECK;
void piece_surface_free(PieceSurface *surface);

/* The light that comes back of white light: the mean at `hits` (1 or more) places near each other, all on one
 * surface. Every piece is a little out of true in its own way. */
Linear piece_surface_colour(const PieceSurface *surface, const Piece *piece, const Hit *hit, int hits);

/* --- scene: the photograph --- */

/* Where the pieces are to be in the image, px. */
typedef struct SceneFrame {
    int width, height;               /* of the image: the table fills it */
    double left, top, right, bottom; /* where the pieces lie */
    int threads;                     /* 0: as many as there are processors */
} SceneFrame;

/* Depth over width of the part of the table that fills the frame: for `scatter`. */
double scene_aspect(const SceneFrame *frame);

/* Renders; opaque. Pixels do not depend on the number of threads. Fails with ERR_MEMORY only; *out is then
 * untouched. */
bool scene_render(const Scatter *scatter, const PieceSurface *surface, const SceneFrame *frame, Image *out,
                  Err *err) MUST_CHECK;

#endif
