/* Candies told apart in black and white. SPDX-License-Identifier: MIT
 *
 * Hatches are lines drawn over the page's own grid, clipped to the path: areas of one candy that touch go on
 * into each other. Colours are thinned to TINT of their strength, so that black lines and numbers stay
 * readable on any of them. */
#include "draw/bench_pages.h"

#include "base/geom.h"

#include <math.h>
#include <string.h>

static const double tint = 0.30;

/* The candies that may be drawn, each once. */
typedef struct Drawn {
    int count;
    const Candy *candy[INKS_MAX + JACKETS_MAX + MATERIALS_MAX]; /* not owned */
} Drawn;

static void add_drawn(Drawn *drawn, const Candy *candy) {
    for (int i = 0; i < drawn->count; i++)
        if (strcmp(drawn->candy[i]->name, candy->name) == 0) return;
    drawn->candy[drawn->count++] = candy;
}

/* The hatch that a candy has in every job, if it can: by its place in the shop's stock; of one that is dyed
 * to order by its name. Never plain. */
static int own_hatch(const Shop *shop, const Candy *candy) {
    unsigned place = 0;
    for (int i = 0; i < shop->stock.count; i++)
        if (strcmp(shop->stock.candy[i].name, candy->name) == 0) return 1 + i % (HATCHES - 1);
    for (const char *at = candy->name; *at; at++) place = place * 31 + (unsigned char)*at;
    return 1 + (int)(place % (HATCHES - 1));
}

int hatch_of(const Job *job, const Candy *candy) {
    const Palette *p = &job->palette;
    Drawn drawn = {0};
    bool taken[HATCHES] = {false};
    add_drawn(&drawn, &p->candy[p->field]);
    for (int k = 0; k < p->count; k++) add_drawn(&drawn, &p->candy[k]);
    for (int k = 0; k < p->jackets; k++) add_drawn(&drawn, &p->jacket[k]);
    for (int k = 0; k < job->bill.materials; k++) add_drawn(&drawn, &job->bill.material[k].candy);
    for (int i = 0; i < drawn.count; i++) {
        int hatch = i == 0 ? 0 : own_hatch(job->shop, drawn.candy[i]);
        for (int tries = 0; taken[hatch] && tries < HATCHES - 1; tries++) hatch = 1 + hatch % (HATCHES - 1);
        taken[hatch] = true;
        if (i + 1 == drawn.count || strcmp(drawn.candy[i]->name, candy->name) == 0) return hatch;
    }
    return 0;
}

/* The page's area that is to be filled, a little larger. */
typedef struct HatchArea {
    double x0, y0, x1, y1; /* pt */
    double size;           /* pt: after which the hatch repeats */
} HatchArea;

/* The number of the line, one every so many pt, at or before a place. */
static int first_line(double from, double every) {
    return (int)floor(from / every);
}

static void upright_lines(cairo_t *cr, HatchArea f, double every) {
    for (int i = first_line(f.x0, every); i * every < f.x1; i++) {
        cairo_move_to(cr, i * every, f.y0);
        cairo_line_to(cr, i * every, f.y1);
    }
    cairo_stroke(cr);
}

/* Lines y = slope * x + i * every, slope 0 (level), 1 (falling, as y goes down) or -1 (rising). */
static void lines(cairo_t *cr, HatchArea f, int slope, double every) {
    double low = fmin(f.y0 - slope * f.x0, f.y0 - slope * f.x1),
           high = fmax(f.y1 - slope * f.x0, f.y1 - slope * f.x1);
    for (int i = first_line(low, every); i * every < high; i++) {
        cairo_move_to(cr, f.x0, slope * f.x0 + i * every);
        cairo_line_to(cr, f.x1, slope * f.x1 + i * every);
    }
    cairo_stroke(cr);
}

typedef enum Mark { MARK_NONE, MARK_DOT, MARK_BIG_DOT, MARK_RING, MARK_PLUS, MARK_DASH, MARK_ROOF } Mark;

static void mark(cairo_t *cr, Mark kind, double x, double y, double size) {
    double r = size * 0.28;
    cairo_new_sub_path(cr);
    if (kind == MARK_DOT) cairo_arc(cr, x, y, size * 0.13, 0, 2 * PI);
    if (kind == MARK_BIG_DOT) cairo_arc(cr, x, y, size * 0.3, 0, 2 * PI);
    if (kind == MARK_RING) cairo_arc(cr, x, y, r, 0, 2 * PI);
    if (kind == MARK_PLUS || kind == MARK_DASH) {
        cairo_move_to(cr, x - r, y);
        cairo_line_to(cr, x + r, y);
    }
    if (kind == MARK_PLUS) {
        cairo_move_to(cr, x, y - r);
        cairo_line_to(cr, x, y + r);
    }
    if (kind == MARK_ROOF) {
        cairo_move_to(cr, x - size / 2, y + r);
        cairo_line_to(cr, x, y - r);
        cairo_line_to(cr, x + size / 2, y + r);
    }
    if (kind == MARK_DOT || kind == MARK_BIG_DOT)
        cairo_fill(cr);
    else
        cairo_stroke(cr);
}

/* Marks in rows, every other row moved by half (roofs stand in line). */
static void marks(cairo_t *cr, HatchArea f, Mark kind) {
    double s = f.size;
    for (int row = first_line(f.y0, s) - 1; row * s < f.y1 + s; row++)
        for (int i = first_line(f.x0, s) - 1; i * s < f.x1 + s; i++)
            mark(cr, kind, (i + (kind != MARK_ROOF && row % 2 ? 0.5 : 0)) * s, row * s, s);
}

/* What a hatch is made of; the distance of level and upright lines in sizes, 0 = none. */
typedef struct Hatch {
    double level, upright; /* 0.7 or 1; 0: no lines */
    bool rising, falling;  /* slanting lines */
    Mark mark;
} Hatch;

static const Hatch table[HATCHES] = {{0}, /* plain */
                                     {.rising = true},
                                     {.falling = true},
                                     {.level = 0.7},
                                     {.upright = 0.7},
                                     {.mark = MARK_DOT},
                                     {.rising = true, .falling = true},
                                     {.level = 1, .upright = 1},
                                     {.mark = MARK_RING},
                                     {.mark = MARK_ROOF},
                                     {.mark = MARK_PLUS},
                                     {.mark = MARK_DASH},
                                     {.mark = MARK_BIG_DOT}};

static void draw_hatch(cairo_t *cr, const Hatch *h, HatchArea f) {
    if (h->level > 0) lines(cr, f, 0, h->level * f.size);
    if (h->upright > 0) upright_lines(cr, f, h->upright * f.size);
    if (h->rising) lines(cr, f, -1, f.size);
    if (h->falling) lines(cr, f, 1, f.size);
    if (h->mark != MARK_NONE) marks(cr, f, h->mark);
}

void hatch_fill(cairo_t *cr, int hatch, Rgb8 c, double size) {
    cairo_path_t *path = cairo_copy_path(cr);
    cairo_save(cr);
    cairo_clip(cr);
    cairo_set_source_rgb(cr, 1 - tint * (1 - c.r / 255.0), 1 - tint * (1 - c.g / 255.0),
                         1 - tint * (1 - c.b / 255.0));
    cairo_paint(cr);
    HatchArea f = {.size = size};
    cairo_clip_extents(cr, &f.x0, &f.y0, &f.x1, &f.y1);
    cairo_set_source_rgb(cr, 0, 0, 0);
    cairo_set_line_width(cr, 0.5);
    if (f.x1 > f.x0 && f.y1 > f.y0) draw_hatch(cr, &table[hatch], f);
    cairo_restore(cr);
    cairo_new_path(cr);
    cairo_append_path(cr, path);
    cairo_path_destroy(path);
}

void candy_fill(cairo_t *cr, const Job *job, const Candy *candy, double line) {
    hatch_fill(cr, hatch_of(job, candy), candy->srgb, 6);
    canvas_stroke(cr, line);
}
