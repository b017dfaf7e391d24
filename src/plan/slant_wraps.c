/* Moves with sheets and with what is round. SPDX-License-Identifier: MIT
 *
 * 1. f. A twig is wrapped in a sheet, of the least thickness or twice that, and what is inside it laid again
 * or parted anew; sheets become thicker and thinner, and go.
 * 2. g. A disc that is wanted goes into the leaf that holds it, becomes larger, smaller, shifts by half
 * steps, goes. How it is laid, as a rope or as one in one or two sheets, is the best of all ways with radii
 * of half steps.
 * 3. Wishes: a closed outline or a disc is cut out of a block, side by side; the rest of what was there stays
 * on the other sides of these cuts, and inside. */
#include "plan/slant.h"

#include <math.h>
#include <string.h>

enum { RADII_MAX = STEPS_MAX + 1 };

static void trial_of(Tree *t, int at) {
    trial_start(t);
    twig_save(t, at);
}

/* --- 1. sheets --- */

/* What a ring costs in its cheapest candy, and in the next one. */
typedef struct Ringed {
    int candy;
    int32_t cost, next;
} Ringed;

static Ringed ring_between(const Tree *t, const Twig *twig, const Outline *outer, const Outline *inner) {
    Costs whole = {{{0}}}, hole = {{{0}}}, ring;
    Ringed out = {.next = INT32_MAX};
    add_all_costs(t, twig, outer, &whole);
    add_all_costs(t, twig, inner, &hole);
    for (int g = 0; g < t->table.groups; g++) ring.group[g] = whole.group[g] - hole.group[g];
    out.candy = cheapest_candy(&t->table, &ring, &out.cost);
    for (int k = 0; k < t->table.candies; k++) {
        int32_t cost = ring.group[k / SIDE_BY_SIDE][k % SIDE_BY_SIDE];
        if (k != out.candy && cost < out.next) out.next = cost;
    }
    return out;
}

/* Is a ring so thick, all round inside the outline, mostly of one candy, and could it pay? */
static bool may_be_sheet(const Tree *t, const Twig *twig, const Outline *outline, double thick) {
    const int axis = axis_side(t, outline);
    Outline inner;
    if (!outline_inset(outline, thick, axis, &inner)) return false;
    Ringed ring = ring_between(t, twig, outline, &inner);
    return 4 * (int64_t)ring.cost <= ring.next &&
           ring.cost + (int64_t)((1 + sheet_price) * t->lambda) < twig->sum;
}

/* The twig gets those sheets; `anew`: what is inside is parted anew. */
static bool try_sheets(Tree *t, int at, int sheets, const Sheet sheet[SHEETS_MAX], bool anew) {
    trial_of(t, at);
    const Outline outline = t->twig[at].outline;
    t->twig[at].sheets = sheets;
    memcpy(t->twig[at].sheet, sheet, sizeof t->twig[at].sheet);
    t->twig[at].changed = true;
    return settle(t, at, anew ? twig_part(t, at, t->anew_deep) : twig_mend(t, at, &outline));
}

/* One more sheet, outside those it has or inside them. */
static void try_one_more(Tree *t, int at, bool outside) {
    const int least = (int)lround(2 * twig_least_sheet(t, &t->twig[at]));
    for (int halves = least; halves <= 2 * least; halves += least) {
        const Twig twig = t->twig[at];
        const Sheet more = {.halves = (uint8_t)halves}, has = twig.sheet[0];
        const Sheet sheet[SHEETS_MAX] = {outside ? more : has, outside ? has : more};
        Outline skin[SHEETS_MAX + 1];
        if (twig.sheets == SHEETS_MAX || !twig_skins(t, &twig, &twig.outline, skin) ||
            !may_be_sheet(t, &twig, outside ? &skin[0] : &skin[twig.sheets], halves / 2.0))
            return;
        if (try_sheets(t, at, twig.sheets + 1, sheet, false)) continue;
        if (twig.first >= 0 && twig.ropes <= t->anew_most)
            (void)try_sheets(t, at, twig.sheets + 1, sheet, true);
    }
}

static void change_sheets(Tree *t, int at) {
    static const int by[] = {1, -1, 2, -2};
    for (int which = 0; which < t->twig[at].sheets; which++)
        for (int i = 0; i < 4; i++)
            for (bool gains = true; gains;) {
                Sheet sheet[SHEETS_MAX];
                memcpy(sheet, t->twig[at].sheet, sizeof sheet);
                int halves = sheet[which].halves + by[i];
                if (halves < 1 || halves > UINT8_MAX) break;
                sheet[which].halves = (uint8_t)halves;
                gains = try_sheets(t, at, t->twig[at].sheets, sheet, false);
            }
    for (int which = t->twig[at].sheets - 1; which >= 0; which--) {
        const Sheet left[SHEETS_MAX] = {t->twig[at].sheet[1 - which]};
        (void)try_sheets(t, at, t->twig[at].sheets - 1, left, false);
    }
}

/* --- 2. what is round --- */

/* The costs of discs about one middle, whose radii are half steps. */
typedef struct Rings {
    int radii;
    Costs disc[RADII_MAX]; /* [r] of radius r / 2 */
} Rings;

static int32_t cost_between(const Tree *t, const Rings *rings, int outer, int inner) {
    Costs ring;
    int32_t cost;
    for (int g = 0; g < t->table.groups; g++)
        ring.group[g] = rings->disc[outer].group[g] - rings->disc[inner].group[g];
    (void)cheapest_candy(&t->table, &ring, &cost);
    return cost;
}

/* As a rope, in up to two sheets: the best of all ways. Costs of copies count as the first one's do. */
static RoundPart best_round(const Tree *t, const Twig *leaf, Circle disc) {
    Rings rings = {.radii = (int)lround(2 * disc.r)};
    RoundPart best = {.disc = disc};
    const int sheet = (int)lround(2 * twig_least_sheet(t, leaf));
    const int rope = (int)ceil(leaf->fine ? t->fine_least : t->least), price = (int)(sheet_price * t->lambda);
    for (int r = 1; r <= rings.radii; r++) {
        rings.disc[r] = (Costs){{{0}}};
        add_disc_costs(&t->table, (Circle){disc.x, disc.y, r / 2.0}, &rings.disc[r]);
    }
    rings.disc[0] = (Costs){{{0}}};
    int32_t least = cost_between(t, &rings, rings.radii, 0);
    for (int r = rings.radii - sheet; r >= rope; r--) {
        const int32_t outer = cost_between(t, &rings, rings.radii, r) + price;
        const int32_t one = outer + cost_between(t, &rings, r, 0);
        if (one < least) {
            least = one;
            best.sheets = 1;
            best.sheet[0].halves = (uint8_t)(rings.radii - r);
        }
        for (int s = r - sheet; s >= rope && outer + price < least; s--) {
            const int32_t two = outer + price + cost_between(t, &rings, r, s) + cost_between(t, &rings, s, 0);
            if (two >= least) continue;
            least = two;
            best.sheets = 2;
            best.sheet[0].halves = (uint8_t)(rings.radii - r);
            best.sheet[1].halves = (uint8_t)(r - s);
        }
    }
    return best;
}

/* Made smaller where it then reached beyond the core. */
static Circle at_half_steps(const Tree *t, Circle disc) {
    const Circle core = t->grid->core;
    Circle c = {rint(2 * disc.x) / 2, rint(2 * disc.y) / 2, fmax(rint(2 * disc.r) / 2, t->least / 2)};
    if (t->axis == AXIS_UPRIGHT && fabs(disc.x - t->half) <= 0.5) c.x = t->half;
    if (t->axis == AXIS_LEVEL && fabs(disc.y - t->half) <= 0.5) c.y = t->half;
    double far = sqrt((c.x - core.x) * (c.x - core.x) + (c.y - core.y) * (c.y - core.y));
    while (far + c.r > core.r && c.r > t->least / 2) c.r -= 0.5;
    return c;
}

static bool try_round(Tree *t, int at, const RoundPart *round) {
    trial_of(t, at);
    const Outline outline = t->twig[at].outline;
    t->twig[at].round = *round;
    t->twig[at].changed = true;
    return settle(t, at, twig_lay(t, at, &outline));
}

static bool try_disc(Tree *t, int at, Circle disc) {
    Twig leaf = t->twig[at];
    Outline inside;
    leaf.round = (RoundPart){.disc = disc};
    if (!twig_inside(t, &leaf, &leaf.outline, &inside) || !round_fits(t, &leaf, &inside)) return false;
    leaf.round = best_round(t, &leaf, disc);
    return try_round(t, at, &leaf.round);
}

static void put_discs(Tree *t, int at) {
    for (int i = 0; i < t->wishes->discs && t->twig[at].round.disc.r == 0; i++)
        (void)try_disc(t, at, at_half_steps(t, t->wishes->disc[i]));
}

static void change_round(Tree *t, int at) {
    static const Circle by[] = {{0.5, 0, 0},  {-0.5, 0, 0}, {0, 0.5, 0},
                                {0, -0.5, 0}, {0, 0, 0.5},  {0, 0, -0.5}};
    const RoundPart none = {.sheets = 0};
    for (int i = 0; i < 6; i++)
        for (bool gains = true; gains;) {
            Circle c = t->twig[at].round.disc;
            gains = try_disc(t, at, (Circle){c.x + by[i].x, c.y + by[i].y, c.r + by[i].r});
        }
    (void)try_round(t, at, &none);
}

void try_wraps(Tree *t, int at) {
    if (t->twig[at].empty || t->twig[at].ropes == 0) return;
    if (t->twig[at].sheets > 0) change_sheets(t, at);
    try_one_more(t, at, true);
    if (t->twig[at].sheets == 1) try_one_more(t, at, false);
    if (t->twig[at].first >= 0) return;
    if (t->twig[at].round.disc.r > 0)
        change_round(t, at);
    else
        put_discs(t, at);
}

/* --- 3. wishes --- */

/* How far the outline reaches beyond the line, to the left of the way along it. */
static double beyond(const Outline *o, const Point line[2]) {
    double dx = line[1].x - line[0].x, dy = line[1].y - line[0].y, most = 0;
    for (int i = 0; i < o->corners; i++)
        most = fmax(most, dy * (o->corner[i].x - line[0].x) - dx * (o->corner[i].y - line[0].y));
    return most / sqrt(dx * dx + dy * dy);
}

/* What is to be in the middle, on a twig that has its outline; inside the sheets that it has. False if those
 * are too many. */
static bool fill_middle(Tree *t, int at, const Peel *peel) {
    Twig *twig = &t->twig[at];
    if (twig->sheets + peel->sheets > SHEETS_MAX || (peel->round.disc.r > 0 && twig->first >= 0))
        return false;
    memcpy(twig->sheet + twig->sheets, peel->sheet, (size_t)peel->sheets * sizeof *peel->sheet);
    twig->sheets += peel->sheets;
    if (peel->round.disc.r > 0) twig->round = peel->round;
    twig->changed = true;
    return true;
}

static int peel_middle(Tree *t, int from, int parent, const Outline *o, const Peel *peel) {
    int at = peel->bare ? twig_new(t, parent) : copy_within(t, from, parent, o, true);
    if (at < 0) return -1;
    t->twig[at].outline = *o;
    t->twig[at].fine = t->twig[from].fine;
    return fill_middle(t, at, peel) ? at : -1;
}

/* The next side that something of the outline lies beyond, from that one on; false if there is none. */
static bool next_side(const Tree *t, const Outline *o, const Peel *peel, int *done, Point line[2]) {
    const int sides = peel->outline->corners;
    const double slim = peel->round.disc.r > 0 ? t->key->taper_least * t->least : 0.25;
    for (; *done < sides; (*done)++) {
        int side = (peel->first + (peel->back ? sides - *done : *done)) % sides;
        line[0] = peel->outline->corner[side];
        line[1] = outline_next(peel->outline, side);
        if (is_on_axis(t, line[0]) && is_on_axis(t, line[1])) continue;
        if (beyond(o, line) > slim) return true;
    }
    return false;
}

/* The outline cut along the sides of the wish that are not done; -1 if that cannot be. */
static int peel_within(Tree *t, int from, int parent, const Outline *o, /* NOLINT(misc-no-recursion) */
                       const Peel *peel, int done) {
    Point line[2];
    OutlinePlace end[2];
    Outline before, after;
    if (!next_side(t, o, peel, &done, line)) return peel_middle(t, from, parent, o, peel);
    if (!line_places(t, o, line, end) || !outline_cut(o, end[0], end[1], &before, &after)) return -1;
    int at = twig_new(t, parent);
    if (at < 0) return -1;
    t->twig[at].outline = *o;
    int first = peel_within(t, from, at, &before, peel, done + 1);
    int second = first < 0 ? -1 : copy_within(t, from, at, &after, true);
    if (second < 0) return -1;
    twig_set_cut(t, at, line, first, second);
    return at;
}

static void drop_inside(Tree *t, const Twig *old) {
    if (old->first < 0) return;
    twig_drop(t, old->first);
    twig_drop(t, old->second);
}

static bool peel_block(Tree *t, int at, const Peel *peel) {
    const Twig old = t->twig[at];
    Outline inside, before, after;
    OutlinePlace end[2];
    Point line[2];
    int done = 0;
    if (!twig_inside(t, &old, &old.outline, &inside)) return false;
    t->twig[at].held = false; /* its outline stays */
    if (!next_side(t, &inside, peel, &done, line)) {
        if (peel->bare) {
            drop_inside(t, &old);
            t->twig[at].first = t->twig[at].second = -1;
        }
        if (!fill_middle(t, at, peel)) return false;
    } else {
        if (!line_places(t, &inside, line, end) || !outline_cut(&inside, end[0], end[1], &before, &after))
            return false;
        int first = peel_within(t, at, at, &before, peel, done + 1);
        int second = first < 0 ? -1 : copy_within(t, at, at, &after, true);
        if (second < 0) return false;
        drop_inside(t, &old);
        twig_set_cut(t, at, line, first, second);
    }
    t->twig[at].held = old.held;
    return twig_mend(t, at, &old.outline);
}

bool try_peel(Tree *t, int at, const Peel *peel) {
    trial_of(t, at);
    bool laid = peel_block(t, at, peel) && !t->broken;
    if (laid)
        trial_keep(t);
    else
        trial_undo(t);
    return laid;
}

/* --- which wishes a tree could fulfil --- */

/* What lies in the half that is searched; false if nothing does. */
static bool clip_to_half(const Tree *t, const Outline *o, Outline *out) {
    const bool upright = t->axis == AXIS_UPRIGHT;
    Outline in = {0};
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = outline_next(o, i);
        double u = t->half - (upright ? a.x : a.y), v = t->half - (upright ? b.x : b.y);
        if (u >= 0 && in.corners < OUTLINE_MAX) in.corner[in.corners++] = a;
        if ((u > 0 && v < 0) || (u < 0 && v > 0)) {
            double part = u / (u - v);
            Point p = {a.x + part * (b.x - a.x), a.y + part * (b.y - a.y)};
            *(upright ? &p.x : &p.y) = t->half;
            if (in.corners < OUTLINE_MAX) in.corner[in.corners++] = p;
        }
    }
    *out = in;
    return in.corners >= 3;
}

/* Is a sheet of the line's candy nearer to what is wanted there than one of another, as if the line were left
 * out? */
static bool is_nearest(const Tree *t, const Outline *outline, double thick, int candy) {
    const Twig twig = {.copied = -1};
    Outline inner;
    return outline_inset(outline, thick, axis_side(t, outline), &inner) &&
           ring_between(t, &twig, outline, &inner).candy == candy;
}

bool peel_of_wrap(const Tree *t, int wish, Outline *outline, Peel *out) {
    const WrapWish *w = &t->wishes->wrap[wish];
    const double least = least_sheet(t->key);
    if (w->round) return false;
    *outline = w->outline;
    if (t->axis != AXIS_NONE && !clip_to_half(t, &w->outline, outline)) return false;
    *out = (Peel){.outline = outline, .sheets = 1};
    out->sheet[0].halves = (uint8_t)lround(2 * fmax(w->thickness, least));
    return is_nearest(t, outline, out->sheet[0].halves / 2.0, w->candy);
}

bool peel_of_disc(const Tree *t, int wish, Outline *outline, Peel *out) {
    const Circle disc = at_half_steps(t, t->wishes->disc[wish]);
    const double half = disc.r + ceil(2 * rest_least * t->least) / 2;
    const Twig leaf = {.copied = -1, .copy = -1};
    Outline square = outline_of_box(disc.x - half, disc.y - half, 2 * half, 2 * half);
    double past = t->axis == AXIS_UPRIGHT ? disc.x - t->half : disc.y - t->half;
    if (t->axis != AXIS_NONE && past != 0 && past + half > 0) return false;
    *outline = square;
    if (t->axis != AXIS_NONE && !clip_to_half(t, &square, outline)) return false;
    *out = (Peel){.outline = outline, .bare = true};
    out->round = best_round(t, &leaf, disc);
    return true;
}
