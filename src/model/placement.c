/* The eight ways to lay a straight rope or block. SPDX-License-Identifier: MIT */
#include "model/placement.h"

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

Placement placement_undone(Placement way) {
    return way.mirrored ? way : (Placement){false, (4 - way.turn) % 4};
}

/* A turn before a mirror is the opposite turn after it. */
Placement placement_after(Placement first, Placement second) {
    int turn = second.mirrored ? 4 - first.turn : first.turn;
    return (Placement){first.mirrored != second.mirrored, (turn + second.turn) % 4};
}
