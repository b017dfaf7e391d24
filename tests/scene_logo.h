/* A logo drawn by a function of the place, and its job. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_TESTS_SCENE_LOGO_H
#define LOGOCANE_TESTS_SCENE_LOGO_H

#include "inks/inks.h"
#include "run/run.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { SIDE = 240 };

/* The colour at a place, -1..1 across and down. */
typedef Rgb8 Scene(double x, double y);

typedef struct Logo {
    Picture picture;
    InkMap inks;
    Shop shop;
    Job job; /* not run yet; the default order */
} Logo;

static inline void logo_draw(Logo *logo, Scene *scene) {
    *logo = (Logo){.shop = shop_default()};
    logo->picture = (Picture){SIDE, SIDE, 1, SIDE, SIDE, calloc((size_t)SIDE * SIDE, 4)};
    assert_non_null(logo->picture.rgba);
    for (int i = 0; i < SIDE * SIDE; i++) {
        Rgb8 c = scene((i % SIDE + 0.5) / SIDE * 2 - 1, (i / SIDE + 0.5) / SIDE * 2 - 1);
        uint8_t *to = logo->picture.rgba + 4 * i;
        to[0] = c.r, to[1] = c.g, to[2] = c.b, to[3] = 255;
    }
    Err err = {0};
    assert_true(find_inks(&logo->picture, &logo->inks, &err));
    logo->job = (Job){.picture = &logo->picture, .inks = &logo->inks, .shop = &logo->shop};
    logo->job.order = order_default();
}

static inline void logo_run(Logo *logo) {
    Err err = {0};
    Job again = {
        .picture = &logo->picture, .inks = &logo->inks, .shop = &logo->shop, .order = logo->job.order};
    job_free(&logo->job);
    logo->job = again;
    if (!job_run(&logo->job, &err)) fail_msg("%s", err.msg);
}

static inline void logo_free(Logo *logo) {
    job_free(&logo->job);
    inkmap_free(&logo->inks);
    picture_free(&logo->picture);
}

#endif
