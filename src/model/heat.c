/* How long ropes, blocks and the log stay workable. SPDX-License-Identifier: MIT */
#include "model/heat.h"

#include <stdlib.h>

void heat_free(Heat *heat) {
    free(heat->rope);
    free(heat->pull);
    free(heat->block);
    *heat = (Heat){0};
}
