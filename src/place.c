/* Places. SPDX-License-Identifier: MIT */
#include "place.h"

#include <stdlib.h>

void fine_map_free(FineMap *map) {
    free(map->fine);
    *map = (FineMap){0};
}
