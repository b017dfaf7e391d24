/* The sheets to roll. SPDX-License-Identifier: MIT
 *
 * Each is drawn beside its measures, all to one scale: those round blocks first, in the order of the blocks,
 * then rings and jacket. */
#include "draw/bench_pages.h"

#include "base/text.h"
#include "say/bench_words.h"

#include <math.h>

enum { SHEET_PICTURE = 100 /* pt: width of the widest sheet as it is drawn */ };

static void draw_sheet_row(Sheet *s, Columns *columns, const Job *job, const WrapRow *row, double scale) {
    char text[ROPE_LINE], size[160], thick[32], mass[32], blocks[ROPE_LINE];
    Units units = job->order.units;
    double w = row->width_mm * scale, h = row->length_mm * scale, height = fmax(h + 4, 92);
    Slot slot = columns_place(columns, height, false);
    double at = slot.x + SHEET_PICTURE + 10, room = slot.x + slot.width - at, y = slot.y;
    swatch_draw(s, job, &row->candy, slot.x, y + 2 + h, fmax(w, 2), h);
    sheet_words(row, text);
    type_fit(s->cr, at, y + 16, 16, true, room, text);
    section_print(size, sizeof size, length_by_hand(row->width_mm, units),
                  length_by_hand(row->length_mm, units), units, false);
    type_fit(s->cr, at, y + 36, 16, true, room, size);
    length_print_both(thick, sizeof thick, row->thickness_mm, units);
    mass_print(mass, sizeof mass, row->made_g, units);
    (void)snprintf(text, sizeof text, "%s thick", thick);
    type_fit(s->cr, at, y + 56, TYPE_BENCH, false, room, text);
    (void)snprintf(text, sizeof text, row->count > 1 ? "%d of them, %s" : "%d sheet, %s", row->count, mass);
    if (row->kind == WRAP_BLOCK) {
        row_blocks_print(job, row, blocks);
        text_append(text, sizeof text, ", %s", blocks);
    }
    type_fit(s->cr, at, y + 76, TYPE_BENCH, false, room, text);
}

/* What to fold for blends that are rolled to sheets. */
static void draw_folds(Sheet *s, const Job *job) {
    char words[ROPE_LINE];
    for (int i = 0; i < job->bill.blends; i++) {
        const BlendRow *row = &job->bill.blend[i];
        bool rolled = false;
        for (int w = 0; w < job->bill.wraps; w++)
            rolled |=
                row_is_rolled(&job->bill.wrap[w]) && blend_same(&job->bill.wrap[w].candy, &row->whole.candy);
        if (!rolled) continue;
        blend_words(job, row, FORM_SHEET, words);
        sheet_paragraph(s, TYPE_BENCH, true, 0, 8, words);
    }
}

void draw_sheets(Sheet *s, const Job *job) {
    double widest = 1;
    for (int i = 0; i < job->bill.wraps; i++)
        if (row_is_rolled(&job->bill.wrap[i])) widest = fmax(widest, job->bill.wrap[i].width_mm);
    double scale = fmin(SHEET_PICTURE / widest, 100 / job->cane.log_length_mm);
    char text[ROPE_LINE];
    sheet_section(s, "Sheets to roll, in the order they go on", 180);
    rolling_words(job, text);
    sheet_paragraph(s, 12, false, 0, 10, text);
    draw_folds(s, job);
    Columns columns = columns_begin(s);
    for (int i = 0; i < job->bill.wraps; i++)
        if (row_is_rolled(&job->bill.wrap[i])) draw_sheet_row(s, &columns, job, &job->bill.wrap[i], scale);
    columns_end(&columns);
}
