/* Tests of src/model/outline.c, src/model/wrapped.c and src/base/geom.c against GEOS, a geometry library, on
 * random lay-ups. SPDX-License-Identifier: MIT */
#include "model/wrapped.h"
#include "random_tree.h"

#include <geos_c.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <cmocka.h>

enum { TREES = 10000, DISCS = 400, LEAVES = 16, RIM_CORNERS = 1000 };

static void near(double got, double want, double limit) {
    if (!(fabs(got - want) <= limit)) fail_msg("got %.15g, want %.15g", got, want);
}

/* A polygon of GEOS. It looks at points with y up: clockwise as seen with y down is the other way round
 * there. */
static GEOSGeometry *polygon_of(GEOSContextHandle_t geos, const Point *p, int corners) {
    assert_true(corners > 2);
    GEOSCoordSequence *ring = GEOSCoordSeq_create_r(geos, (unsigned)corners + 1, 2);
    assert_non_null(ring);
    for (int i = 0; i <= corners; i++)
        assert_true(GEOSCoordSeq_setXY_r(geos, ring, (unsigned)i, p[i % corners].x, p[i % corners].y));
    GEOSGeometry *shape = GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, ring), NULL, 0);
    assert_non_null(shape);
    return shape;
}

static double area_of(GEOSContextHandle_t geos, const GEOSGeometry *shape) {
    double area = (double)NAN;
    assert_true(GEOSArea_r(geos, shape, &area));
    return area;
}

/* Valid, clockwise, convex, and no three corners in a line: its convex hull has the same area and corners. */
static void check_convex(GEOSContextHandle_t geos, const GEOSGeometry *shape, const Outline *o) {
    char round = 0;
    assert_int_equal(GEOSisValid_r(geos, shape), 1);
    const GEOSGeometry *ring = GEOSGetExteriorRing_r(geos, shape);
    assert_true(GEOSCoordSeq_isCCW_r(geos, GEOSGeom_getCoordSeq_r(geos, ring), &round));
    assert_int_equal(round, 1);
    GEOSGeometry *hull = GEOSConvexHull_r(geos, shape);
    assert_int_equal(GEOSGetNumCoordinates_r(geos, hull), o->corners + 1);
    near(area_of(geos, hull), outline_area(o), 1e-9 * outline_area(o));
    GEOSGeom_destroy_r(geos, hull);
}

static void check_width(GEOSContextHandle_t geos, const GEOSGeometry *shape, const Outline *o) {
    double length = (double)NAN;
    GEOSGeometry *across = GEOSMinimumWidth_r(geos, shape);
    assert_true(GEOSLength_r(geos, across, &length));
    near(outline_width(o).width, length, 1e-9 * length);
    GEOSGeom_destroy_r(geos, across);
}

/* Points round the outline lie inside or outside of it as GEOS says, those too near to its edge left out. */
static void check_sides(GEOSContextHandle_t geos, const GEOSGeometry *shape, const Outline *o,
                        uint64_t *seed) {
    const GEOSGeometry *ring = GEOSGetExteriorRing_r(geos, shape);
    for (int i = 0; i < 3; i++) {
        Point p = tree_middle(o);
        p.x += (random_below(seed, 2000) - 1000) / 100.0;
        p.y += (random_below(seed, 2000) - 1000) / 100.0;
        GEOSGeometry *at = GEOSGeom_createPointFromXY_r(geos, p.x, p.y);
        double off = (double)NAN;
        assert_true(GEOSDistance_r(geos, at, ring, &off));
        if (off > 1e-8) assert_int_equal(outline_side(o, p), GEOSContains_r(geos, shape, at) ? 1 : -1);
        GEOSGeom_destroy_r(geos, at);
    }
}

/* The area of the union. In one of every few hundred trees GEOS loses a leaf, where a corner misses the side
 * that it lies on by the last digit of a double; on a grid of 1e-9 steps it never does, but takes five times
 * as long. */
static double area_of_union(GEOSContextHandle_t geos, const GEOSGeometry *all, double wanted) {
    GEOSGeometry *whole = GEOSUnaryUnion_r(geos, all);
    double area = area_of(geos, whole);
    GEOSGeom_destroy_r(geos, whole);
    if (fabs(area - wanted) <= 1e-9 * wanted) return area;
    whole = GEOSUnaryUnionPrec_r(geos, all, 1e-9);
    area = area_of(geos, whole);
    GEOSGeom_destroy_r(geos, whole);
    return area;
}

/* The leaves cover the square once: all of it, and their areas add up to no more. */
static void check_tree(GEOSContextHandle_t geos, const LayUp *tree, int n, uint64_t seed) {
    GEOSGeometry *leaf[LEAVES];
    unsigned leaves = 0;
    double sum = 0;
    for (int i = 0; i < tree->nodes; i++) {
        const Outline *o = &tree->node[i].outline;
        if (tree->node[i].kind == NODE_CUT) continue;
        GEOSGeometry *shape = leaf[leaves++] = polygon_of(geos, o->corner, o->corners);
        double area = area_of(geos, shape);
        near(outline_area(o), area, 1e-9 * area);
        check_convex(geos, shape, o);
        check_width(geos, shape, o);
        check_sides(geos, shape, o, &seed);
        sum += area;
    }
    GEOSGeometry *all = GEOSGeom_createCollection_r(geos, GEOS_GEOMETRYCOLLECTION, leaf, leaves);
    near(area_of_union(geos, all, n * n), n * n, 1e-9 * n * n);
    near(sum, n * n, 1e-9 * n * n);
    GEOSGeom_destroy_r(geos, all);
}

static void leaves_of_random_trees_are_what_geos_says(void **state) {
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (uint64_t seed = 1; seed <= TREES; seed++) {
        int n = 16 + (int)(seed % 60), leaves = 2 + (int)(seed % (LEAVES - 1));
        LayUp tree = random_tree(n, leaves, 3, 1, seed);
        check_tree(geos, &tree, n, seed);
        layup_free(&tree);
    }
    GEOS_finish_r(geos);
}

/* --- the core --- */

/* The regular polygon with its corners on the circle. */
static GEOSGeometry *disc_of(GEOSContextHandle_t geos, Circle c) {
    Point p[RIM_CORNERS];
    for (int i = 0; i < RIM_CORNERS; i++) {
        double turn = 2 * PI * i / RIM_CORNERS;
        p[i] = (Point){c.x + c.r * cos(turn), c.y + c.r * sin(turn)};
    }
    return polygon_of(geos, p, RIM_CORNERS);
}

typedef struct Part {
    double area;
    Point low, high;
} Part;

static Part common_part(GEOSContextHandle_t geos, const GEOSGeometry *shape, const GEOSGeometry *disc) {
    Part part = {.low = {(double)NAN, (double)NAN}, .high = {(double)NAN, (double)NAN}};
    GEOSGeometry *both = GEOSIntersection_r(geos, shape, disc);
    part.area = area_of(geos, both);
    if (part.area > 0) {
        assert_true(GEOSGeom_getXMin_r(geos, both, &part.low.x) &&
                    GEOSGeom_getYMin_r(geos, both, &part.low.y));
        assert_true(GEOSGeom_getXMax_r(geos, both, &part.high.x) &&
                    GEOSGeom_getYMax_r(geos, both, &part.high.y));
    }
    GEOSGeom_destroy_r(geos, both);
    return part;
}

static void holds(const Part *outer, const Part *inner) {
    assert_true(inner->area <= outer->area + 1e-9);
    if (inner->area < 1e-9) return;
    assert_true(inner->low.x >= outer->low.x - 1e-9 && inner->low.y >= outer->low.y - 1e-9);
    assert_true(inner->high.x <= outer->high.x + 1e-9 && inner->high.y <= outer->high.y + 1e-9);
}

/* The disc lies between the regular polygon of N corners on its edge and the one whose sides touch it. So
 * does what an outline has of it, and the box of that. Of the former the disc has r^2 (pi - N / 2 sin(2 pi /
 * N)) more, which is what the leaves must have more together. */
static void the_core_in_leaves_lies_between_two_polygons_of_geos(void **state) {
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (uint64_t seed = 1; seed <= DISCS; seed++) {
        const int n = 16 + (int)(seed % 60);
        const Circle core = {n / 2.0, n / 2.0, n / 2.0 - (double)(seed % 3)};
        LayUp tree = random_tree(n, 2 + (int)(seed % (LEAVES - 1)), 3, 1, seed);
        GEOSGeometry *inner = disc_of(geos, core);
        GEOSGeometry *outer = disc_of(geos, (Circle){core.x, core.y, core.r / cos(PI / RIM_CORNERS)});
        double more = 0;
        for (int i = 0; i < tree.nodes; i++) {
            const Outline *o = &tree.node[i].outline;
            if (tree.node[i].kind == NODE_CUT) continue;
            GEOSGeometry *shape = polygon_of(geos, o->corner, o->corners);
            Part least = common_part(geos, shape, inner), most = common_part(geos, shape, outer);
            Part ours = {.area = outline_disc_area(o, core)};
            bool any = outline_disc_box(o, core, &ours.low, &ours.high);
            assert_true(any || ours.area < 1e-9);
            holds(&most, &ours);
            holds(&ours, &least);
            more += ours.area - least.area;
            GEOSGeom_destroy_r(geos, shape);
        }
        double gap = PI - RIM_CORNERS / 2.0 * sin(2 * PI / RIM_CORNERS);
        near(more, core.r * core.r * gap, 1e-9 * n * n);
        GEOSGeom_destroy_r(geos, inner);
        GEOSGeom_destroy_r(geos, outer);
        layup_free(&tree);
    }
    GEOS_finish_r(geos);
}

/* --- sheets --- */

/* The shape grown by `far`, corners mitred or round. */
static GEOSGeometry *grown(GEOSContextHandle_t geos, const GEOSGeometry *shape, double far, bool round) {
    enum { QUARTER = 500, SHARPEST = 4 };
    GEOSGeometry *out = GEOSBufferWithStyle_r(geos, shape, far, QUARTER, GEOSBUF_CAP_ROUND,
                                              round ? GEOSBUF_JOIN_ROUND : GEOSBUF_JOIN_MITRE, SHARPEST);
    assert_non_null(out);
    return out;
}

/* The corners of a shape as an outline, clockwise as seen; false if they are too many. */
static bool outline_from(GEOSContextHandle_t geos, const GEOSGeometry *shape, Outline *out) {
    const GEOSCoordSequence *ring = GEOSGeom_getCoordSeq_r(geos, GEOSGetExteriorRing_r(geos, shape));
    unsigned corners = 0;
    char ccw = 0;
    assert_true(GEOSCoordSeq_getSize_r(geos, ring, &corners));
    assert_true(GEOSCoordSeq_isCCW_r(geos, ring, &ccw));
    if (corners < 4 || corners - 1 > OUTLINE_MAX) return false;
    *out = (Outline){.corners = (int)corners - 1};
    for (unsigned i = 0; i + 1 < corners; i++) {
        Point *p = &out->corner[ccw ? i : corners - 2 - i];
        assert_true(GEOSCoordSeq_getXY_r(geos, ring, i, &p->x, &p->y));
    }
    return true;
}

/* No corner under 60 degrees, as what is wrapped. */
static bool is_blunt(const Outline *o) {
    for (int i = 0; i < o->corners; i++) {
        Point p = o->corner[i], a = o->corner[(i + o->corners - 1) % o->corners], b = outline_next(o, i);
        double dot = (a.x - p.x) * (b.x - p.x) + (a.y - p.y) * (b.y - p.y);
        if (dot > 0.5 * hypot(a.x - p.x, a.y - p.y) * hypot(b.x - p.x, b.y - p.y)) return false;
    }
    return true;
}

/* Area and length of a mitred sheet: GEOS grows the block by the thickness, and by half of it. */
static void mitred_sheets_are_what_geos_grows(void **state) {
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    int sheets = 0;
    for (uint64_t seed = 1; seed <= 300; seed++) {
        LayUp layup = random_tree(60, LEAVES, 3, 4, seed);
        for (int i = 0; i < layup.ropes; i++) {
            Wrap wrap = {.inner = layup.rope[i].outline, .thickness = 1 + (double)(seed % 5) / 2};
            if (!is_blunt(&wrap.inner)) continue;
            double area, middle = 0;
            GEOSGeometry *shape = polygon_of(geos, wrap.inner.corner, wrap.inner.corners);
            GEOSGeometry *outer = grown(geos, shape, wrap.thickness, false),
                         *half = grown(geos, shape, wrap.thickness / 2, false);
            if (outline_from(geos, outer, &wrap.outline)) {
                area = area_of(geos, outer) - area_of(geos, shape);
                assert_true(GEOSLength_r(geos, half, &middle));
                near(wrap_area(&wrap), area, 1e-9 * area);
                near(wrap_length(&wrap), middle, 1e-9 * middle);
                near(wrap.thickness * wrap_length(&wrap), area, 1e-9 * area);
                sheets++;
            }
            GEOSGeom_destroy_r(geos, shape);
            GEOSGeom_destroy_r(geos, outer);
            GEOSGeom_destroy_r(geos, half);
        }
        layup_free(&layup);
    }
    assert_true(sheets > 500);
    GEOS_finish_r(geos);
}

/* GEOS's circles are polygons inside them: short of the area by a few millionths. */
static void round_sheets_are_what_geos_grows_round_a_point(void **state) {
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int r = 2; r <= 20; r++) {
        const Wrap wrap = {.outline = outline_of_box(30 - r - 2, 31 - r - 2, 2 * r + 4, 2 * r + 4),
                           .inner = outline_of_box(30 - r, 31 - r, 2 * r, 2 * r),
                           .round = true,
                           .thickness = 2};
        double middle = 0;
        GEOSGeometry *at = GEOSGeom_createPointFromXY_r(geos, 30, 31);
        GEOSGeometry *outer = grown(geos, at, r + 2, true), *inner = grown(geos, at, r, true),
                     *half = grown(geos, at, r + 1, true);
        double area = area_of(geos, outer) - area_of(geos, inner);
        assert_true(GEOSLength_r(geos, half, &middle));
        near(wrap_area(&wrap), area, 3e-6 * area);
        near(wrap_length(&wrap), middle, 3e-6 * middle);
        GEOSGeom_destroy_r(geos, at);
        GEOSGeom_destroy_r(geos, outer);
        GEOSGeom_destroy_r(geos, inner);
        GEOSGeom_destroy_r(geos, half);
    }
    GEOS_finish_r(geos);
}

/* Wherever the two stand: a side without length has no line to measure from. */
static void two_corners_in_one_place_leave_no_width(void **state) {
    (void)state;
    const Outline box = outline_of_box(8, 14, 6, 10);
    for (int twice = 0; twice < box.corners; twice++) {
        Outline o = {.corners = 0};
        for (int i = 0; i < box.corners; i++) {
            o.corner[o.corners++] = box.corner[i];
            if (i == twice) o.corner[o.corners++] = box.corner[i];
        }
        assert_true(outline_width(&o).width == 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_corners_in_one_place_leave_no_width),
        cmocka_unit_test(leaves_of_random_trees_are_what_geos_says),
        cmocka_unit_test(the_core_in_leaves_lies_between_two_polygons_of_geos),
        cmocka_unit_test(mitred_sheets_are_what_geos_grows),
        cmocka_unit_test(round_sheets_are_what_geos_grows_round_a_point),
    };
    return cmocka_run_group_tests_name("geos", tests, NULL, NULL);
}
