/* All that goes with the lettering. SPDX-License-Identifier: MIT
 *
 * 1. The letters of the rows (lettering_lines.c).
 * 2. What stands in a row's band near its letters, of their ink: words of two letters, dots, accents, dashes.
 * Where a row goes round the middle, of any ink: stars between its words.
 * 3. What lies wholly in what goes, and thin outlines and shadows along it.
 * 4. A plate: the ground of a row that meets nothing else but open field, and is not much larger than the
 * row.
 * 5. Is what stays a drawing? Not if all of it is the ring or the plate that the lettering stands on.
 * Cost: O(pixels) a few times, and rows times small areas times shapes. */
#include "inks/lettering.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

enum { ROUNDS = 3 /* of what goes with what goes */ };

/* Of a row's height, where nothing else is said; all ours. */
static const double over = 0.4, under = 0.35;        /* accents; commas */
static const double small = 0.45, small_apart = 0.8; /* a dot, a dash */
static const double stroke_apart = 1.6, in_line = 0.1, beside_apart = 0.3,
                    as_thick = 1.7;    /* a word of two letters; one that descends */
static const double near_apart = 0.25; /* what is nearer than that is a letter, too */
static const double left_least = 0.5, left_most = 1.3, left_apart = 2; /* what may be a letter that stays */
static const double badge_over = 0.2, badge_most = 1.3;                /* a star */
/* An outline; of its border: meets what goes; of the pixels of its row: a blot about all letters. */
static const double thin = 0.35, along_least = 0.3, around_most = 1.3;
static const double plate_least = 0.22;                   /* of a plate: what the box of its letters covers */
static const double plate_most = 0.6;                     /* of all else that stays: no larger is a plate */
static const double drawn_least = 0.25, drawn_side = 1.2; /* of what goes; of the highest row */
static const double block = 0.75; /* of its box: what fills more is a plain ground, no drawing */

static const InkArea *area_at(const Lettering *l, int k) {
    return &l->areas.area[k];
}

/* Where an area stands along the line; of one that is too small to have a shape by its box. */
static Stand stand_at(const Lettering *l, int k, const WriteLine *line) {
    const InkArea *area = area_at(l, k);
    if (area->letter >= 0) return stand_of(line, area->middle, &l->areas.shape[area->letter]);
    double side = (area->box.w > area->box.h ? area->box.w : area->box.h) / 2.0;
    Stand s = stand_of(line, area->middle, NULL);
    s.left = s.right = side;
    s.low -= side;
    s.high += side;
    return s;
}

/* --- 2 --- */

static double least_apart(const Lettering *l, int row, const Stand *stand) {
    double least = HUGE_VAL;
    const WriteLine *line = &l->rows.row[row].line;
    for (int s = 0; s < l->areas.shapes; s++) {
        if (l->out[l->areas.shape[s].area] != row + 1) continue;
        Stand other = stand_at(l, l->areas.shape[s].area, line);
        least = fmin(least, stands_apart(line, &other, stand));
    }
    return least;
}

static bool as_thick_as(const InkArea *area, const WriteRow *row) {
    const double stroke = stroke_of(area);
    return stroke <= as_thick * row->stroke && row->stroke <= as_thick * stroke;
}

static bool stands_in_row(const Lettering *l, int row, int k) {
    const WriteRow *r = &l->rows.row[row];
    const InkArea *area = area_at(l, k);
    const double high = r->high - r->low, side = area->box.w > area->box.h ? area->box.w : area->box.h;
    if (side > 4 * high) return false;
    const Stand s = stand_at(l, k, &r->line);
    if (goes_round(r, l->areas.map->circle) && side <= badge_most * high &&
        s.low >= r->low - badge_over * high && s.high <= r->high + badge_over * high)
        return true;
    if (area->ink != r->ink || s.low < r->low - under * high || s.high > r->high + over * high) return false;
    if (side <= small * high) return least_apart(l, row, &s) <= small_apart * high;
    bool line = fabs(s.low - r->low) <= in_line * high || fabs(s.high - r->high) <= in_line * high;
    return as_thick_as(area, r) && area->letter >= 0 &&
           is_stroke(&l->areas, &l->areas.shape[area->letter], high) &&
           least_apart(l, row, &s) <= (line ? stroke_apart : beside_apart) * high;
}

/* Does something that may be a letter stay beside its letters? */
static bool leaves_letters(const Lettering *l, int row) {
    const WriteRow *r = &l->rows.row[row];
    const double high = r->high - r->low;
    for (int s = 0; s < l->areas.shapes; s++) {
        const Shape *shape = &l->areas.shape[s];
        if (l->out[shape->area] || area_at(l, shape->area)->ink != r->ink || shape->ground != r->ground ||
            !is_stroke(&l->areas, shape, high) || !as_thick_as(area_at(l, shape->area), r))
            continue;
        const Stand stand = stand_at(l, shape->area, &r->line);
        const double own = stand.high - stand.low, both = fmin(stand.high, r->high) - fmax(stand.low, r->low);
        if (own >= left_least * high && own <= left_most * high && both >= 0.5 * own &&
            least_apart(l, row, &stand) <= left_apart * high)
            return true;
    }
    return false;
}

/* Does something else of its ink stand between its letters, or right beside them? Then some of them grow
 * together with it, and would stay. */
static bool is_whole(const Lettering *l, int row) {
    const WriteRow *r = &l->rows.row[row];
    const InkMap *map = l->areas.map;
    const double high = r->high - r->low;
    for (int s = 0; s < l->areas.shapes; s++) {
        const int k = l->areas.shape[s].area;
        if (l->out[k] != row + 1) continue;
        const Stand stand = stand_at(l, k, &r->line);
        for (double x = -stand.left - near_apart * high; x <= stand.right + near_apart * high; x++)
            for (int j = 1; j < 8; j++) {
                const Point p = place_at(&r->line, stand.at, x, r->low + high * j / 8);
                if (p.x < 0 || p.y < 0 || p.x >= map->width || p.y >= map->height) continue;
                const size_t i = (size_t)p.y * (size_t)map->width + (size_t)p.x;
                if (map->label[i] == r->ink && !l->out[l->areas.of[i]]) return false;
            }
    }
    return true;
}

static bool take_rows(Lettering *l) {
    bool more = false;
    for (int row = 0; row < l->rows.count; row++)
        for (int k = 0; k < l->areas.count; k++) {
            if (l->out[k] || area_at(l, k)->open || !stands_in_row(l, row, k)) continue;
            l->out[k] = (uint8_t)(row + 1);
            more = true;
        }
    return more;
}

/* --- 3 and 4 --- */

/* What the border of each area meets. */
typedef struct Meets {
    int out;  /* sides that meet what goes */
    int open; /* open field, or the picture's edge */
    int row;  /* of what goes: the last that was met */
} Meets;

static void count_meets(const Lettering *l, Meets *meets) {
    const int w = l->areas.map->width, h = l->areas.map->height;
    for (int k = 0; k < l->areas.count; k++) meets[k] = (Meets){0};
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            const size_t i = (size_t)y * (size_t)w + (size_t)x;
            const size_t beside[4] = {i - 1, i + 1, i - (size_t)w, i + (size_t)w};
            const bool inside[4] = {x > 0, x + 1 < w, y > 0, y + 1 < h};
            Meets *m = &meets[l->areas.of[i]];
            for (int d = 0; d < 4; d++) {
                if (!inside[d]) {
                    m->open++;
                    continue;
                }
                const int other = l->areas.of[beside[d]];
                if (other == l->areas.of[i]) continue;
                m->open += area_at(l, other)->open;
                m->out += l->out[other] > 0;
                if (l->out[other]) m->row = l->out[other];
            }
        }
}

static bool in_band(const Lettering *l, int row, const InkArea *area) {
    const WriteRow *r = &l->rows.row[row];
    const double high = r->high - r->low;
    const Box b = area->box;
    for (int k = 0; k < 4; k++) {
        Point corner = {b.x + (k & 1 ? b.w : 0), b.y + (k & 2 ? b.h : 0)};
        Stand s = stand_of(&r->line, corner, NULL);
        if (s.low < r->low - over * high || s.high > r->high + over * high) return false;
    }
    return true;
}

static Box join_boxes(Box a, Box b) {
    if (a.w == 0) return b;
    const int left = a.x < b.x ? a.x : b.x, top = a.y < b.y ? a.y : b.y;
    const int right = a.x + a.w > b.x + b.w ? a.x + a.w : b.x + b.w;
    const int low = a.y + a.h > b.y + b.h ? a.y + a.h : b.y + b.h;
    return (Box){left, top, right - left, low - top};
}

/* Is it filled by what goes, and small beside what stays? */
static bool is_plate(const Lettering *l, int k, const Meets *meets) {
    const InkArea *area = area_at(l, k);
    double all = area->pixels, rest = 0;
    Box covered = {0};
    if (area->ink != l->rows.row[meets[k].row - 1].ground || area->ink == l->areas.map->field) return false;
    for (int i = 0; i < l->areas.count; i++) {
        const InkArea *other = area_at(l, i);
        if (l->out[i] && box_holds(area->box, other->box)) {
            covered = join_boxes(covered, other->box);
            all += other->pixels;
        } else if (!l->out[i] && i != k && other->ink != l->areas.map->field) {
            rest += other->pixels;
        }
    }
    return (double)covered.w * covered.h >= plate_least * all && area->pixels <= plate_most * rest;
}

/* What goes with a row, counted from 1. */
static double row_pixels(const Lettering *l, int row) {
    double pixels = 0;
    for (int k = 0; k < l->areas.count; k++)
        if (l->out[k] == row) pixels += area_at(l, k)->pixels;
    return pixels;
}

static bool goes_along(const Lettering *l, int k, const Meets *meets) {
    const InkArea *area = area_at(l, k);
    const Meets *m = &meets[k];
    if (m->out == 0) return false;
    if (m->out == area->border) return true;
    const WriteRow *r = &l->rows.row[m->row - 1];
    bool slight =
        area->thick <= thin * (r->high - r->low) || area->pixels <= around_most * row_pixels(l, m->row);
    if (slight && m->out >= along_least * area->border && in_band(l, m->row - 1, area)) return true;
    return m->out + m->open == area->border && is_plate(l, k, meets);
}

static bool take_along(Lettering *l, Meets *meets) {
    bool more = false;
    count_meets(l, meets);
    for (int k = 0; k < l->areas.count; k++) {
        if (l->out[k] || area_at(l, k)->open || !goes_along(l, k, meets)) continue;
        l->out[k] = (uint8_t)meets[k].row;
        more = true;
    }
    return more;
}

/* --- 5 --- */

/* Of what goes, what lies in the box. */
static double gone_inside(const Lettering *l, Box box) {
    double pixels = 0;
    for (int k = 0; k < l->areas.count; k++)
        if (l->out[k] && box_holds(box, area_at(l, k)->box)) pixels += area_at(l, k)->pixels;
    return pixels;
}

static void weigh_up(Lettering *l, const Meets *meets) {
    const InkMap *map = l->areas.map;
    double gone = 0, stays = 0, drawn = 0, high = 0, side = 0;
    for (int r = 0; r < l->rows.count; r++) high = fmax(high, l->rows.row[r].high - l->rows.row[r].low);
    for (int k = 0; k < l->areas.count; k++) {
        const InkArea *area = area_at(l, k);
        const double longer = area->box.w > area->box.h ? area->box.w : area->box.h;
        if (l->out[k]) {
            l->letters++;
            gone += area->pixels;
            continue;
        }
        if (area->open) continue;
        stays += area->pixels;
        bool ground =
            meets[k].out > 0 && area->pixels + gone_inside(l, area->box) > block * area->box.w * area->box.h;
        bool ring = longer >= 1.8 * map->circle.r; /* round all, or the ground of all */
        if (area->ink == map->field || ground || ring) continue;
        drawn += area->pixels;
        side = fmax(side, longer);
    }
    l->share = gone / fmax(gone + stays, 1);
    l->drawing = drawn >= drawn_least * gone && side >= drawn_side * high;
}

void lettering_free(Lettering *lettering) {
    lettering_areas_free(&lettering->areas);
    free(lettering->rows.of);
    free(lettering->out);
    *lettering = (Lettering){0};
}

bool lettering_set(const InkMap *map, Lettering *out, Err *err) {
    Lettering l = {.letters = 0};
    Meets *meets = NULL;
    bool good = lettering_areas(map, &l.areas, err) && lettering_rows(&l.areas, &l.rows, err);
    if (good && l.rows.count > 0) {
        l.out = mem_alloc((size_t)l.areas.count, 1, err);
        meets = l.out ? mem_alloc((size_t)l.areas.count, sizeof *meets, err) : NULL;
        good = meets != NULL;
        for (int s = 0; good && s < l.areas.shapes; s++)
            if (l.rows.of[s] >= 0) l.out[l.areas.shape[s].area] = (uint8_t)(1 + l.rows.of[s]);
        for (int k = 0; good && k < ROUNDS && take_rows(&l); k++) continue;
        for (int k = 0; good && k < ROUNDS && take_along(&l, meets); k++) continue;
        bool whole = true;
        for (int r = 0; good && r < l.rows.count; r++)
            whole = whole && is_whole(&l, r) && !leaves_letters(&l, r);
        if (good && whole) {
            count_meets(&l, meets);
            weigh_up(&l, meets);
        }
    }
    if (good) {
        *out = l;
        l = (Lettering){0};
    }
    free(meets);
    lettering_free(&l);
    return good;
}
