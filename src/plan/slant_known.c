/* Best cuts that were found before. SPDX-License-Identifier: MIT
 *
 * The same outlines come again and again while blocks are turned inside out: half of all cuts that are sought
 * were found before. A cut depends on the outline and on nothing else that changes, so it does not matter who
 * found it, nor what has been forgotten: each outline has one place by its hash, the last one there stays. */
#include "plan/slant.h"

#include "base/mem.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>

enum { PLACES = 2048 };

typedef struct Known {
    bool fine;
    Outline outline; /* no corner: the place is free */
    BestCut cut;
} Known;

struct KnownCuts {
    pthread_mutex_t lock;
    Known at[PLACES];
};

KnownCuts *known_new(Err *err) {
    KnownCuts *known = mem_alloc(1, sizeof *known, err);
    if (known) (void)pthread_mutex_init(&known->lock, NULL); /* cannot fail on Linux */
    return known;
}

void known_free(KnownCuts *known) {
    if (known) (void)pthread_mutex_destroy(&known->lock);
    free(known);
}

static size_t bytes_of(const Outline *o) {
    return (size_t)o->corners * sizeof *o->corner;
}

/* FNV-1a over the corners, eight bytes at a time. */
static size_t place_of(const Outline *o, bool fine) {
    uint64_t hash = 0xcbf29ce484222325 ^ (uint64_t)fine, word;
    for (size_t at = 0; at < bytes_of(o); at += sizeof word) {
        memcpy(&word, (const char *)o->corner + at, sizeof word);
        hash = (hash ^ (word ^ word >> 32)) * 0x100000001b3;
    }
    return (size_t)(hash ^ hash >> 29) % PLACES;
}

bool known_find(KnownCuts *known, const Outline *outline, bool fine, BestCut *out) {
    const Known *at = &known->at[place_of(outline, fine)];
    (void)pthread_mutex_lock(&known->lock);
    bool found = at->outline.corners == outline->corners && at->fine == fine &&
                 memcmp(at->outline.corner, outline->corner, bytes_of(outline)) == 0;
    if (found) *out = at->cut;
    (void)pthread_mutex_unlock(&known->lock);
    return found;
}

void known_put(KnownCuts *known, const Outline *outline, bool fine, const BestCut *cut) {
    Known *at = &known->at[place_of(outline, fine)];
    (void)pthread_mutex_lock(&known->lock);
    *at = (Known){fine, *outline, *cut};
    (void)pthread_mutex_unlock(&known->lock);
}
