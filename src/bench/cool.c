/* How long candy stays workable. SPDX-License-Identifier: MIT
 *
 * 1. A section becomes the round one with as much surface for its volume: diameter 4 * area / perimeter.
 * Exact for a thin rope, which is as warm all through; a flat block's middle cools a little later than this
 * says.
 * 2. Its middle falls from the joining to the working temperature of the shop, in still air of its room. The
 * loss at the surface depends on the surface's own temperature, and is asked for anew at each step.
 * 3. Pulled candy holds air: conductivity * (1 - 1.5 * its share).
 * 4. The softness of two ropes that differ by a few degrees: the Williams-Landel-Ferry equation, either side
 * of the joining temperature. Absolute viscosities are good to a factor of 3 only, so none is given.
 * Blocks and the log count as if of the log's mean density. Cost: each distinct size once, 0.1 ms.
 * Rim ropes count as the strips they are listed as, blocks and the log as their boxes: a block's is the box
 * of what lies inside the core. Sources: specific heat and conductivity computed with Choi & Okos 1986 at 80
 * C and 2 % water, their coefficients from memory; 3: Maxwell, from memory; 4: form as in Berk, Food Process
 * Engineering and Technology, 2009, eq. 1.15, glass transition of finished candy 40 C (28-49): Kawai et al.,
 * J. Appl. Glycosci. 66 (2019) 89-96. */
#include "bench/bench.h"

#include "base/geom.h"
#include "base/mem.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

static const double specific_heat = 1720, conductivity = 0.297; /* J/kg K, W/m K */
static const double solid_g_ml = 1.50;                          /* clear candy; literature, from memory */
static const double glass_c = 40, mismatch_c = 5;

/* --- what the surface loses to still air; the film of air is as warm as midway between --- */

typedef struct Air {
    double kelvin;
    double viscosity;    /* kinematic, m2/s */
    double conductivity; /* W/m K */
    double diffusivity;  /* of heat, m2/s */
    double prandtl;
} Air;

/* Dry air at 1 atm: Incropera & DeWitt, table A.4, from memory. */
static const Air air_table[] = {{250, 11.44e-6, 22.3e-3, 15.9e-6, 0.720},
                                {300, 15.89e-6, 26.3e-3, 22.5e-6, 0.707},
                                {350, 20.92e-6, 30.0e-3, 29.9e-6, 0.700},
                                {400, 26.41e-6, 33.8e-3, 38.3e-6, 0.690}};

static double between(double a, double b, double share) {
    return a + (b - a) * share;
}

static Air air_at(double kelvin) {
    int i = kelvin < air_table[1].kelvin ? 0 : kelvin < air_table[2].kelvin ? 1 : 2;
    const Air *a = &air_table[i], *b = &air_table[i + 1];
    double share = (kelvin - a->kelvin) / (b->kelvin - a->kelvin);
    return (Air){kelvin, between(a->viscosity, b->viscosity, share),
                 between(a->conductivity, b->conductivity, share),
                 between(a->diffusivity, b->diffusivity, share), between(a->prandtl, b->prandtl, share)};
}

static double by_convection(double diameter_m, double surface_k, double room_k) {
    double film_k = (surface_k + room_k) / 2;
    Air air = air_at(film_k);
    double rayleigh = 9.80665 / film_k * fmax(surface_k - room_k, 0) * pow(diameter_m, 3) /
                      (air.viscosity * air.diffusivity);
    double root =
        0.60 + 0.387 * pow(rayleigh, 1.0 / 6) / pow(1 + pow(0.559 / air.prandtl, 9.0 / 16), 8.0 / 27);
    return root * root * air.conductivity / diameter_m;
}

static double by_radiation(double surface_k, double room_k) {
    const double stefan_boltzmann = 5.670374419e-8 /* W/m2 K4, CODATA 2018 */, emissivity = 0.9;
    return emissivity * stefan_boltzmann * (surface_k + room_k) * (surface_k * surface_k + room_k * room_k);
}

double heat_loss_w_m2k(double diameter_m, double surface_c, double room_c) {
    double surface_k = surface_c + 273.15, room_k = room_c + 273.15;
    return by_convection(diameter_m, surface_k, room_k) + by_radiation(surface_k, room_k);
}

/* --- the shells of a cylinder: finite volumes, CELLS of equal thickness, the temperature of each in its
 * middle ---
 *
 * a. The step of time is a fixed part of a guess at the whole: the time of a cylinder without a gradient, and
 * that which the warmth needs to find its way out; never more of it than an e-th of the warmth takes.
 * b. Each step is implicit (backward Euler): stable whatever its length. The loss at the surface is that of
 * the surface temperature one step before.
 * c. The middle, r = 0, is drawn from the two innermost shells by the parabola that is level there; the
 * moment lies between two steps, by a straight line. Invariants: same numbers in, same out; the middle never
 * warms. Cost: about 300 steps of CELLS shells each, 0.1 ms. Source: H. K. Versteeg & W. Malalasekera, "An
 * Introduction to Computational Fluid Dynamics", ch. 4 and 8, from memory. */

enum { CELLS = 24, STEPS = 250, STEPS_CAP = 100 * STEPS };

typedef struct Shells {
    double t[CELLS];    /* temperature above the room's */
    double gain[CELLS]; /* J/K per metre of length */
    double link[CELLS]; /* W/K per metre, between a shell and the next; the last: from its middle to the
                           surface */
    double rim_m;       /* of the surface, 2 pi R */
} Shells;

static Shells divide(const Cylinder *c) {
    double thick = c->radius_m / CELLS;
    Shells s = {.rim_m = 2 * PI * c->radius_m};
    for (int i = 0; i < CELLS; i++) {
        double inner = i * thick, outer = (i + 1) * thick, way = i + 1 < CELLS ? thick : thick / 2;
        s.t[i] = c->start_c - c->room_c;
        s.gain[i] = c->capacity_j_m3k * PI * (outer * outer - inner * inner);
        s.link[i] = c->conductivity_w_mk * 2 * PI * outer / way;
    }
    return s;
}

/* What the surface loses, W/m2 K. */
static double transfer(const Cylinder *c, double surface_c) {
    if (c->transfer_w_m2k > 0) return c->transfer_w_m2k;
    return heat_loss_w_m2k(2 * c->radius_m, surface_c, c->room_c);
}

/* From the outermost shell to the room, W/K per metre; the surface lies between. */
static double outward(const Cylinder *c, const Shells *s, double surface) {
    double film = transfer(c, c->room_c + surface) * s->rim_m;
    return film * s->link[CELLS - 1] / (film + s->link[CELLS - 1]);
}

/* b. Three diagonals, solved from the middle outwards and back. */
static void advance(Shells *s, double out, double seconds) {
    double over[CELLS], right[CELLS], before = 0;
    for (int i = 0; i < CELLS; i++) {
        double inner = i > 0 ? s->link[i - 1] : 0, outer = i + 1 < CELLS ? s->link[i] : 0;
        double own = s->gain[i] / seconds, diagonal = own + inner + (i + 1 < CELLS ? outer : out);
        double pivot = diagonal - inner * before;
        right[i] = (own * s->t[i] + inner * (i > 0 ? right[i - 1] : 0)) / pivot;
        over[i] = before = outer / pivot;
    }
    s->t[CELLS - 1] = right[CELLS - 1];
    for (int i = CELLS - 2; i >= 0; i--) s->t[i] = right[i] + over[i] * s->t[i + 1];
}

/* c. The shells' middles lie at 1/2 and 3/2 thicknesses: t = a + b r^2 through both, at r = 0. */
static double middle(const Shells *s) {
    return s->t[0] + (s->t[0] - s->t[1]) / 8;
}

/* a. */
static double time_step(const Cylinder *c, double share) {
    double lumped = c->capacity_j_m3k * c->radius_m / (2 * transfer(c, c->start_c));
    double inside = c->capacity_j_m3k * c->radius_m * c->radius_m / (5.783 * c->conductivity_w_mk);
    return (lumped + inside) * fmin(fmax(-log(share), 0.05), 1) / STEPS;
}

double cylinder_seconds(const Cylinder *cylinder, double middle_c) {
    assert(cylinder->radius_m > 0);
    assert(middle_c > cylinder->room_c && middle_c < cylinder->start_c);
    Shells s = divide(cylinder);
    double goal = middle_c - cylinder->room_c, surface = s.t[0], last = s.t[0];
    double seconds = time_step(cylinder, goal / s.t[0]);
    for (int step = 1; step <= STEPS_CAP; step++) {
        double out = outward(cylinder, &s, surface);
        advance(&s, out, seconds);
        surface = s.t[CELLS - 1] * (1 - out / s.link[CELLS - 1]);
        double now = middle(&s);
        if (now <= goal) return seconds * (step - 1 + (last - goal) / (last - now));
        last = now;
    }
    return seconds * STEPS_CAP;
}

/* --- ropes, blocks, log --- */

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

/* 1. A square counts as its own circle. */
static Warmth warmth_of(Cooler *cooler, double area, double perimeter, double density_g_ml) {
    Warmth warmth = {.diameter_mm = 4 * area / perimeter};
    warmth.seconds = seconds_of(cooler, warmth.diameter_mm, density_g_ml);
    return warmth;
}

static Warmth warmth_of_box(Cooler *cooler, double width_mm, double height_mm, double density_g_ml) {
    Warmth warmth = warmth_of(cooler, width_mm * height_mm, 2 * (width_mm + height_mm), density_g_ml);
    warmth.width_mm = width_mm;
    warmth.height_mm = height_mm;
    return warmth;
}

static Warmth warmth_of_rope(Cooler *cooler, const Palette *palette, const RopeRow *row, double scale) {
    double density_g_ml = palette->candy[row->candy].density_g_ml;
    double width_mm = row->width_mm * scale, height_mm = row->height_mm * scale;
    if (row->shape == SHAPE_STRIP || row->shape == SHAPE_ROUND) /* a disc cools as its square does */
        return warmth_of_box(cooler, width_mm, height_mm, density_g_ml);
    double area = outline_area(&row->section) * scale * scale;
    Warmth warmth = warmth_of(cooler, area, section_perimeter(&row->section) * scale, density_g_ml);
    warmth.width_mm = width_mm;
    warmth.height_mm = height_mm;
    return warmth;
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
        int *first = &heat->first[rope_kind(&bill->rope[i])];
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
        heat->block[i] = warmth_of_box(cooler, (block->high.x - block->low.x) * mm,
                                       (block->high.y - block->low.y) * mm, density_g_ml);
    }
    heat->log = warmth_of_box(cooler, cane->log_diameter_mm, cane->log_diameter_mm, density_g_ml);
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
