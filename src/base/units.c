/* Numbers and lengths as text. SPDX-License-Identifier: MIT */
#include "base/units.h"

#include "base/text.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Reads digits [. digits] at *at, no sign and no exponent, and moves *at behind them. */
static bool decimal(const char **at, double *out) {
    const char *c = *at;
    double value = 0, unit = 1;
    int digits = 0;
    for (; isdigit((unsigned char)*c); c++, digits++) value = value * 10 + (*c - '0');
    if (*c == '.')
        for (c++; isdigit((unsigned char)*c); c++, digits++) {
            unit *= 10;
            value = value * 10 + (*c - '0');
        }
    if (digits == 0 || digits > 15) return false;
    *out = value / unit; /* at most 15 digits: one correctly rounded division of exact numbers */
    *at = c;
    return true;
}

bool number_parse(const char *text, double low, double high, double *out) {
    double value, sign = 1;
    if (*text == '-') {
        sign = -1;
        text++;
    }
    if (!decimal(&text, &value) || *text) return false;
    value *= sign;
    if (!(value >= low && value <= high)) return false;
    *out = value;
    return true;
}

bool whole_parse(const char *text, long low, long high, long *out) {
    char digits[24];
    size_t used = 0;
    for (const char *c = text; *c; c++) {
        bool group = (*c == ',' || *c == '_' || *c == ' ') && c > text && isdigit((unsigned char)c[1]);
        if (group) continue;
        if (used + 1 >= sizeof digits || !(isdigit((unsigned char)*c) || (*c == '-' && c == text)))
            return false;
        digits[used++] = *c;
    }
    digits[used] = 0;
    double value;
    if (!number_parse(digits, (double)low, (double)high, &value)) return false;
    *out = (long)value;
    return true;
}

static void skip_spaces(const char **at) {
    while (**at == ' ') (*at)++;
}

/* "5/8", "1 1/2", "0.6" at *at. */
static bool fraction(const char **at, double *out) {
    double first, above, below;
    if (!decimal(at, &first)) return false;
    *out = first;
    const char *c = *at;
    if (*c == '/') {
        c++;
        if (!decimal(&c, &below) || below == 0) return false;
        *out = first / below;
        *at = c;
    } else if (*c == ' ' && isdigit((unsigned char)c[1])) {
        c++;
        if (!decimal(&c, &above) || *c != '/') return true;
        c++;
        if (!decimal(&c, &below) || below == 0) return false;
        *out = first + above / below;
        *at = c;
    }
    return true;
}

typedef struct Unit {
    const char *name;
    double factor;
} Unit;

static const Unit length_units[] = {{"mm", 1},           {"cm", 10},        {"inches", MM_PER_IN},
                                    {"inch", MM_PER_IN}, {"in", MM_PER_IN}, {"\"", MM_PER_IN}};
static const Unit mass_units[] = {{"kg", 1000}, {"g", 1}, {"lb", G_PER_LB}, {"oz", G_PER_OZ}};

/* The factor of the unit at *at, 0 if there is none there. */
static double unit_at(const char **at, const Unit *unit, size_t count) {
    skip_spaces(at);
    for (size_t i = 0; i < count; i++) {
        size_t length = strlen(unit[i].name);
        if (strncmp(*at, unit[i].name, length) != 0) continue;
        *at += length;
        return unit[i].factor;
    }
    return 0;
}

#define COUNT(a) (sizeof(a) / sizeof *(a))

bool length_parse(const char *text, Units bare, double low_mm, double high_mm, double *mm) {
    double value, factor;
    if (!fraction(&text, &value)) return false;
    factor = unit_at(&text, length_units, COUNT(length_units));
    if (factor == 0) factor = bare == UNITS_IN ? MM_PER_IN : 1;
    value *= factor;
    if (*text || !(value >= low_mm && value <= high_mm)) return false;
    *mm = value;
    return true;
}

bool piece_parse(const char *text, double *diameter_mm, double *length_mm) {
    double first, second;
    if (!fraction(&text, &first)) return false;
    double first_unit = unit_at(&text, length_units, COUNT(length_units));
    skip_spaces(&text);
    if (*text != 'x' && *text != 'X') return false;
    text++;
    skip_spaces(&text);
    if (!fraction(&text, &second)) return false;
    double second_unit = unit_at(&text, length_units, COUNT(length_units));
    if (*text) return false;
    if (second_unit == 0) second_unit = first_unit == 0 ? 1 : first_unit;
    if (first_unit == 0) first_unit = second_unit;
    *diameter_mm = first * first_unit;
    *length_mm = second * second_unit;
    return *diameter_mm > 0 && *length_mm > 0;
}

bool mass_parse(const char *text, double low_g, double high_g, double *g) {
    double value;
    if (!fraction(&text, &value)) return false;
    double factor = unit_at(&text, mass_units, COUNT(mass_units));
    value *= factor == 0 ? 1000 : factor;
    if (*text || !(value >= low_g && value <= high_g)) return false;
    *g = value;
    return true;
}

/* "5/8", "1 1/2", "2": so many 32nds. */
static void fraction_print(char *out, size_t size, long parts) {
    long whole = parts / 32, rest = parts % 32, below = 32;
    while (rest && rest % 2 == 0) {
        rest /= 2;
        below /= 2;
    }
    if (rest == 0)
        (void)snprintf(out, size, "%ld", whole);
    else if (whole == 0)
        (void)snprintf(out, size, "%ld/%ld", rest, below);
    else
        (void)snprintf(out, size, "%ld %ld/%ld", whole, rest, below);
}

/* 32nds of an inch of a thing that is there. */
static long parts_of(double mm) {
    long parts = lround(mm / MM_PER_IN * 32);
    return parts > 1 ? parts : 1;
}

/* A fraction if it is one to a few thousandths of an inch, else a decimal; the nearest fraction behind it if
 * `both`. */
static void inches_print(char *out, size_t size, double inches, bool both) {
    char fraction_text[64], decimal_text[64];
    long parts = lround(inches * 32);
    bool exact = fabs(inches * 32 - (double)parts) < 0.02;
    fraction_print(fraction_text, sizeof fraction_text, parts);
    text_number(decimal_text, sizeof decimal_text, inches, 2);
    if (exact)
        (void)snprintf(out, size, "%s in", fraction_text);
    else if (both && parts > 0)
        (void)snprintf(out, size, "%s in (%s)", decimal_text, fraction_text);
    else
        (void)snprintf(out, size, "%s in", decimal_text);
}

void length_print(char *out, size_t size, double mm, Units units) {
    if (units == UNITS_IN) {
        inches_print(out, size, mm / MM_PER_IN, false);
        return;
    }
    double tenths = round(mm * 10) / 10;
    (void)snprintf(out, size, tenths == floor(tenths) ? "%.0f mm" : "%.1f mm", tenths);
}

void stroke_print(char *out, size_t size, double mm, Units units) {
    char number[32];
    bool inches = units == UNITS_IN;
    text_number(number, sizeof number, inches ? mm / MM_PER_IN : mm, inches ? 3 : 2);
    (void)snprintf(out, size, "%s %s", number, inches ? "in" : "mm");
}

double length_by_hand(double mm, Units units) {
    return units == UNITS_MM ? round(mm) : round(mm / MM_PER_IN * 32) / 32 * MM_PER_IN;
}

void hand_print(char *out, size_t size, double mm, Units units) {
    length_print(out, size, length_by_hand(mm, units), units);
}

void size_print(char *out, size_t size, double one_mm, double other_mm, Units units) {
    char one[32], other[32];
    length_print(one, sizeof one, one_mm, units);
    length_print(other, sizeof other, other_mm, units);
    char *unit = strrchr(one, ' ');
    if (unit) *unit = 0;
    (void)snprintf(out, size, "%s x %s", one, other);
}

void section_print(char *out, size_t size, double one_mm, double other_mm, Units units, bool both) {
    char one[64], other[64];
    if (units == UNITS_MM) {
        size_print(out, size, one_mm, other_mm, units);
        return;
    }
    fraction_print(one, sizeof one, parts_of(one_mm));
    fraction_print(other, sizeof other, parts_of(other_mm));
    if (both)
        (void)snprintf(out, size, "%.2f x %.2f in (%s x %s)", one_mm / MM_PER_IN, other_mm / MM_PER_IN, one,
                       other);
    else
        (void)snprintf(out, size, "%s x %s in", one, other);
}

void length_print_both(char *out, size_t size, double mm, Units units) {
    if (units == UNITS_IN)
        inches_print(out, size, mm / MM_PER_IN, true);
    else
        length_print(out, size, mm, units);
}

bool temperature_parse(const char *text, double low_c, double high_c, double *c) {
    char number[32];
    size_t length = strlen(text);
    bool fahrenheit = length > 0 && text[length - 1] == 'F';
    if (fahrenheit || (length > 0 && text[length - 1] == 'C')) {
        length--;
        if (length >= 2 && memcmp(text + length - 2, "\xC2\xB0", 2) == 0) length -= 2; /* the degree sign */
        while (length > 0 && text[length - 1] == ' ') length--;
    }
    if (length >= sizeof number) return false;
    memcpy(number, text, length);
    number[length] = 0;
    double value;
    if (!number_parse(number, -1e4, 1e4, &value)) return false;
    if (fahrenheit) value = (value - 32) / 1.8;
    value = round(value * 1e6) / 1e6;
    if (!(value >= low_c && value <= high_c)) return false;
    *c = value;
    return true;
}

void temperature_print(char *out, size_t size, double c, Units units) {
    double f = c * 1.8 + 32;
    if (units == UNITS_IN)
        (void)snprintf(out, size, "%.0f °F (%.0f °C)", f, c);
    else
        (void)snprintf(out, size, "%.0f °C (%.0f °F)", c, f);
}

void distance_print(char *out, size_t size, double m, Units units) {
    if (units == UNITS_IN)
        (void)snprintf(out, size, "%.1f ft", m / M_PER_FT);
    else
        (void)snprintf(out, size, "%.1f m", m);
}

void minutes_print(char *out, size_t size, double seconds) {
    if (seconds < 179.5)
        (void)snprintf(out, size, "%.0f s", seconds);
    else
        (void)snprintf(out, size, "%.0f min", seconds / 60);
}

void mass_print(char *out, size_t size, double g, Units units) {
    char number[32];
    bool small = units == UNITS_IN ? g < G_PER_LB : g < 999.5;
    double value = units == UNITS_IN ? g / (small ? G_PER_OZ : G_PER_LB) : g / (small ? 1 : 1000);
    int decimals = !small ? 2 : value >= 99.95 ? 0 : units == UNITS_IN && value < 10 ? 2 : 1;
    text_number(number, sizeof number, value, decimals);
    (void)snprintf(out, size, "%s %s", number,
                   units == UNITS_IN ? (small ? "oz" : "lb")
                   : small           ? "g"
                                     : "kg");
}
