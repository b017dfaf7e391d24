/* Which blocks could be laid in the wrong way round. SPDX-License-Identifier: MIT
 *
 * 1. The section is painted, PARTS points a step each way. A point on the line between two wedges gets a
 * value of its own for the pair of candies, so that turning and mirroring change nothing. Points outside the
 * core are OUTSIDE.
 * 2. Each block, at its first use, is painted again in each of the other placements that fit: its outline
 * inside the core must come to lie on itself.
 * 3. A face that is new, against the section in all eight placements of the whole, is a risk: of being
 * mirrored if no turn of the block shows the same (a letter F), else of being turned (a letter A, which is
 * its own mirror image). Cost: blocks * 7 * 8 comparisons of (PARTS * n)^2 points, most of them over at the
 * first point that differs. */
#include "plan/way_round.h"

#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

enum { PARTS = 3, ON_THE_LINE = 64 }; /* an odd number: no point of a strip lies on its edge */

static const double looks_same_share = 0.98;

typedef struct Painting {
    int side;
    uint8_t *point, *other; /* [side][side]: the section; the section with one block laid another way */
} Painting;

/* Twice the signed distance of the point (x, y), counted in half points from the box's corner, to the wedge's
 * split; > 0 on the wedge's side. */
static long wedge_side(const Rope *r, long x, long y) {
    long w = 2L * PARTS * r->box.w, h = 2L * PARTS * r->box.h;
    if (r->corner == CORNER_TR || r->corner == CORNER_BR) x = w - x;
    if (r->corner == CORNER_BL || r->corner == CORNER_BR) y = h - y;
    return w * h - x * h -
           y * w; /* the right angle at the origin: inside below the line from (w, 0) to (0, h) */
}

static void paint_rope(Painting *p, const Rope *r) {
    for (int y = 0; y < r->box.h * PARTS; y++)
        for (int x = 0; x < r->box.w * PARTS; x++) {
            uint8_t *at = p->point + (size_t)(r->box.y * PARTS + y) * p->side + r->box.x * PARTS + x;
            long side = r->shape == SHAPE_STRIP ? 1 : wedge_side(r, 2 * x + 1, 2 * y + 1);
            if (side > 0) *at = (uint8_t)r->candy;
            if (side == 0) *at = (uint8_t)(*at + ON_THE_LINE + r->candy); /* both wedges add theirs */
        }
}

static void cut_to_core(Painting *p, Circle core) {
    for (int y = 0; y < p->side; y++)
        for (int x = 0; x < p->side; x++) {
            double u = (x + 0.5) / PARTS - core.x, v = (y + 0.5) / PARTS - core.y;
            if (u * u + v * v > core.r * core.r) p->point[(size_t)y * p->side + x] = OUTSIDE;
        }
}

/* Where the points of an area come to lie: point (x, y) of it at start + x * right + y * down of the
 * painting. */
typedef struct Walk {
    long start, right, down;
} Walk;

static Box in_points(Box box) {
    return (Box){box.x * PARTS, box.y * PARTS, box.w * PARTS, box.h * PARTS};
}

static long place_of(const Painting *p, Box area, int x, int y, Placement way) {
    Box to = box_placed((Box){area.x + x, area.y + y, 1, 1}, area, way);
    return (long)to.y * p->side + to.x;
}

static Walk walk_of(const Painting *p, Box area, Placement way) {
    long start = place_of(p, area, 0, 0, way);
    return (Walk){start, place_of(p, area, 1, 0, way) - start, place_of(p, area, 0, 1, way) - start};
}

/* 2. Paints the block laid that way into `other`; false if its outline does not fit. *same = share of equal
 * points. */
static bool lay_again(Painting *p, Box box, Placement way, double *same) {
    Box area = in_points(box);
    Walk from = walk_of(p, area, placement(0)), to = walk_of(p, area, way);
    long equal = 0;
    memcpy(p->other, p->point, (size_t)p->side * p->side);
    for (int y = 0; y < area.h; y++)
        for (int x = 0; x < area.w; x++) {
            uint8_t here = p->point[from.start + x * from.right + y * from.down];
            long place = to.start + x * to.right + y * to.down;
            if ((here == OUTSIDE) != (p->point[place] == OUTSIDE)) return false;
            p->other[place] = here;
            equal += here == p->point[place];
        }
    *same = (double)equal / ((double)area.w * area.h);
    return true;
}

/* 3. */
static bool is_whole_placed(const Painting *p, Placement way) {
    Walk to = walk_of(p, (Box){0, 0, p->side, p->side}, way);
    const uint8_t *here = p->point;
    for (int y = 0; y < p->side; y++)
        for (int x = 0; x < p->side; x++)
            if (p->other[to.start + x * to.right + y * to.down] != *here++) return false;
    return true;
}

/* Does a turn alone show the block as `way` does? Then whoever lays it in end for end can turn it right. */
static bool is_turn(Painting *p, Box box, Placement way) {
    for (int turn = 0; turn < 4; turn++) {
        Placement undo = {false, (4 - turn) % 4}, rest = placement_after(way, undo);
        double same = 0;
        if (placement_fits(box, (Placement){false, turn}) && placement_fits(box, rest) &&
            lay_again(p, box, rest, &same) && same == 1)
            return true;
    }
    return false;
}

static void judge_block(Painting *p, Block *block) {
    for (int i = 1; i < PLACEMENTS; i++) {
        Placement way = placement(i);
        double same = 0;
        bool harmless = !placement_fits(block->box, way) || !lay_again(p, block->box, way, &same);
        for (int whole = 0; whole < PLACEMENTS && !harmless; whole++)
            harmless = is_whole_placed(p, placement(whole));
        if (harmless) continue;
        bool chiral = way.mirrored && !is_turn(p, block->box, way);
        *(chiral ? &block->mirrored_risk : &block->turned_risk) = true;
        block->looks_the_same |= same >= looks_same_share;
    }
}

bool find_wrong_ways(const Grid *grid, const LayUp *layup, Blocks *blocks, Err *err) {
    Painting p = {.side = grid->steps * PARTS};
    size_t points = (size_t)p.side * p.side;
    p.point = mem_alloc(points, 1, err);
    p.other = p.point ? mem_alloc(points, 1, err) : NULL;
    if (p.other) {
        for (int i = 0; i < layup->ropes; i++) paint_rope(&p, &layup->rope[i]);
        cut_to_core(&p, grid->core);
        for (int i = 0; i + 1 < blocks->blocks; i++) judge_block(&p, &blocks->block[i]);
    }
    bool done = p.other != NULL;
    free(p.point);
    free(p.other);
    return done;
}
