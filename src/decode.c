/* A file becomes a Picture. SPDX-License-Identifier: MIT */
#include "decode.h"

#include "decode_png.h"
#include "decode_source.h"

static bool decode_kind(Source *source, Picture *out, Err *err) {
    return decode_png(source, out, err);
}

bool decode(const char *path, const char *name, Picture *out, Err *err) {
    Source source;
    bool good = source_open(path, name, &source, err) && decode_kind(&source, out, err);
    source_close(&source);
    return good;
}
