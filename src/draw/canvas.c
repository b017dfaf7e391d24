/* A picture that cairo draws on. SPDX-License-Identifier: MIT */
#include "draw/canvas.h"

#include "base/geom.h"
#include "draw/draw.h"

#include <string.h>

void canvas_ink(cairo_t *cr, Rgb8 c, double alpha) {
    cairo_set_source_rgba(cr, c.r / 255.0, c.g / 255.0, c.b / 255.0, alpha);
}

void canvas_stroke(cairo_t *cr, double width) {
    cairo_set_line_width(cr, width);
    cairo_stroke(cr);
}

void canvas_round_box(cairo_t *cr, double x, double y, double w, double h, double r) {
    cairo_new_sub_path(cr);
    cairo_arc(cr, x + w - r, y + r, r, -PI / 2, 0);
    cairo_arc(cr, x + w - r, y + h - r, r, 0, PI / 2);
    cairo_arc(cr, x + r, y + h - r, r, PI / 2, PI);
    cairo_arc(cr, x + r, y + r, r, PI, PI * 1.5);
    cairo_close_path(cr);
}

void canvas_open(Canvas *canvas, int width, int height, double px_per_mm, Rgb8 ground) {
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
    *canvas = (Canvas){cairo_create(surface), px_per_mm};
    cairo_surface_destroy(surface);
    cairo_font_options_t *plain =
        cairo_font_options_create(); /* the same letters whatever the screen's settings */
    cairo_font_options_set_antialias(plain, CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_metrics(plain, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(plain, CAIRO_HINT_STYLE_NONE);
    cairo_set_font_options(canvas->cr, plain);
    cairo_font_options_destroy(plain);
    canvas_ink(canvas->cr, ground, 1);
    cairo_paint(canvas->cr);
    canvas_ink(canvas->cr, (Rgb8){0, 0, 0}, 1);
}

static uint32_t premultiplied(const uint8_t rgba[4]) {
    uint32_t a = rgba[3], word = a << 24;
    for (int c = 0; c < 3; c++) word |= (rgba[c] * a + 127) / 255 << (16 - 8 * c);
    return word;
}

bool canvas_lay(Canvas *canvas, const uint8_t *rgba, int width, int height, double x, double y, double w,
                double h, Err *err) {
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
    bool good = cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS;
    if (good) {
        uint8_t *to = cairo_image_surface_get_data(surface);
        int stride = cairo_image_surface_get_stride(surface);
        for (int j = 0; j < height; j++)
            for (int i = 0; i < width; i++) {
                uint32_t word = premultiplied(rgba + 4 * ((size_t)j * width + i));
                memcpy(to + (size_t)j * stride + 4 * (size_t)i, &word, sizeof word);
            }
        cairo_surface_mark_dirty(surface);
        cairo_save(canvas->cr);
        cairo_rectangle(canvas->cr, x, y, w, h);
        cairo_clip(canvas->cr);
        cairo_translate(canvas->cr, x, y);
        cairo_scale(canvas->cr, w / width, h / height);
        cairo_set_source_surface(canvas->cr, surface, 0, 0);
        cairo_pattern_set_extend(cairo_get_source(canvas->cr), CAIRO_EXTEND_PAD);
        cairo_pattern_set_filter(cairo_get_source(canvas->cr), CAIRO_FILTER_GOOD);
        cairo_paint(canvas->cr);
        cairo_restore(canvas->cr);
    }
    cairo_surface_destroy(surface);
    return good ||
           err_set(err, ERR_MEMORY, "out of memory (for a picture in a picture); close other programs");
}

bool canvas_lay_face(Canvas *canvas, const Job *job, int side, double x, double y, double w, Err *err) {
    Image face = {0};
    if (!draw_face(job, side, &face, err)) return false;
    bool good = canvas_lay(canvas, face.rgba, side, side, x, y, w, w, err);
    image_free(&face);
    return good;
}

static bool copy_out(cairo_surface_t *surface, double px_per_mm, Image *out, Err *err) {
    int width = cairo_image_surface_get_width(surface), height = cairo_image_surface_get_height(surface);
    Image image;
    if (!image_new(width, height, px_per_mm, &image, err)) return false;
    cairo_surface_flush(surface);
    const uint8_t *from = cairo_image_surface_get_data(surface);
    int stride = cairo_image_surface_get_stride(surface);
    for (int y = 0; y < height; y++)
        for (int x = 0; x < width; x++) {
            uint32_t word;
            memcpy(&word, from + (size_t)y * stride + 4 * (size_t)x, sizeof word);
            uint8_t *to = image.rgba + 4 * ((size_t)y * width + x);
            for (int c = 0; c < 3; c++) to[c] = (uint8_t)(word >> (16 - 8 * c));
            to[3] = 255;
        }
    *out = image;
    return true;
}

bool canvas_close(Canvas *canvas, bool good, Image *out, Err *err) {
    cairo_surface_t *surface = cairo_surface_reference(cairo_get_target(canvas->cr));
    cairo_status_t status = cairo_status(canvas->cr);
    cairo_destroy(canvas->cr);
    canvas->cr = NULL;
    if (status == CAIRO_STATUS_SUCCESS) status = cairo_surface_status(surface);
    if (good && status != CAIRO_STATUS_SUCCESS)
        good = err_set(err, ERR_MEMORY, "a picture cannot be drawn (%s); close other programs",
                       cairo_status_to_string(status));
    good = good && copy_out(surface, canvas->px_per_mm, out, err);
    cairo_surface_destroy(surface);
    return good;
}
