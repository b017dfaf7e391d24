/* The main colours of a picture. SPDX-License-Identifier: MIT
 *
 * 1. The main colours of the histogram, each pixel weighed by how flat it lies (histogram.c, labelling.c).
 * 2. All is labelled; what holds under LEAST of the unmixed pixels goes, and so do the grain of an even
 * colour and the wide soft edge between two; what is left is labelled again, until nothing goes.
 * 3. Edge pixels that are neither flat, pure nor mixes vote: where they agree on a colour it is a swatch too;
 * then step 2 again. A soft-edged stroke a pixel or so wide shows its own colour in few pixels; the others
 * are its mixes with what lies on either side. So a colour is judged by all it would explain:
 *   a. Loose pixels are gathered in bins, each with the set of colours seen around its pixels (Bin.around).
 *   b. Of the bins that stand out most (weight times squared distance from what is around), the one is taken
 *   that explains most: bins within SWATCH_REACH of it, and its mixes with one or two colours around them. Of
 *   those that explain nearly as much, the heaviest.
 *   c. What it explains is struck out; again, until nothing explains the least that makes an ink.
 * Cost: at most TRIED x VOTES mixes a colour that is voted for. */
#include "inks/steps.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LEAST 0.003 /* of the unmixed pixels: a smaller colour is no ink */

/* Of the histogram's weight. Thin strokes have few flat pixels; LEAST decides later. */
#define SWATCH_LEAST 0.0005

/* What JPEG does at quality 40, measured on our own pictures: its noise strays up to CIEDE2000 12 from a flat
 * colour; at most 0.02 of the noise's pixels are exactly like their neighbours, of a flat colour's pixels 0.5
 * and more; a twentieth to a half of the flat pixels are grainy, and up to 0.6 % of all agree by chance on
 * some colour. */
#define GRAIN_REACH 12.0
#define GRAIN_EVEN 0.05
#define FLAT_EVEN 0.3
#define GRAIN_VOTES 10.0

#define AS_GOOD 0.95 /* explaining this share of the most is as good */

enum {
    ROUNDS = 4,
    EVEN = 8,       /* px that are counted together */
    CALM = 12,      /* of Labelling.rough: about two grey values */
    VOTES = 160,    /* bins that are looked at: those that stand out most */
    TRIED = 32,     /* of these as the colour that explains others */
    AROUND_MOST = 4 /* colours around a bin: more are not tried in mixes */
};

/* --- steps 1 and 2 --- */

static bool first_swatches(Labelling *l, Err *err) {
    double weight = 0;
    for (size_t i = 0; i < l->histogram.count; i++) weight += l->histogram.bin[i].weight;
    if (!histogram_swatches(&l->histogram, SWATCH_REACH, weight * SWATCH_LEAST, &l->swatches, err))
        return false;
    if (l->swatches.count > 0) return true;
    return histogram_swatches(&l->histogram, SWATCH_REACH, 0, &l->swatches, err);
}

/* What each swatch holds: unmixed pixels, and how many are exactly like their neighbours, and nearly so. */
typedef struct Holdings {
    double unmixed, flat, all_even;             /* px of the picture; flat and all_even: of whatever swatch */
    double held[SWATCHES_MAX];                  /* px */
    int even[SWATCHES_MAX], calm[SWATCHES_MAX]; /* px */
} Holdings;

/* Are the EVEN pixels from i on of one label and kind, and exactly like their neighbours? */
static bool goes_on_even(const Labelling *l, size_t i) {
    static const uint8_t none[EVEN] = {0};
    return i + EVEN < l->pixels && memcmp(l->rough + i, none, EVEN) == 0 &&
           memcmp(l->label + i, l->label + i + 1, EVEN - 1) == 0 &&
           memcmp(l->kind + i, l->kind + i + 1, EVEN - 1) == 0;
}

/* A thin stroke may have no flat pixel at all: a colour that only votes found holds its mixes too. */
static Holdings count_holdings(const Labelling *l, uint64_t voted) {
    Holdings n = {0};
    int kind[SWATCHES_MAX][PIXEL_LOOSE + 1] = {{0}};
    for (size_t i = 0; i < l->pixels; i++) {
        int k = l->label[i];
        if (goes_on_even(l, i)) {
            kind[k][l->kind[i]] += EVEN;
            n.calm[k] += EVEN;
            n.even[k] += EVEN;
            i += EVEN - 1;
            continue;
        }
        kind[k][l->kind[i]]++;
        if (l->rough[i] >= CALM) continue;
        n.calm[k]++;
        n.even[k] += l->rough[i] == 0;
    }
    for (int k = 0; k < SWATCHES_MAX; k++) {
        n.held[k] = kind[k][PIXEL_FLAT] + kind[k][PIXEL_PURE];
        n.unmixed += n.held[k] + kind[k][PIXEL_LOOSE];
        n.flat += kind[k][PIXEL_FLAT];
        n.all_even += n.even[k];
        if (voted >> k & 1) n.held[k] += kind[k][PIXEL_MIX];
    }
    return n;
}

/* Is swatch k only grain of an even one near it, such as JPEG leaves round edges? */
static bool is_grain(const Labelling *l, const Holdings *n, int k) {
    if (n->even[k] > GRAIN_EVEN * n->held[k]) return false;
    for (int j = 0; j < l->swatches.count; j++)
        if (n->held[j] > n->held[k] && n->even[j] > FLAT_EVEN * n->held[j] &&
            tint_within(&l->swatches.tint[k], &l->swatches.tint[j], GRAIN_REACH))
            return true;
    return false;
}

/* Is swatch k only the soft edge between two larger ones, wider than the window that looks for mixes? JPEG's
 * hue runs out like that. Such a swatch has no calm pixel, while what it lies between has. */
static bool is_halo(const Labelling *l, const Holdings *n, int k) {
    double part;
    if (n->calm[k] > GRAIN_EVEN * n->held[k]) return false;
    for (int i = 0; i < l->swatches.count; i++)
        for (int j = 0; j < l->swatches.count; j++) {
            if (i == j || n->held[i] <= n->held[k] || n->held[j] <= n->held[k]) continue;
            if (n->calm[i] > FLAT_EVEN * n->held[i] &&
                tint_mix(&l->swatches.tint[k], &l->swatches.tint[i], &l->swatches.tint[j], SWATCH_REACH,
                         false, &part))
                return true;
        }
    return false;
}

/* Drops the swatches that hold too little, grain and halos; the largest stays whatever it holds. Returns how
 * many went. */
static int drop_swatches(Labelling *l, uint64_t *voted) {
    Holdings n = count_holdings(l, *voted);
    int count = l->swatches.count, kept = 0, largest = 0;
    uint64_t still = 0;
    bool keep[SWATCHES_MAX];
    for (int k = 1; k < count; k++)
        if (n.held[k] > n.held[largest]) largest = k;
    for (int k = 0; k < count; k++)
        keep[k] = k == largest || (n.held[k] >= n.unmixed * LEAST &&
                                   (*voted >> k & 1 || (!is_grain(l, &n, k) && !is_halo(l, &n, k))));
    for (int k = 0; k < count; k++) {
        if (!keep[k]) continue;
        still |= (*voted >> k & 1) << kept;
        l->swatches.tint[kept++] = l->swatches.tint[k];
    }
    l->swatches.count = kept;
    *voted = still;
    return count - kept;
}

/* How many pixels must agree on a colour of their own: the grainier the flat areas, the more edge pixels
 * stray. */
static double votes_needed(const Labelling *l) {
    Holdings n = count_holdings(l, 0);
    double grainy = n.flat > 0 ? (n.flat - n.all_even) / n.flat : 0;
    return LEAST * n.unmixed * (1 + GRAIN_VOTES * fmax(0, grainy));
}

static bool drop_and_label(Labelling *l, uint64_t *voted, Err *err) {
    for (int round = 0; round < ROUNDS && drop_swatches(l, voted) > 0; round++)
        if (!labelling_label(l, err)) return false;
    return true;
}

double swatches_least(const Labelling *l) {
    return LEAST * count_holdings(l, 0).unmixed;
}

/* --- step 3 --- */

typedef struct Vote {
    const Bin *bin;  /* not owned */
    double standing; /* how much it stands out: its weight times the distance from what is around */
    bool done;       /* explained by a colour that was taken */
} Vote;

/* Step a. */
static bool gather_votes(const Labelling *l, Histogram *votes, Err *err) {
    for (size_t e = 0; e < l->edges; e++) {
        size_t at = (size_t)l->edge[e];
        if (l->kind[at] != PIXEL_LOOSE) continue;
        const uint8_t *rgba = l->picture->rgba + 4 * at;
        Tint tint = labelling_tint(l, at);
        Bin *bin = histogram_add(votes, rgba, &tint, 1, err);
        if (!bin) return false;
        bin->around |= labelling_around(l, at);
    }
    histogram_means(votes);
    return true;
}

/* The first AROUND_MOST colours of the set, in the order of the swatches; returns how many. */
static int list_around(const Labelling *l, uint64_t set, const Tint *list[AROUND_MOST]) {
    int count = 0;
    for (int k = 0; k < l->swatches.count && count < AROUND_MOST; k++)
        if (set >> k & 1) list[count++] = &l->swatches.tint[k];
    return count;
}

/* Is the bin that colour, or a mix of it with one or two colours around? */
static bool explains(const Labelling *l, const Tint *colour, const Bin *bin) {
    if (tint_within(colour, &bin->mean, SWATCH_REACH)) return true;
    const Tint *around[AROUND_MOST];
    int count = list_around(l, bin->around, around), most;
    double part;
    for (int i = 0; i < count; i++)
        if (tint_mix(&bin->mean, colour, around[i], SWATCH_REACH, false, &part)) return true;
    for (int j = 1; j < count; j++)
        for (int i = 0; i < j; i++) {
            const Tint *const of[3] = {colour, around[i], around[j]};
            if (tint_mix3(&bin->mean, of, SWATCH_REACH, &most)) return true;
        }
    return false;
}

static int compare_votes(const void *p, const void *q) {
    const Vote *a = p, *b = q;
    if (a->standing != b->standing) return a->standing > b->standing ? -1 : 1;
    return a->bin->key < b->bin->key ? -1 : a->bin->key > b->bin->key;
}

/* Step b: all bins, those that stand out most first; returns how many are looked at. */
static int rank_votes(const Labelling *l, const Histogram *bins, Vote *vote) {
    for (size_t i = 0; i < bins->count; i++) {
        const Bin *bin = &bins->bin[i];
        float near = 1;
        for (int k = 0; k < l->swatches.count; k++)
            if (bin->around >> k & 1) {
                float d = tint_near(&bin->mean, &l->swatches.tint[k]);
                if (d < near) near = d;
            }
        vote[i] = (Vote){bin, bin->weight * (double)near, false};
    }
    qsort(vote, bins->count, sizeof *vote, compare_votes);
    return bins->count < VOTES ? (int)bins->count : VOTES;
}

static double explained(const Labelling *l, const Vote *vote, int votes, const Tint *colour) {
    double sum = 0;
    for (int i = 0; i < votes; i++)
        if (!vote[i].done && explains(l, colour, vote[i].bin)) sum += vote[i].bin->weight;
    return sum;
}

/* The index of the vote that explains most, -1 if none explains `least`. */
static int best_vote(const Labelling *l, const Vote *vote, int votes, double least) {
    double sum[TRIED] = {0}, most = 0;
    int index[TRIED], tried = 0, best = -1;
    for (int i = 0; i < votes && tried < TRIED; i++) {
        if (vote[i].done) continue;
        sum[tried] = explained(l, vote, votes, &vote[i].bin->mean);
        if (sum[tried] > most) most = sum[tried];
        index[tried++] = i;
    }
    if (most < least) return -1;
    for (int t = 0; t < tried; t++)
        if (sum[t] >= AS_GOOD * most && (best < 0 || vote[index[t]].bin->weight > vote[best].bin->weight))
            best = index[t];
    return best;
}

/* Step c. */
static void elect(Labelling *l, Vote *vote, int votes, double least) {
    while (l->swatches.count < SWATCHES_MAX) {
        int best = best_vote(l, vote, votes, least);
        if (best < 0) return;
        const Tint colour = vote[best].bin->mean;
        for (int i = 0; i < votes; i++) vote[i].done = vote[i].done || explains(l, &colour, vote[i].bin);
        l->swatches.tint[l->swatches.count++] = colour;
    }
}

/* Adds to the swatches the colours that loose pixels agree on: such that at least `least` of them are that
 * colour, or its mixes with the colours around. */
static bool find_thin_strokes(Labelling *l, double least, Err *err) {
    Histogram bins;
    if (!histogram_new(&bins, err)) return false;
    Vote *vote = NULL;
    bool good = gather_votes(l, &bins, err) && (vote = mem_alloc(bins.count, sizeof *vote, err)) != NULL;
    if (good) elect(l, vote, rank_votes(l, &bins, vote), least);
    free(vote);
    histogram_free(&bins);
    return good;
}

bool find_swatches(Labelling *l, Err *err) {
    uint64_t voted = 0;
    if (!first_swatches(l, err) || !labelling_label(l, err) || !drop_and_label(l, &voted, err)) return false;
    int before = l->swatches.count;
    if (!find_thin_strokes(l, votes_needed(l), err)) return false;
    if (l->swatches.count == before) return true;
    for (int k = before; k < l->swatches.count; k++) voted |= (uint64_t)1 << k;
    return labelling_label(l, err) && drop_and_label(l, &voted, err);
}
