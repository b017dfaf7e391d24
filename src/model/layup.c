/* The lay-up. SPDX-License-Identifier: MIT */
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
