/* A line is drawn as wide as hands can lay. SPDX-License-Identifier: MIT
 *
 * Step 6 of redraw.c. */
#include "plan/lines.h"

#include "base/distance.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static const double line_thick = 0.8;   /* least strips: what a line is thickened to; ours */
static const double line_thinner = 0.6; /* least strips: where there is no room for that; ours */
static const double taken_most = 0.5;   /* of an area beside it; ours */

/* The samples round a line. */
typedef struct Window {
    const Lines *lines;
    int at;                    /* the line */
    int left, top, wide, high; /* of the face */
    size_t count;
    int32_t *square; /* [high][wide] how far from the line; owned, as are the next */
    int *taken;      /* [areas] samples that it would take of each */
    bool *tight;     /* [areas] it must not grow there */
} Window;

static size_t sample_of(const Window *w, size_t i) {
    size_t y = (size_t)w->top + i / (size_t)w->wide;
    return y * (size_t)w->lines->side + (size_t)w->left + i % (size_t)w->wide;
}

static void window_free(Window *w) {
    free(w->square);
    free(w->taken);
    free(w->tight);
}

static void window_place(Window *w, int room) {
    const Box *line = &w->lines->line[w->at].told.box;
    const int side = w->lines->side;
    w->left = line->x > room ? line->x - room : 0;
    w->top = line->y > room ? line->y - room : 0;
    w->wide = (line->x + line->w + room < side ? line->x + line->w + room : side) - w->left;
    w->high = (line->y + line->h + room < side ? line->y + line->h + room : side) - w->top;
    w->count = (size_t)w->wide * (size_t)w->high;
}

static bool window_new(const Lines *lines, int at, int room, Window *w, Err *err) {
    *w = (Window){.lines = lines, .at = at};
    window_place(w, room);
    uint8_t *site = mem_alloc(w->count, 1, err);
    bool done = site && (w->square = mem_alloc(w->count, sizeof *w->square, err)) &&
                (w->taken = mem_alloc((size_t)lines->areas.count, sizeof *w->taken, err)) &&
                (w->tight = mem_alloc((size_t)lines->areas.count, sizeof *w->tight, err));
    for (size_t i = 0; done && i < w->count; i++) site[i] = lines->label[sample_of(w, i)] == at;
    done = done && distance_under(site, w->wide, w->high, room, w->square, err);
    free(site);
    return done;
}

/* The area that is there now: of a line that is left out, its ground. -1: none. */
static int area_there(const Lines *l, size_t s) {
    bool out = l->label[s] >= 0 && l->line[l->label[s]].told.how == REDRAWN_LEFT_OUT;
    return out ? ground_area(l, s) : l->areas.label[s];
}

/* Does the line come to lie there if it grows by so much? */
static bool grows_over(const Window *w, size_t i, double grow) {
    const Lines *l = w->lines;
    size_t s = sample_of(w, i);
    if (w->square[i] > grow * grow || l->areas.label[s] < 0 || l->label[s] == w->at) return false;
    int area = area_there(l, s);
    return area < 0 || !(w->tight[area] || l->areas.area[area].part.ring);
}

/* Takes stock; false if it meets another line that is there. */
static bool take(Window *w, const uint8_t *made, double grow) {
    const Lines *l = w->lines;
    const Line *line = &l->line[w->at];
    for (int i = 0; i < l->areas.count; i++) w->taken[i] = 0;
    for (size_t i = 0; i < w->count; i++) {
        size_t s = sample_of(w, i);
        if (!grows_over(w, i, grow) || l->areas.label[s] == line->area) continue;
        bool thick = l->label[s] >= 0 && l->line[l->label[s]].told.how == REDRAWN_THICKENED;
        int area = area_there(l, s);
        if (thick || (area >= 0 && made[s] != l->areas.area[area].part.candy)) return false;
        if (area >= 0) w->taken[area]++;
    }
    return true;
}

/* Marks the areas of which it would take most; returns how many. */
static int mark_tight(Window *w) {
    int count = 0;
    for (int i = 0; i < w->lines->areas.count; i++) {
        if (w->taken[i] <= taken_most * w->lines->areas.area[i].part.samples) continue;
        w->tight[i] = true;
        count++;
    }
    return count;
}

static void draw(const Window *w, double grow, uint8_t *made) {
    for (size_t i = 0; i < w->count; i++) {
        size_t s = sample_of(w, i);
        bool own = w->lines->label[s] == w->at;
        if (own || grows_over(w, i, grow)) made[s] = (uint8_t)w->lines->line[w->at].told.candy;
    }
}

/* Where there is no room on one side, it grows on the other. */
static bool grow_line(Window *w, double grow, uint8_t *made) {
    for (int i = 0; i < w->lines->areas.count; i++) w->tight[i] = false;
    if (!take(w, made, grow)) return false;
    if (mark_tight(w) > 0) {
        grow *= 2;
        if (!take(w, made, grow) || mark_tight(w) > 0) return false;
    }
    draw(w, grow, made);
    return true;
}

bool thicken(const Lines *lines, int at, uint8_t *made, bool *drawn, Err *err) {
    const double width = lines->line[at].told.width;
    double grow = fmax((line_thick * lines->least - width) / 2, 0);
    Window w;
    bool done = window_new(lines, at, (int)ceil(2 * grow) + 1, &w, err);
    *drawn = done && grow_line(&w, grow, made);
    grow = (line_thinner * lines->least - width) / 2;
    if (done && !*drawn && grow > 0) *drawn = grow_line(&w, grow, made);
    window_free(&w);
    return done;
}
