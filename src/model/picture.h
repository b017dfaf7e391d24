/* Public. A decoded picture. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_PICTURE_H
#define LOGOCANE_PICTURE_H

#include <stdint.h>

/* Filled by decode. */
typedef struct Picture {
    int width, height;           /* px, 1..1535 each way, upright (EXIF applied) */
    int shrink;                  /* file pixels averaged into one, each way; 1.. */
    int file_width, file_height; /* px of the file, upright */
    uint8_t *rgba;               /* [height][width][4], sRGB, straight alpha; owned */
} Picture;

void picture_free(Picture *picture);

#endif
