/* Counters, bays and arms: which are kept. SPDX-License-Identifier: MIT
 *
 * 1. Whose features count: main parts and holes, and letters: parts in rows (rows.c).
 * 2. Each part by itself, in points, four a step: its counters and bays and its arms, as masks
 * (feature_masks.c); the part in the face is what of its candy lies nearer to it than to the candy's other
 * areas, as in parts.c.
 * 3. Each connected area of a mask is a feature, unless it is a crumb of its part or flat: a corner that is
 * rounded off, and no arm.
 * 4. Left of an arm is what is the part in the face, too; left of a counter or bay what lies within the part
 * in the face and is not it. So a part that is gone leaves neither.
 * 5. Counters and bays of one part that were apart and have run together in the face are one: the largest.
 * Cost: O(points) of the windows of these parts, ten distance transforms in each. */
#include "parts/parts.h"

#include "base/components.h"
#include "base/distance.h"
#include "base/mem.h"
#include "parts/feature_masks.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

enum {
    HALF = POINT * POINT / 2, /* of a point's samples */
    MIXED = OUTSIDE - 1       /* a point with samples of several candies */
};

/* docs/numbers.md tells of these. */
static const double least_mm = 0.10, read_mm = 0.33; /* at 350 mm: one minute of arc; a stroke that reads */
static const double gap_strips = 2;                  /* least strips: wider gaps do not fill up */
static const double feature_share = 0.01, feature_left = 0.5, feature_flat = 8;

typedef struct Search {
    const Areas *areas;
    const Face *face;
    const Part *part; /* [parts]; not owned */
    int parts;
    uint8_t *chosen; /* [parts] 1: its features count; 2: it is a letter, too; owned */
    double point_mm; /* a point at the piece */
    FeatureSizes sizes;
    int side;         /* points across the core */
    int32_t *nearest; /* [side][side] the candy's point in the logo that is nearest to each of the face's;
                         owned */
    uint8_t *wanted;  /* [side][side] the logo's candies, MIXED where a point holds several; owned */
    uint8_t *shown;   /* [side][side] the face's, likewise; owned */
    uint8_t *site;    /* [side][side] scratch: the candy in the logo; owned */
    uint8_t *asked;   /* [side][side] scratch: the candy in the face; owned */
    size_t room;      /* of the list */
    Features found;   /* list owned */
} Search;

/* --- 1: whose features --- */

static bool choose_parts(Search *s, double sample_mm, Err *err) {
    Rows rows;
    if (!rows_find(s->areas, s->part, s->parts, LETTER_MM / sample_mm, &rows, err)) return false;
    for (int i = 0; i < s->parts; i++) {
        bool letter = rows.of[i] >= 0 && rows.row[rows.of[i]].kind != ROW_PAIR;
        s->chosen[i] = s->part[i].ring ? 0 : letter ? 2 : s->part[i].main;
    }
    rows_free(&rows);
    return true;
}

/* --- 2: the part's points --- */

/* How many of the point's samples are of the candy. */
static int count_candy(const Face *face, int x, int y, int candy) {
    const uint8_t *at = face->candy + (size_t)(y * POINT) * face->side + x * POINT;
    return (at[0] == candy) + (at[1] == candy) + (at[face->side] == candy) + (at[face->side + 1] == candy);
}

/* How many are of the area. */
static int count_area(const Areas *areas, int x, int y, int index) {
    const int32_t *at = areas->label + (size_t)(y * POINT) * areas->side + x * POINT;
    return (at[0] == index) + (at[1] == index) + (at[areas->side] == index) + (at[areas->side + 1] == index);
}

/* out[side][side]: the candy of each point, MIXED where its samples are not all of one. */
static void shrink_face(const Face *face, int side, uint8_t *out) {
    for (int y = 0; y < side; y++) {
        const uint8_t *top = face->candy + (size_t)(y * POINT) * face->side, *low = top + face->side;
        uint8_t *row = out + (size_t)y * side;
        for (int x = 0; x < side; x++) {
            uint8_t candy = top[POINT * x];
            bool one = top[POINT * x + 1] == candy && low[POINT * x] == candy && low[POINT * x + 1] == candy;
            row[x] = one ? candy : MIXED;
        }
    }
}

/* site[i] = 1 where half of the point's samples are of the candy, or more. */
static void mark_candy(const Face *face, const uint8_t *points, int side, int candy, uint8_t *site) {
    for (int y = 0; y < side; y++)
        for (int x = 0; x < side; x++) {
            size_t i = (size_t)y * side + x;
            site[i] = points[i] == MIXED ? count_candy(face, x, y, candy) >= HALF : points[i] == candy;
        }
}

static bool find_nearest(Search *s, int candy, Err *err) {
    mark_candy(&s->areas->grid->wanted, s->wanted, s->side, candy, s->site);
    mark_candy(s->face, s->shown, s->side, candy, s->asked);
    return distance_nearest(s->site, s->asked, s->side, s->side, s->nearest, err);
}

static void draw_part(const Search *s, int index, FeatureMasks *m) {
    Box box = m->box;
    for (int y = 0; y < box.h; y++)
        for (int x = 0; x < box.w; x++) {
            int u = box.x + x, v = box.y + y;
            if (u < 0 || v < 0 || u >= s->side || v >= s->side) continue;
            size_t to = (size_t)y * box.w + x, from = (size_t)v * s->side + u;
            int near = s->asked[from] ? s->nearest[from] : -1;
            m->like[to] = s->site[from];
            m->shown[to] = s->asked[from];
            m->own[to] = s->site[from] && count_area(s->areas, u, v, index) >= HALF;
            m->got[to] = near >= 0 && count_area(s->areas, near % s->side, near / s->side, index) > 0;
        }
}

/* --- 3, 4: features --- */

/* A feature while its points are gone through. */
typedef struct Tally {
    int points, left;
    double x, y;  /* sums over its points */
    int mouth;    /* sides of points where it opens, to what is round it or to the part's body */
    bool counter; /* a whole hole of the part */
    bool run;     /* it has run into a larger one */
} Tally;

/* Of a gap the mouth leads to what is neither its candy nor gap, of an arm to the part. */
static int count_mouth(const FeatureMasks *m, const uint8_t *mask, bool arms, size_t i) {
    const size_t beside[4] = {i - 1, i + 1, i - (size_t)m->box.w, i + (size_t)m->box.w};
    int mouth = 0;
    for (int d = 0; d < 4; d++) mouth += !mask[beside[d]] && (m->like[beside[d]] != 0) == arms;
    return mouth;
}

/* The features of the mask, by m->label; what is left of them is in `left`. */
static void tally_up(const FeatureMasks *m, const uint8_t *mask, const uint8_t *left, bool arms,
                     Tally *tally) {
    for (int y = 0; y < m->box.h; y++)
        for (int x = 0; x < m->box.w; x++) {
            size_t i = (size_t)y * m->box.w + x;
            if (m->label[i] < 0) continue;
            Tally *t = &tally[m->label[i]];
            t->points++;
            t->left += left[i];
            t->x += x + 0.5;
            t->y += y + 0.5;
            t->mouth += count_mouth(m, mask, arms, i);
        }
}

/* Which features are holes of the part: those that have most of one. */
static bool mark_counters(FeatureMasks *m, Tally *tally, Err *err) {
    int areas = masks_label_rest(m, m->own, m->other);
    int *size = mem_alloc((size_t)areas, sizeof *size, err);
    if (!size) return false;
    for (size_t i = 0; i < m->points; i++)
        if (m->other[i] >= 0 && !m->like[i]) size[m->other[i]]++;
    for (size_t i = 0; i < m->points; i++) {
        if (m->label[i] < 0 || m->other[i] <= 0) continue;
        Tally *t = &tally[m->label[i]];
        t->counter = 2 * t->points > size[m->other[i]];
    }
    free(size);
    return true;
}

static bool add_feature(Search *s, const FeatureMasks *m, int part, FeatureKind kind, const Tally *t,
                        double whole, Err *err) {
    double area = t->points, half = s->side / 2.0;
    if (area < feature_share * whole || (double)t->mouth * t->mouth > feature_flat * area) return true;
    Feature *list = mem_grow(s->found.feature, &s->room, (size_t)s->found.count + 1, sizeof *list, err);
    if (!list) return false;
    s->found.feature = list;
    Feature *f = &list[s->found.count++];
    *f = (Feature){.kind = kind, .part = part, .share = area / whole, .left = t->left / area};
    f->letter = s->chosen[part] == 2;
    f->run = t->run;
    f->kept = f->left >= feature_left && !t->run;
    f->middle_mm.x = (m->box.x + t->x / area - half) * s->point_mm;
    f->middle_mm.y = (m->box.y + t->y / area - half) * s->point_mm;
    return true;
}

/* --- 5: what has run together --- */

/* in[i] = the area of m->other in which most of feature i lies, by m->label; below -1, all apart: in none. */
static void vote(const FeatureMasks *m, int count, int *in, int *votes) {
    for (int i = 0; i < count; i++) {
        in[i] = -2 - i;
        votes[i] = 0;
    }
    for (size_t i = 0; i < m->points; i++) {
        int f = m->label[i], area = m->other[i];
        if (f < 0 || area < 0) continue;
        if (votes[f] == 0) in[f] = area;
        votes[f] += in[f] == area ? 1 : -1;
    }
}

/* The areas of what lies within the part, in m->wide, that are wide enough to be read. */
static bool find_wide(const Search *s, FeatureMasks *m, Err *err) {
    if (!masks_open(m, m->wide, s->sizes.read, err)) return false;
    (void)masks_label(m, m->wide, m->other);
    return true;
}

/* Those of whom most votes were for one area, in the face but not in the logo. */
static bool mark_run(const Search *s, FeatureMasks *m, Tally *tally, int count, Err *err) {
    int *in = mem_alloc((size_t)count * 3, sizeof *in, err), *was = in ? in + count : NULL;
    if (!in) return false;
    memcpy(m->wide, m->left, m->points);
    bool done = find_wide(s, m, err), any = false;
    if (done) vote(m, count, in, in + 2 * count);
    for (int i = 0; done && i < count; i++)
        for (int j = 0; j < i; j++) any = any || in[i] == in[j];
    if (done && any) {
        done = masks_within(m, &s->sizes, m->own, m->wide, err) && find_wide(s, m, err);
        if (done) vote(m, count, was, in + 2 * count);
        for (int i = 0; done && i < count; i++)
            for (int j = 0; j < count; j++) {
                bool larger =
                    tally[j].points > tally[i].points || (tally[j].points == tally[i].points && j < i);
                if (larger && in[i] == in[j] && was[i] != was[j]) tally[i].run = true;
            }
    }
    free(in);
    return done;
}

/* --- the list --- */

static bool add_features(Search *s, FeatureMasks *m, int part, bool arms, double whole, Err *err) {
    const uint8_t *mask = arms ? m->arms : m->gaps;
    int count = masks_label(m, mask, m->label);
    if (count == 0) return true;
    Tally *tally = mem_alloc((size_t)count, sizeof *tally, err);
    if (!tally) return false;
    tally_up(m, mask, arms ? m->got : m->left, arms, tally);
    bool done = arms || (mark_counters(m, tally, err) && mark_run(s, m, tally, count, err));
    for (int i = 0; done && i < count; i++) {
        FeatureKind kind = arms ? FEATURE_ARM : tally[i].counter ? FEATURE_COUNTER : FEATURE_BAY;
        done = add_feature(s, m, part, kind, &tally[i], whole, err);
    }
    free(tally);
    return done;
}

static bool look_at_part(Search *s, int index, int part, Err *err) {
    const Part *of = &s->part[part];
    FeatureMasks m;
    if (!masks_new(of->box, of->hole, &s->sizes, &m, err)) return false;
    draw_part(s, index, &m);
    bool done = masks_find(&m, &s->sizes, err);
    double whole = 0;
    for (size_t i = 0; done && i < m.points; i++) whole += m.own[i] || m.gaps[i];
    done =
        done && add_features(s, &m, part, false, whole, err) && add_features(s, &m, part, true, whole, err);
    masks_free(&m);
    return done;
}

static bool look_at_candy(Search *s, int candy, Err *err) {
    bool asked = false;
    for (int i = 0, part = -1; i < s->areas->count; i++) {
        if (s->areas->area[i].open) continue;
        part++;
        if (!s->chosen[part] || s->part[part].candy != candy) continue;
        if (!asked && !find_nearest(s, candy, err)) return false;
        asked = true;
        if (!look_at_part(s, i, part, err)) return false;
    }
    return true;
}

static void sum_up(Features *f) {
    double all = 0, kept = 0;
    for (int i = 0; i < f->count; i++) {
        const Feature *feature = &f->feature[i];
        all += feature->share;
        f->kept += feature->kept;
        if (feature->kept) kept += feature->share;
    }
    f->kept_share = all > 0 ? kept / all : 1;
}

static void search_free(Search *s) {
    free(s->chosen);
    free(s->nearest);
    free(s->wanted);
    free(s->shown);
    free(s->site);
    free(s->asked);
    free(s->found.feature);
    *s = (Search){0};
}

static bool search_new(const Areas *areas, const Part *part, int parts, const Face *face, Search *out,
                       Err *err) {
    Search s = {.areas = areas, .face = face, .part = part, .parts = parts, .side = areas->side / POINT};
    size_t points = (size_t)s.side * s.side;
    s.chosen = mem_alloc((size_t)parts, 1, err);
    s.nearest = mem_alloc(points, sizeof *s.nearest, err);
    s.wanted = mem_alloc(points, 1, err);
    s.shown = mem_alloc(points, 1, err);
    s.site = mem_alloc(points, 1, err);
    s.asked = mem_alloc(points, 1, err);
    if (!s.chosen || !s.nearest || !s.wanted || !s.shown || !s.site || !s.asked) {
        search_free(&s);
        return false;
    }
    *out = s;
    return true;
}

bool features_find(const Areas *areas, const Part *part, int parts, const Face *face, double sample_mm,
                   Features *out, Err *err) {
    assert(areas->side == face->side && areas->side % POINT == 0 && sample_mm > 0);
    Search s;
    if (!search_new(areas, part, parts, face, &s, err)) return false;
    s.point_mm = POINT * sample_mm;
    s.sizes = (FeatureSizes){least_mm / s.point_mm, read_mm / s.point_mm,
                             gap_strips * areas->grid->least_steps * SAMPLES / POINT};
    shrink_face(&areas->grid->wanted, s.side, s.wanted);
    shrink_face(face, s.side, s.shown);
    bool done = choose_parts(&s, sample_mm, err); /* 1 */
    for (int k = 0; done && k < areas->grid->candies; k++) done = look_at_candy(&s, k, err);
    if (done) {
        sum_up(&s.found);
        *out = s.found;
        s.found = (Features){0};
    }
    search_free(&s);
    return done;
}
