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
 * first point that differs.
 *
 * For whoever gives blocks other outlines than boxes: a block is taken for all points of its box, and fits
 * its place if the box does and the core's rim falls on itself; of other outlines the points of the box
 * outside must count as OUTSIDE does here. The middle of a point lies on no edge of a box, but may lie on any
 * slanted edge: each such point must get a value that does not depend on which rope is painted first. */
#include "plan/plan_parts.h"

#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

enum {
    PARTS = 3,       /* points a step */
    ON_THE_LINE = 64 /* added where two wedges meet: over any candy's index, and twice that under OUTSIDE */
};

static const double looks_same_share = 0.98;

typedef struct Raster {
    int side;
    uint8_t *point, *other; /* [side][side]: the section; the section with one block laid another way */
} Raster;

static Box in_points(Box box) {
    return (Box){box.x * PARTS, box.y * PARTS, box.w * PARTS, box.h * PARTS};
}

static void paint_rope(Raster *p, const Rope *r) {
    Box box = in_points(r->box);
    for (int y = box.y; y < box.y + box.h; y++)
        for (int x = box.x; x < box.x + box.w; x++) {
            uint8_t *at = p->point + (size_t)y * p->side + x;
            int where = rope_side(r, PARTS, x, y);
            if (where > 0) *at = (uint8_t)r->candy;
            if (where == 0) *at = (uint8_t)(*at + ON_THE_LINE + r->candy); /* both wedges add theirs */
        }
}

static void cut_to_core(Raster *p, Circle core) {
    for (int y = 0; y < p->side; y++)
        for (int x = 0; x < p->side; x++)
            if (!disc_holds(core, PARTS, x, y)) p->point[(size_t)y * p->side + x] = OUTSIDE;
}

/* Where the points of an area come to lie: point (x, y) of it at start + x * right + y * down of the raster.
 */
typedef struct Path {
    long start, right, down;
} Path;

static long place_of(const Raster *p, Box area, int x, int y, Placement way) {
    Box to = box_placed((Box){area.x + x, area.y + y, 1, 1}, area, way);
    return (long)to.y * p->side + to.x;
}

static Path path_of(const Raster *p, Box area, Placement way) {
    long start = place_of(p, area, 0, 0, way);
    return (Path){start, place_of(p, area, 1, 0, way) - start, place_of(p, area, 0, 1, way) - start};
}

/* 2. Paints the block laid that way into `other`; false if its outline does not fit. *same = share of equal
 * points. */
static bool lay_again(Raster *p, Box box, Placement way, double *same) {
    Box area = in_points(box);
    Path from = path_of(p, area, placement(0)), to = path_of(p, area, way);
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
static bool is_whole_placed(const Raster *p, Placement way) {
    Path to = path_of(p, (Box){0, 0, p->side, p->side}, way);
    const uint8_t *here = p->point;
    for (int y = 0; y < p->side; y++)
        for (int x = 0; x < p->side; x++)
            if (p->other[to.start + x * to.right + y * to.down] != *here++) return false;
    return true;
}

/* Does a turn alone show the block as `way` does? Then whoever lays it in end for end can turn it right. */
static bool is_turn(Raster *p, Box box, Placement way) {
    for (int turn = 0; turn < 4; turn++) {
        Placement undo = {false, (4 - turn) % 4}, rest = placement_after(way, undo);
        double same = 0;
        if (placement_fits(box, (Placement){false, turn}) && placement_fits(box, rest) &&
            lay_again(p, box, rest, &same) && same == 1)
            return true;
    }
    return false;
}

static void judge_block(Raster *p, Block *block) {
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
    Raster p = {.side = grid->steps * PARTS};
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
