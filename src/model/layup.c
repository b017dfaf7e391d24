/* Ropes and placements. SPDX-License-Identifier: MIT */
#include "model/layup.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

Node node_of_cut(const Outline *outline, Point a, Point b, int one, const Outline *of_one, int other) {
    bool steep = fabs(b.y - a.y) >= fabs(b.x - a.x), swap = steep ? b.y < a.y : b.x < a.x;
    Point p = swap ? b : a, q = swap ? a : b, m = outline_middle(of_one);
    bool right = (q.x - p.x) * (m.y - p.y) > (q.y - p.y) * (m.x - p.x); /* of the way from p to q */
    return (Node){.kind = NODE_CUT,
                  .outline = *outline,
                  .cut = {p, q},
                  .first = right == steep ? one : other,
                  .second = right == steep ? other : one};
}

static void mark_points(const Outline *o, Circle core, int parts, int side, uint8_t *out) {
    Point low, high;
    if (!outline_disc_box(o, core, &low, &high)) return;
    for (int y = (int)(low.y * parts); y < high.y * parts && y < side; y++)
        for (int x = (int)(low.x * parts); x < high.x * parts && x < side; x++)
            if (outline_side(o, (Point){(x + 0.5) / parts, (y + 0.5) / parts}) >= 0)
                out[(size_t)y * side + x] = 1;
}

void layup_fine(const LayUp *layup, Circle core, int parts, int side, uint8_t *out) {
    memset(out, 0, (size_t)side * (size_t)side);
    for (int i = 0; i < layup->ropes; i++) {
        const Rope *rope = &layup->rope[i];
        if (rope->fine && !rope->round) mark_points(&rope->outline, core, parts, side, out);
    }
    for (int i = 0; i < layup->wraps; i++) {
        const Wrap *wrap = &layup->wrap[i];
        if (wrap->fine && !wrap->round) mark_points(&wrap->outline, core, parts, side, out);
    }
}

void rope_number(const Rope *rope, char out[32]) {
    if (rope->trim)
        (void)snprintf(out, 32, "t%d", rope->serial);
    else
        (void)snprintf(out, 32, "%d.%d", rope->type + 1, rope->serial);
}

/* --- the eight ways to lay a rope or block --- */

Placement placement(int i) {
    return (Placement){i >= 4, i % 4};
}

/* A turn before a mirror is the opposite turn after it. */
Placement placement_after(Placement first, Placement second) {
    int turn = second.mirrored ? 4 - first.turn : first.turn;
    return (Placement){first.mirrored != second.mirrored, (turn + second.turn) % 4};
}

/* --- and where it goes --- */

static Point point_placed(Point p, Placement way) {
    if (way.mirrored) p.x = -p.x;
    for (int i = 0; i < way.turn; i++) p = (Point){-p.y, p.x};
    return p;
}

Point point_moved(Point p, Motion motion) {
    Point at = point_placed(p, motion.way);
    return (Point){at.x + motion.shift.x, at.y + motion.shift.y};
}

Outline outline_moved(const Outline *outline, Motion motion) {
    Outline out = {.corners = outline->corners};
    for (int i = 0; i < out.corners; i++) {
        int from = motion.way.mirrored ? out.corners - 1 - i : i;
        out.corner[i] = point_moved(outline->corner[from], motion);
    }
    return out;
}

Motion motion_after(Motion first, Motion second) {
    return (Motion){placement_after(first.way, second.way), point_moved(first.shift, second)};
}

/* A mirror image is undone by itself, before a turn or behind it. */
Motion motion_undone(Motion motion) {
    Placement back = {motion.way.mirrored, motion.way.mirrored ? motion.way.turn : (4 - motion.way.turn) % 4};
    Point shift = point_placed(motion.shift, back);
    return (Motion){back, {-shift.x, -shift.y}};
}

Motion motion_in_place(Placement way, Point low, Point high) {
    Point a = point_placed(low, way), b = point_placed(high, way);
    return (Motion){way, {low.x - (a.x < b.x ? a.x : b.x), low.y - (a.y < b.y ? a.y : b.y)}};
}
