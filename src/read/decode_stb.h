/* GIF, BMP, PSD into a Picture; a part of the stage decode. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DECODE_STB_H
#define LOGOCANE_DECODE_STB_H

#include "read/decode_source.h"
#include "model/picture.h"

typedef enum StbKind { STB_GIF, STB_BMP, STB_PSD } StbKind;

/* Reads a file of that kind, held in memory whole. Fails with ERR_INPUT if it is too large, cut off, damaged
 * or of a variety that is not read, with ERR_MEMORY, with ERR_SYSTEM on a read error. */
bool decode_stb(Source *source, StbKind kind, Picture *out, Err *err) MUST_CHECK;

#endif
