/* What kind of file is it? A part of the stage decode. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_DECODE_KIND_H
#define LOGOCANE_DECODE_KIND_H

#include <stddef.h>
#include <stdint.h>

typedef enum FileKind { KIND_PNG, KIND_JPEG, KIND_GIF, KIND_BMP, KIND_PSD, KIND_OTHER } FileKind;

/* The kind, from the first bytes, never from the name. Of KIND_OTHER, *what is its description with the
 * article, or NULL if it is not known; never freed. */
FileKind decode_kind(const uint8_t *head, size_t size, const char **what);

#endif
