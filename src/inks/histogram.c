/* A histogram of tints and its main colours. SPDX-License-Identifier: MIT
 *
 * Main colours: a greedy cover. Each seed (the heaviest bin left) is moved once, to the weighted mean of the
 * bins within SETTLE of it, so that the colour does not depend on where the bins' walls are. Cost: swatches x
 * bins; a bin far off in OKLab is passed over without CIEDE2000. */
#include "inks/steps.h"

#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

enum {
    OPAQUE = KEY_PLANES - 1,
    PLANE_BITS = 5,
    PLANE = 1 << 15, /* keys */
    /* Bins looked at for main colours, all seeds together; then no more colours are sought. Of 130 drawn
       pictures and photographs none took over 33 000; noise in colour and transparency has a million bins for
       each seed. */
    LOOKS_MOST = 2000000
};

#define SETTLE 3.0 /* CIEDE2000 */
/* Of `least`: a lighter bin starts no colour. Within reach lie at most some dozens of bins. */
#define SEED_LEAST 0.02

bool histogram_new(Histogram *out, Err *err) {
    Histogram h = {0};
    if (!(h.at[OPAQUE] = mem_alloc(PLANE, sizeof *h.at[OPAQUE], err))) return false;
    *out = h;
    return true;
}

void histogram_free(Histogram *h) {
    for (int i = 0; i < KEY_PLANES; i++) free(h->at[i]);
    free(h->bin);
    *h = (Histogram){0};
}

static int key_of(const uint8_t rgba[4]) {
    int a = rgba[3];
    if (a == 255) return rgba[0] >> 3 << 15 | rgba[1] >> 3 << 10 | rgba[2] >> 3 << 5 | 31;
    return rgba[0] * a / 255 >> 3 << 15 | rgba[1] * a / 255 >> 3 << 10 | rgba[2] * a / 255 >> 3 << 5 | a >> 3;
}

/* The bin of the pixel, + 1; 0: none. */
static int32_t bin_of(const Histogram *h, const uint8_t rgba[4]) {
    const int key = key_of(rgba);
    const int32_t *plane = h->at[key % KEY_PLANES];
    return plane ? plane[key >> PLANE_BITS] : 0;
}

Bin *histogram_add(Histogram *h, const uint8_t rgba[4], const Tint *tint, double weight, Err *err) {
    const int key = key_of(rgba);
    int32_t **plane = &h->at[key % KEY_PLANES];
    if (!*plane && !(*plane = mem_alloc(PLANE, sizeof **plane, err))) return NULL;
    int32_t *at = &(*plane)[key >> PLANE_BITS];
    if (*at == 0) {
        Bin *grown = mem_grow(h->bin, &h->capacity, h->count + 1, sizeof *h->bin, err);
        if (!grown) return NULL;
        h->bin = grown;
        h->bin[h->count] = (Bin){.key = key};
        *at = (int32_t)++h->count;
    }
    Bin *bin = &h->bin[*at - 1];
    bin->weight += weight;
    for (int i = 0; i < 4; i++) bin->sum[i] += weight * (double)tint->linear[i];
    return bin;
}

static Tint mean_of(const double sum[4], double weight) {
    float linear[4];
    for (int i = 0; i < 4; i++) linear[i] = (float)(sum[i] / weight);
    return tint_of_linear(linear);
}

void histogram_means(Histogram *h) {
    for (size_t i = 0; i < h->count; i++) h->bin[i].mean = mean_of(h->bin[i].sum, h->bin[i].weight);
}

size_t histogram_bin(const Histogram *h, const uint8_t rgba[4]) {
    return (size_t)bin_of(h, rgba) - 1;
}

/* A bin as the start of a colour. */
typedef struct Seed {
    double weight; /* the bin's */
    int key;       /* the bin's: no two have the same */
    size_t bin;    /* its index */
} Seed;

/* Heaviest first, then by colour: the order in which pixels came changes nothing. */
static int compare_seeds(const void *p, const void *q) {
    const Seed *a = p, *b = q;
    if (a->weight != b->weight) return a->weight > b->weight ? -1 : 1;
    return a->key < b->key ? -1 : a->key > b->key;
}

/* The weighted mean of the free bins within `reach` of `from`; *weight what they hold. */
static Tint gather(const Histogram *h, const bool *taken, const Tint *from, double reach, double *weight) {
    double sum[4] = {0};
    *weight = 0;
    for (size_t i = 0; i < h->count; i++) {
        const Bin *bin = &h->bin[i];
        if (taken[i] || !tint_within(&bin->mean, from, reach)) continue;
        *weight += bin->weight;
        for (int k = 0; k < 4; k++) sum[k] += bin->sum[k];
    }
    return *weight > 0 ? mean_of(sum, *weight) : *from;
}

static void take(const Histogram *h, bool *taken, const Tint *from, double reach) {
    for (size_t i = 0; i < h->count; i++)
        if (!taken[i] && tint_within(&h->bin[i].mean, from, reach)) taken[i] = true;
}

static void cover(const Histogram *h, const Seed *seed, bool *taken, double reach, double least,
                  Swatches *found) {
    size_t looks = 0;
    for (int k = 0; k < found->count; k++) take(h, taken, &found->tint[k], reach);
    for (size_t i = 0; i < h->count && found->count < SWATCHES_MAX && looks < LOOKS_MOST; i++) {
        if (seed[i].weight < least * SEED_LEAST) return;
        if (taken[seed[i].bin]) continue;
        looks += h->count;
        double weight;
        Tint centre = gather(h, taken, &h->bin[seed[i].bin].mean, SETTLE, &weight);
        (void)gather(h, taken, &centre, reach, &weight);
        taken[seed[i].bin] = true;
        take(h, taken, &centre, reach);
        if (weight >= least) found->tint[found->count++] = centre;
    }
}

bool histogram_swatches(Histogram *h, double reach, double least, Swatches *found, Err *err) {
    Seed *seed = mem_alloc(h->count, sizeof *seed, err);
    bool *taken = seed ? mem_alloc(h->count, sizeof *taken, err) : NULL;
    if (taken) {
        histogram_means(h);
        for (size_t i = 0; i < h->count; i++) seed[i] = (Seed){h->bin[i].weight, h->bin[i].key, i};
        qsort(seed, h->count, sizeof *seed, compare_seeds);
        cover(h, seed, taken, reach, least, found);
    }
    free(seed);
    free(taken);
    return taken != NULL;
}

int tint_nearest(const Tint *tint, const Swatches *swatches) {
    int nearest = 0;
    float least = tint_near(tint, &swatches->tint[0]);
    for (int k = 1; k < swatches->count; k++) {
        float near = tint_near(tint, &swatches->tint[k]);
        if (near < least) {
            least = near;
            nearest = k;
        }
    }
    return nearest;
}

void histogram_nearest(Histogram *h, const Swatches *swatches) {
    for (size_t i = 0; i < h->count; i++) h->bin[i].swatch = (uint8_t)tint_nearest(&h->bin[i].mean, swatches);
}

int histogram_swatch(const Histogram *h, const uint8_t rgba[4]) {
    const int32_t at = bin_of(h, rgba);
    return at ? h->bin[at - 1].swatch : SWATCHES_MAX;
}
