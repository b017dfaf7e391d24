/* What cannot be built, beside what can. SPDX-License-Identifier: MIT
 *
 * Both pictures show the core's circle equally large: a place lies at the same spot of each. The tints are
 * taken from a few strong colours, the farthest from all inks first. */
#include "draw/draw.h"

#include "draw/canvas.h"
#include "base/mem.h"
#include "draw/sheet.h"
#include "base/units.h"
#include "say/verdict_words.h"
#include "say/bench_words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WIDTH = 1600, FACE = 720, BOX = 740, HEAD = 166, SENTENCE = 62 }; /* px */
enum { TINTS = 5, TINT_ALPHA = 216, LINE = 300 };

static const Rgb8 paper = {255, 255, 255}, dark = {24, 24, 28}, quiet = {96, 96, 104};
static const Rgb8 tints[TINTS] = {{232, 0, 150}, {0, 190, 230}, {120, 205, 0}, {255, 130, 0}, {130, 60, 255}};

/* One drawing of the picture. */
typedef struct Checking {
    const Job *job;             /* not owned */
    Canvas canvas;              /* open while it is drawn */
    double top;                 /* px: of both pictures */
    Point middle[2];            /* px: of the core, on the logo and on the face */
    Rgb8 stroke, gap;           /* tints */
    int badges;                 /* numbers placed so far */
    Point badge[2 * FLAWS_MAX]; /* px */
} Checking;

static double core_px(const Job *job) {
    return FACE * job->cane.core_diameter_mm / job->cane.log_diameter_mm;
}

/* --- tints --- */

/* How far a colour is from everything in the logo, and from `other`. */
static double apart(const Job *job, Rgb8 colour, const Rgb8 *other) {
    Lab lab = rgb8_lab(colour);
    double least = other ? delta_e00(lab, rgb8_lab(*other)) : HUGE_VAL;
    for (int i = 0; i < job->inks->count; i++)
        if (!job->inks->ink[i].transparent)
            least = fmin(least, delta_e00(lab, rgb8_lab(job->inks->ink[i].srgb)));
    return least;
}

static Rgb8 choose_tint(const Job *job, const Rgb8 *other) {
    int best = 0;
    for (int i = 1; i < TINTS; i++)
        if (apart(job, tints[i], other) > apart(job, tints[best], other) + 1e-9) best = i;
    return tints[best];
}

static bool any_fine(const FineMap *map, Fine fine) {
    return memchr(map->fine, fine, (size_t)map->side * map->side) != NULL;
}

/* How many of the points round (x, y), itself one of nine, are too fine; *is: as what. */
static int fine_round(const FineMap *map, int x, int y, Fine *is) {
    int count = 0;
    *is = FINE_NOT;
    for (int v = y - 1; v <= y + 1; v++)
        for (int u = x - 1; u <= x + 1; u++) {
            if (u < 0 || v < 0 || u >= map->side || v >= map->side) continue;
            Fine fine = (Fine)map->fine[(size_t)v * map->side + u];
            if (fine == FINE_NOT) continue;
            *is = fine;
            count++;
        }
    Fine own = (Fine)map->fine[(size_t)y * map->side + x];
    if (own != FINE_NOT) *is = own;
    return count;
}

/* What is too fine, tinted over the logo, its edges a little soft. */
static bool lay_tints(Checking *c, Err *err) {
    const FineMap *map = &c->job->fine;
    uint8_t *rgba = mem_alloc((size_t)map->side * map->side, 4, err);
    if (!rgba) return false;
    for (int y = 0; y < map->side; y++)
        for (int x = 0; x < map->side; x++) {
            Fine is;
            int count = fine_round(map, x, y, &is);
            Rgb8 tint = is == FINE_GAP ? c->gap : c->stroke;
            const uint8_t pixel[4] = {tint.r, tint.g, tint.b, (uint8_t)(count * TINT_ALPHA / 9)};
            memcpy(rgba + 4 * ((size_t)y * map->side + x), pixel, 4);
        }
    double size = core_px(c->job);
    bool good = canvas_lay(&c->canvas, rgba, map->side, map->side, c->middle[0].x - size / 2,
                           c->middle[0].y - size / 2, size, size, err);
    free(rgba);
    return good;
}

/* --- the two pictures --- */

/* The logo, a little of what lies beyond the core with it; on the field's candy where it is transparent. */
static bool lay_logo(Checking *c, Err *err) {
    const Job *job = c->job;
    const Picture *picture = job->picture;
    const Frame *frame = &job->grid.frame;
    double scale = core_px(job) / (job->cane.key.steps * frame->px_per_step);
    Point middle = c->middle[0];
    cairo_t *cr = c->canvas.cr;
    cairo_save(cr);
    cairo_rectangle(cr, middle.x - BOX / 2.0, middle.y - BOX / 2.0, BOX, BOX);
    cairo_clip(cr);
    if (job->inks->ink[job->inks->field].transparent) {
        canvas_ink(cr, job->palette.candy[job->palette.field].srgb, 1);
        cairo_arc(cr, middle.x, middle.y, core_px(job) / 2, 0, 2 * PI);
        cairo_fill(cr);
    }
    bool good = canvas_lay(&c->canvas, picture->rgba, picture->width, picture->height,
                           middle.x - frame->centre_px.x * scale, middle.y - frame->centre_px.y * scale,
                           picture->width * scale, picture->height * scale, err);
    cairo_restore(cr);
    canvas_ink(cr, quiet, 1);
    cairo_arc(cr, middle.x, middle.y, core_px(job) / 2, 0, 2 * PI);
    canvas_stroke(cr, 1.5);
    return good;
}

/* --- places --- */

/* A ring: a box with round corners. */
typedef struct Lasso {
    double x, y, w, h; /* px */
} Lasso;

/* Where round a ring its number keeps farthest from the other numbers and inside the picture. */
static Point place_badge(const Checking *c, Lasso ring, Point middle) {
    Point best = {ring.x, ring.y};
    double most = -HUGE_VAL;
    for (int i = 0; i < 12; i++) { /* three on each side, from the upper right corner on */
        static const double along[12] = {1, 1, 1, 1, 0.67, 0.33, 0, 0, 0, 0, 0.33, 0.67};
        static const double down[12] = {0, 0.33, 0.67, 1, 1, 1, 1, 0.67, 0.33, 0, 0, 0};
        Point p = {ring.x + ring.w * along[i], ring.y + ring.h * down[i]};
        double room = 60 - 0.4 * i;
        for (int k = 0; k < c->badges; k++)
            room = fmin(room, hypot(p.x - c->badge[k].x, p.y - c->badge[k].y));
        room = fmin(room, BOX / 2.0 + 10 - fmax(fabs(p.x - middle.x), fabs(p.y - middle.y)));
        if (room > most) {
            most = room;
            best = p;
        }
    }
    return best;
}

static void draw_number(cairo_t *cr, Point p, int number) {
    char text[16];
    (void)snprintf(text, sizeof text, "%d", number);
    cairo_arc(cr, p.x, p.y, 18, 0, 2 * PI);
    canvas_ink(cr, dark, 1);
    cairo_fill_preserve(cr);
    canvas_ink(cr, paper, 1);
    canvas_stroke(cr, 3);
    type_show(cr, p.x, p.y + 8, 22, true, ALIGN_CENTRE, text);
}

static Lasso ring_of(const Checking *c, int place, int side) {
    const FlawRing ring = flaw_ring(c->job, place);
    double w = ring.w * FACE, h = ring.h * FACE;
    return (Lasso){c->middle[side].x + (ring.middle.x - 0.5) * FACE - w / 2,
                   c->middle[side].y + (ring.middle.y - 0.5) * FACE - h / 2, w, h};
}

static void draw_places(Checking *c) {
    cairo_t *cr = c->canvas.cr;
    int count = c->job->flaws.count;
    for (int side = 0; side < 2; side++) {
        for (int i = 0; i < count; i++) {
            Lasso ring = ring_of(c, i, side);
            canvas_round_box(cr, ring.x, ring.y, ring.w, ring.h, fmin(fmin(ring.w, ring.h) / 2, 40));
            canvas_ink(cr, paper, 0.9);
            cairo_set_line_width(cr, 7);
            cairo_stroke_preserve(cr);
            canvas_ink(cr, dark, 1);
            canvas_stroke(cr, 3);
        }
        for (int i = 0; i < count; i++)
            c->badge[c->badges++] = place_badge(c, ring_of(c, i, side), c->middle[side]);
        for (int i = 0; i < count; i++) draw_number(cr, c->badge[side * count + i], i + 1);
    }
}

/* --- words --- */

static void draw_head(const Checking *c) {
    const Job *job = c->job;
    cairo_t *cr = c->canvas.cr;
    int count = job->flaws.count + job->flaws.more;
    const bool go = job->judgement.verdict == VERDICT_GO; /* nobody need do anything */
    char line[LINE], piece[96], places[64] = "", sentence[SENTENCE_TEXT];
    canvas_ink(cr, dark, 1);
    type_fit(cr, 40, 58, 36, true, WIDTH - 80, job->order.name);
    piece_size_print(job, piece);
    if (count > 0)
        (void)snprintf(places, sizeof places, "; %d place%s %s%s %s", count, count == 1 ? "" : "s",
                       go ? "come" : "need", count == 1 ? "s" : "",
                       go ? "out a little simpler" : "simplifying");
    (void)snprintf(line, sizeof line, "A piece of %s %s%s", piece, verdict_meaning(job, FORM_PICTURE),
                   places);
    type_fit(cr, 40, 98, 24, true, WIDTH - 80, line);
    client_print(job, sentence);
    if (sentence[0]) type_wrap(cr, 40, 132, 20, false, WIDTH - 80, sentence);
    canvas_ink(cr, quiet, 1);
    type_show(cr, c->middle[0].x, c->top - 22, 20, false, ALIGN_CENTRE,
              "the logo as sent; the circle is what the candy shows of it");
    type_show(cr, c->middle[1].x, c->top - 22, 20, false, ALIGN_CENTRE,
              "the finished cut, as hands can lay it");
}

static double draw_key(cairo_t *cr, double x, double y, Rgb8 tint, const char *text) {
    canvas_ink(cr, tint, TINT_ALPHA / 255.0);
    cairo_rectangle(cr, x, y - 17, 30, 20);
    cairo_fill(cr);
    canvas_ink(cr, dark, 1);
    return x + 42 + type_show(cr, x + 42, y, 20, false, ALIGN_LEFT, text) + 40;
}

/* What hands lay, at the piece: "0.8 mm", "0.8 mm; 0.4 mm in blocks drawn down". */
static void print_least(const Job *job, char *out, size_t size) {
    double least_mm = job->shop->least_strip_mm / job->cane.reduction;
    char least[40], half[40];
    bool fine = false;
    for (int i = 0; i < job->layup.ropes; i++) fine = fine || job->layup.rope[i].fine;
    stroke_print(least, sizeof least, least_mm, job->order.units);
    stroke_print(half, sizeof half, least_mm / 2, job->order.units);
    if (fine)
        (void)snprintf(out, size, "%s; %s in fine blocks", least, half);
    else
        (void)snprintf(out, size, "%s", least);
}

/* Places are told in two columns, behind them how many more there are. */
static int place_rows(const Job *job) {
    return (job->flaws.count + (job->flaws.more > 0) + 1) / 2;
}

static Point place_at(const Job *job, int place, double top) {
    int rows = place_rows(job), column = place / rows;
    return (Point){40 + column * ((WIDTH - 80) / 2.0), top + place % rows * 40};
}

static void draw_words(const Checking *c) {
    const Job *job = c->job;
    cairo_t *cr = c->canvas.cr;
    char line[LINE], least[96], words[FLAW_TEXT];
    double x = 40, y = c->top + BOX + 42;
    print_least(job, least, sizeof least);
    if (any_fine(&job->fine, FINE_STROKE)) {
        (void)snprintf(line, sizeof line, "strokes finer than hands can lay (%s)", least);
        x = draw_key(cr, x, y, c->stroke, line);
    }
    if (any_fine(&job->fine, FINE_GAP)) {
        bool told = any_fine(&job->fine, FINE_STROKE);
        (void)snprintf(line, sizeof line, "gaps narrower than %s%s%s", told ? "that" : "hands can lay (",
                       told ? "" : least, told ? "" : ")");
        (void)draw_key(cr, x, y, c->gap, line);
    }
    for (int i = 0; i < job->flaws.count; i++) {
        Point at = place_at(job, i, y + 48);
        draw_number(cr, (Point){at.x + 18, at.y - 8}, i + 1);
        canvas_ink(cr, dark, 1);
        flaw_print(job, &job->flaws.flaw[i], words);
        type_fit(cr, at.x + 48, at.y, 21, false, (WIDTH - 80) / 2.0 - 60, words);
    }
    if (job->flaws.more == 0) return;
    Point at = place_at(job, job->flaws.count, y + 48);
    canvas_ink(cr, quiet, 1);
    (void)snprintf(line, sizeof line, "and %d more place%s", job->flaws.more,
                   job->flaws.more == 1 ? "" : "s");
    type_show(cr, at.x + 48, at.y, 21, false, ALIGN_LEFT, line);
}

bool draw_check(const Job *job, Image *out, Err *err) {
    char sentence[SENTENCE_TEXT];
    int rows = place_rows(job);
    client_print(job, sentence);
    Checking c = {.job = job, .top = HEAD + (sentence[0] ? SENTENCE : 0)};
    c.middle[0] = (Point){WIDTH * 0.25 + 5, c.top + BOX / 2.0};
    c.middle[1] = (Point){WIDTH * 0.75 - 5, c.top + BOX / 2.0};
    c.stroke = choose_tint(job, NULL);
    c.gap = choose_tint(job, &c.stroke);
    canvas_open(&c.canvas, WIDTH, (int)c.top + BOX + 60 + (rows ? 20 + 40 * rows : 0), 0, paper);
    bool good = lay_logo(&c, err) && lay_tints(&c, err) &&
                canvas_lay_face(&c.canvas, job, FACE, c.middle[1].x - FACE / 2.0, c.middle[1].y - FACE / 2.0,
                                FACE, err);
    if (good) {
        draw_places(&c);
        draw_head(&c);
        draw_words(&c);
    }
    return canvas_close(&c.canvas, good, out, err);
}
