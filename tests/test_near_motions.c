/* Tests of src/plan/near_motions.c, and of the ways round that find_wrong_ways.c tells with it, against
 * blocks laid by hand (laid_by_hand.h) and against GEOS. SPDX-License-Identifier: MIT */
#include "plan/plan_parts.h"
#include "built_blocks.h"
#include "laid_by_hand.h"

#include <geos_c.h>

enum { N = 40 };

static const Circle core = {N / 2.0, N / 2.0, N / 2.0}, wide = {N / 2.0, N / 2.0, 10 * N};

static HandShape shape_of(const Outline *o) {
    HandShape s = {.corners = o->corners};
    memcpy(s.corner, o->corner, sizeof o->corner);
    return s;
}

static double degrees(const Rigid *m) {
    double angle = atan2(m->sine, m->cosine) * 180 / PI;
    return angle < -1 ? angle + 360 : angle;
}

/* --- which ways there are --- */

typedef struct Want {
    int count;
    struct {
        bool mirrored;
        double degrees;
    } way[8];
} Want;

/* Each of the ways is there, to 3 degrees, and no other. */
static void check_ways(const char *name, Outline o, Circle disc, double apart, Want want) {
    Rigid m[NEAR_MOTIONS_MAX];
    int count = near_motions(&o, disc, apart, m), found = 0;
    for (int i = 0; i < want.count; i++)
        for (int k = 0; k < count; k++)
            found += m[k].mirrored == want.way[i].mirrored && fabs(degrees(&m[k]) - want.way[i].degrees) < 3;
    if (count == want.count && found == count) return;
    for (int k = 0; k < count; k++) print_message("%d %g\n", m[k].mirrored, degrees(&m[k]));
    fail_msg("%s: %d ways, %d of them wanted", name, count, found);
}

/* A strip laid across its place is half the difference of its sides off it at best, at all of its edges. */
static void a_strip_goes_in_across_if_it_is_nearly_square(void **state) {
    (void)state;
    const Want across = {4, {{false, 90}, {false, 270}, {true, 90}, {true, 270}}}, none = {0};
    const Outline strip = outline_of_box(8, 8, 22, 18);
    check_ways("just", strip, wide, 2.001, across);
    check_ways("just not", strip, wide, 1.999, none);
    check_ways("square", outline_of_box(8, 8, 20, 20), wide, 4, none); /* its own ways are not repeated */
}

/* With sides of 20 and 20 + 2 x steps it is x off at its corners, laid end for end or turned, middle on
 * middle; shifted x / 2 it is half of that. */
static void a_shift_counts(void **state) {
    (void)state;
    const Outline cut = {5, {{10, 10}, {28, 10}, {30, 12}, {30, 30}, {10, 30}}};
    HandShape s = shape_of(&cut);
    HandWay way = {true, 0, hand_middle(&s), {0, 0}, 0};
    HandShape over = hand_shape_moved(&s, &way);
    double on_middle = hand_apart(&over, &s, (Point){0, 0}), best = hand_lay(&s, 0, true, HUGE_VAL).apart;
    assert_true(best < 0.85 * on_middle);
    Rigid m[NEAR_MOTIONS_MAX];
    assert_int_equal(near_motions(&cut, wide, (on_middle + best) / 2, m),
                     6); /* all but x and y changed over */
}

/* An even wedge with a side longer: laid end for end it goes in best askew. */
static void a_small_turn_counts(void **state) {
    (void)state;
    const Outline wedge = {3, {{20, 8}, {36, 32}, {4, 30}}};
    HandShape s = shape_of(&wedge);
    double straight = hand_lay(&s, 0, true, HUGE_VAL).apart, least = straight;
    for (int askew = -40; askew <= 40; askew++)
        least = fmin(least, hand_lay(&s, askew * PI / 720, true, HUGE_VAL).apart);
    assert_true(least < 0.7 * straight);
    for (int more = 0; more < 2; more++) {
        Rigid m[NEAR_MOTIONS_MAX];
        int count = near_motions(&wedge, wide, least * (more ? 1.02 : 0.98), m), straights = 0;
        for (int i = 0; i < count; i++) straights += m[i].mirrored && m[i].cosine > 0.9;
        assert_int_equal(straights, more);
    }
}

static void a_disc_with_a_little_cut_off_goes_in_at_any_turn(void **state) {
    (void)state;
    const Outline most = outline_of_box(1, 0, N - 1, N);
    Rigid m[NEAR_MOTIONS_MAX];
    int count = near_motions(&most, core, 2.67, m);
    for (int mirrored = 0; mirrored < 2; mirrored++)
        for (int angle = 60; angle <= 300; angle += 15) {
            double to = (angle + 180 * mirrored) * PI / 180; /* off its own way */
            bool near = false;
            for (int i = 0; i < count; i++)
                near |= m[i].mirrored == (bool)mirrored && m[i].cosine * cos(to) + m[i].sine * sin(to) > 0.86;
            if (!near) fail_msg("%d degrees", angle);
        }
    check_ways("half", outline_of_box(0, 0, core.r, N), core, 2.67, (Want){0}); /* its own is end for end */
}

/* --- how far apart --- */

static GEOSGeometry *polygon_of(GEOSContextHandle_t geos, const HandShape *s) {
    GEOSCoordSequence *ring = GEOSCoordSeq_create_r(geos, (unsigned)s->corners + 1, 2);
    for (int i = 0; i <= s->corners; i++) {
        Point p = s->corner[i % s->corners];
        assert_true(GEOSCoordSeq_setXY_r(geos, ring, (unsigned)i, p.x, p.y));
    }
    return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, ring), NULL, 0);
}

static HandShape moved_by(const HandShape *s, const Rigid *m) {
    HandShape out = {.corners = s->corners};
    for (int i = 0; i < s->corners; i++)
        out.corner[i] = rigid_moved(s->corner[m->mirrored ? s->corners - 1 - i : i], m);
    return out;
}

/* The outlines of the parts of random lay-ups, whole, each laid as the program says: GEOS measures how far
 * the outline is from its place then, which is no farther than was asked for; and no shift that is felt out
 * by hand is nearer by more than the directions between those looked at may hide. */
static void geos_finds_them_no_farther_off_than_asked_for(void **state) {
    (void)state;
    GEOSContextHandle_t geos = GEOS_init_r();
    int ways = 0;
    for (uint64_t seed = 1; seed <= 8; seed++) {
        LayUp tree = random_tree(N, 12, 3, 3, seed);
        for (int n = 0; n < tree.nodes; n++) {
            Rigid m[NEAR_MOTIONS_MAX];
            HandShape s = shape_of(&tree.node[n].outline);
            int count = near_motions(&tree.node[n].outline, wide, 2.67, m);
            GEOSGeometry *place = polygon_of(geos, &s);
            for (int i = 0; i < count; i++) {
                HandShape laid = moved_by(&s, &m[i]);
                GEOSGeometry *block = polygon_of(geos, &laid);
                double apart = -1;
                assert_true(GEOSHausdorffDistance_r(geos, place, block, &apart));
                assert_true(fabs(apart - hand_apart(&laid, &s, (Point){0, 0})) < 1e-9);
                HandWay best = hand_lay(&s, atan2(m[i].sine, m[i].cosine), m[i].mirrored, HUGE_VAL);
                if (apart > 2.67 * 1.002 || apart > best.apart * 1.002 + 0.01)
                    fail_msg("seed %d, node %d: %g off, by hand %g", (int)seed, n, apart, best.apart);
                GEOSGeom_destroy_r(geos, block);
                ways++;
            }
            GEOSGeom_destroy_r(geos, place);
        }
        layup_free(&tree);
    }
    GEOS_finish_r(geos);
    assert_true(ways > 200);
}

/* --- what they show --- */

static void face_of(const LayUp *layup, HandFace *face) {
    face->steps = N;
    face->parts = layup->ropes;
    for (int i = 0; i < layup->ropes; i++)
        face->part[i] =
            (HandPart){.candy = layup->rope[i].candy, .outline = shape_of(&layup->rope[i].outline)};
    hand_paint(face);
}

/* What laying a block by hand in every way shows: surely another face, or perhaps. */
typedef struct Shown {
    bool turned, mirrored; /* surely another, turned or end for end: in a way that goes in for sure */
    bool perhaps;          /* in a way that may be said to go in, and what hands press in counts as another */
} Shown;

enum { TRIED = 60 };

static void look_at(const HandFace *face, const HandShape *block, const HandWay *way, double apart,
                    Shown *shown) {
    static unsigned char other[HAND_SIDE][HAND_SIDE];
    enum { NO_CANDY = 254 };
    if (!shown->perhaps) {
        (void)hand_lay_again(face, block, way, NO_CANDY, other);
        shown->perhaps = hand_spoils(face, other, 2);
    }
    bool *surely = way->mirrored ? &shown->mirrored : &shown->turned;
    if (*surely || way->apart > 0.95 * apart) return;
    (void)hand_lay_again(face, block, way, -1, other);
    *surely = hand_spoils(face, other, 6);
}

/* Every 6 degrees, and where that is nearer than about there. */
static Shown lay_in_every_way(const HandFace *face, const HandShape *block, double apart) {
    Shown shown = {false, false, false};
    for (int mirrored = 0; mirrored < 2; mirrored++) {
        HandWay way[TRIED];
        for (int i = 0; i < TRIED; i++) way[i] = hand_lay(block, 2 * PI * i / TRIED, mirrored, 4 * apart);
        for (int i = 0; i < TRIED; i++) {
            double before = way[(i + TRIED - 1) % TRIED].apart, behind = way[(i + 1) % TRIED].apart;
            if ((!mirrored && i == 0) || way[i].apart > 1.6 * apart || way[i].apart > fmin(before, behind))
                continue;
            HandWay best = way[i];
            for (int off = -5; off < 6; off++) {
                HandWay near = hand_lay(block, way[i].angle + off * PI / 180, mirrored, 4 * apart);
                if (near.apart < best.apart) best = near;
            }
            if (best.apart <= 1.05 * apart) look_at(face, block, &best, apart, &shown);
        }
    }
    return shown;
}

/* Every block of random lay-ups, as the core's edge leaves it, in all ways in which hands would lay it. */
static void blocks_laid_in_every_way_by_hand_show_which_are_at_risk(void **state) {
    (void)state;
    static HandFace face;
    int counts[2] = {0, 0}, sure = 0;
    for (uint64_t seed = 1; seed <= 6; seed++) {
        const double asked = seed % 2 ? 0.8 : 2.2;
        Built b = built_with(random_tree(N, 9, seed % 2 ? 2 : 3, 5, seed), N, core, asked);
        face_of(&b.layup, &face);
        for (int i = 0; i + 1 < b.blocks.blocks; i++) {
            const Block *block = &b.blocks.block[i];
            HandShape s = hand_cut(shape_of(&block->outline), N);
            double longer = fmax(block->high.x - block->low.x, block->high.y - block->low.y);
            Shown shown = lay_in_every_way(&face, &s, fmax(asked, 0.1 * longer));
            bool marked = block->turned_risk || block->mirrored_risk;
            if ((shown.turned && !block->turned_risk) || (shown.mirrored && !marked) ||
                (marked && !shown.perhaps))
                fail_msg("seed %d, block %d: turned %d, end for end %d; by hand %d, %d, perhaps %d",
                         (int)seed, i + 1, block->turned_risk, block->mirrored_risk, shown.turned,
                         shown.mirrored, shown.perhaps);
            counts[marked]++;
            sure += shown.turned || shown.mirrored || !shown.perhaps;
        }
        built_free(&b);
    }
    assert_true(counts[0] > 5 && counts[1] > 8 && sure > 15);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_strip_goes_in_across_if_it_is_nearly_square),
        cmocka_unit_test(a_shift_counts),
        cmocka_unit_test(a_small_turn_counts),
        cmocka_unit_test(a_disc_with_a_little_cut_off_goes_in_at_any_turn),
        cmocka_unit_test(geos_finds_them_no_farther_off_than_asked_for),
        cmocka_unit_test(blocks_laid_in_every_way_by_hand_show_which_are_at_risk),
    };
    return cmocka_run_group_tests_name("near_motions", tests, NULL, NULL);
}
