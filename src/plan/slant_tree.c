/* The tree that is searched: how it is laid again, kept, taken back. SPDX-License-Identifier: MIT */
#include "plan/slant.h"

#include "plan/slicing.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* --- what was --- */

static void journal_start(Journal *j, const Tree *t) {
    j->number++;
    j->count = 0;
    j->spare = t->spare;
    j->twigs = t->twigs;
}

static void journal_undo(Journal *j, Tree *t) {
    while (j->count > 0) {
        const struct SavedTwig *s = &j->save[--j->count];
        t->twig[s->index] = s->twig;
    }
    t->spare = j->spare;
    t->twigs = j->twigs;
}

void trial_start(Tree *t) {
    journal_start(&t->trial, t);
    t->broken = false;
}

void twig_save(Tree *t, int at) {
    Twig *twig = &t->twig[at];
    if (twig->saved == t->trial.number) return;
    t->trial.save[t->trial.count++] = (struct SavedTwig){at, *twig};
    twig->saved = t->trial.number;
}

void trial_undo(Tree *t) {
    journal_undo(&t->trial, t);
}

void trial_keep(Tree *t) {
    const Twig old = t->trial.save[0].twig, now = t->twig[t->trial.save[0].index];
    t->move++;
    for (int i = 0; i < t->trial.count; i++) {
        const struct SavedTwig *s = &t->trial.save[i];
        t->twig[s->index].stirred = t->move;
    }
    for (int up = now.parent; up >= 0; up = t->twig[up].parent) {
        Twig *twig = &t->twig[up];
        twig->sum += now.sum - old.sum;
        twig->cost += now.cost - old.cost;
        twig->ropes += now.ropes - old.ropes;
        twig->stirred = t->move;
    }
}

/* --- changing it --- */

int twig_new(Tree *t, int parent) {
    int at = t->spare >= 0 ? t->spare : t->twigs;
    if (at == t->room) return -1;
    if (at < t->twigs) {
        t->spare = t->twig[at].parent;
    } else {
        t->twig[t->twigs++] = (Twig){.spare = true, .parent = -1};
    }
    twig_save(t, at);
    Twig twig = {.parent = parent, .first = -1, .second = -1, .changed = true, .saved = t->trial.number};
    twig.fine = parent >= 0 && t->twig[parent].fine;
    twig.copied = parent >= 0 ? t->twig[parent].copied : -1;
    twig.copy = -1;
    t->twig[at] = twig;
    return at;
}

void twig_drop(Tree *t, int at) { /* NOLINT(misc-no-recursion) */
    if (t->twig[at].first >= 0) {
        twig_drop(t, t->twig[at].first);
        twig_drop(t, t->twig[at].second);
    }
    twig_save(t, at);
    t->broken |= t->twig[at].held;
    t->twig[at].spare = true;
    t->twig[at].first = -1;
    t->twig[at].parent = t->spare;
    t->spare = at;
}

void twig_set_cut(Tree *t, int at, const Point line[2], int first, int second) {
    Twig *twig = &t->twig[at];
    twig->line[0] = line[0];
    twig->line[1] = line[1];
    twig->first = first;
    twig->second = second;
    twig->round = (RoundPart){.sheets = 0};
    twig->changed = true;
    twig_save(t, first);
    twig_save(t, second);
    t->twig[first].parent = t->twig[second].parent = at;
}

void twig_become(Tree *t, int at, int other) {
    Twig *twig = &t->twig[at];
    const Twig from = t->twig[other];
    twig_drop(t, twig->first == other ? twig->second : twig->first);
    twig_save(t, other);
    t->twig[other].first = -1; /* what is below it stays */
    twig_drop(t, other);
    twig->first = twig->second = -1;
    twig->changed = true;
    twig->round = from.round;
    for (int i = 0; i < from.sheets && twig->sheets < SHEETS_MAX; i++)
        twig->sheet[twig->sheets++] = from.sheet[i];
    if (from.first >= 0) twig_set_cut(t, at, from.line, from.first, from.second);
}

/* --- laying --- */

static bool same_corners(const Outline *a, const Outline *b) {
    if (a->corners != b->corners) return false;
    for (int i = 0; i < a->corners; i++)
        if (a->corner[i].x != b->corner[i].x || a->corner[i].y != b->corner[i].y) return false;
    return true;
}

/* Does it lie outside the core? Touching it counts as outside. */
static bool is_outside(const Outline *o, Circle core) {
    for (int i = 0; i < o->corners; i++) {
        double x = o->corner[i].x - core.x, y = o->corner[i].y - core.y;
        if (x * x + y * y < core.r * core.r) return false;
    }
    return outline_disc_area(o, core) <= 1e-9;
}

static bool is_fine_block(const Tree *t, const Twig *twig) {
    return twig->fine && (twig->parent < 0 || !t->twig[twig->parent].fine);
}

bool leaf_is_fine(const Tree *t, const Twig *leaf) {
    if (leaf->sheets > 0 || leaf->round.disc.r > 0) return leaf->fine;
    return leaf->fine && !(is_fine_block(t, leaf) && can_be_rope(t, &leaf->outline, false));
}

/* What building the twig costs beside what is in it. */
static int64_t block_price(const Tree *t, const Twig *twig) {
    bool block = is_fine_block(t, twig) && (twig->first >= 0 || leaf_is_fine(t, twig));
    return block && twig->ropes > 0 ? (int64_t)FINE_ROPES * t->lambda : 0;
}

/* `inside`: its outline, less its sheets. */
static bool lay_leaf(Tree *t, Twig *leaf, const Outline *inside) {
    Costs costs = {{{0}}};
    const int copies = leaf->copied >= 0 ? t->equal[leaf->copied].copies : 0;
    double worth = 1;
    leaf->empty = leaf->copy >= 0 || is_outside(inside, t->grid->core);
    leaf->sum = leaf->cost = leaf->ropes = 0;
    if (leaf->empty) return leaf->sheets == 0 && leaf->round.disc.r == 0;
    if (!can_be_rope(t, inside, leaf->fine)) return false;
    if (leaf->round.disc.r > 0 && !round_fits(t, leaf, inside)) return false;
    add_all_costs(t, leaf, inside, &costs);
    if (leaf->round.disc.r > 0)
        worth += lay_round(t, leaf, &costs);
    else
        leaf->candy = cheapest_candy(&t->table, &costs, &leaf->cost);
    leaf->sum = leaf->cost + (int64_t)(worth * ropes_worth(t, leaf) * t->lambda);
    leaf->ropes = (t->axis == AXIS_NONE || axis_side(t, inside) >= 0 ? 1 : 2) * (1 + copies);
    leaf->sum += block_price(t, leaf);
    return true;
}

/* A fine block is no larger than what can be drawn down. */
static bool fits_fine(const Tree *t, const Outline *o) {
    const Outline whole = axis_side(t, o) >= 0 ? outline_mirrored(t, o, o) : *o;
    Point low = whole.corner[0], high = low;
    for (int i = 1; i < whole.corners; i++) {
        low = (Point){fmin(low.x, whole.corner[i].x), fmin(low.y, whole.corner[i].y)};
        high = (Point){fmax(high.x, whole.corner[i].x), fmax(high.y, whole.corner[i].y)};
    }
    double most = t->grid->fine_most + 1e-9;
    return high.x - low.x <= most && high.y - low.y <= most;
}

static bool lay_cut(Tree *t, int at, const Outline *inside) { /* NOLINT(misc-no-recursion) */
    Twig *twig = &t->twig[at];
    Outline before, after;
    if (!line_places(t, inside, twig->line, twig->end) ||
        !outline_cut(inside, twig->end[0], twig->end[1], &before, &after) ||
        !twig_lay(t, twig->first, &before) || !twig_lay(t, twig->second, &after))
        return false;
    const Twig *first = &t->twig[twig->first], *second = &t->twig[twig->second];
    twig->sum = first->sum + second->sum;
    twig->cost = first->cost + second->cost;
    twig->ropes = first->ropes + second->ropes;
    twig->sum += block_price(t, twig);
    return true;
}

bool twig_lay(Tree *t, int at, const Outline *outline) { /* NOLINT(misc-no-recursion) */
    Twig *twig = &t->twig[at];
    Outline skin[SHEETS_MAX + 1];
    bool same = same_corners(&twig->outline, outline);
    if (!twig->changed && same) return true;
    if (twig->held && !same) return false;
    twig_save(t, at);
    twig->outline = *outline;
    twig->changed = false;
    if (t->axis != AXIS_NONE && outline->corners > OUTLINE_MAX / 2) return false;
    if (is_fine_block(t, twig) && !fits_fine(t, outline) && (twig->first >= 0 || leaf_is_fine(t, twig)))
        return false;
    if (!twig_skins(t, twig, outline, skin)) return false;
    const Outline *inside = &skin[twig->sheets];
    if (twig->first < 0 ? !lay_leaf(t, twig, inside) : !lay_cut(t, at, inside)) return false;
    add_sheets(t, twig, skin);
    return true;
}
