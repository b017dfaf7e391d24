/* Pieces scattered on a table. SPDX-License-Identifier: MIT
 *
 * 1. Darts: a piece falls at a chance place and may stay if nothing is near; of several such places it takes
 * the tightest, which leaves most to the rest. Footprints are discs (standing) and boxes with round ends
 * (lying) with a gap between them.
 * 2. Then the gaps are evened out by small chance steps, which never make a piece's own gap less. */
#include "draw/scene.h"

#include "base/geom.h"

#include <math.h>

enum { TRIES = 3000, CHOICES = 6, LIE_EVERY = 4, ROUNDS = 400, ENOUGH = 24 };

static const double gap = 0.10;  /* of the diameter, between footprints */
static const double fill = 0.45; /* of the table that footprints take, if that many find room */
static const double stick = 2;   /* length over diameter beyond which nothing stands */
static const double coin =
    0.5; /* length over diameter under which nothing lies: it would stand on its edge */
static const double unevenness = 0.03; /* of a piece's length, and half of that of its diameter, either way */

/* The outline on the table, or a little more: all within `reach` of a line, which of a standing piece is a
 * point. */
typedef struct Footprint {
    Point from, to; /* mm: ends of the line */
    double reach;   /* mm */
} Footprint;

static Footprint footprint_of(const Piece *p) {
    double half = p->standing ? 0 : p->length / 2, x = half * p->axis.x, y = half * p->axis.y;
    return (Footprint){{p->middle.x - x, p->middle.y - y}, {p->middle.x + x, p->middle.y + y}, p->radius};
}

static double point_to_line(Point p, Point from, Point to) {
    double lx = to.x - from.x, ly = to.y - from.y, px = p.x - from.x, py = p.y - from.y,
           square = lx * lx + ly * ly;
    double t = square > 0 ? fmin(fmax((px * lx + py * ly) / square, 0), 1) : 0;
    return hypot(px - t * lx, py - t * ly);
}

/* Which side of the line the point lies on: the sign. */
static double turn_of(Point from, Point to, Point p) {
    return (to.x - from.x) * (p.y - from.y) - (to.y - from.y) * (p.x - from.x);
}

static bool cross(const Footprint *a, const Footprint *b) {
    return turn_of(a->from, a->to, b->from) * turn_of(a->from, a->to, b->to) < 0 &&
           turn_of(b->from, b->to, a->from) * turn_of(b->from, b->to, a->to) < 0;
}

/* The gap between two footprints; less than 0 if they overlap. */
static double apart(const Footprint *a, const Footprint *b) {
    double reach = a->reach + b->reach;
    if (cross(a, b)) return -reach;
    double of_a = fmin(point_to_line(a->from, b->from, b->to), point_to_line(a->to, b->from, b->to));
    double of_b = fmin(point_to_line(b->from, a->from, a->to), point_to_line(b->to, a->from, a->to));
    return fmin(of_a, of_b) - reach;
}

/* How far the piece keeps from the nearest of those there. */
static double room_for(const Scatter *s, const Piece *piece) {
    Footprint foot = footprint_of(piece);
    double least = HUGE_VAL;
    for (int i = 0; i < s->count; i++) {
        Footprint other = footprint_of(&s->piece[i]);
        least = fmin(least, apart(&foot, &other));
    }
    return least;
}

static Vec turned(double angle) {
    return (Vec){cos(angle), sin(angle), 0};
}

/* The piece as it falls, in the middle of the table. */
static Piece make_piece(double diameter, double length, unsigned seed, unsigned number) {
    uint32_t own = chance(seed, number);
    Piece p = {.number = own};
    p.radius = diameter / 2 * (1 + chance_between(own, 1, -unevenness / 2, unevenness / 2));
    p.length = length * (1 + chance_between(own, 2, -unevenness, unevenness));
    bool lies = number % LIE_EVERY == LIE_EVERY - 1 && length > coin * diameter;
    p.standing = length <= stick * diameter && !lies;
    double turn = chance_between(own, 3, -0.75, 0.75);
    if (p.standing) {
        bool picture = number % 3 != 1;
        p.axis = (Vec){0, 0, picture ? 1 : -1};
        p.right = turned(picture ? turn : PI + turn); /* not on its head either way */
        p.middle.z = p.length / 2;
    } else {
        bool picture = number % 8 != 3;
        double angle = -PI / 2 + turn; /* one end towards the viewer: the picture, or its mirror image */
        p.axis = vec_scale(turned(angle), picture ? 1 : -1);
        Vec level = vec_cross((Vec){0, 0, 1}, p.axis);
        double roll = chance_between(own, 4, -0.9, 0.9);
        p.right = vec_add(vec_scale(level, cos(roll)), (Vec){0, 0, sin(roll)});
        p.middle.z = p.radius;
    }
    p.up = vec_cross(p.axis, p.right);
    return p;
}

/* From its middle to its farthest point. */
static double reach_of(const Piece *p) {
    return p->standing ? p->radius : hypot(p->length / 2, p->radius);
}

static bool drop(Scatter *s, Piece piece, double keep, uint32_t own) {
    double best = keep, reach = reach_of(&piece);
    bool found = false;
    int choices = 0;
    for (unsigned i = 0; i < TRIES && choices < CHOICES; i++) {
        piece.middle.x = chance_between(own, 100 + 2 * i, -0.5, 0.5) * (s->width - 2 * reach);
        piece.middle.y = chance_between(own, 101 + 2 * i, -0.5, 0.5) * (s->depth - 2 * reach);
        double room = room_for(s, &piece);
        if (room < keep) continue;
        choices++;
        if (found && room > best) continue; /* close to the others: leaves room for the rest */
        best = room;
        found = true;
        s->piece[s->count] = piece;
    }
    s->count += found;
    return found;
}

/* The room round piece i, the table's edge counted as a neighbour as far off again. */
static double room_round(const Scatter *s, int i, const Piece *piece) {
    Footprint foot = footprint_of(piece);
    double reach = reach_of(piece), x = s->width / 2 - fabs(piece->middle.x) - reach,
           y = s->depth / 2 - fabs(piece->middle.y) - reach, least = fmin(x, y);
    if (least < 0) return -1;
    least = least * 2 + 0.2 * piece->radius;
    for (int k = 0; k < s->count; k++) {
        Footprint other = footprint_of(&s->piece[k]);
        if (k != i) least = fmin(least, apart(&foot, &other));
    }
    return least;
}

/* Evens the gaps out: each piece in turn tries a small step, and takes it if that gives it more room. */
static void settle(Scatter *s, double diameter, unsigned seed) {
    for (unsigned round = 0; round < ROUNDS; round++)
        for (int i = 0; i < s->count; i++) {
            Piece moved = s->piece[i];
            uint32_t own = chance(seed, round * SCATTER_MAX + (unsigned)i);
            double far = 0.3 * diameter * (1 - 0.8 * round / ROUNDS);
            moved.middle.x += chance_between(own, 1, -far, far);
            moved.middle.y += chance_between(own, 2, -far, far);
            if (room_round(s, i, &moved) > room_round(s, i, &s->piece[i])) s->piece[i] = moved;
        }
}

/* Drops all pieces on a part of the table of that area: the lying ones first, they need more room. */
static void drop_all(const Piece piece[SCATTER_MAX], double area, double aspect, double keep, Scatter *s) {
    s->count = 0;
    s->width = sqrt(area / aspect);
    s->depth = aspect * s->width;
    for (int lying = 1; lying >= 0; lying--)
        for (unsigned i = 0; i < SCATTER_MAX; i++)
            if (!piece[i].standing == lying) (void)drop(s, piece[i], keep, piece[i].number);
}

void scatter(double diameter_mm, double length_mm, double aspect, unsigned seed, Scatter *out) {
    Scatter s = {.count = 0};
    Piece piece[SCATTER_MAX];
    double area = 0, keep = gap * diameter_mm;
    for (unsigned i = 0; i < SCATTER_MAX; i++) {
        piece[i] = make_piece(diameter_mm, length_mm, seed, i);
        Footprint foot = footprint_of(&piece[i]);
        double w = 2 * foot.reach + keep, l = hypot(foot.to.x - foot.from.x, foot.to.y - foot.from.y);
        area += PI / 4 * w * w + w * l;
    }
    for (double share = fill; s.count < ENOUGH && share > 0.02; share *= 0.85) /* 1 */
        drop_all(piece, area / share, aspect, keep, &s);
    settle(&s, diameter_mm, seed); /* 2 */
    *out = s;
}
