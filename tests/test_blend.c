/* Tests of src/model/blend.c, and of what match_candy and weigh make of blends. SPDX-License-Identifier: MIT
 */
#include "model/blend.h"

#include "bench/bench.h"
#include "plan/plan.h"
#include "random_tree.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>

static void near(double got, double want, double limit) {
    if (!(fabs(got - want) <= limit)) fail_msg("got %.12g, want %.12g", got, want);
}

static const Candy *candy_of(const Shop *shop, const char *name) {
    int at = stock_find(&shop->stock, name);
    assert_true(at >= 0);
    return &shop->stock.candy[at];
}

/* The blend that the text asks for, of the shop's candies; false with an error. */
static bool make(const Shop *shop, const char *text, Candy *out, Err *err) {
    BlendWish wish;
    if (!blend_read(text, "-m", &wish, err)) return false;
    const Candy *of[] = {candy_of(shop, wish.name[0]), candy_of(shop, wish.name[1])};
    return blend_make(of, wish.parts, text, "-m", out, err);
}

static Candy made(const Shop *shop, const char *text) {
    Candy blend;
    Err err = {0};
    if (!make(shop, text, &blend, &err)) fail_msg("%s", err.msg);
    return blend;
}

/* --- colour --- */

/* Worked by hand, q = (1 - R)^2 / 2R:
 *     R 1: q 0;  R 1/3: (4/9) / (2/3) = 2/3;  R 2/3: (1/9) / (4/3) = 1/12;
 *     R 3/4: (1/16) / (3/2) = 1/24;  R 1/2: (1/4) / 1 = 1/4.
 * One part of R 1/3 in eight of R 1: q 2/3 / 8 = 1/12, so R 2/3. Half R 1, half R 2/3: q 1/24, so R 3/4. Two
 * sevenths of R 1/3, five of R 2/3: q (2 * 2/3 + 5 * 1/12) / 7 = (21/12) / 7 = 1/4, so R 1/2. */
static void the_mean_colour_is_as_worked_by_hand(void **state) {
    (void)state;
    Linear c = blend_light((Linear){1, 1, 2 / 3.0}, (Linear){1 / 3.0, 1, 1 / 3.0}, 1 / 8.0);
    near(c.r, 2 / 3.0, 1e-12);
    near(c.g, 1, 1e-12);
    c = blend_light((Linear){1, 2 / 3.0, 1}, (Linear){2 / 3.0, 1, 1}, 0.5);
    near(c.r, 3 / 4.0, 1e-12);
    near(c.g, 3 / 4.0, 1e-12);
    c = blend_light((Linear){2 / 3.0, 0.5, 0.1}, (Linear){1 / 3.0, 0.5, 0.1}, 2 / 7.0);
    near(c.r, 1 / 2.0, 1e-12);
    near(c.g, 0.5, 1e-12);
    near(c.b, 0.1, 1e-12);
}

/* Violet #70388E and white #F8F6F0, equal parts. Red: linear light 0.1620 and 0.9387; q 0.8380^2 / 0.3240 =
 * 2.1669 and 0.0613^2 / 1.8774 = 0.0020, mean 1.0844; R = 2.0844 - sqrt(1.1759 + 2.1688) = 0.2555, byte 138.
 * Green: 0.0395 and 0.9216; q 11.663 and 0.0033, mean 5.833; R 0.0736, byte 77. Blue: 0.2705 and 0.8714; q
 * 0.9837 and 0.0095, mean 0.4966; R 0.3831, byte 166. With two parts of white q is 0.7236, 3.890, 0.3342; R
 * 0.3197, 0.1033, 0.4510; bytes 153, 90, 179. */
static void violet_and_white_give_the_lavender_worked_by_hand(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Candy even = made(&shop, "violet+white"), paler = made(&shop, "violet+2white");
    assert_int_equal(even.srgb.r << 16 | even.srgb.g << 8 | even.srgb.b, 138 << 16 | 77 << 8 | 166);
    assert_int_equal(paler.srgb.r << 16 | paler.srgb.g << 8 | paler.srgb.b, 153 << 16 | 90 << 8 | 179);
    assert_int_equal(even.finish, FINISH_PULLED);
    assert_false(even.dyed);
}

static void black_without_any_light_blends(void **state) {
    (void)state;
    Linear c = blend_light((Linear){0, 0, 1}, (Linear){1, 0, 0}, 0.5);
    near(c.r, 2e-4, 1e-7); /* q 0.9999^2 / 0.0002 / 2 = 2499.5: R is about 1 / 2q */
    near(c.g, 1e-4, 1e-12);
    near(c.b, c.r, 1e-12);
    for (int i = 0; i <= 100; i++) { /* between the two, and never darker with more of the lighter */
        Linear d = blend_light((Linear){0, 0, 0}, (Linear){1, 1, 1}, i / 100.0);
        assert_true(d.r >= 1e-4 - 1e-12 && d.r <= 1);
        assert_true(i == 0 || d.r > blend_light((Linear){0, 0, 0}, (Linear){1, 1, 1}, (i - 1) / 100.0).r);
    }
}

/* 1 g of 1.2 g/ml and 2 g of 1.4 are 3 g in 1 / 1.2 + 2 / 1.4 ml. */
static void masses_and_volumes_add_up(void **state) {
    (void)state;
    Shop shop = shop_default();
    shop.stock.candy[0].density_g_ml = 1.4; /* white */
    shop.stock.candy[12].density_g_ml = 1.2;
    Candy blend = made(&shop, "violet+2white");
    near(blend.density_g_ml, 3 / (1 / 1.2 + 2 / 1.4), 1e-12);
    near(blend_mass_share(&blend, 1), 2 / 3.0, 1e-12);
    near(blend_volume_share(&blend, 0), 1 / 1.2 / (1 / 1.2 + 2 / 1.4), 1e-12);
    near(blend_volume_share(&blend, 0) + blend_volume_share(&blend, 1), 1, 1e-12);
}

/* --- names --- */

static void what_is_printed_is_read_back(void **state) {
    (void)state;
    Shop shop = shop_default();
    strcpy(shop.stock.candy[1].name, "7 herbs");
    strcpy(shop.stock.candy[2].name, "-3");
    static const struct {
        const char *asked, *name;
    } row[] = {{"violet+white", "violet+white"},
               {"white+violet", "white+violet"},
               {"violet+2white", "violet+2white"},
               {"3violet+2white", "3violet+2white"},
               {"VIO + 2 WHI", "violet+2white"},
               {"4violet+2white", "2violet+white"},
               {"9sky+9blue", "sky blue+blue"},
               {"1violet+1white", "violet+white"},
               {"1 7 herbs+2white", "1 7 herbs+2white"},
               {"2white+3 7 herbs", "2white+3 7 herbs"},
               {"white+1 -3", "white+1 -3"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        Candy blend = made(&shop, row[i].asked), again = made(&shop, row[i].name);
        assert_string_equal(blend.name, row[i].name);
        assert_string_equal(again.name, row[i].name);
        assert_true(blend_asked(blend.name) && candy_is_blend(&blend) && blend_same(&blend, &again));
    }
    Candy one = made(&shop, "violet+2white"), other = made(&shop, "2white+violet");
    assert_true(blend_same(&one, &other));
    other = made(&shop, "2violet+white");
    assert_false(blend_same(&one, &other));
    for (int i = 0; i < shop.stock.count; i++) {
        assert_false(candy_is_blend(&shop.stock.candy[i]) || blend_asked(shop.stock.candy[i].name));
        assert_false(blend_same(&shop.stock.candy[i], &shop.stock.candy[i]));
    }
}

static void each_bad_blend_is_named(void **state) {
    (void)state;
    Shop shop = shop_default();
    strcpy(shop.stock.candy[1].name, "cream of a very long name that nobody can say");
    static const struct {
        const char *asked, *says;
    } row[] = {{"violet+white+red", "of two candies"},
               {"violet+", "a candy is missing"},
               {"+ ", "a candy is missing"},
               {"2+white", "a candy is missing"},
               {"0violet+white", "a whole number from 1 to 9"},
               {"violet+10white", "a whole number from 1 to 9"},
               {"1.5violet+white", "a whole number from 1 to 9"},
               {"violet+1/2white", "a whole number from 1 to 9"},
               {"-1violet+white", "a whole number from 1 to 9"},
               {"violet+1,5 white", "a whole number from 1 to 9"},
               {"violet+clear amber", "clear amber is clear"},
               {"clear red+white", "clear red is clear"},
               {"violet+violet", "violet twice"},
               {"2vio+violet", "violet twice"},
               {"cream+white", "over 47 bytes"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        Err err = {0};
        Candy blend = {.dye_share = 0.01};
        assert_false(make(&shop, row[i].asked, &blend, &err));
        assert_int_equal(err.code, ERR_USAGE);
        if (!strstr(err.msg, row[i].says)) fail_msg("%s: %s", row[i].asked, err.msg);
        char named[64];
        (void)snprintf(named, sizeof named, "-m '%s': ", row[i].asked);
        assert_int_equal(strncmp(err.msg, named, strlen(named)), 0);
        assert_true(blend.dye_share == 0.01);
    }
}

/* --- match_candy --- */

/* Four inks: white paper, lavender, red, green; the paper is the field. */
static InkMap four_inks(void) {
    InkMap map = {.count = 4};
    static const Ink ink[] = {{{255, 255, 255}, false, 0.5},
                              {{181, 126, 220}, false, 0.3},
                              {{200, 32, 44}, false, 0.1},
                              {{46, 142, 68}, false, 0.1}};
    memcpy(map.ink, ink, sizeof ink);
    for (int i = 1; i < 4; i++) map.border[0][i] = map.border[i][0] = 1 / 3.0;
    return map;
}

static void ask(Order *order, Rgb8 ink, const char *candy) {
    InkWish *w = &order->wish[order->wishes++];
    w->ink = ink;
    (void)snprintf(w->candy, sizeof w->candy, "%s", candy);
}

static Palette matched(const Order *order, const Shop *shop) {
    InkMap map = four_inks();
    Palette palette;
    Err err = {0};
    if (!match_candy(&map, order, shop, &palette, &err)) fail_msg("%s", err.msg);
    return palette;
}

static void an_ink_gets_the_blend_it_is_wished(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Order order = order_default();
    ask(&order, (Rgb8){181, 126, 220}, "vio+2white");
    Palette p = matched(&order, &shop);
    assert_string_equal(p.candy[p.of_ink[1]].name, "violet+2white");
    assert_string_equal(p.candy[p.of_ink[0]].name, "white");
    assert_string_equal(p.candy[p.of_ink[2]].name, "red");
    assert_true(p.delta_e[1] > 0);
    Palette again; /* by its printed name */
    strcpy(order.wish[0].candy, p.candy[p.of_ink[1]].name);
    again = matched(&order, &shop);
    assert_memory_equal(&again.candy[again.of_ink[1]], &p.candy[p.of_ink[1]], sizeof(Candy));
}

static void a_candy_that_is_dyed_to_order_is_in_no_blend(void **state) {
    (void)state;
    const Shop shop = shop_default();
    InkMap map = four_inks();
    Order order = order_default();
    Err err = {0};
    char blend[80];
    ask(&order, map.ink[1].srgb, "dye");
    Palette palette = matched(&order, &shop);
    const Candy *dyed = &palette.candy[palette.of_ink[1]];
    assert_true(dyed->dyed);
    (void)snprintf(blend, sizeof blend, "%s+white", dyed->name);
    ask(&order, map.ink[2].srgb, blend);
    assert_false(match_candy(&map, &order, &shop, &palette, &err));
    assert_int_equal(err.code, ERR_USAGE);
    if (!strstr(err.msg, "is dyed to order; a blend is of the shop's candies")) fail_msg("%s", err.msg);
}

static void nobody_gets_a_blend_without_asking(void **state) {
    (void)state;
    const Shop shop = shop_default();
    InkMap map = four_inks();
    map.ink[2].srgb = (Rgb8){153, 90, 179}; /* just what violet+2white is */
    Order order = order_default();
    ask(&order, map.ink[1].srgb, "violet+2white");
    Palette p;
    Err err = {0};
    assert_true(match_candy(&map, &order, &shop, &p, &err));
    assert_true(candy_is_blend(&p.candy[p.of_ink[1]]));
    assert_false(candy_is_blend(&p.candy[p.of_ink[2]]));
}

/* The candies of the picture that are cooked, those that only blends have left out. */
static int count_plain(const Palette *palette) {
    int count = 0;
    for (int i = 0; i < palette->count; i++) count += !candy_is_blend(&palette->candy[i]);
    return count;
}

/* White, violet, red and green are four batches; the blend is none. */
static void a_blend_takes_no_place_of_the_candies_allowed_but_its_two_do(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Order order = order_default();
    ask(&order, (Rgb8){181, 126, 220}, "violet+white");
    order.colours = 4;
    Palette p = matched(&order, &shop);
    assert_int_equal(p.count, 4);
    assert_int_equal(p.wanted, 4);
    order.colours = 3; /* violet is cooked, so red may have it */
    p = matched(&order, &shop);
    assert_int_equal(count_plain(&p), 3);
    assert_string_equal(p.candy[p.of_ink[2]].name, "violet");
    order.colours = 2;
    p = matched(&order, &shop);
    assert_int_equal(count_plain(&p), 2);
    assert_true(candy_is_blend(&p.candy[p.of_ink[1]]));
    order.wish[0] = (InkWish){{181, 126, 220}, "violet+pink"}; /* with white and one more that is four */
    order.colours = 4;
    p = matched(&order, &shop);
    assert_string_equal(p.candy[p.of_ink[2]].name, "pink"); /* it is cooked, so red may have it */
    assert_string_equal(p.candy[p.of_ink[3]].name, "green");
    assert_int_equal(p.wanted, 5);
    order.colours = 1;
    InkMap map = four_inks();
    Err err = {0};
    assert_false(match_candy(&map, &order, &shop, &p, &err));
    assert_string_equal(err.msg, "the wishes take 2 candies, -k allows 1; use -k 2 or wish for fewer");
}

static void field_and_jacket_may_be_blends_too(void **state) {
    (void)state;
    const Shop shop = shop_default();
    Order order = order_default();
    strcpy(order.field, "white+2cream");
    order.jackets = 2;
    strcpy(order.jacket[0], "2cream+white"); /* the field's, by another name */
    strcpy(order.jacket[1], "red+white");
    Palette p = matched(&order, &shop);
    assert_string_equal(p.candy[p.field].name, "white+2cream");
    assert_string_equal(p.jacket[0].name, "white+2cream");
    assert_string_equal(p.jacket[1].name, "red+white");
}

static void a_blend_of_an_unknown_candy_lists_the_stock(void **state) {
    (void)state;
    const Shop shop = shop_default();
    static const struct {
        const char *asked, *says;
    } row[] = {{"purple+white", "-m 'purple': the shop has no such candy; it has white, cream"},
               {"violet+dye", "-m 'dye': the shop has no such candy"},
               {"violet+bl", "-m 'bl': fits several candies"},
               {"violet+clear red", "-m 'violet+clear red': clear red is clear"}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        InkMap map = four_inks();
        Order order = order_default();
        Palette p = {.wanted = 77};
        Err err = {0};
        ask(&order, map.ink[1].srgb, row[i].asked);
        assert_false(match_candy(&map, &order, &shop, &p, &err));
        assert_int_equal(err.code, ERR_USAGE);
        if (strncmp(err.msg, row[i].says, strlen(row[i].says)) != 0) fail_msg("%s", err.msg);
        assert_int_equal(p.wanted, 77);
    }
}

/* --- weigh --- */

/* A core of two ropes, left and right of its middle, in a plain jacket, two logs; built `longer` times as
 * long as the log, if that is not 1. */
static void weigh_halves(const Palette *palette, const Shop *shop, double longer, LayUp *layup, Bill *out) {
    Err err = {0};
    Order order = order_default();
    Cane cane = {.logs = 2,
                 .pieces = 1800,
                 .log_diameter_mm = 96 / 0.9,
                 .core_diameter_mm = 96,
                 .log_length_mm = 310,
                 .step_mm = 1.5};
    cane.volume_ml = PI / 4 * pow(cane.log_diameter_mm, 2) * 310 / 1000;
    Grid grid = {.steps = 64, .least_steps = 4, .candies = palette->count, .core = {32, 32, 32}};
    Item item[] = {{.index = 0}, {.index = 1}};
    Block block = {.items = 2, .builds = 1, .scale = 1, .length_mm = 310 * longer};
    Blocks blocks = {.blocks = longer != 1, .block = &block, .item = item};
    *layup = tree_new(2);
    for (int i = 0; i < 2; i++) {
        Rope rope = {.outline = outline_of_box(32 * i, 0, 32, 64), .candy = i, .rim = true};
        rope.area = outline_disc_area(&rope.outline, grid.core);
        layup->rope[layup->ropes++] = rope;
    }
    assert_true(weigh(&order, palette, &cane, &grid, shop, &blocks, layup, out, &err));
}

/* A shop whose candies have densities, doses and prices of their own. */
static Shop uneven_shop(void) {
    Shop shop = shop_default();
    for (int i = 0; i < shop.stock.count; i++) {
        shop.stock.candy[i].density_g_ml = 1.2 + 0.02 * i;
        shop.stock.candy[i].dye_share = 0.0001 * i;
    }
    shop.price_candy_kg = 10;
    return shop;
}

static const MaterialRow *material(const Bill *bill, const char *name) {
    for (int i = 0; i < bill->materials; i++)
        if (strcmp(bill->material[i].candy.name, name) == 0) return &bill->material[i];
    fail_msg("no %s among the materials", name);
    return NULL;
}

static void a_blend_is_weighed_with_the_batches_of_its_two(void **state) {
    (void)state;
    const Shop shop = uneven_shop();
    const Candy blend = made(&shop, "violet+2white");
    Palette palette = {.count = 2, .jackets = 1, .stripes = 1};
    palette.candy[0] = palette.jacket[0] = *candy_of(&shop, "white");
    palette.candy[1] = blend;
    LayUp layup;
    Bill bill;
    weigh_halves(&palette, &shop, 1, &layup, &bill);
    double half = PI * 96 * 96 / 8 * 310 / 1000 * 2; /* ml of both logs */
    double jacket = PI / 4 * (pow(96 / 0.9, 2) - 96 * 96) * 310 / 1000 * 2;
    double blend_g = half * blend.density_g_ml;
    assert_int_equal(bill.materials, 2);
    assert_string_equal(bill.material[0].candy.name, "white");
    assert_string_equal(bill.material[1].candy.name, "violet");
    assert_true(bill.material[1].candy.dye_share == candy_of(&shop, "violet")->dye_share);
    near(material(&bill, "violet")->mass_g, blend_g / 3, 1e-6);
    near(material(&bill, "white")->mass_g,
         (half + jacket) * candy_of(&shop, "white")->density_g_ml + blend_g * 2 / 3, 1e-6);
    near(material(&bill, "violet")->with_spare_g, blend_g / 3 * 1.05, 1e-6);
    assert_int_equal(bill.blends, 1);
    near(bill.blend[0].whole.mass_g, blend_g, 1e-6);
    near(bill.blend[0].part_g[0], blend_g / 3 * 1.05 / 2, 1e-6); /* a log */
    near(bill.blend[0].part_g[1], blend_g * 2 / 3 * 1.05 / 2, 1e-6);
    assert_int_equal(bill.quote.batches, 4); /* two candies, two logs */
    price(&(Cane){.pieces = 1, .logs = 2}, &shop, &(Recipe){0}, &(WorkPlan){0}, &bill);
    near(bill.quote.price, 10 * (bill.material[0].with_spare_g + bill.material[1].with_spare_g) / 1000, 1e-9);
    layup_free(&layup);
    bill_free(&bill);
}

/* Blocks that are drawn out are built longer: here by 12 %. */
static void the_ends_of_blocks_are_shared_by_mass(void **state) {
    (void)state;
    const Shop shop = uneven_shop();
    Palette palette = {.count = 2, .jackets = 1, .stripes = 1};
    palette.candy[0] = palette.jacket[0] = *candy_of(&shop, "cream");
    palette.candy[1] = made(&shop, "violet+2white");
    LayUp layup;
    Bill bill;
    weigh_halves(&palette, &shop, 1.12, &layup, &bill);
    const MaterialRow *whole = &bill.blend[0].whole;
    near(whole->block_ends_g, 0.12 * whole->mass_g, 1e-6);
    near(material(&bill, "violet")->block_ends_g, whole->block_ends_g / 3, 1e-6);
    near(material(&bill, "white")->block_ends_g, whole->block_ends_g * 2 / 3, 1e-6);
    near(material(&bill, "white")->with_spare_g, whole->mass_g * 2 / 3 * 1.12 * 1.05, 1e-6);
    near(bill.blend[0].part_g[1], whole->mass_g * 2 / 3 * 1.12 * 1.05 / 2, 1e-6);
    layup_free(&layup);
    bill_free(&bill);
}

/* All is blend, field and jacket too: still whatever is in the log is in the materials. */
static void materials_of_blends_add_up_to_the_log(void **state) {
    (void)state;
    const Shop shop = uneven_shop();
    Palette palette = {.count = 2, .jackets = 2, .stripes = 8};
    palette.candy[0] = palette.jacket[0] = made(&shop, "cream+3white");
    palette.candy[1] = made(&shop, "9violet+4navy");
    palette.jacket[1] = made(&shop, "navy+red");
    LayUp layup;
    Bill bill;
    weigh_halves(&palette, &shop, 1, &layup, &bill);
    static const char *const names[] = {"cream", "white", "violet", "navy", "red"};
    double share = 0, mass = 0, rows = 0;
    assert_int_equal(bill.materials, 5);
    for (int i = 0; i < 5; i++) {
        const MaterialRow *row = &bill.material[i];
        assert_string_equal(row->candy.name, names[i]);
        assert_false(candy_is_blend(&row->candy));
        share += row->share_of_log;
        mass += row->mass_g;
    }
    for (int i = 0; i < bill.rope_types; i++) rows += bill.rope[i].mass_g;
    for (int i = 0; i < bill.wraps; i++) rows += bill.wrap[i].mass_g;
    near(share, 1, 1e-12);
    near(rows, bill.log_mass_g, 1e-9);
    near(mass, 2 * bill.log_mass_g, 1e-9);
    double blends = 0;
    assert_int_equal(bill.blends, 3);
    for (int i = 0; i < 3; i++) blends += bill.blend[i].whole.mass_g;
    near(blends, mass, 1e-9);
    layup_free(&layup);
    bill_free(&bill);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_mean_colour_is_as_worked_by_hand),
        cmocka_unit_test(violet_and_white_give_the_lavender_worked_by_hand),
        cmocka_unit_test(black_without_any_light_blends),
        cmocka_unit_test(masses_and_volumes_add_up),
        cmocka_unit_test(what_is_printed_is_read_back),
        cmocka_unit_test(each_bad_blend_is_named),
        cmocka_unit_test(an_ink_gets_the_blend_it_is_wished),
        cmocka_unit_test(a_candy_that_is_dyed_to_order_is_in_no_blend),
        cmocka_unit_test(nobody_gets_a_blend_without_asking),
        cmocka_unit_test(a_blend_takes_no_place_of_the_candies_allowed_but_its_two_do),
        cmocka_unit_test(field_and_jacket_may_be_blends_too),
        cmocka_unit_test(a_blend_of_an_unknown_candy_lists_the_stock),
        cmocka_unit_test(a_blend_is_weighed_with_the_batches_of_its_two),
        cmocka_unit_test(the_ends_of_blocks_are_shared_by_mass),
        cmocka_unit_test(materials_of_blends_add_up_to_the_log)};
    return cmocka_run_group_tests_name("blend", tests, NULL, NULL);
}
