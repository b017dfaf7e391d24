/* Strokes along the lines of a row of letters. SPDX-License-Identifier: MIT
 *
 * 1. Each pixel of a line goes where the stretch says.
 * 2. Which way the line runs there: by the spread of its pixels about, within three quarters of a stem. Level
 * and upright ones are told from all others.
 * 3. Level lines of all letters that are at nearly one height, and upright ones of one letter, come to lie on
 * one line, and there where the stroke's edges are whole steps, as ropes' are. What lies between goes with
 * them.
 * 4. A square pen for level and upright lines, so that they end square; a round one for all others.
 * Cost: pixels of lines * stem^2. */
#include "plan/letters.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

enum { RAILS_MAX = 16, REACH_MORE = 4 /* pixels beyond a stem: lines that were drawn together */ };

static const double level_spread = 0.03; /* across, of the spread along: a slope of 1 in 6; chosen */
static const double rail_spread = 0.012; /* likewise: 1 in 9; chosen */
static const double way_stems = 0.75;    /* so far about a pixel its line is looked at; chosen */
static const double one_line = 0.6;      /* of a stem: lines closer are one; chosen */

/* A pixel of a line. */
typedef struct Dot {
    int x, y;            /* in the row's raster */
    int letter;          /* 1.. */
    Point at;            /* samples from the row's middle: where it goes */
    bool level, upright; /* nearly: a square pen */
    bool flat, steep;    /* quite: on a line with others */
} Dot;

typedef struct Writer {
    const LetterRow *row;
    const LetterSize *size;
    int32_t *index; /* [height][width] 1 + the dot; owned */
    Dot *dot;       /* [dots]; owned */
    int dots;
    double *value; /* [dots] scratch; owned */
} Writer;

static bool collect(Writer *w, const Stretch *stretch, Err *err) {
    const LetterRow *row = w->row;
    int pixels = row->width * row->height, count = 0;
    for (int i = 0; i < pixels; i++) count += row->line[i] != 0;
    w->index = mem_alloc((size_t)pixels, sizeof *w->index, err);
    w->dot = w->index ? mem_alloc((size_t)count, sizeof *w->dot, err) : NULL;
    w->value = w->dot ? mem_alloc((size_t)count, sizeof *w->value, err) : NULL;
    if (!w->value) return false;
    for (int i = 0; i < pixels; i++) {
        if (!row->line[i]) continue;
        int x = i % row->width, y = i / row->width;
        w->dot[w->dots++] = (Dot){
            .x = x, .y = y, .letter = row->line[i], .at = {stretch->to[ALONG][x], stretch->to[ACROSS][y]}};
        w->index[i] = w->dots;
    }
    return true;
}

/* 2. */
static void find_way(Writer *w, Dot *d) {
    const LetterRow *row = w->row;
    const int reach = (int)ceil(w->row->stem) + REACH_MORE;
    double near = way_stems * w->size->stem, n = 0, sx = 0, sy = 0, sxx = 0, syy = 0;
    for (int y = d->y - reach; y <= d->y + reach; y++)
        for (int x = d->x - reach; x <= d->x + reach; x++) {
            if (x < 0 || y < 0 || x >= row->width || y >= row->height) continue;
            int32_t i = w->index[y * row->width + x];
            if (i == 0 || w->dot[i - 1].letter != d->letter) continue;
            double u = w->dot[i - 1].at.x - d->at.x, v = w->dot[i - 1].at.y - d->at.y;
            if (u * u + v * v > near * near) continue;
            n++;
            sx += u;
            sy += v;
            sxx += u * u;
            syy += v * v;
        }
    sxx -= sx * sx / n;
    syy -= sy * sy / n;
    d->level = sxx > 0 && syy <= level_spread * sxx;
    d->upright = syy > 0 && sxx <= level_spread * syy;
    d->flat = d->level && syy <= rail_spread * sxx;
    d->steep = d->upright && sxx <= rail_spread * syy;
}

/* --- 3 --- */

static int compare_doubles(const void *a, const void *b) {
    double p = *(const double *)a, q = *(const double *)b;
    return p < q ? -1 : p > q;
}

/* A line and where it goes. */
typedef struct Rail {
    double low, high, to;
} Rail;

/* The edges of a stroke in its middle come to whole steps from the face's edge, `offset` from 0. */
static double on_steps(double at, double stem, double offset) {
    double edge = at - stem / 2 + offset;
    return round(edge / SAMPLES) * SAMPLES - offset + stem / 2;
}

/* The lines of `value[count]`: those closer than a part of a stem are one. */
static int find_rails(double *value, int count, double apart, Rail rail[RAILS_MAX]) {
    int rails = 0;
    qsort(value, (size_t)count, sizeof *value, compare_doubles);
    for (int i = 0; i < count;) {
        int from = i;
        while (i < count && value[i] - value[from] <= apart) i++;
        if (rails == RAILS_MAX) return 0;
        rail[rails++] = (Rail){value[from], value[i - 1], value[(from + i - 1) / 2]};
    }
    return rails;
}

static double on_rails(const Rail *rail, int rails, double at) {
    for (int i = 0; i < rails; i++) {
        if (at > rail[i].high) continue;
        if (at >= rail[i].low) return rail[i].to;
        if (i == 0) return at + rail[0].to - rail[0].low;
        double part = (at - rail[i - 1].high) / (rail[i].low - rail[i - 1].high);
        return rail[i - 1].to + part * (rail[i].to - rail[i - 1].to);
    }
    return rails > 0 ? at + rail[rails - 1].to - rail[rails - 1].high : at;
}

/* Of one letter, or of all (0). */
static void lay_on_rails(Writer *w, bool level, int letter) {
    Rail rail[RAILS_MAX];
    int count = 0;
    for (int i = 0; i < w->dots; i++) {
        const Dot *d = &w->dot[i];
        if ((level ? d->flat : d->steep) && (letter == 0 || d->letter == letter))
            w->value[count++] = level ? d->at.y : d->at.x;
    }
    int rails = find_rails(w->value, count, one_line * w->size->stem, rail);
    const RowPlace *place = &w->row->place;
    for (int i = 0; i < rails && !place->arc; i++)
        rail[i].to = on_steps(rail[i].to, w->size->stem, level ? place->middle.y : place->middle.x);
    for (int i = 0; i < w->dots; i++) {
        Dot *d = &w->dot[i];
        if (letter != 0 && d->letter != letter) continue;
        double *at = level ? &d->at.y : &d->at.x;
        *at = on_rails(rail, rails, *at);
    }
}

/* --- 4 --- */

static void draw_dot(const Dot *d, double stem, RowInk *out) {
    double cx = d->at.x + out->width / 2.0, cy = d->at.y + out->height / 2.0, r = stem / 2;
    bool square = d->level || d->upright;
    for (int y = (int)floor(cy - r); y <= (int)ceil(cy + r); y++)
        for (int x = (int)floor(cx - r); x <= (int)ceil(cx + r); x++) {
            double u = x + 0.5 - cx, v = y + 0.5 - cy;
            if (x < 0 || y < 0 || x >= out->width || y >= out->height) continue;
            if (square ? u < -r || u >= r || v < -r || v >= r : u * u + v * v > r * r) continue;
            out->ink[(size_t)y * out->width + x] = (uint8_t)d->letter;
        }
}

/* The place of each letter is that of the dot half-way through it. */
static void place_letters(const Writer *w, RowInk *out) {
    int count[ROW_LETTERS_MAX] = {0}, met[ROW_LETTERS_MAX] = {0};
    for (int i = 0; i < w->dots; i++) count[w->dot[i].letter - 1]++;
    for (int i = 0; i < w->dots; i++) {
        const Dot *d = &w->dot[i];
        if (met[d->letter - 1]++ != count[d->letter - 1] / 2) continue;
        out->is[d->letter - 1] = d->at;
        out->was[d->letter - 1] =
            (Point){d->x + 0.5 - w->row->width / 2.0, d->y + 0.5 - w->row->height / 2.0};
    }
}

static bool draw_dots(const Writer *w, RowInk *out, Err *err) {
    double right = 0, low = 0, pen = w->size->stem / 2 + 1;
    for (int i = 0; i < w->dots; i++) {
        right = fmax(right, fabs(w->dot[i].at.x));
        low = fmax(low, fabs(w->dot[i].at.y));
    }
    RowInk made = {.width = 2 * (int)ceil(right + pen), .height = 2 * (int)ceil(low + pen)};
    made.ink = mem_alloc((size_t)made.width * made.height, 1, err);
    if (!made.ink) return false;
    for (int i = 0; i < w->dots; i++) draw_dot(&w->dot[i], w->size->stem, &made);
    place_letters(w, &made);
    *out = made;
    return true;
}

bool letter_pen(const LetterRow *row, const Stretch *stretch, const LetterSize *size, RowInk *out, Err *err) {
    Writer w = {.row = row, .size = size};
    bool done = collect(&w, stretch, err); /* 1 */
    if (done) {
        for (int i = 0; i < w.dots; i++) find_way(&w, &w.dot[i]); /* 2 */
        lay_on_rails(&w, true, 0);                                /* 3 */
        for (int i = 1; i <= row->letters; i++) lay_on_rails(&w, false, i);
        done = draw_dots(&w, out, err); /* 4 */
    }
    free(w.index);
    free(w.dot);
    free(w.value);
    return done;
}
