/* The inks of a logo. SPDX-License-Identifier: MIT */
#include "model/ink.h"

#include <stdlib.h>

void inkmap_free(InkMap *map) {
    free(map->label);
    *map = (InkMap){0};
}
