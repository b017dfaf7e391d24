/* PNG into a Picture; a part of the stage decode. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DECODE_PNG_H
#define LOGOCANE_DECODE_PNG_H

#include "read/decode_source.h"
#include "model/picture.h"

/* Reads the PNG from its first byte to its IEND. Fails with ERR_INPUT if it is too large, cut off or damaged
 * (a wrong checksum too), with ERR_MEMORY, with ERR_SYSTEM on a read error. */
bool decode_png(Source *source, Picture *out, Err *err) MUST_CHECK;

#endif
