/* Blocks. SPDX-License-Identifier: MIT */
#include "model/block.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

const char *build_way_name(BuildWay way) {
    static const char *const name[] = {"once", "thicker", "longer", "fine", "each"};
    return name[way];
}

const char *placement_words(Placement way) {
    static const char *const name[2][4] = {
        {"as built", "a quarter turn right", "a half turn", "a quarter turn left"},
        {"end for end", "end for end, then a quarter turn right", "end for end, then a half turn",
         "end for end, then a quarter turn left"}};
    return name[way.mirrored][way.turn];
}

void block_uses_print(const Blocks *blocks, int block, char *out, size_t size) {
    int count[PLACEMENTS] = {0};
    out[0] = 0;
    if (blocks->block[block].made < 2) return;
    for (int i = 0; i < blocks->uses; i++)
        if (blocks->use[i].block == block) count[blocks->use[i].way.mirrored * 4 + blocks->use[i].way.turn]++;
    (void)snprintf(out, size, "x%d", blocks->block[block].made);
    for (int i = 1; i < PLACEMENTS; i++) {
        size_t used = strlen(out);
        if (count[i] == 1) (void)snprintf(out + used, size - used, ", one %s", placement_words(placement(i)));
        if (count[i] > 1)
            (void)snprintf(out + used, size - used, ", %d %s", count[i], placement_words(placement(i)));
    }
}
