/* Noise with a seed of its own. SPDX-License-Identifier: MIT */
#include "draw/noise.h"

uint32_t chance(uint32_t seed, uint32_t number) {
    uint32_t h = seed * 0x9e3779b9u ^ (number + 0x7f4a7c15u) * 0x85ebca6bu;
    h = (h ^ h >> 16) * 0x85ebca6bu;
    h = (h ^ h >> 13) * 0xc2b2ae35u;
    return h ^ h >> 16;
}

double chance_unit(uint32_t seed, uint32_t number) {
    return chance(seed, number) / 4294967296.0;
}

double chance_between(uint32_t seed, uint32_t number, double low, double high) {
    return low + (high - low) * chance_unit(seed, number);
}

void noise_fill(Noise *noise, uint32_t seed) {
    for (uint32_t i = 0; i < NOISE_SIDE * NOISE_SIDE; i++)
        noise->value[i] = (float)chance_between(seed, i, -1, 1);
}

float noise_at(const Noise *noise, float x, float y) {
    /* Rounded down, but for whole negative numbers: there u or v is 1 in place of 0, which gives the same. */
    int ix = (int)x - (x < 0), iy = (int)y - (y < 0);
    float u = x - (float)ix, v = y - (float)iy;
    u = u * u * (3 - 2 * u);
    v = v * v * (3 - 2 * v);
    int x0 = ix & (NOISE_SIDE - 1), x1 = (ix + 1) & (NOISE_SIDE - 1);
    const float *upper = noise->value + (iy & (NOISE_SIDE - 1)) * NOISE_SIDE;
    const float *lower = noise->value + ((iy + 1) & (NOISE_SIDE - 1)) * NOISE_SIDE;
    float top = upper[x0] + u * (upper[x1] - upper[x0]), bottom = lower[x0] + u * (lower[x1] - lower[x0]);
    return top + v * (bottom - top);
}
