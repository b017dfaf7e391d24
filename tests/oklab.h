/* OKLab in full precision, for tests of what the program computes of it. SPDX-License-Identifier: MIT
 *
 * Source: Ottosson, "A perceptual color space for image processing" (2020). */
#ifndef LOGOCANE_TESTS_OKLAB_H
#define LOGOCANE_TESTS_OKLAB_H

#include "model/colour.h"

#include <math.h>

typedef struct Oklab {
    double l, a, b; /* OKLab, D65: l 0..1 */
} Oklab;

typedef struct Xyz {
    double x, y, z; /* CIE XYZ, D65, y of white = 1 */
} Xyz;

/* Ottosson's second matrix: cone-like responses, already cube-rooted, to OKLab. */
static inline Oklab roots_oklab(double l, double m, double s) {
    return (Oklab){0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
                   1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
                   0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

/* The author's direct matrix from linear sRGB. */
static inline Oklab linear_oklab(Linear c) {
    return roots_oklab(cbrt(0.4122214708 * c.r + 0.5363325363 * c.g + 0.0514459929 * c.b),
                       cbrt(0.2119034982 * c.r + 0.6806995451 * c.g + 0.1073969566 * c.b),
                       cbrt(0.0883024619 * c.r + 0.2817188376 * c.g + 0.6299787005 * c.b));
}

static inline Oklab xyz_oklab(Xyz c) {
    return roots_oklab(cbrt(0.8189330101 * c.x + 0.3618667424 * c.y - 0.1288597137 * c.z),
                       cbrt(0.0329845436 * c.x + 0.9293118715 * c.y + 0.0361456387 * c.z),
                       cbrt(0.0482003018 * c.x + 0.2643662691 * c.y + 0.6338517070 * c.z));
}

#endif
