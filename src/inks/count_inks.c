/* Shares of inks, and where they meet: directly, and across thin lines. SPDX-License-Identifier: MIT
 *
 * 1. Pixels and borders inside the circle.
 * 2. Each row and each column is a list of runs; a pixel is wide where both its runs are longer than what is
 * thin: a slanted line has one long run, a line along a row as well.
 * 3. Along rows and columns again: from a run with a wide stretch to the next.
 * Cost: O(pixels), five times. */
#include "inks/inks.h"

#include "base/mem.h"
#include "inks/steps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define THIN 0.03 /* of the circle's diameter; chosen */

enum { LONG_ROW = 1, LONG_COLUMN = 2, WIDE = LONG_ROW | LONG_COLUMN };

/* --- 1 --- */

/* The pixels of row y whose middle is inside the circle: *from <= x < the value returned. */
static int row_inside(const InkMap *map, int y, int *from) {
    Circle c = map->circle;
    double dy = y + 0.5 - c.y, half2 = c.r * c.r - dy * dy + 1e-9; /* a middle on the circle is inside */
    if (half2 < 0) return *from = 0;
    double half = sqrt(half2);
    *from = (int)fmax(0, ceil(c.x - half - 0.5));
    return (int)fmin(map->width, floor(c.x + half - 0.5) + 1);
}

static void count_border(InkMap *map, int a, int b, double *borders) {
    if (a == b) return;
    map->border[a][b]++;
    map->border[b][a]++;
    ++*borders;
}

/* The field that lies round the whole picture, and meets all of its border. Returns its pixels. */
static double count_beyond(InkMap *map, double *borders) {
    int w = map->width, h = map->height;
    double area = PI * map->circle.r * map->circle.r - (double)w * h;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x += (y == 0 || y == h - 1 || x == w - 1 || w == 1) ? 1 : w - 1)
            count_border(map, map->field, map->label[(size_t)y * (size_t)w + (size_t)x], borders);
    map->ink[map->field].share += area;
    return area;
}

/* Shares and borders; *borders: the count of all borders. */
static void count_inside(InkMap *map, double *borders) {
    double inside = 0;
    memset(map->border, 0, sizeof map->border);
    for (int i = 0; i < map->count; i++) map->ink[i].share = 0;
    for (int y = 0; y < map->height; y++) {
        int from, to = row_inside(map, y, &from);
        int low = 0, high = y + 1 < map->height ? row_inside(map, y + 1, &low) : 0; /* of the row below */
        const uint8_t *row = map->label + (size_t)y * (size_t)map->width;
        for (int x = from; x < to; x++) {
            map->ink[row[x]].share++;
            inside++;
            if (x + 1 < to) count_border(map, row[x], row[x + 1], borders);
            if (x >= low && x < high) count_border(map, row[x], row[x + map->width], borders);
        }
    }
    if (map->beyond) inside += count_beyond(map, borders);
    for (int i = 0; i < map->count; i++) {
        map->ink[i].share /= fmax(inside, 1);
        for (int j = 0; j < map->count; j++) map->border[i][j] /= fmax(*borders, 1);
    }
}

/* --- 2 --- */

typedef struct Counting {
    InkMap *map;   /* not owned */
    int thin;      /* px: lines up to here are thin */
    uint8_t *mark; /* [height][width] set of LONG_ROW, LONG_COLUMN; owned */
} Counting;

/* A row or a column. */
typedef struct Scanline {
    size_t first, step; /* index of its first pixel; from one pixel to the next */
    int length, sense;  /* px; what its long runs are marked with */
} Scanline;

static size_t pixel_of(const Scanline *line, int i) {
    return line->first + (size_t)i * line->step;
}

/* Where the run that begins at `start` ends. */
static int end_of_run(const Counting *c, const Scanline *line, int start) {
    const uint8_t *label = c->map->label;
    int i = start + 1;
    while (i < line->length && label[pixel_of(line, i)] == label[pixel_of(line, start)]) i++;
    return i;
}

/* The field beyond the picture. */
static bool goes_on(const Counting *c, const Scanline *line, int start, int end) {
    bool at_edge = start == 0 || end == line->length;
    return at_edge && c->map->label[pixel_of(line, start)] == c->map->field;
}

static void mark_long(Counting *c, Scanline line) {
    for (int start = 0, end; start < line.length; start = end) {
        end = end_of_run(c, &line, start);
        bool is_long = end - start > c->thin || goes_on(c, &line, start, end);
        for (int i = start; i < end && is_long; i++) c->mark[pixel_of(&line, i)] |= (uint8_t)line.sense;
    }
}

/* --- 3 --- */

/* A stretch of wide pixels that is longer than thin: where lines cross or turn there are shorter ones. */
static bool is_wide(const Counting *c, const Scanline *line, int start, int end) {
    int wide = 0;
    for (int i = start; i < end && wide <= c->thin; i++)
        wide = c->mark[pixel_of(line, i)] == WIDE ? wide + 1 : 0;
    return wide > c->thin || goes_on(c, line, start, end);
}

static void count_line(Counting *c, Scanline line) {
    InkMap *map = c->map;
    int before = -1, until = 0; /* the last wide run: its ink, and where it ended */
    for (int start = 0, end; start < line.length; start = end) {
        end = end_of_run(c, &line, start);
        if (!is_wide(c, &line, start, end)) continue;
        int here = map->label[pixel_of(&line, start)];
        if (before >= 0 && before != here && start > until && start - until <= c->thin) {
            map->across[before][here]++;
            map->across[here][before]++;
        }
        before = here;
        until = end;
    }
}

static void each_line(Counting *c, void (*visit)(Counting *c, Scanline line)) {
    size_t w = (size_t)c->map->width;
    for (int y = 0; y < c->map->height; y++) visit(c, (Scanline){(size_t)y * w, 1, c->map->width, LONG_ROW});
    for (int x = 0; x < c->map->width; x++) visit(c, (Scanline){(size_t)x, w, c->map->height, LONG_COLUMN});
}

bool count_inks(InkMap *map, Err *err) {
    double borders = 0;
    Counting c = {.map = map, .thin = (int)(THIN * 2 * map->circle.r)};
    c.mark = mem_alloc((size_t)map->width * (size_t)map->height, 1, err);
    if (!c.mark) return false;
    count_inside(map, &borders); /* 1 */
    memset(map->across, 0, sizeof map->across);
    each_line(&c, mark_long);  /* 2 */
    each_line(&c, count_line); /* 3 */
    for (int i = 0; i < map->count; i++)
        for (int j = 0; j < map->count; j++) map->across[i][j] /= fmax(borders, 1);
    free(c.mark);
    return true;
}

/* --- the order --- */

void order_inks(InkMap *map) {
    const InkMap old = *map;
    int of[INKS_MAX], number[INKS_MAX] = {0};
    size_t pixels = (size_t)map->width * (size_t)map->height;
    for (int k = 0; k < map->count; k++) {
        int at = k;
        for (; at > 0 && old.ink[of[at - 1]].share < old.ink[k].share; at--) of[at] = of[at - 1];
        of[at] = k;
    }
    for (int i = 0; i < map->count; i++) {
        number[of[i]] = i;
        map->ink[i] = old.ink[of[i]];
        for (int j = 0; j < map->count; j++) {
            map->border[i][j] = old.border[of[i]][of[j]];
            map->across[i][j] = old.across[of[i]][of[j]];
        }
    }
    map->field = number[old.field];
    for (size_t i = 0; i < pixels; i++) map->label[i] = (uint8_t)number[map->label[i]];
}
