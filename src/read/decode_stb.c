/* GIF, BMP, PSD into a Picture; a part of the stage decode. SPDX-License-Identifier: MIT
 *
 * Method. 1. The file is read into memory, at most 512 MiB. 2. It is walked by its structure: is it whole,
 * and of which size? 3. stb_image makes the pixels (those of a PSD are made here: see walk_psd). 4. They go
 * through shrink. All are taken for sRGB: profiles inside are ignored. Cost: the file, and 4 bytes a pixel (a
 * GIF 9). */
#include "read/decoders.h"

#include "base/mem.h"

#include <stdlib.h>

static const struct Walker {
    const char *name; /* of the kind */
    WalkEnd (*walk)(uint8_t *bytes, size_t size, Walk *out);
    int most; /* megapixels, so that a file under 40 MB takes under 300 MB */
} walker[] = {[KIND_GIF] = {"GIF", walk_gif, 28},
              [KIND_BMP] = {"BMP", walk_bmp, 60},
              [KIND_PSD] = {"PSD", walk_psd, 60}};

static bool check_pixels(const Source *source, FileKind kind, const Walk *file, Err *err) {
    const struct Walker *w = &walker[kind];
    if (!source_check_size(source, file->width, file->height, err)) return false;
    if ((uint64_t)file->width * file->height <= (uint64_t)w->most * 1000000) return true;
    return err_set(err, ERR_INPUT,
                   "%s: the %s is %u x %u px, of that kind at most %d megapixels can be read; send a smaller "
                   "PNG, 1000 px or more",
                   source->name, w->name, file->width, file->height, w->most);
}

/* Step 2. The size is judged first: it is what a file that lies about it should hear. */
static bool check_file(const Source *source, FileKind kind, uint8_t *bytes, size_t size, Walk *out,
                       Err *err) {
    WalkEnd end = walker[kind].walk(bytes, size, out);
    if (out->sized && !check_pixels(source, kind, out, err)) return false;
    if (end == WALK_CUT) return source_short(source, err);
    if (end == WALK_DAMAGED) return source_damaged(source, walker[kind].name, err);
    if (end == WALK_WHOLE) return true;
    return source_variety(source, walker[kind].name, err);
}

/* Step 4. */
static bool shrink_pixels(const uint8_t *pixels, const Walk *file, Picture *out, Err *err) {
    int width = (int)file->width, height = (int)file->height;
    Shrink shrink = {0};
    if (!shrink_begin(&shrink, width, height, 8, 0, true, err)) return false;
    for (int y = 0; y < height; y++, pixels += 4 * (size_t)width) shrink_row(&shrink, y, 0, 1, width, pixels);
    shrink_finish(&shrink, out);
    shrink_free(&shrink);
    return true;
}

/* Step 3. *out is for free(). */
static bool make_pixels(const Source *source, FileKind kind, const uint8_t *bytes, size_t size,
                        const Walk *file, uint8_t **out, Err *err) {
    if (kind == KIND_PSD) {
        *out = mem_alloc((size_t)file->width * file->height, 4, err);
        if (*out) psd_pixels(bytes, size, *out);
        return *out;
    }
    int width = 0, height = 0;
    bool no_memory = false;
    *out = stb_image_load(bytes, size, &width, &height, &no_memory);
    if (no_memory) return err_set(err, ERR_MEMORY, "%s: out of memory; close other programs", source->name);
    bool good = *out && (uint32_t)width == file->width && (uint32_t)height == file->height;
    return good || source_damaged(source, walker[kind].name, err);
}

bool decode_stb(Source *source, FileKind kind, Picture *out, Err *err) {
    uint8_t *bytes = NULL, *pixels = NULL;
    size_t size = 0;
    Walk file = {0};
    bool good = source_rest(source, &bytes, &size, err) &&
                check_file(source, kind, bytes, size, &file, err) &&
                make_pixels(source, kind, bytes, size, &file, &pixels, err);
    free(bytes);
    good = good && shrink_pixels(pixels, &file, out, err);
    free(pixels);
    return good;
}
