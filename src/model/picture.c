/* A decoded picture. SPDX-License-Identifier: MIT */
#include "model/picture.h"

#include <stdlib.h>

void picture_free(Picture *picture) {
    free(picture->rgba);
    *picture = (Picture){0};
}
