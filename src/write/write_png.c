/* An image as a PNG file. SPDX-License-Identifier: MIT
 *
 * PNG, W3C Recommendation, 2nd ed.: IHDR, sRGB (11.3.3.5), pHYs in pixels a metre (11.3.5.3), IDAT, IEND.
 * Nothing in the file depends on anything but the image. Paeth's filter with runs only is faster than a
 * search for other repeats, and the files come out smaller. */
#include "write/files.h"

#include <png.h>
#include <assert.h>
#include <math.h>
#include <zlib.h>

/* All that must survive libpng's longjmp. */
typedef struct PngWriter {
    png_structp png;
    png_infop info;
    const Image *image; /* not owned */
    FILE *file;         /* not owned */
    Err *err;           /* not owned */
} PngWriter;

static _Noreturn void on_error(png_structp png, png_const_charp message) {
    PngWriter *w = png_get_error_ptr(png);
    (void)err_set(w->err, ERR_SYSTEM, "cannot write the PNG: %s", message);
    png_longjmp(png, 1);
}

static void on_warning(png_structp png, png_const_charp message) {
    (void)png, (void)message;
}

/* A failed write shows when the file is closed. */
static void on_write(png_structp png, png_bytep bytes, size_t size) {
    const PngWriter *w = png_get_io_ptr(png);
    (void)fwrite(bytes, 1, size, w->file);
}

static void on_flush(png_structp png) {
    (void)png;
}

static bool is_opaque(const Image *image) {
    size_t count = (size_t)image->width * (size_t)image->height;
    for (size_t i = 0; i < count; i++)
        if (image->rgba[i * 4 + 3] != 255) return false;
    return true;
}

/* All calls that may jump are in here. */
static bool write_file(PngWriter *w, bool opaque) {
    const Image *image = w->image;
    if (setjmp(png_jmpbuf(w->png))) return false;
    png_set_write_fn(w->png, w, on_write, on_flush);
    png_set_IHDR(w->png, w->info, (png_uint_32)image->width, (png_uint_32)image->height, 8,
                 opaque ? PNG_COLOR_TYPE_RGB : PNG_COLOR_TYPE_RGBA, PNG_INTERLACE_NONE,
                 PNG_COMPRESSION_TYPE_BASE, PNG_FILTER_TYPE_BASE);
    png_set_sRGB(w->png, w->info, PNG_sRGB_INTENT_PERCEPTUAL);
    if (image->px_per_mm > 0) {
        png_uint_32 per_metre = (png_uint_32)lround(image->px_per_mm * 1000);
        png_set_pHYs(w->png, w->info, per_metre, per_metre, PNG_RESOLUTION_METER);
    }
    png_set_compression_level(w->png, 1);
    png_set_compression_strategy(w->png, Z_RLE);
    png_set_filter(w->png, 0, PNG_FILTER_PAETH);
    png_write_info(w->png, w->info);
    if (opaque) png_set_filler(w->png, 0, PNG_FILLER_AFTER);
    for (int y = 0; y < image->height; y++)
        png_write_row(w->png, image->rgba + (size_t)y * (size_t)image->width * 4);
    png_write_end(w->png, w->info);
    return true;
}

bool write_png(const Image *image, FILE *file, Err *err) {
    assert(image->width > 0 && image->height > 0);
    PngWriter w = {.image = image, .file = file, .err = err};
    w.png = png_create_write_struct(PNG_LIBPNG_VER_STRING, &w, on_error, on_warning);
    if (w.png) w.info = png_create_info_struct(w.png);
    bool good =
        w.info ? write_file(&w, is_opaque(image))
               : err_set(err, ERR_MEMORY, "out of memory (for a PNG to be written); close other programs");
    png_destroy_write_struct(&w.png, &w.info);
    return good;
}
