/* Logos of the kinds whose candies, field or framing once came out odd, drawn by code.
 * SPDX-License-Identifier: MIT
 *
 * Each is 300 px square, on transparency; invented. */
#ifndef LOGOCANE_FAULT_LOGOS_H
#define LOGOCANE_FAULT_LOGOS_H

#include "model/picture.h"
#include "base/geom.h"
#include "base/mem.h"

#include <cairo/cairo.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

enum { FAULT_SIDE = 300 };

static inline void paint(cairo_t *c, unsigned rgb, double line) {
    cairo_set_source_rgb(c, (rgb >> 16) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0);
    if (line > 0) {
        cairo_set_line_width(c, line);
        cairo_stroke(c);
    } else {
        cairo_fill(c);
    }
}

static inline void disc(cairo_t *c, double x, double y, double r, unsigned rgb) {
    cairo_new_path(c);
    cairo_arc(c, x, y, r, 0, 2 * PI);
    paint(c, rgb, 0);
}

static inline void bar(cairo_t *c, double x, double y, double w, double h, unsigned rgb) {
    cairo_rectangle(c, x, y, w, h);
    paint(c, rgb, 0);
}

/* A closed polygon of `corners` pairs: filled, and outlined if line > 0. */
static inline void shape(cairo_t *c, const double *at, int corners, unsigned rgb, double line,
                         unsigned edge) {
    cairo_new_path(c);
    for (int i = 0; i < corners; i++) cairo_line_to(c, at[2 * i], at[2 * i + 1]);
    cairo_close_path(c);
    cairo_path_t *path = cairo_copy_path(c);
    paint(c, rgb, 0);
    cairo_append_path(c, path);
    cairo_path_destroy(path);
    if (line > 0) paint(c, edge, line);
    cairo_new_path(c);
}

static inline void star(cairo_t *c, unsigned rgb) {
    double at[20];
    for (int i = 0; i < 10; i++) {
        double r = i % 2 ? 55 : 140;
        at[2 * i] = 150 + r * sin(PI * i / 5);
        at[2 * i + 1] = 150 - r * cos(PI * i / 5);
    }
    shape(c, at, 10, rgb, 0, 0);
}

/* A yellow face with black eyes, a red mouth and white teeth. */
static inline void draw_face_logo(cairo_t *c) {
    disc(c, 150, 150, 140, 0xFFCC22);
    disc(c, 100, 110, 22, 0x101010);
    disc(c, 200, 110, 22, 0x101010);
    bar(c, 85, 180, 130, 55, 0xC81E28);
    bar(c, 95, 180, 110, 22, 0xFFFFFF);
}

/* Three green arrows round a middle. */
static inline void draw_arrows_logo(cairo_t *c) {
    for (int i = 0; i < 3; i++) {
        static const double arrow[] = {-20, -130, 60, -130, 60, -150, 110, -105, 60, -60, 60, -82, -20, -82};
        cairo_save(c);
        cairo_translate(c, 150, 160);
        cairo_rotate(c, 2 * PI * i / 3);
        shape(c, arrow, 7, 0x2E8B3D, 0, 0);
        cairo_restore(c);
    }
}

/* A slice of cake: pink icing, cream, brown dough, a thin black line round it. */
static inline void draw_cake_logo(cairo_t *c) {
    static const double side[] = {20, 150, 280, 110, 280, 240, 20, 250};
    static const double top[] = {20, 150, 150, 60, 280, 110};
    shape(c, side, 4, 0x7A4A26, 3, 0x101010);
    bar(c, 24, 185, 250, 26, 0xFFF4DC);
    shape(c, top, 3, 0xF58CAF, 3, 0x101010);
}

/* A brown cup on a white saucer with a line round it, grey steam. */
static inline void draw_cup_logo(cairo_t *c) {
    static const double cup[] = {60, 110, 240, 110, 210, 230, 90, 230};
    shape(c, cup, 4, 0x6B4226, 0, 0);
    for (int i = 0; i < 3; i++) bar(c, 95 + 45 * i, 20, 16, 70, 0x9A9A9A);
}

/* An orange muffin in a brown paper with white icing inside a thin line. */
static inline void draw_muffin_logo(cairo_t *c) {
    static const double paper[] = {60, 160, 240, 160, 210, 280, 90, 280};
    static const double dough[] = {40, 160, 60, 100, 240, 100, 260, 160};
    static const double icing[] = {90, 100, 150, 40, 210, 100, 150, 120};
    shape(c, paper, 4, 0xB5763A, 0, 0);
    shape(c, dough, 4, 0xF2902A, 0, 0);
    shape(c, icing, 4, 0xFFFFFF, 3, 0x6B4226);
}

/* A black sign of three blades in a white halo. */
static inline void draw_blades_logo(cairo_t *c) {
    for (int halo = 1; halo >= 0; halo--)
        for (int i = 0; i < 3; i++) {
            double a = PI / 2 + 2 * PI * i / 3;
            disc(c, 150 + 70 * cos(a), 150 + 70 * sin(a), 52 + 14 * halo, halo ? 0xFFFFFF : 0x101010);
        }
    disc(c, 150, 150, 20, 0xFFFFFF);
}

/* A white skull: nothing but a hair line holds it apart from what is round it. */
static inline void draw_skull_logo(cairo_t *c) {
    disc(c, 150, 120, 102, 0x404040);
    bar(c, 98, 170, 104, 92, 0x404040);
    disc(c, 150, 120, 100, 0xFFFFFF);
    bar(c, 100, 170, 100, 90, 0xFFFFFF);
    disc(c, 110, 125, 26, 0x101010);
    disc(c, 190, 125, 26, 0x101010);
}

/* A blue mountain with snow on it. */
static inline void draw_mountain_logo(cairo_t *c) {
    static const double rock[] = {150, 30, 280, 260, 20, 260}, snow[] = {150, 30, 208, 132, 92, 132};
    shape(c, rock, 3, 0x204CA8, 0, 0);
    shape(c, snow, 3, 0xFFFFFF, 0, 0);
}

/* A red roof on a house of cream. */
static inline void draw_house_logo(cairo_t *c) {
    static const double roof[] = {40, 120, 260, 120, 150, 20};
    bar(c, 60, 120, 180, 160, 0xF3E5C4);
    shape(c, roof, 3, 0xC8202C, 0, 0);
}

/* A letter as signs have it, in the colour. */
static inline void draw_letter_logo(cairo_t *c, unsigned rgb) {
    bar(c, 70, 30, 50, 240, rgb);
    bar(c, 120, 30, 110, 48, rgb);
    bar(c, 120, 125, 80, 46, rgb);
}

/* What is on the surface, as the decoder would give it. */
static inline bool fault_picture(cairo_surface_t *surface, Picture *out, Err *err) {
    cairo_surface_flush(surface);
    const unsigned char *data = cairo_image_surface_get_data(surface);
    int stride = cairo_image_surface_get_stride(surface);
    *out = (Picture){FAULT_SIDE, FAULT_SIDE, 1,
                     FAULT_SIDE, FAULT_SIDE, mem_alloc((size_t)FAULT_SIDE * FAULT_SIDE * 4, 1, err)};
    if (!out->rgba) return false;
    for (int i = 0; i < FAULT_SIDE * FAULT_SIDE; i++) {
        uint32_t argb;
        memcpy(&argb, data + (size_t)(i / FAULT_SIDE) * (size_t)stride + 4 * (size_t)(i % FAULT_SIDE), 4);
        unsigned alpha = argb >> 24;
        for (int k = 0; k < 3; k++) {
            unsigned part = argb >> (16 - 8 * k) & 255;
            out->rgba[4 * (size_t)i + (size_t)k] = (uint8_t)(alpha ? (part * 255 + alpha / 2) / alpha : 0);
        }
        out->rgba[4 * (size_t)i + 3] = (uint8_t)alpha;
    }
    return true;
}

#endif
