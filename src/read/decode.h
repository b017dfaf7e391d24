/* Public. A file becomes a Picture. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DECODE_H
#define LOGOCANE_DECODE_H

#include "base/err.h"
#include "model/picture.h"

/* Reads the logo at `path` ("-": standard input); `name` stands for it in messages. Kinds, told from the
 * first bytes: PNG (streamed), JPEG (streamed), BMP, GIF (first frame), PSD (flat image). Averages in linear
 * light, alpha-weighted, by max(1, long side / 768) rounded down, so both sides end under 1536 px. Fails with
 * ERR_INPUT on: no such file, a folder, empty, cut off, damaged, another kind (says how to send it), over 100
 * megapixels, nothing with alpha over 2/255; with ERR_MEMORY; with ERR_SYSTEM on a read error. *out is then
 * untouched. */
bool decode(const char *path, const char *name, Picture *out, Err *err) MUST_CHECK;

#endif
