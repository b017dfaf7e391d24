/* The picture on the core. SPDX-License-Identifier: MIT */
#include "model/grid.h"

#include <stdlib.h>

void face_free(Face *face) {
    free(face->candy);
    *face = (Face){0};
}

void grid_free(Grid *grid) {
    face_free(&grid->wanted);
    free(grid->cost);
    *grid = (Grid){0};
}
