/* A file becomes a Picture. SPDX-License-Identifier: MIT
 *
 * Method. 1. The first bytes tell the kind: a table; then, for text, a look for what an SVG must hold. 2. PNG
 * is streamed by libpng (decode_png), JPEG by libjpeg (decode_jpeg); GIF and BMP are read by stb_image, and
 * PSD here, once their structure was found whole (decode_stb, walk). 3. Every pixel of the file goes into
 * sums of linear light, which give the picture (shrink). 4. There must be something to see. */
#include "read/read.h"

#include "read/decoders.h"

#include <string.h>

enum { LEAST_ALPHA = 3 }; /* of 255; what is fainter everywhere is an export gone wrong */

typedef struct Mark {
    FileKind kind;
    const char *what; /* of KIND_OTHER */
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
    {KIND_OTHER, "a film", 4, 4, "ftyp"},
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
    {KIND_OTHER, "a ZIP file or an office document", 0, 4, "PK\3\4"},
    {KIND_OTHER, "an office document", 0, 4, "\xd0\xcf\x11\xe0"},
    {KIND_OTHER, "a compressed file (an SVGZ drawing, perhaps)", 0, 2, "\x1f\x8b"},
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
    else if (holds(head, size, "<html") || holds(head, size, "<HTML") || holds(head, size, "<!doctype html"))
        *what = "a web page";
    else if (is_pnm(head, size))
        *what = "a PNM picture";
    return KIND_OTHER;
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
    return kind == KIND_OTHER ? other_kind(source, what, err) : decode_stb(source, kind, out, err);
}

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
