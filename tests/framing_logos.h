/* Pictures drawn by formula, each a case of how a picture is laid into the disc. SPDX-License-Identifier: MIT
 *
 * Flags, signs, badges, all invented: what fills its rectangle and what stands on a ground. x and y are
 * in short sides, from the top left corner. */
#ifndef LOGOCANE_FRAMING_LOGOS_H
#define LOGOCANE_FRAMING_LOGOS_H

#include "base/err.h"
#include "base/geom.h"
#include "base/mem.h"
#include "model/picture.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

typedef enum Paint { CLEAR, WHITE, BLACK, RED, BLUE, GREEN, YELLOW, ORANGE, BROWN, SKY, PAINTS } Paint;

static const uint8_t paint_rgba[PAINTS][4] = {
    [CLEAR] = {0, 0, 0, 0},         [WHITE] = {255, 255, 255, 255}, [BLACK] = {20, 20, 20, 255},
    [RED] = {200, 32, 44, 255},     [BLUE] = {32, 76, 168, 255},    [GREEN] = {46, 142, 68, 255},
    [YELLOW] = {250, 210, 48, 255}, [ORANGE] = {240, 124, 32, 255}, [BROWN] = {104, 62, 40, 255},
    [SKY] = {96, 176, 224, 255},
};

/* The paint at a place of a picture w x h short sides large; one of the two is 1. */
typedef Paint Draw(double x, double y, double w, double h);

typedef struct FramingLogo {
    const char *name;
    double w, h; /* short sides */
    Draw *draw;
    bool shaded; /* grain and slow light over it, as in a photograph */
} FramingLogo;

static inline bool in_disc(double x, double y, double cx, double cy, double r) {
    return (x - cx) * (x - cx) + (y - cy) * (y - cy) < r * r;
}

static inline bool in_bar(double at, double middle, double width) {
    return fabs(at - middle) < width / 2;
}

/* --- flags --- */

static inline Paint draw_three_upright(double x, double y, double w, double h) {
    (void)y, (void)h;
    return x < w / 3 ? BLUE : x < 2 * w / 3 ? WHITE : ORANGE;
}

static inline Paint draw_three_level(double x, double y, double w, double h) {
    (void)x, (void)w;
    return y < h / 3 ? BLACK : y < 2 * h / 3 ? ORANGE : YELLOW;
}

static inline Paint draw_two_upright(double x, double y, double w, double h) {
    (void)y, (void)h;
    return x < w / 2 ? GREEN : ORANGE;
}

static inline Paint draw_two_level(double x, double y, double w, double h) {
    (void)x, (void)w;
    return y < h / 2 ? WHITE : BLUE;
}

static inline Paint draw_half_disc(double x, double y, double w, double h) {
    return (y < h / 2) != in_disc(x, y, 0.45 * w, h / 2, 0.25) ? WHITE : BLUE;
}

static inline Paint draw_belt(double x, double y, double w, double h) {
    (void)x, (void)w;
    return in_bar(y, h / 2, h / 3) ? WHITE : GREEN;
}

static inline Paint draw_cross(double x, double y, double w, double h) {
    (void)w;
    return in_bar(x, 0.5, 0.15) || in_bar(y, h / 2, 0.15) ? WHITE : GREEN;
}

static inline Paint draw_cross_on_white(double x, double y, double w, double h) {
    (void)w;
    return in_bar(x, 0.6, 0.27) || in_bar(y, h / 2, 0.27) ? BROWN : WHITE;
}

static inline Paint draw_cross_in_cross(double x, double y, double w, double h) {
    (void)w;
    if (in_bar(x, 0.5, 0.125) || in_bar(y, h / 2, 0.125)) return GREEN;
    return in_bar(x, 0.5, 0.25) || in_bar(y, h / 2, 0.25) ? WHITE : RED;
}

static inline Paint draw_sun(double x, double y, double w, double h) {
    return in_disc(x, y, w / 2, h / 2, 0.3) ? BLUE : WHITE;
}

static inline Paint draw_sun_aside(double x, double y, double w, double h) {
    return in_disc(x, y, 0.45 * w, h / 2, 1 / 3.0) ? ORANGE : BLUE;
}

static inline Paint draw_band(double x, double y, double w, double h) {
    return fabs((h - y) * w - x * h) / hypot(w, h) < 0.15 ? YELLOW : BROWN;
}

static inline Paint draw_two_slanted(double x, double y, double w, double h) {
    return (h - y) * w < x * h ? BLUE : SKY;
}

static inline Paint draw_saltire(double x, double y, double w, double h) {
    double one = fabs((h - y) * w - x * h) / hypot(w, h), other = fabs(y * w - x * h) / hypot(w, h);
    return one < 0.1 || other < 0.1 ? WHITE : GREEN;
}

static inline bool in_star(double x, double y, double cx, double cy, double r) {
    double angle = atan2(y - cy, x - cx) + PI / 2, fifth = 2 * PI / 5;
    angle = fabs(fmod(angle + 4 * PI + fifth / 2, fifth) - fifth / 2); /* 0: a tip; fifth / 2: between two */
    double in = 0.382 * r, tip_x = r, low_x = in * cos(fifth / 2), low_y = in * sin(fifth / 2);
    double px = hypot(x - cx, y - cy) * cos(angle), py = hypot(x - cx, y - cy) * sin(angle);
    return (tip_x - px) * low_y - (tip_x - low_x) * py > 0;
}

static inline Paint draw_canton(double x, double y, double w, double h) {
    (void)h;
    if (x < 0.4 * w && y < 0.55) return in_star(x, y, 0.2 * w, 0.275, 0.2) ? WHITE : GREEN;
    return (int)(y * 7) % 2 ? WHITE : ORANGE;
}

static inline Paint draw_corner_field(double x, double y, double w, double h) {
    if (x < 0.4 * w && y < 0.5) return in_bar(x, 0.2 * w, 0.14) || in_bar(y, 0.25, 0.14) ? WHITE : RED;
    return in_star(x, y, 0.72 * w, 0.6 * h, 0.2) ? WHITE : BLUE;
}

static inline Paint draw_in_margin(double x, double y, double w, double h) {
    return in_bar(x, w / 2, w - 0.2) && in_bar(y, h / 2, h - 0.2) ? draw_belt(x, y, w, h) : CLEAR;
}

static inline Paint draw_tile(double x, double y, double w, double h) {
    if (!in_bar(x, w / 2, 0.8) || !in_bar(y, h / 2, 0.8)) return CLEAR;
    return x < w / 2 ? (y < h / 2 ? RED : GREEN) : y < h / 2 ? BLUE : YELLOW;
}

static inline Paint draw_emblem(double x, double y, double w, double h) {
    if (in_disc(x, y, w / 2, h / 2, 0.17)) return BROWN;
    return x < w / 3 ? BLUE : x < 2 * w / 3 ? WHITE : GREEN;
}

static inline Paint draw_two_bars(double x, double y, double w, double h) {
    return x < w / 4 || x > 3 * w / 4 || in_star(x, y, w / 2, h / 2, 0.36) ? GREEN : WHITE;
}

static inline Paint draw_wedge(double x, double y, double w, double h) {
    (void)w;
    if (x < 0.6 * (1 - fabs(2 * y / h - 1))) return GREEN;
    return y < h / 2 ? SKY : RED;
}

static inline Paint draw_lozenge(double x, double y, double w, double h) {
    double ex = fabs(x - w / 2) / (0.42 * w), ey = fabs(y - h / 2) / (0.42 * h);
    return in_disc(x, y, w / 2, h / 2, 0.22) ? RED : ex + ey < 1 ? YELLOW : SKY;
}

static inline Paint draw_ribbon(double x, double y, double w, double h) {
    (void)x, (void)w;
    return y < h / 3 ? ORANGE : y < 2 * h / 3 ? WHITE : BLUE;
}

/* --- pictures that fill their rectangle --- */

static inline Paint draw_hills(double x, double y, double w, double h) {
    (void)h;
    if (in_disc(x, y, 0.86 * w, 0.17, 0.12)) return YELLOW;
    if (y > 0.62 + 0.13 * sin(4 * x + 1)) return GREEN;
    return y > 0.75 - 0.35 * fabs(sin(2.2 * x)) ? BROWN : SKY;
}

static inline Paint draw_sign(double x, double y, double w, double h) {
    (void)w, (void)h;
    bool bowl = in_disc(x, y, 0.52, 0.38, 0.22) && !in_disc(x, y, 0.52, 0.38, 0.09);
    return in_bar(x, 0.38, 0.14) && in_bar(y, 0.5, 0.68) ? WHITE : bowl && x > 0.42 ? WHITE : GREEN;
}

/* --- logos on a ground --- */

static inline Paint draw_steam(double x, double y, double w, double h) {
    (void)w, (void)h;
    for (int i = 0; i < 3; i++)
        if (y > 0.1 && y < 0.42 && in_bar(x, 0.34 + 0.14 * i + 0.03 * sin(20 * y), 0.06)) return RED;
    bool handle = in_disc(x, y, 0.76, 0.66, 0.15) && !in_disc(x, y, 0.76, 0.66, 0.08);
    return in_bar(x, 0.46, 0.52) && y > 0.5 && y < 0.88 ? BROWN : handle ? BROWN : WHITE;
}

static inline Paint draw_badge(double x, double y, double w, double h) {
    (void)w, (void)h;
    if (in_star(x, y, 0.5, 0.5, 0.28)) return RED;
    return in_disc(x, y, 0.5, 0.5, 0.34) ? WHITE : in_disc(x, y, 0.5, 0.5, 0.46) ? BLUE : CLEAR;
}

static inline Paint draw_dot(double x, double y, double w, double h) {
    (void)w, (void)h;
    return in_disc(x, y, 0.5, 0.5, 0.4) ? RED : CLEAR;
}

static inline Paint draw_icon(double x, double y, double w, double h) {
    (void)w, (void)h;
    double across = fmax(fabs(x - 0.5) - 0.28, 0), down = fmax(fabs(y - 0.5) - 0.28, 0);
    if (hypot(across, down) > 0.2) return CLEAR;
    return in_star(x, y, 0.5, 0.53, 0.32) ? WHITE : ORANGE;
}

static inline Paint draw_shield(double x, double y, double w, double h) {
    (void)h;
    double half = y < 0.45 ? 0.5 * w : 0.5 * w * sqrt(fmax(0, 1 - pow((y - 0.45) / 0.81, 2)));
    if (!in_bar(x, w / 2, 2 * half)) return WHITE;
    return in_bar(y, 0.3, 0.22) ? YELLOW : in_disc(x, y, w / 2, 0.75, 0.14) ? YELLOW : BLUE;
}

static inline Paint draw_oval(double x, double y, double w, double h) {
    double r = hypot((x - w / 2) / (w / 2), (y - h / 2) / (h / 2));
    return r < 0.6 && in_star(x, y, w / 2, h / 2, 0.28) ? WHITE : r < 1 ? GREEN : WHITE;
}

static inline Paint draw_plus(double x, double y, double w, double h) {
    return in_bar(x, w / 2, 0.34) || in_bar(y, h / 2, 0.34) ? GREEN : WHITE;
}

static inline Paint draw_letters(double x, double y, double w, double h) {
    (void)h;
    if (x < 0.2 || in_bar(x, 0.5, 0.2) || (x < 0.6 && in_bar(y, 0.5, 0.2))) return WHITE; /* an H */
    if (in_bar(x, 0.85, 0.2)) return WHITE;                                               /* an I */
    return (x > 1.05 && x < 1.25) || (x > 1.05 && x < w && y > 0.8) ? WHITE : BLACK;      /* an L */
}

static inline Paint draw_pencil(double x, double y, double w, double h) {
    double tip = fmax(0, 1 - x / 2), half = 0.5 * (1 - tip); /* the first two short sides taper */
    if (!in_bar(y, h / 2, 2 * half) || x > w - 0.1) return CLEAR;
    return x < 0.8 ? BLACK : x < 2 ? BROWN : x > w - 1.6 ? RED : YELLOW;
}

static const FramingLogo framing_logos[] = {
    {"three-upright", 1.5, 1, draw_three_upright, false},
    {"three-upright-long", 2, 1, draw_three_upright, false},
    {"three-level", 5 / 3.0, 1, draw_three_level, false},
    {"two-upright", 1.5, 1, draw_two_upright, false},
    {"two-level", 1.6, 1, draw_two_level, false},
    {"half-disc", 1.6, 1, draw_half_disc, false},
    {"belt", 1.5, 1, draw_belt, false},
    {"cross", 37 / 28.0, 1, draw_cross, false},
    {"cross-on-white", 18 / 11.0, 1, draw_cross_on_white, false},
    {"cross-in-cross", 22 / 16.0, 1, draw_cross_in_cross, false},
    {"sun", 1.5, 1, draw_sun, false},
    {"sun-aside", 5 / 3.0, 1, draw_sun_aside, false},
    {"band", 1.5, 1, draw_band, false},
    {"two-slanted", 1.5, 1, draw_two_slanted, false},
    {"saltire", 5 / 3.0, 1, draw_saltire, false},
    {"canton", 1.5, 1, draw_canton, false},
    {"emblem", 1.5, 1, draw_emblem, false},
    {"corner-field", 1.6, 1, draw_corner_field, false},
    {"in-margin", 1.6, 1, draw_in_margin, false},
    {"tile", 1, 1, draw_tile, false},
    {"two-bars", 2, 1, draw_two_bars, false},
    {"wedge", 1.5, 1, draw_wedge, false},
    {"lozenge", 10 / 7.0, 1, draw_lozenge, false},
    {"ribbon", 20, 1, draw_ribbon, false},
    {"hills", 4 / 3.0, 1, draw_hills, true},
    {"sign", 1, 1, draw_sign, false},
    {"steam", 1, 1, draw_steam, false},
    {"badge", 1, 1, draw_badge, false},
    {"dot", 1, 1, draw_dot, false},
    {"icon", 1, 1, draw_icon, false},
    {"shield", 1, 1.25, draw_shield, false},
    {"oval", 1.5, 1, draw_oval, false},
    {"plus", 1, 1, draw_plus, false},
    {"letters", 1.6, 1, draw_letters, false},
    {"pencil", 20, 1, draw_pencil, false},
};

enum { FRAMING_LOGOS = sizeof framing_logos / sizeof *framing_logos };

/* The mean of 4 x 4 points of the pixel, edges blurred as programs draw them. */
static inline void framing_pixel(const FramingLogo *logo, double x, double y, double size, uint8_t out[4]) {
    double sum[4] = {0};
    for (int i = 0; i < 16; i++) {
        Paint p =
            logo->draw((x + (i % 4 + 0.5) / 4) / size, (y + (i / 4 + 0.5) / 4) / size, logo->w, logo->h);
        double alpha = paint_rgba[p][3] / 255.0;
        for (int c = 0; c < 3; c++) sum[c] += paint_rgba[p][c] * alpha;
        sum[3] += alpha;
    }
    for (int c = 0; c < 3; c++) out[c] = (uint8_t)lround(sum[c] / fmax(sum[3], 1e-9));
    out[3] = (uint8_t)lround(sum[3] / 16 * 255);
    if (!logo->shaded) return;
    double grain = (unsigned)(x * 7919 + y * 104729) % 17 - 8.0, light = 18 * sin(2 * y / size + x / size);
    for (int c = 0; c < 3; c++) out[c] = (uint8_t)within(out[c] + grain + light, 0, 255);
}

/* The picture, its short side `size` px; *out->rgba is owned. False if memory is short. */
static inline bool framing_logo_draw(const FramingLogo *logo, int size, Picture *out, Err *err) {
    int w = (int)lround(size * logo->w), h = (int)lround(size * logo->h);
    uint8_t *rgba = mem_alloc((size_t)w * (size_t)h, 4, err);
    if (!rgba) return false;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++)
            framing_pixel(logo, x, y, size, rgba + 4 * ((size_t)y * (size_t)w + (size_t)x));
    *out = (Picture){w, h, 1, w, h, rgba};
    return true;
}

static inline const FramingLogo *framing_logo(const char *name) {
    for (int i = 0; i < FRAMING_LOGOS; i++)
        if (strcmp(framing_logos[i].name, name) == 0) return &framing_logos[i];
    abort();
}

#endif
