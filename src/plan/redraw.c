/* What hands should aim at: thin lines left out or thickened, whole. SPDX-License-Identifier: MIT
 *
 * Input: a grid whose wanted face is the matched logo, and how far candies are apart. Output: the wanted face
 * redrawn; the face as it was sent, if they differ; what was done to which line.
 * 1. A line is what an opening by line_most of a least strip leaves out of a candy, but for what stays near
 * the rest of it: corners and tips. An area that is mostly line is one whole. The open field has none; a gap
 * in a part, or between two, can be one.
 * 2. Lines of text that is too small for hands are lines, too, letter by letter, and are left out.
 * 3. The ground of all lines goes to what is nearest.
 * 4. Each line is measured: how long, how wide, along how much of it the two sides are apart without it; and
 * whether it holds together what else there is of its area.
 * 5. What parts two candies that are apart by themselves along most of its length, and is not almost a rope,
 * is an outline, and is left out. So is what is too short to be seen as a line.
 * 6. All else is drawing, and is thickened to what hands can just lay, unless that would run it into another
 * line or take most of an area beside it; then it is left out, or stays if it is a bridge.
 * Invariants: all of a line fares alike; what is no line loses ground only to lines that are thickened. Cost:
 * four distance transforms for each candy, and one in a window about each thickened line. */
#include "plan/plan.h"

#include "plan/lines.h"

#include "base/distance.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* All ours, chosen by eye over the quality set. */
static const double parted_least = 0.6;    /* of its length: an outline */
static const double parted_all = 0.9;      /* of its length: from there on it is missed as little as can be */
static const double almost_rope = 0.35;    /* least strips: as wide as that it is thickened all the same */
static const double dot_most = 1.2;        /* least strips: what is no longer is a dot */
static const double alike_most = 1.6;      /* times as wide: lines of one kind */
static const double alike_out = 0.25;      /* of their length: from there on all of a kind are left out */
static const double speck_most = 0.0015;   /* of the core: as judge has it */
static const double thicker_missed = 0.15; /* of a line that comes out thicker */
static const double bold_missed = 0.2, bold_from = 0.2; /* the same, more, of a bold one; least strips */
static const double line_enough = 0.75;    /* least strips: as thick as that it needs no thickening */
static const double outline_missed = 0.15; /* of a line that parts what is apart without it */

typedef struct Redrawer {
    Lines lines;
    RedrawWay way;
    bool letters_stay; /* those in rows are left as they were sent */
    uint8_t *made;     /* [count] the new face; owned */
    double core;       /* samples */
} Redrawer;

/* --- 5 and 6 --- */

static RedrawnHow wish_for(const Redrawer *r, const Line *line) {
    const RedrawnLine *told = &line->told;
    const bool letter = r->lines.letter[line->area];
    if (letter && (r->letters_stay || line->shortish)) return REDRAWN_KEPT;
    if (line->bridge) return REDRAWN_THICKENED;
    if (line->shortish) return told->limb ? REDRAWN_KEPT : REDRAWN_LEFT_OUT;
    if (told->width >= line_enough * r->lines.least) return REDRAWN_KEPT;
    if (!told->outline || r->way == REDRAW_THICKER) return REDRAWN_THICKENED;
    bool thick = told->width >= almost_rope * r->lines.least;
    return r->way == REDRAW_OUT || !thick ? REDRAWN_LEFT_OUT : REDRAWN_THICKENED;
}

static bool is_rim(const RedrawnLine *line) {
    return line->frame && line->parted < parted_least;
}

/* Where the rim of a sign is left out, a gap beside it is part of what is round the sign. */
static void keep_gaps(Redrawer *r) {
    Lines *l = &r->lines;
    for (size_t i = 0; i < l->count; i++) {
        if (l->label[i] < 0 || l->beside[i] < 0 || l->label[l->beside[i]] < 0) continue;
        RedrawnLine *gap = &l->line[l->label[i]].told;
        const RedrawnLine *rim = &l->line[l->label[l->beside[i]]].told;
        if (gap->candy == l->grid->field && is_rim(rim) && rim->how == REDRAWN_LEFT_OUT)
            gap->how = REDRAWN_KEPT;
    }
}

/* The rim of a sign becomes what is on both its sides. */
static void leave_out(Redrawer *r, int at) {
    const Lines *l = &r->lines;
    const Box *box = &l->line[at].told.box;
    const bool rim = is_rim(&l->line[at].told);
    for (int y = box->y; y < box->y + box->h; y++)
        for (int x = box->x; x < box->x + box->w; x++) {
            size_t s = (size_t)y * (size_t)l->side + (size_t)x;
            if (l->label[s] != at) continue;
            bool side = rim && l->beside[s] >= 0;
            r->made[s] = side ? l->grid->wanted.candy[l->beside[s]] : (uint8_t)ground_candy(l, s);
        }
}

/* Could it be one of several lines of a kind? No limb, no frame, no dot, no letter. */
static bool has_kind(const Redrawer *r, const Line *line) {
    return !line->told.limb && !line->told.frame && line->told.length >= dot_most * r->lines.least &&
           !r->lines.letter[line->area];
}

/* Are the two lines of one kind, of one candy, about as wide? */
static bool are_alike(const Redrawer *r, const Line *a, const Line *b) {
    return has_kind(r, a) && has_kind(r, b) && a->told.candy == b->told.candy &&
           a->told.width < alike_most * b->told.width && b->told.width < alike_most * a->told.width;
}

/* Where too many lines of one kind are left out, all are: five lines of music, dashes. Says if that was so.
 */
static bool fare_alike(Redrawer *r) {
    Lines *l = &r->lines;
    bool any = false;
    for (int i = 0; i < l->lines; i++) {
        double all = 0, out = 0;
        if (l->line[i].told.how != REDRAWN_THICKENED || l->line[i].told.limb) continue;
        for (int k = 0; k < l->lines; k++) {
            const RedrawnLine *other = &l->line[k].told;
            if (!are_alike(r, &l->line[i], &l->line[k])) continue;
            all += other->length;
            if (other->how == REDRAWN_LEFT_OUT) out += other->length;
        }
        if (out <= alike_out * all) continue;
        any = true;
        for (int k = 0; k < l->lines; k++)
            if (are_alike(r, &l->line[i], &l->line[k])) l->line[k].told.how = REDRAWN_LEFT_OUT;
    }
    return any;
}

/* What has no room is left out, but for letters and what holds others together. */
static bool thicken_all(Redrawer *r, Err *err) {
    Lines *l = &r->lines;
    for (int i = 0; i < l->lines; i++) {
        bool drawn;
        if (l->line[i].told.how != REDRAWN_THICKENED) continue;
        if (!thicken(l, i, r->made, &drawn, err)) return false;
        if (drawn) continue;
        bool stays = l->line[i].bridge || l->letter[l->line[i].area];
        l->line[i].told.how = stays ? REDRAWN_KEPT : REDRAWN_LEFT_OUT;
        if (!stays) leave_out(r, i);
    }
    return true;
}

/* Each round more lines are left out, so it ends. */
static bool make_face(Redrawer *r, Err *err) {
    Lines *l = &r->lines;
    for (int i = 0; i < l->lines; i++) {
        RedrawnLine *told = &l->line[i].told;
        told->outline = told->frame || told->parted >= parted_least;
        told->how = wish_for(r, &l->line[i]);
    }
    keep_gaps(r);
    while (true) {
        (void)fare_alike(r);
        memcpy(r->made, l->grid->wanted.candy, l->count);
        for (int i = 0; i < l->lines; i++)
            if (l->line[i].told.how == REDRAWN_LEFT_OUT) leave_out(r, i);
        if (!thicken_all(r, err)) return false;
        if (!fare_alike(r)) return true;
    }
}

/* --- what was done --- */

/* The largest first; of equal ones the first. */
static void tell_line(const RedrawnLine *line, Redrawn *out) {
    int at = out->count;
    while (at > 0 && out->line[at - 1].samples < line->samples) at--;
    if (out->count < REDRAWN_MAX)
        out->count++;
    else
        out->more++;
    if (at == REDRAWN_MAX) return;
    for (int k = out->count - 1; k > at; k--) out->line[k] = out->line[k - 1];
    out->line[at] = *line;
}

/* The rim of a sign may go or come out thicker, and nobody minds; nor of a gap beside it. */
static double missed(const Redrawer *r, const RedrawnLine *line) {
    bool gap = line->candy == r->lines.grid->field;
    if (line->parted < parted_least ? line->frame : gap) return 0;
    if (line->how == REDRAWN_THICKENED) return thicker_missed;
    double wide = line->width / r->lines.least;
    double outline = outline_missed + bold_missed * smooth_step(bold_from, almost_rope + 0.1, wide);
    return 1 - fmin(line->parted / parted_all, 1) * (1 - outline);
}

static void tell(const Redrawer *r, RedrawnLine *line, Redrawn *out) {
    double root = sqrt((double)line->samples);
    line->missed = line->text ? 1 : missed(r, line);
    tell_line(line, out);
    if (line->how == REDRAWN_LEFT_OUT) {
        out->left_out += root;
        out->missed += root * line->missed;
    } else {
        out->thickened += root * line->missed;
    }
}

static void tell_all(const Redrawer *r, Redrawn *out) {
    for (int i = 0; i < r->lines.lines; i++) {
        RedrawnLine *line = &r->lines.line[i].told;
        if (line->how != REDRAWN_KEPT && line->samples >= speck_most * r->core) tell(r, line, out);
    }
}

/* --- 2 --- */

static Box box_of_both(Box a, Box b) {
    int right = a.x + a.w > b.x + b.w ? a.x + a.w : b.x + b.w;
    int low = a.y + a.h > b.y + b.h ? a.y + a.h : b.y + b.h;
    Box both = {a.x < b.x ? a.x : b.x, a.y < b.y ? a.y : b.y, 0, 0};
    both.w = right - both.x;
    both.h = low - both.y;
    return both;
}

/* A line of text is told as one. */
static void tell_text(const Redrawer *r, Redrawn *out) {
    const Lines *l = &r->lines;
    for (int row = 1; row <= l->texts; row++) {
        RedrawnLine whole = {.how = REDRAWN_LEFT_OUT, .text = true};
        for (int i = 0; i < l->lines; i++) {
            const RedrawnLine *letter = &l->line[i].told;
            if (l->text[l->line[i].area] != row) continue;
            if (letter->candy != l->grid->field) whole.candy = letter->candy;
            if (whole.samples == 0) whole.middle = letter->middle;
            whole.box = whole.samples == 0 ? letter->box : box_of_both(whole.box, letter->box);
            whole.samples += letter->samples;
            whole.length += letter->length;
        }
        whole.width = whole.samples / fmax(whole.length, 1);
        tell(r, &whole, out);
    }
}

/* Its ground goes to what is nearest. */
static bool leave_out_text(Redrawer *r, Err *err) {
    Lines *l = &r->lines;
    uint8_t *site = mem_alloc(l->count, 1, err);
    if (!site) return false;
    for (size_t i = 0; i < l->count; i++) site[i] = l->areas.label[i] >= 0 && !l->text[l->areas.label[i]];
    bool done = distance_transform(site, l->side, l->side, NULL, l->nearest, err);
    for (size_t i = 0; done && i < l->count; i++)
        if (l->areas.label[i] >= 0 && !site[i] && l->nearest[i] >= 0)
            r->made[i] = l->grid->wanted.candy[l->nearest[i]];
    free(site);
    return done;
}

/* Finds lines; if some are text, leaves them out of the grid's face, and finds the others anew. */
static bool find_lines(Redrawer *r, Grid *grid, Redrawn *told, Err *err) {
    if (!lines_find(grid, &r->lines, err)) return false;
    told->found = r->lines.lines;
    if (r->lines.texts == 0) return true;
    memcpy(r->made, grid->wanted.candy, r->lines.count);
    if (!leave_out_text(r, err)) return false;
    tell_text(r, told);
    memcpy(grid->wanted.candy, r->made, r->lines.count);
    lines_free(&r->lines);
    return lines_find(grid, &r->lines, err);
}

static bool redraw_face(Grid *grid, RedrawWay way, bool letters_stay, Err *err) {
    if (way == REDRAW_NOTHING) return true;
    const size_t count = (size_t)grid->wanted.side * (size_t)grid->wanted.side;
    Redrawer r = {.way = way, .letters_stay = letters_stay, .core = PI / 4 * (double)count};
    Redrawn told = {.way = way};
    Grid aim = *grid; /* what is left without text */
    aim.wanted.candy = mem_alloc(count, 1, err);
    r.made = aim.wanted.candy ? mem_alloc(count, 1, err) : NULL;
    if (r.made) memcpy(aim.wanted.candy, grid->wanted.candy, count);
    bool done = r.made && find_lines(&r, &aim, &told, err) && make_face(&r, err);
    if (done) {
        tell_all(&r, &told);
        grid->redrawn = told;
    }
    if (done && memcmp(r.made, grid->wanted.candy, count) != 0) {
        grid->sent = grid->wanted;
        grid->wanted.candy = r.made;
        r.made = NULL;
    }
    free(r.made);
    free(aim.wanted.candy);
    lines_free(&r.lines);
    return done;
}

bool redraw(Grid *grid, RedrawWay way, Err *err) {
    return redraw_face(grid, way, false, err);
}

bool redraw_but_letters(Grid *grid, RedrawWay way, Err *err) {
    return redraw_face(grid, way, true, err);
}
