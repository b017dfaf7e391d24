/* Tests of src/model/far_colour.c. SPDX-License-Identifier: MIT */
#include "model/far_colour.h"

#include "model/shop.h"
#include "oklab.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

static Rgb8 colour_of(const char *code) {
    Rgb8 out = {0};
    if (!rgb8_parse(code, &out)) fail_msg("%s is no colour", code);
    return out;
}

/* The candy of the built-in stock that costs least, clear ones left out. */
static const char *nearest(const Shop *shop, Rgb8 ink) {
    const char *name = "";
    double least = HUGE_VAL;
    for (int c = 0; c < shop->stock.count; c++) {
        const Candy *candy = &shop->stock.candy[c];
        double cost = colour_cost(ink, candy->srgb);
        if (candy->finish != FINISH_PULLED || cost >= least) continue;
        least = cost;
        name = candy->name;
    }
    return name;
}

/* Made by eye: what people who are shown the ink and the stock's patches take for it. */
static const struct {
    const char *name, *inks, *candies; /* both in commas */
} table[] = {
    {"slate", "2F4F4F,708090,475569,334155,64748B,3E4A59,4A5568,36454F", "grey,black"},
    {"charcoal", "333333,3D3D3D,2B2B2B,464646,3C3B3D,4A4A4A,383E42,54585A,404040,3B3C36", "grey,black"},
    {"mid grey", "696969,808080,A9A9A9,777B7E,8E8E8E", "grey"},
    {"light grey", "C0C0C0,D3D3D3,E5E4E2", "white,grey"},
    {"dark green", "006400,013220,14532D,1F5B3B,0B3D2E,00441B,1B4D3E,2E5A1C,004225,556B2F", "green"},
    {"bright green", "32CD32,00FF00,90EE90,98FF98,6B8E23", "green"},
    {"teal", "008080,0D9488,2A7F7F,005F5F,134E4A,00A693,367588,006D77,014D4E", "green,blue,sky blue"},
    {"crimson", "DC143C,A51C30,B80F3A,9E1B32,990000,D91E4A,8B0000,C41E3A", "red,pink,brown"},
    {"magenta", "FF00FF,E6007E,C2185B,D81B60,D5007F,FF0090,CC0066,AD1457,D6006D,C71585", "red,pink"},
    {"gold", "FFD700,D4AF37,CFB53B,B8860B,C9A227,AF8D13,DAA520,C5A028,E6BE8A", "yellow,orange"},
    {"cream", "FFFDD0,F5E6C8,FAF0DC,FFF8E7,F3E5AB,EFE6D0,FFFBEA", "cream,white"},
    {"purple", "9370DB,B57EDC,4B0082,800080,6A0DAD", "violet"},
    {"blue", "0000FF,1E90FF,00008B,191970,0033A0,4169E1", "blue,sky blue,navy"},
    {"brown", "7B3F00,8B4513,5D4037,6F4E37,422518,A0522D", "brown"},
    {"bright orange", "FFA500,FF4500,FF8C69,FF7F50", "orange"},
};

static bool in_list(const char *list, const char *word) {
    size_t length = strlen(word);
    for (const char *at = list; at; at = strchr(at, ',') ? strchr(at, ',') + 1 : NULL)
        if (strncmp(at, word, length) == 0 && (at[length] == ',' || at[length] == 0)) return true;
    return false;
}

static void an_ink_far_from_the_stock_stays_in_its_family(void **state) {
    (void)state;
    const Shop shop = shop_default();
    int wrong = 0;
    for (size_t i = 0; i < sizeof table / sizeof *table; i++)
        for (const char *at = table[i].inks; at; at = strchr(at, ',') ? strchr(at, ',') + 1 : NULL) {
            char code[8];
            (void)snprintf(code, sizeof code, "%.6s", at);
            const char *got = nearest(&shop, colour_of(code));
            if (in_list(table[i].candies, got)) continue;
            print_error("%s #%s became %s, not one of %s\n", table[i].name, code, got, table[i].candies);
            wrong++;
        }
    assert_int_equal(wrong, 0);
}

static void no_hue_is_better_than_one_from_across(void **state) {
    (void)state;
    const Shop shop = shop_default();
    static const char *const few[] = {"white", "black", "red", "yellow"};
    static const char *const inks[] = {"0000A4", "0075FF", "A805A8", "008080"};
    for (size_t i = 0; i < sizeof inks / sizeof *inks; i++) {
        double cost[4];
        for (int k = 0; k < 4; k++)
            cost[k] = colour_cost(colour_of(inks[i]), shop.stock.candy[stock_find(&shop.stock, few[k])].srgb);
        bool neutral = fmin(cost[0], cost[1]) < fmin(cost[2], cost[3]);
        if (i != 2 && !neutral)
            fail_msg("#%s: %.1f %.1f %.1f %.1f", inks[i], cost[0], cost[1], cost[2], cost[3]);
    }
}

/* --- the measure itself --- */

static uint64_t next(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return *state >> 33;
}

static Rgb8 random_colour(uint64_t *seed) {
    uint64_t v = next(seed);
    return (Rgb8){(uint8_t)(v >> 16), (uint8_t)(v >> 8), (uint8_t)v};
}

static void near_colours_cost_ciede2000_and_far_ones_more_than_10(void **state) {
    (void)state;
    uint64_t seed = 3;
    int nears = 0;
    for (int i = 0; i < 100000; i++) {
        Rgb8 p = random_colour(&seed), q = random_colour(&seed);
        if (i % 2)
            q = (Rgb8){(uint8_t)(p.r ^ (q.r & 31)), (uint8_t)(p.g ^ (q.g & 31)), (uint8_t)(p.b ^ (q.b & 31))};
        double apart = delta_e00(rgb8_lab(p), rgb8_lab(q)), cost = colour_cost(p, q);
        if (cost != colour_cost(q, p)) fail_msg("not symmetric");
        if (apart <= 10 ? cost != apart : cost < 10) fail_msg("%.3f apart costs %.3f", apart, cost);
        nears += apart <= 10;
    }
    assert_true(nears > 10000 && nears < 60000);
}

/* From one colour straight to another, a level at a time: what is farther never costs much less, and no step
 * is a leap. A level is up to 1 of CIEDE2000, and that up to a fifth of the far difference, of up to 150. */
static void the_cost_has_no_jump_where_the_far_measure_begins(void **state) {
    (void)state;
    static const char *const ends[][2] = {{"0000FF", "FFFF00"}, {"202020", "F0F0F0"}, {"006400", "FFFFFF"},
                                          {"708090", "FF0000"}, {"FF00FF", "000000"}, {"008080", "FFA500"}};
    for (size_t e = 0; e < sizeof ends / sizeof *ends; e++) {
        Rgb8 p = colour_of(ends[e][0]), q = colour_of(ends[e][1]);
        double last = 0, last_apart = 0;
        for (int t = 1; t <= 255; t++) {
            Rgb8 at = {(uint8_t)(p.r + (q.r - p.r) * t / 255), (uint8_t)(p.g + (q.g - p.g) * t / 255),
                       (uint8_t)(p.b + (q.b - p.b) * t / 255)};
            double cost = colour_cost(p, at), apart = delta_e00(rgb8_lab(p), rgb8_lab(at));
            if (apart > 9 && last_apart < 11 && fabs(cost - last) > 1 + 40 * fabs(apart - last_apart))
                fail_msg("%s to %s: from %.2f to %.2f at %.2f", ends[e][0], ends[e][1], last, cost, apart);
            if (cost < last - 6) fail_msg("%s to %s: falls to %.2f", ends[e][0], ends[e][1], cost);
            last = cost;
            last_apart = apart;
        }
    }
}

/* --- what candy can be --- */

static double lab_chroma(Lab lab) {
    return hypot(lab.a, lab.b);
}

static void a_colour_that_candy_can_have_is_left_as_it_is(void **state) {
    (void)state;
    const Shop shop = shop_default();
    for (int c = 0; c < shop.stock.count; c++) {
        Rgb8 was = shop.stock.candy[c].srgb, is = colour_bounded(was, &shop.dyed);
        assert_memory_equal(&was, &is, sizeof was);
    }
}

static void a_bounded_colour_keeps_to_the_bounds_and_to_its_hue(void **state) {
    (void)state;
    const Shop shop = shop_default();
    uint64_t seed = 8;
    int changed = 0;
    for (int i = 0; i < 3000; i++) {
        Rgb8 was = random_colour(&seed), is = colour_bounded(was, &shop.dyed);
        Lab from = rgb8_lab(was), to = rgb8_lab(is);
        if (to.l < shop.dyed.darkest - 0.6 || to.l > shop.dyed.lightest + 0.6 ||
            lab_chroma(to) > shop.dyed.chroma + 1)
            fail_msg("#%02X%02X%02X became L* %.2f C* %.2f", was.r, was.g, was.b, to.l, lab_chroma(to));
        if (memcmp(&was, &is, sizeof was) == 0) continue;
        changed++;
        if (from.l >= shop.dyed.darkest && from.l <= shop.dyed.lightest && fabs(from.l - to.l) > 0.6)
            fail_msg("#%02X%02X%02X: L* %.2f became %.2f", was.r, was.g, was.b, from.l, to.l);
        Oklab p = linear_oklab(rgb8_linear(was)), q = linear_oklab(rgb8_linear(is));
        double cross = (p.a * q.b - p.b * q.a) / fmax(hypot(p.a, p.b), 1e-9);
        if (fabs(cross) > 0.008) fail_msg("#%02X%02X%02X: hue off by %.4f", was.r, was.g, was.b, cross);
    }
    assert_true(changed > 100);
}

/* In CIELAB a paler pure blue of the same hue angle is violet. */
static void pure_colours_keep_their_names(void **state) {
    (void)state;
    const Shop shop = shop_default();
    static const struct {
        const char *pure, *candy;
    } row[] = {{"0000FF", "blue"},
               {"FF0000", "red"},
               {"00FF00", "green"},
               {"FFFF00", "yellow"},
               {"000000", "black"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        Rgb8 pure = colour_of(row[i].pure), is = colour_bounded(pure, &shop.dyed);
        assert_string_equal(nearest(&shop, is), row[i].candy);
        assert_true(delta_e00(rgb8_lab(pure), rgb8_lab(is)) < 10);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_ink_far_from_the_stock_stays_in_its_family),
        cmocka_unit_test(no_hue_is_better_than_one_from_across),
        cmocka_unit_test(near_colours_cost_ciede2000_and_far_ones_more_than_10),
        cmocka_unit_test(the_cost_has_no_jump_where_the_far_measure_begins),
        cmocka_unit_test(a_colour_that_candy_can_have_is_left_as_it_is),
        cmocka_unit_test(a_bounded_colour_keeps_to_the_bounds_and_to_its_hue),
        cmocka_unit_test(pure_colours_keep_their_names)};
    return cmocka_run_group_tests_name("far_colour", tests, NULL, NULL);
}
