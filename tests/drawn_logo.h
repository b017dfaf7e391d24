/* A logo drawn by code: a white ground, a navy ring and a red bar. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DRAWN_LOGO_H
#define LOGOCANE_DRAWN_LOGO_H

#include "inks/inks.h"
#include "model/job.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct DrawnLogo {
    Picture picture;
    InkMap inks;
    Shop shop;
} DrawnLogo;

static inline bool drawn_logo_fill(DrawnLogo *logo, Err *err) {
    enum { SIDE = 160 };
    memset(logo, 0, sizeof *logo);
    logo->shop = shop_default();
    logo->shop.least_strip_mm = 12; /* coarse: a lay-up takes no time */
    logo->picture = (Picture){SIDE, SIDE, 1, SIDE, SIDE, mem_alloc((size_t)SIDE * SIDE * 4, 1, err)};
    if (!logo->picture.rgba) return false;
    for (int i = 0; i < SIDE * SIDE; i++) {
        static const uint8_t white[] = {250, 250, 250, 255}, navy[] = {26, 36, 84, 255},
                             red[] = {200, 32, 44, 255};
        int x = i % SIDE, y = i / SIDE;
        double r = hypot(x - 79.5, y - 79.5);
        bool bar = abs(x - 80) < 34 && abs(y - 66)<11, ring = r> 52 && r < 70;
        memcpy(logo->picture.rgba + 4 * (size_t)i, ring ? navy : bar ? red : white, 4);
    }
    return find_inks(&logo->picture, &logo->inks, err);
}

static inline Job drawn_logo_job(const DrawnLogo *logo) {
    Job job = {.picture = &logo->picture, .inks = &logo->inks, .shop = &logo->shop, .order = order_default()};
    strcpy(job.file, "ring.png");
    strcpy(job.order.name, "ring");
    return job;
}

static inline void drawn_logo_free(DrawnLogo *logo) {
    inkmap_free(&logo->inks);
    picture_free(&logo->picture);
}

#endif
