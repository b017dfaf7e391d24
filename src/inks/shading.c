/* Gradients: colours that run into each other are one ink. SPDX-License-Identifier: MIT
 *
 * 1. The connected areas of each swatch are the regions.
 * 2. Wherever two regions touch, look whether they meet softly; where they touch in more than LOOKED_AT
 * places, look at every second of these, or third, and so on.
 *    Compared are the means of two by three pixels on either side, which takes off grain: their middles are
 * 2 px apart. The two pixels that touch must be alike too, else a fine hatching would look like one tint.
 * 3. The looks are summed up for each two regions.
 * 4. Two regions that meet softly in most places are joined, unless they hardly touch or one of them is
 * only what JPEG made of an edge. What is joined is one shading.
 * 5. The ink of a shading is the swatch that has most of its pixels.
 * Cost: O(pixels), and LOOKED_AT looks at most. */
#include "inks/steps.h"

#include "base/components.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

#define SOFT 2.0    /* CIEDE2000 across 2 px: less is no edge */
#define HATCHED 8.0 /* CIEDE2000 between neighbours: no shading whatever the averages say */
/* A ramp's step across 2 px, of its change across 8: a straight one has 0.25, one of 6 px 0.29; an edge that
 * averaging made soft over 4 px 0.4. JPEG blurs hue over more, but not lightness: that must ramp too, to
 * LIGHT of OKLab. */
#define RAMP 0.35
#define LIGHT 0.015f
#define NEXT 30.0       /* CIEDE2000; chosen: colours farther apart do not follow each other in a shading */
#define NARROW 5.0      /* px; chosen: a soft edge and its echo in JPEG */
#define MEET_LEAST 0.05 /* of the smaller region's border; regions that touch on less hardly touch */

enum {
    FARTHER = 3,      /* px from the border: where the colours are compared with which a ramp began */
    LOOKED_AT = 30000 /* places at most */
};

/* Two regions that touch: how often it was looked how they do, and how often they did so softly. A single
 * look is one as well. */
typedef struct Contact {
    int32_t a, b;        /* regions, a < b */
    int32_t looks, soft; /* 1.., 0..looks */
} Contact;

typedef struct Joining {
    const Labelling *l; /* not owned */
    Regions regions;    /* of l->label; owned */
    int stride;         /* every so many-th of the places where regions touch is looked at */
    size_t contacts;    /* pairs of regions that touch, as far as was looked */
    Contact *contact;   /* [contacts] in order of their regions; before step 3 every look by itself; owned */
    int32_t *border;    /* [regions.count] looks at each region's border; owned */
    int32_t *parent;    /* [regions.count] of the sets of joined regions (components.h); owned */
} Joining;

static void joining_free(Joining *j) {
    regions_free(&j->regions);
    free(j->contact);
    free(j->border);
    free(j->parent);
    *j = (Joining){0};
}

/* --- 2 --- */

/* One side of a border: a pixel that touches it, and the step from there straight away from the border. */
typedef struct Bank {
    int x, y;
    int away_x, away_y;
} Bank;

static size_t pixel_of(const Labelling *l, Bank bank) {
    return (size_t)bank.y * (size_t)l->picture->width + (size_t)bank.x;
}

/* The mean of the pixels `steps` and steps + 1 away from the bank, and of those beside both; false if all lie
 * outside the picture. */
static bool mean_of_bank(const Labelling *l, Bank bank, int steps, Tint *out) {
    int w = l->picture->width, h = l->picture->height, count = 0;
    float sum[4] = {0};
    for (int k = steps; k < steps + 2; k++)
        for (int beside = -1; beside <= 1; beside++) {
            int x = bank.x + k * bank.away_x + beside * (bank.away_y != 0);
            int y = bank.y + k * bank.away_y + beside * (bank.away_x != 0);
            if (x < 0 || y < 0 || x >= w || y >= h) continue;
            Tint tint = labelling_tint(l, (size_t)y * (size_t)w + (size_t)x);
            for (int i = 0; i < 4; i++) sum[i] += tint.linear[i];
            count++;
        }
    if (count == 0) return false;
    for (int i = 0; i < 4; i++) sum[i] /= (float)count;
    *out = tint_of_linear(sum);
    return true;
}

/* Of the lightness over black, and over white. */
static bool lightness_ramps(const Tint *p, const Tint *q, const Tint *far_p, const Tint *far_q) {
    for (int ground = 0; ground < 2; ground++) {
        float near = p->ok[0] - q->ok[0], far = far_p->ok[0] - far_q->ok[0];
        if (ground) {
            near -= p->ok[3] - q->ok[3];
            far -= far_p->ok[3] - far_q->ok[3];
        }
        if (fabsf(near) > (float)RAMP * fabsf(far) + LIGHT) return false;
    }
    return true;
}

static bool meet_softly(const Labelling *l, Bank here, Bank there) {
    Tint p = labelling_tint(l, pixel_of(l, here)), q = labelling_tint(l, pixel_of(l, there));
    if (!tint_within(&p, &q, HATCHED)) return false;
    (void)mean_of_bank(l, here, 0, &p); /* the pixels themselves lie in the picture: these cannot fail */
    (void)mean_of_bank(l, there, 0, &q);
    double step = tint_distance(&p, &q);
    if (step < SOFT) return true;
    Tint far_p, far_q;
    return mean_of_bank(l, here, FARTHER, &far_p) && mean_of_bank(l, there, FARTHER, &far_q) &&
           step < RAMP * tint_distance(&far_p, &far_q) && lightness_ramps(&p, &q, &far_p, &far_q);
}

/* Looks at the place where pixel (x, y) touches its neighbour (x + dx, y + dy). */
static Contact look(const Joining *j, int x, int y, int dx, int dy) {
    Bank here = {x, y, -dx, -dy}, there = {x + dx, y + dy, dx, dy};
    int32_t a = j->regions.of[pixel_of(j->l, here)], b = j->regions.of[pixel_of(j->l, there)];
    return (Contact){a < b ? a : b, a < b ? b : a, 1, meet_softly(j->l, here, there)};
}

/* Returns in how many places two regions touch, and writes the looks at every stride-th of them to
 * j->contact, if there is any. */
static int look_everywhere(const Joining *j) {
    int w = j->l->picture->width, h = j->l->picture->height, place = 0;
    Contact *out = j->contact;
    for (int y = 0; y < h; y++) {
        const uint8_t *row = j->l->label + (size_t)y * (size_t)w;
        for (int x = 0; x < w; x++) {
            if (x + 1 < w && row[x] != row[x + 1] && place++ % j->stride == 0 && out)
                *out++ = look(j, x, y, 1, 0);
            if (y + 1 < h && row[x] != row[x + w] && place++ % j->stride == 0 && out)
                *out++ = look(j, x, y, 0, 1);
        }
    }
    return place;
}

/* --- 3 --- */

static int compare_contacts(const void *p, const void *q) {
    const Contact *m = p, *n = q;
    if (m->a != n->a) return m->a < n->a ? -1 : 1;
    if (m->b != n->b) return m->b < n->b ? -1 : 1;
    return m->soft - n->soft; /* equal ones only add up */
}

static void sum_looks(Joining *j, int places) {
    Contact *c = j->contact;
    size_t looks = (size_t)((places + j->stride - 1) / j->stride);
    qsort(c, looks, sizeof *c, compare_contacts);
    for (size_t i = 0; i < looks; i++) {
        Contact *last = j->contacts > 0 ? &c[j->contacts - 1] : NULL;
        j->border[c[i].a]++;
        j->border[c[i].b]++;
        if (last && last->a == c[i].a && last->b == c[i].b) {
            last->looks++;
            last->soft += c[i].soft;
        } else {
            c[j->contacts++] = c[i];
        }
    }
}

/* --- 4 --- */

/* px: twice the area by the outline, which is the border on both sides. */
static double width_of(const Joining *j, int32_t region) {
    return 2.0 * j->regions.pixels[region] / ((double)j->border[region] * j->stride);
}

/* A region about as narrow as a soft edge, between colours far apart, is what JPEG left of the edge's hue; a
 * shading has colours in between. */
static bool is_edge(const Joining *j, const Contact *c) {
    const Tint *tint = j->l->swatches.tint;
    const uint8_t *swatch = j->regions.value;
    return fmin(width_of(j, c->a), width_of(j, c->b)) < NARROW &&
           tint_distance(&tint[swatch[c->a]], &tint[swatch[c->b]]) > NEXT;
}

static void join_soft(Joining *j) {
    for (size_t i = 0; i < j->contacts; i++) {
        const Contact *c = &j->contact[i];
        int32_t smaller = j->border[c->a] < j->border[c->b] ? j->border[c->a] : j->border[c->b];
        if (2 * c->soft <= c->looks || c->looks < MEET_LEAST * smaller) continue;
        if (!is_edge(j, c)) set_join(j->parent, c->a, c->b);
    }
}

/* --- 5 --- */

/* A region as a member of its shading. */
typedef struct Member {
    int32_t shading; /* the least of the shading's regions */
    int32_t pixels;
    uint8_t swatch;
} Member;

static int compare_members(const void *p, const void *q) {
    const Member *a = p, *b = q;
    if (a->shading != b->shading) return a->shading < b->shading ? -1 : 1;
    return a->swatch - b->swatch; /* equal ones only add up */
}

/* ink_of[region]: the ink of its shading. */
static void elect_inks(Joining *j, Member *member, uint8_t *ink_of) {
    int32_t count = j->regions.count, most = 0, sum = 0;
    for (int32_t i = 0; i < count; i++)
        member[i] = (Member){set_root(j->parent, i), j->regions.pixels[i], j->regions.value[i]};
    qsort(member, (size_t)count, sizeof *member, compare_members);
    for (int32_t i = 0; i < count; i++) {
        const Member *m = &member[i];
        bool same = i > 0 && m->shading == m[-1].shading;
        sum = same && m->swatch == m[-1].swatch ? sum + m->pixels : m->pixels;
        if (same && sum <= most) continue;
        most = sum;
        ink_of[m->shading] = m->swatch;
    }
    for (int32_t i = 0; i < count; i++) ink_of[i] = ink_of[set_root(j->parent, i)];
}

static bool write_inks(Joining *j, uint8_t *ink, Err *err) {
    Member *member = mem_alloc((size_t)j->regions.count, sizeof *member, err);
    uint8_t *ink_of = member ? mem_alloc((size_t)j->regions.count, 1, err) : NULL;
    if (ink_of) {
        elect_inks(j, member, ink_of);
        for (size_t i = 0; i < j->l->pixels; i++) ink[i] = ink_of[j->regions.of[i]];
    }
    free(member);
    free(ink_of);
    return ink_of != NULL;
}

/* --- the whole --- */

static bool joining_new(const Labelling *l, Joining *out, Err *err) {
    Joining j = {.l = l, .stride = 1};
    int places = look_everywhere(&j);
    j.stride += places / LOOKED_AT;
    if (!regions_find(l->label, l->picture->width, l->picture->height, &j.regions, err)) return false; /* 1 */
    size_t regions = (size_t)j.regions.count;
    j.contact = mem_alloc((size_t)(places / j.stride) + 1, sizeof *j.contact, err);
    j.border = mem_alloc(regions, sizeof *j.border, err);
    j.parent = mem_alloc(regions, sizeof *j.parent, err);
    if (!j.contact || !j.border || !j.parent) {
        joining_free(&j);
        return false;
    }
    for (int32_t i = 0; i < j.regions.count; i++) j.parent[i] = i;
    *out = j;
    return true;
}

bool shading_inks(const Labelling *l, uint8_t *ink, Err *err) {
    Joining j;
    if (!joining_new(l, &j, err)) return false;
    sum_looks(&j, look_everywhere(&j));   /* 2, 3 */
    join_soft(&j);                        /* 4 */
    bool good = write_inks(&j, ink, err); /* 5 */
    joining_free(&j);
    return good;
}
