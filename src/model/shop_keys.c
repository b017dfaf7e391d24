/* The keys of the shop file. SPDX-License-Identifier: MIT
 *
 * A new field of Shop is one row here, and its default one line of defaults.c. */
#include "model/shop_keys.h"

#include "base/text.h"
#include "base/units.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define FIELD(field) offsetof(Shop, field)

static const char habit[] = "habit";
static const char hartel[] = "published: Hartel 2012";
static const char own[] = "your own figure; none is built in";

static const ShopKey table[] = {
    {"limits", "log_diameter_max", KEY_LENGTH, FIELD(log_diameter_max_mm), "mm", 60, 400, false, habit,
     "thickest log that is rolled and drawn out"},
    {"limits", "log_diameter_min", KEY_LENGTH, FIELD(log_diameter_min_mm), "mm", 40, 300, false, habit,
     "thinnest log; a smaller order is laid up as the order that fills it"},
    {"limits", "log_length_min", KEY_LENGTH, FIELD(log_length_min_mm), "mm", 100, 2000, false, habit,
     "shortest log"},
    {"limits", "log_mass_max", KEY_MASS, FIELD(log_mass_max_g), "kg", 1, 200, false, habit,
     "heaviest log; more candy makes several logs"},
    {"limits", "least_strip", KEY_LENGTH, FIELD(least_strip_mm), "mm", 3, 20, false, habit,
     "thinnest rope that hands form and lay"},
    {"limits", "least_sheet", KEY_LENGTH, FIELD(least_sheet_mm), "mm", 1, 20, false, habit,
     "thinnest sheet that is wrapped round the core"},
    {"limits", "bench_length", KEY_LENGTH, FIELD(bench_length_mm), "mm", 300, 10000, false, habit,
     "a cane is cut to it before chopping"},
    {"limits", "lump_length_min", KEY_LENGTH, FIELD(lump_length_min_mm), "mm", 10, 300, false, habit,
     "shortest lump that is drawn out"},
    {"limits", "block_width_max", KEY_LENGTH, FIELD(block_width_max_mm), "mm", 20, 400, false, habit,
     "widest block that is built to be drawn down"},
    {"limits", "ropes_max", KEY_WHOLE, FIELD(ropes_max), "", 1, 1000, false, habit, "ropes made for a log"},
    {"limits", "working_time", KEY_NUMBER, FIELD(working_minutes), "min", 1, 600, false, habit,
     "how long the candy can be worked"},

    {"habits", "jacket", KEY_SHARE, FIELD(jacket_share), "%", 2, 30, false, habit,
     "thickness of the jacket, of the log's radius"},
    {"habits", "lost", KEY_SHARE, FIELD(lost_share), "%", 0, 50, false, habit,
     "of each log, lost in ends and starting"},
    {"habits", "spare", KEY_SHARE, FIELD(spare_share), "%", 0, 50, false, habit,
     "cooked on top of each candy"},
    {"habits", "rounding", KEY_NUMBER, FIELD(rounding), "", 0.05, 1, false, habit,
     "how far rolling rounds corners, in least strips"},
    {"habits", "people", KEY_WHOLE, FIELD(people), "", 1, 20, false, habit, "people laying up a log"},
    {"habits", "minutes_rope", KEY_NUMBER, FIELD(minutes_rope), "min", 0, 60, false, habit,
     "one rope, pulled"},
    {"habits", "minutes_join", KEY_NUMBER, FIELD(minutes_join), "min", 0, 60, false, habit, "one join"},
    {"habits", "minutes_draw", KEY_NUMBER, FIELD(minutes_draw), "min", 0, 60, false, habit,
     "one block, drawn out"},

    {"cook", "kettle", KEY_MASS, FIELD(kettle_g), "kg", 0.5, 200, false, habit, "most candy of one boiling"},
    {"cook", "altitude", KEY_NUMBER, FIELD(altitude_m), "m", 0, 5000, false, "sea level, unless you say",
     "of the kitchen"},
    {"cook", "sugar", KEY_SHARE, FIELD(sugar_share), "%", 30, 80, false, hartel,
     "sugar of the dry sugars, the rest syrup solids"},
    {"cook", "syrup_solids", KEY_SHARE, FIELD(syrup_solids), "%", 60, 90, false,
     "from memory: makers' association", "solids of the glucose syrup"},
    {"cook", "moisture", KEY_SHARE, FIELD(moisture), "%", 0.5, 6, false, hartel, "water left in the candy"},
    {"cook", "temperature", KEY_HEAT, FIELD(cook_c), "C", 130, 170, false, hartel,
     "at which the cook ends at sea level, C or F"},
    {"cook", "water", KEY_SHARE, FIELD(water_share), "%", 15, 100, false, habit,
     "to dissolve the sugar, of its mass"},
    {"cook", "acid", KEY_SHARE, FIELD(acid_share), "%", 0, 5, true, own, "of the candy"},
    {"cook", "flavour", KEY_SHARE, FIELD(flavour_share), "%", 0, 2, true, own, "of the candy"},

    {"heat", "joining", KEY_HEAT, FIELD(joining_c), "C", 50, 110, false, habit,
     "ropes in the warm box, when they are joined, C or F"},
    {"heat", "working", KEY_HEAT, FIELD(working_c), "C", 45, 100, false, habit,
     "below it a rope is not joined any more, C or F"},
    {"heat", "room", KEY_HEAT, FIELD(room_c), "C", 5, 40, false, habit, "the air at the bench, C or F"},

    {"prices", "currency", KEY_WORD, FIELD(currency), "", 0, 8, true, own, "printed behind a price"},
    {"prices", "candy_kg", KEY_NUMBER, FIELD(price_candy_kg), "", 0, 1e6, true, own,
     "price of a kilogram of candy, cooked"},
    {"prices", "hour", KEY_NUMBER, FIELD(price_hour), "", 0, 1e6, true, own,
     "price of an hour of one person's work"},
};

enum { KEYS = sizeof table / sizeof *table };

_Static_assert((int)KEYS <= (int)SHOP_KEYS_MAX, "raise SHOP_KEYS_MAX");

const ShopKey *shop_keys(int *count) {
    *count = KEYS;
    return table;
}

const ShopKey *shop_key_find(const char *section, const char *key) {
    for (int i = 0; i < KEYS; i++)
        if (strcmp(table[i].section, section) == 0 && strcmp(table[i].key, key) == 0) return &table[i];
    return NULL;
}

static void *field_of(const ShopKey *key, Shop *shop) {
    return (char *)shop + key->offset;
}

static const void *value_of(const ShopKey *key, const Shop *shop) {
    return (const char *)shop + key->offset;
}

static double number_of(const ShopKey *key, const Shop *shop) {
    double number;
    memcpy(&number, value_of(key, shop), sizeof number);
    return number;
}

/* The number written before the key's own unit, if the unit is there at all. */
static bool read_number(const ShopKey *key, const char *text, double *out) {
    char number[64];
    size_t length = strlen(text), unit = strlen(key->unit);
    if (length > unit && strcmp(text + length - unit, key->unit) == 0) length -= unit;
    while (length > 0 && text[length - 1] == ' ') length--;
    if (length >= sizeof number) return false;
    memcpy(number, text, length);
    number[length] = 0;
    return number_parse(number, key->low, key->high, out);
}

static bool read_word(const ShopKey *key, const char *text, char *out) {
    if (strlen(text) > (size_t)key->high || !text_valid(text)) return false;
    memset(out, 0, SHOP_WORD);
    (void)snprintf(out, SHOP_WORD, "%s", text);
    return true;
}

bool shop_key_read(const ShopKey *key, const char *text, Shop *shop) {
    double number;
    bool good = false;
    if (key->kind == KEY_WORD) return read_word(key, text, field_of(key, shop));
    if (key->kind == KEY_LENGTH) good = length_parse(text, UNITS_MM, key->low, key->high, &number);
    if (key->kind == KEY_MASS) good = mass_parse(text, key->low * 1000, key->high * 1000, &number);
    if (key->kind == KEY_HEAT) good = temperature_parse(text, key->low, key->high, &number);
    if (key->kind >= KEY_SHARE) good = read_number(key, text, &number);
    if (!good) return false;
    if (key->kind == KEY_SHARE) number /= 100;
    if (key->kind < KEY_SHARE) number = round(number * 1e6) / 1e6; /* so that it can be printed in full */
    int whole = (int)number;
    if (key->kind == KEY_WHOLE && whole != number) return false;
    if (key->kind == KEY_WHOLE)
        memcpy(field_of(key, shop), &whole, sizeof whole);
    else
        memcpy(field_of(key, shop), &number, sizeof number);
    return true;
}

/* A number of the key's kind with so many decimals, and its unit. */
static void print_number(const ShopKey *key, double number, int decimals, char *out, size_t size) {
    if (key->kind == KEY_MASS) number /= 1000;
    if (key->kind == KEY_SHARE) number *= 100;
    (void)snprintf(out, size, "%.*f%s%s", decimals, number, key->unit[0] ? " " : "", key->unit);
}

void shop_key_print(const ShopKey *key, const Shop *shop, char *out, size_t size) {
    Shop back = {0};
    int whole;
    if (key->kind == KEY_WORD) {
        (void)snprintf(out, size, "%s", (const char *)value_of(key, shop));
        return;
    }
    if (key->kind == KEY_WHOLE) {
        memcpy(&whole, value_of(key, shop), sizeof whole);
        (void)snprintf(out, size, "%d%s%s", whole, key->unit[0] ? " " : "", key->unit);
        return;
    }
    double number = number_of(key, shop);
    for (int decimals = 0; decimals <= 12; decimals++) {
        print_number(key, number, decimals, out, size);
        if (shop_key_read(key, out, &back) && number_of(key, &back) == number) return;
    }
}

bool shop_key_empty(const ShopKey *key, const Shop *shop) {
    if (!key->optional) return false;
    if (key->kind == KEY_WORD) return *(const char *)value_of(key, shop) == 0;
    if (key->kind == KEY_WHOLE) {
        int whole;
        memcpy(&whole, value_of(key, shop), sizeof whole);
        return whole == 0;
    }
    return number_of(key, shop) == 0;
}

void shop_key_range(const ShopKey *key, char *out, size_t size) {
    const char *space = key->unit[0] ? " " : "";
    const char *whole = key->kind == KEY_WHOLE ? "a whole number, " : "";
    if (key->kind == KEY_WORD)
        (void)snprintf(out, size, "at most %.0f bytes of plain text", key->high);
    else
        (void)snprintf(out, size, "%s%.12g to %.12g%s%s", whole, key->low, key->high, space, key->unit);
}
