/* Pieces in space, and rays that meet them. SPDX-License-Identifier: MIT
 *
 * x to the right, y away from the viewer, z up; the table is z = 0. Lengths in mm. */
#ifndef LOGOCANE_RAY_H
#define LOGOCANE_RAY_H

#include <stdbool.h>

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

/* Is the point in the piece? */
bool piece_holds(const Piece *piece, Vec point);

#endif
