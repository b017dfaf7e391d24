/* The moves of the search. SPDX-License-Identifier: MIT */
#include "plan/slant.h"

#include <math.h>
#include <string.h>

bool settle(Tree *t, int at, bool laid) {
    bool gains = laid && !t->broken && t->twig[at].sum < t->trial.save[0].twig.sum;
    if (gains)
        trial_keep(t);
    else
        trial_undo(t);
    return gains;
}

static void trial_of(Tree *t, int at) {
    trial_start(t);
    twig_save(t, at);
}

/* a. Slides one end of the cut so far, or the other, or both the same way, or both round. */
static bool try_slide(Tree *t, int at, int which, double by) {
    trial_of(t, at);
    Twig *twig = &t->twig[at];
    const Outline outline = twig->outline;
    Outline inside;
    OutlinePlace a = twig->end[0], b = twig->end[1];
    if (!twig_inside(t, twig, &outline, &inside)) return settle(t, at, false);
    if (which != 1) a = place_moved(&inside, a, by);
    if (which != 0) b = place_moved(&inside, b, which == 2 ? -by : by);
    twig->line[0] = a.at;
    twig->line[1] = b.at;
    twig->changed = true;
    return settle(t, at, a.side != b.side && twig_lay(t, at, &outline));
}

static void slide(Tree *t, int at) {
    static const double by[] = {0.5, -0.5, 1, -1, 2, -2, 4, -4};
    for (int which = 0; which < 4; which++)
        for (int i = 0; i < 8; i++)
            while (try_slide(t, at, which, by[i])) continue;
}

/* b. Takes the cut away: what is on one side of it grows over the other. */
static bool try_merge(Tree *t, int at, int kept) {
    trial_of(t, at);
    const Outline outline = t->twig[at].outline;
    twig_become(t, at, kept);
    return settle(t, at, twig_lay(t, at, &outline));
}

/* c, d. */
static bool try_anew(Tree *t, int at) {
    trial_of(t, at);
    return settle(t, at, twig_part(t, at, t->anew_deep));
}

void try_moves(Tree *t, int at) {
    const Twig *twig = &t->twig[at];
    if (twig->first >= 0) {
        bool leaves = t->twig[twig->first].first < 0 && t->twig[twig->second].first < 0;
        slide(t, at);
        if (!try_merge(t, at, twig->first) && !leaves) (void)try_merge(t, at, twig->second);
    }
    if (!twig->empty && twig->ropes > 0 && twig->ropes <= t->anew_most) (void)try_anew(t, at);
    if (t->wrapping) try_wraps(t, at);
}

/* --- e. inside out --- */

/* The leaf on one side of the twig's cut cannot be laid, at the rim mostly, where little is left of it: it
 * can if the cut gives it a step or two, no more than a least strip. To drop it may take all of the picture
 * with it: what is on the other side grows, and a fine block must not. */
static bool mend_beside(Tree *t, int at, const Outline *outline, const Outline *inside,
                        bool first) { /* NOLINT(misc-no-recursion) */
    const Point a = t->twig[at].line[0], b = t->twig[at].line[1];
    const double across = b.x - a.x, down = b.y - a.y, length = sqrt(across * across + down * down);
    const int one = t->twig[at].first, other = t->twig[at].second;
    for (int by = 1; by <= t->grid->least_steps; by++)
        for (int way = -1; way <= 1; way += 2) {
            OutlinePlace end[2];
            Outline before, after;
            const Point shift = {-down / length * way * by, across / length * way * by};
            const Point line[2] = {{a.x + shift.x, a.y + shift.y}, {b.x + shift.x, b.y + shift.y}};
            if (!line_places(t, inside, line, end) || !outline_cut(inside, end[0], end[1], &before, &after))
                continue;
            const Outline *wider = first ? &before : &after;
            if (outline_area(wider) <= outline_area(&t->twig[first ? one : other].outline)) continue;
            t->twig[at].line[0] = line[0];
            t->twig[at].line[1] = line[1];
            if (twig_mend(t, one, &before) && twig_mend(t, other, &after) && twig_lay(t, at, outline))
                return true;
        }
    t->twig[at].line[0] = a;
    t->twig[at].line[1] = b;
    return false;
}

/* A leaf that cannot be laid with its sheets and what is round in it is laid without. */
static bool mend_leaf(Tree *t, int at, const Outline *outline) {
    Twig *twig = &t->twig[at];
    if (twig_lay(t, at, outline)) return true;
    if (twig->sheets == 0 && twig->round.disc.r == 0) return false;
    twig->sheets = 0;
    twig->round = (RoundPart){.sheets = 0};
    twig->changed = true;
    return twig_lay(t, at, outline);
}

/* Depth: each time round the tree has a cut less. */
bool twig_mend(Tree *t, int at, const Outline *outline) { /* NOLINT(misc-no-recursion) */
    OutlinePlace end[2];
    Outline before, after, inside;
    if (t->twig[at].held && !outline_same(&t->twig[at].outline, outline, 0)) return false;
    twig_save(t, at);
    t->twig[at].changed = true;
    const int first = t->twig[at].first, second = t->twig[at].second;
    if (first < 0) return mend_leaf(t, at, outline);
    if (!twig_inside(t, &t->twig[at], outline, &inside)) {
        t->twig[at].sheets = 0;
        inside = *outline;
    }
    if (!line_places(t, &inside, t->twig[at].line, end) ||
        !outline_cut(&inside, end[0], end[1], &before, &after))
        return false;
    bool one = twig_mend(t, first, &before), other = twig_mend(t, second, &after);
    if (one && other && twig_lay(t, at, outline)) return true;
    if (one != other) {
        bool leaf = t->twig[one ? second : first].first < 0;
        if (leaf && t->beside && t->move == 0 && mend_beside(t, at, outline, &inside, !one)) return true;
        twig_become(t, at, one ? first : second);
        return twig_mend(t, at, outline);
    }
    t->twig[at].outline = *outline;
    return twig_part(t, at, t->anew_deep - 1);
}

/* Sheets are copied with all that they hold. */
int copy_within(Tree *t, int from, int parent, const Outline *o, bool rough) { /* NOLINT(misc-no-recursion) */
    OutlinePlace end[2];
    Outline before, after, inside = *o;
    while (t->twig[from].first >= 0 && !line_meets(o, t->twig[from].line, end))
        from = lies_first(o, t->twig[from].line) ? t->twig[from].first : t->twig[from].second;
    const Twig twig = t->twig[from];
    int at = twig.held ? -1 : twig_new(t, parent);
    if (at < 0) return -1;
    t->twig[at].outline = *o;
    t->twig[at].fine = twig.fine;
    if (twig.sheets > 0 && outline_same(o, &twig.outline, 1e-9) && twig_inside(t, &twig, o, &inside)) {
        t->twig[at].sheets = twig.sheets;
        memcpy(t->twig[at].sheet, twig.sheet, sizeof twig.sheet);
        if (twig.first >= 0 && !line_meets(&inside, twig.line, end)) return rough ? at : -1;
    }
    if (twig.first < 0) {
        if (twig.round.disc.r > 0 && round_fits(t, &twig, &inside)) t->twig[at].round = twig.round;
        return at;
    }
    if (!level_end(t, &inside, end) || !outline_cut(&inside, end[0], end[1], &before, &after))
        return rough ? at : -1;
    int first = copy_within(t, twig.first, at, &before, rough);
    int second = first < 0 ? -1 : copy_within(t, twig.second, at, &after, rough);
    if (second < 0) return -1;
    twig_set_cut(t, at, twig.line, first, second);
    return at;
}

static bool turn_inside_out(Tree *t, int at, int inner) {
    const Twig old = t->twig[at];
    t->twig[at].held = false; /* its outline stays */
    const Point line[2] = {t->twig[inner].end[0].at, t->twig[inner].end[1].at};
    OutlinePlace end[2];
    Outline before, after, inside;
    if (!twig_inside(t, &old, &old.outline, &inside) || !line_places(t, &inside, line, end) ||
        !outline_cut(&inside, end[0], end[1], &before, &after))
        return false;
    int first = copy_within(t, at, at, &before, false),
        second = first < 0 ? -1 : copy_within(t, at, at, &after, false);
    if (second < 0) return false;
    twig_drop(t, old.first);
    twig_drop(t, old.second);
    twig_set_cut(t, at, line, first, second);
    t->twig[at].held = old.held;
    return twig_mend(t, at, &old.outline);
}

bool try_inside_out(Tree *t, int at, int inner) {
    trial_of(t, at);
    bool laid = t->twig[inner].fine == t->twig[at].fine && turn_inside_out(t, at, inner) && !t->broken;
    if (laid)
        trial_keep(t);
    else
        trial_undo(t);
    return laid;
}
