/* Blocks. SPDX-License-Identifier: MIT */
#include "block.h"

#include <stdlib.h>

void blocks_free(Blocks *blocks) {
    free(blocks->block);
    free(blocks->item);
    free(blocks->use);
    free(blocks->copied);
    *blocks = (Blocks){0};
}

const char *block_kind_name(BlockKind kind) {
    static const char *const name[] = {"row", "stack", "pair"};
    return name[kind];
}
