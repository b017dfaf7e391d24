/* Two columns on a sheet. SPDX-License-Identifier: MIT */
#include "draw/columns.h"

#include <math.h>

Columns columns_begin(Sheet *sheet) {
    return (Columns){sheet, {sheet->y, sheet->y}};
}

double column_width(const Sheet *sheet, bool wide) {
    double all = sheet->width - 2 * SHEET_MARGIN;
    return wide ? all : (all - COLUMN_GAP) / 2;
}

void columns_next(Columns *c) {
    sheet_page(c->sheet, c->sheet->title);
    c->y[0] = c->y[1] = c->sheet->y;
}

static double top_of(const Columns *c, bool wide) {
    return wide ? fmax(c->y[0], c->y[1]) : fmin(c->y[0], c->y[1]);
}

double columns_left(const Columns *c, bool wide) {
    return sheet_bottom(c->sheet) - top_of(c, wide);
}

Slot columns_place(Columns *c, double height, bool wide) {
    if (columns_left(c, wide) < height) columns_next(c);
    double y = top_of(c, wide);
    int column = !wide && c->y[1] < c->y[0];
    double width = column_width(c->sheet, wide);
    Slot slot = {SHEET_MARGIN + column * (width + COLUMN_GAP), y, width};
    c->y[column] = y + height + COLUMN_GAP;
    if (wide) c->y[1] = c->y[0];
    return slot;
}

void columns_end(Columns *c) {
    c->sheet->y = fmax(c->y[0], c->y[1]);
}
