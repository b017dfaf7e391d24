/* How long candy stays workable. SPDX-License-Identifier: MIT
 *
 * 1. A section becomes the round one with as much surface for its volume: diameter 4 * area / perimeter.
 * Exact for a thin rope, which is as warm all through; a flat block's middle cools a little later than this
 * says.
 * 2. Its middle falls from the joining to the working temperature of the shop, in still air of its room
 * (cylinder.h). The loss at the surface depends on the surface's own temperature, and is asked for anew at
 * each step.
 * 3. Pulled candy holds air: conductivity * (1 - 1.5 * its share).
 * 4. The softness of two ropes that differ by a few degrees: the Williams-Landel-Ferry equation, either side
 * of the joining temperature. Absolute viscosities are good to a factor of 3 only, so none is given.
 * Blocks and the log count as if of the log's mean density. Cost: each distinct size once, 0.1 ms.
 * For whoever gives sections other outlines: only warmth_of knows area and perimeter, of a box or of half of
 * one. Rim ropes, blocks and the log count as their boxes: a block's is the box of what lies inside the core.
 * Sources: specific heat and conductivity computed with Choi & Okos 1986 at 80 C and 2 % water, their
 * coefficients from memory; 3: Maxwell, from memory; 4: form as in Berk, Food Process Engineering and
 * Technology, 2009, eq. 1.15, glass transition of finished candy 40 C (28-49): Kawai et al., J. Appl.
 * Glycosci. 66 (2019) 89-96. */
#include "bench/bench.h"

#include "bench/cylinder.h"
#include "base/geom.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static const double specific_heat = 1720, conductivity = 0.297; /* J/kg K, W/m K */
static const double solid_g_ml = 1.50;                          /* clear candy; literature, from memory */
static const double glass_c = 40, mismatch_c = 5;

/* A size that was worked out. */
typedef struct Size {
    double diameter_mm, density_g_ml, seconds;
} Size;

typedef struct Cooler {
    const Shop *shop;
    int sizes;
    Size *size; /* room for every rope, pull, block and the log */
} Cooler;

/* 2 and 3. */
static double work_out(const Shop *shop, double diameter_mm, double density_g_ml) {
    double air = fmax(0, 1 - density_g_ml / solid_g_ml);
    Cylinder c = {.radius_m = diameter_mm / 2000,
                  .conductivity_w_mk = conductivity * (1 - 1.5 * air),
                  .capacity_j_m3k = density_g_ml * 1000 * specific_heat,
                  .start_c = shop->joining_c,
                  .room_c = shop->room_c};
    return cylinder_seconds(&c, shop->working_c);
}

/* Known sizes are not worked out again. */
static double seconds_of(Cooler *cooler, double diameter_mm, double density_g_ml) {
    for (int i = 0; i < cooler->sizes; i++) {
        const Size *size = &cooler->size[i];
        if (size->diameter_mm == diameter_mm && size->density_g_ml == density_g_ml) return size->seconds;
    }
    double seconds = work_out(cooler->shop, diameter_mm, density_g_ml);
    cooler->size[cooler->sizes++] = (Size){diameter_mm, density_g_ml, seconds};
    return seconds;
}

/* 1. Of a strip, or of half of one cut from corner to corner. A square counts as its own circle. */
static Warmth warmth_of(Cooler *cooler, Shape shape, double width_mm, double height_mm, double density_g_ml) {
    double area = width_mm * height_mm, round = 2 * (width_mm + height_mm);
    if (shape == SHAPE_WEDGE) {
        area /= 2;
        round = width_mm + height_mm + hypot(width_mm, height_mm);
    }
    Warmth warmth = {.diameter_mm = 4 * area / round, .width_mm = width_mm, .height_mm = height_mm};
    warmth.seconds = seconds_of(cooler, warmth.diameter_mm, density_g_ml);
    return warmth;
}

static Warmth warmth_of_rope(Cooler *cooler, const Palette *palette, const RopeRow *row, double scale) {
    return warmth_of(cooler, row->shape, row->width_mm * scale, row->height_mm * scale,
                     palette->candy[row->candy].density_g_ml);
}

/* A type that is not pulled by itself (all of it is cut from copies) counts by its size in the log. */
static void cool_ropes(Cooler *cooler, const Palette *palette, const Bill *bill, Heat *heat) {
    for (int i = 0; i < bill->pulls; i++) {
        const Pull *pull = &bill->pull[i];
        Warmth *rope = &heat->rope[pull->type];
        heat->pull[i] = warmth_of_rope(cooler, palette, &bill->rope[pull->type], pull->scale);
        if (rope->seconds == 0 || heat->pull[i].seconds < rope->seconds) *rope = heat->pull[i];
    }
    for (int k = 0; k < ROPE_KINDS; k++) heat->first[k] = -1;
    for (int i = 0; i < bill->rope_types; i++) {
        bool wedge = bill->rope[i].shape == SHAPE_WEDGE;
        int *first = &heat->first[bill->rope[i].rim ? KIND_RIM : wedge ? KIND_WEDGE : KIND_STRIP];
        if (heat->rope[i].seconds == 0) heat->rope[i] = warmth_of_rope(cooler, palette, &bill->rope[i], 1);
        if (*first < 0 || heat->rope[i].seconds < heat->rope[*first].seconds) *first = i;
    }
}

static void cool_blocks(Cooler *cooler, const Cane *cane, const Blocks *blocks, const Bill *bill,
                        Heat *heat) {
    double density_g_ml = bill->log_mass_g / cane->volume_ml;
    for (int i = 0; i < blocks->blocks; i++) {
        const Block *block = &blocks->block[i];
        double mm = cane->step_mm * block->scale;
        heat->block[i] = warmth_of(cooler, SHAPE_STRIP, (block->high.x - block->low.x) * mm,
                                   (block->high.y - block->low.y) * mm, density_g_ml);
    }
    heat->log = warmth_of(cooler, SHAPE_STRIP, cane->log_diameter_mm, cane->log_diameter_mm, density_g_ml);
}

/* 4. The logarithm of the viscosity, without its own zero. */
static double hardness(double celsius) {
    double above = celsius - glass_c;
    return -17.44 * above / (51.6 + above);
}

bool cool(const Palette *palette, const Cane *cane, const Shop *shop, const Blocks *blocks, const Bill *bill,
          Heat *out, Err *err) {
    Heat heat = {
        .ropes = bill->rope_types, .pulls = bill->pulls, .blocks = blocks->blocks, .uneven_c = mismatch_c};
    Cooler cooler = {.shop = shop};
    size_t most = (size_t)heat.ropes + (size_t)heat.pulls + (size_t)heat.blocks + 1;
    cooler.size = mem_alloc(most, sizeof *cooler.size, err);
    bool good = cooler.size && (heat.rope = mem_alloc((size_t)heat.ropes, sizeof *heat.rope, err)) &&
                (heat.pull = mem_alloc((size_t)heat.pulls, sizeof *heat.pull, err)) &&
                (heat.block = mem_alloc((size_t)heat.blocks, sizeof *heat.block, err));
    if (good) {
        cool_ropes(&cooler, palette, bill, &heat);
        cool_blocks(&cooler, cane, blocks, bill, &heat);
        heat.uneven_ratio =
            pow(10, hardness(shop->joining_c - mismatch_c / 2) - hardness(shop->joining_c + mismatch_c / 2));
        *out = heat;
    } else {
        heat_free(&heat);
    }
    free(cooler.size);
    return good;
}
