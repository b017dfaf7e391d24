/* The searched tree from a lay-up, and back. SPDX-License-Identifier: MIT */
#include "plan/slant.h"

#include "base/mem.h"
#include "plan/plan_parts.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* --- from a lay-up --- */

static bool is_steep(Point a, Point b) {
    return fabs(b.y - a.y) >= fabs(b.x - a.x);
}

/* The node that holds all of the outline, found from the node down: what lies wholly on one side of a cut has
 * that side's node. */
static const Node *node_of(const LayUp *from, const Node *node, const Outline *o, Point line[2]) {
    OutlinePlace end[2];
    while (node->kind == NODE_CUT) {
        bool steep = is_steep(node->cut[0], node->cut[1]);
        line[0] = node->cut[steep ? 0 : 1];
        line[1] = node->cut[steep ? 1 : 0];
        if (line_meets(o, line, end)) break;
        node = &from->node[lies_first(o, line) ? node->first : node->second];
    }
    return node;
}

/* Marks the twig as a block that is there more than once, or as its copy. Copies come behind the first in the
 * list, wherever they lie in the tree. */
static void hold(Tree *t, const NodeCopy *copy, int node, int at) {
    Twig *twig = &t->twig[at];
    if (copy[node].of < 0) return;
    twig->held = true;
    if (copy[node].of != node) {
        twig->copy = node;
        return;
    }
    t->equal[t->equals] = (EqualBlock){.twig = at, .first = node};
    twig->copied = t->equals++;
}

/* Takes over the node as far as it lies in the outline; returns its index. There is room for all nodes. */
static int take_node(Tree *t, const LayUp *from, const NodeCopy *copy, const Node *node, int parent,
                     const Outline *o) {
    Point line[2]; /* NOLINT(misc-no-recursion) */
    OutlinePlace end[2];
    Outline before, after;
    node = node_of(from, node, o, line);
    int at = twig_new(t, parent);
    assert(at >= 0);
    t->twig[at].outline = *o;
    t->twig[at].fine = node->fine;
    if (copy) hold(t, copy, (int)(node - from->node), at);
    if (node->kind != NODE_CUT || t->twig[at].copy >= 0 || !line_places(t, o, line, end) ||
        !outline_cut(o, end[0], end[1], &before, &after))
        return at;
    int first = take_node(t, from, copy, &from->node[node->first], at, &before);
    int second = take_node(t, from, copy, &from->node[node->second], at, &after);
    twig_set_cut(t, at, line, first, second);
    return at;
}

/* So far copies bear the number of their node, and equal blocks that of their first node: now they are put in
 * order. */
static void order_copies(Tree *t, const NodeCopy *copy) {
    int copies = 0;
    for (int e = 0; e < t->equals; e++) {
        int first = t->equal[e].first;
        t->equal[e].first = copies;
        for (int i = 0; i < t->twigs; i++) {
            if (t->twig[i].copy < 0 || !t->twig[i].held || copy[t->twig[i].copy].of != first) continue;
            t->copy[copies] = (BlockCopy){e, copy[t->twig[i].copy].motion};
            t->order[i] = copies++;
            t->equal[e].copies++;
        }
    }
    for (int i = 0; i < t->twigs; i++)
        if (t->twig[i].copy >= 0) t->twig[i].copy = t->order[i];
}

/* Reads the lay-up into the tree. */
static bool take_layup(Tree *t, const LayUp *from, bool together, Err *err) {
    const Outline whole = tree_outline(t);
    NodeCopy *copy = NULL;
    if (together && !(copy = mem_alloc((size_t)from->nodes, sizeof *copy, err))) return false;
    if (copy) find_copies(t, from, copy);
    trial_start(t);
    t->root = take_node(t, from, copy, &from->node[from->nodes - 1], -1, &whole);
    if (copy) order_copies(t, copy);
    free(copy);
    return true;
}

static bool journal_new(int room, Journal *j, Err *err) {
    j->save = mem_alloc((size_t)room, sizeof *j->save, err);
    return j->save != NULL;
}

bool tree_new(const Grid *grid, const LayKey *key, Axis axis, const LayUp *from, const Wishes *wishes,
              int32_t lambda, bool together, Tree *out, Err *err) {
    Tree t = {
        .grid = grid, .key = key, .axis = axis, .half = grid->steps / 2.0, .lambda = lambda, .spare = -1};
    t.wishes = wishes;
    t.anew_most = key->detail == DETAIL_PLAIN ? 14 : 10;
    t.anew_deep = key->detail == DETAIL_PLAIN ? 4 : 3;
    t.least = grid->least_steps < grid->steps ? grid->least_steps : grid->steps;
    t.fine_least = fmin((grid->least_steps + 1) / 2, grid->steps);
    t.room = 2 * from->nodes + 256;
    if (!cost_table_new(grid, axis, &t.table, err) || !(t.known = known_new(err)) ||
        !(t.twig = mem_alloc((size_t)t.room, sizeof *t.twig, err)) ||
        !(t.order = mem_alloc((size_t)t.room, sizeof *t.order, err)) ||
        !(t.equal = mem_alloc((size_t)from->nodes, sizeof *t.equal, err)) ||
        !(t.copy = mem_alloc((size_t)from->nodes, sizeof *t.copy, err)) ||
        !journal_new(t.room, &t.trial, err) || !take_layup(&t, from, together, err)) {
        tree_free(&t);
        return false;
    }
    *out = t;
    return true;
}

void tree_free(Tree *t) {
    cost_table_free(&t->table);
    known_free(t->known);
    free(t->twig);
    free(t->order);
    free(t->equal);
    free(t->copy);
    free(t->trial.save);
    *t = (Tree){0};
}

/* --- to a lay-up --- */

static int put_node(LayUp *out, Node node) {
    out->node[out->nodes] = node;
    return out->nodes++;
}

static int put_wrap(Outline outline, bool round, bool fine, Sheet sheet, int inside, LayUp *out) {
    out->wrap[out->wraps] = (Wrap){.outline = outline,
                                   .inner = out->node[inside].outline,
                                   .round = round,
                                   .candy = sheet.candy,
                                   .thickness = sheet.halves / 2.0,
                                   .fine = fine};
    Node node = {.kind = NODE_WRAP, .outline = outline, .first = inside, .fine = fine};
    node.second = out->wraps++;
    return put_node(out, node);
}

/* The square about a disc. */
static Outline square_about(Circle disc) {
    return outline_of_box(disc.x - disc.r, disc.y - disc.r, 2 * disc.r, 2 * disc.r);
}

/* What is round in a leaf whose rope is the last so far: that becomes the rest about it. */
static int put_round(const Twig *leaf, int rest, bool fine, Motion motion, LayUp *out) {
    const RoundPart *round = &leaf->round;
    Point middle = point_moved((Point){round->disc.x, round->disc.y}, motion);
    Circle disc[SHEETS_MAX + 1] = {{middle.x, middle.y, round->disc.r}};
    for (int i = 0; i < round->sheets; i++) {
        disc[i + 1] = disc[i];
        disc[i + 1].r -= round->sheet[i].halves / 2.0;
    }
    Circle inner = disc[round->sheets];
    Rope rope = {.outline = square_about(inner), .round = true, .candy = round->candy, .fine = fine};
    rope.area = PI * inner.r * inner.r;
    Node node = {.kind = NODE_ROPE, .outline = rope.outline, .first = out->ropes, .second = -1, .fine = fine};
    out->rope[out->ropes++] = rope;
    out->laid++;
    int at = put_node(out, node);
    for (int i = round->sheets - 1; i >= 0; i--)
        at = put_wrap(square_about(disc[i]), true, fine, round->sheet[i], at, out);
    out->rope[rest].rest = true;
    out->rope[rest].area -= PI * disc[0].r * disc[0].r;
    node = (Node){.kind = NODE_ROUND, .outline = out->rope[rest].outline, .first = at, .second = rest};
    node.fine = fine;
    return put_node(out, node);
}

/* A leaf of the tree, without its sheets, as a node of the lay-up, with that outline. */
static int put_leaf(const Tree *t, const Twig *leaf, const Outline *outline, Motion motion, LayUp *out) {
    const bool fine = leaf_is_fine(t, leaf), round = leaf->round.disc.r > 0;
    double least = fine ? t->fine_least : t->least, whole = outline_area(outline);
    Node node = {.kind = NODE_EMPTY, .outline = *outline, .first = -1, .second = -1, .fine = fine};
    Rope rope = {.outline = *outline, .candy = leaf->candy, .fine = fine};
    rope.area = outline_disc_area(outline, t->grid->core);
    if (leaf->empty || rope.area <= 1e-12 * whole) return put_node(out, node);
    rope.rim = rope.area < whole * (1 - 1e-9);
    rope.trim = round || is_trim(rope.area, least, rope.rim);
    node.kind = NODE_ROPE;
    node.first = out->ropes;
    out->laid += !rope.trim;
    out->rope[out->ropes++] = rope;
    return round ? put_round(leaf, node.first, fine, motion, out) : put_node(out, node);
}

/* The sheets of a twig, `skin` as it lies there, round the node of what is inside it. */
static int put_sheets(const Twig *twig, const Outline skin[SHEETS_MAX + 1], int inside, LayUp *out) {
    for (int i = twig->sheets - 1; i >= 0; i--)
        inside = put_wrap(skin[i], false, twig->fine, twig->sheet[i], inside, out);
    return inside;
}

static int put_cut(Outline outline, bool fine, Point a, Point b, int one, int other, LayUp *out) {
    Node node = node_of_cut(&outline, a, b, one, &out->node[one].outline, other);
    node.fine = fine;
    return put_node(out, node);
}

/* A twig that does not touch the axis, moved so. */
static int put_twig(const Tree *t, int at, Motion motion, LayUp *out) { /* NOLINT(misc-no-recursion) */
    const Twig *twig = &t->twig[at];
    Outline skin[SHEETS_MAX + 1];
    if (twig->copy >= 0) {
        const BlockCopy *copy = &t->copy[twig->copy];
        return put_twig(t, t->equal[copy->equal].twig, motion_after(copy->motion, motion), out);
    }
    (void)twig_skins(t, twig, &twig->outline, skin);
    for (int i = 0; i <= twig->sheets; i++) skin[i] = outline_moved(&skin[i], motion);
    const Outline inside = skin[twig->sheets];
    if (twig->first < 0) return put_sheets(twig, skin, put_leaf(t, twig, &inside, motion, out), out);
    Point a = point_moved(twig->end[0].at, motion), b = point_moved(twig->end[1].at, motion);
    int first = put_twig(t, twig->first, motion, out), second = put_twig(t, twig->second, motion, out);
    return put_sheets(twig, skin, put_cut(inside, twig->fine, a, b, first, second, out), out);
}

static int put_whole(const Tree *t, int at, LayUp *out);

/* What is inside a twig that touches the axis, cut across both halves, or once on either side. */
static int put_cuts(const Tree *t, const Twig *twig, const Outline *inside, /* NOLINT(misc-no-recursion) */
                    LayUp *out) {
    Outline whole = outline_mirrored(t, inside, inside);
    Point a = twig->end[0].at, b = twig->end[1].at;
    bool first = axis_side(t, &t->twig[twig->first].outline) >= 0;
    bool second = axis_side(t, &t->twig[twig->second].outline) >= 0;
    if (first && second) {
        Point free = is_on_axis(t, a) ? b : a;
        int one = put_whole(t, twig->first, out), other = put_whole(t, twig->second, out);
        return put_cut(whole, twig->fine, free, point_mirrored(t, free), one, other, out);
    }
    int inner = first ? twig->first : twig->second, outer = first ? twig->second : twig->first;
    Outline rest = outline_mirrored(t, &t->twig[inner].outline, inside);
    const Motion stay = {{0}, {0, 0}};
    const Motion mirror = motion_in_place((Placement){true, t->axis == AXIS_UPRIGHT ? 0 : 2}, (Point){0, 0},
                                          (Point){2 * t->half, 2 * t->half});
    int one = put_twig(t, outer, stay, out), middle = put_whole(t, inner, out);
    int other = put_twig(t, outer, mirror, out);
    other = put_cut(rest, twig->fine, point_mirrored(t, a), point_mirrored(t, b), middle, other, out);
    return put_cut(whole, twig->fine, a, b, one, other, out);
}

/* A twig that touches the axis, with its mirror image. */
static int put_whole(const Tree *t, int at, LayUp *out) { /* NOLINT(misc-no-recursion) */
    const Twig *twig = &t->twig[at];
    Outline skin[SHEETS_MAX + 1], whole[SHEETS_MAX + 1];
    (void)twig_skins(t, twig, &twig->outline, skin);
    for (int i = 0; i <= twig->sheets; i++) whole[i] = outline_mirrored(t, &skin[i], &skin[i]);
    int inside = twig->first < 0 ? put_leaf(t, twig, &whole[twig->sheets], (Motion){.shift = {0, 0}}, out)
                                 : put_cuts(t, twig, &skin[twig->sheets], out);
    return put_sheets(twig, whole, inside, out);
}

static size_t most_copies(const Tree *t) {
    int most = 0;
    for (int i = 0; i < t->equals; i++)
        if (t->equal[i].copies > most) most = t->equal[i].copies;
    return (size_t)most;
}

/* Sheets, round ones too, and what is round, of all twigs. */
static size_t count_wraps(const Tree *t) {
    size_t count = 0;
    for (int i = 0; i < t->twigs; i++)
        count +=
            (size_t)(t->twig[i].sheets + (t->twig[i].round.disc.r > 0 ? 1 + t->twig[i].round.sheets : 0));
    return count;
}

bool tree_lay_out(const Tree *t, LayUp *out, Err *err) {
    LayUp l = {.lambda = (double)t->lambda / COST_ONE, .cost = (double)t->twig[t->root].cost / COST_ONE};
    size_t most = (size_t)t->twigs * (1 + most_copies(t));
    size_t wraps = count_wraps(t) * (1 + most_copies(t));
    l.node = mem_alloc(3 * (most + wraps), sizeof *l.node, err);
    l.rope = l.node ? mem_alloc(2 * (most + wraps), sizeof *l.rope, err) : NULL;
    l.wrap = l.rope ? mem_alloc(2 * wraps, sizeof *l.wrap, err) : NULL;
    if (!l.wrap) {
        layup_free(&l);
        return false;
    }
    if (t->axis == AXIS_NONE)
        (void)put_twig(t, t->root, (Motion){{0}, {0, 0}}, &l);
    else
        (void)put_whole(t, t->root, &l);
    *out = l;
    return true;
}
