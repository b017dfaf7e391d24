/* The sections of ropes in words. SPDX-License-Identifier: MIT
 *
 * 1. A section is one of a few forms that hands know by two to four measures; any other is told by its
 * corners.
 * 2. Short for cards, in full for lists: the same measures.
 * 3. How to form it: from a square rope of as much candy, flattened, then pressed with a bar.
 * Invariant: the measures tell every corner, to what they are rounded to. */
#include "say/bench_words.h"

#include "base/text.h"
#include "model/section.h"

#include <math.h>
#include <string.h>

/* 1. What measures tell it. */
typedef enum SectionForm {
    SECTION_STRIP,  /* width, height */
    SECTION_ROUND,  /* diameter */
    SECTION_RIGHT,  /* wedge with a right angle at the left: width, height */
    SECTION_TIP,    /* other wedge: width, height, where its tip is */
    SECTION_MIDDLE, /* level top in the middle over the base: top, base, height */
    SECTION_SIDE,   /* level top, its left side upright: top, base, height */
    SECTION_LEVEL,  /* level top: top, base, height, where the top begins */
    SECTION_CORNER, /* a box with its upper right corner cut off: width, height, along the top, down the side
                     */
    SECTION_ANY     /* all corners */
} SectionForm;

/* What is told of a section: mm, as made. */
typedef struct Section {
    SectionForm form;
    Outline outline;
    double wide, high;
    double base, base_at; /* length of the base; where it begins, from left */
    double top, top_at;   /* the same of a level top; of a wedge 0 and its tip */
    double along, down;   /* of a corner that is cut off */
    double area;          /* mm^2 */
    Units units;
} Section;

/* Equal to 1/100 mm, as sections are rounded; a hair more, since sums of rounded numbers are compared. */
static bool equal(double a, double b) {
    return fabs(a - b) <= 0.015;
}

static SectionForm form_of(const Section *s) {
    const Point *c = s->outline.corner;
    if (s->outline.corners == 3) return equal(s->top_at, 0) ? SECTION_RIGHT : SECTION_TIP;
    if (s->outline.corners == 4 && equal(c[1].y, c[2].y) && equal(s->base_at, 0)) {
        if (equal(s->top_at, 0)) return equal(s->top, s->base) ? SECTION_STRIP : SECTION_SIDE;
        return equal(2 * s->top_at + s->top, s->base) ? SECTION_MIDDLE : SECTION_LEVEL;
    }
    bool cut =
        s->outline.corners == 5 && equal(c[0].x, c[1].x) && equal(c[1].y, c[2].y) && equal(c[3].x, c[4].x);
    return cut ? SECTION_CORNER : SECTION_ANY;
}

static Section measure(const Outline *o) {
    const Point *c = o->corner;
    Section s = {.outline = *o, .wide = section_wide(o), .high = section_high(o), .area = outline_area(o)};
    s.base_at = c[0].x;
    s.base = c[o->corners - 1].x - c[0].x;
    s.top_at = c[1].x;
    if (o->corners > 3) {
        s.top = c[2].x - c[1].x;
        s.along = s.wide - c[2].x;
        s.down = c[3].y - c[2].y;
    }
    return s;
}

/* Its form is told by the section in the log: that is rounded. */
static Section section_read(const RopeRow *row, double scale, Units units) {
    Outline made = section_scaled(&row->section, scale);
    Section s = measure(&row->section);
    SectionForm form = row->shape == SHAPE_ROUND ? SECTION_ROUND : row->rim ? SECTION_STRIP : form_of(&s);
    s = measure(&made);
    s.form = form;
    s.units = units;
    return s;
}

/* --- numbers --- */

/* A length as text; a value, so that several can be written in one call. */
typedef struct Length {
    char text[32];
} Length;

static Length with_unit(const Section *s, double mm) {
    Length out;
    if (s->units == UNITS_IN) mm = length_by_hand(mm, UNITS_IN);
    if (fabs(mm) < 0.05) mm = 0; /* no "-0" */
    length_print(out.text, sizeof out.text, mm, s->units);
    return out;
}

static Length bare(const Section *s, double mm) {
    Length out = with_unit(s, mm);
    unit_drop(out.text);
    return out;
}

/* "9 at 0, 12 at 12": how high and how far from left the corners are that are no ends of the base; `at` is
 * what stands between. */
static void append_corners(const Section *s, const char *at, char *out, size_t size) {
    for (int i = 1; i + 1 < s->outline.corners; i++)
        text_append(out, size, "%s%s%s%s", i > 1 ? ", " : "", bare(s, section_up(&s->outline, i)).text, at,
                    bare(s, s->outline.corner[i].x).text);
}

/* --- 2. sections --- */

void rope_section_print(const RopeRow *row, double scale, bool upright, Units units, char out[ROPE_SIZE]) {
    Section s = section_read(row, scale, units);
    char box[80];
    out[0] = 0;
    section_print(box, sizeof box, upright ? s.high : s.wide, upright ? s.wide : s.high, units, false);
    unit_drop(box);
    Length top = bare(&s, s.top), base = bare(&s, s.base), high = bare(&s, s.high), at = bare(&s, s.top_at);
    Length along = bare(&s, upright ? s.down : s.along), down = bare(&s, upright ? s.along : s.down);
    switch (s.form) {
    case SECTION_STRIP:
        text_append(out, ROPE_SIZE, "%s%s", box, row->rim ? " rim" : "");
        break;
    case SECTION_ROUND:
        text_append(out, ROPE_SIZE, "%s across", high.text);
        break;
    case SECTION_RIGHT:
        text_append(out, ROPE_SIZE, "wedge %s", box);
        break;
    case SECTION_TIP:
        text_append(out, ROPE_SIZE, "wedge %s x %s, tip at %s", base.text, high.text, at.text);
        break;
    case SECTION_MIDDLE:
    case SECTION_SIDE:
        text_append(out, ROPE_SIZE, "%s over %s x %s%s", top.text, base.text, high.text,
                    s.form == SECTION_SIDE ? ", at 0" : "");
        break;
    case SECTION_LEVEL:
        text_append(out, ROPE_SIZE, "%s over %s x %s, at %s", top.text, base.text, high.text, at.text);
        break;
    case SECTION_CORNER:
        text_append(out, ROPE_SIZE, "%s, corner off %s x %s", box, along.text, down.text);
        break;
    case SECTION_ANY:
        if (equal(s.base_at, 0))
            text_append(out, ROPE_SIZE, "%s: ", base.text);
        else
            text_append(out, ROPE_SIZE, "%s to %s: ", bare(&s, s.base_at).text,
                        bare(&s, s.base_at + s.base).text);
        append_corners(&s, "@", out, ROPE_SIZE);
    }
}

/* ", the top 3 from left": where a level top is that is narrower than the base, or leans. */
static const char *place_of_top(const Section *s) {
    switch (s->form) {
    case SECTION_MIDDLE:
        return ", the top in the middle";
    case SECTION_SIDE:
        return ", its left side upright";
    default:
        return "";
    }
}

void rope_section_words(const RopeRow *row, double scale, Units units, char out[ROPE_LINE]) {
    Section s = section_read(row, scale, units);
    const char *name = shape_name(row->shape);
    Length base = bare(&s, s.base), high = bare(&s, s.high), at = bare(&s, s.top_at);
    char box[ROPE_SIZE];
    out[0] = 0;
    switch (s.form) {
    case SECTION_STRIP:
    case SECTION_RIGHT:
        rope_section_print(row, scale, false, units, box);
        text_append(out, ROPE_LINE, "%s", box);
        break;
    case SECTION_ROUND:
        text_append(out, ROPE_LINE, "%s, %s across", name, high.text);
        break;
    case SECTION_TIP:
        text_append(out, ROPE_LINE, "%s %s wide, %s high, its tip %s from left", name, base.text, high.text,
                    at.text);
        break;
    case SECTION_MIDDLE:
    case SECTION_SIDE:
    case SECTION_LEVEL:
        text_append(out, ROPE_LINE, "%s %s on top, %s below, %s high%s", name, bare(&s, s.top).text,
                    base.text, high.text, place_of_top(&s));
        if (s.form == SECTION_LEVEL) text_append(out, ROPE_LINE, ", the top %s from left", at.text);
        break;
    case SECTION_CORNER:
        (void)snprintf(out, ROPE_LINE,
                       "%s %s wide, %s high, a corner off: %s along the top, %s down the side", name,
                       bare(&s, s.wide).text, high.text, bare(&s, s.along).text, bare(&s, s.down).text);
        break;
    case SECTION_ANY:
        text_append(out, ROPE_LINE, "%s on a base from %s to %s; high: ", name, bare(&s, s.base_at).text,
                    bare(&s, s.base_at + s.base).text);
        append_corners(&s, " at ", out, ROPE_LINE);
        text_append(out, ROPE_LINE, " from left");
    }
}

/* --- 3. how to form it --- */

static void form_wedge(const Section *s, char out[ROPE_LINE]) {
    if (s->form == SECTION_RIGHT)
        text_append(out, ROPE_LINE,
                    "press one side to the slope with a bar: %s high at one end, nothing at %s",
                    with_unit(s, s->high).text, with_unit(s, s->base).text);
    else
        text_append(out, ROPE_LINE,
                    "press both sides to slopes with a bar: %s wide below, to an edge %s high, %s from left",
                    with_unit(s, s->base).text, with_unit(s, s->high).text, with_unit(s, s->top_at).text);
}

static void form_taper(const Section *s, char out[ROPE_LINE]) {
    text_append(out, ROPE_LINE, "press it %s high, and %s with a bar: %s on top, %s below",
                with_unit(s, s->high).text,
                s->form == SECTION_SIDE     ? "one side to the slope"
                : s->form == SECTION_MIDDLE ? "both sides to the slope"
                                            : "each side to its slope",
                with_unit(s, s->top).text, with_unit(s, s->base).text);
    if (s->form == SECTION_LEVEL)
        text_append(out, ROPE_LINE, ", the top %s from left", with_unit(s, s->top_at).text);
}

static void form_corners(const Section *s, char out[ROPE_LINE]) {
    if (s->form == SECTION_CORNER) {
        text_append(out, ROPE_LINE,
                    "press it %s high, then press the corner off: %s along the top, %s down the side",
                    with_unit(s, s->high).text, with_unit(s, s->along).text, with_unit(s, s->down).text);
        return;
    }
    text_append(out, ROPE_LINE,
                "press it %s high, then its faces with a bar until it is high: ", with_unit(s, s->high).text);
    append_corners(s, " at ", out, ROPE_LINE);
    text_append(out, ROPE_LINE, " from left, on a base from %s to %s", bare(s, s->base_at).text,
                with_unit(s, s->base_at + s->base).text);
}

void rope_form_words(const RopeRow *row, double scale, Units units, char out[ROPE_LINE]) {
    Section s = section_read(row, scale, units);
    out[0] = 0;
    if (s.form == SECTION_STRIP || s.form == SECTION_ROUND) return;
    text_append(out, ROPE_LINE, "from a square rope of %s: ", with_unit(&s, sqrt(s.area)).text);
    if (row->shape == SHAPE_WEDGE)
        form_wedge(&s, out);
    else if (s.form == SECTION_CORNER || s.form == SECTION_ANY)
        form_corners(&s, out);
    else
        form_taper(&s, out);
}

void rim_form_words(const RopeRow *row, double scale, Units units, char out[ROPE_LINE]) {
    Section s = section_read(row, scale, units);
    char mean[80];
    section_print(mean, sizeof mean, s.wide, s.high, s.units, false);
    (void)snprintf(out, ROPE_LINE, "flatten a square rope of %s to this shape; in the mean %s",
                   with_unit(&s, sqrt(s.area)).text, mean);
}
