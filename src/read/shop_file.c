/* The shop file. SPDX-License-Identifier: MIT
 *
 * Line by line: a heading, a key with its value, a remark, or an error that names the line; the reading ends
 * at the first. Spaces round a line, a key and a value do not count, so a line may be set in. */
#include "read/read.h"

#include "base/text.h"
#include "base/units.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>
#include <strings.h>

enum { LINES_MAX = 10000, LINE_BYTES = 196, NAME_COLUMNS = 160, SECTION_MAX = CANDY_NAME + 16 };

typedef enum CandyKey { CANDY_FINISH, CANDY_COLOUR, CANDY_DENSITY, CANDY_DYE, CANDY_KEYS } CandyKey;

/* docs/numbers.md: where a file does not say. */
static const double usual_density[] = {[FINISH_CLEAR] = 1.50, [FINISH_PULLED] = 1.30};

typedef struct Reading {
    FILE *file;
    const char *name; /* of the file, fit for a message */
    int line;         /* being read, 1.. */
    Shop shop;
    Stock stock;               /* the file's own candies */
    char section[SECTION_MAX]; /* "" = none yet, "candy" in that of the last of stock */
    int candy_line;            /* of its heading */
    int candy_key[CANDY_KEYS]; /* line of each of its keys, 0 = not given */
    int seen[SHOP_KEYS_MAX];   /* line of each key of the table, 0 = not given */
    Err err;
} Reading;

static bool wrong(Reading *r, int line, const char *format, ...) __attribute__((format(printf, 3, 4)));

/* Fills the error; false. */
static bool wrong(Reading *r, int line, const char *format, ...) {
    char what[320];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(what, sizeof what, format, arguments);
    va_end(arguments);
    return err_set(&r->err, ERR_INPUT, "%s:%d: %s", r->name, line, what);
}

/* --- lines --- */

static char *trimmed(char *text) {
    text += strspn(text, " \t");
    size_t length = strlen(text);
    while (length > 0 && strchr(" \t\r\n", text[length - 1])) text[--length] = 0;
    return text;
}

/* Reads one line of plain text, its end and the spaces round it taken off. False at the end of the file or if
 * something is wrong. */
static bool read_line(Reading *r, char out[LINE_BYTES + 1]) {
    size_t used = 0;
    int c = getc(r->file);
    if (c == EOF) return false;
    r->line++;
    for (; c != EOF && c != '\n'; c = getc(r->file)) {
        if (used == LINE_BYTES)
            return wrong(r, r->line, "the line is over %d bytes long; shorten it", LINE_BYTES);
        if (c == 0) return wrong(r, r->line, "holds a zero byte; save the file as plain text, UTF-8");
        out[used++] = (char)c;
    }
    out[used] = 0;
    bool marked = r->line == 1 && strncmp(out, "\xEF\xBB\xBF", 3) == 0; /* a byte order mark */
    char *text = trimmed(out + (marked ? 3 : 0));
    memmove(out, text, strlen(text) + 1);
    for (char *tab = out; (tab = strchr(tab, '\t'));) *tab = ' ';
    if (!text_valid(out)) return wrong(r, r->line, "is no plain text; save the file as UTF-8");
    if (r->line > LINES_MAX) return wrong(r, r->line, "is line %d; a shop file has fewer", r->line);
    return true;
}

/* --- candies --- */

/* The candy before is whole only now. */
static bool end_candy(Reading *r) {
    if (strcmp(r->section, "candy") != 0) return true;
    Candy *candy = &r->stock.candy[r->stock.count - 1];
    if (!r->candy_key[CANDY_COLOUR])
        return wrong(r, r->candy_line, "[candy %s] has no colour; add for example colour = #C8202C",
                     candy->name);
    if (!r->candy_key[CANDY_DENSITY]) candy->density_g_ml = usual_density[candy->finish];
    return true;
}

static bool begin_candy(Reading *r, const char *name) {
    Stock *stock = &r->stock;
    if (*name == 0) return wrong(r, r->line, "a candy without a name; write [candy NAME]");
    if (strlen(name) >= CANDY_NAME)
        return wrong(r, r->line, "the candy's name is over %d bytes long; shorten it", CANDY_NAME - 1);
    if (strcasecmp(name, "dye") == 0)
        return wrong(r, r->line,
                     "a candy cannot be named \"dye\": --map means a dyed one by it; use another name");
    if (strpbrk(name, ",;")) /* both part the cells of lists */
        return wrong(r, r->line, "a comma or semicolon in the candy's name; use another name");
    for (int i = 0; i < stock->count; i++)
        if (strcasecmp(stock->candy[i].name, name) == 0)
            return wrong(r, r->line, "[candy %s] is there already; leave one out", name);
    if (stock->count == STOCK_MAX)
        return wrong(r, r->line, "more than %d candies; leave some out", STOCK_MAX);
    Candy *candy = &stock->candy[stock->count++];
    *candy = (Candy){.finish = FINISH_PULLED};
    memcpy(candy->name, name, strlen(name));
    r->candy_line = r->line;
    memset(r->candy_key, 0, sizeof r->candy_key);
    return true;
}

/* A number with or without the unit behind it. */
static bool read_measure(const char *text, const char *unit, double low, double high, double *out) {
    char number[32];
    size_t length = strlen(text), end = strlen(unit);
    if (length >= end && strcmp(text + length - end, unit) == 0) length -= end;
    while (length > 0 && text[length - 1] == ' ') length--;
    (void)snprintf(number, sizeof number, "%.*s", (int)length, text);
    return length < sizeof number && number_parse(number, low, high, out);
}

static bool read_dye(const char *text, double *out) {
    if (!read_measure(text, "%", 0, 2, out)) return false;
    *out = round(*out * 1e7) / 1e9; /* of which as many decimals are printed */
    return true;
}

static bool take_candy_key(Reading *r, const char *key, const char *value) {
    static const char *const names[] = {"finish", "colour", "density", "dye", "color"};
    static const char *const takes[] = {"pulled or clear", "#RRGGBB", "0.8 to 1.8 g/ml", "0 to 2 %"};
    Candy *candy = &r->stock.candy[r->stock.count - 1];
    int which = 0;
    while (which < 5 && strcmp(names[which], key) != 0) which++;
    if (which == 5)
        return wrong(r, r->line, "a candy has no \"%.40s\"; it has finish, colour, density and dye", key);
    if (which == 4) which = CANDY_COLOUR;
    if (r->candy_key[which])
        return wrong(r, r->line, "%s stands in line %d already; leave one out", key, r->candy_key[which]);
    r->candy_key[which] = r->line;
    bool good = which == CANDY_COLOUR    ? rgb8_parse(value, &candy->srgb)
                : which == CANDY_DENSITY ? read_measure(value, "g/ml", 0.8, 1.8, &candy->density_g_ml)
                : which == CANDY_DYE     ? read_dye(value, &candy->dye_share)
                                         : strcmp(value, "clear") == 0 || strcmp(value, "pulled") == 0;
    if (which == CANDY_FINISH && strcmp(value, "clear") == 0) candy->finish = FINISH_CLEAR;
    return good || wrong(r, r->line, "%s is \"%.40s\"; it takes %s", key, value, takes[which]);
}

/* --- sections and keys --- */

static bool known_section(const char *name) {
    int count;
    const ShopKey *key = shop_keys(&count);
    for (int i = 0; i < count; i++)
        if (strcmp(key[i].section, name) == 0) return true;
    return false;
}

/* A heading, "[NAME]", a remark after it allowed. */
static bool take_heading(Reading *r, char *line) {
    char *end = strchr(line, ']');
    if (!end) return wrong(r, r->line, "the heading has no ]; close it");
    const char *rest = end + 1 + strspn(end + 1, " ");
    if (*rest && *rest != ';' && *rest != '#')
        return wrong(r, r->line, "more follows the ]; put it in a line of its own");
    if (!end_candy(r)) return false;
    *end = 0;
    char *name = trimmed(line + 1);
    bool candy = strncmp(name, "candy", 5) == 0 && (name[5] == ' ' || name[5] == 0);
    if (!candy && !known_section(name))
        return wrong(r, r->line, "there is no section [%.40s]; see logocane --print-shop", name);
    (void)snprintf(r->section, sizeof r->section, "%s", candy ? "candy" : name);
    return !candy || begin_candy(r, trimmed(name + 5));
}

static bool take_key(Reading *r, const char *key, const char *value) {
    int count;
    char range[80];
    const ShopKey *row = shop_key_find(r->section, key);
    if (r->section[0] == 0)
        return wrong(r, r->line, "\"%.40s\" stands before any section; put a [section] above it", key);
    if (!row) return wrong(r, r->line, "[%s] has no \"%.40s\"; see logocane --print-shop", r->section, key);
    int *seen = &r->seen[row - shop_keys(&count)];
    if (*seen) return wrong(r, r->line, "%s stands in line %d already; leave one out", key, *seen);
    *seen = r->line;
    if (shop_key_read(row, value, &r->shop)) return true;
    shop_key_range(row, range, sizeof range);
    return wrong(r, r->line, "%s is \"%.40s\"; it takes %s", key, value, range);
}

/* --- the file --- */

/* To the first character of `stops`, to a remark (a ; behind a space), or to the end. */
static char *find_stop(char *text, const char *stops) {
    char before = 0;
    for (; *text && !strchr(stops, *text) && !(*text == ';' && before == ' '); text++) before = *text;
    return text;
}

/* key = value, or key: value. */
static bool take_pair(Reading *r, char *line) {
    char *stop = find_stop(line, "=:"), *value = stop + 1;
    if (*stop != '=' && *stop != ':')
        return wrong(r, r->line, "is neither [section] nor key = value; begin a remark with ;");
    *stop = 0;
    *find_stop(value, "") = 0;
    char *key = trimmed(line);
    value = trimmed(value);
    return strcmp(r->section, "candy") == 0 ? take_candy_key(r, key, value) : take_key(r, key, value);
}

/* False at the end of the file or if something is wrong. */
static bool take_line(Reading *r) {
    char line[LINE_BYTES + 1] = "";
    if (!read_line(r, line)) return false;
    if (*line == '[') return take_heading(r, line);
    return *line == 0 || *line == ';' || *line == '#' || take_pair(r, line);
}

/* The later of the lines of two keys of a section, 0 if neither is there. */
static int later_line(const Reading *r, const char *section, const char *one, const char *other) {
    int count;
    const ShopKey *first = shop_keys(&count);
    int a = r->seen[shop_key_find(section, one) - first], b = r->seen[shop_key_find(section, other) - first];
    return a > b ? a : b;
}

/* Limits that contradict each other: the later of the two lines is named. */
static bool fits_together(Reading *r) {
    if (r->shop.log_diameter_min_mm > r->shop.log_diameter_max_mm)
        return wrong(r, later_line(r, "limits", "log_diameter_min", "log_diameter_max"),
                     "log_diameter_min is over log_diameter_max; change one");
    if (r->shop.working_c >= r->shop.joining_c)
        return wrong(r, later_line(r, "heat", "working", "joining"),
                     "working is not under joining; change one");
    return true;
}

bool shop_file_read(FILE *file, const char *name, Shop *out, Err *err) {
    Reading r = {.file = file, .name = name, .shop = shop_default()};
    while (take_line(&r)) continue;
    if (ferror(file))
        return err_set(err, ERR_INPUT, "%s: %s; name a shop file", name,
                       errno == EISDIR ? "is a folder" : "cannot be read");
    if (r.line == 0) return err_set(err, ERR_INPUT, "%s: the file is empty; see logocane --print-shop", name);
    if (r.err.code == ERR_NONE && end_candy(&r) && fits_together(&r)) {
        if (r.stock.count > 0) r.shop.stock = r.stock;
        *out = r.shop;
        return true;
    }
    return err_set(err, r.err.code, "%s", r.err.msg);
}

bool shop_file_open(const char *path, Shop *out, Err *err) {
    char name[4 * NAME_COLUMNS];
    text_fit(name, sizeof name, path, NAME_COLUMNS);
    FILE *file = fopen(path, "r");
    if (!file)
        return err_set(err, ERR_INPUT, "%s: cannot be read (%s); check its name", name, strerror(errno));
    bool good = shop_file_read(file, name, out, err);
    (void)fclose(file); /* only read */
    return good;
}

/* --- the printer --- */

static void print_key(const ShopKey *key, const Shop *shop, FILE *file) {
    char range[80], value[64];
    shop_key_range(key, range, sizeof range);
    shop_key_print(key, shop, value, sizeof value);
    bool empty = shop_key_empty(key, shop);
    fprintf(file, "; %s; %s (%s)\n", key->help, range, key->standing);
    fprintf(file, "%s%s = %s\n", empty ? "; " : "", key->key, empty ? "" : value);
}

static void print_candy(const Candy *candy, FILE *file) {
    char density[32], dye[32], colour[RGB8_CODE];
    rgb8_code(candy->srgb, colour);
    text_number(density, sizeof density, candy->density_g_ml, 9);
    fprintf(file, "\n[candy %s]\nfinish = %s\n", candy->name, finish_name(candy->finish));
    fprintf(file, "colour = %s\ndensity = %s g/ml\n", colour, density);
    text_number(dye, sizeof dye, candy->dye_share * 100, 9);
    if (candy->dye_share > 0) fprintf(file, "dye = %s %%\n", dye);
}

void shop_file_print(const Shop *shop, FILE *file) {
    int count;
    const ShopKey *key = shop_keys(&count);
    fputs("; The shop: its limits, habits, prices and stock. Lines that begin with ; are remarks.\n"
          "; A key that is left out keeps the value printed here. Lengths may be in mm, cm or in.\n"
          "; habit: common practice, no source; your own measure is better.\n",
          file);
    for (int i = 0; i < count; i++) {
        if (i == 0 || strcmp(key[i].section, key[i - 1].section) != 0)
            fprintf(file, "\n[%s]\n", key[i].section);
        print_key(&key[i], shop, file);
    }
    fputs("\n; The stock. A file with any candy replaces all of it. finish: pulled or clear; colour: of the "
          "cut face;\n"
          "; density: cold (pulled 1.30: habit; clear 1.50: literature, from memory); dye: colour of the "
          "candy,\n"
          "; your own dose, in % (none is built in).\n",
          file);
    for (int i = 0; i < shop->stock.count; i++) print_candy(&shop->stock.candy[i], file);
}
