/* A job with a face drawn by code, for the tests of what is drawn of it. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_FACE_JOB_H
#define LOGOCANE_FACE_JOB_H

#include "model/image.h"
#include "model/job.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { STEPS = 40, RASTER = STEPS * SAMPLES };

/* What is at a point of the core, in samples from its middle. */
typedef int Motif(double x, double y);

/* A disc of 60 samples, one of 16 and a bar of 24 with round ends. */
static inline int motifs(double x, double y) {
    if (hypot(x + 60, y) < 60) return 1;
    if (hypot(x - 60, y + 40) < 16) return 2;
    return hypot(x - fmin(fmax(x, 20), 80), y - 60) < 12 ? 2 : 0;
}

static inline void fill_face(Motif *motif, Face *face) {
    face->side = RASTER;
    face->candy = malloc((size_t)RASTER * RASTER);
    assert_non_null(face->candy);
    for (int y = 0; y < RASTER; y++)
        for (int x = 0; x < RASTER; x++) {
            double dx = x + 0.5 - RASTER / 2.0, dy = y + 0.5 - RASTER / 2.0;
            bool in = hypot(dx, dy) <= RASTER / 2.0;
            face->candy[y * RASTER + x] = in ? (uint8_t)motif(dx, dy) : OUTSIDE;
        }
}

/* Three candies (white, red, navy) in a plain jacket of yellow; free with face_free(&job.face). */
static inline Job face_job(Motif *motif) {
    const Shop shop = shop_default();
    Job job = {.order = order_default()};
    job.palette = (Palette){.count = 3, .jackets = 1, .stripes = 1};
    job.palette.candy[0] = shop.stock.candy[0];
    job.palette.candy[1] = shop.stock.candy[4];
    job.palette.candy[2] = shop.stock.candy[11];
    job.palette.jacket[0] = shop.stock.candy[7];
    job.cane = (Cane){.core_diameter_mm = 90,
                      .log_diameter_mm = 100,
                      .key = {.steps = STEPS, .least_steps = 4},
                      .step_mm = 1.5,
                      .reduction = 6.25};
    job.grid.core = (Circle){STEPS / 2.0, STEPS / 2.0, STEPS / 2.0};
    fill_face(motif, &job.face);
    return job;
}

static inline const uint8_t *pixel_of(const Image *image, double x, double y) {
    return image->rgba + 4 * ((size_t)y * (size_t)image->width + (size_t)x);
}

static inline void near(double got, double want, double limit) {
    if (!(fabs(got - want) <= limit)) fail_msg("got %.8g, want %.8g", got, want);
}

#endif
