/* Tests of src/match_candy.c and src/assign.c. SPDX-License-Identifier: MIT */
#include "match_candy.h"

#include "assign.h"
#include "shop.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
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

/* --- pictures drawn as text: one letter an ink -------------------------------------------------------------------- */

static const struct {
    char letter;
    Ink ink;
} letters[] = {{'N', {{18, 28, 82}, false, 0}},    {'K', {{12, 12, 14}, false, 0}},
               {'W', {{255, 255, 255}, false, 0}}, {'R', {{210, 30, 40}, false, 0}},
               {'r', {{196, 24, 60}, false, 0}},   {'Y', {{252, 208, 40}, false, 0}},
               {'B', {{30, 80, 170}, false, 0}},   {'G', {{40, 140, 60}, false, 0}},
               {'.', {{0, 0, 0}, true, 0}}};
enum { LETTERS = sizeof letters / sizeof *letters };

static int letter_index(char letter) {
    for (int i = 0; i < LETTERS; i++)
        if (letters[i].letter == letter) return i;
    fail_msg("no ink '%c'", letter);
    return -1;
}

/* The ink map of the picture: shares, borders between neighbours, the field the ink of the first corner; inks by
 * falling share. Without labels: matching does not look at them. */
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
        for (int j = 0; j < map.count; j++) map.border[i][j] = borders ? border[of[i]][of[j]] / (double)borders : 0;
    }
    return map;
}

#define MAP(picture) inks_of(picture, (int)(sizeof(picture) / sizeof *(picture)))

static Palette matched(const InkMap *map, const Order *order, const Stock *stock) {
    Err err = {0};
    Palette palette = {0};
    if (!match_candy(map, order, stock, &palette, &err)) fail_msg("%s", err.msg);
    return palette;
}

/* The name of the candy that the ink drawn with this letter became. */
static const char *candy_of(const InkMap *map, const Palette *palette, char letter) {
    const Ink *ink = &letters[letter_index(letter)].ink;
    for (int i = 0; i < map->count; i++)
        if (memcmp(&map->ink[i].srgb, &ink->srgb, sizeof(Rgb8)) == 0 && map->ink[i].transparent == ink->transparent)
            return palette->candy[palette->of_ink[i]].name;
    fail_msg("no ink '%c' in the picture", letter);
    return "";
}

static const char *const navy_on_black[] = {"KKKKKKKKK", "KNKNKNNKK", "KNKNKNNKK", "KKNKKNNKK", "KKKKKKKKK"};
static const char *const white_alone[] = {".......", ".WWWWW.", ".W...W.", ".WWWWW.", "......."};
static const char *const flag[] = {"WWWWWWWW", "WRRYYBBW", "WRRYYBBW", "WRrYKGBW", "WWWWWWWW"};

/* --- the search against all ways --------------------------------------------------------------------------------- */

static double cost_of(const Assignment *a, const int *of_ink) {
    double cost = 0;
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

/* All ways, the last ink turning fastest: the first of equal ones is the first in the order of inks and choices. */
static double brute_force(const Assignment *a, int best[INKS_MAX]) {
    int way[INKS_MAX] = {0}, ways = 1;
    double least = INFINITY;
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
    Assignment a = {.inks = 1 + random_below(seed, inks_most), .choices = 1 + random_below(seed, choices_most),
                    .limit = 1 + random_below(seed, 4), .beyond = -1};
    for (int i = 0; i < a.inks; i++) {
        a.fixed[i] = -1;
        for (int c = 0; c < a.choices; c++) a.colour[i][c] = random_below(seed, 6);
        for (int j = 0; j < i; j++) {
            a.border[i][j] = a.border[j][i] = random_below(seed, 3) * 0.5;
            a.apart[i][j] = a.apart[j][i] = random_below(seed, 6);
        }
    }
    for (int c = 0; c < a.choices; c++)
        for (int d = 0; d < c; d++) a.between[c][d] = a.between[d][c] = random_below(seed, 8);
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
        near(assign(&a, got), least, 1e-9);
        for (int i = 0; i < a.inks; i++)
            if (got[i] != want[i]) fail_msg("round %d: ink %d became %d, first best is %d", round, i, got[i], want[i]);
    }
}

static void twelve_inks_and_sixty_four_candies_are_matched_in_time(void **state) {
    (void)state;
    uint64_t seed = 5;
    Stock stock = {.count = STOCK_MAX};
    for (int c = 0; c < STOCK_MAX; c++) {
        Candy *candy = &stock.candy[c];
        *candy = (Candy){.finish = FINISH_PULLED, .density_g_ml = 1.3};
        (void)snprintf(candy->name, sizeof candy->name, "candy %d", c);
        candy->srgb = (Rgb8){(uint8_t)random_below(&seed, 256), (uint8_t)random_below(&seed, 256),
                             (uint8_t)random_below(&seed, 256)};
    }
    for (int colours = 1; colours <= INKS_MAX; colours++) {
        InkMap map = {.count = INKS_MAX};
        double shares = 0, borders = 0;
        for (int i = 0; i < INKS_MAX; i++) {
            map.ink[i].srgb = (Rgb8){(uint8_t)random_below(&seed, 256), (uint8_t)random_below(&seed, 256),
                                     (uint8_t)random_below(&seed, 256)};
            shares += map.ink[i].share = 1 + random_unit(&seed) * 5;
            for (int j = 0; j < i; j++) borders += map.border[i][j] = map.border[j][i] = random_unit(&seed);
        }
        for (int i = 0; i < INKS_MAX; i++) {
            map.ink[i].share /= shares;
            for (int j = 0; j < INKS_MAX; j++) map.border[i][j] /= borders;
        }
        Order order = order_default();
        order.colours = colours;
        clock_t start = clock();
        Palette palette = matched(&map, &order, &stock);
        double seconds = (double)(clock() - start) / CLOCKS_PER_SEC;
        if (getenv("SHOW")) printf("K=%d %.1f ms\n", colours, seconds * 1000);
        assert_true(palette.count <= colours);
        if (seconds > 60) fail_msg("%d colours took %.2f s", colours, seconds);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_search_equals_all_ways_on_small_cases),
        cmocka_unit_test(twelve_inks_and_sixty_four_candies_are_matched_in_time)};
    return cmocka_run_group_tests_name("match_candy", tests, NULL, NULL);
}
