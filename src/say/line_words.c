/* Redrawn lines in words. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

#include "base/text.h"
#include "base/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double more_seen = 1.15; /* times: what is worth telling; ours */

typedef enum LineSort { SORT_TEXT, SORT_OUTLINE, SORT_GAP, SORT_LINE, LINE_SORTS } LineSort;

static LineSort sort_of(const Grid *grid, const RedrawnLine *line) {
    if (line->text) return SORT_TEXT;
    if (line->candy == grid->field) return SORT_GAP;
    return line->outline ? SORT_OUTLINE : SORT_LINE;
}

const char *line_noun(const Grid *grid, const RedrawnLine *line) {
    static const char *const noun[] = {"text", "outline", "gap", "line"};
    return noun[sort_of(grid, line)];
}

/* --- at its place --- */

/* "black outline, left: left out", "small black text, bottom: left out", "black line, top: thicker (0.4 mm,
 * hands need 0.9 mm)". */
void line_print(const Job *job, const RedrawnLine *line, double least_mm, char out[FLAW_TEXT]) {
    char name[CANDY_NAME], is[24], least[24], finest[64] = "";
    text_fit(name, sizeof name, job->palette.candy[line->candy].name, 16);
    if (line->how == REDRAWN_THICKENED) {
        stroke_print(is, sizeof is, line->width * cane_sample_mm(&job->cane), job->order.units);
        stroke_print(least, sizeof least, least_mm, job->order.units);
        (void)snprintf(finest, sizeof finest, " (%.15s, hands need %.15s)", is, least);
    }
    (void)snprintf(out, FLAW_TEXT, "%s%s %s, %s: %s%s", line->text ? "small " : "", name,
                   line_noun(&job->grid, line), face_where(line->middle, job->grid.wanted.side),
                   line->how == REDRAWN_LEFT_OUT ? "left out" : "thicker", finest);
}

/* --- to the client --- */

/* "The thin black outline is left out.", "Thin lines are left out." */
static void add_sentence(char *out, size_t size, LineSort sort, int count, const char *colour, bool thicker) {
    static const char *const one[] = {"The small", "The thin", "The thin gap", "The thin"};
    static const char *const noun[] = {"text", "outline", "", "line"};
    static const char *const many[] = {"Small text", "Thin outlines", "Thin gaps", "Thin lines"};
    const char *done = thicker ? "out thicker" : "left out";
    if (out[0]) text_append(out, size, " ");
    if (count > 1 && sort != SORT_TEXT)
        text_append(out, size, "%s %s %s.", many[sort], thicker ? "come" : "are", done);
    else if (sort == SORT_GAP)
        text_append(out, size, "%s %s %s.", one[sort], thicker ? "comes" : "is", done);
    else
        text_append(out, size, "%s %s %s %s %s.", one[sort], colour, noun[sort], thicker ? "comes" : "is",
                    done);
}

void lines_print(const Job *job, char *out, size_t size) {
    const Redrawn *redrawn = &job->grid.redrawn;
    int count[2][LINE_SORTS] = {{0}};
    const char *colour[2][LINE_SORTS] = {{NULL}};
    for (int i = 0; i < redrawn->count; i++) {
        const RedrawnLine *line = &redrawn->line[i];
        const int thicker = line->how == REDRAWN_THICKENED;
        const LineSort sort = sort_of(&job->grid, line);
        if (sort == SORT_GAP && line->missed <= 0) continue; /* beside an outline: nobody sees it */
        if (count[thicker][sort]++ == 0) colour[thicker][sort] = job->palette.candy[line->candy].name;
    }
    if (count[0][SORT_OUTLINE] > 0 && count[1][SORT_OUTLINE] > 0) {
        text_append(out, size, "%sSome thin outlines come out thicker, the others are left out.",
                    out[0] ? " " : "");
        count[0][SORT_OUTLINE] = count[1][SORT_OUTLINE] = 0;
    }
    for (int thicker = 0; thicker < 2; thicker++)
        for (int sort = 0; sort < LINE_SORTS; sort++)
            if (count[thicker][sort] > 0)
                add_sentence(out, size, (LineSort)sort, count[thicker][sort], colour[thicker][sort],
                             thicker != 0);
}

/* --- letters --- */

static double grown(double was, double is) {
    return was > 0 ? is / was : 1;
}

void letters_print(const Job *job, int row, char out[LETTERS_TEXT]) {
    const EvenRow *even = &job->grid.redrawn.even.row[row];
    const double sample_mm = cane_sample_mm(&job->cane);
    char was[24], is[24], name[CANDY_NAME];
    stroke_print(was, sizeof was, even->stem_was * sample_mm, job->order.units);
    stroke_print(is, sizeof is, even->stem * sample_mm, job->order.units);
    text_fit(name, sizeof name, job->palette.candy[even->candy].name, 16);
    (void)snprintf(out, LETTERS_TEXT,
                   "%d %s letters made even: strokes %s, were %s; %.0f %% as wide, %.0f %% as high",
                   even->letters, name, is, was, 100 * even->times_wide, 100 * even->times_high);
}

void letters_tell(const Job *job, char *out, size_t size) {
    const EvenLetters *even = &job->grid.redrawn.even;
    bool bolder = false, larger = false;
    if (even->rows == 0) return;
    for (int i = 0; i < even->rows; i++) {
        bolder |= grown(even->row[i].stem_was, even->row[i].stem) > more_seen;
        larger |= fmax(even->row[i].times_wide, even->row[i].times_high) > more_seen;
    }
    text_append(out, size, "%sThe letters are drawn anew for candy, all their strokes alike%s%s.",
                out[0] ? " " : "", bolder ? ", bolder" : "", larger ? ", larger" : "");
}
