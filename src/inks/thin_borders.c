/* Inks that meet across thin lines. SPDX-License-Identifier: MIT
 *
 * 1. Each row and each column is a list of runs; a pixel is wide where both its runs are longer than what is
 * thin: a slanted line has one long run, a line along a row as well.
 * 2. Along rows and columns again: from a run with a wide stretch to the next.
 * Cost: O(pixels), four times. */
#include "inks/inks.h"

#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

#define THIN 0.03 /* of the circle's diameter; chosen */

enum { LONG_ROW = 1, LONG_COLUMN = 2, WIDE = LONG_ROW | LONG_COLUMN };

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
static int run_end(const Counting *c, const Scanline *line, int start) {
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

/* --- 1 --- */

static void mark_long(Counting *c, Scanline line) {
    for (int start = 0, end; start < line.length; start = end) {
        end = run_end(c, &line, start);
        bool is_long = end - start > c->thin || goes_on(c, &line, start, end);
        for (int i = start; i < end && is_long; i++) c->mark[pixel_of(&line, i)] |= (uint8_t)line.sense;
    }
}

/* --- 2 --- */

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
        end = run_end(c, &line, start);
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

bool thin_borders_count(InkMap *map, double borders, Err *err) {
    Counting c = {.map = map, .thin = (int)(THIN * 2 * map->circle.r)};
    c.mark = mem_alloc((size_t)map->width * (size_t)map->height, 1, err);
    if (!c.mark) return false;
    memset(map->across, 0, sizeof map->across);
    each_line(&c, mark_long);  /* 1 */
    each_line(&c, count_line); /* 2 */
    for (int i = 0; i < map->count && borders > 0; i++)
        for (int j = 0; j < map->count; j++) map->across[i][j] /= borders;
    free(c.mark);
    return true;
}
