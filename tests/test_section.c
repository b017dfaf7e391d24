/* Tests of src/model/section.c, src/say/section_words.c and what block_words.c makes of it.
 * SPDX-License-Identifier: MIT */
#include "model/section.h"

#include "random_tree.h"
#include "say/bench_words.h"

#include <stdlib.h>
#include <string.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

/* Turned by any angle, perhaps mirrored, shifted, begun at another corner. */
static Outline moved(const Outline *o, double turn, bool mirrored, int first) {
    Outline out = {.corners = o->corners};
    for (int i = 0; i < o->corners; i++) {
        int from = (first + (mirrored ? o->corners - i : i)) % o->corners;
        Point p = o->corner[from];
        if (mirrored) p.x = -p.x;
        out.corner[i] =
            (Point){p.x * cos(turn) - p.y * sin(turn) + 31, p.x * sin(turn) + p.y * cos(turn) - 7};
    }
    return out;
}

static Outline moved_at_random(const Outline *o, uint64_t *seed) {
    double turn = random_below(seed, 100000) / 100000.0 * 7;
    bool mirrored = random_below(seed, 2);
    return moved(o, turn, mirrored, random_below(seed, o->corners));
}

/* Calls `look` with the outline of each rope of random lay-ups. */
static void each_outline(void (*look)(const Outline *, uint64_t *)) {
    uint64_t random = 5;
    for (uint64_t seed = 1; seed <= 100; seed++) {
        LayUp layup = random_tree(48, 50, 2, 3, seed);
        for (int i = 0; i < layup.ropes; i++) look(&layup.rope[i].outline, &random);
        layup_free(&layup);
    }
}

static void near(double got, double want, double limit) {
    if (!(fabs(got - want) <= limit)) fail_msg("got %.12g, want %.12g", got, want);
}

static void laid_as_the_header_says(const Outline *o, uint64_t *seed) {
    (void)seed;
    int base = -1;
    Outline s = section_of(o, &base);
    const int last = s.corners - 1;
    double low = 1e9, left = 1e9;
    assert_true(base >= 0 && base < o->corners);
    for (int i = 0; i < s.corners; i++) {
        low = fmin(low, s.corner[i].y);
        left = fmin(left, s.corner[i].x);
        assert_true(s.corner[i].y <= s.corner[0].y + 1e-9);
    }
    near(low, 0, 1e-9);
    near(left, 0, 1e-9);
    near(s.corner[0].y, s.corner[last].y, 0);
    assert_true(s.corner[0].x < s.corner[last].x);
    near(outline_area(&s), outline_area(o), 1e-9 * outline_area(o));
    near(section_perimeter(&s), section_perimeter(o), 1e-9 * section_perimeter(o));
    Point a = o->corner[base], b = o->corner[(base + 1) % o->corners];
    near(s.corner[last].x - s.corner[0].x, sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y)), 1e-9);
    assert_int_equal(outline_shape(&s), outline_shape(o));
}

static void a_section_lies_on_its_base(void **state) {
    (void)state;
    each_outline(laid_as_the_header_says);
}

static void has_one_section(const Outline *o, uint64_t *seed) {
    Outline section = section_of(o, NULL);
    for (int i = 0; i < 4; i++) {
        Outline other = moved_at_random(o, seed), same = section_of(&other, NULL);
        for (int k = 0; k < o->corners; k++) {
            near(same.corner[k].x, section.corner[k].x, 1e-5);
            near(same.corner[k].y, section.corner[k].y, 1e-5);
        }
        assert_true(section_fits(&section, &other, 1e-5));
    }
}

static void however_it_is_turned_and_mirrored_it_is_one_section(void **state) {
    (void)state;
    each_outline(has_one_section);
}

static void fits_no_other(const Outline *o, uint64_t *seed) {
    Outline section = section_of(o, NULL), other = moved_at_random(o, seed);
    int corner = random_below(seed, o->corners), next = (corner + 1) % o->corners;
    Point a = other.corner[corner], b = other.corner[next];
    double length = sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
    other.corner[corner].x -= 0.05 / length * (b.x - a.x); /* a side longer by 0.05 */
    other.corner[corner].y -= 0.05 / length * (b.y - a.y);
    assert_false(section_fits(&section, &other, 0.01));
}

static void one_that_is_another_by_a_hair_more_does_not_fit(void **state) {
    (void)state;
    each_outline(fits_no_other);
}

/* By hand; y down. */
static void the_base_is_the_side_that_hands_would_choose(void **state) {
    (void)state;
    static const struct {
        Outline outline, want;
    } row[] = {
        {{4, {{0, 0}, {9, 0}, {9, 12}, {0, 12}}}, {4, {{0, 9}, {0, 0}, {12, 0}, {12, 9}}}},
        /* a right angle before the longest side */
        {{3, {{0, 0}, {9, 0}, {9, 12}}}, {3, {{0, 9}, {0, 0}, {12, 9}}}},
        {{3, {{0, 0}, {24, 0}, {19, 12}}}, {3, {{0, 12}, {5, 0}, {24, 12}}}},
        /* parallel sides before the longest one */
        {{4, {{0, 0}, {8, 0}, {9, 30}, {-1, 30}}}, {4, {{0, 30}, {1, 0}, {9, 0}, {10, 30}}}},
        {{4, {{0, 0}, {0, -9}, {24, -9}, {12, 0}}}, {4, {{0, 9}, {0, 0}, {12, 0}, {24, 9}}}},
        /* a corner off: on the long side that is whole, the cut on the right */
        {{5, {{5, 0}, {24, 0}, {24, 12}, {0, 12}, {0, 4}}},
         {5, {{0, 12}, {0, 0}, {19, 0}, {24, 4}, {24, 12}}}},
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        Outline got = section_of(&row[i].outline, NULL);
        assert_int_equal(got.corners, row[i].want.corners);
        for (int k = 0; k < got.corners; k++) {
            near(got.corner[k].x, row[i].want.corner[k].x, 1e-9);
            near(got.corner[k].y, row[i].want.corner[k].y, 1e-9);
        }
    }
}

/* Its top, 2 long, is parallel to its bottom and has a right angle more. */
static void a_corner_cut_strip_does_not_stand_on_a_square_tip(void **state) {
    (void)state;
    const Outline o = {5, {{0, 0}, {2, 0}, {2, 8}, {-2, 14}, {-13, 14}}};
    int base = -1;
    (void)section_of(&o, &base);
    assert_int_equal(base, 3);
}

/* --- in words --- */

static RopeRow row_of(const Outline *outline, double mm) {
    RopeRow row = {.section = section_of(outline, NULL)};
    for (int i = 0; i < row.section.corners; i++) {
        Point *p = &row.section.corner[i];
        *p = (Point){round(p->x * mm * 100) / 100, round(p->y * mm * 100) / 100};
    }
    row.shape = outline_shape(&row.section);
    return row;
}

/* The numbers of a text: "1 3/32" is one. Returns how many. */
static int numbers_of(const char *text, double out[64]) {
    int count = 0;
    for (const char *p = text; *p;) {
        char *end;
        bool begins = (*p >= '0' && *p <= '9') || (*p == '-' && p[1] >= '0' && p[1] <= '9');
        if (!begins) {
            p++;
            continue;
        }
        double value = strtod(p, &end), below, above;
        if (*end == '/') {
            below = strtod(end + 1, &end);
            value /= below;
        } else if (*end == ' ' && end[1] >= '0' && end[1] <= '9') {
            char *slash, *last;
            above = strtod(end + 1, &slash);
            if (*slash == '/') {
                below = strtod(slash + 1, &last);
                value += above / below;
                end = last;
            }
        }
        out[count++] = value;
        p = end;
    }
    return count;
}

/* The section that a description tells, from nothing but its words and numbers. */
static Outline rebuilt(const char *text, bool in_full) {
    double n[64];
    int count = numbers_of(text, n);
    bool wedge = strstr(text, "wedge") != NULL, left = strstr(text, "left side upright") != NULL;
    if (strstr(text, "corner off")) {
        double w = n[0], h = n[1], along = n[2], down = n[3];
        return (Outline){5, {{0, h}, {0, 0}, {w - along, 0}, {w, down}, {w, h}}};
    }
    if (wedge) return (Outline){3, {{0, n[1]}, {count > 2 ? n[2] : 0, 0}, {n[0], n[1]}}};
    if (strstr(text, " over ") || strstr(text, "on top")) {
        double top = n[0], base = n[1], h = n[2], at = left ? 0 : count > 3 ? n[3] : (base - top) / 2;
        return (Outline){4, {{0, h}, {at, 0}, {at + top, 0}, {base, h}}};
    }
    if (!strchr(text, ':')) return (Outline){4, {{0, n[1]}, {0, 0}, {n[0], 0}, {n[0], n[1]}}};
    bool from = in_full || strstr(text, " to ");
    int k = from ? 2 : 1;
    double start = from ? n[0] : 0, end = from ? n[1] : n[0], high = 0;
    Outline out = {1, {{start, 0}}};
    for (int i = k; i < count; i += 2) high = fmax(high, n[i]);
    out.corner[0].y = high;
    for (int i = k; i < count; i += 2) out.corner[out.corners++] = (Point){n[i + 1], high - n[i]};
    out.corner[out.corners++] = (Point){end, high};
    return out;
}

static void told_whole(const RopeRow *row, const char *text, bool in_full, Units units) {
    double unit = units == UNITS_IN ? MM_PER_IN : 1;
    double limit = units == UNITS_IN ? MM_PER_IN / 32 * 1.6 : 0.16; /* sums of three rounded lengths */
    Outline got = rebuilt(text, in_full);
    got = section_scaled(&got, unit);
    if (got.corners != row->section.corners) fail_msg("%s: %d corners", text, row->section.corners);
    for (int k = 0; k < got.corners; k++) {
        double x = got.corner[k].x - row->section.corner[k].x, y = got.corner[k].y - row->section.corner[k].y;
        if (fabs(x) > limit || fabs(y) > limit) fail_msg("%s: corner %d is off by %.3f, %.3f", text, k, x, y);
    }
}

static void is_told_whole(const Outline *o, uint64_t *seed) {
    RopeRow row = row_of(o, 1.5);
    char text[ROPE_SIZE], full[ROPE_LINE], form[ROPE_LINE];
    (void)seed;
    for (int u = 0; u < 2; u++) {
        Units units = u ? UNITS_IN : UNITS_MM;
        rope_section_print(&row, 1, false, units, text);
        rope_section_words(&row, 1, units, full);
        rope_form_words(&row, 1, units, form);
        told_whole(&row, text, false, units);
        told_whole(&row, full, true, units);
        assert_true((form[0] == 0) == (row.shape == SHAPE_STRIP));
        assert_true(strlen(full) < 200 && strlen(form) < 260);
    }
    assert_null(strstr(full, "deg"));
}

static void every_section_is_told_whole(void **state) {
    (void)state;
    each_outline(is_told_whole);
}

typedef struct Told {
    Outline outline;
    const char *print, *words, *form;
} Told;

static const Told told[] = {
    {{4, {{0, 0}, {9, 0}, {9, 12}, {0, 12}}}, "12 x 9", "12 x 9", ""},
    {{3, {{0, 12}, {0, 0}, {24, 12}}},
     "wedge 24 x 12",
     "wedge 24 x 12",
     "from a square rope of 12 mm: press one side to the slope with a bar: 12 mm high at one end, nothing at "
     "24 mm"},
    {{3, {{0, 12}, {5, 0}, {24, 12}}},
     "wedge 24 x 12, tip at 5",
     "wedge 24 wide, 12 high, its tip 5 from left",
     "from a square rope of 12 mm: press both sides to slopes with a bar: 24 mm wide below, to an edge 12 mm "
     "high, 5 mm from left"},
    {{4, {{0, 9}, {6, 0}, {18, 0}, {24, 9}}},
     "12 over 24 x 9",
     "tapered strip 12 on top, 24 below, 9 high, the top in the middle",
     "from a square rope of 12.7 mm: press it 9 mm high, and both sides to the slope with a bar: 12 mm on "
     "top, 24 mm below"},
    {{4, {{0, 9}, {0, 0}, {12, 0}, {24, 9}}},
     "12 over 24 x 9, at 0",
     "tapered strip 12 on top, 24 below, 9 high, its left side upright",
     "from a square rope of 12.7 mm: press it 9 mm high, and one side to the slope with a bar: 12 mm on "
     "top, 24 mm below"},
    {{4, {{0, 9}, {3, 0}, {15, 0}, {24, 9}}},
     "12 over 24 x 9, at 3",
     "tapered strip 12 on top, 24 below, 9 high, the top 3 from left",
     "from a square rope of 12.7 mm: press it 9 mm high, and each side to its slope with a bar: 12 mm on "
     "top, 24 mm below, the top 3 mm from left"},
    {{5, {{0, 12}, {0, 0}, {19, 0}, {24, 4}, {24, 12}}},
     "24 x 12, corner off 5 x 4",
     "corner-cut strip 24 wide, 12 high, a corner off: 5 along the top, 4 down the side",
     "from a square rope of 16.7 mm: press it 12 mm high, then press the corner off: 5 mm along the top, 4 "
     "mm "
     "down the side"},
    {{4, {{0, 12}, {2, 0}, {15, 4}, {24, 12}}},
     "24: 12@2, 8@15",
     "tapered strip on a base from 0 to 24; high: 12 at 2, 8 at 15 from left",
     "from a square rope of 13.3 mm: press it 12 mm high, then its faces with a bar until it is high: 12 at "
     "2, 8 at 15 from left, on a base from 0 to 24 mm"},
};

static void sections_and_how_to_form_them_are_told_in_lengths(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
        RopeRow row = row_of(&told[i].outline, 1);
        char text[ROPE_SIZE], full[ROPE_LINE], form[ROPE_LINE];
        rope_section_print(&row, 1, false, UNITS_MM, text);
        rope_section_words(&row, 1, UNITS_MM, full);
        rope_form_words(&row, 1, UNITS_MM, form);
        assert_string_equal(text, told[i].print);
        assert_string_equal(full, told[i].words);
        assert_string_equal(form, told[i].form);
        assert_true(strlen(text) <= 30);
    }
}

static void upright_ones_have_their_numbers_changed_and_thicker_ones_are_larger(void **state) {
    (void)state;
    char text[ROPE_SIZE];
    RopeRow strip = row_of(&told[0].outline, 1), wedge = row_of(&told[1].outline, 1),
            corner = row_of(&told[6].outline, 1);
    rope_section_print(&strip, 1, true, UNITS_MM, text);
    assert_string_equal(text, "9 x 12");
    rope_section_print(&wedge, 2, true, UNITS_MM, text);
    assert_string_equal(text, "wedge 24 x 48");
    rope_section_print(&corner, 1, true, UNITS_MM, text);
    assert_string_equal(text, "12 x 24, corner off 4 x 5");
    rope_section_print(&wedge, 1, false, UNITS_IN, text);
    assert_string_equal(text, "wedge 15/16 x 15/32");
    strip.rim = true;
    rope_section_print(&strip, 1, false, UNITS_MM, text);
    assert_string_equal(text, "12 x 9 rim");
    char form[ROPE_LINE];
    rope_form_words(&strip, 1, UNITS_MM, form);
    assert_string_equal(form, "");
}

/* In a block that is built twice as thick. */
static void item_is(const Outline *outline, bool rim, const char *want) {
    Rope rope = {.outline = *outline, .rim = rim};
    RopeRow row = row_of(outline, 1);
    row.rim = rim;
    Item item = {.index = 0, .outline = *outline};
    Block holder = {.scale = 2};
    Job job = {.layup = {.ropes = 1, .rope = &rope}, .bill = {.rope_types = 1, .rope = &row}};
    job.grid.core = (Circle){0, 0, 1000};
    char size[ROPE_SIZE];
    const char *way;
    item_words(&job, &holder, &item, size, &way);
    assert_string_equal(size, want);
    assert_string_equal(way, "");
}

static void a_card_tells_a_rope_as_it_is_drawn(void **state) {
    (void)state;
    const Outline level = outline_of_box(0, 0, 12, 9), upright = outline_of_box(0, 0, 9, 12);
    const Outline steep = {4, {{0, 0}, {4, -3}, {10, 5}, {6, 8}}}; /* 10 long, 5 wide */
    const Outline wedge = {3, {{0, 0}, {12, 24}, {0, 24}}}, taper = {4, {{0, 0}, {8, 6}, {8, 18}, {0, 24}}};
    item_is(&level, false, "24 x 18");
    item_is(&upright, false, "18 x 24");
    item_is(&upright, true, "24 x 18 rim");
    item_is(&steep, false, "10 x 20");
    item_is(&wedge, false, "wedge 24 x 48");
    item_is(&taper, false, "24 over 48 x 16");
}

/* One that stands on end and tapers by 0.4: corners 0.2 off; and what has three or five corners. */
static void a_section_is_a_strip_but_for_so_much(void **state) {
    (void)state;
    const Outline taper = {4, {{0, 0}, {20.2, 0}, {19.8, 48}, {0, 48}}};
    const Outline wedge = {3, {{0, 0}, {48, 0}, {0, 0.1}}};
    const Outline five = {5, {{0, 0}, {48, 0}, {48, 19.9}, {47.9, 20}, {0, 20}}};
    const Outline none = {0}, level = {4, {{0, 20}, {0, 0}, {48, 0}, {48, 20}}};
    Outline section = section_of(&taper, NULL), strip = none;
    assert_true(!section_is_strip(&section, 0.199, &strip) && strip.corners == 0);
    assert_true(section_is_strip(&section, 0.201, &strip));
    for (int i = 0; i < 4; i++) {
        near(strip.corner[i].x, level.corner[i].x, 1e-9);
        near(strip.corner[i].y, level.corner[i].y, 1e-9);
    }
    section = section_of(&wedge, NULL);
    assert_false(section_is_strip(&section, 1, &strip));
    section = section_of(&five, NULL);
    assert_false(section_is_strip(&section, 1, &strip));
}

static void the_list_of_pulls_explains_slanted_ropes_if_there_are_any(void **state) {
    (void)state;
    Shop shop = shop_default();
    RopeRow row = row_of(&told[3].outline, 1);
    Job job = {.shop = &shop, .bill = {.rope_types = 1, .rope = &row}};
    char text[ROPE_LINE];
    pulling_words(&job, text);
    assert_non_null(strstr(text, "9@3 is 9 high at 3 from left."));
    job.order.units = UNITS_IN;
    pulling_words(&job, text);
    assert_string_equal(text + strlen(text) - 10, "from left.");
    row.rim = true;
    pulling_words(&job, text);
    assert_null(strstr(text, "over"));
}

/* Whether joins are slanted or not. */
static void the_cards_explain_slanted_ropes_if_there_are_any(void **state) {
    (void)state;
    RopeRow row = row_of(&told[3].outline, 1);
    Block block[2] = {{.items = 1}, {.items = 2}};
    Item item[2] = {{.cut = {{0, 0}, {9, 4}}}, {0}};
    Shop shop = shop_default();
    Job job = {.bill = {.rope_types = 1, .rope = &row},
               .shop = &shop,
               .blocks = {.blocks = 2, .block = block, .items = 2, .item = item}};
    Term term[TERMS];
    assert_true(block_terms(&job, term) >= 2);
    assert_string_equal(term[0].word, "SIZES");
    assert_non_null(strstr(term[0].meaning, "9@3"));
    assert_string_equal(term[1].word, "FIGURES");
    row.rim = true;
    (void)block_terms(&job, term);
    assert_string_equal(term[0].meaning,
                        "width x height, as drawn; of a rim its length, and its thickness in the mean.");
    assert_string_equal(term[1].word, "FIGURES");
}

static void a_piece_of_a_block_is_told_as_it_is_laid(void **state) {
    (void)state;
    Block block[2] = {{.scale = 1, .high = {12, 9}}, {.scale = 2}};
    Item item = {.is_block = true, .index = 0, .motion = {{true, 1}, {5, 5}}};
    Job job = {.blocks = {.blocks = 2, .block = block}, .cane = {.step_mm = 1}};
    char size[ROPE_SIZE];
    const char *way;
    item_words(&job, &block[1], &item, size, &way);
    assert_string_equal(size, "18 x 24");
    assert_string_equal(way, "end for end, then a quarter turn right");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_section_lies_on_its_base),
        cmocka_unit_test(however_it_is_turned_and_mirrored_it_is_one_section),
        cmocka_unit_test(one_that_is_another_by_a_hair_more_does_not_fit),
        cmocka_unit_test(the_base_is_the_side_that_hands_would_choose),
        cmocka_unit_test(a_corner_cut_strip_does_not_stand_on_a_square_tip),
        cmocka_unit_test(every_section_is_told_whole),
        cmocka_unit_test(sections_and_how_to_form_them_are_told_in_lengths),
        cmocka_unit_test(upright_ones_have_their_numbers_changed_and_thicker_ones_are_larger),
        cmocka_unit_test(a_card_tells_a_rope_as_it_is_drawn),
        cmocka_unit_test(a_section_is_a_strip_but_for_so_much),
        cmocka_unit_test(the_list_of_pulls_explains_slanted_ropes_if_there_are_any),
        cmocka_unit_test(the_cards_explain_slanted_ropes_if_there_are_any),
        cmocka_unit_test(a_piece_of_a_block_is_told_as_it_is_laid),
    };
    return cmocka_run_group_tests_name("section", tests, NULL, NULL);
}
