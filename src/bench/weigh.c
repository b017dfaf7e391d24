/* Areas become lengths and masses. SPDX-License-Identifier: MIT
 *
 * Input: the ropes and rings of one log, candies, cane. Output: the lists.
 * 1. Ropes that are no trims get a section: the outline laid on its base (model/section.h), or, of one that
 * is a plain strip but for a taper that hands do not see, that strip, in tenths of mm; of a rim rope the
 * least box of what lies inside the core, over the directions of its straight sides, its shorter side reduced
 * so that width * height is its area. Ropes of one candy, both whole or both of the rim, whose sections lie
 * on each other to 1/100 mm, however turned or mirrored, are one type: a straight rope can be laid any way
 * round. Round ropes have the square about them and are equal to round ones only. A rope joins the first type
 * that it fits, in the order of the tree. Serials count the ropes of a type, and the trims, in that order
 * too.
 * 2. Sheets, and what is pressed in: sheets.c.
 * 3. Materials: area share * logs * volume * density of the finish; the log's lost ends are in the volume;
 * the ends of blocks that are drawn out, and spare, come on top. A blend's are its two candies', by volume
 * and by mass.
 * 4. Ropes made and joins, by the builds of the blocks that hold them. A sheet round a block is a join, and
 * so is the rest about something round.
 * 5. What the order comes to. Candy is coloured log by log, for it does not wait: each candy is a batch for
 * each log. Prices: price.c.
 * Invariants: ropes, trims, rests, sheets and rings add up to the core's area; the materials' masses to the
 * logs' mass. All masses come from Rope.area, which is exact for any outline. Cost: ropes * types, well under
 * 1 ms. */
#include "bench/bench.h"

#include "base/mem.h"
#include "bench/sheets.h"
#include "model/section.h"
#include "model/wrapped.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double taper_unseen = 0.3; /* mm: of corners so near a plain strip's no hand sees a taper */
static const double area_kept = 0.01;   /* of a strip's area: so much may rounding its sides change it */

/* A type of rope, before the types are put in order. */
typedef struct RopeType {
    int candy;       /* palette index */
    bool rim;        /* the core's edge cuts it */
    bool round;      /* a round rope */
    Outline exact;   /* mm: the section of the first rope, not rounded */
    Outline section; /* mm: that, to 1/100 */
    Shape shape;     /* of the section */
    long area;       /* of the section, 1/10000 mm^2 */
    int first;       /* index of that rope in the lay-up: no two types have the same */
} RopeType;

/* --- 1. rope types --- */

/* 1. */
static Outline box_section(double w, double h) {
    return (Outline){4, {{0, h}, {0, 0}, {w, 0}, {w, h}}};
}

/* Turned so that the way `along`, of length 1, leads to the right. */
static Point turned_to(Point p, Point along) {
    return (Point){p.x * along.x + p.y * along.y, p.y * along.x - p.x * along.y};
}

/* Steps: the box, level with one of its sides, of what of the rope lies inside the core; false if nothing. */
static bool box_along(const Outline *o, int side, Circle core, double *w, double *h) {
    Point a = o->corner[side], b = o->corner[(side + 1) % o->corners], low = {0}, high = {0};
    double length = sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
    Point along = {(b.x - a.x) / length, (b.y - a.y) / length};
    Point centre = turned_to((Point){core.x, core.y}, along);
    Outline turned = {.corners = o->corners};
    for (int i = 0; i < o->corners; i++) turned.corner[i] = turned_to(o->corner[i], along);
    if (!outline_disc_box(&turned, (Circle){centre.x, centre.y, core.r}, &low, &high)) return false;
    *w = high.x - low.x;
    *h = high.y - low.y;
    return true;
}

/* Of boxes of equal area, as a wedge's often are, the stockiest: so mirror images have the same one. */
static Outline rim_section(const Rope *rope, Circle core, double step_mm) {
    const double slack = 1e-9;
    double longer = sqrt(rope->area), least = HUGE_VAL, w, h;
    for (int side = 0; side < rope->outline.corners; side++) {
        if (!box_along(&rope->outline, side, core, &w, &h) || w * h > least * (1 + slack)) continue;
        if (w * h > least * (1 - slack) && fmax(w, h) >= longer) continue;
        least = w * h;
        longer = fmax(w, h);
    }
    return box_section(longer * step_mm, rope->area / longer * step_mm);
}

/* To 1/100 mm, half of it up: to the ten millionth first, so that errors of sums do not part what is equal.
 */
static double rounded(double mm) {
    return (double)lround(round(mm * 1e7) / 1e5) / 100;
}

/* With both sides in tenths of mm or, where that would change its area too much, its longer side only. */
static Outline strip_rounded(const Outline *strip) {
    double area = outline_area(strip), w = round(section_wide(strip) * 10) / 10,
           h = round(section_high(strip) * 10) / 10;
    if (fabs(w * h - area) > area_kept * area) h = area / w;
    return box_section(fmax(w, h), fmin(w, h));
}

/* mm, not rounded unless it is told as the strip that it is but for a taper. */
static Outline whole_section(const Rope *rope, double step_mm) {
    Outline outline = section_scaled(&rope->outline, step_mm), section = section_of(&outline, NULL), strip;
    bool tapers = outline_shape(&section) == SHAPE_TAPERED;
    return tapers && section_is_strip(&section, taper_unseen, &strip) ? strip_rounded(&strip) : section;
}

static RopeType type_of(const LayUp *layup, int index, Circle core, double step_mm) {
    const Rope *rope = &layup->rope[index];
    RopeType type = {.candy = rope->candy, .rim = rope->rim, .round = rope->round, .first = index};
    type.exact = rope->rim ? rim_section(rope, core, step_mm) : whole_section(rope, step_mm);
    type.section = type.exact;
    for (int i = 0; i < type.section.corners; i++)
        type.section.corner[i] = (Point){rounded(type.exact.corner[i].x), rounded(type.exact.corner[i].y)};
    type.shape = rope->round ? SHAPE_ROUND : outline_shape(&type.section);
    type.area = lround(outline_area(&type.section) * 1e4);
    return type;
}

static bool same_type(const RopeType *a, const RopeType *b) {
    return a->candy == b->candy && a->rim == b->rim && a->round == b->round &&
           section_fits(&a->exact, &b->exact, 0.01);
}

static int order_numbers(long a, long b) {
    return a < b ? -1 : a > b;
}

/* By candy, whole before rim, shape, larger first, wider first; ties by the first rope's place. */
static int compare_types(const void *p, const void *q) {
    const RopeType *a = p, *b = q;
    int order = order_numbers(a->candy, b->candy);
    if (!order) order = order_numbers(a->rim, b->rim);
    if (!order) order = order_numbers(a->shape, b->shape);
    if (!order) order = order_numbers(b->area, a->area);
    if (!order)
        order =
            order_numbers(lround(section_wide(&b->section) * 100), lround(section_wide(&a->section) * 100));
    return order ? order : order_numbers(a->first, b->first);
}

/* Fills `type`, and Rope.type with the first rope of the type; returns how many types there are. */
static int list_types(const Cane *cane, const Grid *grid, LayUp *layup, RopeType *type) {
    int types = 0;
    for (int i = 0; i < layup->ropes; i++) {
        layup->rope[i].type = -1;
        if (layup->rope[i].trim) continue;
        RopeType own = type_of(layup, i, grid->core, cane->step_mm);
        int t = 0;
        while (t < types && !same_type(&type[t], &own)) t++;
        if (t == types) type[types++] = own;
        layup->rope[i].type = type[t].first;
    }
    return types;
}

/* Types in their order: Rope.type becomes the row, and the ropes of each are counted. */
static void number_ropes(const RopeType *type, LayUp *layup, Bill *bill) {
    int trims = 0;
    for (int i = 0; i < layup->ropes; i++) {
        Rope *rope = &layup->rope[i];
        if (rope->trim) {
            rope->serial = ++trims;
            continue;
        }
        int row = 0;
        while (type[row].first != rope->type) row++;
        rope->type = row;
        rope->serial = ++bill->rope[row].count;
    }
}

static void fill_rows(const RopeType *type, int types, const Cane *cane, const RopeGrams g_per_step2,
                      LayUp *layup, Bill *bill) {
    bill->rope_types = types;
    for (int i = 0; i < types; i++)
        bill->rope[i] = (RopeRow){.candy = type[i].candy,
                                  .shape = type[i].shape,
                                  .width_mm = section_wide(&type[i].section),
                                  .height_mm = section_high(&type[i].section),
                                  .section = type[i].section,
                                  .rim = type[i].rim,
                                  .length_each_mm = cane->log_length_mm};
    number_ropes(type, layup, bill);
    for (int i = 0; i < layup->ropes; i++) {
        const Rope *rope = &layup->rope[i];
        if (!rope->trim) bill->rope[rope->type].mass_g += rope->area * g_per_step2[rope->candy];
    }
    for (int i = 0; i < types; i++)
        bill->rope[i].total_length_m = bill->rope[i].count * bill->rope[i].length_each_mm / 1000;
}

static bool list_ropes(const Cane *cane, const Grid *grid, const RopeGrams g_per_step2, LayUp *layup,
                       Bill *bill, Err *err) {
    RopeType *type = mem_alloc((size_t)layup->ropes, sizeof *type, err);
    bill->rope = type ? mem_alloc((size_t)layup->ropes, sizeof *bill->rope, err) : NULL;
    if (bill->rope) {
        int types = list_types(cane, grid, layup, type);
        qsort(type, (size_t)types, sizeof *type, compare_types);
        fill_rows(type, types, cane, g_per_step2, layup, bill);
    }
    free(type);
    return bill->rope != NULL;
}

/* --- 3. materials --- */

static MaterialRow *cooked_row(Bill *bill, Candy candy) {
    for (int i = 0; i < bill->materials; i++)
        if (strcmp(bill->material[i].candy.name, candy.name) == 0) return &bill->material[i];
    bill->material[bill->materials] = (MaterialRow){.candy = candy};
    return &bill->material[bill->materials++];
}

static MaterialRow *blend_row(Bill *bill, const Candy *blend) {
    for (int i = 0; i < bill->blends; i++)
        if (blend_same(&bill->blend[i].whole.candy, blend)) return &bill->blend[i].whole;
    for (int i = 0; i < BLEND; i++) (void)cooked_row(bill, blend_candy(blend, i));
    bill->blend[bill->blends] = (BlendRow){.whole.candy = *blend};
    return &bill->blend[bill->blends++].whole;
}

/* The row of a candy, or, until its two have theirs, of a blend. */
static MaterialRow *material_of(Bill *bill, Candy candy) {
    return candy_is_blend(&candy) ? blend_row(bill, &candy) : cooked_row(bill, candy);
}

/* A blend's section and ends are those of its two candies. */
static void share_out_blends(Bill *bill) {
    for (int i = 0; i < bill->blends; i++) {
        const MaterialRow *whole = &bill->blend[i].whole;
        for (int k = 0; k < BLEND; k++) {
            MaterialRow *row = cooked_row(bill, blend_candy(&whole->candy, k));
            row->share_of_log += whole->share_of_log * blend_volume_share(&whole->candy, k);
            row->block_ends_g += whole->block_ends_g * blend_mass_share(&whole->candy, k);
        }
    }
}

static void fill_masses(const Cane *cane, const Shop *shop, MaterialRow *row) {
    row->volume_ml = row->share_of_log * cane->volume_ml * cane->logs;
    row->mass_g = row->volume_ml * row->candy.density_g_ml;
    row->with_spare_g = (row->mass_g + row->block_ends_g) * (1 + shop->spare_share);
}

/* Of a block as it is laid: what of each candy is put to what goes into it. */
static void add_own(const RopeGrams g_per_step2, const Block *block, const Blocks *blocks, const LayUp *layup,
                    double times, double g[INKS_MAX]) {
    for (int i = block->first_item; i < block->first_item + block->items; i++) {
        const Rope *rope = blocks->item[i].is_block ? NULL : &layup->rope[blocks->item[i].index];
        if (rope && !rope->trim) g[rope->candy] += rope->area * g_per_step2[rope->candy] * times;
    }
    for (int k = 0; k < block->wraps; k++) {
        const Wrap *sheet = &layup->wrap[block->wrap[k]];
        g[sheet->candy] += wrap_area(sheet) * g_per_step2[sheet->candy] * times;
    }
    const Rope *rest = block->kind == BLOCK_ROUND ? &layup->rope[block->rest] : NULL;
    if (rest) g[rest->candy] += rest->area * g_per_step2[rest->candy] * times;
}

/* A block that is drawn out is built longer by its ends: what is built, less what is laid, of all logs. */
static void add_block_ends(const Palette *palette, const Cane *cane, const RopeGrams g_per_step2,
                           const Blocks *blocks, const LayUp *layup, Bill *bill) {
    double extra_g[INKS_MAX] = {0};
    for (int b = 0; b < blocks->blocks; b++)
        add_own(g_per_step2, &blocks->block[b], blocks, layup, block_times(&blocks->block[b], cane), extra_g);
    for (int i = 0; i < layup->ropes && blocks->blocks > 0; i++) {
        const Rope *rope = &layup->rope[i];
        if (!rope->trim || rope->rest) extra_g[rope->candy] -= rope->area * g_per_step2[rope->candy];
    }
    for (int i = 0; i < layup->wraps; i++) {
        const Wrap *sheet = &layup->wrap[i];
        extra_g[sheet->candy] -= wrap_area(sheet) * g_per_step2[sheet->candy];
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
    for (int i = 0; i < layup->wraps; i++) {
        const Wrap *sheet = &layup->wrap[i];
        material_of(bill, palette->candy[sheet->candy])->share_of_log += wrap_area(sheet) * step2 / section;
    }
    for (int i = 0; i < bill->wraps; i++) {
        const WrapRow *row = &bill->wrap[i];
        if (row->kind != WRAP_RING && row->kind != WRAP_STRIPE) continue; /* counted above */
        material_of(bill, row->candy)->share_of_log +=
            row->count * row->thickness_mm * row->width_mm / section;
    }
    add_block_ends(palette, cane, g_per_step2, blocks, layup, bill);
    share_out_blends(bill);
    for (int i = 0; i < bill->materials; i++) {
        fill_masses(cane, shop, &bill->material[i]);
        bill->log_mass_g += bill->material[i].mass_g / cane->logs;
    }
    for (int i = 0; i < bill->blends; i++) {
        BlendRow *row = &bill->blend[i];
        fill_masses(cane, shop, &row->whole);
        for (int k = 0; k < BLEND; k++)
            row->part_g[k] = row->whole.with_spare_g * blend_mass_share(&row->whole.candy, k) / cane->logs;
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

static void count_work(const Blocks *blocks, const LayUp *layup, Bill *bill) {
    count_ropes(blocks, layup, bill);
    for (int b = 0; b < blocks->blocks; b++)
        bill->joins += block_joins(&blocks->block[b]) * blocks->block[b].builds;
}

/* --- 5. what the order comes to --- */

static Quote quote_of(const Order *order, const Cane *cane, const Bill *bill) {
    Quote q = {.spare_pieces = cane->pieces - order->pieces,
               .pieces_per_kg = 1000 / bill->piece_mass_g,
               .pieces_mass_g = bill->piece_mass_g * (double)order->pieces};
    for (int i = 0; i < bill->materials; i++) {
        int batches = bill->material[i].mass_g >= MATERIAL_LEAST_G ? cane->logs : 0;
        q.batches += batches;
        if (bill->material[i].candy.dyed) q.dyed += batches;
    }
    return q;
}

bool weigh(const Order *order, const Palette *palette, const Cane *cane, const Grid *grid, const Shop *shop,
           const Blocks *blocks, LayUp *layup, Bill *out, Err *err) {
    Bill bill = {0};
    RopeGrams g_per_step2 = {0};
    for (int k = 0; k < palette->count; k++)
        g_per_step2[k] = pow(cane->step_mm, 2) * cane->log_length_mm / 1000 * palette->candy[k].density_g_ml;
    if (!list_ropes(cane, grid, g_per_step2, layup, &bill, err) ||
        !list_sheets(palette, cane, grid, g_per_step2, blocks, layup, &bill, err)) {
        bill_free(&bill);
        return false;
    }
    list_materials(palette, cane, shop, g_per_step2, blocks, layup, &bill);
    count_work(blocks, layup, &bill);
    bill.quote = quote_of(order, cane, &bill);
    *out = bill;
    return true;
}
