/* Contact sheets of `make quality`. SPDX-License-Identifier: MIT */
#include "quality_sheet.h"

#include "draw/draw.h"

#include <stdio.h>

enum { COLUMNS = 3, ROWS = 5, PANE = 171, GAP = 6, CELL_WIDTH = 3 * PANE + 3 * GAP, CELL_HEIGHT = PANE + 44 };

static void set_ink(cairo_t *cr, Rgb8 c) {
    cairo_set_source_rgb(cr, c.r / 255.0, c.g / 255.0, c.b / 255.0);
}

/* Straight alpha, sRGB -> a cairo surface. */
static cairo_surface_t *surface_of(const uint8_t *rgba, int width, int height) {
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
    if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS) return surface;
    cairo_surface_flush(surface);
    uint8_t *data = cairo_image_surface_get_data(surface);
    int stride = cairo_image_surface_get_stride(surface);
    for (int i = 0; i < width * height; i++) {
        const uint8_t *p = rgba + 4 * (size_t)i;
        uint32_t a = p[3];
        uint32_t *to = (uint32_t *)(void *)(data + (size_t)(i / width) * stride) + i % width;
        *to = a << 24 | (p[0] * a / 255) << 16 | (p[1] * a / 255) << 8 | p[2] * a / 255;
    }
    cairo_surface_mark_dirty(surface);
    return surface;
}

static void clip_pane(cairo_t *cr) {
    cairo_rectangle(cr, 0, 0, PANE, PANE);
    cairo_clip(cr);
}

/* The logo as it lies on the core, and the core's edge. */
static void draw_logo(cairo_t *cr, const Job *job) {
    const Picture *picture = job->picture;
    const Frame *frame = &job->grid.frame;
    double core_px = job->cane.key.steps * frame->px_per_step, scale = (PANE - 2) / core_px;
    cairo_save(cr);
    clip_pane(cr);
    cairo_save(cr);
    cairo_translate(cr, PANE / 2.0, PANE / 2.0);
    cairo_scale(cr, scale, scale);
    cairo_translate(cr, -frame->centre_px.x, -frame->centre_px.y);
    cairo_surface_t *surface = surface_of(picture->rgba, picture->width, picture->height);
    cairo_set_source_surface(cr, surface, 0, 0);
    cairo_pattern_set_filter(cairo_get_source(cr), CAIRO_FILTER_GOOD);
    cairo_paint(cr);
    cairo_surface_destroy(surface);
    cairo_restore(cr);
    cairo_arc(cr, PANE / 2.0, PANE / 2.0, PANE / 2.0 - 1, 0, 2 * PI);
    cairo_set_source_rgb(cr, 0.5, 0.5, 0.5);
    cairo_set_line_width(cr, 1);
    cairo_stroke(cr);
    cairo_restore(cr);
}

static void draw_rope(cairo_t *cr, const Rope *rope, const Palette *palette, double scale) {
    const Outline *o = &rope->outline;
    cairo_new_path(cr);
    for (int i = 0; i < o->corners; i++) cairo_line_to(cr, o->corner[i].x * scale, o->corner[i].y * scale);
    cairo_close_path(cr);
    set_ink(cr, palette->candy[rope->candy].srgb);
    cairo_fill_preserve(cr);
    cairo_set_source_rgb(cr, 0.5, 0.5, 0.5);
    cairo_set_line_width(cr, 0.6);
    cairo_stroke(cr);
}

static void draw_lay_up(cairo_t *cr, const Job *job) {
    const Grid *grid = &job->grid;
    double scale = (double)PANE / grid->steps;
    cairo_save(cr);
    for (int i = 0; i < grid->rings; i++) {
        cairo_arc(cr, PANE / 2.0, PANE / 2.0, grid->ring[i].outer * scale, 0, 2 * PI);
        set_ink(cr, job->palette.candy[grid->ring[i].candy].srgb);
        cairo_fill(cr);
    }
    cairo_arc(cr, PANE / 2.0, PANE / 2.0, grid->core.r * scale, 0, 2 * PI);
    cairo_clip(cr);
    for (int i = 0; i < job->layup.ropes; i++) draw_rope(cr, &job->layup.rope[i], &job->palette, scale);
    cairo_restore(cr);
}

static bool draw_cut(cairo_t *cr, const Job *job, Err *err) {
    Image face = {0};
    if (!draw_face(job, PANE, &face, err)) return false;
    cairo_surface_t *surface = surface_of(face.rgba, PANE, PANE);
    cairo_set_source_surface(cr, surface, 0, 0);
    cairo_paint(cr);
    cairo_surface_destroy(surface);
    image_free(&face);
    return true;
}

static void write_line(cairo_t *cr, const char *text, double y, cairo_font_weight_t weight) {
    cairo_select_font_face(cr, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL, weight);
    cairo_set_font_size(cr, 10.5);
    cairo_set_source_rgb(cr, 0.1, 0.1, 0.1);
    cairo_move_to(cr, 2, y);
    cairo_show_text(cr, text);
}

static bool write_page(Sheet *sheet, Err *err) {
    if (!sheet->cr) return true;
    char path[1024];
    (void)snprintf(path, sizeof path, "%s/quality-%d.png", sheet->folder, sheet->pages);
    cairo_destroy(sheet->cr);
    cairo_status_t status = cairo_surface_write_to_png(sheet->surface, path);
    cairo_surface_destroy(sheet->surface);
    sheet->cr = NULL;
    sheet->surface = NULL;
    return status == CAIRO_STATUS_SUCCESS ||
           err_set(err, ERR_SYSTEM, "%s: %s", path, cairo_status_to_string(status));
}

static void begin_page(Sheet *sheet) {
    sheet->surface =
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, COLUMNS * CELL_WIDTH + GAP, ROWS * CELL_HEIGHT + GAP);
    sheet->cr = cairo_create(sheet->surface);
    cairo_set_source_rgb(sheet->cr, 0.86, 0.87, 0.89);
    cairo_paint(sheet->cr);
    sheet->pages++;
    sheet->cells = 0;
}

bool sheet_add(Sheet *sheet, const Job *job, const char *title, const char *figures, Err *err) {
    if (sheet->cr && sheet->cells == COLUMNS * ROWS && !write_page(sheet, err)) return false;
    if (!sheet->cr) begin_page(sheet);
    cairo_t *cr = sheet->cr;
    int row = sheet->cells / COLUMNS, column = sheet->cells % COLUMNS;
    cairo_save(cr);
    cairo_translate(cr, column * CELL_WIDTH + GAP, row * CELL_HEIGHT + GAP);
    write_line(cr, title, PANE + 14, CAIRO_FONT_WEIGHT_BOLD);
    write_line(cr, figures, PANE + 29, CAIRO_FONT_WEIGHT_NORMAL);
    draw_logo(cr, job);
    cairo_translate(cr, PANE + GAP, 0);
    draw_lay_up(cr, job);
    cairo_translate(cr, PANE + GAP, 0);
    bool good = draw_cut(cr, job, err);
    cairo_restore(cr);
    sheet->cells++;
    return good;
}

bool sheet_end(Sheet *sheet, Err *err) {
    return write_page(sheet, err);
}
