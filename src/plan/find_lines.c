/* Lines are found and measured. SPDX-License-Identifier: MIT
 *
 * Steps 1, 3 and 4 of redraw.c. */
#include "plan/lines.h"

#include "base/components.h"
#include "base/distance.h"
#include "base/mem.h"
#include "base/morphology.h"
#include "base/parallel.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* All ours, chosen by eye over the quality set. */
static const double line_most = 0.55;   /* least strips: thinner is a line */
static const double gap_most = 0.8;     /* least strips: thinner is a line, of the field */
static const double line_reach = 0.8;   /* least strips: what stays nearer to the rest is a corner or a tip */
static const double whole_least = 0.5;  /* of an area: if so much of it is line, all of it is */
static const double line_short = 2.5;   /* least strips: shorter is none */
static const double sides_apart = 0.8;  /* of the cap of what counts as apart: CIEDE2000 20 */
static const double framed_share = 0.5; /* of all other parts */
static const double framed_times = 2;   /* a frame goes round so many times its own area */

enum {
    NO_CANDY = 254,    /* a value that no candy has */
    THREADS_FROM = 400 /* samples across: a smaller face is done before threads are up */
};

typedef struct Finder {
    Lines lines;
    uint8_t *site;   /* [count] scratch; owned, as are the next */
    int32_t *square; /* [count] of the nearest ground */
    int32_t *body;   /* [count] the part of an area without its lines; -1 */
    double *edge;    /* [lines] sides of samples along its edge */
    double *slanted; /* [lines] the same across corners */
    double *parted;  /* [lines] sides of samples between two grounds that are apart */
} Finder;

void lines_free(Lines *lines) {
    areas_free(&lines->areas);
    free(lines->text);
    free(lines->letter);
    free(lines->in_line);
    free(lines->label);
    free(lines->nearest);
    free(lines->beside);
    free(lines->line);
    *lines = (Lines){0};
}

static void finder_free(Finder *f) {
    free(f->site);
    free(f->square);
    free(f->body);
    free(f->slanted);
    free(f->edge);
    free(f->parted);
}

static bool finder_new(const Grid *grid, Finder *f, Err *err) {
    Lines *l = &f->lines;
    l->grid = grid;
    l->side = grid->wanted.side;
    l->count = (size_t)l->side * (size_t)l->side;
    l->least = (double)grid->least_steps * SAMPLES;
    return areas_find(grid, &l->areas, err) && (l->in_line = mem_alloc(l->count, 1, err)) &&
           (l->label = mem_alloc(l->count, sizeof *l->label, err)) &&
           (l->nearest = mem_alloc(l->count, sizeof *l->nearest, err)) &&
           (f->site = mem_alloc(l->count, 1, err)) &&
           (f->square = mem_alloc(l->count, sizeof *f->square, err)) &&
           (f->body = mem_alloc(l->count, sizeof *f->body, err)) &&
           (l->beside = mem_alloc(l->count, sizeof *l->beside, err));
}

/* --- 1 --- */

/* Open field and rings have no lines. */
static bool can_be_line(const Lines *l, size_t i) {
    if (l->areas.label[i] < 0) return false;
    const FaceArea *area = &l->areas.area[l->areas.label[i]];
    return !area->open && !area->part.ring;
}

/* What one candy is opened with. */
typedef struct Opening {
    uint8_t *site, *opened;            /* [count] owned, as are the next */
    int32_t *square, *nearest, *label; /* [count] */
} Opening;

static void opening_free(Opening *o) {
    free(o->site);
    free(o->opened);
    free(o->square);
    free(o->nearest);
    free(o->label);
}

static bool opening_new(size_t count, Opening *o, Err *err) {
    return (o->site = mem_alloc(count, 1, err)) && (o->opened = mem_alloc(count, 1, err)) &&
           (o->square = mem_alloc(count, sizeof *o->square, err)) &&
           (o->nearest = mem_alloc(count, sizeof *o->nearest, err)) &&
           (o->label = mem_alloc(count, sizeof *o->label, err));
}

/* Is the sample far from all of its area that is thick? */
static bool is_far(const Lines *l, const Opening *o, size_t i) {
    const double far = line_reach * l->least;
    if (o->nearest[i] < 0 || o->square[i] > far * far) return true;
    return l->areas.label[o->nearest[i]] != l->areas.label[i];
}

/* Of what is outside the opening, those pieces that reach far from it. */
static bool keep_lines(Lines *l, const Opening *o, int k, Err *err) {
    uint8_t ways[256] = {0};
    ways[1] = 8;
    for (size_t i = 0; i < l->count; i++)
        o->site[i] = l->grid->wanted.candy[i] == k && !o->opened[i] && can_be_line(l, i);
    int pieces = components(o->site, l->side, l->side, ways, o->label);
    bool *reaches = mem_alloc((size_t)pieces + 1, sizeof *reaches, err);
    if (!reaches) return false;
    for (size_t i = 0; i < l->count; i++)
        if (o->label[i] >= 0 && is_far(l, o, i)) reaches[o->label[i]] = true;
    for (size_t i = 0; i < l->count; i++)
        if (o->label[i] >= 0 && reaches[o->label[i]]) l->in_line[i] = 1;
    free(reaches);
    return true;
}

/* The core's edge ends no candy. */
static bool open_candy(Lines *l, const Opening *o, int k, Err *err) {
    const uint8_t *candy = l->grid->wanted.candy;
    const double most = k == l->grid->field ? gap_most : line_most;
    for (size_t i = 0; i < l->count; i++) o->site[i] = candy[i] != k && candy[i] != OUTSIDE;
    if (!open_by_disc(o->site, l->side, l->side, most * l->least, o->opened, err)) return false;
    for (size_t i = 0; i < l->count; i++) o->opened[i] = o->opened[i] && candy[i] == k;
    return distance_transform(o->opened, l->side, l->side, o->square, o->nearest, err) &&
           keep_lines(l, o, k, err);
}

/* Marks those of one candy, which are nobody else's samples. */
static bool mark_lines(void *context, int k, Err *err) {
    Lines *l = context;
    bool any = false;
    for (size_t i = 0; i < l->count && !any; i++) any = l->grid->wanted.candy[i] == k && can_be_line(l, i);
    if (!any) return true;
    Opening o = {0};
    bool done = opening_new(l->count, &o, err) && open_candy(l, &o, k, err);
    opening_free(&o);
    return done;
}

/* An area that is mostly line is one, with its thicker places. */
static bool take_whole(Finder *f, Err *err) {
    Lines *l = &f->lines;
    int *thin = mem_alloc((size_t)l->areas.count, sizeof *thin, err);
    if (!thin) return false;
    for (size_t i = 0; i < l->count; i++)
        if (l->in_line[i]) thin[l->areas.label[i]]++;
    for (size_t i = 0; i < l->count; i++) {
        int area = l->areas.label[i];
        if (area >= 0 && thin[area] >= whole_least * l->areas.area[area].part.samples) l->in_line[i] = 1;
    }
    free(thin);
    return true;
}

static bool mark_all_lines(Finder *f, Err *err) {
    Lines *l = &f->lines;
    const int threads = l->side < THREADS_FROM ? 1 : 0;
    return parallel_tasks(l->grid->candies, threads, mark_lines, l, err) && take_whole(f, err) &&
           mark_small_text(l, err);
}

/* --- 3 --- */

int ground_candy(const Lines *l, size_t sample) {
    if (!l->in_line[sample]) return l->grid->wanted.candy[sample];
    return l->nearest[sample] < 0 ? l->grid->field : l->grid->wanted.candy[l->nearest[sample]];
}

int ground_area(const Lines *l, size_t sample) {
    if (!l->in_line[sample]) return l->areas.label[sample];
    return l->nearest[sample] < 0 ? -1 : l->areas.label[l->nearest[sample]];
}

static bool find_ground(Finder *f, Err *err) {
    Lines *l = &f->lines;
    for (size_t i = 0; i < l->count; i++) f->site[i] = !l->in_line[i] && l->areas.label[i] >= 0;
    return distance_transform(f->site, l->side, l->side, f->square, l->nearest, err);
}

static void number(Finder *f, bool of_lines, int32_t *label, int *count) {
    Lines *l = &f->lines;
    uint8_t ways[256];
    memset(ways, 8, sizeof ways);
    ways[NO_CANDY] = 0;
    for (size_t i = 0; i < l->count; i++) {
        bool part = l->areas.label[i] >= 0 && (l->in_line[i] != 0) == of_lines;
        f->site[i] = part ? l->grid->wanted.candy[i] : NO_CANDY;
    }
    *count = components(f->site, l->side, l->side, ways, label);
}

/* --- 4 --- */

/* Grows the box so that it holds the sample. */
static void box_take(Box *box, bool first, int x, int y) {
    if (first) *box = (Box){x, y, 1, 1};
    int right = box->x + box->w > x + 1 ? box->x + box->w : x + 1;
    int low = box->y + box->h > y + 1 ? box->y + box->h : y + 1;
    if (x < box->x) box->x = x;
    if (y < box->y) box->y = y;
    box->w = right - box->x;
    box->h = low - box->y;
}

/* The first sample next to this one that lies in another area; -1: none. */
static int next_area(const Lines *l, int i) {
    const int x = i % l->side, y = i / l->side, step[4] = {-1, 1, -l->side, l->side};
    const bool inside[4] = {x > 0, x + 1 < l->side, y > 0, y + 1 < l->side};
    for (int d = 0; d < 4; d++)
        if (inside[d] && l->areas.label[i + step[d]] >= 0 && l->areas.label[i + step[d]] != l->areas.label[i])
            return i + step[d];
    return -1;
}

/* The way out of a line leads over its own edge first. */
static bool find_sides(Finder *f, Err *err) {
    Lines *l = &f->lines;
    const int count = (int)l->count;
    for (int i = 0; i < count; i++) f->site[i] = l->label[i] >= 0 && next_area(l, i) >= 0;
    if (!distance_nearest(f->site, l->in_line, l->side, l->side, l->beside, err)) return false;
    for (int i = 0; i < count; i++)
        l->beside[i] = l->label[i] < 0 || l->beside[i] < 0 ? -1 : next_area(l, l->beside[i]);
    return true;
}

static bool is_apart(const Finder *f, size_t i, size_t next) {
    const Lines *l = &f->lines;
    const Grid *grid = l->grid;
    if (l->beside[i] < 0 || l->beside[next] < 0) return false;
    return grid->apart[grid->wanted.candy[l->beside[i]]][grid->wanted.candy[l->beside[next]]] >= sides_apart;
}

static int line_at(const Lines *l, int x, int y) {
    bool inside = x >= 0 && y >= 0 && x < l->side && y < l->side;
    return inside ? l->label[(size_t)y * (size_t)l->side + (size_t)x] : -1;
}

static void measure_sample(Finder *f, int x, int y) {
    Lines *l = &f->lines;
    const size_t i = (size_t)y * (size_t)l->side + (size_t)x;
    const int at = l->label[i];
    if (at < 0) return;
    RedrawnLine *told = &l->line[at].told;
    box_take(&told->box, told->samples++ == 0, x, y);
    told->candy = l->grid->wanted.candy[i];
    told->middle.x += x;
    told->middle.y += y;
    l->line[at].area = l->areas.label[i];
    for (int d = 0; d < 4; d++) {
        f->edge[at] += line_at(l, x + (d == 0) - (d == 1), y + (d == 2) - (d == 3)) != at;
        f->slanted[at] += line_at(l, x + 1 - d / 2 * 2, y + 1 - d % 2 * 2) != at;
    }
    for (int way = 0; way < 2; way++) {
        size_t next = i + (way ? (size_t)l->side : 1);
        if ((way ? y : x) + 1 == l->side || l->label[next] != at) continue;
        f->parted[at] += is_apart(f, i, next);
    }
}

/* Which parts of its own area a limb touches: a second one makes it a bridge. */
static void touch(Lines *l, const int32_t *body, int32_t *first, size_t i, size_t other) {
    for (int turn = 0; turn < 2; turn++) {
        size_t line = turn ? other : i, beside = turn ? i : other;
        int at = l->label[line];
        if (at < 0 || body[beside] < 0 || l->areas.label[beside] != l->line[at].area) continue;
        if (first[at] < 0) first[at] = body[beside];
        l->line[at].told.limb = true;
        l->line[at].bridge |= first[at] != body[beside];
    }
}

/* Does it go round half of all other parts, and much more than itself? Gaps are none. */
static void find_frames(Lines *l) {
    double all = 0;
    for (int i = 0; i < l->areas.count; i++) {
        const FaceArea *area = &l->areas.area[i];
        if (!area->open && !area->part.hole) all += area->part.samples;
    }
    for (int i = 0; i < l->lines; i++) {
        RedrawnLine *told = &l->line[i].told;
        double inside = 0, own = told->samples, held = (double)told->box.w * told->box.h;
        if (held < framed_share * (all - own) || held < framed_times * own)
            continue; /* told->frame is false */
        for (int k = 0; k < l->areas.count && !told->limb; k++) {
            const FaceArea *area = &l->areas.area[k];
            if (k == l->line[i].area || area->open || area->part.hole) continue;
            if (box_holds(told->box, area->part.box)) inside += area->part.samples;
        }
        told->frame = inside >= framed_share * (all - own) && inside >= framed_times * own;
    }
}

static bool find_bridges(Finder *f, Err *err) {
    Lines *l = &f->lines;
    const size_t side = (size_t)l->side;
    int bodies;
    int32_t *first = mem_alloc((size_t)l->lines + 1, sizeof *first, err);
    if (!first) return false;
    memset(first, -1, ((size_t)l->lines + 1) * sizeof *first);
    number(f, false, f->body, &bodies);
    for (size_t y = 0; y + 1 < side; y++)
        for (size_t x = 0; x + 1 < side; x++) {
            size_t i = y * side + x;
            touch(l, f->body, first, i, i + 1);
            touch(l, f->body, first, i, i + side);
            touch(l, f->body, first, i, i + side + 1);
            touch(l, f->body, first, i + 1, i + side);
        }
    free(first);
    return true;
}

/* The sample of each line that is nearest to the middle of its area. */
static bool find_middles(Lines *l, Err *err) {
    double *least = mem_alloc((size_t)l->lines + 1, sizeof *least, err);
    Point *found = least ? mem_alloc((size_t)l->lines + 1, sizeof *found, err) : NULL;
    for (int i = 0; found && i < l->lines; i++) {
        RedrawnLine *told = &l->line[i].told;
        told->middle = (Point){told->middle.x / told->samples, told->middle.y / told->samples};
        least[i] = HUGE_VAL;
    }
    for (size_t i = 0; found && i < l->count; i++) {
        int at = l->label[i];
        if (at < 0) continue;
        double x = (double)(i % (size_t)l->side), y = (double)(i / (size_t)l->side);
        double across = x - l->line[at].told.middle.x, down = y - l->line[at].told.middle.y;
        if (across * across + down * down >= least[at]) continue;
        least[at] = across * across + down * down;
        found[at] = (Point){x + 0.5, y + 0.5};
    }
    for (int i = 0; found && i < l->lines; i++) l->line[i].told.middle = found[i];
    bool done = found != NULL;
    free(least);
    free(found);
    return done;
}

static bool measure_lines(Finder *f, Err *err) {
    Lines *l = &f->lines;
    number(f, true, l->label, &l->lines);
    l->line = mem_alloc((size_t)l->lines + 1, sizeof *l->line, err);
    f->edge = l->line ? mem_alloc((size_t)l->lines + 1, sizeof *f->edge, err) : NULL;
    f->parted = f->edge ? mem_alloc((size_t)l->lines + 1, sizeof *f->parted, err) : NULL;
    f->slanted = f->parted ? mem_alloc((size_t)l->lines + 1, sizeof *f->slanted, err) : NULL;
    if (!f->slanted || !find_sides(f, err)) return false;
    for (int y = 0; y < l->side; y++)
        for (int x = 0; x < l->side; x++) measure_sample(f, x, y);
    for (int i = 0; i < l->lines; i++) {
        RedrawnLine *told = &l->line[i].told;
        double edge =
            PI / 8 * (f->edge[i] + f->slanted[i] / sqrt(2)); /* Cauchy and Crofton, four directions */
        told->length = fmax(edge / 2, 1);                    /* both its sides are edge */
        told->width = told->samples / told->length;
        told->parted = fmin(2 * f->parted[i] / f->edge[i], 1);
        l->line[i].shortish = told->length < line_short * l->least;
    }
    if (!find_bridges(f, err) || !find_middles(l, err)) return false;
    find_frames(l);
    return true;
}

/* There is none: nothing is to be measured. */
static bool find_none(Lines *l, Err *err) {
    memset(l->label, -1, l->count * sizeof *l->label);
    return (l->line = mem_alloc(1, sizeof *l->line, err)) != NULL;
}

bool lines_find(const Grid *grid, Lines *out, Err *err) {
    Finder f = {0};
    bool done = finder_new(grid, &f, err) && mark_all_lines(&f, err);
    if (done && !memchr(f.lines.in_line, 1, f.lines.count))
        done = find_none(&f.lines, err);
    else
        done = done && find_ground(&f, err) && measure_lines(&f, err);
    finder_free(&f);
    if (done)
        *out = f.lines;
    else
        lines_free(&f.lines);
    return done;
}
