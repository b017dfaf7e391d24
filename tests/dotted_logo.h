/* A logo that comes out but for two dots, run and advised on: for tests of what is told of a job.
 * SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_DOTTED_LOGO_H
#define LOGOCANE_TESTS_DOTTED_LOGO_H

#include "sample_job.h"
#include "scene_logo.h"

#include <math.h>

static const Rgb8 white = {255, 255, 255}, red = {200, 32, 44};

/* A bold square with two dots beside it, too small for hands. */
static inline Rgb8 dotted(double x, double y) {
    double across = fabs(x) - 0.82;
    bool dot = across * across + y * y < 0.088 * 0.088;
    return fmax(fabs(x), fabs(y)) < 0.62 || dot ? red : white;
}

static Logo logo; /* by fill_logo; owned */

/* As a group's setup, and its teardown. */
static inline int fill_logo(void **state) {
    (void)state;
    Err err = {0};
    logo_draw(&logo, dotted);
    logo.shop.least_strip_mm = 9;
    logo.job.order.pieces = 500;
    logo.job.order.no_fine = true;
    strcpy(logo.job.order.name, "dots");
    logo_run(&logo);
    strcpy(logo.job.file, "two dots.png");
    logo.job.typed = "-n 500 --no-fine";
    return advise(&logo.job, ADVISE_BUDGET, NULL, &err) ? 0 : -1;
}

static inline int empty_logo(void **state) {
    (void)state;
    logo_free(&logo);
    return 0;
}

#endif
