/* Letters in rows are made even. SPDX-License-Identifier: MIT
 *
 * Input: the wanted face, a wish. Output: a face in which the letters of rows are redrawn.
 * 1. The face's areas, and which of them stand in rows (parts/rows.c).
 * 2. Of each row the letters, level (letter_row.c), and the lines that their strokes run along
 * (letter_lines.c).
 * 3. Where those lines go, so that strokes of one thickness leave gaps as wide as wished (letter_stretch.c),
 * and the strokes (letter_pen.c).
 * 4. First as large as wished, with shapes kept; where that does not fit, shapes are squeezed and the row
 * made smaller, step by step. It fits where it keeps as clear of all but its ground as the letters were, or
 * by a gap. What does not fit at all stays as it was.
 * 5. The old letters become ground, the new ones are drawn.
 * Rows are gone through one after the other; what one has drawn is in the way of the next. Cost: O(samples)
 * for each row, and of its raster for each size tried. */
#include "plan/letters.h"

#include "base/distance.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

static const double letter_high = 0.5; /* least strips: lower ones are no rows; chosen */
static const double thick_most = 3;    /* least strips: how thick strokes are measured; chosen */
static const double high_most = 2;     /* of what it was: no row is made higher; chosen */
static const double thin_most = 0.6;   /* likewise: no stem is made thinner */
static const double grow_least = 0.85, grow_step = 0.05; /* of the row's size; chosen */
static const double keep_most = 0.8, keep_step = 0.2;    /* how much of its shapes is kept; chosen */
/* Of a stem and a gap: so wide is a gap that tapers, where no shape is kept, and what is added. Chosen. */
static const double taper_least = 0.5, taper_more = 0.6;

/* Chosen by what word marks of several typefaces came to at several sizes. */
static const EvenWish wishes[EVEN_WISHES] = {{0, 1, 1, 1.1},       {1, 1, 1, 1},      {1, 0.75, 1, 1},
                                             {0.75, 0.75, 1, 1.1}, {0.75, 0.5, 1, 1}, {0.75, 0.5, 0.75, 1},
                                             {0.5, 0.625, 1, 1}};

EvenWish even_wish(int i) {
    return wishes[i];
}

typedef struct Maker {
    const Grid *grid;
    const EvenWish *wish;
    double strip;     /* samples in a least strip */
    Areas areas;      /* of the wanted face; owned */
    int parts;        /* areas that are not open */
    Part *part;       /* [parts]; owned */
    int32_t *part_of; /* [areas] the part that each is, -1 = open; owned */
    int32_t *squared; /* [side][side] squared distance to what the letters must keep clear of; owned */
    uint8_t *site;    /* [side][side] scratch; owned */
    uint8_t *made;    /* [side][side] the caller's */
    EvenLetters even;
} Maker;

/* --- what is in the way --- */

static bool is_of_row(const Maker *m, const LetterRow *row, int i) {
    return m->areas.label[i] >= 0 && row->letter[m->areas.label[i]] > 0;
}

/* All but the ground, specks and the row's own letters; and what other rows have drawn. */
static bool is_in_the_way(const Maker *m, const LetterRow *row, int i) {
    int32_t area = m->areas.label[i];
    if (area < 0 || m->made[i] != m->grid->wanted.candy[i]) return true;
    return m->made[i] != row->ground && !m->areas.area[area].part.speck && !is_of_row(m, row, i);
}

/* How far from that the letters are. */
static bool find_clear(Maker *m, const LetterRow *row, double *clear, Err *err) {
    int side = m->grid->wanted.side, least = INT32_MAX;
    for (int i = 0; i < side * side; i++) m->site[i] = is_in_the_way(m, row, i);
    if (!distance_transform(m->site, side, side, m->squared, NULL, err)) return false;
    for (int i = 0; i < side * side; i++)
        if (m->squared[i] < least && is_of_row(m, row, i)) least = m->squared[i];
    *clear = sqrt(least);
    return true;
}

/* The sample of the face at a place from the row's middle; -1 if there is none. */
static int sample_at(const Maker *m, const LetterRow *row, Point from) {
    Point p = face_point(&row->place, from.x, from.y);
    int side = m->grid->wanted.side, x = (int)floor(p.x), y = (int)floor(p.y);
    return x < 0 || y < 0 || x >= side || y >= side ? -1 : y * side + x;
}

/* Quickly: do the lines keep so clear? */
static bool lines_fit(const Maker *m, const LetterRow *row, const Stretch *stretch, double clear) {
    for (int i = 0; i < row->width * row->height; i++) {
        if (!row->line[i]) continue;
        int x = i % row->width, y = i / row->width;
        int at = sample_at(m, row, (Point){stretch->to[ALONG][x], stretch->to[ACROSS][y]});
        if (at < 0 || m->squared[at] < clear * clear) return false;
    }
    return true;
}

static bool ink_fits(const Maker *m, const LetterRow *row, const RowInk *ink, double clear) {
    for (int i = 0; i < ink->width * ink->height; i++) {
        if (!ink->ink[i]) continue;
        int x = i % ink->width, y = i / ink->width;
        int at = sample_at(m, row, (Point){x + 0.5 - ink->width / 2.0, y + 0.5 - ink->height / 2.0});
        if (at < 0 || m->squared[at] < clear * clear) return false;
    }
    return true;
}

/* --- 5 --- */

static int ink_at(const LetterRow *row, const RowInk *ink, int x, int y) {
    Point p = row_point(&row->place, x + 0.5, y + 0.5);
    int u = (int)floor(p.x + ink->width / 2.0), v = (int)floor(p.y + ink->height / 2.0);
    return u >= 0 && v >= 0 && u < ink->width && v < ink->height ? ink->ink[(size_t)v * ink->width + u] : 0;
}

static void paint(Maker *m, const LetterRow *row, const RowInk *ink) {
    int side = m->grid->wanted.side;
    for (int i = 0; i < side * side; i++) {
        if (m->areas.label[i] < 0) continue;
        if (is_of_row(m, row, i)) m->made[i] = (uint8_t)row->ground;
        if (ink_at(row, ink, i % side, i / side)) m->made[i] = (uint8_t)row->candy;
    }
}

static void note(Maker *m, const LetterRow *row, const LetterSize *size, const Stretch *stretch,
                 const RowInk *ink) {
    EvenLetters *even = &m->even;
    for (int i = 0; i < row->letters; i++) {
        EvenLetter *letter = &even->letter[even->letters++];
        letter->row = even->rows;
        letter->was = face_point(&row->place, ink->was[i].x, ink->was[i].y);
        letter->is = face_point(&row->place, ink->is[i].x, ink->is[i].y);
    }
    even->row[even->rows++] = (EvenRow){.arc = row->place.arc,
                                        .letters = row->letters,
                                        .candy = row->candy,
                                        .stem_was = row->stem,
                                        .stem = size->stem,
                                        .gap = size->gap[ALONG],
                                        .gap_high = size->gap[ACROSS],
                                        .times_wide = stretch->wide / row->ink_wide,
                                        .times_high = stretch->high / row->ink_high};
}

/* --- 4 --- */

/* Draws the row so large, if it fits. */
static bool try_size(Maker *m, const LetterRow *row, const LetterSize *size, double clear, bool *drawn,
                     Err *err) {
    Stretch stretch;
    RowInk ink = {0};
    if (!letter_stretch(row, size, &stretch, err)) return false;
    bool fits = stretch.gaps > 0 && stretch.high <= high_most * row->ink_high &&
                lines_fit(m, row, &stretch, fmax(clear + size->stem / 2 - SAMPLES, 0));
    bool done = !fits || letter_pen(row, &stretch, size, &ink, err);
    if (done && fits && ink_fits(m, row, &ink, clear)) {
        paint(m, row, &ink);
        note(m, row, size, &stretch, &ink);
        *drawn = true;
    }
    free(ink.ink);
    free(stretch.to[ALONG]);
    return done;
}

/* Whole steps, no less than ropes of fine blocks are; 0: the wish is for stems as thick as they are, and
 * these are too thin. */
static double stem_wished(const Maker *m, const LetterRow *row) {
    double least = ceil(m->grid->least_steps / 2.0) * SAMPLES;
    if (m->wish->stem > 0) return fmax(round(m->wish->stem * m->grid->least_steps) * SAMPLES, least);
    return row->stem < m->strip ? 0 : round(row->stem / SAMPLES) * SAMPLES;
}

static bool redraw_row(Maker *m, const LetterRow *row, Err *err) {
    double clear = 0;
    bool drawn = false;
    LetterSize size = {.stem = stem_wished(m, row)};
    size.gap[ALONG] = m->wish->gap * m->strip;
    size.gap[ACROSS] = m->wish->gap_high * m->strip;
    if (size.stem < thin_most * row->stem || size.stem <= 0) return true;
    if (!find_clear(m, row, &clear, err)) return false;
    clear = fmin(clear, size.gap[ALONG]);
    for (double grow = m->wish->grow; grow > grow_least - 1e-9 && !drawn; grow -= grow_step)
        for (double keep = keep_most; keep > -1e-9 && !drawn; keep -= keep_step) {
            size.wide = row->ink_wide * grow;
            size.high = row->ink_high * grow;
            size.scale = keep;
            size.taper = taper_least + taper_more * keep;
            if (!try_size(m, row, &size, clear, &drawn, err)) return false;
        }
    return true;
}

static bool make_row(Maker *m, const Rows *rows, int index, Err *err) {
    LetterRow row;
    bool drawn = false, done = letter_row_find(&m->areas, rows, m->part_of, index, &row, err); /* 2 */
    if (!done || !row.ink) return done;
    bool room = m->even.rows < EVEN_ROWS_MAX && m->even.letters + row.letters <= EVEN_LETTERS_MAX;
    done = !room || letter_lines_find(&row, thick_most * m->strip, &drawn, err);
    if (done && drawn) done = redraw_row(m, &row, err); /* 3, 4, 5 */
    letter_row_free(&row);
    return done;
}

/* --- 1 --- */

static bool find_parts(Maker *m, Err *err) {
    size_t samples = (size_t)m->grid->wanted.side * m->grid->wanted.side;
    if (!areas_find(m->grid, &m->areas, err)) return false;
    m->part = mem_alloc((size_t)m->areas.count, sizeof *m->part, err);
    m->part_of = mem_alloc((size_t)m->areas.count, sizeof *m->part_of, err);
    m->squared = mem_alloc(samples, sizeof *m->squared, err);
    m->site = mem_alloc(samples, 1, err);
    if (!m->part || !m->part_of || !m->squared || !m->site) return false;
    for (int i = 0; i < m->areas.count; i++) {
        bool open = m->areas.area[i].open;
        m->part_of[i] = open ? -1 : m->parts;
        if (!open) m->part[m->parts++] = m->areas.area[i].part;
    }
    return true;
}

static void maker_free(Maker *m) {
    areas_free(&m->areas);
    free(m->part);
    free(m->part_of);
    free(m->squared);
    free(m->site);
}

static bool find_rows(Maker *m, Rows *rows, Err *err) {
    return find_parts(m, err) && rows_find(&m->areas, m->part, m->parts, letter_high * m->strip, rows, err);
}

enum { ROWS_MOST = 32 }; /* that are looked at: what has more is a pattern, and no lettering for candy */

bool even_letters(const Grid *grid, const EvenWish *wish, uint8_t *made, EvenLetters *out, Err *err) {
    Grid bare = *grid; /* letters that a ring of their ground has run over are letters */
    bare.rings = 0;
    Maker m = {.grid = &bare, .wish = wish, .made = made, .strip = grid->least_steps * SAMPLES};
    Rows rows = {0};
    bool done = find_rows(&m, &rows, err);
    for (int i = 0; done && i < rows.count && i < ROWS_MOST; i++) done = make_row(&m, &rows, i, err);
    if (done) *out = m.even;
    rows_free(&rows);
    maker_free(&m);
    return done;
}

bool any_letters(const Grid *grid, bool *any, Err *err) {
    Grid bare = *grid;
    bare.rings = 0;
    Maker m = {.grid = &bare, .strip = grid->least_steps * SAMPLES};
    Rows rows = {0};
    bool done = find_rows(&m, &rows, err);
    if (done) *any = rows.count > 0;
    rows_free(&rows);
    maker_free(&m);
    return done;
}
