/* Decodes a picture to RGBA and no more: what `make bench` measures the program against.
 * SPDX-License-Identifier: MIT
 *
 *     bench_decode png|stb FILE */
#include <png.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define STB_IMAGE_STATIC
#define STB_IMAGE_IMPLEMENTATION
#include <stb_image.h>

/* Row by row into one row, the least that a reader has to do; an interlaced picture has to be held whole. */
static int decode_png(const char *path) {
    FILE *file = fopen(path, "rb");
    png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png_create_info_struct(png);
    if (!file || !info || setjmp(png_jmpbuf(png))) return 1;
    png_init_io(png, file);
    png_read_info(png, info);
    png_set_expand(png);
    png_set_gray_to_rgb(png);
    png_set_add_alpha(png, 255, PNG_FILLER_AFTER);
    int passes = png_set_interlace_handling(png);
    png_read_update_info(png, info);
    size_t height = png_get_image_height(png, info), row = png_get_rowbytes(png, info),
           step = passes > 1 ? row : 0;
    uint8_t *rgba = malloc(passes > 1 ? row * height : row);
    if (!rgba) return 1;
    for (int pass = 0; pass < passes; pass++)
        for (size_t y = 0; y < height; y++) png_read_row(png, rgba + y * step, NULL);
    png_read_end(png, NULL);
    png_destroy_read_struct(&png, &info, NULL);
    free(rgba);
    return fclose(file) != 0;
}

static int decode_stb(const char *path) {
    int width, height, channels;
    uint8_t *rgba = stbi_load(path, &width, &height, &channels, 4);
    int failed = !rgba;
    stbi_image_free(rgba);
    return failed;
}

int main(int argc, char *argv[]) {
    if (argc != 3) return 2;
    return strcmp(argv[1], "png") == 0 ? decode_png(argv[2]) : decode_stb(argv[2]);
}
