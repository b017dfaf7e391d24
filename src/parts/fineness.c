/* How fine strokes and gaps are. SPDX-License-Identifier: MIT
 *
 * Strokes: what an opening by a disc of diameter t takes away is what is thinner than t (local thickness), so
 * the finest stroke is the thickness that a tenth of the area stays under. Gaps: of each hole as of a part;
 * and of each candy the same with all that is not of that candy, inside the core or beyond: what a closing
 * adds is what is thinner than t there. Rings are sheets: what lies in them is no gap. Cost: O(samples) for
 * each candy, twice. */
#include "parts/parts.h"

#include "base/mem.h"
#include "base/thickness.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { BINS_A_SAMPLE = 16 };

static const double tenth = 0.1;                     /* docs/numbers.md */
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
        const FaceArea *a = &w->areas->area[i];
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

static bool lies_fine(const Areas *areas, int x, int y) {
    return areas->fine && areas->fine[(size_t)y * areas->side + x];
}

/* The finest stroke of area `index` and what most of it stays under, from w->thick; whether most of it lies
 * in fine blocks. */
static void measure_stroke(Meter *w, int index) {
    Part *part = &w->areas->area[index].part;
    int fine = 0;
    double cap = stroke_reach * w->least;
    Box box = part->box;
    for (int y = box.y; y < box.y + box.h; y++)
        for (int x = box.x; x < box.x + box.w; x++) {
            if (w->areas->label[(size_t)y * w->areas->side + x] != index) continue;
            w->count[bin_of(w, thick_at(w, x, y))]++;
            fine += lies_fine(w->areas, x, y);
        }
    part->fine = 2 * fine > part->samples;
    part->stroke_mm = fmin(quantile(w, tenth * part->samples), cap) * w->sample_mm;
    part->body_mm = fmin(quantile(w, most * part->samples), cap) * w->sample_mm;
    memset(w->count, 0, (size_t)w->bins * sizeof *w->count);
}

static bool measure_strokes(Meter *w, int candy, Err *err) {
    w->window = box_of(w, candy, true, 1);
    if (w->window.w == 0) return true;
    if (!measure(w, candy, false, stroke_reach * w->least, err)) return false;
    for (int i = 0; i < w->areas->count; i++) {
        const FaceArea *a = &w->areas->area[i];
        if (a->part.candy == candy && !a->open && !a->part.speck) measure_stroke(w, i);
    }
    return true;
}

/* Room round a candy for the largest disc that gaps are measured with. */
static int gap_room(const Meter *w) {
    return (int)ceil(gap_reach * w->least / 2) + 2;
}

/* Is there a gap of the candy at (x, y), of so many samples at most? */
static bool in_gap(const Meter *w, int x, int y, float most_thick) {
    float thick = thick_at(w, x, y);
    return thick > 0 && thick <= most_thick && !areas_in_rings(w->areas->grid, x, y);
}

/* Do most gaps of so many samples at most lie in fine blocks? What lies beyond the core does not. */
static bool gap_is_fine(const Meter *w, double samples) {
    Box in = w->window;
    int side = w->areas->side, fine = 0, all = 0;
    for (int y = in.y; y < in.y + in.h; y++)
        for (int x = in.x; x < in.x + in.w; x++) {
            if (!in_gap(w, x, y, (float)samples)) continue;
            all++;
            if (x >= 0 && y >= 0 && x < side && y < side) fine += lies_fine(w->areas, x, y);
        }
    return 2 * fine > all;
}

/* The finest gap between and within the parts of a candy. */
static bool measure_gap(Meter *w, int candy, double cap, Gap *gap, Err *err) {
    w->window = box_of(w, candy, false, gap_room(w));
    if (!measure(w, candy, true, cap, err)) return false;
    Box in = w->window;
    int area = 0;
    for (int y = in.y; y < in.y + in.h; y++)
        for (int x = in.x; x < in.x + in.w; x++) {
            float thick = thick_at(w, x, y);
            area += thick <= 0; /* the candy itself */
            if (thick < (float)cap && in_gap(w, x, y, thick)) w->count[bin_of(w, thick)]++;
        }
    double found = quantile(w, tenth * area);
    memset(w->count, 0, (size_t)w->bins * sizeof *w->count);
    *gap = (Gap){(found < 0 ? cap : found) * w->sample_mm, found >= 0 && gap_is_fine(w, found)};
    return true;
}

/* The one that is finer for what hands lay there. */
static Gap finer(Gap a, Gap b) {
    return b.mm * (b.fine ? 2 : 1) < a.mm * (a.fine ? 2 : 1) ? b : a;
}

static bool measure_gaps(Meter *w, Gap *gap, Gap *gap_of_main, Err *err) {
    double cap = gap_reach * w->least;
    Gap all = {cap * w->sample_mm, false}, of_main = all;
    for (int k = 0; k < w->areas->grid->candies; k++) {
        bool any = false, main = false;
        for (int i = 0; i < w->areas->count; i++) {
            const Part *part = &w->areas->area[i].part;
            any = any || (part->candy == k && !part->speck);
            main = main || (part->candy == k && part->main);
        }
        Gap of_candy;
        if (k == w->areas->grid->field || !any) continue;
        if (!measure_gap(w, k, cap, &of_candy, err)) return false;
        all = finer(all, of_candy);
        if (main) of_main = finer(of_main, of_candy);
    }
    for (int i = 0; i < w->areas->count; i++) {
        const Part *part = &w->areas->area[i].part;
        if (!part->hole || w->areas->area[i].open || part->speck || part->ring) continue;
        Gap hole = {part->stroke_mm, part->fine};
        all = finer(all, hole);
        if (part->main) of_main = finer(of_main, hole);
    }
    *gap = all;
    *gap_of_main = of_main;
    return true;
}

bool fineness_measure(Areas *areas, double sample_mm, Gap *gap, Gap *gap_of_main, Err *err) {
    Meter w = {.areas = areas, .sample_mm = sample_mm, .least = (double)areas->grid->least_steps * SAMPLES};
    size_t wide = (size_t)areas->side + 2 * (size_t)gap_room(&w); /* the largest window */
    w.bins = (int)ceil(fmax(stroke_reach, gap_reach) * w.least * BINS_A_SAMPLE) + 1;
    w.site = mem_alloc(wide * wide, 1, err);
    w.thick = mem_alloc(wide * wide, sizeof *w.thick, err);
    w.count = mem_alloc((size_t)w.bins, sizeof *w.count, err);
    bool done = w.site && w.thick && w.count;
    for (int k = 0; done && k < areas->grid->candies; k++) done = measure_strokes(&w, k, err);
    done = done && measure_gaps(&w, gap, gap_of_main, err);
    free(w.site);
    free(w.thick);
    free(w.count);
    return done;
}
