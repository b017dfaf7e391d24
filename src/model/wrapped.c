/* What is round and what is wrapped. SPDX-License-Identifier: MIT */
#include "model/wrapped.h"

#include "model/section.h"

#include <math.h>

Circle square_disc(const Outline *square) {
    Point middle = outline_middle(square), a = square->corner[0], b = square->corner[1];
    return (Circle){middle.x, middle.y, fmax(fabs(b.x - a.x), fabs(b.y - a.y)) / 2};
}

void disc_corners(Circle disc, Point out[DISC_CORNERS]) {
    for (int i = 0; i < DISC_CORNERS; i++) {
        double angle = 2 * PI * i / DISC_CORNERS;
        out[i] = (Point){disc.x + disc.r * sin(angle), disc.y - disc.r * cos(angle)};
    }
}

bool outline_holds(const Outline *outline, const Outline *other) {
    for (int i = 0; i < other->corners; i++)
        if (outline_side(outline, other->corner[i]) < 0) return false;
    return true;
}

static double disc_area(const Outline *square) {
    double r = square_disc(square).r;
    return PI * r * r;
}

double wrap_area(const Wrap *wrap) {
    if (wrap->round) return disc_area(&wrap->outline) - disc_area(&wrap->inner);
    return outline_area(&wrap->outline) - outline_area(&wrap->inner);
}

/* Each side of a mitred sheet is a trapezium: the middle line is half of both perimeters together. */
double wrap_length(const Wrap *wrap) {
    if (wrap->round) return PI * (square_disc(&wrap->outline).r + square_disc(&wrap->inner).r);
    return (section_perimeter(&wrap->outline) + section_perimeter(&wrap->inner)) / 2;
}

bool block_is_round(const LayUp *layup, const Block *block) {
    return block->kind == BLOCK_WRAPPED && layup->wrap[block->wrap[block->wraps - 1]].round;
}
