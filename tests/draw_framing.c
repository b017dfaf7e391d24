/* The pictures of framing_logos.h and fault_logos.h as PNG files, to look at: draw_framing FOLDER.
 * SPDX-License-Identifier: MIT */
#include "fault_logos.h"
#include "framing_logos.h"

#include "model/image.h"
#include "write/files.h"

#include <stdio.h>

enum { SIZE = 400 /* px, the short side; a tenth for long ones */ };

static bool draw_one(const FramingLogo *logo, const char *folder, Err *err) {
    char path[1024];
    Picture picture;
    int size = fmax(logo->w, logo->h) > 5 ? SIZE / 10 : SIZE;
    (void)snprintf(path, sizeof path, "%s/%s.png", folder, logo->name);
    if (!framing_logo_draw(logo, size, &picture, err)) return false;
    Image image = {picture.width, picture.height, 0, picture.rgba};
    FILE *file = fopen(path, "wb");
    bool good = file && write_png(&image, file, err);
    if (file && fclose(file) != 0) good = false;
    picture_free(&picture);
    return good;
}

static void letter_slate(cairo_t *c) {
    draw_letter_logo(c, 0x475569);
}

static void letter_charcoal(cairo_t *c) {
    draw_letter_logo(c, 0x36454F);
}

static void letter_green(cairo_t *c) {
    draw_letter_logo(c, 0x0B3D0B);
}

static void star_orange(cairo_t *c) {
    star(c, 0xF27A1A);
}

static const struct {
    const char *name;
    void (*draw)(cairo_t *c);
} faults[] = {
    {"fault-face", draw_face_logo},   {"fault-arrows", draw_arrows_logo}, {"fault-cake", draw_cake_logo},
    {"fault-cup", draw_cup_logo},     {"fault-muffin", draw_muffin_logo}, {"fault-blades", draw_blades_logo},
    {"fault-skull", draw_skull_logo}, {"fault-slate", letter_slate},      {"fault-charcoal", letter_charcoal},
    {"fault-green", letter_green},    {"fault-star", star_orange}};
enum { FAULTS = sizeof faults / sizeof *faults };

static bool draw_fault(int i, const char *folder) {
    char path[1024];
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, FAULT_SIDE, FAULT_SIDE);
    cairo_t *c = cairo_create(surface);
    faults[i].draw(c);
    cairo_destroy(c);
    (void)snprintf(path, sizeof path, "%s/%s.png", folder, faults[i].name);
    bool good = cairo_surface_write_to_png(surface, path) == CAIRO_STATUS_SUCCESS;
    cairo_surface_destroy(surface);
    return good;
}

int main(int argc, char *argv[]) {
    Err err = {0};
    for (int i = 0; i < FRAMING_LOGOS; i++)
        if (argc != 2 || !draw_one(&framing_logos[i], argv[1], &err)) {
            fprintf(stderr, "draw_framing FOLDER: %s\n", err.msg);
            return 1;
        }
    for (int i = 0; i < FAULTS; i++)
        if (!draw_fault(i, argv[1])) return 1;
    return 0;
}
