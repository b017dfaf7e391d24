/* What kind of file is it? A part of the stage decode. SPDX-License-Identifier: MIT
 *
 * A table of first bytes, each as the specification of the format gives it; then, for text, a look for what
 * an SVG must hold. */
#include "read/decode_kind.h"

#include <stdbool.h>
#include <string.h>

typedef struct Mark {
    FileKind kind;
    const char *what; /* of KIND_OTHER */
    int at;           /* where in the file, bytes */
    int length;
    const char *bytes; /* [length] */
} Mark;

/* The first that fits counts: the more special comes before the more general. */
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
