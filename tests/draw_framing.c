/* The pictures of framing_logos.h as PNG files, to look at: draw_framing FOLDER. SPDX-License-Identifier: MIT
 */
#include "framing_logos.h"

#include "model/image.h"
#include "write/files.h"

#include <stdio.h>

enum { SIZE = 400 /* px, the short side; a tenth for long ones */ };

static bool draw_one(const FramingLogo *logo, const char *folder, Err *err) {
    char path[1024];
    Picture picture;
    int size = fmax(logo->w, logo->h) > 5 ? SIZE / 10 : SIZE;
    (void)snprintf(path, sizeof path, "%s/%s.png", folder, logo->name);
    if (!framing_logo_draw(logo, size, &picture, err)) return false;
    Image image = {picture.width, picture.height, 0, picture.rgba};
    FILE *file = fopen(path, "wb");
    bool good = file && write_png(&image, file, err);
    if (file && fclose(file) != 0) good = false;
    picture_free(&picture);
    return good;
}

int main(int argc, char *argv[]) {
    Err err = {0};
    for (int i = 0; i < FRAMING_LOGOS; i++)
        if (argc != 2 || !draw_one(&framing_logos[i], argv[1], &err)) {
            fprintf(stderr, "draw_framing FOLDER: %s\n", err.msg);
            return 1;
        }
    return 0;
}
