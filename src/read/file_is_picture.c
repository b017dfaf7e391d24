/* Which files of a folder are meant. SPDX-License-Identifier: MIT
 *
 * One that is called a picture and is empty or damaged counts: whoever sent it should hear of it. */
#include "read/read.h"

#include "read/decoders.h"

#include <string.h>
#include <strings.h>

static bool named_so(const char *path) {
    static const char *const ending[] = {".png", ".jpg", ".jpeg", ".gif", ".bmp", ".psd"};
    const char *dot = strrchr(path, '.');
    for (size_t i = 0; dot && i < sizeof ending / sizeof *ending; i++)
        if (strcasecmp(dot, ending[i]) == 0) return true;
    return false;
}

bool file_is_picture(const char *path) {
    uint8_t head[SOURCE_HEAD];
    const char *what = NULL;
    FILE *file = fopen(path, "rb");
    if (!file) return named_so(path);
    size_t size = fread(head, 1, sizeof head, file);
    (void)fclose(file);
    return (size > 0 && decode_kind(head, size, &what) != KIND_NO_PICTURE) || named_so(path);
}
