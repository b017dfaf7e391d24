/* The picture for the client. SPDX-License-Identifier: MIT
 *
 * 1. The pieces are scattered and photographed (scene.h); the table fills the picture.
 * 2. The card lies over the right of it: the shop, the job's name, one face large, the logo as sent, the
 * piece's size, how many, the candies, the dates. Across it, where the job is not what we propose, a band
 * that says so. All is laid out for WIDTH x HEIGHT px and scaled. */
#include "draw/draw.h"

#include "base/date.h"
#include "base/text.h"
#include "draw/canvas.h"
#include "draw/scene.h"
#include "draw/sheet.h"
#include "say/bench_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { LINE_OF_NAME = 24 }; /* columns of the headline at its largest, about */

enum { WIDTH = 1600, HEIGHT = 1200, CUT = 340, FACE = 392, SHADE = 30, SHOWN_MAX = INKS_MAX + JACKETS_MAX };

static const Box card = {1108, 0, 456,
                         0}; /* px; top and height of the card depend on how many candies it shows */
static const Rgb8 paper = {252, 252, 250}, dark = {28, 28, 32}, quiet = {104, 104, 112},
                  warning = {176, 42, 30};
static const double inset = 34; /* px: from the card's edge to what it shows */

static int scaled(int px, double scale) {
    int made = (int)lround(px * scale);
    return made > 0 ? made : 1;
}

static bool lay_scene(const Job *job, double scale, Canvas *canvas, Err *err) {
    int width = scaled(WIDTH, scale), height = scaled(HEIGHT, scale);
    const SceneFrame frame = {width, height, 30 * scale, 30 * scale, 1080 * scale, 1170 * scale, 0};
    Scatter pieces;
    PieceSurface surface = {0};
    Image scene = {0};
    scatter(job->order.piece_diameter_mm, job->order.piece_length_mm, scene_aspect(&frame), 7, &pieces);
    bool good = piece_surface_new(job, scaled(CUT, scale), &surface, err) &&
                scene_render(&pieces, &surface, &frame, &scene, err) &&
                canvas_lay(canvas, scene.rgba, width, height, 0, 0, width, height, err);
    image_free(&scene);
    piece_surface_free(&surface);
    return good;
}

/* The card and the shade that it throws: soft, and farther out below and to the right. */
static void draw_card(cairo_t *cr, double y, double height) {
    for (int i = 0; i < SHADE; i++) { /* from the outside in: what is added grows towards the card */
        double out = 30 * (1 - (double)i / SHADE);
        canvas_round_box(cr, card.x - out + 7, y - out + 12, card.w + 2 * out, height + 2 * out, 18 + out);
        canvas_ink(cr, (Rgb8){70, 62, 52}, 0.0004 + 0.013 * i / SHADE);
        cairo_fill(cr);
    }
    canvas_round_box(cr, card.x, y, card.w, height, 18);
    canvas_ink(cr, paper, 1);
    cairo_fill(cr);
}

static bool lay_face(const Job *job, double scale, Canvas *canvas, double y, Err *err) {
    double x = card.x + (card.w - FACE) / 2.0;
    for (int i = 14; i > 0; i--) {
        cairo_arc(canvas->cr, x + FACE / 2.0 + 5, y + FACE / 2.0 + 8, FACE / 2.0 + i - 6, 0, 2 * PI);
        canvas_ink(canvas->cr, dark, 0.012);
        cairo_fill(canvas->cr);
    }
    return canvas_lay_face(canvas, job, scaled(FACE, scale), x, y, FACE, err);
}

/* The logo in a box, as sent; a transparent one on the candy that is its background. */
static bool lay_logo(const Job *job, Canvas *canvas, double x, double y, double side, Err *err) {
    const Picture *picture = job->picture;
    double scale = fmin(side / picture->width, side / picture->height), w = picture->width * scale,
           h = picture->height * scale;
    cairo_t *cr = canvas->cr;
    bool clear = job->inks->ink[job->inks->field].transparent;
    canvas_round_box(cr, x, y, side, side, 8);
    canvas_ink(cr, clear ? job->palette.candy[job->palette.field].srgb : (Rgb8){255, 255, 255}, 1);
    cairo_fill_preserve(cr);
    canvas_ink(cr, quiet, 0.35);
    canvas_stroke(cr, 1);
    cairo_save(cr);
    canvas_round_box(cr, x + 1, y + 1, side - 2, side - 2, 7);
    cairo_clip(cr);
    bool good = canvas_lay(canvas, picture->rgba, picture->width, picture->height, x + (side - w) / 2,
                           y + (side - h) / 2, w, h, err);
    cairo_restore(cr);
    return good;
}

/* The candies to be shown: those of the picture, then those that only the jacket has. */
static int list_candies(const Job *job, const Candy *out[SHOWN_MAX]) {
    const Palette *p = &job->palette;
    int count = 0;
    for (int i = 0; i < p->count + p->jackets; i++) {
        const Candy *candy = i < p->count ? &p->candy[i] : &p->jacket[i - p->count];
        bool known = false;
        for (int k = 0; k < count; k++) known = known || strcmp(out[k]->name, candy->name) == 0;
        if (!known) out[count++] = candy;
    }
    return count;
}

/* A drop of candy: lighter above left, with a spot of gloss. */
static void draw_drop(cairo_t *cr, double x, double y, double r, const Candy *candy) {
    Rgb8 c = candy->srgb;
    cairo_arc(cr, x, y, r, 0, 2 * PI);
    canvas_ink(cr, c, 1);
    cairo_fill_preserve(cr);
    canvas_ink(cr, dark, 0.22);
    canvas_stroke(cr, 1);
    cairo_pattern_t *gloss =
        cairo_pattern_create_radial(x - 0.35 * r, y - 0.4 * r, 0, x - 0.35 * r, y - 0.4 * r, 0.5 * r);
    cairo_pattern_add_color_stop_rgba(gloss, 0, 1, 1, 1, candy->finish == FINISH_CLEAR ? 0.75 : 0.4);
    cairo_pattern_add_color_stop_rgba(gloss, 1, 1, 1, 1, 0);
    cairo_set_source(cr, gloss);
    cairo_arc(cr, x, y, r - 1, 0, 2 * PI);
    cairo_fill(cr);
    cairo_pattern_destroy(gloss);
}

/* How the candies are set out. */
typedef struct Rack {
    const Candy *shown[SHOWN_MAX]; /* not owned */
    int count;                     /* of candies */
    int columns, rows;
    double step; /* px from row to row */
} Rack;

static Rack make_rack(const Job *job) {
    Rack rack;
    rack.count = list_candies(job, rack.shown);
    rack.columns = rack.count > 5 ? 2 : 1;
    rack.rows = (rack.count + rack.columns - 1) / rack.columns;
    rack.step = fmin(48, 288.0 / rack.rows);
    return rack;
}

static void draw_candies(cairo_t *cr, const Rack *rack, double y) {
    double r = rack->step * 0.38, width = (card.w - 2 * inset) / rack->columns;
    for (int i = 0; i < rack->count; i++) {
        double x = card.x + inset + i / rack->rows * width, at = y + (i % rack->rows + 0.5) * rack->step;
        draw_drop(cr, x + r, at, r, rack->shown[i]);
        canvas_ink(cr, dark, 1);
        type_fit(cr, x + 2 * r + 12, at + 7, fmin(21, rack->step * 0.55), false, width - 2 * r - 20,
                 rack->shown[i]->name);
    }
}

/* The job's name; else the file's, as a headline: "Valley cider" of "valley-cider". */
static void headline_print(const Job *job, char out[JOB_NAME]) {
    (void)snprintf(out, JOB_NAME, "%s", job->order.name);
    if (job->order.named) return;
    for (char *at = out; *at; at++)
        if (*at == '-' || *at == '_') *at = ' ';
    if (*out >= 'a' && *out <= 'z') *out = (char)(*out - 'a' + 'A');
}

static void draw_headline(cairo_t *cr, const Job *job, double x, double y, double room) {
    char headline[JOB_NAME];
    headline_print(job, headline);
    canvas_ink(cr, quiet, 1);
    if (job->shop->name[0]) type_fit(cr, x, y + 30, 18, false, room, job->shop->name);
    canvas_ink(cr, dark, 1);
    if (text_width(headline) <= LINE_OF_NAME) {
        type_fit(cr, x, y + 66, 34, true, room, headline);
    } else { /* on two lines */
        text_fit(headline, sizeof headline, headline, 2 * LINE_OF_NAME + 2);
        (void)type_wrap(cr, x, y + 54, 21, true, room, headline);
    }
}

/* How large a piece is, and how many are offered. */
static void draw_order(cairo_t *cr, const Job *job, double x, double y, double room) {
    char piece[96], number[40], line[64];
    piece_size_print(job, piece);
    text_number(number, sizeof number, (double)job->order.pieces, 0);
    (void)snprintf(line, sizeof line, "%s %s", number, job->order.pieces == 1 ? "piece" : "pieces");
    canvas_ink(cr, quiet, 1);
    type_show(cr, x, y + 20, 18, false, ALIGN_LEFT, "the logo as sent");
    type_show(cr, x, y + 76, 18, false, ALIGN_LEFT, "one piece");
    canvas_ink(cr, dark, 1);
    type_fit(cr, x, y + 106, 26, true, room, piece);
    type_fit(cr, x, y + 140, 20, false, room, line);
}

/* "2026-06-01; valid until 31 March 2027", as far as it is known. */
static void draw_dates(cairo_t *cr, const Job *job, double x, double y, double room) {
    char line[96] = "", day[DATE_WORDS];
    if (job->order.date[0]) {
        date_words(job->order.date, day);
        text_append(line, sizeof line, "%s", day);
    }
    if (job->order.valid_until[0]) {
        date_words(job->order.valid_until, day);
        text_append(line, sizeof line, "%salid until %s", line[0] ? "; v" : "V", day);
    }
    canvas_ink(cr, quiet, 1);
    if (line[0]) type_fit(cr, x, y, 17, false, room, line);
}

/* A no, and a change that has a better proposal, are not what a client should be sent. */
static bool is_proposed(const Job *job) {
    const Judgement *judgement = &job->judgement;
    if (judgement->verdict == VERDICT_NO) return false;
    return !judgement->advised || judgement->best.whole >= judgement->verdict;
}

/* A band across the card and a little beyond it, over the lower part of the face. */
static void draw_notice(const Job *job, cairo_t *cr, double y) {
    const bool no = job->judgement.verdict == VERDICT_NO;
    const double high = 92, x = card.x - 16, w = card.w + 32, middle = x + w / 2;
    canvas_round_box(cr, x, y + 5, w, high, 6);
    canvas_ink(cr, dark, 0.25);
    cairo_fill(cr);
    canvas_round_box(cr, x, y, w, high, 6);
    canvas_ink(cr, warning, 1);
    cairo_fill(cr);
    canvas_ink(cr, paper, 1);
    type_show(cr, middle, y + 41, 30, true, ALIGN_CENTRE, "Not what we propose");
    type_show(cr, middle, y + 73, 21, false, ALIGN_CENTRE,
              no ? "this version cannot be made" : "another comes out better");
}

static bool fill_card(const Job *job, double scale, Canvas *canvas, Err *err) {
    Rack rack = make_rack(job);
    cairo_t *cr = canvas->cr;
    double height = 896 + rack.rows * rack.step, y = (HEIGHT - height) / 2;
    double x = card.x + inset, room = card.w - 2 * inset;
    draw_card(cr, y, height);
    draw_headline(cr, job, x, y, room);
    if (!lay_face(job, scale, canvas, y + 90, err) || !lay_logo(job, canvas, x, y + 516, 150, err))
        return false;
    draw_order(cr, job, x + 172, y + 516, room - 172);
    canvas_ink(cr, quiet, 1);
    type_show(cr, x, y + 712, 18, false, ALIGN_LEFT, "the candies");
    draw_candies(cr, &rack, y + 726);
    canvas_ink(cr, quiet, 1);
    double next = type_wrap(cr, x, y + height - 122, 17, false, room,
                            "Each piece shows the picture on one end and its mirror image on the other.");
    if (!is_proposed(job)) draw_notice(job, cr, y + 90 + FACE - 118);
    canvas_ink(cr, dark, 1);
    type_fit(cr, x, next + 14, 18, true, room, "Colours and shapes vary with hand work.");
    draw_dates(cr, job, x, next + 40, room);
    return true;
}

bool draw_mockup(const Job *job, int width, Image *out, Err *err) {
    double scale = (double)width / WIDTH;
    Canvas canvas;
    canvas_open(&canvas, width, scaled(HEIGHT, scale), 0, paper);
    bool good = lay_scene(job, scale, &canvas, err); /* 1 */
    cairo_scale(canvas.cr, scale, scale);
    good = good && fill_card(job, scale, &canvas, err); /* 2 */
    return canvas_close(&canvas, good, out, err);
}
