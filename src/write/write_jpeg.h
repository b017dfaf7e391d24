/* An image as a JPEG file, small enough for e-mail. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRITE_JPEG_H
#define LOGOCANE_WRITE_JPEG_H

#include "base/err.h"
#include "model/image.h"

#include <stdio.h>

enum { JPEG_MOST_BYTES = 480 * 1000 };

/* Writes the image, its alpha left out, at the best of a few qualities that keeps it under JPEG_MOST_BYTES,
 * or at the least. Fails with ERR_MEMORY; what goes wrong in writing shows when the file is closed. */
bool write_jpeg(const Image *image, FILE *file, Err *err) MUST_CHECK;

#endif
