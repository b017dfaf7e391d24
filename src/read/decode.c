/* A file becomes a Picture. SPDX-License-Identifier: MIT
 *
 * Method. 1. The first bytes tell the kind (decode_kind). 2. PNG is streamed by libpng (decode_png), JPEG by
 * libjpeg (decode_jpeg); GIF and BMP are read by stb_image, and PSD here, once their structure was found
 * whole (decode_stb, walk). 3. Every pixel of the file goes into sums of linear light, which give the picture
 * (shrink). 4. There must be something to see. */
#include "read/read.h"

#include "read/decode_jpeg.h"
#include "read/decode_kind.h"
#include "read/decode_png.h"
#include "read/decode_source.h"
#include "read/decode_stb.h"

enum { LEAST_ALPHA = 3 }; /* of 255; what is fainter everywhere is an export gone wrong */

static bool other_kind(const Source *source, const char *what, Err *err) {
    const char *advice = "have it sent as a PNG, 1000 px or more on its longer side";
    if (what)
        return err_set(err, ERR_INPUT, "%s: this is %s, which cannot be read; %s", source->name, what,
                       advice);
    return err_set(err, ERR_INPUT, "%s: this is not a picture that can be read; %s", source->name, advice);
}

static bool decode_source(Source *source, Picture *out, Err *err) {
    const char *what;
    switch (decode_kind(source->head, source->head_size, &what)) {
    case KIND_PNG:
        return decode_png(source, out, err);
    case KIND_JPEG:
        return decode_jpeg(source, out, err);
    case KIND_GIF:
        return decode_stb(source, STB_GIF, out, err);
    case KIND_BMP:
        return decode_stb(source, STB_BMP, out, err);
    case KIND_PSD:
        return decode_stb(source, STB_PSD, out, err);
    default:
        return other_kind(source, what, err);
    }
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
