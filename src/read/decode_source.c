/* The bytes of a picture file; a part of the stage decode. SPDX-License-Identifier: MIT */
#include "read/decoders.h"

#include "base/mem.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum {
    LARGEST_FILE = 512 << 20, /* of those that are held in memory: 100 megapixels of 4 bytes and some more */
    LARGEST_PICTURE = 100000000,
    LARGEST_SIDE = 65535 /* a row stays under 1 MB; JPEG and GIF know no larger one */
};

static bool cannot_open(const char *name, int cause, Err *err) {
    if (cause == ENOENT || cause == ENOTDIR)
        return err_set(err, ERR_INPUT, "%s: there is no such file; check its name and folder", name);
    ErrCode code =
        cause == EMFILE || cause == ENFILE || cause == ENOMEM || cause == EIO ? ERR_SYSTEM : ERR_INPUT;
    return err_set(err, code, "%s: cannot be opened: %s; check that you may read it", name, strerror(cause));
}

bool source_open(const char *path, const char *name, Source *out, Err *err) {
    *out = (Source){.name = name};
    FILE *file = strcmp(path, "-") == 0 ? stdin : fopen(path, "rb");
    if (!file) return cannot_open(name, errno, err);
    out->file = file;
    struct stat about;
    if (fstat(fileno(file), &about) == 0 && S_ISDIR(about.st_mode))
        return err_set(err, ERR_INPUT, "%s: is a folder; name the picture in it", name);
    out->head_size = fread(out->head, 1, SOURCE_HEAD, file);
    if (out->head_size > 0) return true;
    if (ferror(file)) return source_short(out, err);
    return err_set(err, ERR_INPUT, "%s: the file is empty; have the picture sent again", name);
}

void source_close(Source *source) {
    if (source->file && source->file != stdin) (void)fclose(source->file);
    *source = (Source){0};
}

size_t source_read(Source *source, void *to, size_t size) {
    size_t from_head = source->head_size - source->head_used;
    if (from_head > size) from_head = size;
    memcpy(to, source->head + source->head_used, from_head);
    source->head_used += from_head;
    if (from_head == size) return size;
    return from_head + fread((char *)to + from_head, 1, size - from_head, source->file);
}

bool source_short(const Source *source, Err *err) {
    if (ferror(source->file))
        return err_set(err, ERR_SYSTEM, "%s: cannot be read: %s; copy the file again", source->name,
                       strerror(errno));
    return err_set(err, ERR_INPUT, "%s: the file is cut off; have the picture sent again", source->name);
}

bool source_damaged(const Source *source, const char *kind, Err *err) {
    return err_set(err, ERR_INPUT,
                   "%s: the %s is damaged; have it sent again, best as a PNG, 1000 px or more", source->name,
                   kind);
}

bool source_variety(const Source *source, const char *kind, Err *err) {
    return err_set(err, ERR_INPUT,
                   "%s: this variety of %s cannot be read; have it sent as a PNG, 1000 px or more",
                   source->name, kind);
}

bool source_rest(Source *source, uint8_t **bytes, size_t *size, Err *err) {
    struct stat about;
    size_t capacity = 0, used = 0, want = 1 << 16;
    if (fstat(fileno(source->file), &about) == 0 && S_ISREG(about.st_mode) && about.st_size < LARGEST_FILE)
        want = (size_t)about.st_size + 1; /* one more, so that the end is seen without growing */
    uint8_t *all = NULL;
    for (;;) {
        uint8_t *more = mem_grow(all, &capacity, used + want, 1, err);
        if (!more) break;
        all = more;
        size_t got = source_read(source, all + used, capacity - used);
        used += got;
        if (used > LARGEST_FILE) {
            (void)err_set(err, ERR_INPUT,
                          "%s: the file is over %d MB; have it sent as a PNG, 1000 px or more", source->name,
                          LARGEST_FILE >> 20);
            break;
        }
        if (used < capacity) {
            if (ferror(source->file)) {
                (void)source_short(source, err);
                break;
            }
            *bytes = all, *size = used;
            return true;
        }
        want = 1;
    }
    free(all);
    return false;
}

bool source_check_size(const Source *source, uint32_t width, uint32_t height, Err *err) {
    if (width == 0 || height == 0)
        return err_set(err, ERR_INPUT, "%s: the picture is %u x %u px; have it sent again", source->name,
                       width, height);
    if (width <= LARGEST_SIDE && height <= LARGEST_SIDE && (uint64_t)width * height <= LARGEST_PICTURE)
        return true;
    return err_set(
        err, ERR_INPUT,
        "%s: the picture is %u x %u px, at most 100 megapixels and %d px a side can be read; send a smaller "
        "PNG, 1000 px or more",
        source->name, width, height, LARGEST_SIDE);
}
