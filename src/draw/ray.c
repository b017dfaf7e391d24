/* Pieces in space, and rays that meet them. SPDX-License-Identifier: MIT */
#include "draw/scene.h"

#include <math.h>

static const double nothing = 1e-9; /* mm: a ray that starts on a piece does not meet it there */

Vec vec_unit(Vec a) {
    double length = sqrt(vec_dot(a, a));
    return vec_scale(a, 1 / length);
}

/* The ray in the piece's own frame. */
typedef struct Local {
    double px, py, pz; /* mm: where it starts */
    double dx, dy, dz; /* which way it goes */
} Local;

static Local local_of(const Piece *p, Vec from, Vec way) {
    Vec q = vec_minus(from, p->middle);
    return (Local){vec_dot(q, p->right),   vec_dot(q, p->up),   vec_dot(q, p->axis),
                   vec_dot(way, p->right), vec_dot(way, p->up), vec_dot(way, p->axis)};
}

/* The end that the ray comes from. */
static bool meets_end(const Piece *p, const Local *l, Hit *hit) {
    double half = p->length / 2;
    if (fabs(l->dz) < 1e-12) return false;
    bool picture = l->dz < 0;
    double t = ((picture ? half : -half) - l->pz) / l->dz;
    double x = l->px + t * l->dx, y = l->py + t * l->dy;
    if (t <= nothing || x * x + y * y > p->radius * p->radius) return false;
    *hit = (Hit){t,
                 picture ? SURFACE_PICTURE_END : SURFACE_OTHER_END,
                 x / p->radius,
                 y / p->radius,
                 picture ? 1 : -1,
                 vec_scale(p->axis, picture ? 1 : -1)};
    return true;
}

static bool meets_side(const Piece *p, const Local *l, Hit *hit) {
    double a = l->dx * l->dx + l->dy * l->dy, b = l->px * l->dx + l->py * l->dy;
    double c = l->px * l->px + l->py * l->py - p->radius * p->radius, root = b * b - a * c;
    if (a < 1e-15 || root < 0) return false;
    double t = (-b - sqrt(root)) / a, z = l->pz + t * l->dz;
    if (t <= nothing || fabs(z) > p->length / 2) return false;
    double u = (l->px + t * l->dx) / p->radius, v = (l->py + t * l->dy) / p->radius;
    *hit =
        (Hit){t, SURFACE_SIDE, u, v, 2 * z / p->length, vec_add(vec_scale(p->right, u), vec_scale(p->up, v))};
    return true;
}

bool ray_meets_piece(const Piece *piece, Vec from, Vec way, Hit *out) {
    Local local = local_of(piece, from, way);
    return meets_side(piece, &local, out) ||
           meets_end(piece, &local, out); /* from outside it is one or the other */
}
