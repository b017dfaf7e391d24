/* Heat that a lying cylinder loses to still air. SPDX-License-Identifier: MIT
 *
 * All properties are taken at the film's temperature, midway between surface and room. */
#include "bench/heat_loss.h"

#include <math.h>

typedef struct Air {
    double kelvin;
    double viscosity;    /* kinematic, m2/s */
    double conductivity; /* W/m K */
    double diffusivity;  /* of heat, m2/s */
    double prandtl;
} Air;

/* Dry air at 1 atm: Incropera & DeWitt, table A.4, from memory. */
static const Air table[] = {{250, 11.44e-6, 22.3e-3, 15.9e-6, 0.720},
                            {300, 15.89e-6, 26.3e-3, 22.5e-6, 0.707},
                            {350, 20.92e-6, 30.0e-3, 29.9e-6, 0.700},
                            {400, 26.41e-6, 33.8e-3, 38.3e-6, 0.690}};

static double between(double a, double b, double share) {
    return a + (b - a) * share;
}

static Air air_at(double kelvin) {
    int i = kelvin < table[1].kelvin ? 0 : kelvin < table[2].kelvin ? 1 : 2;
    const Air *a = &table[i], *b = &table[i + 1];
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
