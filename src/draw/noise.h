/* Noise with a seed of its own: chance for pictures, the same on every run. SPDX-License-Identifier: MIT */
#ifndef LOGOCANE_NOISE_H
#define LOGOCANE_NOISE_H

#include <stdint.h>

enum { NOISE_SIDE = 128 }; /* a power of two */

/* A lattice of chance values that repeats after NOISE_SIDE cells each way. */
typedef struct Noise {
    float value[NOISE_SIDE * NOISE_SIDE]; /* -1..1, mean about 0 */
} Noise;

/* A number that looks like chance, from two numbers (a finalizer of xor-shifts and products). */
uint32_t chance(uint32_t seed, uint32_t number);

/* The same as a number 0..1 (1 left out), and as one low..high. */
double chance_unit(uint32_t seed, uint32_t number);
double chance_between(uint32_t seed, uint32_t number, double low, double high);

void noise_fill(Noise *noise, uint32_t seed);

/* The noise at a point, in cells of the lattice, -1..1; smooth (cubic between the lattice points). |x|, |y| <
 * 1e6. */
float noise_at(const Noise *noise, float x, float y);

#endif
