/* What was asked for beside the order: parts left out, inks joined; what was added as advised.
 * SPDX-License-Identifier: MIT */
#include "say/bench_words.h"

#include "base/text.h"
#include "say/verdict_words.h"

#include <stdio.h>
#include <string.h>

int edit_print(const Order *order, int first, char *out, size_t size) {
    const Edit *edit = &order->edit[first];
    char one[RGB8_CODE], other[RGB8_CODE], spot[SPOT_TEXT];
    out[0] = 0;
    if (edit->kind == EDIT_JOIN) {
        rgb8_code(edit->ink, one);
        rgb8_code(edit->into, other);
        (void)snprintf(out, size, "%s=%s", one, other);
        return 1;
    }
    int count = 0;
    for (; first + count < order->edits && (count == 0 || edit[count].with); count++) {
        spot_print(edit[count].x, edit[count].y, spot);
        text_append(out, size, "%s%s", count > 0 ? "," : "", spot);
    }
    return count;
}

void edits_words(const Job *job, char out[LOG_LINE]) {
    const Order *order = &job->order;
    char one[RGB8_CODE], other[RGB8_CODE], spots[EDIT_TEXT];
    out[0] = 0;
    for (int i = 0, count; i < order->edits; i += count) {
        const Edit *edit = &order->edit[i];
        const char *between = i > 0 ? "; " : "";
        count = edit_print(order, i, spots, sizeof spots);
        if (edit->kind == EDIT_LEAVE_OUT) {
            text_append(out, LOG_LINE, "%sleft out, in %% from left and top: %s", between, spots);
            continue;
        }
        rgb8_code(edit->ink, one);
        rgb8_code(edit->into, other);
        text_append(out, LOG_LINE, "%s%s joined into %s", between, one, other);
    }
}

void advised_words(const Job *job, Form form, char out[LOG_LINE]) {
    const Advised *advised = &job->advised;
    out[0] = 0;
    if (!advised->taken) return;
    (void)snprintf(out, LOG_LINE, "%s as advised, for a %s: %s", form == FORM_TEXT ? "added" : "Added",
                   verdict_name(advised->from), advised->options);
}
