/* How long a cylinder takes to cool. SPDX-License-Identifier: MIT
 *
 * Finite volumes: CELLS shells of equal thickness, the temperature of each in its middle.
 * 1. The step of time is a fixed part of a guess at the whole: the time of a cylinder without a gradient, and
 * that which the warmth needs to find its way out; never more of it than an e-th of the warmth takes.
 * 2. Each step is implicit (backward Euler): stable whatever its length. The loss at the surface is that of
 * the surface temperature one step before.
 * 3. The middle, r = 0, is drawn from the two innermost shells by the parabola that is level there; the
 * moment lies between two steps, by a straight line. Invariants: same numbers in, same out; the middle never
 * warms. Cost: about 300 steps of CELLS shells each, 0.1 ms. Source: H. K. Versteeg & W. Malalasekera, "An
 * Introduction to Computational Fluid Dynamics", ch. 4 and 8, from memory. */
#include "bench/cylinder.h"

#include "base/geom.h"

#include <assert.h>
#include <math.h>

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

/* --- the shells --- */

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

/* From the outermost shell to the room, W/K per metre; the surface lies between. */
static double outward(const Cylinder *c, const Shells *s, double surface) {
    double transfer = c->transfer_w_m2k;
    if (transfer <= 0) transfer = heat_loss_w_m2k(2 * c->radius_m, c->room_c + surface, c->room_c);
    double film = transfer * s->rim_m;
    return film * s->link[CELLS - 1] / (film + s->link[CELLS - 1]);
}

/* 2. Three diagonals, solved from the middle outwards and back. */
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

/* 3. The shells' middles lie at 1/2 and 3/2 thicknesses: t = a + b r^2 through both, at r = 0. */
static double middle(const Shells *s) {
    return s->t[0] + (s->t[0] - s->t[1]) / 8;
}

/* 1. */
static double time_step(const Cylinder *c, double share) {
    double transfer = c->transfer_w_m2k;
    if (transfer <= 0) transfer = heat_loss_w_m2k(2 * c->radius_m, c->start_c, c->room_c);
    double lumped = c->capacity_j_m3k * c->radius_m / (2 * transfer);
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
