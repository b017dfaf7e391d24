/* How else hands can lay a block in its place. SPDX-License-Identifier: MIT
 *
 * Input: a block's outline, the core, and how far apart hands let pass. Output: the motions, beside its own
 * (own_motions.c), after which what of it lies inside the core goes into its own place.
 * 1. How far two convex shapes are apart, or their edges (Hausdorff's distance: from the point of either that
 * is farthest off the other), is the largest difference between how far they reach, in any direction
 * (Schneider 2014, "Convex Bodies", lemma 1.8.14). Asked for: DIRECTIONS all round, and those square to the
 * sides of both, where the difference has its kinks; between them it is within 0.13 % of what was seen.
 * 2. A shift by t adds t . u to the difference c in direction u. The best one has the least max |c + t . u|:
 * a linear program in t and that bound. Three rows are held equal to the bound; of the others the one that
 * breaks it most comes in, one goes out by the ratio test of the dual simplex method, until none breaks it.
 * 3. What is left of the distance at the best shift is a function of the turn, sampled at TURNS turns, end
 * for end or not. Where no neighbour is lower, golden section finds the lowest place between them: a way if
 * the shapes are then near enough. So is, away from those, a turn near enough from which hands feel no better
 * one LITTLE samples about: a disc with a little cut off goes in at any turn. Samples from which no turn to
 * the next can be near enough are left out: the distance changes by at most the turn times the farthest
 * point. Cost: some 200 programs a block, each a few passes over 80 rows: 1 ms. */
#include "plan/plan_parts.h"

#include <math.h>

enum {
    DIRECTIONS = 64,
    ROWS_MAX = DIRECTIONS + 2 * CORE_CORNERS_MAX,
    PASSES_MAX = 100, /* some ten are usual; stopped there, the distance is that of the shift reached */
    SHRINKS = 16,     /* of golden section: from two samples to 0.005 degrees */
    LITTLE = 6        /* samples: so far hands turn a block to see whether it goes in better */
};

static const double between_turns = 2 * PI / TURNS;
static const double felt = 0.1; /* of what hands let pass: a turn that gains less is not felt */
static const double tiny = 1e-9;

/* Direction u, and by how much the moved shape reaches farther there than its place. */
typedef struct Row {
    Point u;
    double c;
} Row;

typedef struct Search {
    CoreShape shape;
    Circle core;
    Point round[DIRECTIONS]; /* evenly spaced directions */
    int sides;
    Point side[CORE_CORNERS_MAX]; /* directions square to the straight sides, outwards */
    double off[TURNS];            /* steps: how far apart at best, at each turn, end for end or not */
} Search;

/* Those found. */
typedef struct Ways {
    Rigid own[OWN_MOTIONS_MAX];
    int owns, count;
    Rigid *near;
} Ways;

static double dot(Point a, Point b) {
    return a.x * b.x + a.y * b.y;
}

static double cross(Point a, Point b) {
    return a.x * b.y - a.y * b.x;
}

static Point less(Point a, Point b) {
    return (Point){a.x - b.x, a.y - b.y};
}

/* --- 1. --- */

/* Does the arc from corner a, clockwise to b, have a point at which it faces u? */
static bool arc_faces(Circle core, Point a, Point b, Point u) {
    Point p = less(a, (Point){core.x, core.y}), q = less(b, (Point){core.x, core.y});
    bool after = cross(p, u) >= 0, before = cross(u, q) >= 0;
    return cross(p, q) >= 0 ? after && before : after || before;
}

/* How far the shape reaches in direction u. */
static double reach(const Search *s, Point u) {
    const CoreShape *shape = &s->shape;
    double most = shape->corners ? -HUGE_VAL : dot((Point){s->core.x, s->core.y}, u) + s->core.r;
    for (int i = 0; i < shape->corners; i++) {
        most = fmax(most, dot(shape->corner[i], u));
        if (shape->arc[i] && arc_faces(s->core, shape->corner[i], shape->corner[(i + 1) % shape->corners], u))
            return dot((Point){s->core.x, s->core.y}, u) + s->core.r;
    }
    return most;
}

static void add_row(const Search *s, const Rigid *motion, Point u, Row *row) {
    *row = (Row){u, reach(s, rigid_undone(u, motion)) - reach(s, u)};
}

/* The motion has no shift. */
static int list_rows(const Search *s, const Rigid *motion, Row row[ROWS_MAX]) {
    int rows = 0;
    for (int i = 0; i < DIRECTIONS; i++) add_row(s, motion, s->round[i], &row[rows++]);
    for (int i = 0; i < s->sides; i++) {
        add_row(s, motion, s->side[i], &row[rows++]);
        add_row(s, motion, rigid_moved(s->side[i], motion), &row[rows++]);
    }
    return rows;
}

/* --- 2. --- */

/* p as a sum of three directions, whose shares add up to 1. Three different directions never lie in a line.
 */
static void shares_of(const Row held[3], Point p, double share[3]) {
    Point a = less(held[1].u, held[0].u), b = less(held[2].u, held[0].u), c = less(p, held[0].u);
    double whole = cross(a, b);
    share[1] = cross(c, b) / whole;
    share[2] = cross(a, c) / whole;
    share[0] = 1 - share[1] - share[2];
}

/* The shift after which the three differences are equal; returns how large they are. */
static double hold_equal(const Row held[3], Point *shift) {
    Point a = less(held[1].u, held[0].u), b = less(held[2].u, held[0].u);
    double p = held[0].c - held[1].c, q = held[0].c - held[2].c, whole = cross(a, b);
    *shift = (Point){(p * b.y - q * a.y) / whole, (q * a.x - p * b.x) / whole};
    return held[0].c + dot(held[0].u, *shift);
}

/* The row that is farthest off after the shift, taken the way round in which it is over 0; returns how far.
 */
static double farthest(const Row *row, int rows, Point shift, Row *out) {
    double most = -1;
    for (int i = 0; i < rows; i++) {
        double off = row[i].c + dot(row[i].u, shift);
        if (fabs(off) <= most) continue;
        most = fabs(off);
        *out = off < 0 ? (Row){{-row[i].u.x, -row[i].u.y}, -row[i].c} : row[i];
    }
    return most;
}

/* Which of the three gives way. The middle of the directions stays within them: their shares in it are 0 or
 * more. */
static int goes_out(const Row held[3], Point in) {
    double share[3], part[3], least = HUGE_VAL;
    int out = 0;
    shares_of(held, (Point){0, 0}, share);
    shares_of(held, in, part);
    for (int i = 0; i < 3; i++) {
        if (part[i] <= tiny || share[i] / part[i] >= least) continue;
        least = share[i] / part[i];
        out = i;
    }
    return out;
}

/* Sets the motion's shift to the best one; returns how far apart the shapes are then. */
static double shift_best(const Search *s, Rigid *motion) {
    Row row[ROWS_MAX] = {{{0, 0}, 0}}, held[3], in = row[0];
    motion->shift = (Point){0, 0};
    int rows = list_rows(s, motion, row);
    for (int i = 0; i < 3; i++) held[i] = row[i * DIRECTIONS / 3];
    for (int pass = 0;; pass++) {
        double bound = hold_equal(held, &motion->shift);
        double apart = farthest(row, rows, motion->shift, &in);
        if (apart <= bound + tiny || pass == PASSES_MAX) return apart;
        held[goes_out(held, in.u)] = in;
    }
}

/* --- 3. --- */

static Rigid turned_by(double angle, bool mirrored) {
    return (Rigid){.mirrored = mirrored, .cosine = cos(angle), .sine = sin(angle)};
}

static double apart_at(const Search *s, double angle, bool mirrored, Rigid *out) {
    *out = turned_by(angle, mirrored);
    return shift_best(s, out);
}

/* Golden section between the neighbours of a sample. */
static double settle(const Search *s, double angle, bool mirrored, Rigid *out) {
    const double golden = (sqrt(5) - 1) / 2;
    double low = angle - between_turns, high = angle + between_turns;
    double p = high - golden * (high - low), q = low + golden * (high - low);
    Rigid at;
    double at_p = apart_at(s, p, mirrored, &at), at_q = apart_at(s, q, mirrored, &at);
    for (int i = 0; i < SHRINKS; i++) {
        if (at_p <= at_q) {
            high = q;
            q = p;
            at_q = at_p;
            p = high - golden * (high - low);
            at_p = apart_at(s, p, mirrored, &at);
        } else {
            low = p;
            p = q;
            at_p = at_q;
            q = low + golden * (high - low);
            at_q = apart_at(s, q, mirrored, &at);
        }
    }
    return apart_at(s, at_p <= at_q ? p : q, mirrored, out);
}

/* Do two motions turn alike, to so much? */
static bool turns_alike(const Rigid *a, const Rigid *b, double angle) {
    return a->mirrored == b->mirrored && a->cosine * b->cosine + a->sine * b->sine > cos(angle);
}

static bool any_alike(const Rigid *motion, int motions, const Rigid *one, double angle) {
    for (int i = 0; i < motions; i++)
        if (turns_alike(&motion[i], one, angle)) return true;
    return false;
}

static Search search_for(const Outline *outline, Circle core) {
    Search s = {.shape = core_shape(outline, core), .core = core};
    const CoreShape *shape = &s.shape;
    for (int i = 0; i < DIRECTIONS; i++)
        s.round[i] = (Point){cos(2 * PI * i / DIRECTIONS), sin(2 * PI * i / DIRECTIONS)};
    for (int i = 0; i < shape->corners; i++) {
        if (shape->arc[i]) continue;
        Point along = less(shape->corner[(i + 1) % shape->corners], shape->corner[i]);
        double length = sqrt(dot(along, along));
        s.side[s.sides++] = (Point){along.y / length, -along.x / length};
    }
    return s;
}

/* How far its farthest point is from about its middle. */
static double farthest_point(const Search *s) {
    double widest = 0;
    for (int i = 0; i < DIRECTIONS / 2; i++)
        widest = fmax(widest, reach(s, s->round[i]) + reach(s, s->round[i + DIRECTIONS / 2]));
    return widest / sqrt(3); /* Jung 1901: a disc so large holds it */
}

static void sample(Search *s, bool mirrored) {
    Rigid at;
    for (int i = 0; i < TURNS; i++) s->off[i] = apart_at(s, i * between_turns, mirrored, &at);
}

/* The sample so many behind that turn. */
static double off_at(const Search *s, int turn, int behind) {
    return s->off[(turn + behind + TURNS) % TURNS];
}

static bool is_lowest(const Search *s, int turn) {
    return s->off[turn] <= off_at(s, turn, -1) && s->off[turn] <= off_at(s, turn, 1);
}

/* Would hands that turn it a little feel no place where it goes in better? */
static bool is_level(const Search *s, int turn, double feel) {
    for (int i = -LITTLE; i <= LITTLE; i++)
        if (off_at(s, turn, i) < s->off[turn] - feel) return false;
    return true;
}

/* Adds a way unless there is one that turns alike, to so much. */
static void add_way(const Rigid *way, double alike, Ways *ways) {
    if (ways->count < NEAR_MOTIONS_MAX && !any_alike(ways->own, ways->owns, way, alike) &&
        !any_alike(ways->near, ways->count, way, alike))
        ways->near[ways->count++] = *way;
}

int near_motions(const Outline *outline, Circle core, double apart, Rigid out[NEAR_MOTIONS_MAX]) {
    Search s = search_for(outline, core);
    Ways ways = {.near = out};
    Rigid at;
    ways.owns = own_motions(outline, core, ways.own);
    const double changes = farthest_point(&s) * between_turns;
    for (int mirrored = 0; mirrored < 2; mirrored++) {
        sample(&s, mirrored);
        for (int i = 0; i < TURNS; i++)
            if (is_lowest(&s, i) && s.off[i] <= apart + changes &&
                settle(&s, i * between_turns, mirrored, &at) <= apart)
                add_way(&at, between_turns, &ways);
        for (int i = 0; i < TURNS; i++)
            if (s.off[i] <= apart && is_level(&s, i, felt * apart) &&
                apart_at(&s, i * between_turns, mirrored, &at) <= apart)
                add_way(&at, LITTLE * between_turns, &ways);
    }
    return ways.count;
}
