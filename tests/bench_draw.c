/* Draws the pictures that `make bench` is run on. SPDX-License-Identifier: MIT
 *
 *     bench_draw FOLDER        writes logo-1000.png, logo-4000.png, interlaced-4000.png, logo-9000.png,
 * logo-4000.jpg
 *
 * One invented logo, a boat under the sun, in four flat colours with edges a pixel soft, as drawing programs
 * export it. Rows are drawn as they are written, so that the largest takes no memory to speak of. The same
 * bytes every time. PNGs have libpng's own filters; compression is light, as it is the writing that takes
 * time. */
#include <math.h>
#include <png.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <stb_image_write.h>

enum { CORNERS = 4, LEVEL = 6 };

/* A disc (r > 0 about corner[0]) or a convex outline, clockwise. In shares of the picture's side. */
typedef struct Shape {
    uint32_t rgb;
    double r;
    int corners;
    double corner[CORNERS][2];
} Shape;

static const Shape logo[] = {
    {0xCE2130, 0.135, 1, {{0.70, 0.27}}},
    {0xFAD230, 0, 3, {{0.44, 0.06}, {0.44, 0.56}, {0.10, 0.56}}},
    {0x1A2454, 0, 3, {{0.52, 0.20}, {0.78, 0.56}, {0.52, 0.56}}},
    {0x1A2454, 0, 4, {{0.10, 0.62}, {0.90, 0.62}, {0.76, 0.78}, {0.24, 0.78}}},
    {0xFAD230, 0, 4, {{0.22, 0.85}, {0.78, 0.85}, {0.72, 0.94}, {0.28, 0.94}}},
};

static const uint32_t ground = 0xFFFFFF;

/* How far (x, y) lies outside the shape, in shares of the side; negative inside. */
static double distance(const Shape *s, double x, double y) {
    if (s->r > 0) return hypot(x - s->corner[0][0], y - s->corner[0][1]) - s->r;
    double most = -1;
    for (int i = 0; i < s->corners; i++) {
        const double *a = s->corner[i], *b = s->corner[(i + 1) % s->corners];
        double ex = b[0] - a[0], ey = b[1] - a[1];
        double out = (ey * (x - a[0]) - ex * (y - a[1])) / hypot(ex, ey);
        if (out > most) most = out;
    }
    return most;
}

/* Lays the shape over the row's pixels: covered by half a pixel's distance, mixed in encoded values. */
static void draw_shape(const Shape *s, int side, int y, uint8_t *row) {
    for (int x = 0; x < side; x++) {
        double cover = 0.5 - side * distance(s, (x + 0.5) / side, (y + 0.5) / side);
        if (cover <= 0) continue;
        if (cover > 1) cover = 1;
        for (int c = 0; c < 3; c++) {
            double ink = s->rgb >> (16 - 8 * c) & 255, was = row[3 * x + c];
            row[3 * x + c] = (uint8_t)lround(was + cover * (ink - was));
        }
    }
}

static void draw_row(int side, int y, uint8_t *row) {
    for (int x = 0; x < side; x++)
        for (int c = 0; c < 3; c++) row[3 * x + c] = (uint8_t)(ground >> (16 - 8 * c));
    for (size_t i = 0; i < sizeof logo / sizeof *logo; i++) {
        const Shape *s = &logo[i];
        double top = s->corner[0][1] - s->r, bottom = s->corner[0][1] + s->r, at = (y + 0.5) / side,
               soft = 2.0 / side;
        for (int k = 1; k < s->corners; k++) {
            top = fmin(top, s->corner[k][1]);
            bottom = fmax(bottom, s->corner[k][1]);
        }
        if (at > top - soft && at < bottom + soft) draw_shape(s, side, y, row);
    }
}

static FILE *open_file(const char *folder, const char *name) {
    char path[1024];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "wb");
    if (!file) {
        fprintf(stderr, "bench_draw: %s cannot be written\n", path);
        exit(1);
    }
    return file;
}

static void draw_png(const char *folder, const char *name, int side, bool interlaced) {
    FILE *file = open_file(folder, name);
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png_create_info_struct(png);
    uint8_t *row = malloc(3 * (size_t)side);
    if (!png || !info || !row || setjmp(png_jmpbuf(png))) exit(1);
    png_init_io(png, file);
    png_set_IHDR(png, info, (png_uint_32)side, (png_uint_32)side, 8, PNG_COLOR_TYPE_RGB,
                 interlaced ? PNG_INTERLACE_ADAM7 : PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_BASE,
                 PNG_FILTER_TYPE_BASE);
    png_set_compression_level(png, LEVEL);
    png_write_info(png, info);
    for (int pass = png_set_interlace_handling(png); pass > 0; pass--)
        for (int y = 0; y < side; y++) {
            draw_row(side, y, row);
            png_write_row(png, row);
        }
    png_write_end(png, info);
    png_destroy_write_struct(&png, &info);
    free(row);
    if (fclose(file) != 0) exit(1);
}

static void write_bytes(void *file, void *bytes, int size) {
    (void)fwrite(bytes, 1, (size_t)size, file);
}

static void draw_jpeg(const char *folder, const char *name, int side) {
    FILE *file = open_file(folder, name);
    uint8_t *rgb = malloc(3 * (size_t)side * (size_t)side);
    if (!rgb) exit(1);
    for (int y = 0; y < side; y++) draw_row(side, y, rgb + 3 * (size_t)side * (size_t)y);
    bool good = stbi_write_jpg_to_func(write_bytes, file, side, side, 3, rgb, 90);
    free(rgb);
    if (fclose(file) != 0 || !good) exit(1);
}

int main(int argc, char *argv[]) {
    if (argc != 2) return 2;
    draw_png(argv[1], "logo-1000.png", 1000, false);
    draw_png(argv[1], "logo-4000.png", 4000, false);
    draw_png(argv[1], "interlaced-4000.png", 4000, true);
    draw_png(argv[1], "logo-9000.png", 9000, false);
    draw_jpeg(argv[1], "logo-4000.jpg", 4000);
    return 0;
}
