/* Tests of src/read/shop_file.c and src/model/shop_keys.c. SPDX-License-Identifier: MIT */
#include "read/read.h"

#include "base/text.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

static bool read_bytes(const char *bytes, size_t size, Shop *out, Err *err) {
    FILE *file = tmpfile();
    assert_non_null(file);
    assert_int_equal(fwrite(bytes, 1, size, file), size);
    rewind(file);
    *err = (Err){0};
    bool good = shop_file_read(file, "my.ini", out, err);
    fclose(file);
    return good;
}

static Shop read_good(const char *text) {
    Shop shop = {0};
    Err err;
    if (!read_bytes(text, strlen(text), &shop, &err)) fail_msg("%s", err.msg);
    return shop;
}

static char *print(const Shop *shop) {
    char *text = NULL;
    size_t size;
    FILE *file = open_memstream(&text, &size);
    assert_non_null(file);
    shop_file_print(shop, file);
    fclose(file);
    return text;
}

/* Equal in every key and candy; not by memcmp, for padding. */
static void same_shop(const Shop *a, const Shop *b) {
    int count;
    const ShopKey *key = shop_keys(&count);
    for (int i = 0; i < count; i++) {
        size_t size = key[i].kind == KEY_WHOLE  ? sizeof(int)
                      : key[i].kind == KEY_WORD ? SHOP_WORD
                      : key[i].kind == KEY_TEXT ? SHOP_TEXT
                      : key[i].kind == KEY_YES  ? sizeof(bool)
                                                : sizeof(double);
        if (memcmp((const char *)a + key[i].offset, (const char *)b + key[i].offset, size) != 0)
            fail_msg("%s differs", key[i].key);
    }
    assert_int_equal(a->stock.count, b->stock.count);
    for (int i = 0; i < a->stock.count; i++) {
        const Candy *p = &a->stock.candy[i], *q = &b->stock.candy[i];
        assert_string_equal(p->name, q->name);
        assert_true(p->finish == q->finish && p->density_g_ml == q->density_g_ml &&
                    p->dye_share == q->dye_share);
        assert_memory_equal(&p->srgb, &q->srgb, sizeof p->srgb);
    }
}

static void the_built_in_shop_reads_back_the_same(void **state) {
    (void)state;
    Shop shop = shop_default();
    char *text = print(&shop);
    Shop back = read_good(text);
    same_shop(&shop, &back);
    char *again = print(&back);
    assert_string_equal(text, again);
    free(text);
    free(again);
}

static void a_key_of_yes_or_no_takes_no_other_word(void **state) {
    (void)state;
    const ShopKey *key = shop_key_find("habits", "dye_to_order");
    Shop shop = shop_default();
    char printed[64];
    assert_non_null(key);
    assert_true(shop.dye_to_order);
    for (int yes = 0; yes < 2; yes++) {
        assert_true(shop_key_read(key, yes ? "yes" : "no", &shop));
        assert_int_equal(shop.dye_to_order, yes);
        shop_key_print(key, &shop, printed, sizeof printed);
        assert_string_equal(printed, yes ? "yes" : "no");
        static const char *const wrong[] = {"", "1", "0", "Yes", "y", "yes no", "true"};
        for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
            assert_false(shop_key_read(key, wrong[i], &shop));
        assert_int_equal(shop.dye_to_order, yes);
    }
    shop_key_range(key, printed, sizeof printed);
    assert_string_equal(printed, "yes or no");
}

static void every_key_reads_back_at_its_ends_and_between(void **state) {
    (void)state;
    int count;
    const ShopKey *key = shop_keys(&count);
    for (int i = 0; i < count; i++) {
        if (key[i].kind == KEY_WORD || key[i].kind == KEY_TEXT || key[i].kind == KEY_YES) continue;
        for (int part = 0; part <= 7; part++) {
            char value[64], printed[64];
            double number = key[i].low + (key[i].high - key[i].low) * part / 7;
            if (key[i].kind == KEY_WHOLE) number = floor(number);
            (void)snprintf(value, sizeof value, "%.4f", floor(number * 1e4) / 1e4);
            if (key[i].kind == KEY_WHOLE) (void)snprintf(value, sizeof value, "%.0f", number);
            Shop shop = shop_default(), back = shop_default();
            if (!shop_key_read(&key[i], value, &shop)) fail_msg("%s = %s is refused", key[i].key, value);
            shop_key_print(&key[i], &shop, printed, sizeof printed);
            if (!shop_key_read(&key[i], printed, &back)) fail_msg("%s = %s is refused", key[i].key, printed);
            same_shop(&shop, &back);
        }
        char beyond[64];
        Shop shop = shop_default(), before = shop;
        (void)snprintf(beyond, sizeof beyond, "%.6f", key[i].high * 1.001 + 0.1);
        assert_false(shop_key_read(&key[i], beyond, &shop));
        assert_false(shop_key_read(&key[i], "nan", &shop));
        assert_false(shop_key_read(&key[i], "", &shop));
        same_shop(&shop, &before);
    }
}

static void the_built_in_values_lie_within_their_own_ranges(void **state) {
    (void)state;
    int count;
    const ShopKey *key = shop_keys(&count);
    Shop shop = shop_default();
    for (int i = 0; i < count; i++) {
        char value[64];
        Shop back = {0};
        if (shop_key_empty(&key[i], &shop)) continue;
        shop_key_print(&key[i], &shop, value, sizeof value);
        if (!shop_key_read(&key[i], value, &back)) fail_msg("%s = %s", key[i].key, value);
        assert_true(*key[i].help && *key[i].standing);
        for (int j = 0; j < i; j++)
            assert_false(strcmp(key[i].section, key[j].section) == 0 && strcmp(key[i].key, key[j].key) == 0);
    }
}

static void what_is_named_is_taken_and_the_rest_stays(void **state) {
    (void)state;
    Shop built_in = shop_default();
    Shop shop = read_good(
        "\xEF\xBB\xBF; mine\r\n[limits]\r\n  least_strip = 1/4in ; hands\r\nlog_mass_max: 8 lb\r\n"
        "# more\n\n[habits] ; ours\nlost=15\n\tpeople = 3\n[prices]\ncurrency = \xE2\x82\xAC\nhour = 28.5\n"
        "[limits]\nlog_length_min = 25 cm");
    assert_true(shop.least_strip_mm == 6.35);
    assert_true(shop.log_mass_max_g == 8 * 453.59237);
    assert_true(shop.lost_share == 0.15);
    assert_int_equal(shop.people, 3);
    assert_string_equal(shop.currency, "\xE2\x82\xAC");
    assert_true(shop.price_hour == 28.5 && shop.price_candy_kg == 0);
    assert_true(shop.log_length_min_mm == 250);
    assert_true(shop.least_sheet_mm == built_in.least_sheet_mm);
    assert_int_equal(shop.stock.count, built_in.stock.count);
    char *text = print(&shop);
    Shop back = read_good(text);
    same_shop(&shop, &back);
    free(text);
}

static void the_cook_and_the_heat_are_taken(void **state) {
    (void)state;
    Shop shop = read_good(
        "[cook]\ntemperature = 300 F\nsugar = 60 %\nkettle = 10 lb\nacid = 1.2%\naltitude = 1500 m\n"
        "[heat]\nroom = 25 \xC2\xB0"
        "C\n[candy red]\ncolour = #C8202C\ndye = 0.0125 %\n");
    assert_true(shop.cook_c == 148.888889 && shop.room_c == 25 && shop.altitude_m == 1500);
    assert_true(shop.sugar_share == 0.6 && shop.acid_share == 0.012 && shop.flavour_share == 0);
    assert_true(shop.kettle_g == 4535.9237);
    assert_true(shop.stock.candy[4].dye_share == 0.000125);
    char *text = print(&shop);
    Shop back = read_good(text);
    same_shop(&shop, &back);
    free(text);
}

static const Candy *candy_of(const Shop *shop, const char *name) {
    for (int i = 0; i < shop->stock.count; i++)
        if (strcmp(shop->stock.candy[i].name, name) == 0) return &shop->stock.candy[i];
    return NULL;
}

static void reads_back(const Shop *shop) {
    char *text = print(shop);
    Shop back = read_good(text);
    same_shop(shop, &back);
    free(text);
}

static void a_candy_is_added_to_those_built_in(void **state) {
    (void)state;
    const int built_in = shop_default().stock.count;
    Shop shop = read_good("[candy lime]\ncolour = #A0D030\n");
    assert_int_equal(shop.stock.count, built_in + 1);
    assert_string_equal(shop.stock.candy[built_in].name, "lime");
    assert_string_equal(shop.stock.candy[0].name, "white");
    reads_back(&shop);
}

static void a_candy_takes_the_place_of_the_one_of_its_name(void **state) {
    (void)state;
    const Shop built_in = shop_default();
    Shop shop = read_good("[candy Black]\ndensity = 1.22\n[candy clear red]\ncolour = #AA0000\n"
                          "[stock]\nleave_out = black\n");
    assert_int_equal(shop.stock.count, built_in.stock.count);
    assert_string_equal(shop.stock.candy[2].name, "Black"); /* named: there, in its place */
    assert_true(shop.stock.candy[2].density_g_ml == 1.22);
    assert_memory_equal(&shop.stock.candy[2].srgb, &built_in.stock.candy[2].srgb, sizeof(Rgb8));
    const Candy *red = candy_of(&shop, "clear red");
    assert_true(red->srgb.r == 0xAA && red->finish == FINISH_CLEAR && red->density_g_ml == 1.50);
    reads_back(&shop);
}

static void built_in_candies_are_left_out_by_name(void **state) {
    (void)state;
    const int built_in = shop_default().stock.count;
    Shop shop = read_good("[stock]\nleave_out = grey , Sky Blue\nleave_out = navy ; no dye\n"
                          "[candy lime]\ncolour = #A0D030\n");
    assert_int_equal(shop.stock.count, built_in - 3 + 1);
    assert_true(!candy_of(&shop, "grey") && !candy_of(&shop, "sky blue") && !candy_of(&shop, "navy"));
    assert_non_null(candy_of(&shop, "blue"));
    reads_back(&shop);
}

static void a_file_may_be_all_of_the_stock(void **state) {
    (void)state;
    Shop shop =
        read_good("[stock]\nonly_named = yes\n[candy  Sea  Green ]\ncolour = #2E8E6a\n[candy clear]\nfinish "
                  "= clear\ncolor = FFFFFF\n"
                  "[candy \xC3\xA9t\xC3\xA9]\ndensity = 1.21 g/ml\ncolour = #010203\nfinish = clear\n");
    assert_int_equal(shop.stock.count, 3);
    assert_string_equal(shop.stock.candy[0].name, "Sea  Green");
    assert_int_equal(shop.stock.candy[0].finish, FINISH_PULLED);
    assert_true(shop.stock.candy[0].density_g_ml == 1.30);
    assert_int_equal(shop.stock.candy[0].srgb.b, 0x6A);
    assert_true(shop.stock.candy[1].density_g_ml == 1.50);
    assert_true(shop.stock.candy[2].density_g_ml == 1.21);
    reads_back(&shop);
}

/* The file, and what the message must begin with after its name. */
static const struct {
    const char *text, *says;
} bad[] = {
    {"[limits]\n\nleast_stirp = 6\n", "3: [limits] has no \"least_stirp\""},
    {"[limit]\n", "1: there is no section [limit]"},
    {"[habits]\nleast_strip = 6\n", "2: [habits] has no \"least_strip\""},
    {"; a\n\nleast_strip = 6\n", "3: \"least_strip\" stands before any section"},
    {"[limits]\nleast_strip = 2.9\n", "2: least_strip is \"2.9\"; it takes 3 to 20 mm"},
    {"[limits]\nleast_strip = six\n", "2: least_strip is \"six\""},
    {"[limits]\nleast_strip =\n", "2: least_strip is \"\""},
    {"[limits]\nleast_strip = 6 kg\n", "2: least_strip is \"6 kg\""},
    {"[limits]\nlog_mass_max = 200.1\n", "2: log_mass_max is \"200.1\"; it takes 1 to 200 kg"},
    {"[limits]\nropes_max = 5.5\n", "2: ropes_max is \"5.5\"; it takes a whole number, 1 to 1000"},
    {"[habits]\nlost = 51 %\n", "2: lost is \"51 %\"; it takes 0 to 50 %"},
    {"[habits]\nlost = -1\n", "2: lost is \"-1\""},
    {"[habits]\nlost = 1e1\n", "2: lost is \"1e1\""},
    {"[prices]\ncurrency = 123456789\n", "2: currency is"},
    {"[limits]\nleast_strip = 6\n[limits]\nleast_strip = 7\n", "4: least_strip stands in line 2 already"},
    {"[limits]\nleast_strip\n[nonsense]\n", "2: is neither [section] nor key = value"},
    {"[limits]\nleast_strip\n", "2: is neither [section] nor key = value"},
    {"[limits]\nleast_strip", "2: is neither [section] nor key = value"},
    {"[limits\nleast_strip = 6\n", "1: the heading has no ]"},
    {"[limits] least_strip = 6\n", "1: more follows the ]"},
    {"[candy]\n", "1: a candy without a name"},
    {"[candy red]\ncolour = #C8202C\n[candy RED]\ncolour = #C8202C\n", "3: [candy RED] is there already"},
    {"[candy lime]\nfinish = pulled\n[limits]\n", "1: [candy lime] has no colour"},
    {"\n[candy lime]\n", "2: [candy lime] has no colour"},
    {"[stock]\nonly_named = yes\n", "2: only_named is yes and no candy is named"},
    {"[stock]\nonly_named = maybe\n", "2: only_named is \"maybe\"; it takes yes or no"},
    {"[stock]\nonly_named = no\nonly_named = yes\n", "3: only_named stands in line 2 already"},
    {"[stock]\nleave_out = lime\n", "2: leave_out: there is no built-in candy \"lime\""},
    {"[stock]\nleave_out = grey,\n", "2: leave_out: there is no built-in candy \"\""},
    {"[stock]\nleave_out = grey\nonly_named = yes\n[candy a]\ncolour = #000000\n",
     "2: leave_out beside only_named = yes"},
    {"[stock]\nleave_out = white, cream, black, grey, red, pink, orange, yellow, green, sky blue, blue\n"
     "leave_out = navy, violet, brown, clear amber, clear red\n",
     "3: leave_out: no candy is left"},
    {"[stock]\nsome = 1\n", "2: [stock] has no \"some\""},
    {"[prices]\nhour = 6,50\n", "2: hour is \"6,50\"; write a decimal point: 6.50 (it takes 0 to"},
    {"[limits]\nleast_strip = 6,5 mm\n", "2: least_strip is \"6,5 mm\"; write a decimal point: 6.5 mm"},
    {"[habits]\nminutes_rope = ,5\n", "2: minutes_rope is \",5\"; it takes"},
    {"[candy red]\ndensity = 1,28 g/ml\n", "2: density is \"1,28 g/ml\"; write a decimal point: 1.28 g/ml"},
    {"[candy red]\ncolour = red\n", "2: colour is \"red\"; it takes #RRGGBB"},
    {"[candy red]\ncolour = #C8202\n", "2: colour is"},
    {"[candy red]\nfinish = matt\n", "2: finish is \"matt\"; it takes pulled or clear"},
    {"[candy red]\ndensity = 0.79\n", "2: density is \"0.79\"; it takes 0.8 to 1.8 g/ml"},
    {"[candy red]\ncolour = #C8202C\ncolor = #C8202C\n", "3: color stands in line 2 already"},
    {"[candy red]\nflavour = cherry\n", "2: a candy has no \"flavour\""},
    {"[candy dye]\n", "1: a candy cannot be named \"dye\""},
    {"[candy Auto]\n", "1: a candy cannot be named \"auto\""},
    {"[candy red+white]\n", "1: a plus sign in the candy's name: --map folds two candies by it"},
    {"[candy red, white]\n", "1: a comma or semicolon in the candy's name"},
    {"[candy red;=1+1]\n", "1: a comma or semicolon in the candy's name"},
    {"[candy 123456789012345678901234567890123456789012345678]\n", "1: the candy's name is over 47 bytes"},
    {"[limits]\n; \xFF\n", "2: is no plain text"},
    {"[limits]\n; \x1B[0m\n", "2: is no plain text"},
    {"[limits]\nlog_diameter_max = 70 mm\n", "2: log_diameter_min is over log_diameter_max"},
    {"[heat]\njoining = 90 C\nworking = 194 F\n", "3: working is not under joining"},
    {"[heat]\njoining = 65\n", "2: working is not under joining"},
    {"[cook]\ntemperature = 300 K\n", "2: temperature is \"300 K\"; it takes 130 to 170 C"},
    {"[cook]\ntemperature = 200 C\n", "2: temperature is \"200 C\"; it takes 130 to 170 C"},
    {"[candy red]\ndye = 2.1 %\n", "2: dye is \"2.1 %\"; it takes 0 to 2 %"},
    {"[shop]\njacket = red, , white\n", "2: jacket: a candy's name is missing"},
    {"[shop]\njacket = red,\n", "2: jacket: a candy's name is missing"},
    {"[shop]\njacket = auto, lime\n", "2: jacket: there is no candy \"lime\""},
    {"[limits]\nlog_diameter_min = 100\nlog_diameter_max = 70\n", "3: log_diameter_min is over"},
};

static void refused(const char *bytes, size_t size, const char *says) {
    Shop shop = shop_default(), before = shop;
    Err err;
    shop.people = before.people = 17;
    if (read_bytes(bytes, size, &shop, &err)) fail_msg("taken: %s", bytes);
    same_shop(&shop, &before);
    assert_int_equal(err.code, ERR_INPUT);
    if (strncmp(err.msg, "my.ini:", 7) != 0 || strncmp(err.msg + 7, says, strlen(says)) != 0)
        fail_msg("\"%s\" is not my.ini:%s", err.msg, says);
    assert_non_null(strstr(err.msg, "; "));
    assert_null(strchr(err.msg, '\n'));
}

static void what_is_wrong_is_one_line_with_its_number(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        refused(bad[i].text, strlen(bad[i].text), bad[i].says);
    refused("[limits]\nleast_\0strip = 6\n", 26, "2: holds a zero byte");
}

static void too_many_lines_candies_and_bytes_are_refused(void **state) {
    (void)state;
    char *text = calloc(1, 20000);
    assert_non_null(text);
    for (int i = 0; i <= STOCK_MAX; i++)
        (void)snprintf(text + strlen(text), 100, "[candy number %d]\ncolour = #000000\n", i);
    refused(text, strlen(text), "129: more than 64 candies");
    *strstr(text, "[candy number 64]") = 0;
    refused(text, strlen(text), "128: more than 64 candies with the built-in ones");
    strcat(text, "[stock]\nonly_named = yes\n");
    assert_int_equal(read_good(text).stock.count, STOCK_MAX);
    memset(text, '\n', 10001);
    refused(text, 10001, "10001: is line 10001");
    memset(text, ';', 300);
    refused(text, 300, "1: the line is over 196 bytes long");
    memset(text, ';', 400);
    text[150] = '\n';
    refused(text, 400, "2: the line is over");
    free(text);
}

static void no_line_of_the_printed_file_is_too_long_to_read(void **state) {
    (void)state;
    Shop shop = shop_default();
    for (int i = 0; i < 60; i++) {
        shop.stock.candy[0].name[0] = 'x';
        if (i < CANDY_NAME - 1) memset(shop.stock.candy[0].name, 'x', (size_t)i + 1);
    }
    strcpy(shop.currency, "12345678");
    char *text = print(&shop);
    Shop back = read_good(text);
    same_shop(&shop, &back);
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n"))
        if (text_width(line) > 110) fail_msg("%d columns: %s", text_width(line), line);
    free(text);
}

static void any_bytes_are_taken_or_refused_in_one_line(void **state) {
    (void)state;
    static const char piece[][24] = {
        "[limits]\n", "[candy red]\n",    "[", "]",  "=",       "\n",         ";", "\xC3", "least_strip",
        " = 6 mm\n",  "colour = #C8202C", " ", "\t", "[candy ", "people=2\n", ":"};
    unsigned seed = 12345;
    for (int round = 0; round < 4000; round++) {
        char text[1024] = "";
        for (int i = 0; i < 24; i++) {
            seed = seed * 1103515245u + 12345u;
            strcat(text, piece[seed >> 16 & 15]);
        }
        Shop shop;
        Err err;
        if (read_bytes(text, strlen(text), &shop, &err)) continue;
        assert_int_equal(err.code, ERR_INPUT);
        assert_int_equal(strncmp(err.msg, "my.ini:", 7), 0);
    }
}

static void a_file_that_cannot_be_read_is_named(void **state) {
    (void)state;
    Shop shop;
    Err err = {0};
    assert_false(shop_file_open("no-such-file.ini", &shop, &err));
    assert_int_equal(err.code, ERR_INPUT);
    assert_non_null(strstr(err.msg, "no-such-file.ini: cannot be read"));
    err = (Err){0};
    assert_false(shop_file_open("/", &shop, &err));
    assert_int_equal(err.code, ERR_INPUT);
    assert_string_equal(err.msg, "/: is a folder; name a shop file");
    err = (Err){0};
    assert_false(shop_file_open("/dev/null", &shop, &err));
    assert_int_equal(err.code, ERR_INPUT);
    assert_string_equal(err.msg, "/dev/null: the file is empty; see logocane --print-shop");
}

/* What docs/shop.md says of a key stands in a line "| `key` |". */
static void the_manual_names_every_key(void **state) {
    (void)state;
    FILE *file = fopen("docs/shop.md", "r");
    assert_non_null(file);
    char manual[32768];
    size_t size = fread(manual, 1, sizeof manual - 1, file);
    manual[size] = 0;
    fclose(file);
    int count;
    const ShopKey *key = shop_keys(&count);
    for (int i = 0; i < count; i++) {
        char name[64];
        (void)snprintf(name, sizeof name, "`%s`", key[i].key);
        if (!strstr(manual, name)) fail_msg("docs/shop.md does not name %s", name);
        (void)snprintf(name, sizeof name, "[%s]", key[i].section);
        if (!strstr(manual, name)) fail_msg("docs/shop.md does not name %s", name);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_built_in_shop_reads_back_the_same),
        cmocka_unit_test(a_key_of_yes_or_no_takes_no_other_word),
        cmocka_unit_test(every_key_reads_back_at_its_ends_and_between),
        cmocka_unit_test(the_built_in_values_lie_within_their_own_ranges),
        cmocka_unit_test(what_is_named_is_taken_and_the_rest_stays),
        cmocka_unit_test(the_cook_and_the_heat_are_taken),
        cmocka_unit_test(a_candy_is_added_to_those_built_in),
        cmocka_unit_test(a_candy_takes_the_place_of_the_one_of_its_name),
        cmocka_unit_test(built_in_candies_are_left_out_by_name),
        cmocka_unit_test(a_file_may_be_all_of_the_stock),
        cmocka_unit_test(what_is_wrong_is_one_line_with_its_number),
        cmocka_unit_test(too_many_lines_candies_and_bytes_are_refused),
        cmocka_unit_test(no_line_of_the_printed_file_is_too_long_to_read),
        cmocka_unit_test(any_bytes_are_taken_or_refused_in_one_line),
        cmocka_unit_test(a_file_that_cannot_be_read_is_named),
        cmocka_unit_test(the_manual_names_every_key),
    };
    return cmocka_run_group_tests_name("shop file", tests, NULL, NULL);
}
