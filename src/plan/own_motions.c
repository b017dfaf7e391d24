/* How a block can be laid on its own place. SPDX-License-Identifier: MIT
 *
 * Input: a block's outline and the core. Output: every rigid motion that lays what of it lies inside the core
 * on itself.
 * 1. Its shape is what the core's edge leaves of the outline: corners, joined by straight sides or by arcs
 * of the core's edge.
 * 2. A motion takes the corners to the corners, all in order: it is told by where the first one goes, and
 * whether the section is laid end for end; sides must go to sides and arcs to arcs.
 * 3. The turn is the one that brings the corners as near as can be to where they go, in the sum of squares
 * (about their middle; the angle's sine and cosine are two sums over the corners). It fits if none stays
 * farther off than `fits`: arcs, all of one radius and bulging outwards, then lie on each other as well.
 * Cost: O(corners^2) for each block. */
#include "plan/plan_parts.h"

#include <math.h>

/* Steps: no corner may be farther than so from where it should be. Far over what rounding leaves, and far
 * under what hands can tell. */
static const double fits = 0.01;
/* Steps: corners this near to each other are one. */
static const double merged = 1e-6;

/* --- 1. --- */

static bool same_point(Point a, Point b, double apart) {
    return (a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y) <= apart * apart;
}

/* The ends of the side's part inside the core; false if there is none. */
static bool clip(Point a, Point b, Circle core, Point *p, Point *q) {
    double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
    double middle = ((core.x - a.x) * dx + (core.y - a.y) * dy) / length2;
    double x = a.x + middle * dx - core.x, y = a.y + middle * dy - core.y;
    double half2 = (core.r * core.r - x * x - y * y) / length2;
    if (half2 <= 0) return false;
    double from = fmax(middle - sqrt(half2), 0), to = fmin(middle + sqrt(half2), 1);
    *p = (Point){a.x + from * dx, a.y + from * dy};
    *q = (Point){a.x + to * dx, a.y + to * dy};
    return from < to && !same_point(*p, *q, merged);
}

CoreShape core_shape(const Outline *o, Circle core) {
    CoreShape s = {0};
    for (int i = 0; i < o->corners; i++) {
        Point p, q;
        if (!clip(o->corner[i], o->corner[(i + 1) % o->corners], core, &p, &q)) continue;
        int last = s.corners - 1;
        if (last < 0 || !same_point(s.corner[last], p, merged)) {
            if (last >= 0) s.arc[last] = true;
            s.corner[s.corners++] = p;
        }
        s.corner[s.corners++] = q;
    }
    int last = s.corners - 1;
    if (last > 1 && same_point(s.corner[last], s.corner[0], merged))
        s.corners = last;
    else if (last >= 0)
        s.arc[last] = true;
    return s;
}

/* --- 2., 3. --- */

Point rigid_moved(Point p, const Rigid *m) {
    double x = m->mirrored ? -p.x : p.x;
    return (Point){m->cosine * x - m->sine * p.y + m->shift.x, m->sine * x + m->cosine * p.y + m->shift.y};
}

Point rigid_undone(Point p, const Rigid *m) {
    double x = p.x - m->shift.x, y = p.y - m->shift.y;
    double back = m->cosine * x + m->sine * y;
    return (Point){m->mirrored ? -back : back, m->cosine * y - m->sine * x};
}

/* The corner that corner i goes to, if the first one goes to corner `first`. */
static int goes_to(const CoreShape *s, bool mirrored, int first, int i) {
    return (mirrored ? first - i + s->corners : first + i) % s->corners;
}

static bool sides_agree(const CoreShape *s, bool mirrored, int first) {
    for (int i = 0; i < s->corners; i++)
        if (s->arc[i] != s->arc[goes_to(s, mirrored, first, mirrored ? i + 1 : i)]) return false;
    return true;
}

static Point middle_of(const CoreShape *s) {
    Point sum = {0, 0};
    for (int i = 0; i < s->corners; i++) sum = (Point){sum.x + s->corner[i].x, sum.y + s->corner[i].y};
    return (Point){sum.x / s->corners, sum.y / s->corners};
}

/* The best motion that takes corners to corners like that. */
static Rigid motion_to(const CoreShape *s, bool mirrored, int first) {
    Point middle = middle_of(s);
    Rigid m = {.mirrored = mirrored};
    for (int i = 0; i < s->corners; i++) {
        Point p = s->corner[i], q = s->corner[goes_to(s, mirrored, first, i)];
        double x = mirrored ? middle.x - p.x : p.x - middle.x, y = p.y - middle.y;
        double u = q.x - middle.x, v = q.y - middle.y;
        m.cosine += x * u + y * v;
        m.sine += x * v - y * u;
    }
    double length = sqrt(m.cosine * m.cosine + m.sine * m.sine);
    m.cosine = length > 0 ? m.cosine / length : 1;
    m.sine = length > 0 ? m.sine / length : 0;
    Point at = rigid_moved(middle, &m);
    m.shift = (Point){middle.x - at.x, middle.y - at.y};
    return m;
}

static bool lies_on_itself(const CoreShape *s, bool mirrored, int first, const Rigid *m) {
    for (int i = 0; i < s->corners; i++)
        if (!same_point(rigid_moved(s->corner[i], m), s->corner[goes_to(s, mirrored, first, i)], fits))
            return false;
    return true;
}

int own_motions(const Outline *outline, Circle core, Rigid out[OWN_MOTIONS_MAX]) {
    CoreShape s = core_shape(outline, core);
    int count = 0;
    out[count++] = (Rigid){.cosine = 1};
    for (int mirrored = 0; mirrored < 2; mirrored++)
        for (int first = mirrored ? 0 : 1; first < s.corners; first++) {
            if (!sides_agree(&s, mirrored, first)) continue;
            Rigid m = motion_to(&s, mirrored, first);
            if (lies_on_itself(&s, mirrored, first, &m)) out[count++] = m;
        }
    return count;
}
