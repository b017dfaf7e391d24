/* The blocks in build order. SPDX-License-Identifier: MIT
 *
 * A card each, in two columns; one that would be hard to read there takes the page's width, and so may one
 * that is shorter with a larger drawing beside its list. A card: a head with the block's number, size and
 * kind; the drawing; beside or below it the list of what goes in, and where in the log the block goes; then
 * which way round, copies, and the block it goes into. A block is drawn as it
 * lies in the log at its first use, which is as it is built, with the figures of its slanted cuts; sizes are
 * those to build, thicker if it is to be drawn out. */
#include "draw/bench_pages.h"

#include "base/mem.h"
#include "draw/fill_pages.h"
#include "model/wrapped.h"
#include "say/bench_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    EASY = 10,    /* pt: so thick is what can be numbered */
    ROOMY = 24,   /* pt: of the way round a drawing, for each figure; they are some 25 pt wide */
    LEAST = 70,   /* pt: the lowest drawing of a wide card */
    PAD = 6,      /* pt: between frame and contents */
    HEAD = 46,    /* pt: number, size and kind */
    KEY = 46,     /* pt: side of the small log that shows where the block goes */
    BESIDE = 112, /* pt: width of a drawing that stands beside the list; on a wide card twice that */
    BROAD = 300,  /* pt: or this */
    ITEMS_MAX = 5 /* of a card of one column */
};

static const double least_share = 0.5; /* of the scale that a card's drawing has where there is room */
static const double smaller = 0.35;    /* pages: a drawing half as large has to save so much paper */
static const double wider = 0.02;      /* pages: likewise a card over both columns that need not be */

static const double nick_share = 0.3; /* of the thickness of a block in its slot */

typedef enum CardWidth {
    CARD_NARROW, /* one column */
    CARD_WIDE,   /* both */
    CARD_BROAD   /* both, and the drawing beside the list in any case, and larger than it would be there */
} CardWidth;

typedef struct Card {
    const Job *job;      /* not owned */
    int index;           /* of the block */
    const Block *block;  /* not owned */
    bool wide;           /* over both columns */
    bool above;          /* the drawing stands above the list, not beside it */
    double beside;       /* pt: the width of a drawing beside the list */
    double room;         /* pt: the card's width without the frame */
    double shown, scale; /* drawn so many times the true size; pt a step */
    Figures figures;     /* beside the drawing */
    BlockWords words;    /* below the list */
} Card;

static const Item *item_of(const Card *e, int i) {
    return &e->job->blocks.item[e->block->first_item + i];
}

static bool is_log(const Card *e) {
    return e->index + 1 == e->job->blocks.blocks;
}

static double list_room(const Card *e) {
    if (!e->wide) return e->above ? e->room : e->room - e->beside - 8;
    return e->above ? e->room * 0.45 : e->room - e->beside - 10;
}

static double list_height(Sheet *s, const Card *e) {
    return block_list_height(s, e->job, e->block, list_room(e));
}

/* --- the drawing --- */

static double inner_width(const Card *e) {
    return e->block->high.x - e->block->low.x;
}

static double inner_height(const Card *e) {
    return e->block->high.y - e->block->low.y;
}

/* Does the drawing, so many pt a step, fit w x h pt? Its nick stands above. */
static bool drawing_fits(const Card *e, double scale, double w, double h) {
    Figures figures;
    if (inner_width(e) * scale > w || inner_height(e) * scale > h) return false;
    cut_figures(e->job, e->block, scale, &figures);
    return figures.high.x - figures.low.x <= w && figures.high.y - figures.low.y <= h + NICK_ROOM;
}

/* The largest plain scale, against the block as built, at which it fits w x h pt. */
static double plain_scale(const Card *e, double w, double h) {
    static const double plain[] = {5, 4, 3, 2.5, 2, 1.5, 1.25, 1, 0.75, 0.5, 0.4, 0.3, 0.2};
    double pt = e->job->cane.step_mm * e->block->scale * PT_PER_MM;
    size_t i = 0;
    while (i + 1 < sizeof plain / sizeof *plain && !drawing_fits(e, pt * plain[i], w, h)) i++;
    return plain[i];
}

/* Beside the list, or above it if that shows the block clearly larger, as figures, and sheets that would be
 * under true size, ask for sooner than a plain drawing; no higher than `most`. */
static void choose_layout(Card *e, bool broad, double most) {
    cut_figures(e->job, e->block, 1, &e->figures);
    e->beside = broad ? BROAD : e->wide ? 2 * BESIDE : BESIDE;
    double beside = e->wide ? plain_scale(e, e->beside, fmin(250, most)) : plain_scale(e, BESIDE - 8, 130);
    const int insets = e->block->kind == BLOCK_ROUND ? 2 : 0; /* they need no room */
    bool sheets = e->block->kind == BLOCK_WRAPPED || e->block->kind == BLOCK_ROUND;
    bool figured = e->figures.count > insets, small = sheets && beside < 1;
    double high = is_log(e) ? 400 : figured ? 220 : e->wide ? 180 : sheets ? 150 : 110;
    double above = plain_scale(e, e->room, fmin(high, most));
    e->above = is_log(e) || (!broad && above >= beside * (figured || small ? 1.2 : 1.45));
    e->shown = e->above ? above : beside;
    e->scale = e->shown * e->job->cane.step_mm * e->block->scale * PT_PER_MM;
    cut_figures(e->job, e->block, e->scale, &e->figures);
}

/* Steps that an item leaves for its number; a trim has none. */
static double thickness(const Card *e, const Item *item) {
    if (item->is_block) return outline_width(&item->outline).width * (1 - nick_share);
    const Rope *rope = &e->job->layup.rope[item->index];
    if (rope->trim) return HUGE_VAL;
    return rope->rim ? e->job->bill.rope[rope->type].height_mm / e->job->cane.step_mm
                     : outline_width(&rope->outline).width;
}

/* pt: the thinnest of what the drawing has to number. */
static double thinnest(const Card *e) {
    double least = HUGE_VAL;
    for (int i = 0; i < e->block->items; i++) least = fmin(least, thickness(e, item_of(e, i)) * e->scale);
    return least;
}

/* A block in its place: a thick outline, its nick where it comes to lie, its number clear of the nick. */
static void draw_inner_block(const Card *e, const View *v, const Item *item) {
    static const Point down[4] = {{0, 1}, {-1, 0}, {0, -1}, {1, 0}};
    int turn = item->motion.way.turn;
    const Block *block = &e->job->blocks.block[item->index];
    bool round = block_is_round(&e->job->layup, block);
    Nick nick = block_nick(e->job, block);
    double size = fmin(11, nick_share * v->scale * outline_width(&item->outline).width);
    core_clip(v);
    section_path(v, &item->outline, round);
    canvas_stroke(v->cr, 3);
    cairo_restore(v->cr);
    nick.tip = point_moved(nick.tip, item->motion);
    nick.into = down[turn];
    nick.tip.x += size / v->scale * nick.into.x; /* it lies inside the outline */
    nick.tip.y += size / v->scale * nick.into.y;
    nick_draw(v->cr, v->x + nick.tip.x * v->scale, v->y + nick.tip.y * v->scale, size, turn,
              !item->motion.way.mirrored);
    block_label(v, &item->outline, round, nick, 0.7 * size / v->scale, item->index, 22);
}

/* The block's outline, and the box that its size is of. */
static void draw_outline(const Card *e, const View *v) {
    const double dash[] = {3, 3};
    Point low = e->block->low;
    core_clip(v);
    section_path(v, &e->block->outline, block_is_round(&e->job->layup, e->block));
    canvas_stroke(v->cr, 2);
    cairo_restore(v->cr);
    cairo_set_line_width(v->cr, 1);
    cairo_set_dash(v->cr, dash, 2, 0);
    cairo_rectangle(v->cr, v->x + low.x * v->scale, v->y + low.y * v->scale, inner_width(e) * v->scale,
                    inner_height(e) * v->scale);
    cairo_stroke(v->cr);
    cairo_set_dash(v->cr, NULL, 0, 0);
}

static void draw_drawing(Sheet *s, const Card *e, double x, double y) {
    char text[96];
    double scale = e->scale, left = x - e->figures.low.x, top = y - e->figures.low.y;
    Point low = e->block->low, nick = block_nick(e->job, e->block).tip;
    View v = {s->cr, e->job, left - low.x * scale, top - low.y * scale, scale, false};
    ropes_draw(&v, &e->block->outline);
    draw_outline(e, &v);
    for (int i = 0; i < e->block->items; i++) {
        const Item *item = item_of(e, i);
        if (item->is_block)
            draw_inner_block(e, &v, item);
        else
            rope_label(&v, &e->job->layup.rope[item->index], 26);
    }
    if (e->block->kind == BLOCK_ROUND) rope_label(&v, &e->job->layup.rope[e->block->rest], 16);
    figures_draw(s->cr, &e->figures, left, top);
    nick_draw(s->cr, v.x + nick.x * scale, v.y + nick.y * scale, 12, 0, true);
    (void)snprintf(text, sizeof text, "drawn %g : 1", e->shown);
    type_show(s->cr, x, top + e->figures.high.y + 13, TYPE_SMALL, false, ALIGN_LEFT,
              e->shown == 1 ? "true size" : text);
}

/* --- cards --- */

static double drawing_height(const Card *e) {
    return e->figures.high.y - e->figures.low.y + 17;
}

static void draw_head(Sheet *s, const Card *e, double x, double y) {
    char number[32], size[96], length[32], kind[32], text[200];
    (void)snprintf(number, sizeof number, "%d", e->index + 1);
    double width = fmax(46, type_width(s->cr, TYPE_LARGE, true, number) + 14);
    cairo_rectangle(s->cr, x - PAD, y - PAD, width, HEAD - 8);
    cairo_fill(s->cr);
    cairo_set_source_rgb(s->cr, 1, 1, 1);
    type_show(s->cr, x - PAD + width / 2, y + 27, TYPE_LARGE, true, ALIGN_CENTRE, number);
    cairo_set_source_rgb(s->cr, 0, 0, 0);
    block_size_print(e->job, e->block, false, e->block->scale, size);
    hand_print(length, sizeof length, e->block->length_mm, e->job->order.units);
    block_kind_words(e->block, kind);
    (void)snprintf(text, sizeof text, "%s, %s long", kind, length);
    double at = x + width + 4, room = e->room - width - 4, key = e->wide && !is_log(e) ? KEY + 8 : 0;
    char minute[WORDS_SIZE];
    block_minute_words(e->job, e->index, minute);
    const bool below =
        !e->wide && e->above; /* beside the scale; of wide ones in the head; else among the words */
    double taken = e->wide ? type_width(s->cr, 12, true, minute) + 6 + key : 0;
    type_fit(s->cr, at, y + 13, 18, true, room - key, size);
    type_fit(s->cr, at, y + 31, TYPE_BENCH, false, room - taken, text);
    double under = below ? y + HEAD - PAD + drawing_height(e) - 4 : y + 31;
    if (below || e->wide) type_show(s->cr, x + e->room - key, under, 12, true, ALIGN_RIGHT, minute);
    if (e->wide && !is_log(e)) key_draw(s->cr, e->job, x + e->room - KEY / 2.0, y + KEY / 2.0, KEY, e->index);
}

/* A narrow card has the key beside the words, a wide one at its top. */
static double words_room(const Card *e) {
    if (!e->wide) return e->room - KEY - 6;
    return e->above ? e->room * 0.55 - 10 : list_room(e);
}

static double words_height(Sheet *s, const Card *e) {
    double height = 0;
    for (int i = 0; i < e->words.lines; i++)
        height += type_height(s->cr, TYPE_BENCH, e->words.bold[i], words_room(e), e->words.line[i]) + 2;
    return e->wide ? height : fmax(height, KEY);
}

static void draw_words(Sheet *s, const Card *e, double x, double y) {
    if (!e->wide) key_draw(s->cr, e->job, x + e->room - KEY / 2.0, y + KEY / 2.0, KEY, e->index);
    for (int i = 0; i < e->words.lines; i++)
        y = type_wrap(s->cr, x, y + TYPE_BENCH, TYPE_BENCH, e->words.bold[i], words_room(e),
                      e->words.line[i]) -
            TYPE_BENCH + 2;
}

/* What a card holds below its head. */
typedef struct Body {
    Point list, words; /* pt: their corners, from the body's; the drawing's is the body's */
    double height;     /* pt */
} Body;

/* Words stand below the list, or, on a wide card with the drawing above, beside it. */
static Body lay_out(Sheet *s, const Card *e) {
    double drawing = drawing_height(e), list = list_height(s, e);
    Body b = {.list = {0, drawing}};
    if (!e->above) b.list = (Point){e->beside + (e->wide ? 10 : 8), 0};
    b.words = (Point){e->wide ? b.list.x : 0, fmax(e->wide ? 0 : drawing, b.list.y + list)};
    if (e->wide && e->above) b.words = (Point){e->room * 0.45 + 10, drawing};
    b.height = fmax(drawing, fmax(b.list.y + list, b.words.y + words_height(s, e)));
    return b;
}

static double card_height(Sheet *s, const Card *e) {
    return HEAD + lay_out(s, e).height + PAD;
}

/* A card of that width, whose drawing is no higher than `most` pt. */
static Card set_up(const Sheet *s, const Job *job, int index, CardWidth width, double most) {
    const bool wide = width != CARD_NARROW;
    Card e = {.job = job, .index = index, .block = &job->blocks.block[index], .wide = wide};
    e.room = column_width(s, wide) - 2 * PAD;
    choose_layout(&e, width == CARD_BROAD, most);
    block_words(job, index, &e.words);
    if (!wide && !e.above && e.words.lines < WORDS_LINES)
        block_minute_words(job, index, e.words.line[e.words.lines++]);
    return e;
}

/* pt: of the way round the drawing for each of its figures. */
static double figure_room(const Card *e) {
    return e->figures.count > 0 ? 2 * (inner_width(e) + inner_height(e)) * e->scale / e->figures.count
                                : HUGE_VAL;
}

/* Can it be read, with a drawing this much smaller than `best`, and is it no more crowded? */
static bool readable(const Card *e, const Card *best) {
    return e->figures.strayed <= best->figures.strayed && e->scale >= least_share * best->scale &&
           thinnest(e) >= fmin(EASY, thinnest(best)) && figure_room(e) >= fmin(ROOMY, figure_room(best));
}

/* Adds the sizes of one width: the drawing as large as there is a use for, and smaller ones; `best` is what
 * they are held against. */
static void add_sizes(Sheet *s, const Job *job, int index, CardWidth width, const Card *best,
                      CardSizes *out) {
    static const double share[] = {1, 0.75, 0.55};
    const Card whole = set_up(s, job, index, width, HUGE_VAL);
    const bool broad = width == CARD_BROAD, wide = whole.wide;
    const double high = drawing_height(&whole) - 17 - NICK_ROOM;
    double last = HUGE_VAL;
    for (size_t i = 0; i < sizeof share / sizeof *share; i++) {
        const double most = i == 0 ? HUGE_VAL : high * share[i];
        const Card e = i == 0 ? whole : set_up(s, job, index, width, most);
        const double height = card_height(s, &e);
        if (height > last - 1 || ((i > 0 || broad) && !readable(&e, best))) continue;
        const double less = fmax(best->scale / e.scale - 1, 0);
        last = height;
        out->size[out->count++] = (CardSize){wide, height, most, smaller * less + (wide ? wider : 0), broad};
    }
}

/* The sizes a card can have: of one column if it is easy to read there, and over both. */
static void card_sizes(Sheet *s, const Job *job, int index, CardSizes *out) {
    const Card narrow = set_up(s, job, index, CARD_NARROW, HUGE_VAL),
               wide = set_up(s, job, index, CARD_WIDE, HUGE_VAL), *best = NULL;
    bool hard = thinnest(&narrow) < EASY && wide.scale > narrow.scale * 1.2;
    bool easy = !is_log(&narrow) && narrow.block->items <= ITEMS_MAX && !hard;
    best = easy ? &narrow : &wide;
    out->count = 0;
    if (easy) add_sizes(s, job, index, CARD_NARROW, best, out);
    if (!easy || readable(&wide, &narrow)) add_sizes(s, job, index, CARD_WIDE, best, out);
    if (!is_log(&wide) && wide.above) add_sizes(s, job, index, CARD_BROAD, best, out);
}

static void draw_card(Sheet *s, Columns *columns, const Job *job, int index, const CardSize *size) {
    Card e = set_up(s, job, index,
                    size->broad  ? CARD_BROAD
                    : size->wide ? CARD_WIDE
                                 : CARD_NARROW,
                    size->most);
    Body body = lay_out(s, &e);
    double height = HEAD + body.height + PAD;
    Slot slot = columns_place(columns, height, e.wide);
    cairo_rectangle(s->cr, slot.x, slot.y, slot.width, height);
    canvas_stroke(s->cr, 1);
    draw_head(s, &e, slot.x + PAD, slot.y + PAD);
    double x = slot.x + PAD, y = slot.y + HEAD;
    draw_drawing(s, &e, x, y);
    block_list_draw(s, job, e.block, x + body.list.x, y + body.list.y, list_room(&e));
    draw_words(s, &e, x + body.words.x, y + body.words.y);
}

static const double meaning_at = SHEET_MARGIN + 178; /* pt */

static double meaning_room(const Sheet *s) {
    return s->width - SHEET_MARGIN - meaning_at;
}

static void draw_term(Sheet *s, const Term *term) {
    double y = s->y + TYPE_BENCH;
    type_show(s->cr, SHEET_MARGIN, y, TYPE_BENCH, true, ALIGN_LEFT, term->word);
    s->y =
        type_wrap(s->cr, meaning_at, y, TYPE_BENCH, false, meaning_room(s), term->meaning) - TYPE_BENCH + 3;
}

/* What the words of the cards mean: below the title, on a page that holds them all. */
static void draw_terms(Sheet *s, const Job *job) {
    Term term[TERMS];
    const int terms = block_terms(job, term);
    double height = 10;
    for (int i = 0; i < terms; i++)
        height += type_height(s->cr, TYPE_BENCH, false, meaning_room(s), term[i].meaning) + 3;
    sheet_section(s, "Blocks in build order: face end to you, nick up", height);
    s->y += 4;
    for (int i = 0; i < terms; i++) draw_term(s, &term[i]);
    s->y += 6;
}

/* Draws the cards, each in the size that `chosen` has room for. */
static bool draw_cards(Sheet *s, const Job *job, CardSizes *sizes, int *chosen, Err *err) {
    Columns columns = columns_begin(s);
    const PageRoom room = {s->y, sheet_top(), sheet_bottom(s)};
    for (int i = 0; i < job->blocks.blocks; i++) card_sizes(s, job, i, &sizes[i]);
    if (!fill_pages(sizes, job->blocks.blocks, room, chosen, err)) return false;
    for (int i = 0; i < job->blocks.blocks; i++) draw_card(s, &columns, job, i, &sizes[i].size[chosen[i]]);
    return true;
}

bool draw_blocks(Sheet *sheet, const Job *job, Err *err) {
    if (job->blocks.blocks == 0) return true;
    draw_terms(sheet, job);
    CardSizes *sizes = mem_alloc((size_t)job->blocks.blocks, sizeof *sizes, err);
    int *chosen = sizes ? mem_alloc((size_t)job->blocks.blocks, sizeof *chosen, err) : NULL;
    bool good = chosen && draw_cards(sheet, job, sizes, chosen, err);
    free(chosen);
    free(sizes);
    return good;
}
