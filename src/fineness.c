/* How fine strokes and gaps are. SPDX-License-Identifier: MIT
 *
 * Strokes: what an opening by a disc of diameter t takes away is what is thinner than t (local thickness), so
 * the finest stroke is the thickness that a tenth of the area stays under. Gaps: of each hole as of a part;
 * and of each candy the same with all that is not of that candy, inside the core or beyond: what a closing
 * adds is what is thinner than t there. Rings are sheets: what lies in them is no gap. Cost: O(samples) for
 * each candy, twice. */
#include "fineness.h"

#include "mem.h"
#include "thickness.h"

#include <math.h>
#include <stdlib.h>

enum { BINS_A_SAMPLE = 16 };

static const double tenth = 0.1;                     /* design 7 */
static const double most = 0.75;                     /* chosen: what most of a part stays under */
static const double stroke_reach = 4, gap_reach = 2; /* least strips; chosen: thicker troubles nobody */

typedef struct Meter {
    Areas *areas;
    double least, sample_mm; /* a least strip in samples; a sample at the piece */
    Box window;              /* samples, may reach beyond the raster: where site and thick are */
    uint8_t *site;           /* [window.h][window.w] scratch; owned */
    float *thick;            /* [window.h][window.w] scratch; owned */
    int bins;
    int *count; /* [bins] scratch, all 0 between uses; owned */
} Meter;

/* The least box that holds the candy's areas that are scored, or all, with `room` samples round it. */
static Box box_of(const Meter *w, int candy, bool scored, int room) {
    int left = w->areas->side, top = w->areas->side, right = 0, bottom = 0;
    for (int i = 0; i < w->areas->count; i++) {
        const Area *a = &w->areas->area[i];
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
static bool measure(Meter *w, int candy, bool inverted, double cap, Err *err) {
    Box in = w->window;
    for (int y = 0; y < in.h; y++)
        for (int x = 0; x < in.w; x++) {
            int u = in.x + x, v = in.y + y;
            bool beyond = u < 0 || v < 0 || u >= w->areas->side || v >= w->areas->side;
            bool is = !beyond && w->areas->grid->wanted.candy[(size_t)v * w->areas->side + u] == candy;
            w->site[(size_t)y * in.w + x] = is == inverted;
        }
    return local_thickness(w->site, in.w, in.h, cap, w->thick, err);
}

static float thick_at(const Meter *w, int x, int y) {
    return w->thick[(size_t)(y - w->window.y) * w->window.w + x - w->window.x];
}

static int bin_of(const Meter *w, float thick) {
    int bin = (int)(thick * BINS_A_SAMPLE);
    return bin < w->bins ? bin : w->bins - 1;
}

/* The thickness that so many of the counted samples stay under, -1 if there are no more than that. */
static double quantile(const Meter *w, double samples) {
    double under = 0;
    for (int bin = 0; bin < w->bins; bin++) {
        under += w->count[bin];
        if (under > samples) return (bin + 0.5) / BINS_A_SAMPLE;
    }
    return -1;
}

static void clear_counts(Meter *w) {
    for (int bin = 0; bin < w->bins; bin++) w->count[bin] = 0;
}

/* The finest stroke of area `index` and what most of it stays under, from w->thick. */
static void measure_stroke(Meter *w, int index) {
    Part *part = &w->areas->area[index].part;
    double cap = stroke_reach * w->least;
    Box box = part->box;
    for (int y = box.y; y < box.y + box.h; y++)
        for (int x = box.x; x < box.x + box.w; x++)
            if (w->areas->label[(size_t)y * w->areas->side + x] == index)
                w->count[bin_of(w, thick_at(w, x, y))]++;
    part->stroke_mm = fmin(quantile(w, tenth * part->samples), cap) * w->sample_mm;
    part->body_mm = fmin(quantile(w, most * part->samples), cap) * w->sample_mm;
    clear_counts(w);
}

static bool measure_strokes(Meter *w, int candy, Err *err) {
    w->window = box_of(w, candy, true, 1);
    if (w->window.w == 0) return true;
    if (!measure(w, candy, false, stroke_reach * w->least, err)) return false;
    for (int i = 0; i < w->areas->count; i++) {
        const Area *a = &w->areas->area[i];
        if (a->part.candy == candy && !a->open && !a->part.speck) measure_stroke(w, i);
    }
    return true;
}

/* Room round a candy for the largest disc that gaps are measured with. */
static int gap_room(const Meter *w) {
    return (int)ceil(gap_reach * w->least / 2) + 2;
}

/* The finest gap between and within the parts of a candy, in samples. */
static bool measure_gap(Meter *w, int candy, double cap, double *gap, Err *err) {
    w->window = box_of(w, candy, false, gap_room(w));
    if (!measure(w, candy, true, cap, err)) return false;
    Box in = w->window;
    int area = 0;
    for (int y = in.y; y < in.y + in.h; y++)
        for (int x = in.x; x < in.x + in.w; x++) {
            float thick = thick_at(w, x, y);
            area += thick <= 0; /* the candy itself */
            if (thick > 0 && thick < (float)cap && !areas_in_rings(w->areas->grid, x, y))
                w->count[bin_of(w, thick)]++;
        }
    double found = quantile(w, tenth * area);
    clear_counts(w);
    *gap = found < 0 ? cap : found;
    return true;
}

static bool measure_gaps(Meter *w, double *gap_mm, double *gap_of_main_mm, Err *err) {
    double cap = gap_reach * w->least, all = cap, of_main = cap;
    for (int k = 0; k < w->areas->grid->candies; k++) {
        bool any = false, main = false;
        for (int i = 0; i < w->areas->count; i++) {
            const Part *part = &w->areas->area[i].part;
            any = any || (part->candy == k && !part->speck);
            main = main || (part->candy == k && part->main);
        }
        double gap;
        if (k == w->areas->grid->field || !any) continue;
        if (!measure_gap(w, k, cap, &gap, err)) return false;
        all = fmin(all, gap);
        if (main) of_main = fmin(of_main, gap);
    }
    for (int i = 0; i < w->areas->count; i++) {
        const Part *part = &w->areas->area[i].part;
        if (!part->hole || w->areas->area[i].open || part->speck || part->ring) continue;
        all = fmin(all, part->stroke_mm / w->sample_mm);
        if (part->main) of_main = fmin(of_main, part->stroke_mm / w->sample_mm);
    }
    *gap_mm = all * w->sample_mm;
    *gap_of_main_mm = of_main * w->sample_mm;
    return true;
}

bool fineness_measure(Areas *areas, double sample_mm, double *gap_mm, double *gap_of_main_mm, Err *err) {
    Meter w = {.areas = areas, .sample_mm = sample_mm, .least = (double)areas->grid->least_steps * SAMPLES};
    size_t wide = (size_t)areas->side + 2 * (size_t)gap_room(&w); /* the largest window */
    w.bins = (int)ceil(fmax(stroke_reach, gap_reach) * w.least * BINS_A_SAMPLE) + 1;
    w.site = mem_alloc(wide * wide, 1, err);
    w.thick = mem_alloc(wide * wide, sizeof *w.thick, err);
    w.count = mem_alloc((size_t)w.bins, sizeof *w.count, err);
    bool done = w.site && w.thick && w.count;
    for (int k = 0; done && k < areas->grid->candies; k++) done = measure_strokes(&w, k, err);
    done = done && measure_gaps(&w, gap_mm, gap_of_main_mm, err);
    free(w.site);
    free(w.thick);
    free(w.count);
    return done;
}
