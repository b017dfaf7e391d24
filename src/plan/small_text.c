/* Lines of text that is too small for hands. SPDX-License-Identifier: MIT
 *
 * Step 2 of redraw.c. Parts in a row (parts/rows.c), lower than text_low, that are mostly line: letters.
 * Their counters go with them. */
#include "plan/lines.h"

#include "base/mem.h"

#include <stdlib.h>

/* All ours, chosen by eye. */
static const double text_low =
    3.5; /* least strips: an E has three bars and two gaps, half of each in fine blocks */
static const double text_most = 0.12; /* of all that is drawn: more is no small text */
static const double text_line = 0.5;  /* of the area of a row: text is drawn in thin strokes */
static const double least_high = 0.5; /* least strips: what is lower is a dot */

/* What is known of a row. */
typedef struct RowTally {
    double high;      /* mean, samples */
    double thin, all; /* samples in lines; samples */
    int ground;       /* area on which it stands; -1: none */
    int number;       /* as a line of text: 1.. */
} RowTally;

/* The areas that are not open, in their order, as rows_find wants them. */
typedef struct Listed {
    int parts;
    Part *part; /* [parts] owned */
    int *area;  /* [parts] in Lines.areas; owned */
} Listed;

static bool list_parts(const Lines *l, Listed *out, Err *err) {
    const int count = l->areas.count;
    out->part = mem_alloc((size_t)count + 1, sizeof *out->part, err);
    out->area = out->part ? mem_alloc((size_t)count + 1, sizeof *out->area, err) : NULL;
    for (int i = 0; out->area && i < count; i++) {
        if (l->areas.area[i].open) continue;
        out->part[out->parts] = l->areas.area[i].part;
        out->area[out->parts++] = i;
    }
    return out->area != NULL;
}

static bool tally_rows(const Lines *l, const Listed *listed, const Rows *rows, RowTally *tally, Err *err) {
    int *row_of = mem_alloc((size_t)l->areas.count + 1, sizeof *row_of, err); /* 1 + the row of an area */
    if (!row_of) return false;
    for (int i = 0; i < listed->parts; i++) {
        if (rows->of[i] < 0) continue;
        row_of[listed->area[i]] = 1 + rows->of[i];
        tally[rows->of[i]].high += listed->part[i].box.h / (double)rows->row[rows->of[i]].letters;
    }
    for (size_t i = 0; i < l->count; i++) {
        int row = l->areas.label[i] < 0 ? -1 : row_of[l->areas.label[i]] - 1;
        if (row < 0) continue;
        if (tally[row].all == 0)
            tally[row].ground = i < (size_t)l->side ? -1 : l->areas.label[i - (size_t)l->side];
        tally[row].all++;
        tally[row].thin += l->in_line[i];
    }
    free(row_of);
    return true;
}

/* A word that is much of what is drawn, but for what it stands on, stays. */
static bool is_text(const Lines *l, const RowTally *tally, double drawn) {
    if (tally->ground >= 0 && !l->areas.area[tally->ground].part.hole && !l->areas.area[tally->ground].open)
        drawn -= l->areas.area[tally->ground].part.samples;
    return tally->all <= text_most * drawn && tally->high < text_low * l->least &&
           tally->thin >= text_line * tally->all;
}

/* The part is a letter, and with it the holes in its box; of a line of text, if number is over 0. Areas are
 * in the order of their first rows, so not all need be looked at. */
static void take_letter(Lines *l, const Listed *listed, int letter, int number) {
    const Part *part = listed->part;
    const Box box = part[letter].box;
    int k = letter;
    while (k > 0 && part[k - 1].box.y == box.y) k--;
    for (; k < listed->parts && part[k].box.y < box.y + box.h; k++) {
        bool counter = part[k].hole && box_holds(box, part[k].box);
        if (k != letter && !counter) continue;
        l->letter[listed->area[k]] = true;
        if (number > 0) l->text[listed->area[k]] = number;
    }
}

static void mark(Lines *l, const Listed *listed, const Rows *rows, RowTally *tally) {
    double drawn = 0;
    for (int i = 0; i < listed->parts; i++) drawn += listed->part[i].hole ? 0 : listed->part[i].samples;
    for (int i = 0; i < listed->parts; i++) {
        const int row = rows->of[i];
        if (row < 0 || rows->row[row].kind == ROW_PAIR) continue;
        const bool text = is_text(l, &tally[row], drawn);
        if (text && tally[row].number == 0) tally[row].number = ++l->texts;
        take_letter(l, listed, i, text ? tally[row].number : 0);
    }
    for (size_t i = 0; i < l->count; i++)
        if (l->areas.label[i] >= 0 && l->text[l->areas.label[i]]) l->in_line[i] = 1;
}

bool mark_small_text(Lines *l, Err *err) {
    Listed listed = {0};
    Rows rows = {0};
    RowTally *tally = NULL;
    bool done = (l->text = mem_alloc((size_t)l->areas.count + 1, sizeof *l->text, err)) &&
                (l->letter = mem_alloc((size_t)l->areas.count + 1, sizeof *l->letter, err)) &&
                list_parts(l, &listed, err) &&
                rows_find(&l->areas, listed.part, listed.parts, least_high * l->least, &rows, err) &&
                (tally = mem_alloc((size_t)rows.count + 1, sizeof *tally, err)) &&
                tally_rows(l, &listed, &rows, tally, err);
    if (done) mark(l, &listed, &rows, tally);
    rows_free(&rows);
    free(tally);
    free(listed.part);
    free(listed.area);
    return done;
}
