/* Is a point in a piece? For tests of rays and of where pieces lie. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_PIECE_HOLDS_H
#define LOGOCANE_TESTS_PIECE_HOLDS_H

#include "draw/scene.h"

#include <math.h>

static inline bool piece_holds(const Piece *piece, Vec point) {
    Vec q = vec_minus(point, piece->middle);
    double x = vec_dot(q, piece->right), y = vec_dot(q, piece->up), z = vec_dot(q, piece->axis);
    return x * x + y * y <= piece->radius * piece->radius && fabs(z) <= piece->length / 2;
}

#endif
