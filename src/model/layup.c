/* Ropes and placements. SPDX-License-Identifier: MIT */
#include "model/layup.h"

#include <stdio.h>

int rope_outline(const Rope *rope, Point out[4]) {
    double x = rope->box.x, y = rope->box.y, w = rope->box.w, h = rope->box.h;
    const Point corner[4] = {{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}; /* tl tr br bl */
    static const int skip[4] = {[CORNER_TL] = 2, [CORNER_TR] = 3, [CORNER_BL] = 1, [CORNER_BR] = 0};
    int count = 0;
    for (int i = 0; i < 4; i++)
        if (rope->shape == SHAPE_STRIP || i != skip[rope->corner]) out[count++] = corner[i];
    return count;
}

/* In half points, from the corner of the wedge's right angle: inside is below the line from (w, 0) to (0, h).
 */
int rope_side(const Rope *rope, int parts, int x, int y) {
    int w = 2 * parts * rope->box.w, h = 2 * parts * rope->box.h;
    int across = 2 * (x - parts * rope->box.x) + 1, down = 2 * (y - parts * rope->box.y) + 1;
    if (rope->shape == SHAPE_STRIP) return 1;
    if (rope->corner == CORNER_TR || rope->corner == CORNER_BR) across = w - across;
    if (rope->corner == CORNER_BL || rope->corner == CORNER_BR) down = h - down;
    int inside = w * h - across * h - down * w;
    return (inside > 0) - (inside < 0);
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

Box box_placed(Box inner, Box outer, Placement way) {
    Box b = {inner.x - outer.x, inner.y - outer.y, inner.w, inner.h};
    int w = outer.w, h = outer.h;
    if (way.mirrored) b.x = w - b.x - b.w;
    for (int i = 0; i < way.turn; i++) { /* (x, y) -> (h - y, x) */
        b = (Box){h - b.y - b.h, b.x, b.h, b.w};
        int swap = w;
        w = h;
        h = swap;
    }
    return (Box){b.x + outer.x, b.y + outer.y, b.w, b.h};
}

Corner corner_placed(Corner corner, Placement way) {
    static const Corner mirrored[] = {CORNER_TR, CORNER_TL, CORNER_BR, CORNER_BL};
    static const Corner turned[] = {CORNER_TR, CORNER_BR, CORNER_TL, CORNER_BL};
    if (way.mirrored) corner = mirrored[corner];
    for (int i = 0; i < way.turn; i++) corner = turned[corner];
    return corner;
}

bool placement_fits(Box box, Placement way) {
    return box.w == box.h || way.turn % 2 == 0;
}

/* A turn before a mirror is the opposite turn after it. */
Placement placement_after(Placement first, Placement second) {
    int turn = second.mirrored ? 4 - first.turn : first.turn;
    return (Placement){first.mirrored != second.mirrored, (turn + second.turn) % 4};
}
