/* What does not come out. SPDX-License-Identifier: MIT */
#include "model/flaw.h"

#include <stdlib.h>

void fine_map_free(FineMap *map) {
    free(map->fine);
    *map = (FineMap){0};
}
