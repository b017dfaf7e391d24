/* Tests of src/plan/slant_sheets.c and slant_wraps.c: sheets and round ropes in the lay-up.
 * SPDX-License-Identifier: MIT */
#include "plan/plan_parts.h"
#include "plan/slicing.h"
#include "drawn_grid.h"
#include "laid.h"

#include <geos_c.h>
#include <setjmp.h>
#include <stdarg.h>
#include <cmocka.h>

enum { N = 60, LEAST = 4, SHEET = 2 };

/* With `with` or without sheets and what is round. */
static LayUp laid(const Grid *grid, LayKey key, bool with) {
    LayUp layup = {0};
    Starts starts = {0};
    Err err = {0};
    const double strip = LEAST * LEAST;
    assert_true(starts_lay(grid, &key, 0.05 * strip, &starts, &err));
    if (!with) starts.wishes = (Wishes){.wraps = 0};
    if (!with) key.sheet_steps = grid->steps;
    assert_true(search_cuts(grid, &key, &starts, 0.132 * strip, &layup, &err));
    starts_free(&starts);
    return layup;
}

static int rounds_of(const LayUp *layup) {
    int rounds = 0;
    for (int i = 0; i < layup->ropes; i++) rounds += layup->rope[i].round;
    return rounds;
}

static int target(double x, double y) {
    double r = sqrt((x - 4) * (x - 4) + (y + 3) * (y + 3));
    return r < 4 ? 1 : r < 7 ? 2 : r < 10 ? 1 : 0;
}
static int ring_o(double x, double y) {
    double r = sqrt(x * x + y * y);
    return r < 6 ? 0 : r < 9 ? 1 : 0;
}
static int wheels(double x, double y) {
    double r = sqrt((fabs(x) - 12) * (fabs(x) - 12) + (y - 8) * (y - 8));
    if (r < 2.5) return 2;
    if (r < 5.5) return 1;
    return fabs(x + 2) < 17 && y < 3 && y > -8 ? 3 : 0;
}
static int eyes(double x, double y) {
    double r = sqrt(x * x + y * y), e = sqrt((fabs(x) - 11) * (fabs(x) - 11) + (y + 6) * (y + 6));
    if (e < 6) return e < 2.5 ? 2 : 0;
    return fabs(x) < 9 && y > 8 && y < 13 ? 2 : r < 27 ? 1 : 0;
}
static int square_rim(double x, double y) {
    double in = inside_regular(4, 16, 0, x, y - 2);
    return in < 0 ? 0 : in < 2 ? 1 : fabs(x - 2) < 4 && fabs(y) < 7 ? 0 : 2;
}
/* Its own mirror image about both axes. */
static int sign_rim(double x, double y) {
    double in = inside_regular(4, 16, 0, x, y);
    bool cross = fmin(fabs(x), fabs(y)) < 3 && fmax(fabs(x), fabs(y)) < 9;
    return in < 0 ? 0 : in < 2 ? 1 : cross ? 0 : 2;
}
static int triangle_rim(double x, double y) {
    double in = inside_regular(3, 12, PI / 2, x, y - 3);
    return in < 0 ? 0 : in < 2.5 ? 1 : fabs(x) < 2 && fabs(y - 2) < 5 ? 3 : 2;
}
static int shield_rim(double x, double y) {
    double in = fmin(fmin(16 - fabs(x), y + 18), fmin((22 - y * 0.8 - fabs(x)) / 1.28, 30));
    return in < 0 ? 0 : in < 2.2 ? 1 : x < 1 ? 2 : 3;
}

static int two_rims(double x, double y) {
    double in = inside_regular(4, 16, 0, x, y - 2);
    return in < 0 ? 0 : in < 2 ? 1 : in < 4 ? 2 : fabs(x - 2) < 4 && fabs(y) < 7 ? 1 : 3;
}
static int fine_rim(double x, double y) {
    double in = inside_regular(4, 6, 0, x - 4, y);
    return in < 0 ? 0 : in < 1 ? 1 : 2 + ((int)floor((x - 4 + 50) / 2.5) % 2);
}

typedef struct Drawn {
    const char *name;
    Drawing *drawing;
    int rounds, wraps; /* at least */
    int fewer;         /* ropes, at least */
} Drawn;

static void drawn_pictures_get_their_sheets_and_round_ropes_and_fewer_ropes(void **state) {
    (void)state;
    static const Drawn drawn[] = {{"target", target, 1, 2, 15},    {"an O", ring_o, 1, 1, 10},
                                  {"wheels", wheels, 1, 0, 4},     {"eyes", eyes, 2, 2, 10},
                                  {"square", square_rim, 0, 1, 8}, {"triangle", triangle_rim, 0, 1, 12},
                                  {"shield", shield_rim, 0, 1, 6}, {"sign", sign_rim, 0, 1, 6}};
    for (size_t i = 0; i < sizeof drawn / sizeof *drawn; i++) {
        Grid grid = drawn_grid(N, LEAST, 4, drawn[i].drawing);
        const LayKey key = sheet_key(SHEET);
        LayUp before = laid(&grid, key, false), after = laid(&grid, key, true);
        check_laid(&grid, &key, &after);
        print_message("%s: %d ropes, cost %.1f; then %d ropes, %d of them round, and %d sheets, cost %.1f\n",
                      drawn[i].name, before.laid, before.cost, after.laid, rounds_of(&after), after.wraps,
                      after.cost);
        if (before.wraps > 0 || rounds_of(&before) > 0 || rounds_of(&after) < drawn[i].rounds ||
            after.wraps < drawn[i].wraps || before.laid - after.laid < drawn[i].fewer)
            fail_msg("%s", drawn[i].name);
        layup_free(&before);
        layup_free(&after);
        grid_free(&grid);
    }
}

static void two_rims_become_two_sheets_round_one_block(void **state) {
    (void)state;
    Grid grid = drawn_grid(N, LEAST, 4, two_rims);
    const LayKey key = sheet_key(SHEET);
    LayUp layup = laid(&grid, key, true);
    int twice = 0;
    check_laid(&grid, &key, &layup);
    for (int i = 0; i < layup.nodes; i++) {
        const Node *node = &layup.node[i];
        twice += node->kind == NODE_WRAP && layup.node[node->first].kind == NODE_WRAP;
    }
    assert_int_equal(twice, 1);
    assert_int_equal(layup.wraps, 2);
    assert_int_equal(layup.wrap[0].candy, 2);
    assert_int_equal(layup.wrap[1].candy, 1);
    layup_free(&layup);
    grid_free(&grid);
}

static void in_a_fine_block_sheets_are_half_as_thick(void **state) {
    (void)state;
    Grid grid = drawn_grid(N, LEAST, 4, fine_rim);
    grid.fine_most = 16;
    const LayKey key = sheet_key(SHEET);
    LayUp layup = laid(&grid, key, true);
    check_laid(&grid, &key, &layup);
    assert_true(layup.wraps > 0);
    for (int i = 0; i < layup.wraps; i++) assert_true(layup.wrap[i].fine);
    assert_true(layup.wrap[layup.wraps - 1].thickness == SHEET / 2.0); /* the outer one */
    assert_int_equal(layup.wrap[layup.wraps - 1].candy, 1);
    layup_free(&layup);
    grid_free(&grid);
}

/* --- what holds for all --- */

/* Something with a rim: round, or a polygon of equal sides. */
typedef struct Thing {
    double x, y, r, rim, turn;
    int sides; /* 0: round */
    int candy[3];
} Thing;

static double inside_thing(const Thing *thing, double x, double y) {
    double u = x - thing->x, v = y - thing->y;
    if (thing->sides == 0) return thing->r - sqrt(u * u + v * v);
    return inside_regular(thing->sides, thing->r, thing->turn, u, v);
}

enum { THINGS = 2 };

/* In its own half of the square, left and up or right and down. */
static Thing thrown_thing(int n, int least, int which, uint64_t *seed) {
    Thing thing = {.r = least * (1.75 + thrown(seed, 4) / 4.0), .rim = least * (4 + thrown(seed, 5)) / 8.0};
    double off = (which ? 1 : -1) * n / 6.0;
    thing.x = off + thrown(seed, 5) / 2.0;
    thing.y = off / 2 + thrown(seed, 5) / 2.0;
    thing.turn = thrown(seed, 3) * PI / 6;
    thing.sides = thrown(seed, 6);
    if (thing.sides < 3) thing.sides = thing.sides == 2 ? 4 : 0;
    thing.candy[0] = 1 + thrown(seed, 3);
    thing.candy[2] = (thing.candy[0] + 1 + thrown(seed, 3)) % 4;
    thing.candy[1] = thing.sides == 0 ? thing.candy[2] : thrown(seed, 4);
    return thing;
}

/* Rims with a bar in them. Every third grid is its own mirror image, every other has fine blocks. */
static Grid thrown_things(int round) {
    uint64_t seed = (uint64_t)round * 7919 + 3;
    const int least = 2 + thrown(&seed, 3), n = 10 * least + thrown(&seed, 8);
    Thing thing[THINGS];
    Grid grid = drawn_grid(n, least, 4, ring_o);
    for (int i = 0; i < THINGS; i++) thing[i] = thrown_thing(n, least, i, &seed);
    for (int i = 0; i < grid.wanted.side * grid.wanted.side; i++) {
        double x = (i % grid.wanted.side + 0.5) / SAMPLES - n / 2.0;
        if (round % 3 == 0) x = -fabs(x);
        double y = (i / grid.wanted.side + 0.5) / SAMPLES - n / 2.0;
        if (grid.wanted.candy[i] == OUTSIDE) continue;
        grid.wanted.candy[i] = 0;
        for (int k = 0; k < THINGS; k++) {
            double in = inside_thing(&thing[k], x, y);
            bool bar = fabs(x - thing[k].x) < least / 2.0;
            if (in >= 0) grid.wanted.candy[i] = (uint8_t)thing[k].candy[in < thing[k].rim ? 0 : bar ? 1 : 2];
        }
    }
    if (round % 2) grid.fine_most = 3 * least;
    sum_samples(&grid);
    return grid;
}

/* The sums of all kinds over many rounds. */
typedef struct Seen {
    int sheets, second, rounds, round_sheets, fine, mirrored;
} Seen;

static void count_seen(const LayUp *layup, bool mirrored, Seen *seen) {
    for (int i = 0; i < layup->wraps; i++) {
        seen->sheets += !layup->wrap[i].round;
        seen->round_sheets += layup->wrap[i].round;
        seen->fine += layup->wrap[i].fine;
        seen->mirrored += mirrored;
    }
    for (int i = 0; i < layup->nodes; i++) {
        const Node *node = &layup->node[i];
        seen->second += node->kind == NODE_WRAP && layup->node[node->first].kind == NODE_WRAP;
    }
    seen->rounds += rounds_of(layup);
}

static LayUp laid_things(const Grid *grid, const LayKey *key) {
    LayUp layup = {0};
    Starts starts = {0};
    Err err = {0};
    const double strip = grid->least_steps * grid->least_steps;
    assert_true(starts_lay(grid, key, 0.05 * strip, &starts, &err));
    assert_true(search_cuts(grid, key, &starts, 0.132 * strip, &layup, &err));
    starts_free(&starts);
    return layup;
}

/* Are all sheets there on the other side as well? */
static bool is_mirrored(const LayUp *layup, Motion mirror) {
    for (int i = 0; i < layup->wraps; i++) {
        Outline twin = outline_moved(&layup->wrap[i].outline, mirror);
        int found = 0;
        for (int k = 0; k < layup->wraps; k++)
            found += layup->wrap[k].candy == layup->wrap[i].candy &&
                     outline_same(&layup->wrap[k].outline, &twin, 1e-9);
        if (found != 1) return false;
    }
    return true;
}

static bool is_mirrored_some_way(const Grid *grid, const LayUp *layup) {
    const Motion across = {{.mirrored = true}, {grid->steps, 0}}, down = {{true, 2}, {0, grid->steps}};
    return is_mirrored(layup, across) || is_mirrored(layup, down);
}

/* --- what GEOS, a geometry library, says --- */

static GEOSGeometry *polygon_of(GEOSContextHandle_t geos, const Outline *o) {
    GEOSCoordSequence *ring = GEOSCoordSeq_create_r(geos, (unsigned)o->corners + 1, 2);
    for (int i = 0; i <= o->corners; i++) {
        Point p = o->corner[i % o->corners];
        assert_true(GEOSCoordSeq_setXY_r(geos, ring, (unsigned)i, p.x, p.y));
    }
    GEOSGeometry *shape = GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, ring), NULL, 0);
    assert_non_null(shape);
    return shape;
}

/* Grown or shrunk, corners mitred. */
static GEOSGeometry *grown(GEOSContextHandle_t geos, const GEOSGeometry *shape, double by) {
    return GEOSBufferWithStyle_r(geos, shape, by, 8, GEOSBUF_CAP_FLAT, GEOSBUF_JOIN_MITRE, 4);
}

/* Which is freed. */
static double area_of(GEOSContextHandle_t geos, GEOSGeometry *shape) {
    double area = (double)NAN;
    assert_true(GEOSArea_r(geos, shape, &area));
    GEOSGeom_destroy_r(geos, shape);
    return area;
}

/* What a sheet leaves of its outline is GEOS's negative buffer, and that one's positive buffer the outline.
 */
static void check_sheet(GEOSContextHandle_t geos, const Wrap *wrap) {
    GEOSGeometry *outer = polygon_of(geos, &wrap->outline), *inner = polygon_of(geos, &wrap->inner);
    GEOSGeometry *shrunk = grown(geos, outer, -wrap->thickness), *back = grown(geos, inner, wrap->thickness);
    const double whole = outline_area(&wrap->outline);
    assert_true(area_of(geos, GEOSSymDifference_r(geos, shrunk, inner)) < 1e-9 * whole);
    assert_true(area_of(geos, GEOSSymDifference_r(geos, back, outer)) < 1e-9 * whole);
    double ring = area_of(geos, GEOSDifference_r(geos, outer, shrunk));
    assert_true(fabs(ring - (whole - outline_area(&wrap->inner))) < 1e-9 * whole);
    GEOSGeom_destroy_r(geos, outer);
    GEOSGeom_destroy_r(geos, inner);
    GEOSGeom_destroy_r(geos, shrunk);
    GEOSGeom_destroy_r(geos, back);
}

static GEOSGeometry *circle_of(GEOSContextHandle_t geos, Circle c) {
    enum { QUARTER = 1000 };
    GEOSGeometry *at = GEOSGeom_createPointFromXY_r(geos, c.x, c.y);
    GEOSGeometry *disc = GEOSBuffer_r(geos, at, c.r, QUARTER);
    GEOSGeom_destroy_r(geos, at);
    return disc;
}

/* The rest about something round is what GEOS's circle leaves of the leaf, inside the core's; so is a round
 * rope. Its circles are polygons of 4000 corners: short of the area by half a millionth. */
static void check_rest(GEOSContextHandle_t geos, const Grid *grid, const LayUp *layup, const Node *node) {
    const Rope *rest = &layup->rope[node->second];
    Circle disc = disc_about(&layup->node[node->first].outline);
    GEOSGeometry *leaf = polygon_of(geos, &node->outline), *core = circle_of(geos, grid->core);
    GEOSGeometry *hole = circle_of(geos, disc), *inside = GEOSIntersection_r(geos, leaf, core);
    double area = area_of(geos, GEOSDifference_r(geos, inside, hole)), round = area_of(geos, hole);
    assert_true(fabs(area - rest->area) < 1e-6 * PI * grid->core.r * grid->core.r);
    assert_true(fabs(round - PI * disc.r * disc.r) < 1e-6 * round);
    GEOSGeom_destroy_r(geos, leaf);
    GEOSGeom_destroy_r(geos, core);
    GEOSGeom_destroy_r(geos, inside);
}

static void check_against_geos(GEOSContextHandle_t geos, const Grid *grid, const LayUp *layup) {
    for (int i = 0; i < layup->wraps; i++)
        if (!layup->wrap[i].round) check_sheet(geos, &layup->wrap[i]);
    for (int i = 0; i < layup->nodes; i++)
        if (layup->node[i].kind == NODE_ROUND) check_rest(geos, grid, layup, &layup->node[i]);
}

/* Areas, shapes, costs, mirror images; sheets and rests as GEOS has them. */
static void lay_ups_of_random_rims_and_discs_hold_what_all_do(void **state) {
    (void)state;
    Seen seen = {0};
    GEOSContextHandle_t geos = GEOS_init_r();
    for (int round = 0; round < 18; round++) {
        Grid grid = thrown_things(round);
        const LayKey key = sheet_key(grid.least_steps / 2);
        PointCosts costs = point_costs(&grid);
        LayUp layup = laid_things(&grid, &key);
        CostRange plain = layup_cost(&costs, &layup);
        check_laid(&grid, &key, &layup);
        check_against_geos(geos, &grid, &layup);
        if (round % 3 == 0) assert_true(is_mirrored_some_way(&grid, &layup));
        if (layup.cost < plain.low - 1e-9 || layup.cost > plain.high + 1e-9)
            fail_msg("round %d: %f, not %f to %f", round, layup.cost, plain.low, plain.high);
        count_seen(&layup, round % 3 == 0, &seen);
        free(costs.cost);
        layup_free(&layup);
        grid_free(&grid);
    }
    GEOS_finish_r(geos);
    print_message(
        "%d sheets, %d of them second ones, %d fine, %d in mirrored; %d round ropes with %d sheets\n",
        seen.sheets, seen.second, seen.fine, seen.mirrored, seen.rounds, seen.round_sheets);
    assert_true(seen.sheets > 8 && seen.mirrored > 2 && seen.rounds > 0 && seen.round_sheets > 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(drawn_pictures_get_their_sheets_and_round_ropes_and_fewer_ropes),
        cmocka_unit_test(two_rims_become_two_sheets_round_one_block),
        cmocka_unit_test(in_a_fine_block_sheets_are_half_as_thick),
        cmocka_unit_test(lay_ups_of_random_rims_and_discs_hold_what_all_do),
    };
    return cmocka_run_group_tests_name("wraps", tests, NULL, NULL);
}
