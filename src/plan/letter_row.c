/* A row of letters from the face. SPDX-License-Identifier: MIT
 *
 * 1. Where it lies: the middle of its letters' box; of an arc, along the circle, the widest gap between
 * letters left out.
 * 2. Its letters from the left; smaller areas of the same candy that stand over or under one are of it: dots,
 *    accents.
 * 3. The raster, by the nearest sample of the face.
 * 4. The ground: what nearly all else in the raster is.
 * Cost: O(samples), four times. */
#include "plan/letters.h"

#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double beyond_row = 0.6; /* of the height: how far off, and how high, dots and accents are */
static const double others_share =
    0.02; /* of what lies about the letters: more of other candies is no ground */

void letter_row_free(LetterRow *row) {
    free(row->ink);
    free(row->line);
    free(row->letter);
    *row = (LetterRow){0};
}

static double turned(double angle) {
    return angle > PI ? angle - 2 * PI : angle <= -PI ? angle + 2 * PI : angle;
}

Point row_point(const RowPlace *place, double x, double y) {
    double across = x - place->middle.x, down = y - place->middle.y;
    if (!place->arc) return (Point){across, down};
    double r = sqrt(across * across + down * down);
    return (Point){place->radius * turned(atan2(across, -down) - place->turn), place->radius - r};
}

Point face_point(const RowPlace *place, double x, double y) {
    if (!place->arc) return (Point){place->middle.x + x, place->middle.y + y};
    double turn = place->turn + x / place->radius, r = place->radius - y;
    return (Point){place->middle.x + r * sin(turn), place->middle.y - r * cos(turn)};
}

/* From `low` to `high`, as far as it holds samples. */
typedef struct Extent {
    Point low, high;
} Extent;

static Extent no_extent(void) {
    return (Extent){{HUGE_VAL, HUGE_VAL}, {-HUGE_VAL, -HUGE_VAL}};
}

static void extend(Extent *e, Point p) {
    e->low.x = fmin(e->low.x, p.x - 0.5);
    e->low.y = fmin(e->low.y, p.y - 0.5);
    e->high.x = fmax(e->high.x, p.x + 0.5);
    e->high.y = fmax(e->high.y, p.y + 0.5);
}

typedef struct Finder {
    const Areas *areas;
    int32_t *letter; /* [areas] 1 + the letter; 0 = none; owned */
    Extent *extent;  /* [areas] of each on the row's raster; owned */
    Extent all;      /* of the letters */
} Finder;

static void measure_areas(Finder *f, const RowPlace *place) {
    const int side = f->areas->side;
    const Point to = {sin(place->turn), -cos(place->turn)};
    f->all = no_extent();
    for (int i = 0; i < f->areas->count; i++) f->extent[i] = no_extent();
    for (int y = 0; y < side; y++)
        for (int x = 0; x < side; x++) {
            int32_t area = f->areas->label[(size_t)y * side + x];
            if (area < 0 || f->areas->area[area].open) continue;
            const Point from = {x + 0.5 - place->middle.x, y + 0.5 - place->middle.y};
            if (place->arc ? areas_inside_round(f->areas, x, y, from, to) : areas_inside(f->areas, x, y))
                continue;
            Point p = row_point(place, x + 0.5, y + 0.5);
            extend(&f->extent[area], p);
            if (f->letter[area]) extend(&f->all, p);
        }
}

/* --- the place --- */

static int compare_doubles(const void *a, const void *b) {
    double p = *(const double *)a, q = *(const double *)b;
    return p < q ? -1 : p > q;
}

/* The middle of what is left of the turn beside the widest gap between letters. */
static double middle_turn(double *turn, int count) {
    qsort(turn, (size_t)count, sizeof *turn, compare_doubles);
    double widest = turn[0] + 2 * PI - turn[count - 1], middle = (turn[0] + turn[count - 1]) / 2;
    for (int i = 1; i < count; i++)
        if (turn[i] - turn[i - 1] > widest + 1e-9) {
            widest = turn[i] - turn[i - 1];
            middle = turned((turn[i] + turn[i - 1]) / 2 + PI);
        }
    return middle;
}

static void place_row(Finder *f, RowKind kind, RowPlace *place) {
    double turn[ROW_LETTERS_MAX], half = f->areas->side / 2.0;
    int count = 0;
    *place = (RowPlace){.arc = kind == ROW_ARC, .middle = {half, half}, .radius = half};
    for (int i = 0; place->arc && i < f->areas->count; i++) {
        Point p = f->areas->area[i].part.middle;
        if (f->letter[i]) turn[count++] = atan2(p.x - half, half - p.y);
    }
    if (count > 0) place->turn = middle_turn(turn, count);
    measure_areas(f, place);
    Point middle = {(f->all.low.x + f->all.high.x) / 2, (f->all.low.y + f->all.high.y) / 2};
    if (place->arc) {
        place->turn = turned(place->turn + middle.x / place->radius);
        place->radius -= middle.y;
    } else {
        place->middle.x = floor(place->middle.x + middle.x); /* samples stay samples */
        place->middle.y = floor(place->middle.y + middle.y);
    }
}

/* --- letters, from the left --- */

static void number_letters(Finder *f) {
    int order[ROW_LETTERS_MAX], count = 0;
    for (int i = 0; i < f->areas->count; i++) {
        if (!f->letter[i]) continue;
        int at = count++;
        for (; at > 0 && f->extent[order[at - 1]].low.x > f->extent[i].low.x; at--) order[at] = order[at - 1];
        order[at] = i;
    }
    for (int i = 0; i < count; i++) f->letter[order[i]] = i + 1;
}

static bool can_be_dot(const Finder *f, const FaceArea *area, const Extent *e, int candy) {
    double high = f->all.high.y - f->all.low.y;
    return !area->open && !area->part.ring && area->part.candy == candy && e->low.x >= f->all.low.x &&
           e->high.x <= f->all.high.x && e->low.y >= f->all.low.y - beyond_row * high &&
           e->high.y <= f->all.high.y + beyond_row * high && e->high.y - e->low.y <= beyond_row * high;
}

/* Each goes with the letter that it is most over. */
static void take_dots(Finder *f, int candy) {
    for (int i = 0; i < f->areas->count; i++) {
        const Extent *e = &f->extent[i];
        double best = 0;
        if (f->letter[i] != 0 || !can_be_dot(f, &f->areas->area[i], e, candy)) continue;
        for (int j = 0; j < f->areas->count; j++) {
            if (f->letter[j] <= 0) continue; /* a dot is no letter for others yet */
            double over = fmin(e->high.x, f->extent[j].high.x) - fmax(e->low.x, f->extent[j].low.x);
            if (over > best) f->letter[i] = -f->letter[j];
            best = fmax(best, over);
        }
    }
    for (int i = 0; i < f->areas->count; i++) f->letter[i] = abs(f->letter[i]);
}

/* --- the raster --- */

static bool draw_row(const Finder *f, LetterRow *row, Err *err) {
    int side = f->areas->side;
    double across = fmax(-f->all.low.x, f->all.high.x), down = fmax(-f->all.low.y, f->all.high.y);
    row->width = 2 * ((int)ceil(across) + 2);
    row->height = 2 * ((int)ceil(down) + 2);
    row->ink = mem_alloc((size_t)row->width * row->height, 1, err);
    if (!row->ink) return false;
    for (int y = 0; y < row->height; y++)
        for (int x = 0; x < row->width; x++) {
            Point p = face_point(&row->place, x + 0.5 - row->width / 2.0, y + 0.5 - row->height / 2.0);
            int u = (int)floor(p.x), v = (int)floor(p.y);
            int32_t area = -1;
            if (u >= 0 && v >= 0 && u < side && v < side) area = f->areas->label[(size_t)v * side + u];
            bool edge = x == 0 || y == 0 || x == row->width - 1 || y == row->height - 1;
            if (area >= 0 && !edge) row->ink[(size_t)y * row->width + x] = (uint8_t)f->letter[area];
        }
    return true;
}

/* The candy that the letters stand on, -1 if there are several. */
static int find_ground(const Finder *f, const LetterRow *row) {
    int count[INKS_MAX] = {0}, all = 0, best = 0, side = f->areas->side;
    const uint8_t *candy = f->areas->grid->wanted.candy;
    for (int y = 0; y < side; y++)
        for (int x = 0; x < side; x++) {
            size_t i = (size_t)y * side + x;
            if (candy[i] == OUTSIDE || f->letter[f->areas->label[i]]) continue;
            Point p = row_point(&row->place, x + 0.5, y + 0.5);
            if (fabs(p.x) > row->width / 2.0 || fabs(p.y) > row->height / 2.0) continue;
            count[candy[i]]++;
            all++;
        }
    for (int k = 1; k < INKS_MAX; k++)
        if (count[k] > count[best]) best = k;
    return count[best] > 0 && all - count[best] <= others_share * all && best != row->candy ? best : -1;
}

/* The letters' extent, dots included. */
static void measure_row(Finder *f, LetterRow *row) {
    measure_areas(f, &row->place);
    row->ink_wide = f->all.high.x - f->all.low.x;
    row->ink_high = f->all.high.y - f->all.low.y;
}

static bool find_row(Finder *f, const Row *kind, LetterRow *out, Err *err) {
    LetterRow row = {.candy = kind->candy, .letters = kind->letters};
    place_row(f, kind->kind, &row.place); /* 1 */
    measure_areas(f, &row.place);
    number_letters(f); /* 2 */
    take_dots(f, kind->candy);
    measure_row(f, &row);
    if (!draw_row(f, &row, err)) return false; /* 3 */
    row.ground = find_ground(f, &row);         /* 4 */
    if (row.ground < 0) {
        letter_row_free(&row);
        return true;
    }
    row.letter = f->letter;
    f->letter = NULL;
    *out = row;
    return true;
}

bool letter_row_find(const Areas *areas, const Rows *rows, const int32_t *part_of, int index, LetterRow *out,
                     Err *err) {
    const Row *kind = &rows->row[index];
    Finder f = {.areas = areas};
    *out = (LetterRow){0};
    if (kind->letters < 2 || kind->letters > ROW_LETTERS_MAX) return true;
    f.letter = mem_alloc((size_t)areas->count, sizeof *f.letter, err);
    f.extent = f.letter ? mem_alloc((size_t)areas->count, sizeof *f.extent, err) : NULL;
    for (int i = 0; f.extent && i < areas->count; i++)
        f.letter[i] = part_of[i] >= 0 && rows->of[part_of[i]] == index;
    bool done = f.extent && find_row(&f, kind, out, err);
    free(f.letter);
    free(f.extent);
    return done;
}
