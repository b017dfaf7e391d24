/* Parts and holes. SPDX-License-Identifier: MIT
 *
 * 1. The areas of the wanted raster: parts, holes, open field, which competes with the holes but is not
 * scored.
 * 2. Likeness: of each candy, every sample of the face belongs to the nearest area of that candy in the
 * wanted raster (nearest-site transform); IoU (samples in common by samples in all) of each area with those
 * that belong to it. Of a ring: by directions.
 * 3. Strokes and gaps.
 * 4. Running together: two areas of one candy of which one connected area of the face holds a quarter each; a
 * neck too thin to be seen does not connect. A crumb that runs into a main part is the crumb's loss; a hole
 * that runs into the open field the hole's.
 * Cost: O(samples * candies) and the areas of the parts' boxes. Strokes and gaps, half of the work, do not
 * depend on the face: another thread measures them meanwhile, where one is free. */
#include "parts/parts.h"

#include "base/components.h"
#include "base/distance.h"
#include "base/mem.h"
#include "base/parallel.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    HELD_MAX = 4,           /* areas of the face that can hold a quarter of a part: held_share */
    NO_CANDY = OUTSIDE - 1, /* a sample of the face that is too near to another candy */
    DIRECTIONS = 256,       /* a turn round the middle */
    TASKS = 2,              /* what looks at the face, and what does not */
    THREADS_FROM = 320      /* samples a side: less is done before a thread is up */
};

/* docs/numbers.md tells of these. */
static const double kept_iou = 0.5, held_share = 0.25;
static const double unseen_mm = 0.10; /* one arc minute at 350 mm (20/20) */

/* What of the face belongs to an area of the wanted raster. */
typedef struct Tally {
    int own, both; /* samples that are nearest to it; those of them that are the area's in the logo, too */
    int holders;
    int holder[HELD_MAX]; /* [holders] areas of the face that hold a quarter of it */
} Tally;

enum { IN_LOGO = 1, IN_FACE = 2 };

/* Where round the middle a ring is seen. */
typedef struct Turn {
    uint8_t seen[DIRECTIONS]; /* IN_LOGO and IN_FACE, both or none */
} Turn;

typedef struct Work {
    const uint8_t *wanted, *face;
    int side;
    double sample_mm;    /* a sample at the piece */
    Areas areas;         /* owned */
    Tally *tally;        /* [areas]; owned */
    int *turn_of;        /* [areas] which of its candy's rings it is; of the others unset; owned */
    int32_t *face_label; /* [side][side] area of the face, -1 where it is too thin to be seen; owned */
    int32_t *nearest;    /* [side][side] scratch; owned */
    uint8_t *site;       /* [side][side] scratch; owned */
    uint8_t *asked;      /* [side][side] scratch; owned */
    int *count;          /* [areas of the face] scratch, all 0 between uses; owned */
    int *touched;        /* [areas of the face] scratch; owned */
    Comparison found;    /* what is handed out in the end */
} Work;

static void work_free(Work *w) {
    areas_free(&w->areas);
    free(w->tally);
    free(w->turn_of);
    free(w->face_label);
    free(w->nearest);
    free(w->site);
    free(w->asked);
    free(w->count);
    free(w->touched);
    *w = (Work){0};
}

/* --- 2: likeness --- */

static int direction_of(const Work *w, int x, int y) {
    double turn = atan2(y + 0.5 - w->side / 2.0, x + 0.5 - w->side / 2.0) / (2 * PI) + 0.5;
    int direction = (int)(turn * DIRECTIONS);
    return direction < DIRECTIONS ? direction : 0;
}

/* Of a ring what counts is how far round it runs: a sheet is thickened where it must be, and then lies a
 * little off. So the IoU of the directions in which it is in the logo and those in which it is in the face's
 * rings. */
static double ring_iou(const Turn *turn) {
    int both = 0, either = 0;
    for (int d = 0; d < DIRECTIONS; d++) {
        both += turn->seen[d] == (IN_LOGO | IN_FACE);
        either += turn->seen[d] != 0;
    }
    return (double)both / either;
}

/* Marks the directions of one sample in the rings. */
static void turn_sample(const Work *w, int candy, int x, int y, Turn *turn) {
    const FaceArea *area = w->areas.area;
    const int32_t *label = w->areas.label;
    size_t i = (size_t)y * w->side + x;
    int here = label[i], there = w->face[i] == candy && w->nearest[i] >= 0 ? label[w->nearest[i]] : -1;
    if (here >= 0 && (area[here].part.candy != candy || !area[here].part.ring)) here = -1;
    if (there >= 0 && !area[there].part.ring) there = -1;
    if (here < 0 && there < 0) return;
    int direction = direction_of(w, x, y);
    if (here >= 0) turn[w->turn_of[here]].seen[direction] |= IN_LOGO;
    if (there >= 0) turn[w->turn_of[there]].seen[direction] |= IN_FACE;
}

/* The IoU of all rings of the candy, in one pass over the samples: there may be thousands. */
static bool compare_rings(Work *w, int candy, Err *err) {
    int rings = 0;
    for (int i = 0; i < w->areas.count; i++) {
        const Part *part = &w->areas.area[i].part;
        if (part->candy == candy && part->ring) w->turn_of[i] = rings++;
    }
    if (rings == 0) return true;
    Turn *turn = mem_alloc((size_t)rings, sizeof *turn, err);
    if (!turn) return false;
    for (int y = 0; y < w->side; y++)
        for (int x = 0; x < w->side; x++)
            if (areas_in_rings(w->areas.grid, x, y)) turn_sample(w, candy, x, y, turn);
    for (int i = 0; i < w->areas.count; i++) {
        Part *part = &w->areas.area[i].part;
        if (part->candy == candy && part->ring) part->iou = ring_iou(&turn[w->turn_of[i]]);
    }
    free(turn);
    return true;
}

/* Shares out the candy's samples of the face among the areas of that candy; the areas' IoU. */
static bool share_samples(Work *w, int candy, Err *err) {
    int total = w->side * w->side;
    for (int i = 0; i < total; i++) {
        w->site[i] = w->wanted[i] == candy;
        w->asked[i] = w->face[i] == candy;
    }
    if (!distance_nearest(w->site, w->asked, w->side, w->side, w->nearest, err)) return false;
    for (int i = 0; i < total; i++) {
        if (w->face[i] != candy || w->nearest[i] < 0) continue;
        Tally *tally = &w->tally[w->areas.label[w->nearest[i]]];
        tally->own++;
        tally->both += w->wanted[i] == candy;
    }
    for (int i = 0; i < w->areas.count; i++) {
        Part *part = &w->areas.area[i].part;
        if (part->candy != candy) continue;
        const Tally *tally = &w->tally[i];
        part->iou = (double)tally->both / (part->samples + tally->own - tally->both);
    }
    return compare_rings(w, candy, err);
}

/* --- 4: running together --- */

/* Does the disc about the sample hold its candy alone? What lies outside the core does not count. */
static bool is_thick(const Work *w, int x, int y, int radius, double radius2) {
    uint8_t candy = w->face[(size_t)y * w->side + x];
    for (int v = y - radius < 0 ? 0 : y - radius; v <= y + radius && v < w->side; v++)
        for (int u = x - radius < 0 ? 0 : x - radius; u <= x + radius && u < w->side; u++) {
            uint8_t other = w->face[(size_t)v * w->side + u];
            if (other == candy || other == OUTSIDE) continue;
            if ((u - x) * (u - x) + (v - y) * (v - y) <= radius2) return false;
        }
    return true;
}

/* Labels the areas of the face less a seam of half of what can be seen, so that no unseen neck joins two. */
static bool label_face(Work *w, Err *err) {
    uint8_t ways[256];
    memset(ways, 8, sizeof ways);
    ways[w->areas.grid->field] = 4;
    ways[OUTSIDE] = ways[NO_CANDY] = 0;
    double reach = unseen_mm / 2 / w->sample_mm;
    int radius = (int)reach;
    for (int y = 0; y < w->side; y++)
        for (int x = 0; x < w->side; x++) {
            size_t i = (size_t)y * w->side + x;
            w->site[i] =
                w->face[i] == OUTSIDE || is_thick(w, x, y, radius, reach * reach) ? w->face[i] : NO_CANDY;
        }
    size_t areas = (size_t)components(w->site, w->side, w->side, ways, w->face_label);
    w->count = mem_alloc(areas, sizeof *w->count, err);
    w->touched = mem_alloc(areas, sizeof *w->touched, err);
    return w->count && w->touched;
}

/* Which areas of the face hold a quarter of area `index`, in reading order. What the seam takes of it is
 * shared out in proportion. */
static void find_holders(Work *w, int index) {
    const Part *part = &w->areas.area[index].part;
    Tally *tally = &w->tally[index];
    Box box = part->box;
    int there = 0, thick = 0, touched = 0; /* samples of its candy; those off the seam; areas of the face */
    for (int y = box.y; y < box.y + box.h; y++)
        for (int x = box.x; x < box.x + box.w; x++) {
            size_t i = (size_t)y * w->side + x;
            if (w->areas.label[i] != index || w->face[i] != w->wanted[i]) continue;
            there++;
            int holder = w->face_label[i];
            if (holder < 0) continue;
            thick++;
            if (w->count[holder]++ == 0) w->touched[touched++] = holder;
        }
    for (int k = 0; k < touched; k++) {
        int *count = &w->count[w->touched[k]];
        double share = (double)*count * there / thick / part->samples;
        if (share >= held_share && tally->holders < HELD_MAX) tally->holder[tally->holders++] = w->touched[k];
        *count = 0;
    }
}

static bool share_a_holder(const Tally *a, const Tally *b) {
    for (int i = 0; i < a->holders; i++)
        for (int j = 0; j < b->holders; j++)
            if (a->holder[i] == b->holder[j]) return true;
    return false;
}

static void mark_run_together(Work *w) {
    int count = w->areas.count;
    for (int i = 0; i < count; i++)
        if (!w->areas.area[i].part.speck) find_holders(w, i);
    for (int i = 0; i < count; i++)
        for (int j = i + 1; w->tally[i].holders > 0 && j < count; j++) {
            FaceArea *a = &w->areas.area[i], *b = &w->areas.area[j];
            if (w->tally[j].holders == 0 || !share_a_holder(&w->tally[i], &w->tally[j])) continue;
            if (a->open || !b->part.main || a->part.main) b->part.run_into = true;
            if (b->open || !a->part.main || b->part.main) a->part.run_into = true;
        }
}

/* A hole is seen by what is round it: one that has run out is no better than the parts that should enclose
 * it, the mean of their IoU along its border. */
static void limit_hole(Work *w, int index) {
    Part *hole = &w->areas.area[index].part;
    const int32_t *label = w->areas.label;
    const int step[4] = {1, -1, w->side, -w->side};
    double sum = 0, border = 0;
    for (int y = hole->box.y; y < hole->box.y + hole->box.h; y++)
        for (int x = hole->box.x; x < hole->box.x + hole->box.w; x++) {
            int i = y * w->side + x; /* a hole touches neither the core's edge nor the raster's */
            for (int d = 0; label[i] == index && d < 4; d++) {
                int other = label[i + step[d]];
                if (other == index) continue;
                sum += w->areas.area[other].part.iou;
                border++;
            }
        }
    hole->iou = fmin(hole->iou, sum / border);
}

/* --- the whole --- */

static bool work_new(const Grid *grid, const Face *face, double sample_mm, Work *out, Err *err) {
    Work w = {.wanted = grid->wanted.candy, .face = face->candy, .side = face->side, .sample_mm = sample_mm};
    size_t total = (size_t)w.side * (size_t)w.side;
    w.face_label = mem_alloc(total, sizeof *w.face_label, err);
    w.nearest = mem_alloc(total, sizeof *w.nearest, err);
    w.site = mem_alloc(total, 1, err);
    w.asked = mem_alloc(total, 1, err);
    if (w.face_label && w.nearest && w.site && w.asked && areas_find(grid, &w.areas, err))
        w.tally = mem_alloc((size_t)w.areas.count, sizeof *w.tally, err);
    if (w.tally) w.turn_of = mem_alloc((size_t)w.areas.count, sizeof *w.turn_of, err);
    if (!w.turn_of) {
        work_free(&w);
        return false;
    }
    *out = w;
    return true;
}

/* However low they are: what may be a letter is never to be left out. */
static bool mark_letters(const Areas *areas, Comparison *c, Err *err) {
    Rows rows;
    if (!rows_find(areas, c->part, c->parts, 0, &rows, err)) return false;
    for (int i = 0; i < c->parts; i++) {
        if (rows.of[i] < 0 || rows.row[rows.of[i]].letters < 2) continue;
        c->part[i].letter = true;
        for (int k = 0; k < c->parts; k++)
            if (c->part[k].hole && box_holds(c->part[i].box, c->part[k].box)) c->part[k].letter = true;
    }
    rows_free(&rows);
    return true;
}

static bool list_parts(Work *w, Err *err) {
    Comparison *c = &w->found;
    c->part = mem_alloc((size_t)w->areas.count, sizeof *c->part, err);
    if (!c->part) return false;
    for (int i = 0; i < w->areas.count; i++) {
        const FaceArea *area = &w->areas.area[i];
        if (area->open) continue;
        if (area->part.hole && area->part.run_into) limit_hole(w, i);
        Part *part = &c->part[c->parts++];
        *part = area->part;
        part->kept = part->iou >= kept_iou && !part->run_into;
    }
    if (c->parts == 0) c->gap = c->gap_of_main = (Gap){0};
    return c->parts == 0 || mark_letters(&w->areas, c, err);
}

static bool compare_with_face(Work *w, Err *err) {
    bool done = label_face(w, err);
    for (int k = 0; done && k < w->areas.grid->candies; k++) done = share_samples(w, k, err);
    return done;
}

/* The two write different fields of the areas. */
static bool do_task(void *context, int task, Err *err) {
    Work *w = context;
    return task == 0 ? fineness_measure(&w->areas, w->sample_mm, &w->found.gap, &w->found.gap_of_main, err)
                     : compare_with_face(w, err);
}

bool parts_compare(const Grid *grid, const Face *face, const uint8_t *fine, double sample_mm, Comparison *out,
                   Err *err) {
    assert(grid->wanted.side == face->side && sample_mm > 0);
    Work w;
    if (!work_new(grid, face, sample_mm, &w, err)) return false; /* 1 */
    w.areas.fine = fine;
    bool done = parallel_tasks(TASKS, w.side < THREADS_FROM ? 1 : 0, do_task, &w, err); /* 2, 3 */
    if (done) {
        mark_run_together(&w); /* 4 */
        done = list_parts(&w, err);
    }
    if (done)
        *out = w.found;
    else
        free(w.found.part);
    work_free(&w);
    return done;
}
