/* JPEG into a Picture; a part of the stage decode. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DECODE_JPEG_H
#define LOGOCANE_DECODE_JPEG_H

#include "read/decode_source.h"
#include "model/picture.h"

/* Reads the JPEG from its first byte to its EOI; the picture is upright as its EXIF says. Fails with
 * ERR_INPUT if it is too large, cut off, damaged or of a variety that is not read (arithmetic coding,
 * lossless, not 8 bits, not 1, 3 or 4 components, over 100 scans), with ERR_MEMORY, with ERR_SYSTEM on a read
 * error. */
bool decode_jpeg(Source *source, Picture *out, Err *err) MUST_CHECK;

#endif
