/* The lines of the letters' strokes. SPDX-License-Identifier: MIT */
#include "plan/letters.h"

#include "base/mem.h"
#include "base/thin_lines.h"

#include <stdlib.h>

static int compare_floats(const void *a, const void *b) {
    float p = *(const float *)a, q = *(const float *)b;
    return p < q ? -1 : p > q;
}

/* Does each letter have a line as long as half of its lines are thick, or more? */
static bool are_drawn(const LetterRow *row) {
    int count[ROW_LETTERS_MAX + 1] = {0};
    for (int i = 0; i < row->width * row->height; i++) count[row->line[i]]++;
    for (int i = 1; i <= row->letters; i++)
        if (count[i] < row->stem) return false;
    return true;
}

bool letter_lines_find(LetterRow *row, double cap, bool *drawn, Err *err) {
    size_t count = (size_t)row->width * row->height, lines = 0;
    row->line = mem_alloc(count, 1, err);
    float *thick = row->line ? mem_alloc(count, sizeof *thick, err) : NULL;
    bool done = thick && thin_lines(row->ink, row->width, row->height, cap, row->line, thick, err);
    for (size_t i = 0; done && i < count; i++) {
        if (!row->line[i]) continue;
        row->line[i] = row->ink[i];
        thick[lines++] = thick[i];
    }
    if (done) {
        qsort(thick, lines, sizeof *thick, compare_floats);
        row->stem = lines > 0 ? (double)thick[lines / 2] : 0;
        *drawn = lines > 0 && are_drawn(row);
    }
    free(thick);
    return done;
}
