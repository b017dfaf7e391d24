/* From which lump each rope is pulled, and how far. SPDX-License-Identifier: MIT
 *
 * 1. The ropes of each block, as it is built: its thickness, its length, as often as it is built. Trims are
 * pressed from scraps: no pull.
 * 2. Equal ones (type, thickness, length) come from one pull, as many ropes as the bench is long; more are
 * spread evenly over several pulls, which differ by one rope at most.
 * 3. The lump is a cube of the pull's volume, but no shorter than a lump must be to be drawn out: then
 * thinner. Invariants: the ropes of the pulls are the ropes made; a lump's volume is that of its ropes. */
#include "bench/bench.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

/* Ropes that are alike as blocks take them. */
typedef struct RopeNeed {
    int type, count;  /* the RopeRow; how many hands make */
    double scale;     /* their sides against those in the log, >= 1 */
    double length_mm; /* of each */
} RopeNeed;

static int compare_needs(const void *p, const void *q) {
    const RopeNeed *a = p, *b = q;
    if (a->type != b->type) return a->type < b->type ? -1 : 1;
    if (a->scale != b->scale) return a->scale > b->scale ? -1 : 1;
    if (a->length_mm != b->length_mm) return a->length_mm > b->length_mm ? -1 : 1;
    return 0; /* equal in all that tells: they are added up */
}

/* 1. A log of one rope has no blocks. */
static int list_needs(const LayUp *layup, const Blocks *blocks, const Bill *bill, RopeNeed *need) {
    int needs = 0;
    for (int b = 0; b < blocks->blocks; b++) {
        const Block *block = &blocks->block[b];
        for (int i = block->first_item; i < block->first_item + block->items; i++) {
            const Item *item = &blocks->item[i];
            if (item->is_block || layup->rope[item->index].type < 0) continue;
            need[needs++] =
                (RopeNeed){layup->rope[item->index].type, block->builds, block->scale, block->length_mm};
        }
    }
    for (int i = 0; i < layup->ropes && blocks->blocks == 0; i++) {
        int type = layup->rope[i].type;
        if (type >= 0) need[needs++] = (RopeNeed){type, 1, 1, bill->rope[type].length_each_mm};
    }
    qsort(need, (size_t)needs, sizeof *need, compare_needs);
    int kinds = 0;
    for (int i = 0; i < needs; i++) {
        if (kinds > 0 && compare_needs(&need[kinds - 1], &need[i]) == 0)
            need[kinds - 1].count += need[i].count;
        else
            need[kinds++] = need[i];
    }
    return kinds;
}

/* 3. */
static void add_pull(const RopeNeed *need, int times, int count, double density_g_ml, const Shop *shop,
                     Bill *bill) {
    const RopeRow *row = &bill->rope[need->type];
    Pull pull = {.type = need->type, .scale = need->scale, .times = times, .count = count};
    if (times == 0 || count == 0) return;
    pull.width_mm = row->width_mm * need->scale;
    pull.height_mm = row->height_mm * need->scale;
    pull.length_each_mm = need->length_mm;
    pull.total_length_mm = count * need->length_mm;
    double g_per_mm = row->mass_g / row->count / row->length_each_mm * need->scale * need->scale;
    pull.mass_g = g_per_mm * pull.total_length_mm;
    double volume_mm3 = pull.mass_g / density_g_ml * 1000;
    pull.lump_length_mm = fmax(cbrt(volume_mm3), shop->lump_length_min_mm);
    pull.lump_side_mm = sqrt(volume_mm3 / pull.lump_length_mm);
    pull.draw = pull.total_length_mm / pull.lump_length_mm;
    bill->pull[bill->pulls++] = pull;
}

/* 2. */
static void share_out(const RopeNeed *need, double density_g_ml, const Shop *shop, Bill *bill) {
    int most = (int)(shop->bench_length_mm / need->length_mm * (1 + 1e-9));
    if (most < 1) most = 1;
    int times = (need->count + most - 1) / most, count = need->count / times, larger = need->count % times;
    add_pull(need, larger, count + 1, density_g_ml, shop, bill);
    add_pull(need, times - larger, count, density_g_ml, shop, bill);
}

bool plan_pulls(const Palette *palette, const Shop *shop, const LayUp *layup, const Blocks *blocks,
                Bill *bill, Err *err) {
    RopeNeed *need = mem_alloc((size_t)layup->ropes, sizeof *need, err);
    Pull *pull = need ? mem_alloc(2 * (size_t)layup->ropes, sizeof *pull, err) : NULL;
    if (pull) {
        int needs = list_needs(layup, blocks, bill, need);
        bill->pull = pull;
        for (int i = 0; i < needs; i++)
            share_out(&need[i], palette->candy[bill->rope[need[i].type].candy].density_g_ml, shop, bill);
    }
    free(need);
    return pull != NULL;
}
