/* Colours that only edge pixels show: thin strokes. SPDX-License-Identifier: MIT
 *
 * A soft-edged stroke a pixel or so wide shows its own colour in few pixels; the others are its mixes with
 * what lies on either side. So a colour is judged by all it would explain:
 * 1. Loose pixels are gathered in bins, each with the set of colours seen around its pixels (Bin.around).
 * 2. Of the bins that stand out most (weight times squared distance from what is around), the one is taken
 * that explains most: bins within SWATCH_REACH of it, and its mixes with one or two colours around them. Of
 * those that explain nearly as much, the heaviest.
 * 3. What it explains is struck out; again, until nothing explains `least`.
 * Cost: at most TRIED x VOTES mixes a colour. */
#include "inks/thin_strokes.h"

#include "base/mem.h"

#include <stdlib.h>

#define AS_GOOD 0.95 /* explaining this share of the most is as good */

enum {
    VOTES = 160,    /* bins that are looked at: those that stand out most */
    TRIED = 32,     /* of these as the colour that explains others */
    AROUND_MOST = 4 /* colours around a bin: more are not tried in mixes */
};

typedef struct Vote {
    const Bin *bin;  /* not owned */
    double standing; /* how much it stands out: its weight times the distance from what is around */
    bool done;       /* explained by a colour that was taken */
} Vote;

/* Step 1. */
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

/* Step 2: all bins, those that stand out most first; returns how many are looked at. */
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

/* Step 3. */
static void elect(Labelling *l, Vote *vote, int votes, double least) {
    while (l->swatches.count < SWATCHES_MAX) {
        int best = best_vote(l, vote, votes, least);
        if (best < 0) return;
        const Tint colour = vote[best].bin->mean;
        for (int i = 0; i < votes; i++) vote[i].done = vote[i].done || explains(l, &colour, vote[i].bin);
        l->swatches.tint[l->swatches.count++] = colour;
    }
}

bool find_thin_strokes(Labelling *l, double least, Err *err) {
    Histogram bins;
    if (!histogram_new(&bins, err)) return false;
    Vote *vote = NULL;
    bool good = gather_votes(l, &bins, err) && (vote = mem_alloc(bins.count, sizeof *vote, err)) != NULL;
    if (good) elect(l, vote, rank_votes(l, &bins, vote), least);
    free(vote);
    histogram_free(&bins);
    return good;
}
