/* What does not come out, in words. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

#include "base/text.h"

#include <math.h>
#include <stdio.h>

const char *face_where(Point p, double side) {
    static const char *const word[8] = {"right", "lower right", "bottom", "lower left",
                                        "left",  "upper left",  "top",    "upper right"};
    double x = p.x / side - 0.5, y = p.y / side - 0.5;
    if (hypot(x, y) < 0.10) return "middle";
    double eighth = atan2(y, x) / (PI / 4); /* clockwise from the right: y goes down */
    return word[((int)lround(eighth) + 8) % 8];
}

static const char *kind_words(FlawKind kind, bool hole) {
    if (kind == FLAW_LOST) return "lost";
    if (kind == FLAW_RUN) return hole ? "has run out" : "runs into another part";
    return hole ? "too narrow" : "too fine";
}

/* The middle of what is ringed: of the part, or of the spot. */
static Point middle_of(const Part *part, Box ringed) {
    bool spot = ringed.w < part->box.w || ringed.h < part->box.h;
    return spot ? (Point){ringed.x + ringed.w / 2.0, ringed.y + ringed.h / 2.0} : part->middle;
}

void flaw_print(const Job *job, const Flaw *flaw, char out[FLAW_TEXT]) {
    const Part *part = &job->judgement.part[flaw->part];
    const char *what = part->hole ? "hole" : part->ring ? "ring" : "part";
    const char *where = face_where(middle_of(part, flaw->box), job->grid.wanted.side);
    char name[CANDY_NAME], finest[48] = "", is[24], least[24];
    text_fit(name, sizeof name, job->palette.candy[part->candy].name, 16);
    if (flaw->kind == FLAW_FINE) {
        stroke_print(is, sizeof is, part->stroke_mm, job->order.units);
        stroke_print(least, sizeof least, flaw->least_mm, job->order.units);
        (void)snprintf(finest, sizeof finest, " (%.15s, hands need %.15s)", is, least);
    }
    (void)snprintf(out, FLAW_TEXT, "%s %s, %s: %s%s", name, what, where, kind_words(flaw->kind, part->hole),
                   finest);
}
