/* A check in words. SPDX-License-Identifier: MIT */
#include "say/check_words.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

Check check_spoken(const Check *check, Units units) {
    Check spoken = *check;
    if (units == UNITS_IN && strcmp(check->name, "reading at 350 mm") == 0) spoken.name = "reading at 14 in";
    bool length = strcmp(check->unit, "mm") == 0, mass = strcmp(check->unit, "kg") == 0;
    if (units != UNITS_IN || (!length && !mass)) return spoken;
    double per = length ? 1 / MM_PER_IN : 1000 / G_PER_LB;
    spoken.unit = length ? "in" : "lb";
    spoken.value *= per;
    spoken.limit *= per;
    return spoken;
}

void check_print(const Check *check, char value[64], char limit[64]) {
    double larger = check->value > check->limit ? check->value : check->limit;
    int decimals = larger >= 100 ? 0 : larger >= 10 ? 1 : larger >= 0.1 ? 2 : 3;
    do {
        text_number(value, 64, check->value, decimals);
        text_number(limit, 64, check->limit, decimals);
    } while (check->value != check->limit && strcmp(value, limit) == 0 && ++decimals < 8);
}

static const char between[] = "; or ";

/* Copies the alternative at `from`; returns where the next one begins, NULL after the last. */
static const char *next_way(const char *from, char way[CHECK_TEXT]) {
    const char *end = strstr(from, between);
    size_t length = end ? (size_t)(end - from) : strlen(from);
    memcpy(way, from, length);
    way[length] = 0;
    return end ? end + strlen(between) : NULL;
}

static bool makes_all_go(const char *way) {
    static const char words[] = ": then all is go";
    size_t length = strlen(way);
    return length >= sizeof words - 1 && strcmp(way + length - (sizeof words - 1), words) == 0;
}

/* Each way stands in `said` with a line feed behind it; what is but the end of another was said with it. */
static bool was_said(const char *said, const char *way) {
    char line[CHECK_TEXT + 1];
    (void)snprintf(line, sizeof line, "%s\n", way);
    return strstr(said, line) != NULL;
}

static void append(char *to, size_t size, const char *words, const char *more) {
    size_t used = strlen(to);
    if (used + strlen(words) + strlen(more) < size)
        (void)snprintf(to + used, size - used, "%s%s", words, more);
}

void advice_print(const Check *check, char said[ADVICE_SAID], char out[CHECK_TEXT]) {
    char way[CHECK_TEXT];
    bool all_go = false, again = false;
    out[0] = 0;
    if (!check->advice[0]) return;
    for (const char *at = check->advice; at;) {
        at = next_way(at, way);
        all_go = all_go || makes_all_go(way);
    }
    for (const char *at = check->advice; at;) {
        at = next_way(at, way);
        again = again || (makes_all_go(way) == all_go && was_said(said, way));
    }
    for (const char *at = check->advice; at && !again;) {
        at = next_way(at, way);
        if (makes_all_go(way) != all_go || (out[0] && !all_go)) continue;
        append(out, CHECK_TEXT, out[0] ? between : "", way);
        append(said, ADVICE_SAID, way, "\n");
    }
    if (again) (void)snprintf(out, CHECK_TEXT, "as above");
}
