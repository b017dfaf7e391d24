/* Tests of src/plan/find_wrong_ways.c. SPDX-License-Identifier: MIT */
#include "plan/plan_parts.h"
#include "built_blocks.h"

#include <stdio.h>
#include <string.h>

/* --- letters of 5 x 7 or 7 x 7 squares, each a block beside a sign --- */

enum { LETTER_SIDE = 80, SQUARE = 4, SIGN = 11 };

typedef struct Letter {
    const char *row[7];
} Letter;

static const Circle letter_core = {LETTER_SIDE / 2.0, LETTER_SIDE / 2.0, LETTER_SIDE / 2.0};

/* Where columns from..to and rows top..bottom lie, of so many columns in all. */
static Outline squares(int columns, int from, int to, int top, int bottom) {
    int left = (LETTER_SIDE - columns * SQUARE) / 2, up = (LETTER_SIDE - 7 * SQUARE) / 2;
    return outline_of_box(left + from * SQUARE, up + top * SQUARE, (to - from) * SQUARE,
                          (bottom - top) * SQUARE);
}

/* Columns from..to of the text as a stack of rows of one strip a character; returns the node. */
static int lay_text(LayUp *t, const char *const *row, int columns, int from, int to) {
    int stack = -1;
    for (int y = 0; y < 7; y++) {
        int line = -1;
        for (int x = from; x < to; x++) {
            Outline one = squares(columns, x, x + 1, y, y + 1),
                    both = squares(columns, from, x + 1, y, y + 1);
            int candy = row[y][x] == '#' ? 1 : row[y][x] == 'o' ? 2 : 0;
            int strip = tree_leaf(t, &one, candy, letter_core);
            const Point *c = one.corner;
            line = x == from ? strip : tree_join(t, &both, c[0], c[3], line, strip);
        }
        Outline all = squares(columns, from, to, 0, y + 1), last = squares(columns, from, to, y, y + 1);
        stack = y == 0 ? line : tree_join(t, &all, last.corner[0], last.corner[1], stack, line);
    }
    return stack;
}

/* The letter, its first `columns` columns, is a block beside a sign that no turn and no mirror leaves as it
 * is. */
static Built letter_beside_sign(const char *const *row, int columns) {
    const int all = columns + SIGN;
    LayUp t = tree_new(7 * all);
    Outline both = squares(all, 0, all, 0, 7), sign = squares(all, columns, all, 0, 7);
    int one = lay_text(&t, row, all, 0, columns), other = lay_text(&t, row, all, columns, all);
    tree_join(&t, &both, sign.corner[0], sign.corner[3], one, other);
    return built_of(t, LETTER_SIDE, letter_core);
}

/* The block with that outline, where it was built or laid. */
static const Block *block_at(const Built *b, const Outline *outline) {
    for (int i = 0; i < b->blocks.uses; i++) {
        const Block *block = &b->blocks.block[b->blocks.use[i].block];
        Outline at = outline_moved(&block->outline, b->blocks.use[i].motion);
        if (outline_same(&at, outline, 1e-6)) return block;
    }
    return NULL;
}

/* What the four placements of a slot that is no square show of a letter: as it is, turned by a half, end for
 * end (left and right change places), end for end and turned by a half (top and bottom change places). */
static unsigned harmless_placements(const char *const *row) {
    unsigned same = 15;
    for (int y = 0; y < 7; y++)
        for (int x = 0; x < 5; x++) {
            if (row[y][x] != row[6 - y][4 - x]) same &= ~2u;
            if (row[y][x] != row[y][4 - x]) same &= ~4u;
            if (row[y][x] != row[6 - y][x]) same &= ~8u;
        }
    return same;
}

/* The block of the letter in its log, to be asked for its risks. */
static void check_letter(char name, const char *const *letter, int columns, bool mirrored, bool turned) {
    char text[7][24];
    const char *row[7];
    for (int y = 0; y < 7; y++) {
        (void)snprintf(text[y], sizeof text[y], "%s.oo.%s", letter[y],
                       y == 0   ? "ooooooo"
                       : y == 3 ? "oooo..."
                                : "oo.....");
        row[y] = text[y];
    }
    Built b = letter_beside_sign(row, columns);
    Outline where = squares(columns + SIGN, 0, columns, 0, 7);
    const Block *block = block_at(&b, &where);
    if (!block)
        fail_msg("%c: the letter is no block of its own", name);
    else if (block->mirrored_risk != mirrored || block->turned_risk != turned)
        fail_msg("%c: mirrored %d, turned %d", name, block->mirrored_risk, block->turned_risk);
    built_free(&b);
}

static void letters_are_known_to_be_at_risk_or_not(void **state) {
    (void)state;
    static const struct {
        char name;
        Letter letter;
        bool mirrored, turned;
    } rows[] = {
        {'A', {{".###.", "#...#", "#...#", "#####", "#...#", "#...#", "#...#"}}, false, true},
        {'B', {{"####.", "#...#", "#...#", "####.", "#...#", "#...#", "####."}}, false, true},
        {'C', {{".####", "#....", "#....", "#....", "#....", "#....", ".####"}}, false, true},
        {'D', {{"####.", "#...#", "#...#", "#...#", "#...#", "#...#", "####."}}, false, true},
        {'E', {{"#####", "#....", "#....", "####.", "#....", "#....", "#####"}}, false, true},
        {'H', {{"#...#", "#...#", "#...#", "#####", "#...#", "#...#", "#...#"}}, false, false},
        {'I', {{"#####", "..#..", "..#..", "..#..", "..#..", "..#..", "#####"}}, false, false},
        {'K', {{"#...#", "#..#.", "#.#..", "##...", "#.#..", "#..#.", "#...#"}}, false, true},
        {'M', {{"#...#", "##.##", "#.#.#", "#...#", "#...#", "#...#", "#...#"}}, false, true},
        {'O', {{".###.", "#...#", "#...#", "#...#", "#...#", "#...#", ".###."}}, false, false},
        {'T', {{"#####", "..#..", "..#..", "..#..", "..#..", "..#..", "..#.."}}, false, true},
        {'U', {{"#...#", "#...#", "#...#", "#...#", "#...#", "#...#", ".###."}}, false, true},
        {'V', {{"#...#", "#...#", "#...#", "#...#", ".#.#.", ".#.#.", "..#.."}}, false, true},
        {'W', {{"#...#", "#...#", "#...#", "#...#", "#.#.#", "##.##", "#...#"}}, false, true},
        {'X', {{"#...#", ".#.#.", ".#.#.", "..#..", ".#.#.", ".#.#.", "#...#"}}, false, false},
        {'Y', {{"#...#", ".#.#.", ".#.#.", "..#..", "..#..", "..#..", "..#.."}}, false, true},
        {'F', {{"#####", "#....", "#....", "####.", "#....", "#....", "#...."}}, true, true},
        {'G', {{".####", "#....", "#....", "#.###", "#...#", "#...#", ".####"}}, true, true},
        {'J', {{"..###", "...#.", "...#.", "...#.", "...#.", "#..#.", ".##.."}}, true, true},
        {'L', {{"#....", "#....", "#....", "#....", "#....", "#....", "#####"}}, true, true},
        {'N', {{"#...#", "##..#", "##..#", "#.#.#", "#..##", "#..##", "#...#"}}, true, false},
        {'P', {{"####.", "#...#", "#...#", "####.", "#....", "#....", "#...."}}, true, true},
        {'Q', {{".###.", "#...#", "#...#", "#...#", "#.#.#", "#..#.", ".##.#"}}, true, true},
        {'R', {{"####.", "#...#", "#...#", "####.", "#.#..", "#..#.", "#...#"}}, true, true},
        {'S', {{".####", "#....", "#....", ".###.", "....#", "....#", "####."}}, true, false},
        {'Z', {{"#####", "....#", "...#.", "..#..", ".#...", "#....", "#####"}}, true, false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_letter(rows[i].name, rows[i].letter.row, 5, rows[i].mirrored, rows[i].turned);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        static const struct {
            const char *letters;
            unsigned same;
        } classes[] = {{"HIOX", 15}, {"AMTUVWY", 1 + 4}, {"BCDEK", 1 + 8}, {"NSZ", 1 + 2}, {"FGJLPQR", 1}};
        unsigned same = harmless_placements(rows[i].letter.row), want = 0;
        for (size_t c = 0; c < sizeof classes / sizeof *classes; c++)
            if (strchr(classes[c].letters, rows[i].name)) want = classes[c].same;
        if (same != want) fail_msg("%c keeps its look in %u, not %u", rows[i].name, same, want);
        assert_int_equal(rows[i].mirrored, (same & 12) == 0);
        assert_int_equal(rows[i].turned, !(same & 2));
    }
}

/* Their own mirror images about the diagonal if they are drawn so, in a square slot, which four more
 * placements fit.
 */
static void l_and_q_can_be_put_right_by_a_quarter_turn_if_their_diagonal_is_exact(void **state) {
    (void)state;
    static const char *const l[] = {"#......", "#......", "#......", "#......",
                                    "#......", "#......", "#######"};
    static const char *const bent[] = {"#......", "#......", "#......", "#......",
                                       "#......", "#......", "######."};
    static const char *const q[] = {"..###..", ".#...#.", "#.....#", "#.....#",
                                    "#...#.#", ".#...#.", "..###.#"};
    static const char *const tail[] = {"..###..", ".#...#.", "#.....#", "#.....#",
                                       "#...#.#", ".#...#.", "..###.."};
    check_letter('L', l, 7, false, true);
    check_letter('l', bent, 7, true, true);
    check_letter('Q', q, 7, false, true);
    check_letter('q', tail, 7, false, true);
}

/* --- blocks of any outline --- */

enum { SIDE = 60, CUTS_MAX = 3 };

/* A core that holds all of the square, and one that touches its sides. */
static const Circle wide = {SIDE / 2.0, SIDE / 2.0, SIDE}, disc = {SIDE / 2.0, SIDE / 2.0, SIDE / 2.0};

typedef struct Risks {
    bool mirrored, turned, same;
} Risks;

/* Lines across an outline, each of which ends on the edge of what the one before left to its right; candy i
 * is to the left of cut i, the last the rest. */
typedef struct Look {
    int cuts;
    Point cut[CUTS_MAX][2];
    int candy[CUTS_MAX + 1];
} Look;

/* A point of the side from a corner on. */
static Point on_side(const Outline *o, int side, double part) {
    Point a = o->corner[side % o->corners], b = o->corner[(side + 1) % o->corners];
    return (Point){a.x + part * (b.x - a.x), a.y + part * (b.y - a.y)};
}

/* Marks a corner with candy 1: so far back along the side before it, so far along the one behind it. */
static void mark(Look *look, const Outline *o, int corner, double back, double on) {
    Point *cut = look->cut[look->cuts];
    cut[0] = on_side(o, corner + o->corners - 1, 1 - back);
    cut[1] = on_side(o, corner, on);
    look->candy[look->cuts++] = 1;
}

/* Of one block, fine so that none of its cuts joins a chain around it. */
static int lay_look(LayUp *t, const Outline *o, const Look *look, int from, Circle core) {
    Outline left, right;
    if (from == look->cuts) return tree_leaf(t, o, look->candy[from], core);
    const Point *cut = look->cut[from];
    assert_true(tree_part(o, cut[0], cut[1], &left, &right));
    int one = tree_leaf(t, &left, look->candy[from], core), other = lay_look(t, &right, look, from + 1, core);
    int node = tree_join(t, o, cut[0], cut[1], one, other);
    t->node[node].fine = true;
    return node;
}

/* Where the line through a and b crosses the outline, in the sense from a to b; false if it leaves all of it
 * to its right. */
static bool line_across(const Outline *o, Point a, Point b, Point out[2]) {
    int found = 0, left = 0;
    for (int i = 0; i < o->corners; i++) {
        Point p = o->corner[i], q = o->corner[(i + 1) % o->corners];
        double u = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
        double v = (b.x - a.x) * (q.y - a.y) - (b.y - a.y) * (q.x - a.x);
        left += u < -1e-6;
        if (fabs(u) > 1e-6 && (fabs(v) <= 1e-6 || (u > 0) == (v > 0))) continue;
        double part = fabs(u) <= 1e-6 ? 0 : u / (u - v);
        if (found < 2) out[found++] = (Point){p.x + part * (q.x - p.x), p.y + part * (q.y - p.y)};
    }
    if (left == 0) return false;
    assert_int_equal(found, 2);
    Point p = out[0], q = out[1];
    bool with = (q.x - p.x) * (b.x - a.x) + (q.y - p.y) * (b.y - a.y) > 0;
    out[0] = with ? p : q;
    out[1] = with ? q : p;
    return true;
}

/* The polygon with its look within the outline: what is left round it is cut off along its sides. */
static int lay_within(LayUp *t, const Outline *all, const Outline *polygon, int side, const Look *look) {
    Outline off, rest;
    Point cut[2];
    if (side == polygon->corners) return lay_look(t, polygon, look, 0, wide);
    if (!line_across(all, polygon->corner[side], polygon->corner[(side + 1) % polygon->corners], cut))
        return lay_within(t, all, polygon, side + 1, look);
    assert_true(tree_part(all, cut[0], cut[1], &off, &rest));
    int one = tree_leaf(t, &off, 2, wide), other = lay_within(t, &rest, polygon, side + 1, look);
    return tree_join(t, all, cut[0], cut[1], one, other);
}

static void check_risks(const char *name, const Built *b, const Outline *outline, Risks want) {
    const Block *block = block_at(b, outline);
    if (!block)
        fail_msg("%s is no block", name);
    else if (block->mirrored_risk != want.mirrored || block->turned_risk != want.turned ||
             block->looks_the_same != want.same)
        fail_msg("%s: mirrored %d, turned %d, looks the same %d", name, block->mirrored_risk,
                 block->turned_risk, block->looks_the_same);
}

static void check_polygon_off(const char *name, Outline polygon, Look look, double apart, Risks want) {
    LayUp t = tree_new(16);
    Outline square = outline_of_box(0, 0, SIDE, SIDE);
    lay_within(&t, &square, &polygon, 0, &look);
    Built b = built_with(t, SIDE, wide, apart);
    check_risks(name, &b, &polygon, want);
    built_free(&b);
}

static void check_polygon(const char *name, Outline polygon, Look look, Risks want) {
    check_polygon_off(name, polygon, look, 0, want);
}

/* Marks one corner, and checks. */
static void check_marked(const char *name, Outline polygon, int corner, double back, double on, Risks want) {
    Look look = {0};
    mark(&look, &polygon, corner, back, on);
    check_polygon(name, polygon, look, want);
}

static const double root3 = 1.7320508075688772;

static Outline even_wedge(void) {
    return (Outline){3, {{26, 50 - 20 * root3}, {46, 50}, {6, 50}}};
}

static const Risks none = {false, false, false}, mirrored = {true, false, false},
                   turned = {false, true, false}, both = {true, true, false};

static void a_wedge_of_equal_sides_fits_turned_by_a_third(void **state) {
    (void)state;
    Outline wedge = even_wedge();
    check_marked("one corner", wedge, 0, 0.4, 0.4, turned);
    check_marked("one corner, askew", wedge, 1, 0.25, 0.5, both);
    Look look = {0};
    for (int i = 0; i < 3; i++) mark(&look, &wedge, i, 0.3, 0.3);
    check_polygon("three corners alike", wedge, look, none);
    look.cuts = 2;
    look.candy[2] = 0;
    check_polygon("two corners alike", wedge, look, turned);
    look = (Look){0};
    for (int i = 0; i < 3; i++) mark(&look, &wedge, i, 0.2, 0.45);
    check_polygon("three corners, all askew alike", wedge, look, mirrored);
}

static void a_wedge_of_two_equal_sides_fits_end_for_end_only(void **state) {
    (void)state;
    const Outline wedge = {3, {{26, 8}, {46, 50}, {6, 50}}};
    check_marked("the odd corner", wedge, 0, 0.4, 0.4, none);
    check_marked("one of the even corners", wedge, 1, 0.4, 0.4, mirrored);
    const Outline scalene = {3, {{20, 8}, {46, 50}, {6, 50}}};
    check_marked("no two sides equal", scalene, 1, 0.4, 0.4, none);
}

static void a_slanted_strip_fits_turned_by_a_half_only(void **state) {
    (void)state;
    const Outline strip = {4, {{8, 10}, {38, 10}, {48, 40}, {18, 40}}};
    check_marked("one corner", strip, 0, 0.5, 0.5, turned);
    Look look = {0};
    mark(&look, &strip, 0, 0.5, 0.4);
    mark(&look, &strip, 2, 0.5, 0.4);
    check_polygon("opposite corners alike", strip, look, none);
}

static void a_kite_fits_end_for_end_only(void **state) {
    (void)state;
    const Outline kite = {4, {{26, 5}, {41, 20}, {26, 55}, {11, 20}}};
    check_marked("a corner on its axis", kite, 0, 0.5, 0.5, none);
    check_marked("a corner beside its axis", kite, 1, 0.5, 0.5, mirrored);
    const Outline slanted = {4, {{15, 10}, {39, 17}, {50, 45}, {22, 34}}}; /* its axis is x - y = 5 */
    check_marked("a corner on a slanted axis", slanted, 0, 0.5, 0.5, none);
    check_marked("a corner beside it", slanted, 1, 0.5, 0.5, mirrored);
    const Outline even = {4, {{10, 10}, {34, 17}, {45, 45}, {17, 34}}}; /* its axis is one of the whole */
    check_marked("beside an axis of the whole, which is even else", even, 1, 0.5, 0.5, none);
    const Outline rhombus = {4, {{26, 2}, {41, 27}, {26, 52}, {11, 27}}};
    check_marked("a corner of equal sides", rhombus, 0, 0.5, 0.5, turned);
    check_marked("a corner of equal sides, askew", rhombus, 0, 0.3, 0.6, both);
}

/* A tapered strip, 2 p steps over 2 q, h high, the left and right of it alike, upside down: its wide corners
 * are a = (q - p) h / sqrt(h^2 + (q - p)^2) off the sides of its place. Shifted s towards its narrow end they
 * are a (1 - s / h) off, and its ends s: at best both are a / (1 + a / h). Its longer side is 2 q. */
static void check_upside_down(const char *name, double p, double q, double h, double apart, Risks want) {
    const Outline o = {4, {{28 - p, 8}, {28 + p, 8}, {28 + q, 8 + h}, {28 - q, 8 + h}}};
    Look look = {.cuts = 1, .cut = {{on_side(&o, 3, 0.7), on_side(&o, 1, 0.3)}}, .candy = {1, 0}};
    check_polygon_off(name, o, look, apart, want);
}

static void a_block_goes_in_if_it_is_off_its_place_by_no_more_than_hands_let_pass(void **state) {
    (void)state;
    const double side = 3 * 26 / sqrt(26 * 26 + 3 * 3), off = side / (1 + side / 26);
    check_upside_down("nothing is let pass", 7, 10, 26, 0, none);
    check_upside_down("a little too far", 7, 10, 26, 0.99 * off, none);
    check_upside_down("just not too far", 7, 10, 26, 1.01 * off, turned);
    check_upside_down("2.73, a tenth of 43 is let pass", 18.5, 21.5, 32, 0.5, turned);
    check_upside_down("4.28, a tenth of 42 is let pass", 16, 21, 32, 0.5, none);
}

/* Bands of 6, 12 and 6 + `more` steps across a slanted strip with right angles, or level ones. */
static void check_bands(double more, Risks want) {
    const Outline level = outline_of_box(7, 11, 24 + more, 15);
    Look look = {2, {{{13, 26}, {13, 11}}, {{25, 26}, {25, 11}}}, {1, 0, 1}};
    check_polygon("level", level, look, want);
}

static void half_a_step_of_difference_is_not_seen(void **state) {
    (void)state;
    check_bands(0, none);
    check_bands(0.5, none);
    check_bands(1, turned);
    const Outline slanted = {4, {{22, 8}, {38, 20}, {32, 28}, {16, 16}}}; /* 20 steps by 10 */
    const double least = 0.5 / 20;                                        /* half a step */
    for (int more = 0; more < 3; more++) {
        Look look = {.cuts = 2, .candy = {1, 0, 1}};
        const double part[2] = {0.25, 0.75 - more * least};
        for (int i = 0; i < 2; i++) {
            look.cut[i][0] = on_side(&slanted, 2, 1 - part[i]);
            look.cut[i][1] = on_side(&slanted, 0, part[i]);
        }
        check_polygon("slanted", slanted, look, more == 2 ? turned : none);
    }
}

static void a_small_difference_of_a_large_block_is_easy_to_overlook(void **state) {
    (void)state;
    const Outline strip = outline_of_box(5, 10, 40, 20);
    check_marked("small", strip, 0, 0.15, 0.075, (Risks){true, true, true});
    check_marked("large", strip, 0, 0.5, 0.5, both);
}

/* A chord parts the disc; the segment before it is a block with a look, behind it all is uneven. */
static void check_segment(const char *name, Point a, Point b, double from, double to, Risks want) {
    LayUp t = tree_new(8);
    Outline square = outline_of_box(0, 0, SIDE, SIDE), left, right, upper, lower;
    assert_true(tree_part(&square, a, b, &left, &right));
    Point c = {a.x + 0.6 * (b.x - a.x), a.y + 0.6 * (b.y - a.y)}, d = {SIDE, 17};
    Look look = {.cuts = 2, .candy = {1, 0, 1}};
    double part[2] = {from, to};
    for (int i = 0; i < 2; i++) { /* square to the chord, through the core's middle plus so many steps */
        double x = b.x - a.x, y = b.y - a.y, length = sqrt(x * x + y * y);
        Point p = {disc.x + part[i] * x / length, disc.y + part[i] * y / length};
        Point out[2];
        assert_true(line_across(&left, p, (Point){p.x + y, p.y - x}, out));
        look.cut[i][0] = out[0];
        look.cut[i][1] = out[1];
    }
    int one = lay_look(&t, &left, &look, 0, disc);
    assert_true(tree_part(&right, c, d, &upper, &lower));
    int two = tree_leaf(&t, &upper, 0, disc), three = tree_leaf(&t, &lower, 2, disc);
    int other = tree_join(&t, &right, c, d, two, three);
    tree_join(&t, &square, a, b, one, other);
    Built built = built_of(t, SIDE, disc);
    check_risks(name, &built, &left, want);
    built_free(&built);
}

static void what_the_cores_edge_cuts_off_fits_end_for_end(void **state) {
    (void)state;
    const Point low = {14, SIDE}, high = {14, 0}, right = {30, 0}, left = {6, SIDE};
    check_segment("upright, even", low, high, -8, 8, none);
    check_segment("upright, uneven", low, high, -8, 11, mirrored);
    check_segment("slanted, even", left, right, -8, 8, none);
    check_segment("slanted, uneven", left, right, -8, 11, mirrored);
}

/* --- nothing depends on how the whole lies --- */

static void count_risks(const Built *b, int count[3]) {
    for (int i = 0; i < b->blocks.blocks; i++) {
        count[0] += b->blocks.block[i].mirrored_risk;
        count[1] += b->blocks.block[i].turned_risk;
        count[2] += b->blocks.block[i].looks_the_same;
    }
}

/* Squares of `tile` steps with slanted cuts, each a block that fits its place in all eight placements. */
static LayUp tiled_tree(int n, int tile, Circle core, uint64_t seed) {
    RandomTree t = {.out = tree_new(8 * n * n / tile / tile), .core = core, .candies = 3, .least = 1};
    int stack = -1;
    t.seed = seed;
    for (int y = 0; y < n; y += tile) {
        int row = -1;
        for (int x = 0; x < n; x += tile) {
            Outline all = outline_of_box(0, y, x + tile, tile);
            int node = random_node(&t, outline_of_box(x, y, tile, tile), 3);
            t.out.node[node].fine = true;
            row = x == 0 ? node : tree_join(&t.out, &all, (Point){x, y}, (Point){x, y + tile}, row, node);
        }
        Outline all = outline_of_box(0, 0, n, y + tile);
        stack = y == 0 ? row : tree_join(&t.out, &all, (Point){0, y}, (Point){n, y}, stack, row);
    }
    return t.out;
}

static void a_lay_up_has_the_same_risks_in_all_eight_placements(void **state) {
    (void)state;
    enum { N = 40, TILE = 8 };
    const Circle core = {N / 2.0, N / 2.0, N / 2.0};
    int all[3] = {0};
    for (uint64_t seed = 1; seed < 60; seed++) {
        LayUp tree = tiled_tree(N, TILE, core, seed);
        int want[3] = {0};
        for (int i = 0; i < PLACEMENTS; i++) {
            Motion motion = motion_in_place(placement(i), (Point){0, 0}, (Point){N, N});
            LayUp moved = tree_new(tree.nodes);
            tree_moved(&moved, &tree, tree.nodes - 1, motion, core);
            Built b = built_of(moved, N, core);
            int got[3] = {0};
            count_risks(&b, i == 0 ? want : got);
            if (i > 0) assert_memory_equal(got, want, sizeof got);
            built_free(&b);
        }
        for (int i = 0; i < 3; i++) all[i] += want[i];
        layup_free(&tree);
    }
    assert_true(all[0] > 300 && all[1] > 300);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(letters_are_known_to_be_at_risk_or_not),
        cmocka_unit_test(l_and_q_can_be_put_right_by_a_quarter_turn_if_their_diagonal_is_exact),
        cmocka_unit_test(a_wedge_of_equal_sides_fits_turned_by_a_third),
        cmocka_unit_test(a_wedge_of_two_equal_sides_fits_end_for_end_only),
        cmocka_unit_test(a_slanted_strip_fits_turned_by_a_half_only),
        cmocka_unit_test(a_kite_fits_end_for_end_only),
        cmocka_unit_test(a_block_goes_in_if_it_is_off_its_place_by_no_more_than_hands_let_pass),
        cmocka_unit_test(half_a_step_of_difference_is_not_seen),
        cmocka_unit_test(a_small_difference_of_a_large_block_is_easy_to_overlook),
        cmocka_unit_test(what_the_cores_edge_cuts_off_fits_end_for_end),
        cmocka_unit_test(a_lay_up_has_the_same_risks_in_all_eight_placements),
    };
    return cmocka_run_group_tests_name("find_wrong_ways", tests, NULL, NULL);
}
