/* What the bench is to do, and to beware of. SPDX-License-Identifier: MIT */
#include "say/bench_words.h"

#include <stdarg.h>
#include <stdio.h>

static WorkStep *step(WorkStep *at, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Fills the step and returns the next one. */
static WorkStep *step(WorkStep *at, const char *format, ...) {
    va_list values;
    va_start(values, format);
    (void)vsnprintf(at->text, sizeof at->text, format, values);
    va_end(values);
    at->stop = false;
    return at + 1;
}

void work_words(const Job *job, WorkStep out[WORK_STEPS]) {
    char across[64], bench[32], piece[64], along[64];
    WorkStep *at = out;
    length_print_both(across, sizeof across, job->order.piece_diameter_mm, job->order.units);
    length_print_both(piece, sizeof piece, job->order.piece_length_mm, job->order.units);
    hand_print(bench, sizeof bench, job->shop->bench_length_mm, job->order.units);
    hand_print(along, sizeof along, job->cane.log_length_mm, job->order.units);
    at = step(at, "Cook, colour and cool the batches until they can be handled.%s",
              job->cane.logs > 1 ? " Steps 2 to 10 for each log." : "");
    at = step(at, "Pull those named pulled until opaque and satin; leave the clear.");
    at = step(at, "Batches and ropes wait in the warm box, at one temperature.");
    at = step(at, "Pull the ropes (page \"Ropes to pull\").");
    if (job->blocks.blocks > 0)
        at = step(at, "Lay up blocks 1 to %d in order; nick the top of each face end.", job->blocks.blocks);
    else
        at = step(at, "The core is one rope: nothing to lay up.");
    at = step(at, "Wrap %sthe jacket round it (page \"Sheets to roll\").",
              job->grid.rings > 0 ? "the rings, then " : "");
    at = step(at, "Roll the log round and even: %s long.", along);
    at = step(at, "CUT A TEST SLICE AND READ IT before drawing on.");
    at[-1].stop = true;
    at = step(at, "Draw out to %s, rolling all the time.", across);
    at = step(at, "Cut the cane to bench lengths of %s; roll until firm.", bench);
    (void)step(at, "Chop into pieces of %s.", piece);
}

#define HABIT "Habit: the shop's own figure, not a measured one."
#define PERMISSION "Have the logo owner's written permission."

const char *caution_paragraph(Form form, int paragraph) {
    static const char *const words[][CAUTION_PARAGRAPHS] = {
        [FORM_TEXT] = {"Hot sugar sticks and burns: gloves, sleeves, closed shoes, cold water at hand, no "
                       "children near. Small hard candy can choke young children. Colours, allergens, "
                       "labels: your local law holds. " PERMISSION,
                       HABIT " dE00: how far two colours are apart; 2 is hardly seen, 10 is another shade "
                             "(rule of thumb)."},
        [FORM_SHEET] = {
            "Cooked sugar at 150 \302\260C (300 \302\260F) sticks and burns deep at once: gloves, sleeves, "
            "closed shoes, cold water at hand, no children at the bench. Cool a burn under running water for "
            "20 minutes, do not peel sugar off, get medical help.",
            "Colours, allergens, labels: local rules hold; small hard candy is a choking hazard for young "
            "children. " PERMISSION " " HABIT}};
    return words[form][paragraph];
}
