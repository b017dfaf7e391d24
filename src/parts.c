/* Parts and holes. SPDX-License-Identifier: MIT
 *
 * 1. The connected areas of the wanted raster, 4 ways for the field, 8 for all else. Field that touches the
 * core's edge is *open*: it competes with the holes, but is not scored.
 * 2. Sizes: specks, main parts, crumbs.
 * 3. Likeness: of each candy, every sample of the face belongs to the nearest area of that candy in the
 * wanted raster (nearest-site transform); IoU of each area with its own samples.
 * 4. Running together: two areas of one candy of which one connected area of the face holds a quarter each. A
 * crumb that runs into a main part is the crumb's loss; a hole that runs into the open field the hole's.
 * 5. Strokes: local thickness; what an opening by a disc of diameter t takes away is what is thinner than t,
 * so the finest stroke is the thickness that a tenth of the area stays under.
 * 6. Gaps: of each hole as of a part; and of each candy the same with all that is not of that candy, core or
 * beyond: what a closing adds is where that is thinner than t. Cost: O(samples * candies) and the areas of
 * the parts' boxes. */
#include "parts.h"

#include "components.h"
#include "distance.h"
#include "mem.h"
#include "thickness.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { HELD_MAX = 4, BINS_A_SAMPLE = 16, NO_CANDY = OUTSIDE - 1 };

/* Design 7. */
static const double speck_share = 0.0015, main_share = 0.03, kept_iou = 0.5, tenth = 0.1;
static const double held_share = 0.25;               /* chosen: at most HELD_MAX areas can hold a quarter */
static const double ring_share = 0.9;                /* chosen */
static const double unseen_mm = 0.10;                /* one arc minute at 350 mm (20/20) */
static const double stroke_reach = 4, gap_reach = 2; /* least strips; chosen: thicker troubles nobody */

/* A connected area of the wanted raster: a part, a hole or open field. */
typedef struct Area {
    Part part;
    bool open;
    int in_rings;  /* samples outside the laid-up core */
    int own, both; /* samples of the face that are its own; those of them that are its in the logo, too */
    int helds;
    int held[HELD_MAX]; /* areas of the face that hold a quarter of it */
} Area;

typedef struct Work {
    const Grid *grid;
    const uint8_t *wanted, *face;
    int side, field;
    double least, sample_mm; /* a least strip in samples; a sample at the piece */
    int32_t *label;          /* [side][side] area of the wanted raster; owned */
    int32_t *face_label;     /* [side][side] area of the face, -1 where it is too thin to be seen; owned */
    int32_t *nearest;        /* [side][side] scratch; owned */
    int *count;              /* [areas of the face or bins] scratch, all 0 between uses; owned */
    int areas, face_areas;
    Area *area;    /* owned */
    Box window;    /* samples, may reach beyond the raster: where site and thick are */
    uint8_t *site; /* [window.h][window.w] or [side][side] scratch; owned */
    float *thick;  /* [window.h][window.w] scratch; owned */
    int bins;
} Work;

static void work_free(Work *w) {
    free(w->label);
    free(w->face_label);
    free(w->nearest);
    free(w->count);
    free(w->area);
    free(w->site);
    free(w->thick);
    *w = (Work){0};
}

/* --- 1, 2: the areas and their sizes --- */

static bool on_the_edge(const Work *w, int x, int y) {
    if (x == 0 || y == 0 || x == w->side - 1 || y == w->side - 1) return true;
    const uint8_t *at = w->wanted + (size_t)y * w->side + x;
    return at[-1] == OUTSIDE || at[1] == OUTSIDE || at[-w->side] == OUTSIDE || at[w->side] == OUTSIDE;
}

/* Does the sample lie in the rings, outside the laid-up core? */
static bool in_rings(const Work *w, int x, int y) {
    if (w->grid->rings == 0) return false;
    double dx = x + 0.5 - w->grid->core.x * SAMPLES, dy = y + 0.5 - w->grid->core.y * SAMPLES;
    return dx * dx + dy * dy >= w->grid->core.r * w->grid->core.r * SAMPLES * SAMPLES;
}

static void take_sample(Work *w, int x, int y) {
    size_t i = (size_t)y * w->side + x;
    Area *area = &w->area[w->label[i]];
    Part *part = &area->part;
    if (part->samples == 0) {
        part->candy = w->wanted[i];
        part->hole = part->candy == w->field;
        part->box = (Box){x, y, 1, 1};
    }
    Box *box = &part->box; /* samples come row by row: the top never moves */
    if (x < box->x) {
        box->w += box->x - x;
        box->x = x;
    }
    if (x >= box->x + box->w) box->w = x + 1 - box->x;
    box->h = y + 1 - box->y;
    part->samples++;
    part->middle.x += x + 0.5;
    part->middle.y += y + 0.5;
    area->in_rings += in_rings(w, x, y);
    if (part->hole && on_the_edge(w, x, y)) area->open = true;
}

static void find_areas(Work *w) {
    int core = 0, all = 0;
    for (int y = 0; y < w->side; y++)
        for (int x = 0; x < w->side; x++) {
            if (w->wanted[(size_t)y * w->side + x] == OUTSIDE) continue;
            core++;
            take_sample(w, x, y);
        }
    for (int i = 0; i < w->areas; i++) {
        Part *part = &w->area[i].part;
        part->middle.x /= part->samples;
        part->middle.y /= part->samples;
        part->speck = part->samples < speck_share * core;
        part->ring = w->area[i].in_rings >= ring_share * part->samples;
        if (!w->area[i].open) all += part->samples;
    }
    for (int i = 0; i < w->areas; i++) {
        Part *part = &w->area[i].part;
        part->main = !w->area[i].open && !part->speck && part->samples >= main_share * all;
    }
}

/* --- 3: likeness --- */

static bool share_samples(Work *w, int candy, Err *err) {
    int total = w->side * w->side;
    for (int i = 0; i < total; i++) w->site[i] = w->wanted[i] == candy;
    if (!distance_transform(w->site, w->side, w->side, NULL, w->nearest, err)) return false;
    for (int i = 0; i < total; i++) {
        if (w->face[i] != candy || w->nearest[i] < 0) continue;
        Area *area = &w->area[w->label[w->nearest[i]]];
        area->own++;
        area->both += w->wanted[i] == candy;
    }
    return true;
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
static int label_face(Work *w, const uint8_t ways[256]) {
    double reach = unseen_mm / 2 / w->sample_mm;
    int radius = (int)reach;
    for (int y = 0; y < w->side; y++)
        for (int x = 0; x < w->side; x++) {
            size_t i = (size_t)y * w->side + x;
            w->site[i] =
                w->face[i] == OUTSIDE || is_thick(w, x, y, radius, reach * reach) ? w->face[i] : NO_CANDY;
        }
    return components(w->site, w->side, w->side, ways, w->face_label);
}

/* Which areas of the face hold a quarter of area `index`. What the seam takes of it is shared out in
 * proportion. */
static void find_holders(Work *w, int index) {
    Area *area = &w->area[index];
    Box box = area->part.box;
    int there = 0, thick = 0;
    for (int pass = 0; pass < 2; pass++) /* first counts, then reads the counts and sets them back to 0 */
        for (int y = box.y; y < box.y + box.h; y++)
            for (int x = box.x; x < box.x + box.w; x++) {
                size_t i = (size_t)y * w->side + x;
                if (w->label[i] != index || w->face[i] != w->wanted[i]) continue;
                there += pass == 0;
                if (w->face_label[i] < 0) continue;
                int *count = &w->count[w->face_label[i]];
                if (pass == 0) {
                    thick++;
                    ++*count;
                    continue;
                }
                double share = (double)*count * there / thick / area->part.samples;
                if (*count > 0 && share >= held_share && area->helds < HELD_MAX)
                    area->held[area->helds++] = w->face_label[i];
                *count = 0;
            }
}

static bool share_a_holder(const Area *a, const Area *b) {
    for (int i = 0; i < a->helds; i++)
        for (int j = 0; j < b->helds; j++)
            if (a->held[i] == b->held[j]) return true;
    return false;
}

static void mark_run_together(Work *w) {
    for (int i = 0; i < w->areas; i++)
        if (!w->area[i].part.speck) find_holders(w, i);
    for (int i = 0; i < w->areas; i++)
        for (int j = i + 1; j < w->areas; j++) {
            Area *a = &w->area[i], *b = &w->area[j];
            if (a->helds == 0 || b->helds == 0 || !share_a_holder(a, b)) continue;
            if (a->open || !b->part.main || a->part.main) b->part.run_into = true;
            if (b->open || !a->part.main || b->part.main) a->part.run_into = true;
        }
}

/* --- 5, 6: strokes and gaps --- */

/* The least box that holds the candy's areas that are scored, or all, with `room` samples round it. */
static Box box_of(const Work *w, int candy, bool scored, int room) {
    int left = w->side, top = w->side, right = 0, bottom = 0;
    for (int i = 0; i < w->areas; i++) {
        const Area *a = &w->area[i];
        Box box = a->part.box;
        if (a->part.candy != candy || (scored && (a->open || a->part.speck))) continue;
        left = box.x < left ? box.x : left;
        top = box.y < top ? box.y : top;
        right = box.x + box.w > right ? box.x + box.w : right;
        bottom = box.y + box.h > bottom ? box.y + box.h : bottom;
    }
    if (left >= right) return (Box){0};
    return (Box){left - room, top - room, right - left + 2 * room, bottom - top + 2 * room};
}

/* Thickness in the window, up to `cap` samples, of the area of the candy (or, inverted, of all that is not
 * that candy). */
static bool measure(Work *w, int candy, bool inverted, double cap, Err *err) {
    Box in = w->window;
    for (int y = 0; y < in.h; y++)
        for (int x = 0; x < in.w; x++) {
            int u = in.x + x, v = in.y + y;
            bool beyond = u < 0 || v < 0 || u >= w->side || v >= w->side;
            bool is = !beyond && w->wanted[(size_t)v * w->side + u] == candy;
            w->site[(size_t)y * in.w + x] = is == inverted;
        }
    return local_thickness(w->site, in.w, in.h, cap, w->thick, err);
}

static float thick_at(const Work *w, int x, int y) {
    return w->thick[(size_t)(y - w->window.y) * w->window.w + x - w->window.x];
}

static int bin_of(const Work *w, float thick) {
    int bin = (int)(thick * BINS_A_SAMPLE);
    return bin < w->bins ? bin : w->bins - 1;
}

/* The thickness that `share` of the counted samples stay under; sets the counts back to 0. */
static double take_quantile(Work *w, double share) {
    double under = 0, found = -1;
    for (int bin = 0; bin < w->bins; bin++) {
        under += w->count[bin];
        if (found < 0 && under > share) found = (bin + 0.5) / BINS_A_SAMPLE;
        w->count[bin] = 0;
    }
    return found;
}

/* The finest stroke of area `index`, in samples, from w->thick. */
static double stroke_of(Work *w, int index) {
    const Part *part = &w->area[index].part;
    Box box = part->box;
    for (int y = box.y; y < box.y + box.h; y++)
        for (int x = box.x; x < box.x + box.w; x++)
            if (w->label[(size_t)y * w->side + x] == index) w->count[bin_of(w, thick_at(w, x, y))]++;
    return take_quantile(w, tenth * part->samples);
}

static bool measure_strokes(Work *w, int candy, Err *err) {
    double cap = stroke_reach * w->least;
    w->window = box_of(w, candy, true, 1);
    if (w->window.w == 0) return true;
    if (!measure(w, candy, false, cap, err)) return false;
    for (int i = 0; i < w->areas; i++) {
        Area *a = &w->area[i];
        if (a->part.candy == candy && !a->open && !a->part.speck)
            a->part.stroke_mm = fmin(stroke_of(w, i), cap) * w->sample_mm;
    }
    return true;
}

/* Room round a candy for the largest disc that gaps are measured with. */
static int gap_room(const Work *w) {
    return (int)ceil(gap_reach * w->least / 2) + 2;
}

/* The finest gap between and within the parts of a candy, in samples. */
static bool measure_gap(Work *w, int candy, double cap, double *gap, Err *err) {
    w->window = box_of(w, candy, false, gap_room(w));
    if (!measure(w, candy, true, cap, err)) return false;
    Box in = w->window;
    int area = 0;
    for (int y = in.y; y < in.y + in.h; y++)
        for (int x = in.x; x < in.x + in.w; x++) {
            float thick = thick_at(w, x, y);
            area += thick <= 0; /* the candy itself */
            if (thick > 0 && thick < (float)cap && !in_rings(w, x, y)) w->count[bin_of(w, thick)]++;
        }
    double found = take_quantile(w, tenth * area);
    *gap = found < 0 ? cap : found;
    return true;
}

static bool measure_gaps(Work *w, int candies, Comparison *c, Err *err) {
    double cap = gap_reach * w->least, all = cap, of_main = cap;
    for (int k = 0; k < candies; k++) {
        bool any = false, main = false;
        for (int i = 0; i < w->areas; i++) {
            const Part *part = &w->area[i].part;
            any = any || (part->candy == k && !part->speck);
            main = main || (part->candy == k && part->main);
        }
        double gap;
        if (k == w->field || !any) continue;
        if (!measure_gap(w, k, cap, &gap, err)) return false;
        all = fmin(all, gap);
        if (main) of_main = fmin(of_main, gap);
    }
    for (int i = 0; i < w->areas; i++) {
        const Part *part = &w->area[i].part;
        if (!part->hole || w->area[i].open || part->speck || part->ring) continue;
        all = fmin(all, part->stroke_mm / w->sample_mm);
        if (part->main) of_main = fmin(of_main, part->stroke_mm / w->sample_mm);
    }
    c->gap_mm = all * w->sample_mm;
    c->gap_of_main_mm = of_main * w->sample_mm;
    return true;
}

/* --- the whole --- */

static bool work_new(const Grid *grid, const Face *face, double sample_mm, Work *out, Err *err) {
    Work w = {.grid = grid, .wanted = grid->wanted.candy, .face = face->candy, .side = face->side};
    w.field = grid->field;
    w.least = (double)grid->least_steps * SAMPLES;
    w.sample_mm = sample_mm;
    size_t total = (size_t)w.side * (size_t)w.side;
    size_t wide = (size_t)(w.side + 2 * gap_room(&w)); /* the largest window */
    w.bins = (int)ceil(fmax(stroke_reach, gap_reach) * w.least * BINS_A_SAMPLE) + 1;
    w.label = mem_alloc(total, sizeof *w.label, err);
    w.face_label = mem_alloc(total, sizeof *w.face_label, err);
    w.nearest = mem_alloc(total, sizeof *w.nearest, err);
    w.site = mem_alloc(wide * wide, 1, err);
    w.thick = mem_alloc(wide * wide, sizeof *w.thick, err);
    if (w.label && w.face_label && w.nearest && w.site && w.thick) {
        uint8_t ways[256];
        memset(ways, 8, sizeof ways);
        ways[w.field] = 4;
        ways[OUTSIDE] = ways[NO_CANDY] = 0;
        w.areas = components(w.wanted, w.side, w.side, ways, w.label);
        w.face_areas = label_face(&w, ways);
        w.area = mem_alloc((size_t)w.areas, sizeof *w.area, err);
        w.count = mem_alloc((size_t)(w.face_areas > w.bins ? w.face_areas : w.bins), sizeof *w.count, err);
    }
    if (!w.area || !w.count) {
        work_free(&w);
        return false;
    }
    *out = w;
    return true;
}

static bool list_parts(const Work *w, Comparison *c, Err *err) {
    c->part = mem_alloc((size_t)w->areas, sizeof *c->part, err);
    if (!c->part) return false;
    for (int i = 0; i < w->areas; i++) {
        const Area *area = &w->area[i];
        if (area->open) continue;
        Part *part = &c->part[c->parts++];
        *part = area->part;
        part->iou = (double)area->both / (part->samples + area->own - area->both);
        part->kept = part->iou >= kept_iou && !part->run_into;
    }
    if (c->parts == 0) c->gap_mm = c->gap_of_main_mm = 0;
    return true;
}

bool parts_compare(const Grid *grid, const Face *face, double sample_mm, Comparison *out, Err *err) {
    assert(grid->wanted.side == face->side && sample_mm > 0);
    Work w;
    if (!work_new(grid, face, sample_mm, &w, err)) return false;
    find_areas(&w); /* 1, 2 */
    int candies = 0;
    for (int i = 0; i < w.areas; i++)
        if (w.area[i].part.candy >= candies) candies = w.area[i].part.candy + 1;
    Comparison c = {0};
    bool done = true;
    for (int k = 0; done && k < candies; k++)
        done = share_samples(&w, k, err) && measure_strokes(&w, k, err);          /* 3, 5 */
    mark_run_together(&w);                                                        /* 4 */
    done = done && measure_gaps(&w, candies, &c, err) && list_parts(&w, &c, err); /* 6 */
    work_free(&w);
    if (done) *out = c;
    return done;
}
