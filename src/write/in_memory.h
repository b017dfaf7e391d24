/* What is written to a file, as a string. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_WRITE_IN_MEMORY_H
#define LOGOCANE_WRITE_IN_MEMORY_H

#include "model/image.h"
#include "model/job.h"

#include <stdio.h>

/* What `write` prints of the job. NULL if it fails, and with ERR_MEMORY; else the caller frees it. */
char *written(const Job *job, bool (*write)(const Job *job, FILE *file, Err *err), Err *err) MUST_CHECK;

/* The image as `encode` writes it, that in base64 (RFC 4648, section 4). NULL if that fails, and with
 * ERR_MEMORY; else the caller frees it. */
char *image_base64(const Image *image, bool (*encode)(const Image *image, FILE *file, Err *err),
                   Err *err) MUST_CHECK;

/* The same, as a PNG. */
char *png_base64(const Image *image, Err *err) MUST_CHECK;

#endif
