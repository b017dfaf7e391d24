/* Sheets round a twig, and what is round in a leaf. SPDX-License-Identifier: MIT */
#include "plan/slant.h"

#include <math.h>

/* What a copy of a rope is worth against the rope itself: it is laid, but comes from the same block; ours. */
static const double copy_price = 0.15;

double ropes_worth(const Tree *t, const Twig *twig) {
    double copies = twig->copied >= 0 ? t->equal[twig->copied].copies : 0;
    if (t->axis == AXIS_NONE || axis_side(t, &twig->outline) >= 0) return 1 + copies * copy_price;
    bool alone = twig->parent >= 0 && axis_side(t, &t->twig[twig->parent].outline) >= 0;
    return alone ? 2 : 1 + (1 + 2 * copies) * copy_price;
}

void add_all_costs(const Tree *t, const Twig *twig, const Outline *o, Costs *sum) {
    const EqualBlock *equal = twig->copied >= 0 ? &t->equal[twig->copied] : NULL;
    add_outline_costs(&t->table, o, sum);
    for (int i = 0; equal && i < equal->copies; i++) {
        Outline moved = outline_moved(o, t->copy[equal->first + i].motion);
        add_outline_costs(&t->table, &moved, sum);
    }
}

static void add_all_disc_costs(const Tree *t, const Twig *twig, Circle disc, Costs *sum) {
    const EqualBlock *equal = twig->copied >= 0 ? &t->equal[twig->copied] : NULL;
    add_disc_costs(&t->table, disc, sum);
    for (int i = 0; equal && i < equal->copies; i++) {
        Point moved = point_moved((Point){disc.x, disc.y}, t->copy[equal->first + i].motion);
        add_disc_costs(&t->table, (Circle){moved.x, moved.y, disc.r}, sum);
    }
}

/* The cheapest candy of what lies in `outer` and not in `inner`. */
static uint8_t cheapest_between(const Tree *t, const Costs *outer, const Costs *inner, int32_t *cost) {
    Costs between;
    for (int g = 0; g < t->table.groups; g++) between.group[g] = outer->group[g] - inner->group[g];
    return (uint8_t)cheapest_candy(&t->table, &between, cost);
}

/* --- sheets --- */

double twig_least_sheet(const Tree *t, const Twig *twig) {
    return twig->fine ? least_sheet(t->key) / 2 : least_sheet(t->key);
}

static bool is_inside_core(const Outline *o, Circle core) {
    for (int i = 0; i < o->corners; i++) {
        double x = o->corner[i].x - core.x, y = o->corner[i].y - core.y;
        if (x * x + y * y > core.r * core.r) return false;
    }
    return true;
}

bool twig_skins(const Tree *t, const Twig *twig, const Outline *outline, Outline skin[SHEETS_MAX + 1]) {
    skin[0] = *outline;
    if (twig->sheets == 0) return true;
    const int axis = axis_side(t, outline);
    const Outline whole = axis >= 0 ? outline_mirrored(t, outline, outline) : *outline;
    if (!outline_can_be_wrapped(&whole) || !is_inside_core(&whole, t->grid->core)) return false;
    for (int i = 0; i < twig->sheets; i++) {
        double thick = twig->sheet[i].halves / 2.0;
        if (thick < twig_least_sheet(t, twig) - 1e-9 || !outline_inset(&skin[i], thick, axis, &skin[i + 1]))
            return false;
    }
    return true;
}

bool twig_inside(const Tree *t, const Twig *twig, const Outline *outline, Outline *inside) {
    Outline skin[SHEETS_MAX + 1];
    if (!twig_skins(t, twig, outline, skin)) return false;
    *inside = skin[twig->sheets];
    return true;
}

void add_sheets(const Tree *t, Twig *twig, const Outline skin[SHEETS_MAX + 1]) {
    Costs costs[SHEETS_MAX + 1] = {0};
    if (twig->sheets == 0) return;
    add_all_costs(t, twig, &skin[0], &costs[0]);
    for (int i = 0; i < twig->sheets; i++) {
        int32_t cost;
        add_all_costs(t, twig, &skin[i + 1], &costs[i + 1]);
        twig->sheet[i].candy = cheapest_between(t, &costs[i], &costs[i + 1], &cost);
        twig->cost += cost;
        twig->sum += cost;
    }
    twig->sum += (int64_t)(twig->sheets * sheet_price * ropes_worth(t, twig) * t->lambda);
}

/* --- what is round --- */

/* Is there so much about the disc, but for what lies beyond the axis? */
static bool holds_disc(const Outline *o, int axis, Circle disc, double about) {
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = outline_next(o, i);
        double dx = b.x - a.x, dy = b.y - a.y, off = dx * (disc.y - a.y) - dy * (disc.x - a.x);
        if (i != axis && off < (disc.r + about) * sqrt(dx * dx + dy * dy) - 1e-9) return false;
    }
    return true;
}

bool round_fits(const Tree *t, const Twig *leaf, const Outline *inside) {
    const RoundPart *round = &leaf->round;
    const Circle core = t->grid->core;
    const int axis = axis_side(t, inside);
    double least = leaf->fine ? t->fine_least : t->least, rope = round->disc.r;
    double x = round->disc.x - core.x, y = round->disc.y - core.y;
    for (int i = 0; i < round->sheets; i++) {
        double thick = round->sheet[i].halves / 2.0;
        if (thick < twig_least_sheet(t, leaf) - 1e-9) return false;
        rope -= thick;
    }
    if (2 * rope < least - 1e-9 || sqrt(x * x + y * y) + round->disc.r > core.r) return false;
    if (axis >= 0 && !is_on_axis(t, (Point){round->disc.x, round->disc.y})) return false;
    return holds_disc(inside, axis, round->disc, rest_least * least);
}

double lay_round(const Tree *t, Twig *leaf, const Costs *costs) {
    RoundPart *round = &leaf->round;
    Circle disc = round->disc;
    Costs outer = *costs, inner = {0};
    int32_t cost;
    add_all_disc_costs(t, leaf, disc, &inner);
    leaf->candy = cheapest_between(t, &outer, &inner, &leaf->cost);
    for (int i = 0; i < round->sheets; i++) {
        outer = inner;
        inner = (Costs){0};
        disc.r -= round->sheet[i].halves / 2.0;
        add_all_disc_costs(t, leaf, disc, &inner);
        round->sheet[i].candy = cheapest_between(t, &outer, &inner, &cost);
        leaf->cost += cost;
    }
    round->candy = (uint8_t)cheapest_candy(&t->table, &inner, &cost);
    leaf->cost += cost;
    return round_price + sheet_price * round->sheets;
}
