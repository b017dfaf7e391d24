/* Text made safe to print. SPDX-License-Identifier: MIT */
#include "base/text.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

/* The bytes of the character at c, its code in *code; 0 if there is no whole, valid character. RFC 3629,
 * section 4. */
static int character_at(const unsigned char *c, unsigned *code) {
    int more = c[0] < 0x80 ? 0 : c[0] >= 0xC2 && c[0] < 0xE0 ? 1 : (c[0] & 0xF0) == 0xE0 ? 2 : 3;
    if (c[0] >= 0x80 && (c[0] < 0xC2 || c[0] > 0xF4)) return 0;
    *code = more == 0 ? c[0] : c[0] & (0x3Fu >> more);
    for (int i = 1; i <= more; i++) {
        if ((c[i] & 0xC0) != 0x80) return 0; /* the closing 0 ends here too */
        *code = *code << 6 | (c[i] & 0x3Fu);
    }
    bool overlong = (more == 2 && *code < 0x800) || (more == 3 && *code < 0x10000);
    bool surrogate = *code >= 0xD800 && *code < 0xE000;
    return overlong || surrogate || *code > 0x10FFFF ? 0 : more + 1;
}

static bool steers(unsigned code) {
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || code == 0x061C || code == 0x200E ||
           code == 0x200F || (code >= 0x2028 && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069) ||
           code == 0xFEFF || (code >= 0xFDD0 && code <= 0xFDEF) || (code & 0xFFFE) == 0xFFFE;
}

bool text_valid(const char *text) {
    const unsigned char *c = (const unsigned char *)text;
    unsigned code;
    for (int bytes; *c; c += bytes) {
        bytes = character_at(c, &code);
        if (bytes == 0 || steers(code)) return false;
    }
    return true;
}

void text_clean(char *out, size_t size, const char *text) {
    const unsigned char *c = (const unsigned char *)text;
    size_t used = 0;
    while (*c) {
        unsigned code = 0;
        int bytes = character_at(c, &code);
        bool bad = bytes == 0 || steers(code);
        size_t keep = bad ? 1 : (size_t)bytes;
        if (used + keep >= size) break;
        if (bad)
            out[used] = '?';
        else
            memmove(out + used, c, keep);
        used += keep;
        c += bytes == 0 ? 1 : bytes;
    }
    out[used] = 0;
}

int text_width(const char *text) {
    int width = 0;
    for (; *text; text++) width += ((unsigned char)*text & 0xC0) != 0x80;
    return width;
}

/* The place in clean text behind so many characters. */
static const char *skip(const char *text, int characters) {
    while (*text && (characters > 0 || ((unsigned char)*text & 0xC0) == 0x80)) {
        text++;
        if (((unsigned char)*text & 0xC0) != 0x80) characters--;
    }
    return text;
}

void text_fit(char *out, size_t size, const char *text, int columns) {
    char clean[1024];
    size_t length = strlen(text);
    const char *tail = length < sizeof clean ? text : text + length - (sizeof clean - 1);
    text_clean(clean, sizeof clean, tail); /* of very long text the end is what counts */
    int width = text_width(clean), head = (columns - 3) / 2;
    char fitted[sizeof clean + 4];
    if (width <= columns && tail == text) {
        (void)snprintf(fitted, sizeof fitted, "%s", clean);
    } else {
        const char *middle = skip(clean, head), *end = skip(clean, width - (columns - 3 - head));
        (void)snprintf(fitted, sizeof fitted, "%.*s...%s", (int)(middle - clean), clean, end);
    }
    text_clean(out, size, fitted);
}

void text_pad(FILE *file, const char *text, int columns) {
    int width = text_width(text), room = columns < 0 ? -columns : columns;
    if (columns < 0) fprintf(file, "%*s", room > width ? room - width : 0, "");
    fputs(text, file);
    if (columns > 0) fprintf(file, "%*s", room > width ? room - width : 0, "");
}

static bool is_unit(const char *word) {
    static const char *const unit[] = {"%",  "mm", "m",   "in", "ft", "g",  "kg",
                                       "oz", "lb", "min", "s",  "°C", "°F", "dE00"};
    size_t length = strcspn(word, " ,;:.)");
    for (size_t i = 0; i < sizeof unit / sizeof *unit; i++)
        if (strlen(unit[i]) == length && strncmp(word, unit[i], length) == 0) return true;
    return false;
}

size_t text_word(const char *text) {
    size_t length = strcspn(text, " ");
    while (length > 0 && text[length] && text[length - 1] >= '0' && text[length - 1] <= '9') {
        const char *next = text + length + 1;
        if ((*next < '0' || *next > '9') && !is_unit(next)) break;
        length += 1 + strcspn(next, " ");
    }
    return length;
}

static void wrap(FILE *file, const char *text, int at, int indent, int columns) {
    bool first = true;
    while (*text) {
        text += strspn(text, " ");
        size_t length = text_word(text);
        if (length == 0) break;
        char word[TEXT_COLUMNS * 4];
        (void)snprintf(word, sizeof word, "%.*s", (int)length, text);
        int width = text_width(word);
        if (first && at < indent) {
            fprintf(file, "%*s", indent - at, "");
            at = indent;
        } else if (!first && at + 1 + width > columns) {
            fprintf(file, "\n%*s", indent, "");
            at = indent;
        } else if (!first) {
            fputc(' ', file);
            at++;
        }
        fputs(word, file);
        at += width;
        text += length;
        first = false;
    }
    fputc('\n', file);
}

void text_wrap(FILE *file, const char *text, int at, int indent) {
    wrap(file, text, at, indent, TEXT_COLUMNS);
}

void text_fill(FILE *file, const char *text, int columns) {
    wrap(file, text, 0, 0, columns);
}

void text_under(FILE *file, const char *label, const char *words) {
    text_pad(file, label, TEXT_INDENT);
    text_wrap(file, words, TEXT_INDENT, TEXT_INDENT);
}

void text_append(char *out, size_t size, const char *format, ...) {
    size_t used = strlen(out);
    va_list values;
    va_start(values, format);
    (void)vsnprintf(out + used, size - used, format, values);
    va_end(values);
}

bool text_among(const char *text, const char *const list[]) {
    while (*list && strcmp(*list, text) != 0) list++;
    return *list != NULL;
}

void text_append_word(char *out, size_t size, const char *word) {
    static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_./:,+%-";
    if (*word && word[strspn(word, plain)] == 0) {
        text_append(out, size, "%s", word);
        return;
    }
    text_append(out, size, "'");
    for (; *word; word++) text_append(out, size, *word == '\'' ? "'\\''" : "%c", *word);
    text_append(out, size, "'");
}

void text_number(char *out, size_t size, double value, int decimals) {
    char plain[400], grouped[560];
    (void)snprintf(plain, sizeof plain, "%.*f", decimals, value);
    size_t whole = strcspn(plain, "."), used = 0;
    if (plain[whole]) {
        size_t end = strlen(plain);
        while (plain[end - 1] == '0') end--;
        if (plain[end - 1] == '.') end--;
        plain[end] = 0;
    }
    for (size_t i = 0; plain[i] && used + 2 < sizeof grouped; i++) {
        bool digit = i > 0 && plain[i - 1] != '-';
        if (digit && i < whole && (whole - i) % 3 == 0) grouped[used++] = ' ';
        grouped[used++] = plain[i];
    }
    grouped[used] = 0;
    (void)snprintf(out, size, "%s", grouped);
}

void text_money(char *out, size_t size, double value) {
    const double cents = round(value * 100), whole = trunc(cents / 100);
    text_number(out, size, whole, 0);
    text_append(out, size, ".%02.0f", fabs(cents - whole * 100));
}

/* Would a spreadsheet take the cell for a formula? Some look past spaces, some take the wide forms. */
static bool is_formula(const char *text) {
    static const char *const starts[] = {
        "=", "+", "-", "@", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"};
    text += strspn(text, " ");
    for (size_t i = 0; i < sizeof starts / sizeof *starts; i++)
        if (strncmp(text, starts[i], strlen(starts[i])) == 0) return true;
    return false;
}

void text_csv(FILE *file, const char *text) {
    char clean[4096] = ""; /* a path */
    text_clean(clean, sizeof clean, text);
    bool formula = is_formula(clean);
    bool quoted =
        strpbrk(clean, ",;\"") != NULL || clean[0] == ' ' || (clean[0] && clean[strlen(clean) - 1] == ' ');
    if (quoted) fputc('"', file);
    if (formula) fputc('\'', file);
    for (const char *c = clean; *c; c++) {
        if (*c == '"') fputc('"', file);
        fputc(*c, file);
    }
    if (quoted) fputc('"', file);
}
