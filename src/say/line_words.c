/* Redrawn lines in words. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

#include "base/text.h"
#include "base/units.h"

#include <stdio.h>
#include <string.h>

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

/* --- letters --- */

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
