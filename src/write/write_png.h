/* An image as a PNG file. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRITE_PNG_H
#define LOGOCANE_WRITE_PNG_H

#include "base/err.h"
#include "model/image.h"

#include <stdio.h>

/* Writes the image to `file` as 8-bit RGBA (RGB if all is opaque), sRGB chunk, pHYs if px_per_mm is stated,
 * no time, no text. Does not close the file; write errors show at its close. Fails with ERR_MEMORY or
 * ERR_SYSTEM. */
bool write_png(const Image *image, FILE *file, Err *err) MUST_CHECK;

#endif
