/* The keys of the shop file. SPDX-License-Identifier: MIT
 *
 * A new field of Shop is one row here. */
#include "model/shop.h"

#include "model/order.h"

#include "base/text.h"
#include "base/units.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Kind, field and unit of a key. */
#define LENGTH(field) KEY_LENGTH, offsetof(Shop, field), "mm"
#define MASS(field) KEY_MASS, offsetof(Shop, field), "kg"
#define HEAT(field) KEY_HEAT, offsetof(Shop, field), "C"
#define SHARE(field) KEY_SHARE, offsetof(Shop, field), "%"
#define NUMBER(field, unit) KEY_NUMBER, offsetof(Shop, field), unit
#define WHOLE(field) KEY_WHOLE, offsetof(Shop, field), ""
#define WORD(field) KEY_WORD, offsetof(Shop, field), ""
#define TEXT(field) KEY_TEXT, offsetof(Shop, field), ""
#define YES(field) KEY_YES, offsetof(Shop, field), ""

static const char habit[] = "habit";
static const char hartel[] = "published: Hartel 2012";
static const char own[] = "your own figure; none is built in";
static const char yours[] = "none is built in";

static const ShopKey table[] = {
    {"shop", "name", TEXT(name), 0, 0, 80, yours, "of the shop, in letters and on the client's picture"},
    {"shop", "address", TEXT(address), 0, 0, 160, yours, "a line below the name in letters"},
    {"shop", "piece_diameter", LENGTH(piece_diameter_mm), 16, 5, 60, habit,
     "of the usual piece; options win over this and what is below"},
    {"shop", "piece_length", LENGTH(piece_length_mm), 14, 2, 100, habit, "of the usual piece"},
    {"shop", "pieces", WHOLE(pieces), 1000, 1, PIECES_MAX, habit, "the usual order"},
    {"shop", "jacket", TEXT(jacket), 0, 0, 160, yours, "usual: candies, commas between them, or auto"},

    {"limits", "log_diameter_max", LENGTH(log_diameter_max_mm), 200, 60, 400, habit,
     "thickest log that is rolled and drawn out"},
    {"limits", "log_diameter_min", LENGTH(log_diameter_min_mm), 80, 40, 300, habit,
     "thinnest log; a smaller order is laid up as the order that fills it"},
    {"limits", "log_length_min", LENGTH(log_length_min_mm), 300, 100, 2000, habit, "shortest log"},
    {"limits", "log_mass_max", MASS(log_mass_max_g), 12, 1, 200, habit,
     "heaviest log; more candy makes several logs"},
    {"limits", "least_strip", LENGTH(least_strip_mm), 6, 3, 20, habit,
     "thinnest rope that hands form and lay"},
    {"limits", "least_sheet", LENGTH(least_sheet_mm), 3, 1, 20, habit,
     "thinnest sheet that is wrapped round the core"},
    {"limits", "sharpest_corner", NUMBER(sharpest_deg, "deg"), 14, 5, 45, habit,
     "sharpest corner of a rope's section"},
    {"limits", "corners_max", WHOLE(corners_max), 5, 4, 8, habit, "corners of a rope's section"},
    {"limits", "taper_width", SHARE(taper_share), 70, 50, 100, habit,
     "least width of a wedge, and of a strip that tapers like one, of the least strip"},
    {"limits", "fits_within", LENGTH(fits_within_mm), 4, 0.5, 20, habit,
     "a block whose edges are no farther off its place is laid in"},
    {"limits", "bench_length", LENGTH(bench_length_mm), 2000, 300, 10000, habit,
     "a cane is cut to it before chopping"},
    {"limits", "lump_length_min", LENGTH(lump_length_min_mm), 60, 10, 300, habit,
     "shortest lump that is drawn out"},
    {"limits", "block_width_max", LENGTH(block_width_max_mm), 100, 20, 400, habit,
     "widest block that is built to be drawn down"},
    {"limits", "ropes_max", WHOLE(ropes_max), 60, 1, 1000, habit, "ropes made for a log"},
    {"limits", "working_time", NUMBER(working_minutes, "min"), 40, 1, 600, habit,
     "how long the candy can be worked"},
    {"limits", "dyed_darkest", NUMBER(dyed.darkest, ""), 10, 0, 50, habit,
     "darkest that a candy can be dyed, L* of CIELAB"},
    {"limits", "dyed_lightest", NUMBER(dyed.lightest, ""), 97, 60, 100, habit,
     "lightest that a candy can be dyed, L* of CIELAB"},
    {"limits", "dyed_chroma", NUMBER(dyed.chroma, ""), 80, 10, 150, habit,
     "strongest in colour that a candy can be dyed, C* of CIELAB"},

    {"habits", "jacket", SHARE(jacket_share), 10, 2, 30, habit,
     "thickness of the jacket, of the log's radius"},
    {"habits", "lost", SHARE(lost_share), 12, 0, 50, habit, "of each log, lost in ends and starting"},
    {"habits", "spare", SHARE(spare_share), 5, 0, 50, habit, "cooked on top of each candy"},
    {"habits", "dye_to_order", YES(dye_to_order), 1, 0, 1, habit,
     "a batch is dyed to an ink that no candy below is near"},
    {"habits", "blend_folds", WHOLE(blend_folds), 3, 1, 12, habit,
     "how often a blend is drawn out and folded; each doubles its layers"},
    {"habits", "rounding", NUMBER(rounding, ""), 0.35, 0.05, 1, habit,
     "how far rolling rounds corners, in least strips"},
    {"habits", "people", WHOLE(people), 2, 1, 20, habit, "people laying up a log"},
    {"habits", "minutes_rope", NUMBER(minutes_rope, "min"), 0.6, 0, 60, habit, "one rope, pulled"},
    {"habits", "minutes_join", NUMBER(minutes_join, "min"), 0.4, 0, 60, habit, "one join"},
    {"habits", "minutes_draw", NUMBER(minutes_draw, "min"), 1.5, 0, 60, habit, "one block, drawn out"},
    {"habits", "minutes_weigh", NUMBER(minutes_weigh, "min"), 4, 0, 120, habit, "a boiling, weighed out"},
    {"habits", "minutes_boil", NUMBER(minutes_boil, "min"), 35, 0, 240, habit,
     "a boiling, from cold to its temperature: the kettle's, nobody's"},
    {"habits", "minutes_cool", NUMBER(minutes_cool, "min"), 6, 0, 120, habit,
     "a candy poured, coloured, cooled until it can be handled"},
    {"habits", "minutes_pull", NUMBER(minutes_pull, "min"), 3, 0, 60, habit, "a kilogram of candy, pulled"},
    {"habits", "minutes_sheet", NUMBER(minutes_sheet, "min"), 2, 0, 60, habit, "a sheet, rolled out"},
    {"habits", "minutes_roll", NUMBER(minutes_roll, "min"), 1, 0, 60, habit,
     "a kilogram of log, wrapped and rolled even"},
    {"habits", "minutes_cane", NUMBER(minutes_cane, "min"), 0.5, 0, 60, habit,
     "a metre of cane, drawn out and cut to bench lengths"},
    {"habits", "minutes_pack", NUMBER(minutes_pack, "min"), 15, 0, 600, habit,
     "a thousand pieces: chopped, cooled, packed"},

    {"cook", "kettle", MASS(kettle_g), 6, 0.5, 200, habit, "most candy of one boiling"},
    {"cook", "altitude", NUMBER(altitude_m, "m"), 0, 0, 5000, "sea level, unless you say", "of the kitchen"},
    {"cook", "sugar", SHARE(sugar_share), 70, 30, 80, hartel,
     "sugar of the dry sugars, the rest syrup solids"},
    {"cook", "syrup_solids", SHARE(syrup_solids), 80.3, 60, 90, "from memory: makers' association",
     "solids of the glucose syrup"},
    {"cook", "moisture", SHARE(moisture), 2.5, 0.5, 6, hartel, "water left in the candy"},
    {"cook", "temperature", HEAT(cook_c), 149, 130, 170, hartel,
     "at which the cook ends at sea level, C or F"},
    {"cook", "water", SHARE(water_share), 30, 15, 100, habit, "to dissolve the sugar, of its mass"},
    {"cook", "acid", SHARE(acid_share), 0, 0, 5, own, "of the candy"},
    {"cook", "flavour", SHARE(flavour_share), 0, 0, 2, own, "of the candy"},

    {"heat", "joining", HEAT(joining_c), 80, 50, 110, habit,
     "ropes in the warm box, when they are joined, C or F"},
    {"heat", "working", HEAT(working_c), 70, 45, 100, habit,
     "below it a rope is not joined any more, C or F"},
    {"heat", "room", HEAT(room_c), 22, 5, 40, habit, "the air at the bench, C or F"},

    {"prices", "currency", WORD(currency), 0, 0, 8, own, "printed behind a price"},
    {"prices", "candy_kg", NUMBER(price_candy_kg, ""), 0, 0, 1e6, own,
     "price of a kilogram of candy, cooked"},
    {"prices", "dyed_batch", NUMBER(price_dyed_batch, ""), 0, 0, 1e6, own,
     "price of dyeing a batch to order, beside its candy"},
    {"prices", "flavour_kg", NUMBER(price_flavour_kg, ""), 0, 0, 1e6, own, "price of a kilogram of flavour"},
    {"prices", "hour", NUMBER(price_hour, ""), 0, 0, 1e6, own, "price of an hour of one person's work"},
    {"prices", "fuel_boiling", NUMBER(price_boiling, ""), 0, 0, 1e6, own, "price of the fuel of a boiling"},
    {"prices", "packing_thousand", NUMBER(price_packing, ""), 0, 0, 1e6, own,
     "price of what a thousand pieces are packed in"},
    {"prices", "margin", SHARE(price_margin), 0, 0, 1000, own, "on top of all these"},
    {"prices", "least_order", NUMBER(price_least, ""), 0, 0, 1e6, own, "price of an order, however small"},
    {"prices", "round_up_to", NUMBER(price_round, ""), 0, 0, 1e6, own,
     "a price is rounded up to a multiple of it"},
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

static double number_of(const ShopKey *key, const Shop *shop) {
    const char *at = (const char *)shop + key->offset;
    double number;
    int whole;
    if (key->kind == KEY_YES) return *(const bool *)at;
    if (key->kind == KEY_WHOLE) {
        memcpy(&whole, at, sizeof whole);
        return whole;
    }
    memcpy(&number, at, sizeof number);
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

/* Is the field text? */
static bool is_text(const ShopKey *key) {
    return key->kind == KEY_WORD || key->kind == KEY_TEXT;
}

/* Bytes of a field of text. */
static size_t text_size(const ShopKey *key) {
    return key->kind == KEY_WORD ? SHOP_WORD : SHOP_TEXT;
}

static bool read_text(const ShopKey *key, const char *text, char *out) {
    if (strlen(text) > (size_t)key->high || !text_valid(text)) return false;
    memset(out, 0, text_size(key));
    (void)snprintf(out, text_size(key), "%s", text);
    return true;
}

static bool read_yes(const char *text, double *out) {
    *out = strcmp(text, "yes") == 0;
    return *out != 0 || strcmp(text, "no") == 0;
}

/* A number as it is written, in the unit of the field. */
static double stored(const ShopKey *key, double written) {
    return key->kind == KEY_MASS ? written * 1000 : key->kind == KEY_SHARE ? written / 100 : written;
}

static void store(const ShopKey *key, double number, Shop *shop) {
    char *field = (char *)shop + key->offset;
    int whole = (int)number;
    bool yes = number != 0;
    if (key->kind == KEY_WHOLE)
        memcpy(field, &whole, sizeof whole);
    else if (key->kind == KEY_YES)
        memcpy(field, &yes, sizeof yes);
    else
        memcpy(field, &number, sizeof number);
}

void shop_key_reset(const ShopKey *key, Shop *shop) {
    if (is_text(key))
        memset((char *)shop + key->offset, 0, text_size(key));
    else
        store(key, stored(key, key->built_in), shop);
}

bool shop_key_read(const ShopKey *key, const char *text, Shop *shop) {
    double number;
    bool good = false;
    if (is_text(key)) return read_text(key, text, (char *)shop + key->offset);
    if (key->kind == KEY_LENGTH) good = length_parse(text, UNITS_MM, key->low, key->high, &number);
    if (key->kind == KEY_MASS)
        good = mass_parse(text, stored(key, key->low), stored(key, key->high), &number);
    if (key->kind == KEY_HEAT) good = temperature_parse(text, key->low, key->high, &number);
    if (key->kind == KEY_YES)
        good = read_yes(text, &number);
    else if (key->kind >= KEY_SHARE)
        good = read_number(key, text, &number);
    if (!good || (key->kind == KEY_WHOLE && (int)number != number)) return false;
    if (key->kind == KEY_SHARE) number = stored(key, number);
    if (key->kind < KEY_SHARE) number = round(number * 1e6) / 1e6; /* so that it can be printed in full */
    store(key, number, shop);
    return true;
}

void shop_key_print(const ShopKey *key, const Shop *shop, char *out, size_t size) {
    Shop back = {0};
    if (is_text(key)) {
        (void)snprintf(out, size, "%s", (const char *)shop + key->offset);
        return;
    }
    double number = number_of(key, shop), shown = number;
    if (key->kind == KEY_YES) {
        (void)snprintf(out, size, "%s", number != 0 ? "yes" : "no");
        return;
    }
    if (key->kind == KEY_MASS) shown /= 1000;
    if (key->kind == KEY_SHARE) shown *= 100;
    for (int decimals = 0; decimals <= (key->kind == KEY_WHOLE ? 0 : 12); decimals++) {
        (void)snprintf(out, size, "%.*f%s%s", decimals, shown, key->unit[0] ? " " : "", key->unit);
        if (shop_key_read(key, out, &back) && number_of(key, &back) == number) return;
    }
}

bool shop_key_empty(const ShopKey *key, const Shop *shop) {
    if (key->standing != own && key->standing != yours) return false;
    return is_text(key) ? *((const char *)shop + key->offset) == 0 : number_of(key, shop) == 0;
}

void shop_key_range(const ShopKey *key, char *out, size_t size) {
    const char *space = key->unit[0] ? " " : "";
    const char *whole = key->kind == KEY_WHOLE ? "a whole number, " : "";
    if (is_text(key))
        (void)snprintf(out, size, "at most %.0f bytes of plain text", key->high);
    else if (key->kind == KEY_YES)
        (void)snprintf(out, size, "yes or no");
    else
        (void)snprintf(out, size, "%s%.12g to %.12g%s%s", whole, key->low, key->high, space, key->unit);
}
