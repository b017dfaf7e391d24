/* Redrawn lines in words. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

#include "base/text.h"
#include "base/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef enum LineSort { SORT_TEXT, SORT_OUTLINE, SORT_GAP, SORT_LINE, LINE_SORTS } LineSort;

/* The logo's ink at a place of the face; what lies beyond the picture is its field. */
static int ink_at(const Job *job, Point p) {
    const InkMap *map = job->inks;
    const Frame *frame = &job->grid.frame;
    const double half = job->grid.wanted.side / 2.0, per_sample = frame->px_per_step / SAMPLES;
    const int x = (int)floor(frame->centre_px.x + (p.x - half) * per_sample),
              y = (int)floor(frame->centre_px.y + (p.y - half) * per_sample);
    bool inside = map->label && x >= 0 && y >= 0 && x < map->width && y < map->height;
    return inside ? map->label[(size_t)y * (size_t)map->width + (size_t)x] : map->field;
}

bool line_is_gap(const Job *job, const RedrawnLine *line) {
    if (line->candy != job->grid.field) return false;
    return ink_at(job, line->middle) == job->inks->field && !job->inks->full_bleed;
}

static LineSort sort_of(const Job *job, const RedrawnLine *line) {
    if (line->text) return SORT_TEXT;
    if (line_is_gap(job, line)) return SORT_GAP;
    return line->outline ? SORT_OUTLINE : SORT_LINE;
}

const char *line_noun(const Job *job, const RedrawnLine *line) {
    static const char *const noun[] = {"text", "outline", "gap", "line"};
    return noun[sort_of(job, line)];
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
                   line_noun(job, line), face_where(line->middle, job->grid.wanted.side),
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
