/* What was asked for beside the order: parts left out, inks joined; what was added as advised.
 * SPDX-License-Identifier: MIT */
#include "say/bench_words.h"

#include "base/text.h"
#include "model/colour_name.h"
#include "say/verdict_words.h"

#include <stdio.h>
#include <string.h>

enum { NAMED_MAX = 3, EDIT_NAME = 160 };

int edit_print(const Order *order, int first, char *out, size_t size) {
    const Edit *edit = &order->edit[first];
    char one[RGB8_CODE], other[RGB8_CODE], spot[SPOT_TEXT];
    out[0] = 0;
    if (edit->kind == EDIT_LETTERING) {
        (void)snprintf(out, size, "lettering");
        return 1;
    }
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

/* Its longer side as it would be on the piece. */
static double gone_mm(const Job *job, const Gone *gone) {
    const int side = gone->box.w > gone->box.h ? gone->box.w : gone->box.h;
    const double px = job->grid.frame.px_per_step;
    return px > 0 ? side / px * SAMPLES * cane_sample_mm(&job->cane) : 0;
}

/* "a black part 3 mm across at the lower left": the place in the picture. */
static void gone_words(const Job *job, const Gone *gone, char out[EDIT_NAME]) {
    const char *name[COLOUR_NAMES] = {"transparent"};
    char across[64];
    if (!gone->ink.transparent) colour_names(gone->ink.srgb, name);
    length_print(across, sizeof across, gone_mm(job, gone), job->order.units);
    const Point middle = {(gone->box.x + gone->box.w / 2.0) / job->inks->width,
                          (gone->box.y + gone->box.h / 2.0) / job->inks->height};
    const char *where = face_where(middle, 1);
    const char *article = strchr("aeiou", name[0][0]) ? "an" : "a", *noun = gone->hole ? "hole" : "part";
    (void)snprintf(out, EDIT_NAME, "%s %s %s %s across %s the %s", article, name[0], noun, across,
                   strcmp(where, "middle") == 0 ? "in" : "at", where);
}

/* "left out: a black part 3 mm across at the lower left, ... and 4 smaller ones": the largest by name. */
static void gones_words(const Job *job, char out[LOG_LINE]) {
    const InkMap *inks = job->inks;
    char words[EDIT_NAME];
    bool told[GONE_MAX] = {false};
    const int named = inks->gones < NAMED_MAX ? inks->gones : NAMED_MAX, more = inks->gones - named;
    for (int k = 0; k < named; k++) {
        int largest = -1;
        for (int i = 0; i < inks->gones; i++)
            if (!told[i] &&
                (largest < 0 || gone_mm(job, &inks->gone[i]) > gone_mm(job, &inks->gone[largest])))
                largest = i;
        told[largest] = true;
        gone_words(job, &inks->gone[largest], words);
        text_append(out, LOG_LINE, "%s%s",
                    k == 0                        ? "left out: "
                    : k == named - 1 && more == 0 ? " and "
                                                  : ", ",
                    words);
    }
    if (more > 0) text_append(out, LOG_LINE, " and %d smaller", more);
}

void edits_words(const Job *job, char out[LOG_LINE]) {
    const Order *order = &job->order;
    char one[RGB8_CODE], other[RGB8_CODE], share[32];
    out[0] = 0;
    gones_words(job, out);
    if (job->inks->lettering > 0) {
        percent_words(job->inks->lettering, share);
        text_append(out, LOG_LINE, "%sthe drawing without its lettering, %s of what was drawn",
                    out[0] ? "; " : "", share);
    }
    for (int i = 0; i < order->edits; i++) {
        const Edit *edit = &order->edit[i];
        if (edit->kind != EDIT_JOIN) continue;
        rgb8_code(edit->ink, one);
        rgb8_code(edit->into, other);
        text_append(out, LOG_LINE, "%s%s joined into %s", out[0] ? "; " : "", one, other);
    }
}

void advised_words(const Job *job, Form form, char out[LOG_LINE]) {
    const Advised *advised = &job->advised;
    out[0] = 0;
    if (!advised->taken) return;
    (void)snprintf(out, LOG_LINE, "%s as advised, for a %s: %s", form == FORM_TEXT ? "added" : "Added",
                   verdict_name(advised->from), advised->options);
}
