/* Checks, verdicts and flaws in words. SPDX-License-Identifier: MIT */
#include "say/verdict_words.h"

#include "base/text.h"
#include "model/colour_name.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct {
    const char *name, *unit;
} said[CHECKS_MAX] = {
    [CHECK_SHADED] = {"shaded area", "%"},
    [CHECK_CUT] = {"cut by the picture's edge", ""},
    [CHECK_OWN] = {"own colours apart", "dE00"},
    [CHECK_STROKE] = {"finest stroke", "mm"},
    [CHECK_GAP] = {"finest gap", "mm"},
    [CHECK_LINES] = {"thin lines redrawn", "%"},
    [CHECK_READING] = {"reading at 350 mm", "mm"},
    [CHECK_APART] = {"touching inks kept apart", "dE00"},
    [CHECK_MATCH] = {"worst colour match", "dE00"},
    [CHECK_CANDIES] = {"candies it would take", ""},
    [CHECK_PARTS] = {"parts and holes kept", ""},
    [CHECK_SHAPES] = {"shapes kept", "%"},
    [CHECK_DRAWN] = {"drawing that shows", "%"},
    [CHECK_LETTERS] = {"letters kept", ""},
    [CHECK_BLOTCH] = {"largest wrong spot", "mm"},
    [CHECK_LIKENESS] = {"likeness", ""},
    [CHECK_WEAKEST] = {"weakest main part", ""},
    [CHECK_ROPES] = {"ropes made", ""},
    [CHECK_MINUTES] = {"minutes", "min"},
    [CHECK_MASS] = {"log mass", "kg"},
    [CHECK_DIAMETER] = {"log diameter", "mm"},
    [CHECK_WARMTH] = {"out of the warm box", "s"},
};

const char *ink_plain_name(const Job *job, int ink) {
    const char *name[COLOUR_NAMES];
    if (job->inks->ink[ink].transparent) return "background";
    colour_names(job->inks->ink[ink].srgb, name);
    return name[0];
}

const char *verdict_name(Verdict verdict) {
    static const char *const name[] = {"go", "change", "no"};
    return name[verdict];
}

const char *verdict_headline(Verdict verdict) {
    static const char *const word[] = {"GO", "CHANGE", "NO"};
    return word[verdict];
}

const char *verdict_meaning(const Job *job, Form form) {
    const Verdict verdict = job->judgement.verdict;
    static const char *const change[] = {[FORM_TEXT] = "can be built with the changes below",
                                         [FORM_SHEET] = "can be built with the changes named below",
                                         [FORM_PICTURE] = "can be built, with changes"};
    if (verdict == VERDICT_CHANGE) return change[form];
    if (verdict == VERDICT_NO) return "cannot be built like this";
    return job->order.edits > 0 ? "can be built as changed" : "can be built as drawn";
}

const char *standing_name(Standing standing) {
    static const char *const name[] = {"our limit", "habit", "published"};
    return name[standing];
}

const char *check_name(CheckKind kind, Units units) {
    return kind == CHECK_READING && units == UNITS_IN ? "reading at 14 in" : said[kind].name;
}

const char *check_unit(CheckKind kind) {
    return said[kind].unit;
}

SpokenCheck check_spoken(const Check *check, Units units) {
    SpokenCheck spoken = {.name = check_name(check->kind, units), .unit = check_unit(check->kind)};
    bool length = strcmp(spoken.unit, "mm") == 0, mass = strcmp(spoken.unit, "kg") == 0;
    double per = 1;
    if (units == UNITS_IN && (length || mass)) {
        per = length ? 1 / MM_PER_IN : 1000 / G_PER_LB;
        spoken.unit = length ? "in" : "lb";
    }
    double value = check->value * per, limit = check->limit * per, larger = value > limit ? value : limit;
    int decimals = larger >= 100 ? 0 : larger >= 10 ? 1 : larger >= 0.1 ? 2 : 3;
    do {
        text_number(spoken.value, sizeof spoken.value, value, decimals);
        text_number(spoken.limit, sizeof spoken.limit, limit, decimals);
    } while (value != limit && strcmp(spoken.value, spoken.limit) == 0 && ++decimals < 8);
    return spoken;
}

/* How far colours are apart has no unit that anybody knows. */
static const char *plain_unit(const SpokenCheck *spoken) {
    return strcmp(spoken->unit, "dE00") == 0 ? "" : spoken->unit;
}

void check_words(const Check *check, Units units, char out[CHECK_TEXT]) {
    const SpokenCheck spoken = check_spoken(check, units);
    const char *unit = plain_unit(&spoken), *space = unit[0] ? " " : "";
    const bool over = check->least ? check->value < check->limit : check->value > check->limit;
    (void)snprintf(out, CHECK_TEXT, "%s%s%s, %s %s%s%s wanted%s%s", spoken.value, space, unit,
                   check->least ? "at least" : "at most", spoken.limit, space, unit,
                   unit == spoken.unit ? "" : " (2 is hardly seen)",
                   over && check->verdict == VERDICT_GO ? "; near enough" : "");
}

/* Sentences of their own: {is} and {limit} are filled in, with their unit. */
static const char *const cause[CHECKS_MAX] = {
    [CHECK_OWN] = "own colours {is} apart, {limit} wanted (2 is hardly seen)",
    [CHECK_APART] = "touching candies {is} apart, {limit} wanted (2 is hardly seen)",
    [CHECK_MATCH] = "worst colour match {is} off, at most {limit} (2 is hardly seen)",
    [CHECK_CANDIES] = "it would take {is} candies, at most {limit} wanted",
    [CHECK_PARTS] = "{is} of {limit} parts and holes come out",
    [CHECK_LETTERS] = "{is} of {limit} letters keep their holes and inlets",
    [CHECK_LIKENESS] = "likeness {is} of 1, at least {limit} wanted",
    [CHECK_WEAKEST] = "weakest main part {is} of 1, at least {limit} wanted",
    [CHECK_ROPES] = "{is} ropes to make, at most {limit} wanted",
    [CHECK_MINUTES] = "{is} to lay up and wrap, at most {limit} wanted",
};

void cause_words(const Check *check, Units units, char out[CHECK_TEXT]) {
    const SpokenCheck spoken = check_spoken(check, units);
    if (!cause[check->kind]) {
        char words[CHECK_TEXT];
        check_words(check, units, words);
        (void)snprintf(out, CHECK_TEXT, "%s ", spoken.name);
        text_append(out, CHECK_TEXT, "%s", words);
        return;
    }
    const char *unit = plain_unit(&spoken);
    out[0] = 0;
    for (const char *at = cause[check->kind]; *at;) {
        const size_t plain = strcspn(at, "{");
        text_append(out, CHECK_TEXT, "%.*s", (int)plain, at);
        at += plain;
        if (*at == 0) break;
        text_append(out, CHECK_TEXT, "%s%s%s", at[1] == 'i' ? spoken.value : spoken.limit, unit[0] ? " " : "",
                    unit);
        at = strchr(at, '}') + 1;
    }
}

/* --- flaws --- */

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
    if (kind == FLAW_RUN) return hole ? "opens to what is round it" : "runs into another part";
    if (kind == FLAW_OFF) return "out of shape";
    return hole ? "too narrow" : "too fine";
}

/* The middle of what is ringed: of the part, or of the spot. */
static Point middle_of(const Part *part, Box ringed) {
    bool spot = ringed.w < part->box.w || ringed.h < part->box.h;
    return spot ? (Point){ringed.x + ringed.w / 2.0, ringed.y + ringed.h / 2.0} : part->middle;
}

/* "white part, upper left: a hole in it fills up". */
static void shape_print(const Job *job, const Flaw *flaw, char out[FLAW_TEXT]) {
    static const char *const gone[] = {[FEATURE_COUNTER] = "a hole in it fills up",
                                       [FEATURE_BAY] = "an inlet closes",
                                       [FEATURE_ARM] = "a tip is lost"};
    const Feature *f = &job->measures.features.feature[flaw->line];
    const Part *part = &job->judgement.part[flaw->part];
    char name[CANDY_NAME];
    const Point middle = {flaw->box.x + flaw->box.w / 2.0, flaw->box.y + flaw->box.h / 2.0};
    text_fit(name, sizeof name, job->palette.candy[part->candy].name, 16);
    (void)snprintf(out, FLAW_TEXT, "%s %s, %s: %s", name,
                   f->letter    ? "letter"
                   : part->hole ? "hole"
                                : "part",
                   face_where(middle, job->grid.wanted.side),
                   f->run ? "two openings run together" : gone[f->kind]);
}

/* "cream and white, upper left: hardly differ in the logo". */
static void near_print(const Job *job, const Flaw *flaw, char out[FLAW_TEXT]) {
    const NearInks *near = &job->judgement.near;
    const Point middle = {flaw->box.x + flaw->box.w / 2.0, flaw->box.y + flaw->box.h / 2.0};
    const char *where = face_where(middle, job->grid.wanted.side);
    const char *one = ink_plain_name(job, near->one), *other = ink_plain_name(job, near->other);
    if (strcmp(one, other) == 0)
        (void)snprintf(out, FLAW_TEXT, "two shades of %s, %s: hardly differ in the logo", one, where);
    else
        (void)snprintf(out, FLAW_TEXT, "%s and %s, %s: hardly differ in the logo", one, other, where);
}

void flaw_print(const Job *job, const Flaw *flaw, char out[FLAW_TEXT]) {
    if (flaw->kind == FLAW_LINE) {
        line_print(job, &job->grid.redrawn.line[flaw->line], flaw->least_mm, out);
        return;
    }
    if (flaw->kind == FLAW_OWN) {
        near_print(job, flaw, out);
        return;
    }
    const Part *part = &job->judgement.part[flaw->part];
    if (flaw->kind == FLAW_SHAPE) {
        shape_print(job, flaw, out);
        return;
    }
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
