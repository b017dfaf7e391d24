/* Areas become lengths and masses. SPDX-License-Identifier: MIT
 *
 * Input: the ropes and rings of one log, candies, cane. Output: the lists.
 * 1. Ropes that are no trims get a size: width the longer side; a rim rope the box of what lies inside the
 * core, its shorter side reduced so that width * height is its area. Equal candy, shape and size (to 1/100
 * mm; turned or mirrored counts as equal, since a straight rope can be laid in all eight ways) are one type.
 * Serials count the ropes of a type, and the trims, in the order of the tree.
 * 2. Trims, a row a candy; rings from the inside out; the jacket, a row a candy.
 * 3. Materials: area share * logs * volume * density of the finish; the log's lost ends are in the volume;
 * the ends of blocks that are drawn out, and spare, come on top.
 * 4. Ropes made and joins, by the builds of the blocks that hold them, and the minutes they take.
 * 5. What the order comes to. Candy is coloured log by log, for it does not wait: each candy is a batch for
 * each log. Work is that of laying up, the only one whose minutes are known.
 * Invariants: ropes, trims and rings add up to the core's area; the materials' masses to the logs' mass.
 *
 * For whoever gives ropes other outlines: only step 1 knows what a section looks like. A type is told by
 * candy, width, height, rim and shape; two polygons of equal box are not the same rope, so size_rope needs a
 * key of the outline that all eight placements share. All masses come from Rope.area, which is exact for any
 * outline. */
#include "bench/bench.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct SizedRope {
    int rope;           /* index in the lay-up */
    int candy;          /* palette index */
    int shape;          /* a Shape */
    long width, height; /* 1/100 mm, width the longer */
    bool rim;           /* the rim cuts it */
} SizedRope;

/* Mass of a rope of one step^2 and the log's length, g, by candy. */
typedef double RopeGrams[INKS_MAX];

/* --- 1. rope types --- */

/* 1. A rim wedge is listed as a strip. */
static SizedRope size_rope(const LayUp *layup, int index, Circle core, double step_mm) {
    const Rope *rope = &layup->rope[index];
    double w = rope->box.w, h = rope->box.h;
    if (rope->rim) {
        Point corner[4], low = {0}, high = {0};
        int corners = rope_outline(rope, corner);
        if (polygon_disc_box(corner, corners, core, &low, &high)) {
            w = high.x - low.x;
            h = high.y - low.y;
        }
        double longer = fmax(w, h);
        w = longer;
        h = rope->area / longer;
    }
    SizedRope s = {.rope = index, .candy = rope->candy, .shape = rope->rim ? SHAPE_STRIP : (int)rope->shape};
    s.rim = rope->rim;
    s.width = lround(fmax(w, h) * step_mm * 100);
    s.height = lround(fmin(w, h) * step_mm * 100);
    return s;
}

static int order_numbers(long a, long b) {
    return a < b ? -1 : a > b;
}

/* By candy, whole before rim, strips before wedges, larger first; ties by the rope's place. */
static int compare_type(const SizedRope *a, const SizedRope *b) {
    int order = order_numbers(a->candy, b->candy);
    if (!order) order = order_numbers(a->rim, b->rim);
    if (!order) order = order_numbers(a->shape, b->shape);
    if (!order) order = order_numbers(b->width * b->height, a->width * a->height);
    return order ? order : order_numbers(b->width, a->width);
}

static int compare_sized(const void *p, const void *q) {
    const SizedRope *a = p, *b = q;
    int order = compare_type(a, b);
    return order ? order : order_numbers(a->rope, b->rope);
}

static void add_to_row(RopeRow *row, const Rope *rope, const RopeGrams g_per_step2) {
    row->count++;
    row->total_length_m = row->count * row->length_each_mm / 1000;
    row->mass_g += rope->area * g_per_step2[rope->candy];
}

static void fill_rows(const SizedRope *sized, int count, const Cane *cane, const RopeGrams g_per_step2,
                      LayUp *layup, Bill *bill) {
    for (int i = 0; i < count; i++) {
        Rope *rope = &layup->rope[sized[i].rope];
        if (i == 0 || compare_type(&sized[i - 1], &sized[i]) != 0)
            bill->rope[bill->rope_types++] = (RopeRow){.candy = rope->candy,
                                                       .shape = (Shape)sized[i].shape,
                                                       .width_mm = (double)sized[i].width / 100,
                                                       .height_mm = (double)sized[i].height / 100,
                                                       .rim = sized[i].rim,
                                                       .length_each_mm = cane->log_length_mm};
        rope->type = bill->rope_types - 1;
        rope->serial = bill->rope[rope->type].count + 1; /* equal types are sorted by place */
        add_to_row(&bill->rope[rope->type], rope, g_per_step2);
    }
}

static bool list_ropes(const Cane *cane, const Grid *grid, const RopeGrams g_per_step2, LayUp *layup,
                       Bill *bill, Err *err) {
    SizedRope *sized = mem_alloc((size_t)layup->ropes, sizeof *sized, err);
    bill->rope = sized ? mem_alloc((size_t)layup->ropes, sizeof *bill->rope, err) : NULL;
    if (!bill->rope) {
        free(sized);
        return false;
    }
    int count = 0, trims = 0;
    for (int i = 0; i < layup->ropes; i++) {
        layup->rope[i].type = -1;
        if (layup->rope[i].trim)
            layup->rope[i].serial = ++trims;
        else
            sized[count++] = size_rope(layup, i, grid->core, cane->step_mm);
    }
    qsort(sized, (size_t)count, sizeof *sized, compare_sized);
    fill_rows(sized, count, cane, g_per_step2, layup, bill);
    free(sized);
    return true;
}

/* --- 2. trims, rings, jacket --- */

static void list_trims(const Palette *palette, const Cane *cane, const RopeGrams g_per_step2,
                       const LayUp *layup, Bill *bill) {
    for (int k = 0; k < palette->count; k++) {
        WrapRow row = {.kind = WRAP_TRIM, .candy = palette->candy[k], .length_mm = cane->log_length_mm};
        for (int i = 0; i < layup->ropes; i++) {
            const Rope *rope = &layup->rope[i];
            if (!rope->trim || rope->candy != k) continue;
            row.count++;
            row.mass_g += rope->area * g_per_step2[k];
        }
        if (row.count > 0) bill->wrap[bill->wraps++] = row;
    }
}

/* A sheet wrapped round, from the inner to the outer radius: thickness times the middle's length is its area.
 */
static WrapRow wrap(WrapKind kind, Candy candy, double outer_mm, double inner_mm, const Cane *cane) {
    WrapRow row = {.kind = kind, .candy = candy, .count = 1, .length_mm = cane->log_length_mm};
    row.thickness_mm = outer_mm - inner_mm;
    row.width_mm = PI * (outer_mm + inner_mm);
    row.mass_g = row.thickness_mm * row.width_mm * row.length_mm / 1000 * candy.density_g_ml;
    return row;
}

static void list_wraps(const Palette *palette, const Cane *cane, const Grid *grid, Bill *bill) {
    for (int i = grid->rings - 1; i >= 0; i--) {
        Ring ring = grid->ring[i];
        bill->wrap[bill->wraps++] = wrap(WRAP_RING, palette->candy[ring.candy], ring.outer * cane->step_mm,
                                         ring.inner * cane->step_mm, cane);
    }
    for (int i = 0; i < palette->jackets; i++) {
        WrapRow row = wrap(WRAP_STRIPE, palette->jacket[i], cane->log_diameter_mm / 2,
                           cane->core_diameter_mm / 2, cane);
        row.count = palette->stripes / palette->jackets;
        row.width_mm /= palette->stripes;
        row.mass_g /= palette->jackets;
        bill->wrap[bill->wraps++] = row;
    }
}

/* --- 3. materials --- */

static MaterialRow *material_of(Bill *bill, Candy candy) {
    for (int i = 0; i < bill->materials; i++)
        if (strcmp(bill->material[i].candy.name, candy.name) == 0) return &bill->material[i];
    bill->material[bill->materials] = (MaterialRow){.candy = candy};
    return &bill->material[bill->materials++];
}

/* A block that is drawn out is built longer by its ends: ropes as built, less ropes as laid, of all logs. */
static void add_block_ends(const Palette *palette, const Cane *cane, const RopeGrams g_per_step2,
                           const Blocks *blocks, const LayUp *layup, Bill *bill) {
    double extra_g[INKS_MAX] = {0};
    for (int b = 0; b < blocks->blocks; b++) {
        const Block *block = &blocks->block[b];
        double times = block->builds * block->scale * block->scale * block->length_mm / cane->log_length_mm;
        for (int i = block->first_item; i < block->first_item + block->items; i++) {
            const Rope *rope = blocks->item[i].is_block ? NULL : &layup->rope[blocks->item[i].index];
            if (rope && !rope->trim) extra_g[rope->candy] += rope->area * g_per_step2[rope->candy] * times;
        }
    }
    for (int i = 0; i < layup->ropes && blocks->blocks > 0; i++) {
        const Rope *rope = &layup->rope[i];
        if (!rope->trim) extra_g[rope->candy] -= rope->area * g_per_step2[rope->candy];
    }
    for (int k = 0; k < palette->count; k++) {
        bool some = extra_g[k] > 1e-6; /* not what is left of sums */
        if (some) material_of(bill, palette->candy[k])->block_ends_g += extra_g[k] * cane->logs;
    }
}

static void list_materials(const Palette *palette, const Cane *cane, const Shop *shop,
                           const RopeGrams g_per_step2, const Blocks *blocks, const LayUp *layup,
                           Bill *bill) {
    double step2 = cane->step_mm * cane->step_mm, section = PI / 4 * pow(cane->log_diameter_mm, 2);
    (void)material_of(bill, palette->candy[palette->field]);
    for (int k = 0; k < palette->count; k++) (void)material_of(bill, palette->candy[k]);
    for (int i = 0; i < layup->ropes; i++) {
        const Rope *rope = &layup->rope[i];
        material_of(bill, palette->candy[rope->candy])->share_of_log += rope->area * step2 / section;
    }
    for (int i = 0; i < bill->wraps; i++) {
        const WrapRow *row = &bill->wrap[i]; /* trims have no thickness: they were counted as ropes */
        material_of(bill, row->candy)->share_of_log +=
            row->count * row->thickness_mm * row->width_mm / section;
    }
    add_block_ends(palette, cane, g_per_step2, blocks, layup, bill);
    for (int i = 0; i < bill->materials; i++) {
        MaterialRow *row = &bill->material[i];
        row->volume_ml = row->share_of_log * cane->volume_ml * cane->logs;
        row->mass_g = row->volume_ml * row->candy.density_g_ml;
        row->with_spare_g = (row->mass_g + row->block_ends_g) * (1 + shop->spare_share);
        bill->log_mass_g += row->mass_g / cane->logs;
    }
    double kept = (1 - shop->lost_share) * cane->logs / (double)cane->pieces;
    bill->piece_mass_g = bill->log_mass_g * kept;
}

/* --- 4. work --- */

/* Hands make the ropes of each block as often as the block is built; copies of it are cut. */
static void count_ropes(const Blocks *blocks, const LayUp *layup, Bill *bill) {
    for (int b = 0; b < blocks->blocks; b++) {
        const Block *block = &blocks->block[b];
        for (int i = block->first_item; i < block->first_item + block->items; i++) {
            const Item *item = &blocks->item[i];
            if (!item->is_block && layup->rope[item->index].type >= 0)
                bill->rope[layup->rope[item->index].type].made += block->builds;
        }
    }
    for (int i = 0; i < layup->ropes && blocks->blocks == 0; i++) /* a log of one rope */
        if (layup->rope[i].type >= 0) bill->rope[layup->rope[i].type].made++;
    for (int i = 0; i < bill->rope_types; i++) bill->ropes_made += bill->rope[i].made;
}

static void count_work(const Shop *shop, const Blocks *blocks, const LayUp *layup, Bill *bill) {
    int joins = 0, drawn = 0;
    count_ropes(blocks, layup, bill);
    for (int b = 0; b < blocks->blocks; b++) {
        joins += (blocks->block[b].items - 1) * blocks->block[b].builds;
        drawn += blocks->block[b].way == BUILD_THICKER || blocks->block[b].way == BUILD_FINE;
    }
    bill->joins = joins;
    bill->minutes =
        (bill->ropes_made * shop->minutes_rope + joins * shop->minutes_join + drawn * shop->minutes_draw) /
        shop->people;
}

/* --- 5. what the order comes to --- */

static Quote quote_of(const Order *order, const Cane *cane, const Shop *shop, const Bill *bill) {
    Quote q = {.spare_pieces = cane->pieces - order->pieces,
               .pieces_per_kg = 1000 / bill->piece_mass_g,
               .pieces_mass_g = bill->piece_mass_g * (double)order->pieces};
    for (int i = 0; i < bill->materials; i++) {
        if (bill->material[i].mass_g >= MATERIAL_LEAST_G) q.batches += cane->logs;
        q.candy_cost += bill->material[i].with_spare_g / 1000 * shop->price_candy_kg;
    }
    q.work_cost = bill->minutes / 60 * shop->people * cane->logs * shop->price_hour;
    return q;
}

bool weigh(const Order *order, const Palette *palette, const Cane *cane, const Grid *grid, const Shop *shop,
           const Blocks *blocks, LayUp *layup, Bill *out, Err *err) {
    Bill bill = {0};
    RopeGrams g_per_step2 = {0};
    for (int k = 0; k < palette->count; k++)
        g_per_step2[k] = pow(cane->step_mm, 2) * cane->log_length_mm / 1000 * palette->candy[k].density_g_ml;
    if (!list_ropes(cane, grid, g_per_step2, layup, &bill, err)) return false;
    list_trims(palette, cane, g_per_step2, layup, &bill);
    list_wraps(palette, cane, grid, &bill);
    list_materials(palette, cane, shop, g_per_step2, blocks, layup, &bill);
    count_work(shop, blocks, layup, &bill);
    bill.quote = quote_of(order, cane, shop, &bill);
    *out = bill;
    return true;
}
