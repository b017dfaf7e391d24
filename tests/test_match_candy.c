/* Tests of src/plan/match_candy.c and src/plan/cheapest_candies.c. SPDX-License-Identifier: MIT */
#include "plan/plan.h"

#include "plan/plan_parts.h"
#include "model/shop.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <cmocka.h>

static double random_unit(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (double)(*state >> 11) / 9007199254740992.0;
}

static int random_below(uint64_t *state, int n) {
    return (int)(random_unit(state) * n);
}

static void near(double got, double want, double limit) {
    if (!(fabs(got - want) <= limit)) fail_msg("got %.12g, want %.12g", got, want);
}

/* --- pictures drawn as text: one letter an ink --- */

static const struct {
    char letter;
    Ink ink;
} letters[] = {
    {'N', {{22, 22, 40}, false, 0}},  {'K', {{12, 12, 14}, false, 0}},  {'W', {{255, 255, 255}, false, 0}},
    {'R', {{210, 30, 40}, false, 0}}, {'r', {{180, 10, 60}, false, 0}}, {'Y', {{252, 208, 40}, false, 0}},
    {'B', {{30, 80, 170}, false, 0}}, {'G', {{40, 140, 60}, false, 0}}, {'.', {{0, 0, 0}, true, 0}}};
enum { LETTERS = sizeof letters / sizeof *letters };

static int letter_index(char letter) {
    for (int i = 0; i < LETTERS; i++)
        if (letters[i].letter == letter) return i;
    fail_msg("no ink '%c'", letter);
    return -1;
}

/* The ink map of the picture: shares, borders between neighbours, the field the ink of the first corner; inks
 * by falling share. Without labels: matching does not look at them. */
static InkMap inks_of(const char *const *row, int rows) {
    int width = (int)strlen(row[0]), count[LETTERS] = {0}, border[LETTERS][LETTERS] = {{0}}, borders = 0;
    for (int y = 0; y < rows; y++)
        for (int x = 0; x < width; x++) {
            int i = letter_index(row[y][x]);
            count[i]++;
            for (int side = 0; side < 2; side++) {
                int nx = x + (side == 0), ny = y + (side == 1);
                if (nx >= width || ny >= rows) continue;
                int j = letter_index(row[ny][nx]);
                if (i == j) continue;
                border[i][j]++, border[j][i]++, borders++;
            }
        }
    InkMap map = {.width = width, .height = rows};
    int of[INKS_MAX];
    for (int left = LETTERS; left > 0; left--) {
        int most = 0;
        for (int i = 1; i < LETTERS; i++)
            if (count[i] > count[most]) most = i;
        if (count[most] == 0) break;
        of[map.count] = most;
        map.ink[map.count] = letters[most].ink;
        map.ink[map.count++].share = count[most] / (double)(width * rows);
        count[most] = 0;
    }
    for (int i = 0; i < map.count; i++) {
        if (of[i] == letter_index(row[0][0])) map.field = i;
        for (int j = 0; j < map.count; j++)
            map.border[i][j] = borders ? border[of[i]][of[j]] / (double)borders : 0;
    }
    return map;
}

#define MAP(picture) inks_of(picture, (int)(sizeof(picture) / sizeof *(picture)))

static Palette matched(const InkMap *map, const Order *order, const Shop *shop) {
    Err err = {0};
    Palette palette = {0};
    if (!match_candy(map, order, shop, &palette, &err)) fail_msg("%s", err.msg);
    return palette;
}

/* The name of the candy that the ink drawn with this letter became. */
static const char *candy_of(const InkMap *map, const Palette *palette, char letter) {
    const Ink *ink = &letters[letter_index(letter)].ink;
    for (int i = 0; i < map->count; i++)
        if (memcmp(&map->ink[i].srgb, &ink->srgb, sizeof(Rgb8)) == 0 &&
            map->ink[i].transparent == ink->transparent)
            return palette->candy[palette->of_ink[i]].name;
    fail_msg("no ink '%c' in the picture", letter);
    return "";
}

static const char *const navy_on_black[] = {"KKKKKKKKK", "KNKNKNNKK", "KNKNKNNKK", "KKNKKNNKK", "KKKKKKKKK"};
static const char *const white_alone[] = {".......", ".WWWWW.", ".W...W.", ".WWWWW.", "......."};
static const char *const flag[] = {"WWWWWWWW", "WRRYYBBW", "WRRYYBBW", "WRrYKGBW", "WWWWWWWW"};

/* --- the search against all ways --- */

static double cost_of(const Assignment *a, const int *of_ink) {
    bool paid[CHOICES_MAX] = {false};
    double cost = a->beyond >= 0 ? a->price[a->beyond] : 0;
    if (a->beyond >= 0) paid[a->beyond] = true;
    for (int i = 0; i < a->inks; i++) {
        if (!paid[of_ink[i]]) cost += a->price[of_ink[i]];
        paid[of_ink[i]] = true;
    }
    for (int i = 0; i < a->inks; i++) {
        cost += a->colour[i][of_ink[i]];
        for (int j = 0; j < i; j++)
            cost += a->border[i][j] * fmax(0, a->apart[i][j] - a->between[of_ink[i]][of_ink[j]]);
    }
    return cost;
}

static bool allowed(const Assignment *a, const int *of_ink) {
    bool used[CHOICES_MAX] = {false};
    int different = 0;
    for (int i = -1; i < a->inks; i++) {
        int c = i < 0 ? a->beyond : of_ink[i];
        if (i >= 0 && a->fixed[i] >= 0 && a->fixed[i] != c) return false;
        if (c < 0 || used[c]) continue;
        used[c] = true;
        different++;
    }
    return different <= a->limit;
}

/* All ways, the last ink turning fastest: the first of equal ones is the first in the order of inks and
 * choices. */
static double brute_force(const Assignment *a, int best[INKS_MAX]) {
    int way[INKS_MAX] = {0}, ways = 1;
    double least = HUGE_VAL;
    for (int i = 0; i < a->inks; i++) ways *= a->choices;
    for (int w = 0; w < ways; w++) {
        for (int i = a->inks - 1, rest = w; i >= 0; i--, rest /= a->choices) way[i] = rest % a->choices;
        if (!allowed(a, way)) continue;
        double cost = cost_of(a, way);
        if (cost >= least - 1e-9) continue;
        least = cost;
        memcpy(best, way, sizeof way);
    }
    return least;
}

/* Coarse numbers, so that equal costs occur. */
static Assignment random_problem(uint64_t *seed, int inks_most, int choices_most) {
    Assignment a = {.inks = 1 + random_below(seed, inks_most),
                    .choices = 1 + random_below(seed, choices_most),
                    .limit = 1 + random_below(seed, 4),
                    .beyond = -1};
    for (int i = 0; i < a.inks; i++) {
        a.fixed[i] = -1;
        for (int c = 0; c < a.choices; c++) a.colour[i][c] = random_below(seed, 6);
        for (int j = 0; j < i; j++) {
            a.border[i][j] = a.border[j][i] = random_below(seed, 3) * 0.5;
            a.apart[i][j] = a.apart[j][i] = random_below(seed, 6);
        }
    }
    for (int c = 0; c < a.choices; c++) {
        if (random_below(seed, 3) == 0) a.price[c] = random_below(seed, 7) * 0.5;
        for (int d = 0; d < c; d++) a.between[c][d] = a.between[d][c] = random_below(seed, 8);
    }
    if (random_below(seed, 3) == 0) a.fixed[random_below(seed, a.inks)] = random_below(seed, a.choices);
    if (a.limit > 1 && random_below(seed, 4) == 0) a.beyond = random_below(seed, a.choices);
    return a;
}

static void the_search_equals_all_ways_on_small_cases(void **state) {
    (void)state;
    uint64_t seed = 11;
    for (int round = 0; round < 2000; round++) {
        Assignment a = random_problem(&seed, 5, 5);
        int got[INKS_MAX], want[INKS_MAX];
        double least = brute_force(&a, want);
        near(cheapest_candies(&a, got), least, 1e-9);
        for (int i = 0; i < a.inks; i++)
            if (got[i] != want[i])
                fail_msg("round %d: ink %d became %d, first best is %d", round, i, got[i], want[i]);
    }
}

/* All twelve inks touch one another: far more borders than a drawing in the plane can have. */
static InkMap crowded_map(uint64_t *seed) {
    InkMap map = {.count = INKS_MAX};
    double shares = 0, borders = 0;
    for (int i = 0; i < INKS_MAX; i++) {
        map.ink[i].srgb = (Rgb8){(uint8_t)random_below(seed, 256), (uint8_t)random_below(seed, 256),
                                 (uint8_t)random_below(seed, 256)};
        shares += map.ink[i].share = 1 + random_unit(seed) * 5;
        for (int j = 0; j < i; j++) borders += map.border[i][j] = map.border[j][i] = random_unit(seed);
    }
    for (int i = 0; i < INKS_MAX; i++) {
        map.ink[i].share /= shares;
        for (int j = 0; j < INKS_MAX; j++) map.border[i][j] /= borders;
    }
    return map;
}

static void twelve_inks_are_matched_within_the_cap_and_in_time(void **state) {
    (void)state;
    uint64_t seed = 5;
    const Shop shop = shop_default();
    for (int colours = 1; colours <= INKS_MAX; colours++) {
        InkMap map = crowded_map(&seed);
        Order order = order_default();
        order.colours = colours;
        clock_t start = clock();
        Palette palette = matched(&map, &order, &shop);
        double seconds = (double)(clock() - start) / CLOCKS_PER_SEC;
        assert_true(palette.count <= colours && palette.count >= 1);
        if (seconds > 2)
            fail_msg("%d colours took %.2f s", colours, seconds); /* 0.04 s, with room for slow machines */
    }
}

/* Twelve inks that are candies of the stock, and a field beyond the picture that is a thirteenth. */
static void no_more_candies_are_wanted_than_a_palette_holds(void **state) {
    (void)state;
    const Shop shop = shop_default();
    InkMap map = {.count = INKS_MAX, .full_bleed = true, .cropped = true};
    Order order = order_default();
    for (int i = 0; i < INKS_MAX; i++)
        map.ink[i] = (Ink){.srgb = shop.stock.candy[i].srgb, .share = 1.0 / INKS_MAX};
    order.colours = INKS_MAX;
    strcpy(order.field, shop.stock.candy[INKS_MAX].name);
    Palette palette = matched(&map, &order, &shop);
    assert_int_equal(palette.wanted, INKS_MAX); /* it is advised as -k, and tried */
    assert_int_equal(palette.count, INKS_MAX);
    assert_string_equal(palette.candy[0].name, order.field);
    for (int i = 0; i < INKS_MAX; i++) {
        order.wish[i].ink = map.ink[i].srgb;
        strcpy(order.wish[order.wishes++].candy, shop.stock.candy[i].name);
    }
    Err err = {0};
    assert_false(match_candy(&map, &order, &shop, &palette, &err));
    assert_string_equal(err.msg, "the wishes take 13 candies, a picture holds 12; wish for fewer");
}

/* --- what comes of a logo --- */

static void navy_on_black_stays_two_candies_that_can_be_told_apart(void **state) {
    (void)state;
    const Shop shop = shop_default();
    InkMap map = MAP(navy_on_black);
    Order order = order_default();
    Palette palette = matched(&map, &order, &shop);
    assert_int_equal(palette.count, 2);
    double inks = delta_e00(rgb8_lab(letters[0].ink.srgb), rgb8_lab(letters[1].ink.srgb));
    double candies = delta_e00(rgb8_lab(palette.candy[0].srgb), rgb8_lab(palette.candy[1].srgb));
    if (candies < fmin(20, 0.8 * inks)) fail_msg("inks %.1f apart, candies %.1f", inks, candies);
    assert_int_equal(palette.field, palette.of_ink[map.field]);
}

static void a_white_logo_on_transparency_gets_a_field_it_shows_up_on(void **state) {
    (void)state;
    const Shop shop = shop_default();
    InkMap map = MAP(white_alone);
    Order order = order_default();
    Palette palette = matched(&map, &order, &shop);
    assert_string_equal(candy_of(&map, &palette, 'W'), "white");
    double apart = delta_e00(rgb8_lab(palette.candy[0].srgb), rgb8_lab(palette.candy[1].srgb));
    assert_true(palette.count == 2 && palette.field == 0 && apart >= 25);
    assert_true(palette.delta_e[map.field] == 0);
}

/* White in a black line: if the line can be built, white paper is what it was drawn for; else it is lost on
 * white. */
static void white_in_a_thin_outline_gets_a_field_it_shows_up_on(void **state) {
    (void)state;
    const Shop shop = shop_default();
    static const char *const picture[] = {".......", ".KKKKK.", ".KWWWK.", ".KWWWK.", ".KKKKK.", "......."};
    Order order = order_default();
    for (int thin = 0; thin < 2; thin++) {
        InkMap map = MAP(picture);
        for (int i = 0; thin && i < map.count; i++)
            if (map.ink[i].srgb.r == 255) map.across[i][map.field] = map.across[map.field][i] = 0.4;
        Palette palette = matched(&map, &order, &shop);
        const char *field = palette.candy[palette.field].name;
        assert_string_equal(candy_of(&map, &palette, 'W'), "white");
        assert_string_equal(candy_of(&map, &palette, 'K'), "black");
        assert_int_equal(strcmp(field, "white") == 0, !thin);
        assert_string_not_equal(field, "black");
    }
}

static void a_dark_logo_on_transparency_gets_the_first_candy_it_shows_up_on(void **state) {
    (void)state;
    const Shop shop = shop_default();
    static const char *const picture[] = {"......", ".KKRR.", ".KKRR.", "......"};
    InkMap map = MAP(picture);
    Order order = order_default();
    Palette palette = matched(&map, &order, &shop);
    assert_string_equal(palette.candy[palette.field].name, "white");
    assert_string_equal(candy_of(&map, &palette, 'K'), "black");
    assert_string_equal(candy_of(&map, &palette, 'R'), "red");
}

static void the_order_of_pixels_does_not_matter(void **state) {
    (void)state;
    const Shop shop = shop_default();
    static const char *const upside_down[] = {"WWWWWWWW", "WBGKYrRW", "WBBYYRRW", "WBBYYRRW", "WWWWWWWW"};
    InkMap map = MAP(flag), other = MAP(upside_down);
    uint8_t label = 0;
    other.label = &label;
    Order order = order_default();
    for (order.colours = 1; order.colours <= 8; order.colours++) {
        Palette p = matched(&map, &order, &shop), q = matched(&other, &order, &shop);
        assert_memory_equal(&p, &q, sizeof p);
    }
}

static void inks_are_joined_when_the_cap_asks_for_it(void **state) {
    (void)state;
    const Shop shop = shop_default();
    InkMap map = MAP(flag);
    Order order = order_default();
    for (order.colours = 1; order.colours <= 8; order.colours++) {
        Palette palette = matched(&map, &order, &shop);
        assert_true(palette.count <= order.colours);
        assert_int_equal(palette.wanted, 7); /* the second red is dyed to order */
        assert_int_equal(palette.inks, 7);
    }
    order.colours = 12;
    Palette palette = matched(&map, &order, &shop);
    assert_string_equal(candy_of(&map, &palette, 'R'), "red");
    assert_string_equal(candy_of(&map, &palette, 'r'), "purplish red");
    assert_string_equal(candy_of(&map, &palette, 'Y'), "yellow");
    assert_string_equal(palette.candy[0].name, "white");
    for (int i = 0; i < map.count; i++) {
        Lab ink = rgb8_lab(map.ink[i].srgb), candy = rgb8_lab(palette.candy[palette.of_ink[i]].srgb);
        near(palette.delta_e[i], delta_e00(ink, candy), 1e-12);
    }
}

static void candies_come_field_first_then_by_falling_area(void **state) {
    (void)state;
    const Shop shop = shop_default();
    static const char *const picture[] = {"WWWWWW", "WRRRRR", "WRRRRR", "WRRRRR", "WRYYBR", "WWWWWW"};
    InkMap map = MAP(picture);
    map.field =
        1 - map.field; /* W is the smaller of the two large ones, or not: either way the field leads */
    Order order = order_default();
    Palette palette = matched(&map, &order, &shop);
    assert_int_equal(palette.count, 4);
    assert_int_equal(palette.field, 0);
    assert_int_equal(palette.of_ink[map.field], 0);
    assert_string_equal(palette.candy[2].name, "yellow");
    assert_string_equal(palette.candy[3].name, "blue");
}

static void a_speck_does_not_count_as_a_candy_wanted(void **state) {
    (void)state;
    const Shop shop = shop_default();
    InkMap map = MAP(navy_on_black);
    map.ink[1].share = 0.004;
    Order order = order_default();
    assert_int_equal(matched(&map, &order, &shop).wanted, 1);
    map.ink[1].share = 0.006;
    assert_int_equal(matched(&map, &order, &shop).wanted, 2);
}

/* --- wishes --- */

static void wish(Order *order, Rgb8 ink, const char *candy) {
    InkWish *w = &order->wish[order->wishes++];
    w->ink = ink;
    (void)snprintf(w->candy, sizeof w->candy, "%s", candy);
}

static void wishes_the_field_and_dyeing_are_kept(void **state) {
    (void)state;
    const Shop shop = shop_default();
    InkMap map = MAP(flag);
    Order order = order_default();
    wish(&order, (Rgb8){250, 205, 45}, "violet");
    wish(&order, (Rgb8){30, 80, 170}, "dye");
    (void)snprintf(order.field, sizeof order.field, "%s", "cream");
    Palette palette = matched(&map, &order, &shop);
    assert_string_equal(candy_of(&map, &palette, 'Y'), "violet");
    assert_string_equal(candy_of(&map, &palette, 'W'), "cream");
    const char *dyed = candy_of(&map, &palette, 'B');
    assert_string_equal(dyed, "medium blue"); /* the stock has a blue of its own */
    assert_string_equal(palette.candy[palette.field].name, "cream");
    assert_true(palette.count <= 4);
    for (int c = 0; c < palette.count; c++) {
        const Candy *candy = &palette.candy[c];
        assert_int_equal(candy->dyed, strcmp(candy->name, dyed) == 0);
        if (!candy->dyed) continue;
        assert_true(candy->finish == FINISH_PULLED && candy->density_g_ml == 1.30);
        assert_int_equal(candy->srgb.r << 16 | candy->srgb.g << 8 | candy->srgb.b, 0x1E50AA);
    }
}

/* --- dyed to order, and clear --- */

/* `ink` as a square on transparency, of this share. */
static InkMap square_of(Rgb8 ink, double share) {
    InkMap map = {.count = 2};
    map.ink[0] = (Ink){.transparent = true, .share = 1 - share};
    map.ink[1] = (Ink){.srgb = ink, .share = share};
    map.border[0][1] = map.border[1][0] = 1;
    return map;
}

static void an_ink_far_from_the_stock_is_dyed_to_order(void **state) {
    (void)state;
    static const struct {
        const char *ink, *dyed, *of_stock;
    } row[] = {{"#0E5C5C", "dark teal", "green"},  {"#FF0000", "bright red", "red"},
               {"#1B5E20", "dark green", "green"}, {"#334155", "dark grey blue", "black"},
               {"#C8202C", NULL, "red"},           {"#2A5CB8", NULL, "blue"}};
    Order order = order_default();
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        for (int to_order = 0; to_order < 2; to_order++) {
            Shop shop = shop_default();
            Rgb8 ink;
            shop.dye_to_order = to_order;
            assert_true(rgb8_parse(row[i].ink, &ink));
            InkMap map = square_of(ink, 0.5);
            Palette palette = matched(&map, &order, &shop);
            const Candy *candy = &palette.candy[palette.of_ink[1]];
            bool dyed = to_order && row[i].dyed;
            assert_string_equal(candy->name, dyed ? row[i].dyed : row[i].of_stock);
            assert_int_equal(candy->dyed, dyed);
            near(palette.delta_e[1], delta_e00(rgb8_lab(ink), rgb8_lab(candy->srgb)), 1e-12);
            if (dyed) assert_true(palette.delta_e[1] < 10);
            assert_int_equal(palette.wanted, 2);
            assert_string_equal(palette.candy[palette.field].name, "white");
        }
}

static void a_tiny_ink_is_not_worth_a_batch(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Order order = order_default();
    for (int tiny = 0; tiny < 2; tiny++) {
        InkMap map = square_of((Rgb8){14, 92, 92}, tiny ? 0.0004 : 0.02);
        map.border[0][1] = map.border[1][0] = tiny ? 0.0004 : 0.02;
        map.count = 3; /* beside a large red */
        map.ink[0].share -= 0.5;
        map.ink[2] = (Ink){.srgb = {200, 32, 44}, .share = 0.5};
        Palette palette = matched(&map, &order, &shop);
        assert_int_equal(palette.candy[palette.of_ink[1]].dyed, !tiny);
    }
}

/* White and three far inks; the last is small, and near one of them. */
static void dyed_candies_count_as_candies(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Order order = order_default();
    InkMap map = {.count = 4};
    static const Rgb8 ink[4] = {{255, 255, 255}, {14, 92, 92}, {181, 126, 220}, {18, 100, 98}};
    static const double share[4] = {0.4, 0.3, 0.28, 0.02};
    for (int i = 0; i < 4; i++) map.ink[i] = (Ink){.srgb = ink[i], .share = share[i]};
    for (order.colours = 1; order.colours <= 4; order.colours++) {
        Palette palette = matched(&map, &order, &shop);
        assert_true(palette.count <= order.colours);
        if (order.colours < 3) continue;
        assert_int_equal(palette.of_ink[1], palette.of_ink[3]);
        assert_true(palette.candy[palette.of_ink[2]].dyed);
    }
}

static void the_second_of_two_shades_that_touch_is_dyed(void **state) {
    (void)state;
    static const char *const picture[] = {"RRRrrr", "RRRrrr", "RRRrrr"}, *const apart[] = {"RRWWrr",
                                                                                           "RRWWrr"};
    const Shop shop = shop_default();
    Order order = order_default();
    InkMap map = MAP(picture);
    Palette palette = matched(&map, &order, &shop);
    assert_string_not_equal(candy_of(&map, &palette, 'r'), candy_of(&map, &palette, 'R'));
    assert_string_equal(candy_of(&map, &palette, 'R'), "red");
    map = inks_of(apart, 2);
    palette = matched(&map, &order, &shop);
    assert_string_equal(candy_of(&map, &palette, 'r'), "red");
}

static void a_dyed_candy_can_be_asked_for_by_its_name(void **state) {
    (void)state;
    const Shop shop = shop_default();
    InkMap map = square_of((Rgb8){14, 92, 92}, 0.5);
    Order order = order_default();
    (void)snprintf(order.field, sizeof order.field, "Dark teal");
    order.jackets = 1;
    (void)snprintf(order.jacket[0], sizeof order.jacket[0], "dark teal");
    Palette palette = matched(&map, &order, &shop);
    assert_string_equal(palette.candy[palette.field].name, "dark teal");
    assert_string_equal(palette.jacket[0].name, "dark teal");
}

/* The stock's names, each with a colour that would have it too; all of a palette's names differ. */
static void dyed_candies_have_names_of_their_own(void **state) {
    (void)state;
    Shop shop = shop_default();
    Order order = order_default();
    order.colours = INKS_MAX;
    uint64_t seed = 21;
    for (int round = 0; round < 40; round++) {
        InkMap map = crowded_map(&seed);
        Palette p = matched(&map, &order, &shop);
        for (int i = 0; i < p.count; i++)
            for (int j = 0; j < i; j++) assert_string_not_equal(p.candy[i].name, p.candy[j].name);
        for (int i = 0; i < p.count; i++)
            assert_int_equal(stock_find(&shop.stock, p.candy[i].name) < 0, p.candy[i].dyed);
    }
}

static void clear_candy_is_taken_only_where_it_is_asked_for(void **state) {
    (void)state;
    Shop shop = shop_default();
    shop.dye_to_order = false;
    Order order = order_default();
    InkMap map = square_of((Rgb8){226, 176, 92}, 0.5); /* clear amber itself */
    Palette palette = matched(&map, &order, &shop);
    assert_string_equal(palette.candy[palette.of_ink[1]].name, "yellow");
    wish(&order, (Rgb8){226, 176, 92}, "clear amber");
    palette = matched(&map, &order, &shop);
    assert_string_equal(palette.candy[palette.of_ink[1]].name, "clear amber");
    Shop clear = shop; /* nothing else in the shop: then it has to do */
    clear.stock.count = 2;
    for (int i = 0; i < 2; i++) clear.stock.candy[i] = shop.stock.candy[shop.stock.count - 2 + i];
    order.wishes = 0;
    palette = matched(&map, &order, &clear);
    assert_string_equal(palette.candy[palette.of_ink[1]].name, "clear amber");
}

static void the_field_of_a_disc_out_of_a_picture_lies_beyond_it(void **state) {
    (void)state;
    const Shop shop = shop_default();
    static const char *const picture[] = {"RRRR", "RRRR", "BBBB", "BBBB"};
    InkMap map = MAP(picture);
    map.full_bleed = map.cropped = true;
    Order order = order_default();
    (void)snprintf(order.field, sizeof order.field, "%s", "cream");
    Palette palette = matched(&map, &order, &shop);
    assert_int_equal(palette.count, 3);
    assert_int_equal(palette.wanted, 3);
    assert_string_equal(palette.candy[palette.field].name, "cream");
    assert_string_equal(candy_of(&map, &palette, 'R'), "red");
    order.colours = 2;
    assert_int_equal(matched(&map, &order, &shop).count, 2);
}

static void the_jacket_is_resolved(void **state) {
    (void)state;
    const Shop shop = shop_default();
    InkMap map = MAP(flag);
    Order order = order_default();
    Palette palette = matched(&map, &order, &shop);
    assert_true(palette.jackets == 1 && palette.stripes == 1);
    assert_string_equal(palette.jacket[0].name, palette.candy[palette.field].name);
    order.jackets = 2;
    (void)snprintf(order.jacket[0], sizeof order.jacket[0], "%s", "RED");
    (void)snprintf(order.jacket[1], sizeof order.jacket[1], "%s", "cr");
    palette = matched(&map, &order, &shop);
    assert_true(palette.jackets == 2 && palette.stripes == 12);
    assert_string_equal(palette.jacket[0].name, "red");
    assert_string_equal(palette.jacket[1].name, "cream");
    order.stripes = 8;
    assert_int_equal(matched(&map, &order, &shop).stripes, 8);
}

static void a_jacket_that_suits_is_the_field_and_the_largest_other_candy(void **state) {
    (void)state;
    const Shop shop = shop_default();
    static const char *const picture[] = {"WWWWWW", "WRRRBW", "WRRRBW", "WWWWWW"};
    InkMap map = MAP(picture);
    map.field = 0;
    Order order = order_default();
    order.jackets = 1;
    strcpy(order.jacket[0], "Auto");
    Palette palette = matched(&map, &order, &shop);
    assert_true(palette.jackets == 2 && palette.stripes == 12);
    assert_string_equal(palette.jacket[0].name, "white");
    assert_string_equal(palette.jacket[1].name, "red");
    order.stripes = 6;
    assert_int_equal(matched(&map, &order, &shop).stripes, 6);
    order.stripes = 0;
    static const char *const plain[] = {"RR", "RR"};
    map = MAP(plain);
    palette = matched(&map, &order, &shop);
    assert_true(palette.jackets == 1 && palette.stripes == 1);
    assert_string_equal(palette.jacket[0].name, "red");
}

/* --- errors --- */

static void expect_error(const InkMap *map, const Order *order, const char *const part[3]) {
    const Shop shop = shop_default();
    Err err = {0};
    Palette palette = {.wanted = 77};
    assert_false(match_candy(map, order, &shop, &palette, &err));
    assert_int_equal(err.code, ERR_USAGE);
    assert_true(palette.wanted == 77 && palette.count == 0);
    for (int i = 0; i < 3; i++)
        if (!strstr(err.msg, part[i])) fail_msg("'%s' is not in: %s", part[i], err.msg);
}

static void each_bad_wish_is_named(void **state) {
    (void)state;
    InkMap map = MAP(flag);
    Order plain = order_default(), order = plain;
    (void)snprintf(order.field, sizeof order.field, "%s", "lilac");
    expect_error(&map, &order, (const char *const[]){"-f", "'lilac'", "white, cream, black"});
    (void)snprintf(order.field, sizeof order.field, "%s", "bl");
    expect_error(&map, &order, (const char *const[]){"-f", "'bl'", "black, blue"});
    order = plain;
    wish(&order, (Rgb8){252, 208, 40}, "lilac");
    expect_error(&map, &order, (const char *const[]){"-m", "'lilac'", "white, cream, black"});
    order = plain;
    wish(&order, (Rgb8){255, 0, 255}, "red");
    expect_error(&map, &order, (const char *const[]){"#FF00FF", "#FFFFFF", "#FCD028"});
    order = plain;
    order.colours = 2;
    wish(&order, (Rgb8){252, 208, 40}, "violet");
    wish(&order, (Rgb8){30, 80, 170}, "brown");
    (void)snprintf(order.field, sizeof order.field, "%s", "cream");
    expect_error(&map, &order, (const char *const[]){"3 candies", "-k", "2"});
    order = plain;
    wish(&order, (Rgb8){252, 208, 40}, "violet");
    wish(&order, (Rgb8){252, 208, 41}, "brown");
    expect_error(&map, &order, (const char *const[]){"#FCD028", "violet", "brown"});
    order = plain;
    order.jackets = 1;
    (void)snprintf(order.jacket[0], sizeof order.jacket[0], "%s", "lilac");
    expect_error(&map, &order, (const char *const[]){"-j", "'lilac'", "white, cream, black"});
    order = plain;
    order.jackets = 3;
    order.stripes = 8;
    for (int j = 0; j < 3; j++)
        (void)snprintf(order.jacket[j], sizeof order.jacket[j], "%s", j == 1 ? "red" : "white");
    expect_error(&map, &order, (const char *const[]){"--stripes", "8", "3"});
    order.jackets = 1;
    expect_error(&map, &order, (const char *const[]){"--stripes 8", "one candy", "-j white,CANDY"});
}

/* Dark and red: any light field keeps them apart from it; without a reason to choose, white is expected. */
static void a_transparent_field_is_white_unless_its_borders_ask_for_another(void **state) {
    (void)state;
    static const char *const dark[] = {".......", ".KKKKK.", ".KRRRK.", ".KKKKK.", "......."},
                             *const white[] = {".......", ".WWWWW.", ".WRRRW.", ".WWWWW.", "......."};
    Shop shop = shop_default(), turned = shop; /* so that no tie of the stock's order makes it white */
    for (int i = 0; i < turned.stock.count; i++)
        turned.stock.candy[i] = shop.stock.candy[turned.stock.count - 1 - i];
    Order order = order_default();
    Palette palette;
    Err err = {0};
    InkMap map = inks_of(dark, 5);
    assert_true(match_candy(&map, &order, &turned, &palette, &err));
    assert_string_equal(palette.candy[palette.field].name, "white");
    map = inks_of(white, 5);
    assert_true(match_candy(&map, &order, &turned, &palette, &err));
    assert_string_not_equal(palette.candy[palette.field].name, "white");
}

/* Before there is a logo: what a dyed candy may be called passes, and is looked for again with the logo. */
static void a_name_that_no_logo_can_have_is_found_without_one(void **state) {
    (void)state;
    static const struct {
        const char *field, *jacket, *wish, *wrong; /* NULL: nothing is */
    } cases[] = {{"", NULL, NULL, NULL},
                 {"white", "RED", "dye", NULL},
                 {"Dark Teal", "auto", "violet+2white", NULL},
                 {"clear a", "white+dark teal", NULL, NULL},
                 {"teel", NULL, NULL, "-f 'teel': the shop has no such candy; it has white, "},
                 {"cl", NULL, NULL, "-f 'cl': fits several candies; write more of the name: clear amber, "},
                 {"", "whitte", NULL, "-j 'whitte': the shop has no such candy"},
                 {"", NULL, "blue+whitte", "-m 'whitte': the shop has no such candy"},
                 {"", NULL, "blue+", "-m 'blue+'"},
                 {"clear red+white", NULL, NULL, "-f 'clear red+white'"}};
    Shop shop = shop_default();
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Order order = {.jackets = cases[i].jacket != NULL, .wishes = cases[i].wish != NULL};
        Err err = {0};
        strcpy(order.field, cases[i].field);
        if (cases[i].jacket) strcpy(order.jacket[0], cases[i].jacket);
        if (cases[i].wish) strcpy(order.wish[0].candy, cases[i].wish);
        bool good = check_candies(&order, &shop, &err);
        if (good != !cases[i].wrong) fail_msg("%zu: %s", i, err.msg);
        if (good) continue;
        assert_int_equal(err.code, ERR_USAGE);
        if (strncmp(err.msg, cases[i].wrong, strlen(cases[i].wrong)) != 0) fail_msg("%s", err.msg);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_transparent_field_is_white_unless_its_borders_ask_for_another),
        cmocka_unit_test(the_search_equals_all_ways_on_small_cases),
        cmocka_unit_test(twelve_inks_are_matched_within_the_cap_and_in_time),
        cmocka_unit_test(no_more_candies_are_wanted_than_a_palette_holds),
        cmocka_unit_test(navy_on_black_stays_two_candies_that_can_be_told_apart),
        cmocka_unit_test(a_white_logo_on_transparency_gets_a_field_it_shows_up_on),
        cmocka_unit_test(white_in_a_thin_outline_gets_a_field_it_shows_up_on),
        cmocka_unit_test(a_dark_logo_on_transparency_gets_the_first_candy_it_shows_up_on),
        cmocka_unit_test(the_order_of_pixels_does_not_matter),
        cmocka_unit_test(inks_are_joined_when_the_cap_asks_for_it),
        cmocka_unit_test(candies_come_field_first_then_by_falling_area),
        cmocka_unit_test(a_speck_does_not_count_as_a_candy_wanted),
        cmocka_unit_test(wishes_the_field_and_dyeing_are_kept),
        cmocka_unit_test(an_ink_far_from_the_stock_is_dyed_to_order),
        cmocka_unit_test(a_tiny_ink_is_not_worth_a_batch),
        cmocka_unit_test(dyed_candies_count_as_candies),
        cmocka_unit_test(the_second_of_two_shades_that_touch_is_dyed),
        cmocka_unit_test(a_dyed_candy_can_be_asked_for_by_its_name),
        cmocka_unit_test(dyed_candies_have_names_of_their_own),
        cmocka_unit_test(clear_candy_is_taken_only_where_it_is_asked_for),
        cmocka_unit_test(the_field_of_a_disc_out_of_a_picture_lies_beyond_it),
        cmocka_unit_test(the_jacket_is_resolved),
        cmocka_unit_test(a_jacket_that_suits_is_the_field_and_the_largest_other_candy),
        cmocka_unit_test(a_name_that_no_logo_can_have_is_found_without_one),
        cmocka_unit_test(each_bad_wish_is_named)};
    return cmocka_run_group_tests_name("match_candy", tests, NULL, NULL);
}
