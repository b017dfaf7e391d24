/* A file becomes a Picture. SPDX-License-Identifier: MIT
 *
 * Method. 1. The first bytes tell the kind: a table; then, for text, a look for what an SVG must hold. 2. PNG
 * is streamed by libpng (decode_png), JPEG by libjpeg (decode_jpeg); GIF and BMP are read by stb_image, and
 * PSD here, once their structure was found whole (decode_stb, walk). 3. Every pixel of the file goes into
 * sums of linear light, which give the picture (shrink). 4. There must be something to see. */
#include "read/read.h"

#include "base/mem.h"
#include "read/decoders.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum {
    LARGEST_FILE = 512 << 20, /* of those that are held in memory: 100 megapixels of 4 bytes and some more */
    LARGEST_PICTURE = 100000000,
    LARGEST_SIDE = 65535, /* a row stays under 1 MB; JPEG and GIF know no larger one */
    LEAST_ALPHA = 3       /* of 255; what is fainter everywhere is an export gone wrong */
};

/* --- the bytes of the file --- */

static bool cannot_open(const char *name, int cause, Err *err) {
    if (cause == ENOENT || cause == ENOTDIR)
        return err_set(err, ERR_INPUT, "%s: there is no such file; check its name and folder", name);
    ErrCode code =
        cause == EMFILE || cause == ENFILE || cause == ENOMEM || cause == EIO ? ERR_SYSTEM : ERR_INPUT;
    return err_set(err, code, "%s: cannot be opened: %s; check that you may read it", name, strerror(cause));
}

/* Opens the file ("-": standard input) and reads its head; source_close in any case. */
static bool source_open(const char *path, const char *name, Source *out, Err *err) {
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

static void source_close(Source *source) {
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
    uint8_t *all = NULL, *more;
    while ((more = mem_grow(all, &capacity, used + want, 1, err))) {
        all = more;
        used += source_read(source, all + used, capacity - used);
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

/* --- numbers in bytes that are in memory --- */

size_t cursor_left(const Cursor *c) {
    return c->size - c->at;
}

void cursor_skip(Cursor *c, size_t count) {
    if (count > cursor_left(c)) {
        c->short_of = true;
        count = cursor_left(c);
    }
    c->at += count;
}

unsigned cursor_8(Cursor *c) {
    if (c->at < c->size) return c->bytes[c->at++];
    c->short_of = true;
    return 0;
}

unsigned cursor_16(Cursor *c) {
    unsigned first = cursor_8(c), second = cursor_8(c);
    return c->big ? first << 8 | second : first | second << 8;
}

uint32_t cursor_32(Cursor *c) {
    uint32_t first = cursor_16(c), second = cursor_16(c);
    return c->big ? first << 16 | second : first | second << 16;
}

/* --- its kind --- */

typedef struct Mark {
    FileKind kind;
    const char *what; /* of KIND_OTHER and KIND_NO_PICTURE */
    int at;           /* where in the file, bytes */
    int length;
    const char *bytes; /* [length] */
} Mark;

/* First bytes, each as the specification of the format gives them. The first that fits counts: the more
 * special comes before the more general. */
static const Mark marks[] = {
    {KIND_PNG, NULL, 0, 4, "\x89PNG"},
    {KIND_JPEG, NULL, 0, 3, "\xff\xd8\xff"},
    {KIND_GIF, NULL, 0, 6, "GIF87a"},
    {KIND_GIF, NULL, 0, 6, "GIF89a"},
    {KIND_BMP, NULL, 0, 2, "BM"},
    {KIND_PSD, NULL, 0, 4, "8BPS"},
    {KIND_OTHER, "a PDF (or a drawing saved as one)", 0, 5, "%PDF-"},
    {KIND_OTHER, "an EPS or AI drawing", 0, 4, "%!PS"},
    {KIND_OTHER, "an EPS drawing", 0, 4, "\xc5\xd0\xd3\xc6"},
    {KIND_OTHER, "a WebP picture", 8, 4, "WEBP"},
    {KIND_OTHER, "an AVIF picture", 4, 7, "ftypavi"},
    {KIND_OTHER, "a HEIC picture", 4, 7, "ftyphei"},
    {KIND_OTHER, "a HEIC picture", 4, 7, "ftyphev"},
    {KIND_OTHER, "a HEIC picture", 4, 7, "ftypmif"},
    {KIND_OTHER, "a HEIC picture", 4, 7, "ftypmsf"},
    {KIND_NO_PICTURE, "a film", 4, 4, "ftyp"},
    {KIND_OTHER, "a TIFF picture", 0, 4, "II*\0"},
    {KIND_OTHER, "a TIFF picture", 0, 4, "MM\0*"},
    {KIND_OTHER, "a TIFF picture", 0, 4, "II+\0"},
    {KIND_OTHER, "a TIFF picture", 0, 4, "MM\0+"},
    {KIND_OTHER, "a JPEG XL picture", 0, 2, "\xff\x0a"},
    {KIND_OTHER, "a JPEG XL picture", 4, 4, "JXL "},
    {KIND_OTHER, "a JPEG 2000 picture", 4, 4, "jP  "},
    {KIND_OTHER, "an icon", 0, 4, "\0\0\1\0"},
    {KIND_OTHER, "an XCF picture", 0, 8, "gimp xcf"},
    {KIND_OTHER, "a QOI picture", 0, 4, "qoif"},
    {KIND_OTHER, "an EMF drawing", 40, 4, " EMF"},
    {KIND_OTHER, "a WMF drawing", 0, 4, "\xd7\xcd\xc6\x9a"},
    {KIND_NO_PICTURE, "a ZIP file or an office document", 0, 4, "PK\3\4"},
    {KIND_NO_PICTURE, "an office document", 0, 4, "\xd0\xcf\x11\xe0"},
    {KIND_NO_PICTURE, "a compressed file (an SVGZ drawing, perhaps)", 0, 2, "\x1f\x8b"},
};

static bool holds(const uint8_t *head, size_t size, const char *text) {
    return memmem(head, size, text, strlen(text)) != NULL;
}

static bool is_pnm(const uint8_t *head, size_t size) {
    return size > 2 && head[0] == 'P' && head[1] >= '1' && head[1] <= '7' && strchr(" \t\r\n#", head[2]) &&
           head[2];
}

FileKind decode_kind(const uint8_t *head, size_t size, const char **what) {
    *what = NULL;
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
        const Mark *mark = &marks[i];
        if (size < (size_t)mark->at + (size_t)mark->length) continue;
        if (memcmp(head + mark->at, mark->bytes, (size_t)mark->length) != 0) continue;
        *what = mark->what;
        return mark->kind;
    }
    if (holds(head, size, "<svg") || holds(head, size, "<!DOCTYPE svg") || holds(head, size, ":svg"))
        *what = "an SVG drawing";
    else if (is_pnm(head, size))
        *what = "a PNM picture";
    if (*what) return KIND_OTHER;
    if (holds(head, size, "<html") || holds(head, size, "<HTML") || holds(head, size, "<!doctype html"))
        *what = "a web page";
    return KIND_NO_PICTURE;
}

static bool other_kind(const Source *source, const char *what, Err *err) {
    const char *advice = "have it sent as a PNG, 1000 px or more on its longer side";
    if (what)
        return err_set(err, ERR_INPUT, "%s: this is %s, which cannot be read; %s", source->name, what,
                       advice);
    return err_set(err, ERR_INPUT, "%s: this is not a picture that can be read; %s", source->name, advice);
}

static bool decode_source(Source *source, Picture *out, Err *err) {
    const char *what;
    FileKind kind = decode_kind(source->head, source->head_size, &what);
    if (kind == KIND_PNG) return decode_png(source, out, err);
    if (kind == KIND_JPEG) return decode_jpeg(source, out, err);
    return kind < KIND_OTHER ? decode_stb(source, kind, out, err) : other_kind(source, what, err);
}

/* --- the whole --- */

static bool has_something(const Picture *picture) {
    size_t count = (size_t)picture->width * (size_t)picture->height;
    for (size_t i = 0; i < count; i++)
        if (picture->rgba[i * 4 + 3] >= LEAST_ALPHA) return true;
    return false;
}

bool decode(const char *path, const char *name, Picture *out, Err *err) {
    Source source;
    Picture picture = {0};
    bool good = source_open(path, name, &source, err) && decode_source(&source, &picture, err);
    source_close(&source);
    if (good && !has_something(&picture))
        good = err_set(err, ERR_INPUT,
                       "%s: the picture is all transparent; have it sent again, best as a PNG", name);
    if (good)
        *out = picture;
    else
        picture_free(&picture);
    return good;
}
