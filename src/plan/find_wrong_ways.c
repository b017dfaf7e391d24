/* Which blocks could be laid in the wrong way round. SPDX-License-Identifier: MIT
 *
 * 1. The section is painted (layup_paint), PARTS points a step each way. Points outside the core are OUTSIDE.
 * 2. Each block, where it was built, is painted again for each motion with which it goes in: what of it lies
 * inside the core comes to lie on itself (own_motions.c), or no farther off than hands let pass
 * (near_motions.c): turned, or end for end and turned, by whatever angle its outline lets pass. What is left
 * of its place then is filled by what is beside it in the block: hands press it in.
 * 3. Two faces look different if a square of SEEN points a side is different all over: a step or so. Half a
 * step of shift is not seen; nor is what rounding leaves along slanted lines, or a strip under a step that
 * runs aslant, in which no such square fits.
 * 4. A face that looks different, against the section in all eight placements of the whole, is a risk: of
 * being mirrored if no turn of the block shows the same (a letter F), else of being turned (a letter A, which
 * is its own mirror image).
 * Where the section and its own placements differ is looked for once, so that most of 4 is asking whether
 * the block has anything to do with that. Cost: blocks * motions * points of the block, some 60 * 4 * 6000.
 */
#include "plan/plan_parts.h"

#include "base/mem.h"
#include "model/wrapped.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    PARTS = 4, /* points a step */
    SEEN = 3,  /* points a side of the least difference that counts */
    MOTIONS_MAX = OWN_MOTIONS_MAX + NEAR_MOTIONS_MAX
};

static const double looks_same_share = 0.98;
static const double apart_share = 0.1; /* of a block's longer side: so far off hands let its edges be */
/* Steps: a point is on a line if it is no farther off, along its row. */
static const double on_line = 1e-7;

/* How the whole section, laid one of the eight ways, differs from itself. */
typedef struct Whole {
    bool differs;
    Box first, last; /* points: the uppermost and the lowest square that differ */
} Whole;

typedef struct Raster {
    int side;
    Circle core;
    uint8_t *point;         /* [side][side] the section; owned, with the next three */
    uint8_t *block;         /* [side][side] 1: inside the block that is judged, and inside the core */
    Point middle;           /* points: of those; inside the block */
    uint8_t *other, *third; /* [side][side] the section with the block laid another way */
    int *run;               /* [side] scratch of find_difference; owned */
    Whole whole[PLACEMENTS];
} Raster;

/* --- 1. --- */

/* Where the row of points y crosses the outline, in steps; false if it does not. */
static bool row_span(const Outline *o, int y, double *left, double *right) {
    double middle = (y + 0.5) / PARTS;
    *left = HUGE_VAL;
    *right = -HUGE_VAL;
    for (int i = 0; i < o->corners; i++) {
        Point a = o->corner[i], b = o->corner[(i + 1) % o->corners];
        double x = a.x;
        if ((a.y > middle) != (b.y > middle))
            x += (middle - a.y) / (b.y - a.y) * (b.x - a.x);
        else if (fabs(a.y - middle) > on_line)
            continue;
        *left = fmin(*left, x);
        *right = fmax(*right, x);
    }
    return *left <= *right;
}

/* The points that may lie inside. */
static Box window_of(const Outline *o, int side) {
    double left = side, top = side, right = 0, bottom = 0;
    for (int i = 0; i < o->corners; i++) {
        left = fmin(left, o->corner[i].x * PARTS);
        right = fmax(right, o->corner[i].x * PARTS);
        top = fmin(top, o->corner[i].y * PARTS);
        bottom = fmax(bottom, o->corner[i].y * PARTS);
    }
    Box b = {(int)fmax(floor(left), 0), (int)fmax(floor(top), 0), 0, 0};
    b.w = (int)fmin(ceil(right), side) - b.x;
    b.h = (int)fmin(ceil(bottom), side) - b.y;
    return b;
}

/* The first point of a row whose middle is at x or behind it. */
static int first_from(double x) {
    return (int)ceil(x * PARTS - 0.5);
}

static void cut_to_core(Raster *p) {
    for (int y = 0; y < p->side; y++)
        for (int x = 0; x < p->side; x++)
            if (!disc_holds(p->core, PARTS, x, y)) p->point[(size_t)y * p->side + x] = OUTSIDE;
}

/* Marks the points of the block, and their middle; returns how many. */
static long mark_block(Raster *p, const Outline *o, Box window) {
    double left, right;
    long count = 0;
    p->middle = (Point){0, 0};
    memset(p->block, 0, (size_t)p->side * p->side);
    for (int y = window.y; y < window.y + window.h; y++) {
        if (!row_span(o, y, &left, &right)) continue;
        for (int x = first_from(left + on_line); x < window.x + window.w; x++) {
            size_t i = (size_t)y * p->side + x;
            if ((x + 0.5) / PARTS >= right - on_line) break;
            p->block[i] = p->point[i] != OUTSIDE;
            if (!p->block[i]) continue;
            count++;
            p->middle.x += (x + 0.5 - p->middle.x) / (double)count;
            p->middle.y += (y + 0.5 - p->middle.y) / (double)count;
        }
    }
    return count;
}

/* --- 2. --- */

static bool in_block(const Raster *p, Point at) {
    return at.x >= 0 && at.y >= 0 && at.x < p->side && at.y < p->side &&
           p->block[(size_t)at.y * p->side + (size_t)at.x];
}

/* The point of the block at that place or, beyond its edge, the first one on the way to its middle. */
static size_t nearest_point(const Raster *p, Point at) {
    double x = p->middle.x - at.x, y = p->middle.y - at.y, length = sqrt(x * x + y * y);
    int beyond = 0;
    while (beyond < length && !in_block(p, (Point){at.x + beyond * x / length, at.y + beyond * y / length}))
        beyond++;
    if (beyond >= length)
        at = p->middle;
    else if (beyond > 0)
        at = (Point){at.x + beyond * x / length, at.y + beyond * y / length};
    return (size_t)at.y * p->side + (size_t)at.x;
}

/* Paints the section with the block laid that way into `out`; returns how many points stay as they are. */
static long lay_again(const Raster *p, Box window, const Rigid *motion, uint8_t *out) {
    long same = 0;
    memcpy(out, p->point, (size_t)p->side * p->side);
    for (int y = window.y; y < window.y + window.h; y++)
        for (int x = window.x; x < window.x + window.w; x++) {
            size_t i = (size_t)y * p->side + x;
            if (!p->block[i]) continue;
            Point from = rigid_undone((Point){(x + 0.5) / PARTS, (y + 0.5) / PARTS}, motion);
            out[i] = p->point[nearest_point(p, (Point){from.x * PARTS, from.y * PARTS})];
            same += out[i] == p->point[i];
        }
    return same;
}

/* --- 3. --- */

/* Where the points of the square come to lie: point (x, y) at start + x * right + y * down. */
typedef struct Path {
    long start, right, down;
} Path;

static long place_of(int side, double x, double y, Motion motion) {
    Point at = point_moved((Point){x, y}, motion);
    return (long)at.y * side + (long)at.x;
}

static Motion whole_motion(int side, Placement way) {
    return motion_in_place(way, (Point){0, 0}, (Point){side, side});
}

static Path path_of(int side, Placement way) {
    Motion motion = whole_motion(side, way);
    long start = place_of(side, 0.5, 0.5, motion);
    return (Path){start, place_of(side, 1.5, 0.5, motion) - start, place_of(side, 0.5, 1.5, motion) - start};
}

/* The first square in the window, from the top, in which `a`, gone through along the path, and `b` differ all
 * over; with `last` the last. */
static bool find_difference(const Raster *p, const uint8_t *a, Path path, const uint8_t *b, Box window,
                            bool last, Box *out) {
    bool found = false;
    memset(p->run + window.x, 0, (size_t)window.w * sizeof *p->run);
    for (int y = window.y; y < window.y + window.h; y++) {
        long from = path.start + y * path.down;
        const uint8_t *row = b + (size_t)y * p->side;
        int across = 0;
        for (int x = window.x; x < window.x + window.w; x++) {
            p->run[x] = a[from + x * path.right] != row[x] ? p->run[x] + 1 : 0;
            across = p->run[x] >= SEEN ? across + 1 : 0;
            if (across < SEEN) continue;
            *out = (Box){x - SEEN + 1, y - SEEN + 1, SEEN, SEEN};
            found = true;
            if (!last) return true;
        }
    }
    return found;
}

static bool look_different(const Raster *p, const uint8_t *a, const uint8_t *b, Box window) {
    Box at;
    return find_difference(p, a, (Path){0, 1, p->side}, b, window, false, &at);
}

/* --- 4. --- */

static void compare_whole(Raster *p) {
    const Box all = {0, 0, p->side, p->side};
    for (int i = 1; i < PLACEMENTS; i++) {
        Whole *w = &p->whole[i];
        Path path = path_of(p->side, placement(i));
        w->differs = find_difference(p, p->point, path, p->point, all, false, &w->first) &&
                     find_difference(p, p->point, path, p->point, all, true, &w->last);
    }
}

/* All points whose place, along the path of that placement, may lie in the block, and SEEN - 1 about them. */
static Box window_before(const Raster *p, Box window, Placement way) {
    const int round = SEEN - 1;
    Motion back = motion_undone(whole_motion(p->side, way));
    Point a = point_moved((Point){window.x, window.y}, back);
    Point b = point_moved((Point){window.x + window.w, window.y + window.h}, back);
    int left = (int)fmin(a.x, b.x) - round, right = (int)fmax(a.x, b.x) + round;
    int top = (int)fmin(a.y, b.y) - round, bottom = (int)fmax(a.y, b.y) + round;
    if (left < 0) left = 0;
    if (top < 0) top = 0;
    if (right > p->side) right = p->side;
    if (bottom > p->side) bottom = p->side;
    return (Box){left, top, right - left, bottom - top};
}

static bool overlap(Box a, Box b) {
    return a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
}

/* Does `other` look like the section laid as a whole that way? */
static bool looks_like_whole(const Raster *p, int way, Box window) {
    const Whole *w = &p->whole[way];
    Box near = window_before(p, window, placement(way)), at;
    if (w->differs && (!overlap(w->first, near) || !overlap(w->last, near))) return false;
    if (w->differs) near = (Box){0, 0, p->side, p->side};
    return !find_difference(p, p->other, path_of(p->side, placement(way)), p->point, near, false, &at);
}

/* Does a turn alone show the block as it is in `other`? Then whoever lays it in end for end can turn it
 * right. */
static bool is_turn(const Raster *p, Box window, const Rigid *motion, int motions) {
    for (int i = 0; i < motions; i++) {
        if (motion[i].mirrored) continue;
        (void)lay_again(p, window, &motion[i], p->third);
        if (!look_different(p, p->third, p->other, window)) return true;
    }
    return false;
}

/* The first is the one that changes nothing. */
static int list_ways(const Raster *p, const Block *block, double apart, Rigid way[MOTIONS_MAX]) {
    int ways = own_motions(&block->outline, p->core, way);
    if (apart <= 0) return ways;
    double longer = fmax(block->high.x - block->low.x, block->high.y - block->low.y);
    return ways + near_motions(&block->outline, p->core, fmax(apart, apart_share * longer), way + ways);
}

static void judge_block(Raster *p, Block *block, double apart) {
    Rigid motion[MOTIONS_MAX];
    int motions = list_ways(p, block, apart, motion);
    block->mirrored_risk = block->turned_risk = block->looks_the_same = false;
    if (motions < 2) return;
    Box window = window_of(&block->outline, p->side);
    long points = mark_block(p, &block->outline, window);
    for (int i = 1; i < motions; i++) {
        long same = lay_again(p, window, &motion[i], p->other);
        bool alike = (double)same >= looks_same_share * (double)points, harmless = false;
        if (block->mirrored_risk && block->turned_risk && (block->looks_the_same || !alike)) continue;
        for (int way = 0; way < PLACEMENTS && !harmless; way++) harmless = looks_like_whole(p, way, window);
        if (harmless) continue;
        block->looks_the_same |= alike;
        if (block->mirrored_risk && block->turned_risk) continue;
        bool chiral = motion[i].mirrored && !is_turn(p, window, motion, motions);
        *(chiral ? &block->mirrored_risk : &block->turned_risk) = true;
    }
}

bool find_wrong_ways(const Grid *grid, const LayUp *layup, double apart, Blocks *blocks, Err *err) {
    if (blocks->blocks == 0) return true;
    Raster p = {.side = grid->steps * PARTS, .core = grid->core};
    size_t points = (size_t)p.side * p.side;
    p.point = mem_alloc(4 * points, 1, err);
    p.run = p.point ? mem_alloc((size_t)p.side, sizeof *p.run, err) : NULL;
    if (p.run) {
        p.block = p.point + points;
        p.other = p.block + points;
        p.third = p.other + points;
        layup_paint(layup, PARTS, p.side, p.point);
        cut_to_core(&p);
        compare_whole(&p);
        for (int i = 0; i + 1 < blocks->blocks; i++)
            if (!block_is_round(layup, &blocks->block[i])) /* looks the same whichever way it lies */
                judge_block(&p, &blocks->block[i], apart);
    }
    bool done = p.run != NULL;
    free(p.point);
    free(p.run);
    return done;
}
