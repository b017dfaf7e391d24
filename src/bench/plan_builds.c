/* How blocks needed more than once are built. SPDX-License-Identifier: MIT
 *
 * From the log down, so that all blocks that hold a block are planned before it.
 * 1. What is needed of a block: for each place in a block that holds it, and each time that one is built, a
 * piece as thick (scale) and as long as its holder is built.
 * 2. Needed once: built like that.
 * 3. Else thicker: as long as the longest piece, as much thicker as all pieces together ask for, then drawn
 * out and cut: twice the pieces, sides sqrt(2) times. What the ends lose in drawing is added to the length.
 * 4. Else, that being over the widest block, longer: as thick as the thickest piece. What the ends lose is
 * added only if some of it has to be drawn further.
 * 5. Else, that being longer than the bench, each piece is built.
 * 6. A fine block goes into blocks that are not fine: it is built at least twice as thick as they take it, so
 * that its ropes are at least a least strip, and drawn down and cut.
 * A block is drawn out evenly, so volumes are reckoned as lengths of the section as laid in the log, whatever
 * its outline. How wide it is, to be held against the widest block that hands can draw, is the longer side of
 * the box of what of it lies inside the core.
 * Invariants: the volume built is that of the pieces, lost ends apart; scale >= 1. Cost: O(blocks * items).
 */
#include "bench/bench.h"

#include <math.h>

static const double fine_scale = 2; /* twice the size: a quarter of the length; ours */

/* All that is needed of one block. */
typedef struct BlockNeed {
    int pieces;
    double volume_mm;          /* sum of scale^2 * length: as a length of the section as laid in the log */
    double scale, least_scale; /* of the thickest and the thinnest piece */
    double length_mm;          /* of the longest piece */
    bool drawn_down;           /* a block that is not fine holds it */
} BlockNeed;

static BlockNeed need_of(const Blocks *blocks, int index) {
    BlockNeed need = {.scale = 1, .least_scale = HUGE_VAL};
    for (int h = index + 1; h < blocks->blocks; h++) {
        const Block *holder = &blocks->block[h];
        for (int i = holder->first_item; i < holder->first_item + holder->items; i++) {
            if (!blocks->item[i].is_block || blocks->item[i].index != index) continue;
            need.drawn_down |= !holder->fine;
            need.pieces += holder->builds;
            need.volume_mm += holder->builds * holder->scale * holder->scale * holder->length_mm;
            need.scale = fmax(need.scale, holder->scale);
            need.least_scale = fmin(need.least_scale, holder->scale);
            need.length_mm = fmax(need.length_mm, holder->length_mm);
        }
    }
    return need;
}

static void plan_copies(BlockNeed need, double width_mm, const Shop *shop, Block *block) {
    double kept = 1 - shop->lost_share, thicker = sqrt(need.volume_mm / need.length_mm);
    double thick_mm = need.length_mm / kept, long_mm = need.volume_mm / (need.scale * need.scale);
    if (need.least_scale < need.scale) long_mm /= kept;
    block->scale = need.scale;
    if (thicker * width_mm <= shop->block_width_max_mm && thick_mm >= shop->lump_length_min_mm &&
        thick_mm <= shop->bench_length_mm) {
        block->way = BUILD_THICKER;
        block->scale = thicker;
        block->length_mm = thick_mm;
    } else if (long_mm <= shop->bench_length_mm) {
        block->way = BUILD_LONGER;
        block->length_mm = long_mm;
    } else {
        block->way = BUILD_EACH;
        block->builds = need.pieces;
        block->length_mm = long_mm / need.pieces;
    }
}

/* 6. */
static void plan_fine(BlockNeed need, const Shop *shop, Block *block) {
    block->way = BUILD_FINE;
    block->scale = fmax(fine_scale, need.scale);
    block->length_mm = need.volume_mm / (block->scale * block->scale) / (1 - shop->lost_share);
}

void plan_builds(const Cane *cane, const Shop *shop, Blocks *blocks) {
    for (int b = blocks->blocks - 1; b >= 0; b--) {
        Block *block = &blocks->block[b];
        BlockNeed need = need_of(blocks, b);
        if (b == blocks->blocks - 1)
            need = (BlockNeed){1, cane->log_length_mm, 1, 1, cane->log_length_mm, false};
        block->way = BUILD_ONCE;
        block->builds = 1;
        block->pieces = need.pieces;
        block->scale = need.scale;
        block->length_mm = block->piece_mm = need.length_mm;
        double width_mm = cane->step_mm * fmax(block->high.x - block->low.x, block->high.y - block->low.y);
        if (block->fine && need.drawn_down)
            plan_fine(need, shop, block);
        else if (need.pieces > 1)
            plan_copies(need, width_mm, shop, block);
    }
}
