/* The shop file. SPDX-License-Identifier: MIT
 *
 * Line by line: a heading, a key with its value, a remark, or an error that names the line; the reading ends
 * at the first. Spaces round a line, a key and a value do not count, so a line may be set in. */
#include "read/read.h"

#include "base/text.h"
#include "base/units.h"

#include <ctype.h>
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
    bool only_named;           /* no others */
    int only_line;             /* of that key, 0 = not given */
    bool left_out[STOCK_MAX];  /* [stock of shop_default] */
    int left_line;             /* of the last leave_out, 0 = none */
    char section[SECTION_MAX]; /* "" = none yet, "candy" in that of the last of stock */
    int candy_line;            /* of its heading */
    int candy_key[CANDY_KEYS]; /* line of each of its keys, 0 = not given */
    bool has_colour;           /* that of the built-in candy of its name */
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

/* Is it a number with a decimal comma? *point: the same with a point. */
static bool has_decimal_comma(const char *value, char point[48]) {
    const char *comma = strchr(value, ',');
    if (!comma || comma == value || strpbrk(comma + 1, ",.") || strchr(value, '.')) return false;
    if (!isdigit((unsigned char)comma[-1]) || !isdigit((unsigned char)comma[1])) return false;
    (void)snprintf(point, 48, "%.40s", value);
    char *at = strchr(point, ',');
    if (at) *at = '.';
    return at != NULL;
}

/* What the key takes, or the hint that would have helped. False. */
static bool not_taken(Reading *r, const char *key, const char *value, const char *takes) {
    char point[48];
    if (has_decimal_comma(value, point))
        return wrong(r, r->line, "%s is \"%.40s\"; write a decimal point: %s (it takes %s)", key, value,
                     point, takes);
    return wrong(r, r->line, "%s is \"%.40s\"; it takes %s", key, value, takes);
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
    if (!r->candy_key[CANDY_COLOUR] && !r->has_colour)
        return wrong(r, r->candy_line, "[candy %s] has no colour; add for example colour = #C8202C",
                     candy->name);
    if (!r->candy_key[CANDY_DENSITY]) candy->density_g_ml = usual_density[candy->finish];
    return true;
}

/* The index of the built-in candy of that name, -1 if there is none. */
static int find_built_in(const Reading *r, const char *name) {
    for (int i = 0; i < r->shop.stock.count; i++)
        if (strcasecmp(r->shop.stock.candy[i].name, name) == 0) return i;
    return -1;
}

static bool begin_candy(Reading *r, const char *name) {
    Stock *stock = &r->stock;
    if (*name == 0) return wrong(r, r->line, "a candy without a name; write [candy NAME]");
    if (strlen(name) >= CANDY_NAME)
        return wrong(r, r->line, "the candy's name is over %d bytes long; shorten it", CANDY_NAME - 1);
    if (strcasecmp(name, "dye") == 0)
        return wrong(r, r->line,
                     "a candy cannot be named \"dye\": --map means a dyed one by it; use another name");
    if (strcasecmp(name, "auto") == 0)
        return wrong(
            r, r->line,
            "a candy cannot be named \"auto\": --jacket has another meaning for it; use another name");
    if (strpbrk(name, ",;")) /* both part the cells of lists */
        return wrong(r, r->line, "a comma or semicolon in the candy's name; use another name");
    if (strchr(name, '+'))
        return wrong(r, r->line,
                     "a plus sign in the candy's name: --map folds two candies by it; use another name");
    for (int i = 0; i < stock->count; i++)
        if (strcasecmp(stock->candy[i].name, name) == 0)
            return wrong(r, r->line, "[candy %s] is there already; leave one out", name);
    if (stock->count == STOCK_MAX)
        return wrong(r, r->line, "more than %d candies; leave some out", STOCK_MAX);
    Candy *candy = &stock->candy[stock->count++];
    int built_in = find_built_in(r, name);
    *candy = (Candy){.finish = FINISH_PULLED};
    memset(r->candy_key, 0, sizeof r->candy_key);
    r->has_colour = built_in >= 0;
    if (r->has_colour) { /* what is not said of it stays */
        candy->finish = r->shop.stock.candy[built_in].finish;
        candy->srgb = r->shop.stock.candy[built_in].srgb;
    }
    memcpy(candy->name, name, strlen(name));
    r->candy_line = r->line;
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
    return good || not_taken(r, key, value, takes[which]);
}

/* --- the stock --- */

/* "grey, violet": built-in candies that are left out. */
static bool take_left_out(Reading *r, char *names) {
    r->left_line = r->line;
    for (bool more = true; more;) {
        size_t length = strcspn(names, ",");
        more = names[length] == ',';
        names[length] = 0;
        char *name = trimmed(names);
        int built_in = find_built_in(r, name);
        if (built_in < 0)
            return wrong(r, r->line,
                         "leave_out: there is no built-in candy \"%.48s\"; see logocane --print-shop", name);
        r->left_out[built_in] = true;
        names += length + 1;
    }
    return true;
}

static bool take_only_named(Reading *r, const char *value) {
    if (r->only_line)
        return wrong(r, r->line, "only_named stands in line %d already; leave one out", r->only_line);
    r->only_line = r->line;
    r->only_named = strcmp(value, "yes") == 0;
    return r->only_named || strcmp(value, "no") == 0 || not_taken(r, "only_named", value, "yes or no");
}

/* The built-in candies in their order, each replaced by the file's own of its name; then the others of the
 * file. */
static bool add_to_built_in(Reading *r, Stock *out) {
    const Stock *built_in = &r->shop.stock, *own = &r->stock;
    int by[STOCK_MAX]; /* the file's candy in the place of each built-in one, -1 = none */
    out->count = 0;
    for (int i = 0; i < built_in->count; i++) by[i] = -1;
    for (int k = 0; k < own->count; k++) {
        int at = find_built_in(r, own->candy[k].name);
        if (at >= 0) by[at] = k;
    }
    for (int i = 0; i < built_in->count; i++)
        if (by[i] >= 0 || !r->left_out[i])
            out->candy[out->count++] = by[i] >= 0 ? own->candy[by[i]] : built_in->candy[i];
    for (int k = 0; k < own->count; k++) {
        if (find_built_in(r, own->candy[k].name) >= 0) continue;
        if (out->count == STOCK_MAX)
            return wrong(r, r->line, "more than %d candies with the built-in ones; leave some out",
                         STOCK_MAX);
        out->candy[out->count++] = own->candy[k];
    }
    return out->count > 0 || wrong(r, r->left_line, "leave_out: no candy is left; add [candy NAME]");
}

static bool stock_shop(Reading *r) {
    Stock stock = r->stock;
    if (r->only_named && r->left_line)
        return wrong(r, r->left_line, "leave_out beside only_named = yes: none is built in; take it out");
    if (r->only_named && stock.count == 0)
        return wrong(r, r->only_line, "only_named is yes and no candy is named; add [candy NAME]");
    if (!r->only_named && !add_to_built_in(r, &stock)) return false;
    r->shop.stock = stock;
    return true;
}

/* --- sections and keys --- */

static bool known_section(const char *name) {
    int count;
    if (strcmp(name, "stock") == 0) return true;
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
    return not_taken(r, key, value, range);
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
    if (strcmp(r->section, "candy") == 0) return take_candy_key(r, key, value);
    bool stock = strcmp(r->section, "stock") == 0;
    if (stock && strcmp(key, "only_named") == 0) return take_only_named(r, value);
    if (stock && strcmp(key, "leave_out") == 0) return take_left_out(r, value);
    return take_key(r, key, value);
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

/* The candies of the usual jacket are the shop's own; blends of them are looked at when they are made. */
static bool has_its_jacket(Reading *r) {
    const int line = later_line(r, "shop", "jacket", "jacket");
    const char *at = r->shop.jacket;
    for (bool more = *at != 0; more;) {
        char name[SHOP_TEXT];
        size_t length = strcspn(at, ",");
        more = at[length] == ',';
        (void)snprintf(name, sizeof name, "%.*s", (int)length, at);
        const char *candy = trimmed(name);
        if (*candy == 0)
            return wrong(r, line, "jacket: a candy's name is missing; write for example red, white");
        if (strcasecmp(candy, "auto") != 0 && !strchr(candy, '+') && stock_find(&r->shop.stock, candy) < 0)
            return wrong(r, line, "jacket: there is no candy \"%.48s\"; name one of the shop's", candy);
        at += length + 1;
    }
    return true;
}

bool shop_file_read(FILE *file, const char *name, Shop *out, Err *err) {
    Reading r = {.file = file, .name = name, .shop = shop_default()};
    while (take_line(&r)) continue;
    if (ferror(file))
        return err_set(err, ERR_INPUT, "%s: %s; name a shop file", name,
                       errno == EISDIR ? "is a folder" : "cannot be read");
    if (r.line == 0) return err_set(err, ERR_INPUT, "%s: the file is empty; see logocane --print-shop", name);
    if (r.err.code == ERR_NONE && end_candy(&r) && fits_together(&r) && stock_shop(&r) &&
        has_its_jacket(&r)) {
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
